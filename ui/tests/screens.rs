//! The screens under a hand, a keyboard and a scanner that types, and as pictures: one binary, no display.

#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod access;
mod bench;
mod contrast;
#[cfg(long_words)]
mod expansion;
mod fit;
mod guard;
mod kiosk;
mod layout;
mod manners;
mod motion;
mod numbers;
mod pictures;
mod pin;
mod reach;
mod samples;
mod tree;
mod why;
mod words;
