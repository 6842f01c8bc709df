//! Rehearsals: a real kiosk driven from a script, to train people and to test the whole program.
//!
//! The kiosk runs in a process of its own ([`StageCommand`]) without a display, under a clock that the script
//! moves; `restart` kills that process without warning and starts it again on the same folder.

mod driver;
mod given;
mod inputs;
mod process;
mod script;
mod stage;

pub use process::Rehearsal;
pub use script::Script;
pub use stage::StageCommand;

use crate::cli::ScreenOptions;
use crate::{demo, store};
use anyhow::Context;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Drive a real kiosk from a script.
///
/// One action a line: `scan TEXT`, `enter VALUE`, `pin DIGITS` (typed, and never told), `type TEXT` (on a keyboard; `<Enter>` and the like are keys),
/// `walk NAME` (by Tab, until the ring is on it), `press NAME`, `hold NAME [SECONDS]`, `expect TEXT`, `refused TEXT`,
/// `shot NAME`, `later DURATION` (90s, 10m, 2h), `restart`, `close` (the window is asked to close), `left` (the kiosk was left),
/// `given no wheel` and the like before all else (a record that lacks something),
/// `clock +3h` (the clock on the wall is moved), `printer gone`, `printer back`, `offline`, `online` (of a kiosk that is paired with a hub),
/// `guard closed` (or `open`, `stale`, `lost`), `stop released` (or `pressed`, `stale`, `lost`), `# comment`. A kiosk without a shop gets the invented one.
#[derive(Debug, Args)]
pub struct RehearseCommand {
    /// The script
    script: PathBuf,
    /// The folder of the journal; without it a new one that is removed afterwards
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
    /// A new kiosk with nothing on record, and not the invented shop
    #[arg(long)]
    empty: bool,
    /// Where `shot` leaves its pictures
    #[arg(long, value_name = "DIR", default_value = "shots")]
    shots: PathBuf,
    /// Write down where the finger pressed and what the scanner typed, to do the same to a real window
    #[arg(long, value_name = "FILE")]
    inputs: Option<PathBuf>,
    #[command(flatten)]
    screen: ScreenOptions,
}

impl RehearseCommand {
    /// Runs it.
    pub fn run(self) -> ExitCode {
        match self.play() {
            Ok(()) => {
                crate::cli::say("all as expected");
                ExitCode::SUCCESS
            }
            Err(error) if error.is::<process::LineFailed>() => {
                eprintln!("{error:#}");
                ExitCode::FAILURE
            }
            Err(error) => crate::cli::told(Err(error)),
        }
    }

    fn play(self) -> anyhow::Result<()> {
        let text = std::fs::read_to_string(&self.script)
            .with_context(|| format!("{} cannot be read", self.script.display()))?;
        let script = Script::parse(&self.script.display().to_string(), &text)?;
        let begins: jiff::Timestamp = demo::WALK_BEGINS.parse()?;
        let scratch = match self.data {
            Some(_) => None,
            None => Some(tempfile::tempdir().context("no temporary folder can be made")?),
        };
        let folder = self.data.or_else(|| scratch.as_ref().map(|scratch| scratch.path().to_owned()));
        let folder = folder.context("no folder for the journal")?;
        // What is there is the kiosk's to open, and to refuse.
        if !self.empty && !folder.join(store::open::DATABASE).exists() {
            let today = begins.to_zoned_datetime(jiff::tz::TimeZone::UTC).date();
            demo::set_up_with(&folder, begins, |records| {
                script.given().try_for_each(|given| given.put_into(records, today))
            })?;
        } else if script.given().next().is_some() {
            anyhow::bail!("what is given cannot be put into a journal that is there already");
        }
        let rehearsal = Rehearsal { folder, shots: self.shots, begins, screen: self.screen, inputs: self.inputs };
        rehearsal.play(&script)
    }
}
