//! `sparkout hub`: the hub itself, and what is done at it.

use super::secrets::{CODE_OPEN_MS, CODE_TRIES, code_hash, new_code};
use super::sqlite::SqliteHub;
use super::state::Hub;
use super::store::HubStore;
use super::tls::Authority;
use super::{api, books, serve};
use crate::cli::say;
use crate::clock::{Clock, SystemClock};
use anyhow::{Context, bail};
use clap::{Args, Subcommand};
use std::fs::{self, File, TryLockError};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::{Arc, mpsc};
use tokio::net::TcpListener;
use tokio::sync::watch;

const LOCK: &str = "hub.lock";
/// Threads that answer; the database has threads of its own.
const WORKERS: usize = 2;

/// The hub that a shop's benches share. Exit codes: 0 stopped as told, 2 it could not be started.
#[derive(Debug, Args)]
pub struct HubCommand {
    /// The folder of the hub's database and certificate
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// Where it answers: TLS everywhere but on the machine's own loopback
    #[arg(long, value_name = "ADDR:PORT", default_value = "127.0.0.1:8443")]
    listen: SocketAddr,
    #[command(subcommand)]
    desk: Option<Desk>,
}

/// What is done at a hub that runs, or that does not.
#[derive(Debug, Subcommand)]
enum Desk {
    /// A code that pairs one kiosk, once, in the next ten minutes
    Code,
    /// The kiosks that were paired, and how far their journals have come
    Stations,
    /// Take a kiosk's pairing back
    Revoke {
        /// The station's id
        station: String,
    },
}

impl HubCommand {
    /// Runs it.
    ///
    /// # Errors
    /// In words.
    pub fn run(self) -> anyhow::Result<()> {
        fs::create_dir_all(&self.data).with_context(|| format!("{} cannot be made", self.data.display()))?;
        let store = open(&self.data)?;
        match &self.desk {
            None => serve_until_stopped(&self.data, self.listen, store),
            Some(Desk::Code) => tell_code(&self.data, &store),
            Some(Desk::Stations) => tell_stations(&store),
            Some(Desk::Revoke { station }) => {
                if !store.revoke(station, now_ms())? {
                    bail!("no kiosk with the id {station:?} was paired");
                }
                say("taken back");
                Ok(())
            }
        }
    }
}

fn open(folder: &Path) -> anyhow::Result<SqliteHub> {
    SqliteHub::open(folder).map_err(|error| anyhow::anyhow!("the hub's database: {error}: {}", error.detail()))
}

fn now_ms() -> i64 {
    SystemClock::new().now().wall.as_millisecond()
}

fn tell_code(folder: &Path, store: &SqliteHub) -> anyhow::Result<()> {
    let code = new_code().context("the system has no random numbers")?;
    store.open_code(code_hash(&code), now_ms().saturating_add(CODE_OPEN_MS), CODE_TRIES)?;
    say(&format!("code: {code}"));
    say(&format!("fingerprint: {}", Authority::of_folder(folder)?.fingerprint()));
    say("At the kiosk, within ten minutes:");
    say("  sparkout pair --data DIR --hub HOST:PORT --code CODE --fingerprint FINGERPRINT");
    Ok(())
}

fn tell_stations(store: &SqliteHub) -> anyhow::Result<()> {
    let logs = store.logs()?;
    for station in store.stations()? {
        let state = if station.revoked_ms.is_some() { "taken back" } else { "paired" };
        say(&format!("{}  {}  {state}", station.station, station.name));
        for log in logs.iter().filter(|log| log.log.station == station.station) {
            say(&format!("  {}  {} entries, root {}", log.log.incarnation, log.stored, log.root.short()));
        }
    }
    Ok(())
}

fn serve_until_stopped(folder: &Path, listen: SocketAddr, store: SqliteHub) -> anyhow::Result<()> {
    let _lock = lock(folder)?;
    let authority = Authority::of_folder(folder)?;
    let tls = if listen.ip().is_loopback() { None } else { Some(authority.server_config(listen.ip())?) };
    let (_, feed) = store.feed(u64::MAX, "", 1, 1)?;
    let store: Arc<dyn HubStore> = Arc::new(store);
    let clock: Arc<dyn Clock> = Arc::new(SystemClock::new());
    let (wake, woken) = mpsc::channel();
    let books = {
        let (store, clock) = (Arc::clone(&store), Arc::clone(&clock));
        let now_ms = move || clock.now().wall.as_millisecond();
        std::thread::Builder::new().name("books".to_owned()).spawn(move || books::run(&store, &woken, now_ms))?
    };
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(WORKERS).enable_all().build()?;
    let served = runtime.block_on(async {
        let listener = TcpListener::bind(listen).await.with_context(|| format!("{listen} cannot be listened on"))?;
        let (stop, stopping) = watch::channel(false);
        tokio::spawn(stop_on_signal(stop));
        let address = listener.local_addr()?;
        let hub = Arc::new(Hub::new(store, clock, stopping.clone(), wake));
        hub.announce(feed);
        let kind = if tls.is_some() { "https" } else { "http" };
        say(&format!("listening: {kind}://{address}"));
        say(&format!("fingerprint: {}", authority.fingerprint()));
        serve::serve(listener, tls, api::router(hub), stopping).await;
        anyhow::Ok(())
    });
    drop(runtime);
    if books.join().is_err() {
        tracing::error!("the thread that works out the records ended badly");
    }
    served?;
    tracing::info!("stopped");
    Ok(())
}

/// What a service manager and a person at the keyboard send.
async fn stop_on_signal(stop: watch::Sender<bool>) {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        match (signal(SignalKind::terminate()), signal(SignalKind::interrupt())) {
            (Ok(mut terminate), Ok(mut interrupt)) => {
                tokio::select! {
                    _ = terminate.recv() => {}
                    _ = interrupt.recv() => {}
                }
            }
            (Err(error), _) | (_, Err(error)) => {
                tracing::error!(%error, "signals are not heard; the hub can only be killed");
                return std::future::pending().await;
            }
        }
    }
    #[cfg(not(unix))]
    if let Err(error) = tokio::signal::ctrl_c().await {
        tracing::error!(%error, "the hub cannot be told to stop; it can only be killed");
        return std::future::pending().await;
    }
    stop.send_replace(true);
}

/// One hub on a folder at a time. The system's lock goes with the process, however that ends.
fn lock(folder: &Path) -> anyhow::Result<File> {
    let path = folder.join(LOCK);
    let file = File::options().create(true).truncate(false).write(true).open(&path);
    let file = file.with_context(|| format!("{} cannot be written", path.display()))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => bail!("another hub is running on {}", folder.display()),
        Err(TryLockError::Error(error)) => Err(error).with_context(|| format!("{} cannot be locked", path.display())),
    }
}
