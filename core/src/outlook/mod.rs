//! What comes next: how units wear, when they are due and why, what a wheel gives, which reels match.
//!
//! Everything is worked out from the units' cards, so that it can be told for any day and rebuilt at any time.

pub mod due;
pub mod forecast;
#[cfg(test)]
pub(crate) mod sample;
pub mod sets;
pub mod wheel_yield;

pub use forecast::{Forecast, forecast};
