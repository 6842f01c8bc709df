//! What is looked at from outside: whether the hub is well, what it counts, its description, and what is new.

use super::problem::{Paired, Refusal};
use crate::hub::metrics;
use crate::hub::state::Hub;
use crate::hub::wire::Problem;
use axum::extract::State;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::Stream;
use std::convert::Infallible;
use std::sync::Arc;

/// Where the feed ends, whenever it has grown: a stream that ends when the hub stops
#[utoipa::path(
    get,
    path = "/v1/events",
    security(("station" = [])),
    responses(
        (status = 200, description = "An event `feed` with the newest place in the feed", body = String,
         content_type = "text/event-stream"),
        (status = 401, description = "Not paired", body = Problem),
        (status = 403, description = "The pairing was taken back", body = Problem)
    )
)]
pub async fn events(
    State(hub): State<Arc<Hub>>,
    _: Paired,
) -> Sse<impl Stream<Item = Result<Event, Infallible>> + use<>> {
    let mut news = hub.news.subscribe();
    news.mark_changed();
    let stopping = hub.stopping.clone();
    let stream = futures_util::stream::unfold((news, stopping), |(mut news, mut stopping)| async move {
        // An error of either means that the hub is going.
        tokio::select! {
            changed = news.changed() => changed.ok()?,
            _ = stopping.wait_for(|stop| *stop) => return None,
        }
        let feed = *news.borrow_and_update();
        Some((Ok(Event::default().event("feed").data(feed.to_string())), (news, stopping)))
    });
    Sse::new(stream).keep_alive(KeepAlive::default())
}

/// Whether the hub and its database answer
#[utoipa::path(
    get,
    path = "/healthz",
    responses(
        (status = 200, description = "Both answer", body = String),
        (status = 503, description = "The database does not", body = Problem)
    )
)]
pub async fn healthz(State(hub): State<Arc<Hub>>) -> Result<&'static str, Refusal> {
    hub.ask(|store| store.stations().map(drop)).await?;
    Ok("well\n")
}

/// What the hub counts, as OpenMetrics text
#[utoipa::path(
    get,
    path = "/metrics",
    responses((status = 200, description = "The counters", body = String, content_type = "application/openmetrics-text"))
)]
pub async fn metrics(State(hub): State<Arc<Hub>>) -> Result<impl IntoResponse, Refusal> {
    let text = hub.metrics.text().map_err(|_| Refusal::internal())?;
    Ok(([(CONTENT_TYPE, metrics::CONTENT_TYPE)], text))
}

/// This description
#[utoipa::path(
    get,
    path = "/openapi.json",
    responses((status = 200, description = "The description", body = Object))
)]
pub async fn openapi() -> Result<impl IntoResponse, Refusal> {
    let text = super::description().map_err(|_| Refusal::internal())?;
    Ok(([(CONTENT_TYPE, "application/json")], text))
}
