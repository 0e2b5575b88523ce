//! What a request of the mirror names, and how it is refused: in JSON, with the page's own sentence.

use super::FORM;
use crate::app::App;
use crate::refusal::Refusal;
use axum::Json;
use axum::extract::{FromRequestParts, Path, Query};
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use schemars::JsonSchema;
use serde::Serialize;
use serde::de::DeserializeOwned;
use witnessmark_store::StoreError;

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RefusedJson {
    /// The version of this form.
    pub form: u32,
    /// What happened and what to do, in sentences.
    pub says: String,
}

/// A refusal that a program reads.
#[derive(Debug)]
pub(super) struct Refused(Refusal);

impl From<Refusal> for Refused {
    fn from(refusal: Refusal) -> Self {
        Refused(refusal)
    }
}

impl From<StoreError> for Refused {
    fn from(error: StoreError) -> Self {
        Refused(error.into())
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let status = self.0.status();
        if status.is_server_error() {
            eprintln!("web: {:?}", self.0);
        }
        (status, Json(RefusedJson { form: FORM, says: self.0.sentence() })).into_response()
    }
}

/// The name of a build, as it stands in the address.
#[derive(Debug)]
pub(super) struct Id(pub(super) String);

impl FromRequestParts<App> for Id {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Refused> {
        // An address that is no text names no build.
        let Path(id) = Path::from_request_parts(parts, app).await.map_err(|_| Refusal::NoSuchPage)?;
        Ok(Id(id))
    }
}

/// What stands behind the question mark.
#[derive(Debug)]
pub(super) struct Asking<T>(pub(super) T);

impl<T: DeserializeOwned> FromRequestParts<App> for Asking<T> {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Refused> {
        match Query::from_request_parts(parts, app).await {
            Ok(Query(asked)) => Ok(Asking(asked)),
            Err(error) => Err(Refusal::Incomplete(format!(
                "What stands behind the question mark was not understood: {}.",
                cause(&error)
            ))
            .into()),
        }
    }
}

/// The innermost cause: what surrounds it repeats that a query could not be read.
fn cause(error: &dyn std::error::Error) -> String {
    match error.source() {
        Some(inner) => cause(inner),
        None => error.to_string().chars().filter(|sign| !sign.is_control()).collect(),
    }
}
