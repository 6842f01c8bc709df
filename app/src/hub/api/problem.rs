//! Refusals as answers: a status, a short name for machines, a sentence for people.

use crate::hub::secrets;
use crate::hub::state::Hub;
use crate::hub::store::{self, KnownStation};
use crate::hub::wire::Problem;
use crate::store::StoreError;
use axum::Json;
use axum::extract::rejection::{JsonRejection, PathRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::StatusCode;
use axum::http::header::{AUTHORIZATION, WWW_AUTHENTICATE};
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use serde::de::DeserializeOwned;
use std::sync::Arc;

/// Why something is not done.
#[derive(Debug)]
pub struct Refusal {
    status: StatusCode,
    problem: Problem,
}

impl Refusal {
    /// A refusal with a short name and a sentence.
    pub fn new(status: StatusCode, name: &str, message: impl Into<String>) -> Self {
        let problem = Problem { refused: name.to_owned(), message: message.into(), stored: None };
        Self { status, problem }
    }

    /// What was sent has not the form that it must have.
    pub fn form(message: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, "form", message)
    }

    /// A fault of the program.
    pub fn internal() -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, "fault", "the hub could not answer; its log says why")
    }

    /// A fault of the disk: the sender tries again later.
    pub fn store(error: &StoreError) -> Self {
        let status = match error {
            StoreError::Full { .. } => StatusCode::INSUFFICIENT_STORAGE,
            StoreError::Unwritable { .. } => StatusCode::SERVICE_UNAVAILABLE,
            StoreError::Corrupt { .. } | StoreError::Reload { .. } | StoreError::Other { .. } => {
                StatusCode::INTERNAL_SERVER_ERROR
            }
        };
        Self::new(status, "disk", format!("at the hub: {error}"))
    }

    /// No such address.
    pub fn nothing_here() -> Self {
        Self::new(StatusCode::NOT_FOUND, "not_found", "there is nothing here")
    }

    /// The address is there and is not asked so.
    pub fn not_this_way() -> Self {
        Self::new(StatusCode::METHOD_NOT_ALLOWED, "method", "this address does not take this method")
    }

    /// A push that was judged and not taken.
    pub fn push(refusal: &store::Refusal, stored: u64) -> Self {
        let status = match refusal {
            store::Refusal::Form { .. } => StatusCode::BAD_REQUEST,
            store::Refusal::Alarm(_)
            | store::Refusal::Clash { .. }
            | store::Refusal::NotCovered { .. }
            | store::Refusal::Gap { .. } => StatusCode::CONFLICT,
        };
        let problem =
            Problem { refused: refusal.name().to_owned(), message: refusal.to_string(), stored: Some(stored) };
        Self { status, problem }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let mut response = (self.status, Json(self.problem)).into_response();
        if self.status == StatusCode::UNAUTHORIZED {
            response.headers_mut().insert(WWW_AUTHENTICATE, axum::http::HeaderValue::from_static("Bearer"));
        }
        response
    }
}

impl From<JsonRejection> for Refusal {
    fn from(rejection: JsonRejection) -> Self {
        Self::new(rejection.status(), "form", rejection.body_text())
    }
}

impl From<QueryRejection> for Refusal {
    fn from(rejection: QueryRejection) -> Self {
        Self::new(rejection.status(), "form", rejection.body_text())
    }
}

impl From<PathRejection> for Refusal {
    fn from(rejection: PathRejection) -> Self {
        Self::new(rejection.status(), "form", rejection.body_text())
    }
}

/// A JSON body, refused in our own words.
pub struct Body<T>(pub T);

impl<T: DeserializeOwned> FromRequest<Arc<Hub>> for Body<T> {
    type Rejection = Refusal;

    async fn from_request(request: Request, hub: &Arc<Hub>) -> Result<Self, Refusal> {
        let Json(body) = Json::<T>::from_request(request, hub).await?;
        Ok(Self(body))
    }
}

/// A paired kiosk, known by its token.
pub struct Paired(pub KnownStation);

impl FromRequestParts<Arc<Hub>> for Paired {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, hub: &Arc<Hub>) -> Result<Self, Refusal> {
        let header = parts.headers.get(AUTHORIZATION).and_then(|value| value.to_str().ok());
        let token =
            header.and_then(|value| value.split_once(' ')).filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer"));
        let unknown = || {
            let message = "this station is not paired with this hub; pair it again with a new code";
            Refusal::new(StatusCode::UNAUTHORIZED, "not_paired", message)
        };
        let hash = secrets::token_hash(token.ok_or_else(unknown)?.1.trim());
        let known = hub.ask(move |store| store.station_by_token(hash)).await?.ok_or_else(unknown)?;
        if known.revoked_ms.is_some() {
            let message = "this station's pairing was taken back at the hub; pair it again with a new code";
            return Err(Refusal::new(StatusCode::FORBIDDEN, "revoked", message));
        }
        Ok(Self(known))
    }
}
