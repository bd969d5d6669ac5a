//! What a phone set last, kept in the phone alone.

use axum::http::{HeaderMap, HeaderValue};

use super::cookies;

/// A season and its winter.
const KEPT_S: u32 = 400 * 24 * 3600;
/// Longest query that is kept or read.
const LONGEST: usize = 512;

/// The query that was kept.
pub(crate) fn last_setup(headers: &HeaderMap) -> Option<String> {
    let mut kept = cookies::all(headers, cookies::SETUP);
    let query = kept.find(|value| value.len() <= 3 * LONGEST);
    query.map(cookies::decoded)
}

/// What keeps `query` in the browser.
pub(crate) fn keep_setup(query: &str) -> HeaderValue {
    let query = Some(query).filter(|q| q.len() <= LONGEST);
    cookies::set(cookies::SETUP, query.unwrap_or_default(), Some(KEPT_S))
}
