//! The outermost tests: the real binary, as people and machines meet it.

mod command_line;
mod crosscheck;
mod faults;
mod label_foreign;
mod published;
mod real_window;
mod rehearsals;
mod rehearsing;
