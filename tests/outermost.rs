//! The outermost tests: the real binary, as people and machines meet it.

mod command_line;
mod crosscheck;
mod exports;
mod faults;
mod hub;
mod inputs;
mod journal_foreign;
mod label_foreign;
mod licences;
mod lists;
mod pins;
mod practising;
mod printing;
mod published;
mod real_kiosk;
mod real_window;
mod rehearsals;
mod rehearsing;
mod scanners;
mod templates;
mod witness;
