//! The kiosk's screens: theme, widgets, stages, and what turns a visit into a screen.

pub mod action;
pub mod fonts;
pub mod locale;
pub mod present;
pub mod screen;
pub mod window;
pub mod words;
