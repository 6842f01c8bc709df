//! The hub's interface for machines, under `/v1`, and what collectors and people look at beside it.

mod journal;
mod pairing;
pub mod problem;
mod shop;
mod watch;

use super::state::Hub;
use super::wire::BODY_BYTES_MOST;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Request};
use axum::http::StatusCode;
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::{get, post};
use problem::Refusal;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::timeout::TimeoutLayer;
use utoipa::OpenApi;
use utoipa::openapi::security::{HttpAuthScheme, HttpBuilder, SecurityScheme};

/// A request that has not been answered in this time is given up: a slow body is one of the reasons.
const ANSWER_MOST: Duration = Duration::from_secs(30);
/// What is not a push is short.
const SHORT_BODY_MOST: usize = 64 << 10;

/// The interface's description, generated from the handlers.
#[derive(OpenApi)]
#[openapi(
    info(
        title = "sparkout hub",
        license(name = "GPL-3.0-only"),
        description = "What the benches of a shop share. Every journal entry is stored once, in its station's order, \
                       and only where the station's signed head proves it."
    ),
    paths(
        pairing::pair,
        journal::state,
        journal::push,
        journal::pull,
        shop::shop,
        shop::units,
        shop::unit,
        shop::quarantine,
        shop::alarms,
        watch::events,
        watch::healthz,
        watch::metrics,
        watch::openapi
    ),
    modifiers(&Token)
)]
pub struct Description;

struct Token;

impl utoipa::Modify for Token {
    fn modify(&self, description: &mut utoipa::openapi::OpenApi) {
        let token = HttpBuilder::new().scheme(HttpAuthScheme::Bearer).description(Some("The station's token")).build();
        description.components.get_or_insert_default().add_security_scheme("station", SecurityScheme::Http(token));
    }
}

/// The description as text.
///
/// # Errors
/// When it cannot be put into words, which would be a fault of the library.
pub fn description() -> Result<String, serde_json::Error> {
    Description::openapi().to_pretty_json()
}

/// Every route, with its limits.
pub fn router(hub: Arc<Hub>) -> Router {
    let pushes = Router::new()
        .route("/v1/journal/{incarnation}", get(journal::state).post(journal::push))
        .layer(DefaultBodyLimit::max(BODY_BYTES_MOST));
    let others = Router::new()
        .route("/v1/pair", post(pairing::pair))
        .route("/v1/journal", get(journal::pull))
        .route("/v1/shop", get(shop::shop))
        .route("/v1/units", get(shop::units))
        .route("/v1/units/{tag}", get(shop::unit))
        .route("/v1/quarantine", get(shop::quarantine))
        .route("/v1/alarms", get(shop::alarms))
        .route("/v1/events", get(watch::events))
        .route("/healthz", get(watch::healthz))
        .route("/metrics", get(watch::metrics))
        .route("/openapi.json", get(watch::openapi))
        .layer(DefaultBodyLimit::max(SHORT_BODY_MOST));
    pushes
        .merge(others)
        .fallback(|| async { Refusal::nothing_here() })
        .method_not_allowed_fallback(|| async { Refusal::not_this_way() })
        .with_state(hub)
        .layer(CatchPanicLayer::custom(|_: Box<dyn std::any::Any + Send>| {
            tracing::error!("an answer was broken off by a fault of the program");
            axum::response::IntoResponse::into_response(Refusal::internal())
        }))
        .layer(CompressionLayer::new())
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, ANSWER_MOST))
        .layer(middleware::from_fn(told))
}

/// One line in the log for each answer: what was asked, never what was in it, since tokens and codes would be.
async fn told(request: Request, next: Next) -> Response {
    let (method, path, begun) = (request.method().clone(), request.uri().path().to_owned(), Instant::now());
    let response = next.run(request).await;
    let status = response.status();
    let ms = begun.elapsed().as_millis() as u64;
    if status.is_server_error() {
        tracing::error!(%method, path, status = status.as_u16(), ms, "answered");
    } else {
        tracing::debug!(%method, path, status = status.as_u16(), ms, "answered");
    }
    response
}

#[cfg(test)]
mod tests;
