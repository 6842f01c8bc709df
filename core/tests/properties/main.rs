//! Whole courses of work, simulated: what the calculations advise is done to a unit that knows nothing of their
//! formulas, thousands of times.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod chance;
mod closure;
mod schedule;
mod technician;
mod unit;
mod units;
