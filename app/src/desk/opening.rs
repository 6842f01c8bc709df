//! Opening the folder and building a bench, with words for the screen when that fails.

use crate::clock::Clock;
use crate::config::Config;
use crate::kiosk::{Bench, Parts};
use crate::label::{FolderPrinter, LabelPrinter};
use crate::print::{self, QueuedPrinter};
use crate::store::vouching::Vouching;
use crate::store::witness::FolderWitness;
use crate::store::{self, OpenFailure, Pepper, Record as _, StoreError};
use sparkout_ui::screen::{Body, Fault, Screen, Settings};
use sparkout_ui::words::{self, RecordFault};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Where a kiosk keeps what it must not lose.
#[derive(Debug, Clone)]
pub struct Place {
    /// The folder of the journal.
    pub folder: PathBuf,
    /// The folder of the labels.
    pub labels: PathBuf,
    /// The folder in which the journal's head is kept a second time.
    pub witness: Option<PathBuf>,
}

impl Place {
    /// The folder of a kiosk, and where its labels go by the configuration.
    pub fn new(folder: &Path, config: &Config) -> Self {
        let labels = match config.label.folder.as_str() {
            "" => folder.join("labels"),
            named => PathBuf::from(named),
        };
        Self { folder: folder.to_owned(), labels, witness: config.witness_folder(folder) }
    }
}

/// Opens the folder and builds the bench over it.
///
/// # Errors
/// The screen that tells why not, and what to do.
pub fn open_bench(
    place: &Place,
    clock: &Arc<dyn Clock>,
    config: Config,
    settings: Settings,
) -> Result<Bench, Box<Screen>> {
    let folder = place.folder.display().to_string();
    let fault_screen = |fault: &RecordFault| {
        Box::new(Screen { settings, body: Body::Fault(words::fault(fault, &folder, settings)), ..Screen::default() })
    };
    if let Err(error) = std::fs::create_dir_all(&place.folder).and_then(|()| std::fs::create_dir_all(&place.labels)) {
        tracing::error!(%error, folder, "the folders cannot be made");
        return Err(fault_screen(&RecordFault::Unwritable));
    }
    let disk = store::open(&place.folder).map_err(|failure| {
        tracing::error!(%failure, ?failure, "the journal cannot be opened");
        fault_screen(&fault_of(&failure))
    })?;
    // The window already shows its first screen; nothing is accepted before this ends.
    match disk.check() {
        Ok(()) => {}
        Err(StoreError::Corrupt { detail }) => {
            let failure = disk.retire(detail.clone());
            tracing::error!(detail, %failure, "the journal is damaged");
            return Err(fault_screen(&fault_of(&failure)));
        }
        Err(error) => {
            tracing::error!(%error, detail = error.detail(), "the journal cannot be looked through");
            return Err(fault_screen(&RecordFault::Other));
        }
    }
    let pinned = disk.pinned().map_err(|error| {
        tracing::error!(%error, detail = error.detail(), "it cannot be told who has a PIN");
        fault_screen(&RecordFault::Other)
    })?;
    let pepper = Pepper::beside(&place.folder, !pinned.is_empty());
    let printer = label_printer(place, &config).map_err(|error| {
        tracing::error!(error = format!("{error:#}"), "the printer's queue cannot be opened");
        fault_screen(&RecordFault::Unwritable)
    })?;
    let parts =
        Parts { disk: Box::new(disk), clock: Arc::clone(clock), printer, config, folder: folder.clone(), pepper };
    let bench = Bench::new(parts).map(|bench| bench.with_settings(settings).with_witness(vouching(place)));
    bench.map_err(|error| {
        tracing::error!(error = format!("{error:#}"), "the configuration is not usable");
        let fault = Fault { title: error.to_string(), detail: folder, advice: String::new() };
        Box::new(Screen { settings, body: Body::Fault(fault), ..Screen::default() })
    })
}

/// The witness, where one is configured and the system gives it a thread.
fn vouching(place: &Place) -> Option<Vouching> {
    let witness = FolderWitness::new(place.witness.clone()?);
    Vouching::start(witness, place.folder.join(store::open::DATABASE))
        .inspect_err(|error| tracing::error!(%error, "there is no thread for the witness"))
        .ok()
}

/// What labels go to: a folder, or a printer behind its queue.
fn label_printer(place: &Place, config: &Config) -> anyhow::Result<Box<dyn LabelPrinter + Send>> {
    Ok(match config.printer()? {
        None => Box::new(FolderPrinter::new(place.labels.clone())),
        Some(wiring) => Box::new(QueuedPrinter::start(&place.folder, print::driver(&wiring))?),
    })
}

fn fault_of(failure: &OpenFailure) -> RecordFault {
    let name = |path: &Path| Some(path.display().to_string());
    match failure {
        OpenFailure::InUse => RecordFault::InUse,
        OpenFailure::Newer { set_aside, .. } => RecordFault::Newer { set_aside: name(set_aside) },
        OpenFailure::Corrupt { set_aside, .. } => RecordFault::Damaged { set_aside: name(set_aside) },
        OpenFailure::Unwritable { .. } => RecordFault::Unwritable,
        OpenFailure::Full { .. } => RecordFault::Full,
        OpenFailure::KeyMissing { .. } | OpenFailure::KeyUnusable { .. } => RecordFault::KeyMissing,
        OpenFailure::SqliteTooOld { .. } => RecordFault::Other,
    }
}
