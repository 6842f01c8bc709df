//! The hub as benches and attackers meet it: real processes, a real journal, real sockets.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod doors;
mod pairing;
mod rehearsed;
mod sending;
mod shop;
