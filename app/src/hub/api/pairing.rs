//! Pairing: a one-time code becomes a token of this kiosk's own.

use super::problem::{Body, Refusal};
use crate::hub::secrets;
use crate::hub::state::Hub;
use crate::hub::store::{KnownStation, Pairing};
use crate::hub::wire::{PairReply, PairRequest, Problem};
use crate::store::keys::{is_signed_by, station_of};
use crate::store::prove::parse_key;
use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::witness;
use std::sync::Arc;

const NAME_MOST: usize = 60;

/// The station and the incarnation that a journal's key names; none where the name is not what the key makes it.
pub(super) fn origin_of(key: &NamedKey) -> Option<(String, String)> {
    let (station, incarnation) = key.name().strip_prefix("sparkout/")?.split_once('/')?;
    let is_its_own = station == station_of(key.public_key()) && is_incarnation(incarnation);
    is_its_own.then(|| (station.to_owned(), incarnation.to_owned()))
}

/// Whether this can be a file's id: 16 letters of base32.
pub(super) fn is_incarnation(text: &str) -> bool {
    text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_lowercase() || (b'2'..=b'7').contains(&byte))
}

/// Pairs a kiosk by a one-time code
#[utoipa::path(
    post,
    path = "/v1/pair",
    request_body = PairRequest,
    responses(
        (status = 200, description = "Paired", body = PairReply),
        (status = 400, description = "Not a key, not its head, or no name", body = Problem),
        (status = 403, description = "No such code is open", body = Problem),
        (status = 413, description = "Too long", body = Problem),
        (status = 415, description = "Not JSON", body = Problem),
        (status = 422, description = "Not these fields", body = Problem)
    )
)]
pub async fn pair(State(hub): State<Arc<Hub>>, Body(asked): Body<PairRequest>) -> Result<Json<PairReply>, Refusal> {
    let name = asked.name.trim().to_owned();
    if name.is_empty() || name.chars().count() > NAME_MOST || name.chars().any(char::is_control) {
        return Err(Refusal::form("a bench's name has 1 to 60 characters on one line"));
    }
    let key = parse_key(&asked.key).map_err(|error| Refusal::form(error.to_string()))?;
    let (station, _) =
        origin_of(&key).ok_or_else(|| Refusal::form("the key line names another station than its key"))?;
    witness::signed(&asked.head, &key, |text, signature| is_signed_by(key.public_key(), text, signature))
        .map_err(|alarm| Refusal::form(format!("the head that came with it: {alarm}")))?;
    let token = secrets::new_token().map_err(|error| {
        tracing::error!(%error, "no random numbers");
        Refusal::internal()
    })?;
    let pairing = Pairing {
        code_hash: secrets::code_hash(&asked.code),
        token_hash: secrets::token_hash(&token),
        station: KnownStation {
            station: station.clone(),
            name: name.clone(),
            public_key: *key.public_key(),
            paired_ms: hub.now_ms(),
            revoked_ms: None,
        },
    };
    if !hub.ask(move |store| store.pair(&pairing)).await? {
        hub.metrics.pairings_refused.inc();
        tracing::warn!(station, "a pairing code was refused");
        let message = "no such code is open; it may be used, too old, or closed after wrong tries: make a new one";
        return Err(Refusal::new(StatusCode::FORBIDDEN, "code", message));
    }
    tracing::info!(station, name, "paired");
    Ok(Json(PairReply { station, token }))
}
