//! The bench's calculations, each a pure function with its formula and its source.
//!
//! All lengths are true lengths whatever unit they were typed in, so inch and metric give the same answer.

pub mod adjuster;
pub mod centre;
pub mod chart;
#[cfg(test)]
mod checks;
pub mod clip;
pub mod dose;
pub mod due;
pub mod error;
pub mod front;
pub mod height;
pub mod knife;
pub mod land;
pub mod lift;
pub mod limits;
pub(crate) mod line;
pub mod master;
pub mod matched;
pub mod plan;
pub mod prove;
pub mod rear;
pub mod relief;
mod root;
pub mod shims;
pub mod tape;
pub mod uncertainty;
pub mod wear;
pub mod wheel;
pub mod yields;

pub use error::CalcError;
