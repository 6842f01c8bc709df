//! An invented shop to try everything on.

mod frames;
mod shop;

pub use shop::{FIRST_TAG, records_of, set_up, set_up_with};

use crate::cli::{ScreenOptions, say};
use crate::desk::{self, opening::Place};
use crate::rehearse::{Rehearsal, Script};
use anyhow::{Context, bail};
use clap::Args;
use sparkout_core::reading::{EntryUnit, LengthKind, Reading, Units};
use std::path::{Path, PathBuf};

/// An invented shop to try everything on. Exit codes: 0 done, 2 not.
#[derive(Debug, Args)]
pub struct DemoCommand {
    /// Without a display: walk one whole visit and leave screens, label and journal in this folder
    #[arg(long, value_name = "DIR")]
    headless: Option<PathBuf>,
    /// The folder of the invented shop's journal; without it one beside the person's other data
    #[arg(long, value_name = "DIR", conflicts_with = "headless")]
    data: Option<PathBuf>,
    #[command(flatten)]
    screen: ScreenOptions,
}

/// The visit that is walked without a display.
const WALK: &str = include_str!("walk.rehearse");

impl DemoCommand {
    /// Runs it.
    ///
    /// # Errors
    /// In words.
    pub fn run(self) -> anyhow::Result<()> {
        match &self.headless {
            Some(folder) => walk(folder, &self.screen),
            None => self.open(),
        }
    }

    fn open(&self) -> anyhow::Result<()> {
        let (config, settings) = self.screen.load()?;
        let folder = self.data.clone().map_or_else(own_folder, Ok)?;
        if std::env::var_os("DISPLAY").is_none() && std::env::var_os("WAYLAND_DISPLAY").is_none() {
            bail!("there is no display here; `sparkout demo --headless DIR` needs none");
        }
        set_up(&folder, jiff::Timestamp::now())?;
        say(&shop::what_to_scan());
        say(&format!("The journal lies in {}.", folder.display()));
        desk::run(Place::new(&folder, &config), config, settings, self.screen.size(), desk::Door::default())
    }
}

fn own_folder() -> anyhow::Result<PathBuf> {
    let base = std::env::var_os("XDG_DATA_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::var_os("HOME").map(|home| Path::new(&home).join(".local/share")))
        .context("neither XDG_DATA_HOME nor HOME is set; name a folder with --data")?;
    Ok(base.join("sparkout-demo"))
}

/// The day on which the invented shop is walked through, so that every walk leaves the same pictures.
pub const WALK_BEGINS: &str = "2026-05-14T09:30:00Z";

fn walk(folder: &Path, screen: &ScreenOptions) -> anyhow::Result<()> {
    let journal = folder.join("kiosk.db");
    let is_in_use = std::fs::read_dir(folder).is_ok_and(|mut files| files.next().is_some());
    if is_in_use || folder.is_file() {
        bail!("{} holds something already; name an empty folder", folder.display());
    }
    let shots = folder.join("screens");
    std::fs::create_dir_all(&shots).with_context(|| format!("{} cannot be made", shots.display()))?;
    let begins = WALK_BEGINS.parse()?;
    set_up(folder, begins)?;
    let rehearsal = Rehearsal { folder: folder.to_owned(), shots, begins, screen: screen.clone(), inputs: None };
    let (_, settings) = screen.load()?;
    rehearsal.play(&Script::parse("walk", &in_units(WALK, settings.units)?)?)?;
    let label = newest_label(&folder.join("labels"))?;
    std::fs::copy(&label, folder.join("label.png")).context("label.png cannot be written")?;
    say(&format!("screens: {}", folder.join("screens").display()));
    say(&format!("label: {}", folder.join("label.png").display()));
    say(&format!("journal: {}", journal.display()));
    Ok(())
}

/// The walk with its numbers in the unit that the screen asks for.
fn in_units(walk: &str, units: Units) -> anyhow::Result<String> {
    let mut lines = Vec::new();
    for line in walk.lines() {
        let words: Vec<&str> = line.split(' ').collect();
        let typed = match words[..] {
            ["enter", number, "in"] => Some((number, EntryUnit::Inch, LengthKind::Size)),
            ["enter", number, "thou"] => Some((number, EntryUnit::Thou, LengthKind::Fine)),
            _ => None,
        };
        lines.push(match typed {
            Some((number, unit, kind)) => {
                format!("enter {}", Reading::parse(number, unit)?.typed_in(units.entry_unit(kind)))
            }
            None => line.to_owned(),
        });
    }
    Ok(lines.join("\n"))
}

/// The newest label in a folder.
///
/// # Errors
/// When there is none.
pub fn newest_label(folder: &Path) -> anyhow::Result<PathBuf> {
    let files = std::fs::read_dir(folder).with_context(|| format!("{} cannot be read", folder.display()))?;
    let mut labels: Vec<PathBuf> = files.filter_map(|file| file.ok().map(|file| file.path())).collect();
    labels.retain(|path| path.extension().is_some_and(|ending| ending == "png"));
    labels.sort();
    labels.pop().context("the walk left no label")
}
