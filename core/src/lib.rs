//! The bench: geometry, plans, metrology, safety rules, the visit and its scans and labels.
//!
//! Pure functions and plain types. Nothing here knows a file, a clock, a socket, SQL, Slint or a thread:
//! time comes in as a value, and what is to be done goes out as a value.

pub mod angle;
pub mod bench;
pub mod calc;
pub mod entry;
pub mod exposure;
pub mod facts;
pub mod health;
pub mod inputs;
pub mod journal;
pub mod label;
pub mod lifting;
pub mod lockout;
pub mod moment;
pub mod outlook;
pub mod pin;
pub mod quantity;
pub mod reading;
pub mod record;
pub mod scan;
pub mod setting;
pub mod visit;
pub mod wheel;
