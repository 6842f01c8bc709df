//! The kiosk's own thread: one bench, its open visits, the journal and the label printer.
//!
//! Nothing here draws. An [`Action`](sparkout_ui::action::Action) comes in, and a
//! [`Screen`](sparkout_ui::screen::Screen) goes out after the journal has kept what happened.

mod act;
mod bench;
mod card;
mod cards;
mod cards_beside;
mod cards_round;
mod enrolment;
mod entered;
mod first_start;
mod health;
mod holds;
mod journal;
mod label_fault;
mod learnt;
mod manners;
mod pages;
mod practice;
mod printing;
mod rebuild;
mod scanning;
mod settings;
mod shop;
mod show;
mod station;
mod switches;
pub mod thread;
mod tour;
mod watch;

pub use bench::{Bench, Parts};
pub use journal::write_records;
pub use pages::LIBRARIES;
pub use rebuild::rebuild;
pub use shop::Shop;
pub use station::Station;

#[cfg(test)]
mod tests;
