//! Printers that take a page language over TCP, port 9100 as a rule, and answer nothing.
//!
//! Only graphics are sent, never a printer's own fonts or codes: what was read back is what is printed. Nothing comes back
//! either: a printer that swallowed the page and one that printed it look the same from here, so that the scan of the label is the
//! only witness.

use super::{Page, Phase, Printer, Stopped, Ticket};
use crate::label::bitmap::Bitmap;
use sparkout_ui::words::PrinterTrouble;
use std::io::{self, Write};
use std::net::{TcpStream, ToSocketAddrs};
use std::time::Duration;

const CONNECT_MOST: Duration = Duration::from_secs(5);
/// A page of a few kilobytes is taken at once; a printer that is out of labels stops taking when its memory is full.
const WRITE_MOST: Duration = Duration::from_secs(20);

/// The published page languages of label printers, as far as they print a raster.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PageLanguage {
    /// A label format of commands that begin with `^`: the raster is a graphic field `^GFA` in hexadecimal.
    GraphicField,
    /// Commands that begin with GS and ESC: the raster is `GS v 0`, as receipt printers take it.
    RasterRows,
}

impl PageLanguage {
    /// The page in this language.
    pub fn page(self, bitmap: &Bitmap) -> Vec<u8> {
        let rows = bitmap.dark_rows();
        let row_bytes = bitmap.width().div_ceil(8);
        match self {
            Self::GraphicField => {
                let total = row_bytes * bitmap.height();
                let (width, height) = (bitmap.width(), bitmap.height());
                // Width and length of the label, its origin, one copy; the numbers are those of bytes, not of digits.
                let mut page = format!("^XA^PW{width}^LL{height}^LH0,0^FO0,0^GFA,{total},{total},{row_bytes},");
                for byte in rows.concat() {
                    page.push_str(&format!("{byte:02X}"));
                }
                page.push_str("^FS^PQ1^XZ\n");
                page.into_bytes()
            }
            Self::RasterRows => {
                let [x_low, x_high, ..] = row_bytes.to_le_bytes();
                let [y_low, y_high, ..] = bitmap.height().to_le_bytes();
                // Reset, the raster at its own size, then on to the gap.
                let head = [0x1b, b'@', 0x1d, b'v', b'0', 0, x_low, x_high, y_low, y_high];
                [head.as_slice(), &rows.concat(), &[0x0c]].concat()
            }
        }
    }
}

/// A printer at an address.
pub struct RawPrinter {
    address: String,
    language: PageLanguage,
    write_most: Duration,
}

impl RawPrinter {
    /// A printer at `HOST:PORT`.
    pub const fn new(address: String, language: PageLanguage) -> Self {
        Self { address, language, write_most: WRITE_MOST }
    }

    fn connect(&self) -> Result<TcpStream, PrinterTrouble> {
        let unreachable = |error: &dyn std::fmt::Display| {
            tracing::info!(address = self.address, %error, "the printer is not reached");
            PrinterTrouble::Unreachable { at: self.address.clone() }
        };
        let mut last = None;
        for address in self.address.to_socket_addrs().map_err(|error| unreachable(&error))? {
            match TcpStream::connect_timeout(&address, CONNECT_MOST) {
                Ok(stream) => return Ok(stream),
                Err(error) => last = Some(error),
            }
        }
        Err(unreachable(&last.unwrap_or_else(|| io::Error::from(io::ErrorKind::NotFound))))
    }

    fn send(&self, mut stream: &TcpStream, page: &[u8]) -> io::Result<()> {
        stream.set_write_timeout(Some(self.write_most))?;
        stream.write_all(page)?;
        // Told that the page is over, and heard that it was taken down: the printer closes its side when it has all of it.
        stream.shutdown(std::net::Shutdown::Write)
    }
}

impl Printer for RawPrinter {
    fn name(&self) -> String {
        self.address.clone()
    }

    /// A printer that takes a connection is all that can be known.
    fn look(&mut self, _: Option<&Page>) -> Result<(), PrinterTrouble> {
        self.connect().map(drop)
    }

    fn print(&mut self, page: &Page, ticket: &mut dyn Ticket) -> Result<(), Stopped> {
        match ticket.phase() {
            Phase::Waiting => {}
            Phase::Printed => return Ok(()),
            // The bytes had begun to flow when something ended it: nobody can be asked.
            Phase::Created(_) | Phase::Sending(_) | Phase::Sent(_) | Phase::InDoubt | Phase::GivenUp => {
                return Err(Stopped::InDoubt);
            }
        }
        let stream = self.connect().map_err(Stopped::Wait)?;
        ticket.tell(None);
        ticket.keep(Phase::Sending(0))?;
        match self.send(&stream, &self.language.page(&page.bitmap)) {
            Ok(()) => ticket.keep(Phase::Printed),
            Err(error) => {
                tracing::warn!(address = self.address, %error, "the page was cut");
                Err(Stopped::InDoubt)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::tests::{PlainTicket, page};
    use super::*;
    use std::io::Read;
    use std::net::TcpListener;

    fn printer(listener: &TcpListener) -> RawPrinter {
        let address = listener.local_addr().unwrap().to_string();
        RawPrinter { write_most: Duration::from_millis(400), ..RawPrinter::new(address, PageLanguage::GraphicField) }
    }

    #[test]
    fn a_page_arrives_whole_and_once() {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let mut printer = printer(&listener);
        let taken = std::thread::spawn(move || {
            let mut bytes = Vec::new();
            listener.accept().unwrap().0.read_to_end(&mut bytes).unwrap();
            bytes
        });
        let mut ticket = PlainTicket::default();
        assert_eq!(printer.print(&page(), &mut ticket), Ok(()));
        assert_eq!(ticket.phases, [Phase::Sending(0), Phase::Printed]);
        assert_eq!(taken.join().unwrap(), PageLanguage::GraphicField.page(&page().bitmap));
        // Asked again, as after a restart: it is printed already, and nobody is connected to.
        assert_eq!(printer.print(&page(), &mut ticket), Ok(()));
    }

    #[test]
    fn a_refused_connection_waits_and_nothing_was_begun() {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let mut printer = printer(&listener);
        drop(listener);
        let mut ticket = PlainTicket::default();
        let stopped = printer.print(&page(), &mut ticket).unwrap_err();
        assert!(matches!(stopped, Stopped::Wait(PrinterTrouble::Unreachable { .. })), "{stopped:?}");
        assert!(ticket.phases.is_empty());
        assert!(printer.look(None).is_err());
    }

    /// A printer that takes the connection and no byte more, with a page larger than what lies in between.
    #[test]
    fn a_printer_that_stalls_leaves_it_in_doubt_and_is_not_sent_a_second_page() {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let mut printer = printer(&listener);
        let large = Page { name: String::new(), bitmap: Bitmap::blank(8000, 8000, 203) };
        let mut ticket = PlainTicket::default();
        assert_eq!(printer.print(&large, &mut ticket), Err(Stopped::InDoubt));
        assert_eq!(printer.print(&large, &mut ticket), Err(Stopped::InDoubt), "asked again");
        listener.set_nonblocking(true).unwrap();
        assert!(listener.accept().is_ok());
        assert!(listener.accept().is_err(), "one connection, and no second");
    }

    #[test]
    fn a_printer_that_hangs_up_leaves_it_in_doubt() {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let mut printer = printer(&listener);
        let hangs_up = std::thread::spawn(move || drop(listener.accept().unwrap()));
        let large = Page { name: String::new(), bitmap: Bitmap::blank(8000, 8000, 203) };
        assert_eq!(printer.print(&large, &mut PlainTicket::default()), Err(Stopped::InDoubt));
        hangs_up.join().unwrap();
    }

    /// Both languages as their published descriptions have it (from memory), dot by dot.
    #[test]
    fn languages() {
        let mut bitmap = Bitmap::blank(10, 2, 203);
        bitmap.set(0, 0, true);
        bitmap.set(9, 1, true);
        let text = String::from_utf8(PageLanguage::GraphicField.page(&bitmap)).unwrap();
        assert_eq!(text, "^XA^PW10^LL2^LH0,0^FO0,0^GFA,4,4,2,80000040^FS^PQ1^XZ\n");
        let bytes = PageLanguage::RasterRows.page(&bitmap);
        assert_eq!(bytes, [0x1b, b'@', 0x1d, b'v', b'0', 0, 2, 0, 2, 0, 0x80, 0, 0, 0x40, 0x0c]);
    }
}
