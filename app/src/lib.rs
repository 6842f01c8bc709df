//! What the binary `sparkout` does: the kiosk beside the reel grinder, its journal, its labels, its command line.

#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

pub mod calc;
pub mod cli;
pub mod clock;
pub mod config;
pub mod demo;
pub mod desk;
pub mod inputs;
pub mod kiosk;
pub mod label;
pub mod rehearse;
pub mod report;
pub mod store;
