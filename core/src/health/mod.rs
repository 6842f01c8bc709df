//! The grinder's own health: the check with a master bar, spot checks, closure, and what they earn and warn of.

pub mod check;
#[cfg(test)]
mod check_tests;
pub mod closure;
pub mod drift;
pub mod earned;
#[cfg(test)]
mod earned_tests;
pub mod spot;
