//! The link's thread: rounds, pauses, and longer pauses when the hub is away.

use super::sender::{RoundFault, Sender};
use super::store::LinkStore;
use super::{Now, State};
use crate::clock::Clock;
use crate::store::open;
use crate::store::sending::Outgoing;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::JoinHandle;
use std::time::Duration;
use tokio::sync::Notify;
use tokio::time::timeout;

/// Between rounds while the hub answers: what is ground at one bench is known at the next within two seconds.
const PAUSE: Duration = Duration::from_millis(500);
/// The first pause after a failure; doubled with each further one.
const BACKOFF_LEAST: Duration = Duration::from_secs(1);
/// The longest: a hub that is back is found within this time.
const BACKOFF_MOST: Duration = Duration::from_secs(60);

/// What the thread and its owner share.
struct Shared {
    now: Now,
    over: AtomicBool,
    /// In a rehearsal the cable is pulled by this.
    cut: AtomicBool,
    wake: Notify,
}

/// A running link. Dropping it ends the thread, at once if it waits.
pub struct Link {
    folder: PathBuf,
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

impl Link {
    /// Starts the thread for the kiosk of a folder; it waits until the kiosk is paired.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn start(folder: PathBuf, clock: Arc<dyn Clock>, now: Now) -> std::io::Result<Self> {
        let shared =
            Arc::new(Shared { now, over: AtomicBool::new(false), cut: AtomicBool::new(false), wake: Notify::new() });
        if LinkStore::is_in(&folder) {
            // Away until it answers, and not as if there were none.
            shared.now.set(State::Away { stored: 0 });
        }
        let (its, place) = (Arc::clone(&shared), folder.clone());
        let thread = std::thread::Builder::new().name("link".to_owned()).spawn(move || {
            match tokio::runtime::Builder::new_current_thread().enable_all().build() {
                Ok(runtime) => runtime.block_on(run(place, &clock, &its)),
                Err(error) => tracing::error!(%error, "nothing can be sent to the hub"),
            }
        })?;
        Ok(Self { folder, shared, thread: Some(thread) })
    }

    /// Pulls the cable, or puts it back.
    pub fn cut(&self, cut: bool) {
        self.shared.cut.store(cut, Ordering::SeqCst);
        self.shared.wake.notify_one();
    }

    /// Whether the hub is heard and has named everything as stored.
    pub fn is_caught_up(&self) -> bool {
        let State::Heard { stored } = self.state() else { return false };
        Outgoing::open(&self.folder.join(open::DATABASE)).is_ok_and(|journal| journal.size() == stored)
    }

    /// What the link is like.
    pub fn state(&self) -> State {
        self.shared.now.state()
    }
}

impl Drop for Link {
    fn drop(&mut self) {
        self.shared.over.store(true, Ordering::SeqCst);
        self.shared.wake.notify_one();
        if let Some(thread) = self.thread.take()
            && thread.join().is_err()
        {
            tracing::error!("the link's thread ended badly");
        }
    }
}

async fn run(folder: PathBuf, clock: &Arc<dyn Clock>, shared: &Shared) {
    let (mut sender, mut backoff) = (None, BACKOFF_LEAST);
    while !shared.over.load(Ordering::SeqCst) {
        let pause = tokio::select! {
            pause = round(&folder, clock, shared, &mut sender, &mut backoff) => pause,
            // What was under way is dropped: the hub's word about it is asked for in the next round.
            () = shared.wake.notified() => {
                sender = None;
                continue;
            }
        };
        // Running out of the time is what the pause is for.
        if timeout(pause, shared.wake.notified()).await.is_ok() {
            backoff = BACKOFF_LEAST;
        }
    }
}

/// One round. Gives the time until the next.
async fn round(
    folder: &std::path::Path,
    clock: &Arc<dyn Clock>,
    shared: &Shared,
    kept: &mut Option<Sender>,
    backoff: &mut Duration,
) -> Duration {
    if kept.is_none() {
        *kept = sender(folder, clock);
        let opened = kept.as_ref().map_or(State::NotPaired, |sender| State::Away { stored: sender.stored() });
        shared.now.set(opened);
    }
    let Some(sender) = kept else { return PAUSE };
    if shared.cut.load(Ordering::SeqCst) {
        shared.now.set(State::Away { stored: sender.stored() });
        return BACKOFF_MOST;
    }
    match sender.round(&shared.now).await {
        Ok(()) => {
            *backoff = BACKOFF_LEAST;
            PAUSE
        }
        Err(fault) => {
            tell(&fault, *backoff == BACKOFF_LEAST);
            shared.now.set(State::Away { stored: sender.stored() });
            // Paired anew, or the same again: the next round reads it.
            *kept = None;
            if !fault.passes() {
                *backoff = BACKOFF_MOST;
            }
            let pause = jittered(*backoff);
            *backoff = backoff.saturating_mul(2).min(BACKOFF_MOST);
            pause
        }
    }
}

/// A refusal is told every time, a hub that is away once.
fn tell(fault: &RoundFault, is_first: bool) {
    if !fault.passes() {
        tracing::error!(%fault, "the journal is not taken by the hub");
    } else if is_first {
        tracing::warn!(%fault, "the hub is away; what happens is kept here and sent later");
    } else {
        tracing::debug!(%fault, "still no hub");
    }
}

fn sender(folder: &std::path::Path, clock: &Arc<dyn Clock>) -> Option<Sender> {
    if !LinkStore::is_in(folder) {
        return None;
    }
    let opened = LinkStore::open(folder).and_then(|store| Ok((store.paired()?, store)));
    let (paired, store) = match opened {
        Ok((Some(paired), store)) => (paired, store),
        Ok((None, _)) => return None,
        Err(error) => {
            tracing::error!(%error, detail = error.detail(), "what is known of the hub cannot be read");
            return None;
        }
    };
    match Sender::new(folder.to_owned(), store, &paired, Arc::clone(clock)) {
        Ok(sender) => Some(sender),
        Err(error) => {
            tracing::error!(%error, "the hub's address is not usable");
            None
        }
    }
}

/// Half of it to all of it: benches that lost the hub together do not come back together.
fn jittered(pause: Duration) -> Duration {
    let mut random = [0u8; 2];
    if let Err(error) = getrandom::fill(&mut random) {
        tracing::debug!(%error, "no random numbers; the pause is not varied");
    }
    let share = f64::from(u16::from_le_bytes(random)) / f64::from(u16::MAX);
    pause.mul_f64(0.5 + share / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pause_is_varied_and_never_longer_than_meant() {
        let pauses: Vec<Duration> = (0..200).map(|_| jittered(BACKOFF_MOST)).collect();
        assert!(pauses.iter().all(|pause| (BACKOFF_MOST / 2..=BACKOFF_MOST).contains(pause)));
        assert!(pauses.iter().any(|pause| *pause != pauses[0]));
    }
}
