//! Names of people: the only part of the record that can be erased.
//!
//! The logbook holds `hex(SHA-256(salt ‖ name))`. Without the salt the name cannot be found by
//! trying names, so erasing takes both away.

use std::collections::HashMap;

use sha2::{Digest, Sha256};
use shop::entry::PersonKey;
use shop::spelling::folded;
use uuid::Uuid;

use crate::chain::hex;
use crate::error::StoreError;
use crate::sqlite::Connection;

/// The key of the person `name`, if there is one.
///
/// # Errors
/// [`StoreError::NoName`] for an empty name.
pub(crate) async fn find(c: &mut Connection, name: &str) -> Result<Option<PersonKey>, StoreError> {
    let name = name.trim();
    if name.is_empty() {
        return Err(StoreError::NoName);
    }
    let key: Option<String> = sqlx::query_scalar("SELECT key FROM people WHERE name = $1")
        .bind(name)
        .fetch_optional(c)
        .await?;
    Ok(key.map(PersonKey))
}

/// The key of the person `name`, made if there is none.
pub(crate) async fn find_or_make(c: &mut Connection, name: &str) -> Result<PersonKey, StoreError> {
    if let Some(key) = find(c, name).await? {
        return Ok(key);
    }
    let name = name.trim();
    let salt = Uuid::new_v4().simple().to_string();
    let key = key_of(&salt, name);
    sqlx::query("INSERT INTO people (key, salt, name, folded) VALUES ($1, $2, $3, $4)")
        .bind(&key)
        .bind(&salt)
        .bind(name)
        .bind(folded(name))
        .execute(c)
        .await?;
    Ok(PersonKey(key))
}

/// Forgets a name for good.
pub(crate) async fn erase(c: &mut Connection, key: &PersonKey) -> Result<(), StoreError> {
    sqlx::query("UPDATE people SET salt = NULL, name = NULL, folded = NULL WHERE key = $1")
        .bind(&key.0)
        .execute(c)
        .await?;
    Ok(())
}

/// Every name that is known.
pub(crate) async fn names(c: &mut Connection) -> Result<HashMap<PersonKey, String>, StoreError> {
    let rows: Vec<(String, String)> =
        sqlx::query_as("SELECT key, name FROM people WHERE name IS NOT NULL")
            .fetch_all(c)
            .await?;
    Ok(rows
        .into_iter()
        .map(|(key, name)| (PersonKey(key), name))
        .collect())
}

fn key_of(salt: &str, name: &str) -> String {
    let mut hasher = Sha256::new();
    hasher.update(salt.as_bytes());
    hasher.update(name.as_bytes());
    hex(&hasher.finalize())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_the_hash_of_salt_and_name() {
        // FIPS 180-2, appendix B.1: SHA-256 of "abc".
        let published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(key_of("a", "bc"), published);
    }
}
