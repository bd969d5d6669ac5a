//! Random session names, and the token that ties a form to its session.

use hmac::{Hmac, KeyInit, Mac};
use sha2::{Digest, Sha256};
use uuid::Uuid;

/// Length of a session name: 64 hexadecimal digits, 244 of their 256 bits random.
const SESSION_LENGTH: usize = 64;

/// A new secret for a server. Keep it with the store, so that forms that were open when the
/// program stopped can still be sent when it runs again.
pub fn fresh_secret() -> [u8; 32] {
    Sha256::digest(fresh_session()).into()
}

/// A new session name.
pub(super) fn fresh_session() -> String {
    format!("{}{}", Uuid::new_v4().simple(), Uuid::new_v4().simple())
}

/// Whether a cookie's value has the form of a session name.
pub(super) fn is_session(text: &str) -> bool {
    text.len() == SESSION_LENGTH && text.bytes().all(|b| b.is_ascii_hexdigit())
}

/// The form token of a session: HMAC-SHA-256 of its name under the server's secret.
pub(super) fn token(secret: &[u8; 32], session: &str) -> String {
    hex(&mac(secret, session).finalize().into_bytes())
}

/// Whether `token` is the session's own, compared in constant time.
pub(super) fn matches(secret: &[u8; 32], session: &str, token: &str) -> bool {
    let Some(bytes) = unhex(token) else {
        return false;
    };
    mac(secret, session).verify_slice(&bytes).is_ok()
}

fn mac(secret: &[u8; 32], session: &str) -> Hmac<Sha256> {
    // A key shorter than the hash's block is padded with zeros to it (RFC 2104).
    let mut key = [0; 64];
    key[..secret.len()].copy_from_slice(secret);
    let mut mac = Hmac::<Sha256>::new(&key.into());
    // The label keeps other uses of the secret apart.
    mac.update(b"setwright form ");
    mac.update(session.as_bytes());
    mac
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn unhex(text: &str) -> Option<Vec<u8>> {
    if text.len() != 64 || !text.is_ascii() {
        return None;
    }
    (0..text.len())
        .step_by(2)
        .map(|at| u8::from_str_radix(&text[at..at + 2], 16).ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_fits_its_session_and_server_only() {
        let (secret, session) = (fresh_secret(), fresh_session());
        let own = token(&secret, &session);
        assert!(is_session(&session));
        assert!(matches(&secret, &session, &own));
        assert!(!matches(&secret, &fresh_session(), &own));
        assert!(!matches(&fresh_secret(), &session, &own));
        for wrong in ["", "é", &own[..62], &session, &own.replace(&own[..1], "g")] {
            assert!(!matches(&secret, &session, wrong), "{wrong}");
        }
    }

    #[test]
    fn names_are_not_repeated() {
        assert_ne!(fresh_session(), fresh_session());
        assert_ne!(fresh_secret(), fresh_secret());
    }
}
