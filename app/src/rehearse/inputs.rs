//! A record of what a rehearsal's finger and scanner did, so that the same can be done to a real window.
//!
//! One act a line: `scan TEXT`, `press X Y MILLISECONDS` (window pixels), in the order they happened, each followed by
//! `kept N`: how many entries the journal has when the act is done.

use anyhow::Context;
use std::fs::File;
use std::io::Write;
use std::path::Path;
use std::time::Duration;

/// Where the acts are written, if anywhere.
pub struct Inputs(Option<File>);

impl Inputs {
    /// Writes to a file, over what is there; or nowhere.
    ///
    /// # Errors
    /// When the file cannot be made.
    pub fn to(file: Option<&Path>) -> anyhow::Result<Self> {
        let file = file.map(|path| File::create(path).with_context(|| format!("{} cannot be written", path.display())));
        Ok(Self(file.transpose()?))
    }

    /// A scan, as the script writes it.
    ///
    /// # Errors
    /// When the file takes no more.
    pub fn scan(&mut self, text: &str) -> anyhow::Result<()> {
        self.line(&format!("scan {text}"))
    }

    /// A pointer pressed at a place for a time.
    ///
    /// # Errors
    /// When the file takes no more.
    pub fn press(&mut self, position: slint::LogicalPosition, time: Duration) -> anyhow::Result<()> {
        self.line(&format!("press {:.0} {:.0} {}", position.x, position.y, time.as_millis()))
    }

    /// The journal's size once an act is done.
    ///
    /// # Errors
    /// When the file takes no more.
    pub fn kept(&mut self, entries: &str) -> anyhow::Result<()> {
        let digits: String = entries.chars().filter(char::is_ascii_digit).collect();
        self.line(&format!("kept {digits}"))
    }

    fn line(&mut self, line: &str) -> anyhow::Result<()> {
        match &mut self.0 {
            Some(file) => writeln!(file, "{line}").context("the record of inputs cannot be written"),
            None => Ok(()),
        }
    }
}
