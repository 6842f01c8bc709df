//! The shop as it stands, worked out from every bench's journal.

use super::problem::{Paired, Refusal};
use crate::hub::state::Hub;
use crate::hub::store::{KnownLog, StationRecord};
use crate::hub::wire::{
    AlarmReply, OpenVisitReply, Problem, QuarantinedReply, ShopReply, StationJournal, StationReply, UnitReply,
    bytes_out,
};
use crate::kiosk::{OPEN_VISIT, OpenVisitCard, UNIT};
use axum::Json;
use axum::extract::rejection::PathRejection;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The most lines of a list of what went wrong: nobody reads more.
const LINES_MOST: usize = 200;

/// The benches, what is open, and how many units are on record
#[utoipa::path(
    get,
    path = "/v1/shop",
    security(("station" = [])),
    responses(
        (status = 200, description = "The shop now", body = ShopReply),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn shop(State(hub): State<Arc<Hub>>, _: Paired) -> Result<Json<ShopReply>, Refusal> {
    let (stations, logs, visits, units, feed) = hub
        .ask(|store| {
            let (_, feed) = store.feed(u64::MAX, "", 1, 1)?;
            Ok((store.stations()?, store.logs()?, store.records(OPEN_VISIT)?, store.records(UNIT)?, feed))
        })
        .await?;
    let stations = stations
        .into_iter()
        .map(|station| StationReply {
            journals: logs.iter().filter(|log| log.log.station == station.station).map(journal).collect(),
            station: station.station,
            name: station.name,
            paired_ms: station.paired_ms,
            revoked_ms: station.revoked_ms,
        })
        .collect();
    let open_visits = visits
        .into_iter()
        .filter_map(|record| {
            let card: OpenVisitCard = serde_json::from_str(&record.body).ok()?;
            Some(OpenVisitReply { station: record.station, visit: card.visit, tag: card.tag })
        })
        .collect();
    Ok(Json(ShopReply { stations, open_visits, units: newest(units).len() as u64, feed }))
}

fn journal(log: &KnownLog) -> StationJournal {
    StationJournal {
        incarnation: log.log.incarnation.clone(),
        stored: log.stored,
        vouched: log.vouched,
        root: log.root.short(),
        heard_ms: log.heard_ms,
        clock_off_ms: log.clock_off_ms,
    }
}

/// Of each key, the record that was changed last.
fn newest(records: Vec<StationRecord>) -> BTreeMap<String, StationRecord> {
    let mut newest: BTreeMap<String, StationRecord> = BTreeMap::new();
    for record in records {
        let known = newest.get(&record.key).map_or(0, |known| known.feed);
        if record.feed >= known {
            newest.insert(record.key.clone(), record);
        }
    }
    newest
}

fn unit_reply(record: StationRecord) -> Result<UnitReply, Refusal> {
    let unit = serde_json::from_str(&record.body).map_err(|error| {
        tracing::error!(%error, key = record.key, "a unit's card is not JSON");
        Refusal::internal()
    })?;
    Ok(UnitReply { station: record.station, feed: record.feed, unit })
}

/// Every unit on record
#[utoipa::path(
    get,
    path = "/v1/units",
    security(("station" = [])),
    responses(
        (status = 200, description = "The units, by tag; each as the entry says that changed it last", body = [UnitReply]),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn units(State(hub): State<Arc<Hub>>, _: Paired) -> Result<Json<Vec<UnitReply>>, Refusal> {
    let records = hub.ask(|store| store.records(UNIT)).await?;
    newest(records).into_values().map(unit_reply).collect::<Result<_, _>>().map(Json)
}

/// One unit
#[utoipa::path(
    get,
    path = "/v1/units/{tag}",
    params(("tag" = String, Path, description = "The unit's tag")),
    security(("station" = [])),
    responses(
        (status = 200, description = "The unit, as the entry says that changed it last", body = UnitReply),
        (status = 400, description = "Not a tag", body = Problem),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem),
        (status = 404, description = "No such unit", body = Problem)
    )
)]
pub async fn unit(
    State(hub): State<Arc<Hub>>,
    _: Paired,
    tag: Result<Path<String>, PathRejection>,
) -> Result<Json<UnitReply>, Refusal> {
    let Path(tag) = tag?;
    let records = hub.ask(|store| store.records(UNIT)).await?;
    let found = newest(records).remove(&tag);
    let missing = || Refusal::new(StatusCode::NOT_FOUND, "not_found", "no bench has told of such a unit");
    unit_reply(found.ok_or_else(missing)?).map(Json)
}

/// What was refused or not understood, newest first
#[utoipa::path(
    get,
    path = "/v1/quarantine",
    security(("station" = [])),
    responses(
        (status = 200, description = "The newest 200", body = [QuarantinedReply]),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn quarantine(State(hub): State<Arc<Hub>>, _: Paired) -> Result<Json<Vec<QuarantinedReply>>, Refusal> {
    let found = hub.ask(|store| store.quarantine(LINES_MOST)).await?;
    let reply = found.into_iter().map(|held| QuarantinedReply {
        station: held.log.station,
        incarnation: held.log.incarnation,
        seq: held.seq,
        bytes: bytes_out(&held.bytes),
        reason: held.reason,
        at_ms: held.at_ms,
    });
    Ok(Json(reply.collect()))
}

/// The alarms about journals, newest first
#[utoipa::path(
    get,
    path = "/v1/alarms",
    security(("station" = [])),
    responses(
        (status = 200, description = "The newest 200", body = [AlarmReply]),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn alarms(State(hub): State<Arc<Hub>>, _: Paired) -> Result<Json<Vec<AlarmReply>>, Refusal> {
    let found = hub.ask(|store| store.alarms(LINES_MOST)).await?;
    let reply = found.into_iter().map(|raised| AlarmReply {
        station: raised.log.station,
        incarnation: raised.log.incarnation,
        alarm: raised.alarm,
        head: raised.note,
        first_ms: raised.first_ms,
        last_ms: raised.last_ms,
        times: raised.times,
    });
    Ok(Json(reply.collect()))
}
