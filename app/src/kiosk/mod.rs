//! The kiosk's own thread: one bench, its open visits, the journal and the label printer.
//!
//! Nothing here draws. An [`Action`](sparkout_ui::action::Action) comes in, and a
//! [`Screen`](sparkout_ui::screen::Screen) goes out after the journal has kept what happened.

mod act;
mod bench;
mod enrolment;
mod journal;
mod printing;
mod rebuild;
mod scanning;
mod shop;
mod show;
pub mod thread;

pub use bench::{Bench, Parts};
pub use journal::write_records;
pub use rebuild::rebuild;
pub use shop::Shop;

#[cfg(test)]
mod tests;
