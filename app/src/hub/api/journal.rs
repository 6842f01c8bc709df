//! Journals pushed by their stations, and pulled by the others.

use super::pairing::is_incarnation;
use super::problem::{Body, Paired, Refusal};
use crate::hub::metrics::Why;
use crate::hub::rules::Offer;
use crate::hub::state::Hub;
use crate::hub::store::{KnownStation, LogName};
use crate::hub::wire::{
    BATCH_BYTES_MOST, ENTRIES_MOST, JournalState, Problem, PullReply, PulledEntry, PushReply, PushRequest, bytes_in,
    bytes_out, hashes_in,
};
use axum::Json;
use axum::extract::rejection::{PathRejection, QueryRejection};
use axum::extract::{Path, Query, State};
use serde::Deserialize;
use sparkout_core::journal::checkpoint::NamedKey;
use std::sync::Arc;
use utoipa::IntoParams;

/// A proof has at most two hashes for each bit of a size.
const PROOF_MOST: usize = 128;

fn log_of(station: &KnownStation, incarnation: Result<Path<String>, PathRejection>) -> Result<LogName, Refusal> {
    let Path(incarnation) = incarnation?;
    if !is_incarnation(&incarnation) {
        return Err(Refusal::form("an incarnation has 16 letters of base32"));
    }
    Ok(LogName { station: station.station.clone(), incarnation })
}

/// What is stored of one of this station's journals
#[utoipa::path(
    get,
    path = "/v1/journal/{incarnation}",
    params(("incarnation" = String, Path, description = "The file's id, 16 letters", pattern = "^[a-z2-7]{16}$")),
    security(("station" = [])),
    responses(
        (status = 200, description = "What is stored; noughts for a journal never heard of", body = JournalState),
        (status = 400, description = "Not an incarnation", body = Problem),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn state(
    State(hub): State<Arc<Hub>>,
    Paired(station): Paired,
    incarnation: Result<Path<String>, PathRejection>,
) -> Result<Json<JournalState>, Refusal> {
    let log = log_of(&station, incarnation)?;
    let state = hub.ask(move |store| store.log(&log)).await?;
    let vouched = state.vouched.map_or(0, |head| head.size);
    Ok(Json(JournalState { stored: state.tree.size(), vouched }))
}

/// Stores entries of one of this station's journals, in order
#[utoipa::path(
    post,
    path = "/v1/journal/{incarnation}",
    params(("incarnation" = String, Path, description = "The file's id, 16 letters", pattern = "^[a-z2-7]{16}$")),
    request_body = PushRequest,
    security(("station" = [])),
    responses(
        (status = 200, description = "What is stored now; entries offered again count as stored", body = PushReply),
        (status = 400, description = "Not base64, or no entry that can be", body = Problem),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem),
        (status = 409, description = "Nothing was stored: `cut`, `forked`, `rewritten`, `not_signed`, `other_log`, \
                                      `clash`, `not_covered` (each an alarm at the hub), or `gap`", body = Problem),
        (status = 413, description = "Too much at once", body = Problem),
        (status = 415, description = "Not JSON", body = Problem),
        (status = 422, description = "Not these fields", body = Problem)
    )
)]
pub async fn push(
    State(hub): State<Arc<Hub>>,
    Paired(station): Paired,
    incarnation: Result<Path<String>, PathRejection>,
    Body(pushed): Body<PushRequest>,
) -> Result<Json<PushReply>, Refusal> {
    let log = log_of(&station, incarnation)?;
    let now_ms = hub.now_ms();
    let offer = offer(&station, &log, pushed, now_ms)?;
    let asked = log.clone();
    let (outcome, held) = hub
        .ask(move |store| {
            let offered = (offer.from, offer.entries.len() as u64);
            let mut held = Vec::new();
            let outcome = store.push(&asked, offered, now_ms, &mut |state, known| {
                let growth = offer.judge(state, known)?;
                held = growth.entries.iter().filter(|entry| entry.held.is_some()).map(|entry| entry.seq).collect();
                Ok(growth)
            })?;
            let outcome = match outcome {
                Ok(pushed) => Ok(pushed),
                Err(refusal) => Err((refusal, store.log(&asked)?.tree.size())),
            };
            Ok((outcome, held))
        })
        .await?;
    match outcome {
        Ok(pushed) => {
            hub.metrics.pushes.inc();
            hub.metrics.entries.inc_by(pushed.new);
            if pushed.new > 0 {
                hub.announce(pushed.feed);
            }
            let (stored, new, vouched) = (pushed.stored, pushed.new, pushed.vouched);
            Ok(Json(PushReply { stored, new, vouched, quarantined: held }))
        }
        Err((refusal, stored)) => {
            hub.metrics.refusals.get_or_create(&Why { refused: refusal.name() }).inc();
            let LogName { station, incarnation } = &log;
            if refusal.is_alarm() {
                tracing::error!(station, incarnation, alarm = %refusal, "a push was refused");
            } else {
                tracing::info!(station, incarnation, reason = %refusal, "a push was refused");
            }
            Err(Refusal::push(&refusal, stored))
        }
    }
}

fn offer(station: &KnownStation, log: &LogName, pushed: PushRequest, now_ms: i64) -> Result<Offer, Refusal> {
    let proofs = [&pushed.growth, &pushed.covered];
    if pushed.entries.len() > ENTRIES_MOST || proofs.iter().any(|proof| proof.len() > PROOF_MOST) {
        return Err(Refusal::form(format!("at most {ENTRIES_MOST} entries, and {PROOF_MOST} hashes to a proof")));
    }
    let origin = format!("sparkout/{}/{}", log.station, log.incarnation);
    let key = NamedKey::new(&origin, station.public_key).map_err(|error| Refusal::form(error.to_string()))?;
    let hashes = |texts: &[String]| hashes_in(texts).ok_or_else(|| Refusal::form("a hash is 32 bytes in base64"));
    let entries: Option<Vec<_>> = pushed.entries.iter().map(|text| bytes_in(text)).collect();
    Ok(Offer {
        key,
        growth: hashes(&pushed.growth)?,
        covered: hashes(&pushed.covered)?,
        entries: entries.ok_or_else(|| Refusal::form("an entry is not base64"))?,
        from: pushed.from,
        note: pushed.head,
        clock_off_ms: pushed.clock_ms.map(|clock| clock.saturating_sub(now_ms)),
    })
}

/// From where to read, and how much.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct PullQuery {
    /// The last place in the feed that was read; 0 at first
    #[serde(default)]
    after: u64,
    /// The most entries, 1 to 1000
    #[serde(default = "entries_most")]
    #[param(minimum = 1, maximum = 1000)]
    most: usize,
}

const fn entries_most() -> usize {
    ENTRIES_MOST
}

/// Entries of the other stations, in the order of the feed
#[utoipa::path(
    get,
    path = "/v1/journal",
    params(PullQuery),
    security(("station" = [])),
    responses(
        (status = 200, description = "Entries behind that place, and where to go on", body = PullReply),
        (status = 400, description = "Not numbers", body = Problem),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn pull(
    State(hub): State<Arc<Hub>>,
    Paired(station): Paired,
    query: Result<Query<PullQuery>, QueryRejection>,
) -> Result<Json<PullReply>, Refusal> {
    let Query(PullQuery { after, most }) = query?;
    if !(1..=ENTRIES_MOST).contains(&most) {
        return Err(Refusal::form(format!("`most` is 1 to {ENTRIES_MOST}")));
    }
    let (entries, next) = hub.ask(move |store| store.feed(after, &station.station, most, BATCH_BYTES_MOST)).await?;
    hub.metrics.pulled.inc_by(entries.len() as u64);
    let entries = entries
        .into_iter()
        .map(|entry| PulledEntry {
            station: entry.log.station,
            incarnation: entry.log.incarnation,
            seq: entry.seq,
            bytes: bytes_out(&entry.bytes),
        })
        .collect();
    Ok(Json(PullReply { entries, next }))
}
