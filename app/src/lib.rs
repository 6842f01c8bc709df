//! What the binary `sparkout` does: the kiosk beside the reel grinder, its journal, its labels, its command line,
//! and the hub that the kiosks of a shop share.

#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

pub mod calc;
pub mod cli;
pub mod clock;
pub mod config;
pub mod demo;
pub mod desk;
pub mod doctor;
pub mod hub;
pub mod inputs;
pub mod intake;
pub mod kiosk;
pub mod label;
pub mod link;
pub mod lists;
pub mod print;
pub mod rehearse;
pub mod report;
pub mod store;
