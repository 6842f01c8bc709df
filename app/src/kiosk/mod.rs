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
mod draft;
mod enrolment;
mod entered;
mod first_start;
mod forms;
mod health;
mod holds;
mod journal;
mod label_fault;
mod learnt;
mod manners;
mod noise;
mod pages;
mod pins;
mod pins_forgotten;
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
mod wheel;
mod witness;

pub use bench::{Bench, Parts};
pub use journal::write_records;
pub use pages::LIBRARIES;
pub use pins_forgotten::PinCommand;
pub use rebuild::{Projector, rebuild};
pub use shop::{OPEN_VISIT, OpenVisitCard, Shop, UNIT};
pub use station::Station;

#[cfg(test)]
mod tests;
