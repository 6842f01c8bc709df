//! The kiosk's side of the hub: a thread that sends the journal in order and fetches the other benches' entries.
//!
//! The bench never waits for it. It reads the journal's file as an inspector would, beside the kiosk that writes it,
//! and keeps what it knows in a file of its own. What the screen shows comes through [`Now`].

mod client;
/// `sparkout pair`.
pub mod command;
mod sender;
mod store;
/// The thread.
pub mod thread;

pub use command::PairCommand;
pub use thread::Link;

use std::sync::{Arc, Mutex, PoisonError};

/// What the link is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum State {
    /// This kiosk was never paired.
    #[default]
    NotPaired,
    /// The hub answers.
    Heard {
        /// Entries that it has named as stored.
        stored: u64,
    },
    /// It does not, or does not take what it is sent.
    Away {
        /// Entries that it has named as stored.
        stored: u64,
    },
}

/// The link's state as the bench and the thread share it.
#[derive(Debug, Clone, Default)]
pub struct Now(Arc<Mutex<State>>);

impl Now {
    /// The state.
    pub fn state(&self) -> State {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn set(&self, state: State) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = state;
    }
}
