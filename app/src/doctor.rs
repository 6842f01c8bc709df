//! `sparkout doctor`: everything that is configured, tried once, a line each.

use crate::config::{Config, PrinterWiring};
use crate::inputs::Watching;
use crate::label::{FolderPrinter, LabelLayout, LabelPrinter};
use crate::print::{self, Page};
use crate::{cli, intake, store};
use clap::Args;
use serde::Serialize;
use sparkout_core::facts::{GuardInput, StopInput};
use sparkout_core::inputs::Switches;
use sparkout_core::quantity::Length;
use sparkout_ui::screen::Settings;
use sparkout_ui::words;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::mpsc;
use std::time::{Duration, Instant};

/// A module that answers does so within its staleness limit; a first connection takes a little longer.
const SWITCHES_MOST: Duration = Duration::from_secs(3);

/// Try every configured device and service, a line each: fine, or what is wrong and what to check. Exit codes: 0 all fine, 1
/// something is wrong, 2 it could not be looked.
#[derive(Debug, Args)]
pub struct DoctorCommand {
    /// The kiosk's folder: its journal, key and disk are looked at too
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
    /// A configuration file over the defaults
    #[arg(long, value_name = "FILE")]
    config: Option<PathBuf>,
    /// As JSON, one object a line
    #[arg(long)]
    json: bool,
}

/// What was found about one thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// What was tried.
    pub what: &'static str,
    /// Which one.
    pub name: String,
    /// Whether nothing is wrong with it.
    pub fine: bool,
    /// What is wrong and what to check; nothing when it is fine.
    pub words: String,
}

impl Finding {
    fn of(what: &'static str, name: String, tried: Result<(), String>) -> Self {
        Self { what, name, fine: tried.is_ok(), words: tried.err().unwrap_or_default() }
    }

    /// As a line for people.
    pub fn line(&self) -> String {
        let Self { what, name, words, .. } = self;
        if self.fine { format!("{what} {name}: fine") } else { format!("{what} {name}: {words}") }
    }
}

impl DoctorCommand {
    /// Runs it.
    pub fn run(&self) -> ExitCode {
        let config = match Config::load(self.config.as_deref()) {
            Ok(config) => config,
            Err(error) => return cli::told(Err(error)),
        };
        let findings = match self.look(&config) {
            Ok(findings) => findings,
            Err(error) => return cli::told(Err(error)),
        };
        for finding in &findings {
            let line = if self.json { serde_json::to_string(finding) } else { Ok(finding.line()) };
            match line {
                Ok(line) => cli::say(&line),
                Err(error) => return cli::told(Err(error.into())),
            }
        }
        if findings.iter().all(|finding| finding.fine) { ExitCode::SUCCESS } else { ExitCode::FAILURE }
    }

    fn look(&self, config: &Config) -> anyhow::Result<Vec<Finding>> {
        let mut findings = Vec::new();
        if let Some(folder) = &self.data {
            findings.push(journal(folder));
        }
        findings.push(printer(config, self.data.as_deref())?);
        for wiring in config.intake()? {
            let mut source = intake::source(&wiring);
            let tried = source.look().map_err(|error| format!("{error}; check its path, its plug and who may open it"));
            findings.push(Finding::of("scanner", source.name(), tried));
        }
        if let Some(wiring) = config.inputs()? {
            let name = format!("{}:{}", wiring.host, wiring.port);
            findings.push(Finding::of("switches", name, switches(wiring)?));
        }
        Ok(findings)
    }
}

/// Whether the journal's newest entries stand as they were signed; a kiosk that runs is not disturbed.
fn journal(folder: &Path) -> Finding {
    let database = folder.join(store::open::DATABASE);
    let verified = store::read_only::ReadOnlyJournal::open(&database).map_err(|error| error.to_string());
    let tried = verified.and_then(|file| match store::verify::verify(&file, None) {
        Ok(report) if report.findings.is_empty() => Ok(()),
        Ok(_) => Err("it does not verify; run `sparkout journal verify`".to_owned()),
        Err(error) => Err(error.to_string()),
    });
    Finding::of("journal", database.display().to_string(), tried)
}

/// Asks the printer everything that can be asked without printing, with the size of the labels that are configured.
fn printer(config: &Config, data: Option<&Path>) -> anyhow::Result<Finding> {
    let Some(wiring) = config.printer()? else {
        let named = (!config.label.folder.is_empty()).then(|| PathBuf::from(&config.label.folder));
        let folder = named.or_else(|| data.map(|data| data.join("labels"))).unwrap_or_else(|| PathBuf::from("labels"));
        let ready = FolderPrinter::new(folder.clone()).ready();
        let wrong = || "it is not there or cannot be written to; create it or set label.folder".to_owned();
        return Ok(Finding::of("label folder", folder.display().to_string(), ready.then_some(()).ok_or_else(wrong)));
    };
    let kind = match wiring {
        PrinterWiring::Ipp { .. } => "IPP printer",
        PrinterWiring::Raw { .. } => "raw printer",
    };
    let layout = LabelLayout {
        width: Length::from_mm(config.label.width_mm),
        height: Length::from_mm(config.label.height_mm),
        dots_per_inch: config.label.dpi,
        ..LabelLayout::default()
    };
    let page = Page { name: "doctor".to_owned(), bitmap: layout.blank()? };
    let mut printer = print::driver(&wiring);
    let tried = printer.look(Some(&page)).map_err(|trouble| words::printer_trouble(&trouble, Settings::default()));
    Ok(Finding::of(kind, printer.name(), tried))
}

/// Reads the switches until they say something, or for a while.
fn switches(wiring: crate::inputs::Wiring) -> anyhow::Result<Result<(), String>> {
    let (tell, told) = mpsc::channel();
    let unheard = wiring.unheard();
    let _watching = Watching::start(wiring, move |seen: Switches| {
        // An error means that enough was heard.
        let _ = tell.send(seen);
    })?;
    let until = Instant::now() + SWITCHES_MOST;
    loop {
        match told.recv_timeout(until.saturating_duration_since(Instant::now())) {
            Ok(seen) if seen != unheard && answered(seen) => return Ok(Ok(())),
            Ok(_) => {}
            Err(_) => return Ok(Err("the module does not answer; check its power, its cable and [inputs]".to_owned())),
        }
    }
}

/// Whether both are known, whatever they say.
const fn answered(seen: Switches) -> bool {
    !matches!(seen.guard, GuardInput::Lost | GuardInput::Stale)
        && !matches!(seen.stop, StopInput::Lost | StopInput::Stale)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_for_people_and_machines() {
        let wrong = Finding::of("scanner", "/dev/x".to_owned(), Err("not there".to_owned()));
        assert_eq!(wrong.line(), "scanner /dev/x: not there");
        let fine = Finding::of("label folder", "labels".to_owned(), Ok(()));
        assert_eq!(fine.line(), "label folder labels: fine");
        let json = serde_json::to_string(&fine).unwrap();
        assert_eq!(json, r#"{"what":"label folder","name":"labels","fine":true,"words":""}"#);
    }
}
