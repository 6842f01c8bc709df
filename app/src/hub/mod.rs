//! The hub: what the benches of a shop share. It stores every station's journal as the exact bytes that were hashed,
//! is the witness of each, gives the entries to the others, and answers what the shop looks like.

mod api;
mod books;
/// `sparkout hub`.
pub mod command;
mod metrics;
mod rules;
mod secrets;
mod serve;
mod sqlite;
mod state;
mod store;
pub(crate) mod tls;
pub(crate) mod wire;

pub use command::HubCommand;
