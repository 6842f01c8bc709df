//! `sparkout pair`: this kiosk and a hub come to know each other.

use super::client::HubClient;
use super::store::{LinkStore, Paired};
use crate::cli::say;
use crate::config::Config;
use crate::hub::tls::Fingerprint;
use crate::hub::wire::PairRequest;
use crate::store;
use crate::store::sending::Outgoing;
use anyhow::Context;
use clap::Args;
use std::path::{Path, PathBuf};

/// Pair this kiosk with the shop's hub, by a code that the hub shows. Exit codes: 0 paired, 2 not.
#[derive(Debug, Args)]
pub struct PairCommand {
    /// The folder of the kiosk's journal; the kiosk may be running
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// Where the hub answers; http:// only for a hub on this machine
    #[arg(long, value_name = "HOST:PORT")]
    hub: String,
    /// The one-time code
    #[arg(long, value_name = "CODE")]
    code: String,
    /// The hub's fingerprint, 64 hexadecimal digits
    #[arg(long, value_name = "FINGERPRINT", value_parser = fingerprint)]
    fingerprint: Option<Fingerprint>,
    /// What people call this bench; without it the configured name
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// A configuration file over the defaults
    #[arg(long, value_name = "FILE")]
    config: Option<PathBuf>,
}

fn fingerprint(text: &str) -> Result<Fingerprint, String> {
    Fingerprint::parse(text).ok_or_else(|| "64 hexadecimal digits, as the hub shows them".to_owned())
}

impl PairCommand {
    /// Runs it.
    ///
    /// # Errors
    /// In words.
    pub fn run(self) -> anyhow::Result<()> {
        let name = match self.name {
            Some(name) => name,
            None => Config::load(self.config.as_deref())?.station.name,
        };
        let client = HubClient::new(&self.hub, self.fingerprint)?;
        let journal = journal(&self.data)?;
        let asked =
            PairRequest { code: self.code, name, key: journal.key().verifier_line(), head: journal.note().to_owned() };
        // Opened before the code is used up: a folder that takes no file must not cost one.
        let mut known = LinkStore::open(&self.data)?;
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
        let reply = runtime.block_on(client.pair(&asked))?;
        known.pair(&Paired { address: client.address(), fingerprint: self.fingerprint, token: reply.token })?;
        say(&format!("paired as {}", reply.station));
        Ok(())
    }
}

/// The kiosk's journal, begun now where there is none yet.
fn journal(folder: &Path) -> anyhow::Result<Outgoing> {
    let file = folder.join(store::open::DATABASE);
    if !file.exists() {
        drop(store::open(folder)?);
    }
    Outgoing::open(&file).with_context(|| format!("{} cannot be paired", folder.display()))
}
