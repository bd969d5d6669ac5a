//! The browser that asks.

use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::response::Response;

use crate::shell::{Page, internal};

/// One browser, and the name picked at the bench in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Visitor {
    /// Random name of the browser session.
    pub session: String,
    /// What each of its forms carries, so that no other site can send one.
    pub csrf_token: String,
    /// The name that entries carry: picked, not proved.
    pub who: Option<String>,
    /// Whether it may see the shop's pages.
    pub inside: bool,
}

impl<S: Send + Sync> FromRequestParts<S> for Visitor {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Response> {
        match parts.extensions.get::<Page>() {
            Some(page) => Ok(page.visitor.clone()),
            None => Err(internal("the guard does not stand before this route")),
        }
    }
}
