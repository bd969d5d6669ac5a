//! What every answer tells the browser, errors included.

use axum::http::header::{self, HeaderName, HeaderValue};
use axum::response::Response;

/// Nothing from elsewhere, nothing inline, in nobody's frame.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; \
    img-src 'self' data:; font-src 'self'; form-action 'self'; base-uri 'none'; \
    frame-ancestors 'none'; connect-src 'self'";

const ALWAYS: &[(&str, &str)] = &[
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    // Not `no-referrer`: browsers would then send `Origin: null` with our own forms.
    ("referrer-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    (
        "permissions-policy",
        "camera=(self), geolocation=(), microphone=(), payment=(), usb=(), serial=()",
    ),
];

/// Puts the headers on. Pages are not kept by the browser: they show the shop's record.
pub(super) async fn harden(mut answer: Response) -> Response {
    let own_policy = answer
        .headers()
        .get(header::CONTENT_SECURITY_POLICY)
        .cloned();
    for (name, value) in ALWAYS {
        answer.headers_mut().insert(
            HeaderName::from_static(name),
            HeaderValue::from_static(value),
        );
    }
    // A file that somebody sent is given out with a stricter one.
    if let Some(policy) = own_policy {
        let headers = answer.headers_mut();
        headers.insert(header::CONTENT_SECURITY_POLICY, policy);
    }
    answer
        .headers_mut()
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    answer
}
