//! The poll itself: connect, ask, judge, and connect again when the line broke.

use super::{Contact, Table, Wiring};
use sparkout_core::inputs::{Judge, Sample, Switches};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;
use tokio::net::TcpStream;
use tokio::time::{Instant, sleep_until, timeout, timeout_at};
use tokio_modbus::Slave;
use tokio_modbus::client::{Context, Reader, tcp};

/// A module on the same network answers a call within this time or not at all.
const CONNECT_MOST: Duration = Duration::from_secs(1);
/// Between attempts to connect: short after a first break, and never so long that a mended cable seems dead.
const BACKOFF_LEAST: Duration = Duration::from_millis(100);
const BACKOFF_MOST: Duration = Duration::from_secs(2);

/// Tells changes, and at the end, however it came, that nothing is heard any more.
struct Teller<Tell: FnMut(Switches)> {
    tell: Tell,
    told: Switches,
    unheard: Switches,
}

impl<Tell: FnMut(Switches)> Teller<Tell> {
    fn say(&mut self, seen: Switches) {
        if seen != self.told {
            self.told = seen;
            (self.tell)(seen);
        }
    }
}

impl<Tell: FnMut(Switches)> Drop for Teller<Tell> {
    fn drop(&mut self) {
        self.say(self.unheard);
    }
}

/// Why a connection is given up.
enum Broken {
    /// It broke, or what came over it was not Modbus.
    Line(String),
    /// No answer in time. An answer that comes late would be taken for the next one's, so the connection goes.
    Late,
    /// Nobody wants to know any more.
    Over,
}

pub(super) fn run(wiring: &Wiring, over: &AtomicBool, tell: impl FnMut(Switches)) {
    let unheard = wiring.unheard();
    let mut teller = Teller { tell, told: unheard, unheard };
    match tokio::runtime::Builder::new_current_thread().enable_io().enable_time().build() {
        Ok(runtime) => runtime.block_on(poll(wiring, over, &mut teller)),
        Err(error) => tracing::error!(%error, "the switches cannot be read"),
    }
}

async fn poll<Tell: FnMut(Switches)>(wiring: &Wiring, over: &AtomicBool, teller: &mut Teller<Tell>) {
    let begun = Instant::now();
    let mut watch = Watch { wiring, judge: Judge::new(wiring.rules), begun, teller, backoff: BACKOFF_LEAST };
    while !over.load(Ordering::Relaxed) {
        let connected = timeout(CONNECT_MOST, TcpStream::connect((wiring.host.as_str(), wiring.port))).await;
        let why = match connected {
            Ok(Ok(stream)) => {
                // A request is a dozen bytes and must not wait for more.
                let prompt = stream.set_nodelay(true);
                match prompt {
                    Ok(()) => watch.read_on(tcp::attach_slave(stream, Slave(wiring.unit)), over).await,
                    Err(error) => Broken::Line(error.to_string()),
                }
            }
            Ok(Err(error)) => Broken::Line(error.to_string()),
            Err(_) => Broken::Line("no connection in time".to_owned()),
        };
        match why {
            Broken::Over => return,
            Broken::Late => tracing::warn!(host = wiring.host, "the switches do not answer"),
            Broken::Line(error) => {
                watch.take(Sample::Disconnected);
                tracing::warn!(host = wiring.host, error, "no connection to the switches");
            }
        }
        watch.wait().await;
    }
}

struct Watch<'a, Tell: FnMut(Switches)> {
    wiring: &'a Wiring,
    judge: Judge,
    begun: Instant,
    teller: &'a mut Teller<Tell>,
    backoff: Duration,
}

impl<Tell: FnMut(Switches)> Watch<'_, Tell> {
    fn take(&mut self, sample: Sample) {
        self.judge.take(sample, self.begun.elapsed());
        self.look();
    }

    fn look(&mut self) {
        self.teller.say(self.judge.seen(self.begun.elapsed()));
    }

    /// The moment after which the last good answer no longer counts.
    fn stale_at(&self) -> Option<Instant> {
        let until = self.judge.fresh_until()? + Duration::from_millis(1);
        Some(self.begun + until)
    }

    /// Asks once a period, until the connection is given up.
    async fn read_on(&mut self, mut context: Context, over: &AtomicBool) -> Broken {
        let mut next = Instant::now();
        while !over.load(Ordering::Relaxed) {
            let now = Instant::now();
            let patience = self.stale_at().filter(|at| *at > now).unwrap_or(now + self.wiring.rules.stale());
            match timeout_at(patience, ask(self.wiring, &mut context)).await {
                Err(_) => {
                    self.look();
                    return Broken::Late;
                }
                Ok(Err(error)) => return Broken::Line(error.to_string()),
                Ok(Ok(Ok(bits))) => match self.sample(&bits) {
                    Some(sample) => {
                        self.backoff = BACKOFF_LEAST;
                        self.take(sample);
                    }
                    None => return Broken::Line(format!("{} bits were answered", bits.len())),
                },
                // The module is there and has nothing to say: what it said before grows stale.
                Ok(Ok(Err(refused))) => tracing::debug!(%refused, "the switches were not told"),
            }
            next = (next + self.wiring.period).max(Instant::now());
            if let Some(stale_at) = self.stale_at().filter(|at| *at < next) {
                sleep_until(stale_at).await;
                self.look();
            }
            sleep_until(next).await;
        }
        Broken::Over
    }

    fn sample(&self, bits: &[bool]) -> Option<Sample> {
        Some(Sample::Answer {
            guard_closed: self.good(self.wiring.guard, bits)?,
            stop_released: self.good(self.wiring.stop, bits)?,
        })
    }

    /// Whether a switch says closed or released; nothing when its bit was not answered.
    fn good(&self, contact: Option<Contact>, bits: &[bool]) -> Option<bool> {
        let Some(contact) = contact else { return Some(true) };
        let first = u32::from(self.wiring.first()) * self.wiring.table.bits_each();
        let index = usize::try_from(contact.bit.checked_sub(first)?).ok()?;
        bits.get(index).map(|bit| *bit != contact.inverted)
    }

    async fn wait(&mut self) {
        sleep_until(Instant::now() + self.backoff).await;
        self.backoff = (self.backoff * 2).min(BACKOFF_MOST);
    }
}

/// One request: an answer, the module's refusal to answer, or a broken line. Reading functions only.
async fn ask(wiring: &Wiring, context: &mut Context) -> tokio_modbus::Result<Vec<bool>> {
    let (first, count) = (wiring.first(), wiring.count());
    match wiring.table {
        Table::Discrete => context.read_discrete_inputs(first, count).await,
        Table::Coil => context.read_coils(first, count).await,
        Table::Register => {
            let words = context.read_input_registers(first, count).await?;
            Ok(words
                .map(|words| words.iter().flat_map(|word| (0..16).map(move |bit| (word >> bit) & 1 == 1)).collect()))
        }
    }
}
