//! The rehearsal's own side: it plays the lines to the kiosk's process, kills it, and starts it again.

use super::script::{Line, Script, Step};
use crate::cli::ScreenOptions;
use anyhow::{Context, bail};
use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::Duration;
use thiserror::Error;

/// What a rehearsal is played on.
pub struct Rehearsal {
    /// The folder of the journal.
    pub folder: PathBuf,
    /// Where pictures go.
    pub shots: PathBuf,
    /// What the clock says at the first line.
    pub begins: jiff::Timestamp,
    /// Size and settings of the screen.
    pub screen: ScreenOptions,
    /// Where inputs are written down, if anywhere; a restart begins the file again.
    pub inputs: Option<PathBuf>,
}

/// A line that did not go as the script says.
#[derive(Debug, Error)]
#[error("{script}, line {number}: {text}\n  {why}")]
pub struct LineFailed {
    script: String,
    number: usize,
    text: String,
    why: String,
}

/// A process takes so long to come back, on the simulated clock.
const RESTART_TAKES: Duration = Duration::from_secs(20);

impl Rehearsal {
    /// Plays every line.
    ///
    /// # Errors
    /// [`LineFailed`] for the first line that does not go as it says; other errors when the kiosk cannot be run.
    pub fn play(&self, script: &Script) -> anyhow::Result<()> {
        std::fs::create_dir_all(&self.shots).with_context(|| format!("{} cannot be made", self.shots.display()))?;
        let mut stage = self.start(Duration::ZERO)?;
        for line in &script.lines {
            if matches!(line.step, Step::Given(_)) {
                // It stands on record already.
                continue;
            }
            if line.step == Step::Restart {
                let clock = stage.clock;
                drop(stage);
                stage = self.start(clock + RESTART_TAKES)?;
                continue;
            }
            stage.play(script, line)?;
        }
        Ok(())
    }

    fn start(&self, clock: Duration) -> anyhow::Result<Stage> {
        let program = std::env::current_exe().context("this program does not know its own file")?;
        let begins = self.begins.checked_add(jiff::SignedDuration::try_from(clock)?)?;
        let mut child = Command::new(program)
            .arg("rehearse-stage")
            .arg("--data")
            .arg(&self.folder)
            .arg("--shots")
            .arg(&self.shots)
            .arg("--begins")
            .arg(begins.to_string())
            .args(self.inputs.iter().map(|file| format!("--inputs={}", file.display())))
            .args(self.screen.arguments())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .context("the kiosk's process cannot be started")?;
        let (Some(lines), Some(answers)) = (child.stdin.take(), child.stdout.take()) else {
            bail!("the kiosk's process has no way to be spoken to");
        };
        Ok(Stage { child, lines, answers: BufReader::new(answers), began: clock, clock })
    }
}

/// A kiosk's process. Dropping it kills it without warning, as a power cut would.
struct Stage {
    child: Child,
    lines: ChildStdin,
    answers: BufReader<ChildStdout>,
    began: Duration,
    clock: Duration,
}

impl Stage {
    fn play(&mut self, script: &Script, line: &Line) -> anyhow::Result<()> {
        writeln!(self.lines, "{}", line.text).context("the kiosk's process has ended")?;
        let mut answer = String::new();
        self.answers.read_line(&mut answer).context("the kiosk's process has ended")?;
        let failed = |why: String, hidden: bool| LineFailed {
            script: script.name.clone(),
            number: line.number,
            text: line.told(hidden).to_owned(),
            why,
        };
        match answer.trim_end().split_once(' ') {
            Some(("done", milliseconds)) => {
                self.clock = self.began + Duration::from_millis(milliseconds.parse()?);
                Ok(())
            }
            Some((how @ ("failed" | "hidden"), why)) => Err(failed(why.replace("\\n", "\n  "), how == "hidden").into()),
            _ => Err(failed("the kiosk's process ended without an answer".to_owned(), true).into()),
        }
    }
}

impl Drop for Stage {
    fn drop(&mut self) {
        // It may have ended by itself; there is nothing more to do about it then.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
