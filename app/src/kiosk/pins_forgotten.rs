//! PINs taken away at the machine's own command line: when the only lead forgot theirs, or the pepper is gone for good.
//! Whoever can run it can write the folder anyway; it stands on record all the same.

use super::journal::entry_of;
use super::shop::{Change, Shop};
use crate::clock::{Clock as _, SystemClock};
use crate::store::{self, NewEntry, Record as Disk, StoreError};
use anyhow::{Context, bail};
use clap::Subcommand;
use sparkout_core::entry::EntryBody;
use sparkout_core::moment::Moment;
use sparkout_core::pin::{PinEvent, PinGuard};
use std::path::PathBuf;

/// `sparkout pin`.
#[derive(Debug, Subcommand)]
pub enum PinCommand {
    /// Takes a badge's PIN away, or everybody's; the next use of the badge chooses a new one. End the kiosk first.
    ///
    /// Everybody's where the file pin.pepper is lost: no PIN can be checked without it, and a new one is made at the next
    /// start. Each is on record. Exit codes: 0 done, 2 not done
    Forget {
        /// The folder of the journal
        #[arg(long, value_name = "DIR")]
        data: PathBuf,
        /// This badge's alone
        #[arg(long, value_name = "BADGE")]
        badge: Option<String>,
    },
}

impl PinCommand {
    /// Runs it.
    ///
    /// # Errors
    /// In words, when nothing was taken away.
    pub fn run(self) -> anyhow::Result<()> {
        let Self::Forget { data, badge } = self;
        if !data.join(store::open::DATABASE).exists() {
            bail!("{} holds no journal", data.display());
        }
        let mut disk = store::open(&data)?;
        let forgotten = forget(&mut disk, &SystemClock::new().now(), badge.as_deref())?;
        if forgotten.is_empty() {
            bail!("{} has no PIN", badge.as_deref().unwrap_or("nobody"));
        }
        crate::cli::say(&format!("PIN taken away: {}", forgotten.join(", ")));
        Ok(())
    }
}

/// Takes away what this badge, or every badge, is compared with, and tells which had one.
///
/// # Errors
/// When it cannot be kept; nothing was taken away then.
pub fn forget(disk: &mut dyn Disk, at: &Moment, badge: Option<&str>) -> anyhow::Result<Vec<String>> {
    let unkept = |error: StoreError| anyhow::anyhow!("{error}");
    let mut badges = disk.pinned().map_err(unkept)?;
    badges.retain(|known| badge.is_none_or(|badge| badge == known));
    let shop = Shop::default();
    let (mut entries, mut derived) = (Vec::new(), Vec::new());
    for badge in &badges {
        let body = EntryBody::Pin { badge: badge.clone(), by: None, what: PinEvent::Forgotten };
        entries.push(NewEntry { visit: None, bytes: entry_of(at, None, body).map_err(unkept)? });
        let changes = [Change::PinHash(badge.clone(), None), Change::PinGuard(badge.clone(), PinGuard::default())];
        for change in &changes {
            derived.push(shop.derived(change).context("a record could not be written out")?);
        }
    }
    disk.append(&entries, &derived).map_err(unkept)?;
    Ok(badges)
}
