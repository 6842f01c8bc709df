//! Printers that are devices of their own: spoken to on a thread of their own, from a queue that outlives the process.
//!
//! A driver is given one page and a ticket. The ticket is the queue's row for this page: before a driver does what cannot be taken
//! back, it has the ticket write down how far it is, so that after a time-out, a power cut or a restart it asks about the job it
//! began and never blindly begins a second one. What came out of the printer is known by the scan of the label alone.

pub mod ipp;
pub mod pwg;
pub mod queue;
pub mod raw;
pub mod worker;

pub use queue::{Phase, Queue, QueueError};
pub use worker::QueuedPrinter;

use crate::config::PrinterWiring;
use crate::label::bitmap::Bitmap;
use sparkout_core::quantity::Length;
use sparkout_ui::words::PrinterTrouble;

/// One page: a label's raster with its size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// The job's name, as the printer shows it.
    pub name: String,
    /// The raster at the printer's resolution.
    pub bitmap: Bitmap,
}

impl Page {
    /// Across, in hundredths of a millimetre, to whole half millimetres: a raster of whole dots is a little narrower than its label.
    pub fn width_hundredths(&self) -> i32 {
        self.hundredths(self.bitmap.width())
    }

    /// Down, likewise.
    pub fn height_hundredths(&self) -> i32 {
        self.hundredths(self.bitmap.height())
    }

    fn hundredths(&self, dots: u32) -> i32 {
        let exact = Length::from_inches(f64::from(dots) / f64::from(self.bitmap.dots_per_inch().max(1)));
        ((exact.mm() * 2.0).round() * 50.0) as i32
    }
}

/// How a page is left when its driver stops.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stopped {
    /// It waits; the driver is to be asked again after a while.
    Wait(PrinterTrouble),
    /// It may have come out or not: a person has to say.
    InDoubt,
    /// It will not come out.
    GivenUp(PrinterTrouble),
    /// It is no longer wanted, and nothing of it has begun.
    Withdrawn,
    /// The kiosk ends; the queue knows how far it is.
    Over,
}

/// The queue's row of the page that is being printed.
pub trait Ticket {
    /// How far it is.
    fn phase(&self) -> Phase;

    /// Writes down how far it is, on the disk before this returns.
    ///
    /// # Errors
    /// [`Stopped::Wait`] when it could not be written; nothing irrevocable may then be done.
    fn keep(&mut self, phase: Phase) -> Result<(), Stopped>;

    /// Says on the screen what the printer waits for, or that it goes on.
    fn tell(&mut self, trouble: Option<PrinterTrouble>);

    /// Waits a moment; ends early when the kiosk does.
    ///
    /// # Errors
    /// [`Stopped::Over`] when the kiosk ends.
    fn pause(&mut self) -> Result<(), Stopped>;
}

/// A printer behind its driver.
pub trait Printer: Send {
    /// Where it is, for people.
    fn name(&self) -> String;

    /// Whether it would print now: everything is asked that can be asked without printing.
    ///
    /// # Errors
    /// What is wrong.
    fn look(&mut self, page: Option<&Page>) -> Result<(), PrinterTrouble>;

    /// Prints the page from where its ticket stands, to its end.
    ///
    /// # Errors
    /// [`Stopped`], when it is not at its end.
    fn print(&mut self, page: &Page, ticket: &mut dyn Ticket) -> Result<(), Stopped>;
}

/// The driver for a configured printer.
pub fn driver(wiring: &PrinterWiring) -> Box<dyn Printer> {
    match wiring {
        PrinterWiring::Ipp { uri } => Box::new(ipp::IppPrinter::new(uri.clone())),
        PrinterWiring::Raw { address, language } => Box::new(raw::RawPrinter::new(address.clone(), *language)),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// A ticket in memory, and everything that was kept and told.
    #[derive(Debug, Default)]
    pub struct PlainTicket {
        pub phases: Vec<Phase>,
        pub told: Vec<Option<PrinterTrouble>>,
        pub pauses: u32,
    }

    impl Ticket for PlainTicket {
        fn phase(&self) -> Phase {
            self.phases.last().copied().unwrap_or(Phase::Waiting)
        }
        fn keep(&mut self, phase: Phase) -> Result<(), Stopped> {
            self.phases.push(phase);
            Ok(())
        }
        fn tell(&mut self, trouble: Option<PrinterTrouble>) {
            self.told.push(trouble);
        }
        fn pause(&mut self) -> Result<(), Stopped> {
            self.pauses += 1;
            if self.pauses > 200 {
                return Err(Stopped::Over);
            }
            std::thread::sleep(std::time::Duration::from_millis(50));
            Ok(())
        }
    }

    /// A page of 62 x 29 mm at 203 dpi with something on it.
    pub fn page() -> Page {
        let mut bitmap = Bitmap::blank(495, 231, 203);
        for y in 0..231 {
            for x in 0..495 {
                bitmap.set(x, y, (x / 9 + y / 7) % 3 == 0);
            }
        }
        Page { name: "Q-114-V0000001".to_owned(), bitmap }
    }

    #[test]
    fn a_page_has_the_size_of_its_label() {
        assert_eq!((page().width_hundredths(), page().height_hundredths()), (6200, 2900));
    }
}
