//! The kiosk's side of a rehearsal: a process that takes lines and answers each with one line.

use super::driver::Driver;
use super::inputs::Inputs;
use super::script::Step;
use crate::cli::ScreenOptions;
use clap::Args;
use std::io::{BufRead, Write};
use std::path::PathBuf;

/// A kiosk that is driven line by line. Answers `done MILLISECONDS`, `failed WHY`, or `hidden WHY` where a PIN was asked.
#[derive(Debug, Args)]
pub struct StageCommand {
    #[arg(long)]
    data: PathBuf,
    #[arg(long)]
    shots: PathBuf,
    #[arg(long)]
    begins: jiff::Timestamp,
    #[arg(long)]
    inputs: Option<PathBuf>,
    #[command(flatten)]
    screen: ScreenOptions,
}

impl StageCommand {
    /// Runs until its input ends.
    ///
    /// # Errors
    /// When the kiosk cannot be set up.
    pub fn run(self) -> anyhow::Result<()> {
        let inputs = Inputs::to(self.inputs.as_deref())?;
        let mut driver = Driver::start(&self.data, self.shots, self.begins, &self.screen, inputs)?;
        let mut answers = std::io::stdout().lock();
        for line in std::io::stdin().lock().lines() {
            // What was to be typed as a PIN is not told again, whichever way it was typed.
            let failed = if driver.asks_pin() { "hidden" } else { "failed" };
            let done = Step::parse(&line?).and_then(|step| driver.take(&step));
            match done {
                Ok(()) => writeln!(answers, "done {}", driver.milliseconds())?,
                Err(error) => writeln!(answers, "{failed} {}", format!("{error:#}").replace('\n', "\\n"))?,
            }
            answers.flush()?;
        }
        Ok(())
    }
}
