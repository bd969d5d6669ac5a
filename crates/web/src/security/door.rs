//! The shop passphrase, and the browsers that have given it.

use std::collections::HashMap;
use std::fmt;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use argon2::Argon2;
use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use sha2::{Digest, Sha256};
use tokio::sync::Semaphore;

/// Shortest passphrase, in characters (OWASP ASVS 5.0, 6.2.1).
const SHORTEST: usize = 8;
/// Longest, in bytes: hashing more would only keep the server busy.
pub(super) const LONGEST: usize = 1024;
/// A browser that is quiet for this long must give the passphrase again: a shift and a half.
const IDLE: Duration = Duration::from_secs(12 * 3600);
/// A browser must give it again after this long in any case.
const LONGEST_STAY: Duration = Duration::from_secs(7 * 24 * 3600);

/// Why a passphrase cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PassphraseError {
    /// Fewer than 8 characters.
    TooShort,
    /// More than 1024 bytes.
    TooLong,
    /// The hash function failed.
    Hash,
}

impl fmt::Display for PassphraseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooShort => "a passphrase has at least 8 characters",
            Self::TooLong => "a passphrase has at most 1024 bytes",
            Self::Hash => "the passphrase could not be hashed",
        })
    }
}

impl std::error::Error for PassphraseError {}

/// The Argon2id hash of a passphrase, as a PHC string.
pub fn hash_passphrase(passphrase: &str) -> Result<String, PassphraseError> {
    if passphrase.chars().count() < SHORTEST {
        return Err(PassphraseError::TooShort);
    }
    if passphrase.len() > LONGEST {
        return Err(PassphraseError::TooLong);
    }
    Argon2::default()
        .hash_password(passphrase.as_bytes())
        .map(|hash| hash.to_string())
        .map_err(|_| PassphraseError::Hash)
}

struct Stay {
    since: Instant,
    last: Instant,
}

/// The passphrase's hash, and who is inside. Sessions are kept by their hash: what leaks from
/// memory opens nothing.
pub(super) struct Door {
    hash: String,
    inside: Mutex<HashMap<[u8; 32], Stay>>,
    /// Each hashing takes 19 MiB: two at a time.
    hashing: Semaphore,
}

impl Door {
    pub(super) fn new(hash: &str) -> Self {
        Self {
            hash: hash.to_owned(),
            inside: Mutex::default(),
            hashing: Semaphore::new(2),
        }
    }

    /// Whether `passphrase` is the shop's. Hashes away from the threads that answer others.
    pub(super) async fn opens(&self, passphrase: String) -> bool {
        if passphrase.len() > LONGEST {
            return false;
        }
        let Ok(_turn) = self.hashing.acquire().await else {
            return false;
        };
        let hash = self.hash.clone();
        let verify = move || {
            PasswordHash::new(&hash).is_ok_and(|hash| {
                Argon2::default()
                    .verify_password(passphrase.as_bytes(), &hash)
                    .is_ok()
            })
        };
        tokio::task::spawn_blocking(verify).await.unwrap_or(false)
    }

    /// Lets a session in.
    pub(super) fn admit(&self, session: &str, now: Instant) {
        let mut inside = self.inside.lock().unwrap_or_else(PoisonError::into_inner);
        inside.retain(|_, stay| stay.holds(now));
        inside.insert(
            key(session),
            Stay {
                since: now,
                last: now,
            },
        );
    }

    /// Sends a session out.
    pub(super) fn dismiss(&self, session: &str) {
        let mut inside = self.inside.lock().unwrap_or_else(PoisonError::into_inner);
        inside.remove(&key(session));
    }

    /// Whether a session is inside; seen now, it may stay.
    pub(super) fn knows(&self, session: &str, now: Instant) -> bool {
        let mut inside = self.inside.lock().unwrap_or_else(PoisonError::into_inner);
        match inside.get_mut(&key(session)) {
            Some(stay) if stay.holds(now) => {
                stay.last = now;
                true
            }
            _ => false,
        }
    }
}

impl Stay {
    fn holds(&self, now: Instant) -> bool {
        now.duration_since(self.last) < IDLE && now.duration_since(self.since) < LONGEST_STAY
    }
}

fn key(session: &str) -> [u8; 32] {
    Sha256::digest(session.as_bytes()).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stays_end() {
        let door = Door::new("");
        let start = Instant::now();
        door.admit("a", start);
        let mut now = start;
        while now - start < LONGEST_STAY {
            assert!(door.knows("a", now));
            now += IDLE / 2;
        }
        assert!(!door.knows("a", now), "the longest stay is over");

        door.admit("b", start);
        assert!(!door.knows("b", start + IDLE), "quiet for too long");
        door.admit("c", start);
        door.dismiss("c");
        assert!(!door.knows("c", start), "sent out");
        assert!(!door.knows("d", start), "never came");
    }

    #[test]
    fn hashes_are_salted_argon2id() {
        let hash = hash_passphrase("rivets and collars").expect("long enough");
        assert!(hash.starts_with("$argon2id$"));
        assert_ne!(Ok(hash), hash_passphrase("rivets and collars"));
        assert_eq!(hash_passphrase("seven77"), Err(PassphraseError::TooShort));
        assert_eq!(
            hash_passphrase(&"x".repeat(LONGEST + 1)),
            Err(PassphraseError::TooLong)
        );
    }
}
