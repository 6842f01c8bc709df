//! The printer's thread: takes one label after the other from the queue to its end.

use super::queue::{Job, Phase, Queue, QueueError};
use super::{Page, Printer, Stopped, Ticket};
use crate::label::print::{LabelProgress, Outcome, Printed};
use crate::label::{LabelJob, LabelPrinter, PrintError};
use sparkout_ui::words::PrinterTrouble;
use std::path::Path;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// Between two questions to a printer about one job.
const ASK_EVERY: Duration = Duration::from_millis(500);
/// Between two attempts with a printer that is not there: short, so that a mended cable does not seem dead.
const RETRY_EVERY: Duration = Duration::from_secs(2);
/// Between two looks at an idle printer.
const LOOK_EVERY: Duration = Duration::from_secs(10);

/// What the two threads share.
#[derive(Debug, Default)]
struct Shared {
    over: bool,
    /// Something was asked for.
    asked: bool,
    /// What the printer waits for; nothing when it would print.
    trouble: Option<PrinterTrouble>,
    /// Of which label that was said last, when it was given up.
    given_up: Option<(i64, PrinterTrouble)>,
}

#[derive(Debug, Default)]
struct Desk {
    shared: Mutex<Shared>,
    changed: Condvar,
}

impl Desk {
    fn shared(&self) -> MutexGuard<'_, Shared> {
        // Nothing is left half done in there: a panic elsewhere does not make it wrong.
        self.shared.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait(&self, most: Duration) -> bool {
        let until = Instant::now() + most;
        let mut shared = self.shared();
        while !shared.over && !shared.asked {
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                break;
            }
            shared = self.changed.wait_timeout(shared, left).unwrap_or_else(PoisonError::into_inner).0;
        }
        shared.asked = false;
        shared.over
    }

    fn tell(&self, trouble: Option<PrinterTrouble>) {
        self.shared().trouble = trouble;
    }
}

/// The kiosk's end of the queue.
#[derive(Debug)]
pub struct QueuedPrinter {
    queue: Queue,
    desk: Arc<Desk>,
    name: String,
}

impl QueuedPrinter {
    /// Starts the printer's thread over the queue of this folder. What was under way goes on from where it stood.
    ///
    /// # Errors
    /// [`QueueError`], or when the system gives no thread.
    pub fn start(folder: &Path, printer: Box<dyn Printer>) -> anyhow::Result<Self> {
        let mut queue = Queue::open(folder)?;
        queue.sweep()?;
        let own = Queue::open(folder)?;
        let (desk, name) = (Arc::new(Desk::default()), printer.name());
        let its = Arc::clone(&desk);
        std::thread::Builder::new().name("printer".to_owned()).spawn(move || run(own, printer, &its))?;
        Ok(Self { queue, desk, name })
    }
}

impl Drop for QueuedPrinter {
    fn drop(&mut self) {
        self.desk.shared().over = true;
        self.desk.changed.notify_all();
    }
}

impl LabelPrinter for QueuedPrinter {
    fn print(&mut self, job: &LabelJob) -> Result<Printed, PrintError> {
        let page = Page { name: job.name().to_owned(), bitmap: job.bitmap().clone() };
        self.queue.ask(job.visit(), job.code(), &page)?;
        self.desk.shared().asked = true;
        self.desk.changed.notify_all();
        Ok(Printed::Queued)
    }

    fn ready(&self) -> bool {
        self.desk.shared().trouble.is_none()
    }

    fn progress(&self, visit: &str) -> Option<LabelProgress> {
        let job = match self.queue.of_visit(visit) {
            Ok(job) => job?,
            Err(error) => {
                tracing::error!(%error, "the print queue cannot be read");
                return None;
            }
        };
        let shared = self.desk.shared();
        let outcome = match job.phase {
            Phase::Printed => Outcome::Out,
            Phase::InDoubt => Outcome::InDoubt,
            Phase::GivenUp => Outcome::GivenUp {
                trouble: match &shared.given_up {
                    Some((number, trouble)) if *number == job.number => trouble.clone(),
                    Some(_) | None => PrinterTrouble::Aborted,
                },
            },
            Phase::Waiting | Phase::Created(_) | Phase::Sending(_) | Phase::Sent(_) => {
                Outcome::Waits { trouble: shared.trouble.clone() }
            }
        };
        Some(LabelProgress { code: job.code, to: self.name.clone(), outcome })
    }

    fn settled(&mut self, visit: &str) {
        let job = self.queue.of_visit(visit);
        let settled = job.and_then(|job| job.map_or(Ok(()), |job| self.queue.settle(job.number)));
        if let Err(error) = settled {
            // Told once more at the next start, and taken once: the visit refuses a label that it has.
            tracing::error!(%error, "the print queue cannot be written");
        }
    }
}

fn run(mut queue: Queue, mut printer: Box<dyn Printer>, desk: &Desk) {
    let mut over = false;
    while !over {
        let pause = match queue.next() {
            Ok(Some(job)) => match carry(&mut queue, printer.as_mut(), desk, &job) {
                Ok(()) => Duration::ZERO,
                Err(Stopped::Over) => return,
                Err(_) => RETRY_EVERY,
            },
            Ok(None) => {
                desk.tell(printer.look(None).err());
                LOOK_EVERY
            }
            Err(error) => {
                tracing::error!(%error, "the print queue cannot be read");
                desk.tell(Some(PrinterTrouble::QueueNotKept));
                RETRY_EVERY
            }
        };
        over = desk.wait(pause);
    }
}

/// Takes a label as far as it goes now, and keeps how that ended.
fn carry(queue: &mut Queue, printer: &mut dyn Printer, desk: &Desk, job: &Job) -> Result<(), Stopped> {
    let page = match queue.page(job.number) {
        Ok(page) => page,
        Err(error) => {
            tracing::error!(%error, "a label of the queue cannot be read");
            return kept(queue, job.number, job.phase, Phase::GivenUp);
        }
    };
    let mut row = Row { queue, desk, number: job.number, phase: job.phase };
    let stopped = printer.print(&page, &mut row);
    let phase = row.phase;
    match stopped {
        Ok(()) | Err(Stopped::Withdrawn) => {
            desk.tell(None);
            Ok(())
        }
        Err(Stopped::Wait(trouble)) => {
            tracing::info!(job = job.number, ?trouble, "the printer is waited for");
            desk.tell(Some(trouble.clone()));
            Err(Stopped::Wait(trouble))
        }
        Err(Stopped::InDoubt) => kept(queue, job.number, phase, Phase::InDoubt),
        Err(Stopped::GivenUp(trouble)) => {
            desk.shared().given_up = Some((job.number, trouble));
            kept(queue, job.number, phase, Phase::GivenUp)
        }
        Err(Stopped::Over) => Err(Stopped::Over),
    }
}

fn kept(queue: &mut Queue, number: i64, from: Phase, to: Phase) -> Result<(), Stopped> {
    match queue.keep(number, from, to) {
        Ok(()) => Ok(()),
        Err(QueueError::Withdrawn) => Err(Stopped::Withdrawn),
        Err(error) => {
            tracing::error!(%error, "the print queue cannot be written");
            Err(Stopped::Wait(PrinterTrouble::QueueNotKept))
        }
    }
}

struct Row<'a> {
    queue: &'a mut Queue,
    desk: &'a Desk,
    number: i64,
    phase: Phase,
}

impl Ticket for Row<'_> {
    fn phase(&self) -> Phase {
        self.phase
    }

    fn keep(&mut self, phase: Phase) -> Result<(), Stopped> {
        kept(self.queue, self.number, self.phase, phase)?;
        self.phase = phase;
        Ok(())
    }

    fn tell(&mut self, trouble: Option<PrinterTrouble>) {
        self.desk.tell(trouble);
    }

    fn pause(&mut self) -> Result<(), Stopped> {
        if self.desk.wait(ASK_EVERY) { Err(Stopped::Over) } else { Ok(()) }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::raw::{PageLanguage, RawPrinter};
    use super::*;
    use crate::label::render::tests_content;
    use crate::label::{LabelLayout, render};
    use sparkout_core::label::HubAddress;
    use std::io::Read;
    use std::net::TcpListener;
    use std::sync::mpsc::{self, Receiver};

    /// A printer that takes pages over TCP, and each that it was given; what asks whether it is there gives none.
    fn printer(listener: TcpListener) -> Receiver<Vec<u8>> {
        let (send, pages) = mpsc::channel();
        std::thread::spawn(move || {
            for stream in listener.incoming() {
                let mut page = Vec::new();
                stream.unwrap().read_to_end(&mut page).unwrap();
                if !page.is_empty() && send.send(page).is_err() {
                    return;
                }
            }
        });
        pages
    }

    fn label(visit: &str) -> LabelJob {
        let hub = HubAddress::parse("hub.example").unwrap();
        let drawn = render(&tests_content(), &hub, &LabelLayout::default()).unwrap();
        LabelJob::proved("Q-114", drawn.bitmap, &drawn.url).unwrap().of_visit(visit)
    }

    fn until(printer: &QueuedPrinter, visit: &str, wanted: impl Fn(&Outcome) -> bool) -> LabelProgress {
        let begun = Instant::now();
        loop {
            let progress = printer.progress(visit).unwrap();
            if wanted(&progress.outcome) {
                return progress;
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "{progress:?}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    #[test]
    fn a_label_waits_for_its_printer_is_printed_once_and_told_until_it_is_taken_note_of() {
        let folder = tempfile::tempdir().unwrap();
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = listener.local_addr().unwrap();
        drop(listener);
        let start = || {
            let raw = RawPrinter::new(address.to_string(), PageLanguage::GraphicField);
            QueuedPrinter::start(folder.path(), Box::new(raw)).unwrap()
        };
        let mut queued = start();
        let job = label("V1");
        assert_eq!(queued.print(&job).unwrap(), Printed::Queued);
        until(&queued, "V1", |outcome| {
            matches!(outcome, Outcome::Waits { trouble: Some(PrinterTrouble::Unreachable { .. }) })
        });
        assert!(!queued.ready());
        // The kiosk ends and starts again before the printer is there.
        drop(queued);
        let mut queued = start();
        let pages = printer(TcpListener::bind(address).unwrap());
        let out = until(&queued, "V1", |outcome| *outcome == Outcome::Out);
        assert_eq!((out.code.as_str(), out.to), (job.code(), address.to_string()));
        assert_eq!(pages.recv_timeout(Duration::from_secs(5)).unwrap(), PageLanguage::GraphicField.page(job.bitmap()));
        queued.settled("V1");
        assert_eq!(queued.progress("V1"), None);
        drop(queued);
        let queued = start();
        std::thread::sleep(Duration::from_millis(500));
        assert_eq!(queued.progress("V1"), None);
        assert!(pages.try_recv().is_err(), "no second page");
    }
}
