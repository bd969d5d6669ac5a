//! What the guard knows.

use std::sync::Arc;

use super::attempts::Attempts;
use super::door::Door;
use super::hosts::Hosts;

/// Largest body of a posted form, in bytes.
pub(super) const BODY_LIMIT: usize = 1 << 20;

/// Largest body that a crew posts, in bytes.
pub(super) const CREW_BODY_LIMIT: usize = 16 << 10;
/// What one address may post at the work place within a quarter of an hour: a crew of phones behind one
/// address has room, a program that tries links has not.
const CREW_SENDINGS: usize = 30;

/// The rules by which requests are let in: set once at the start.
pub struct Guard {
    pub(super) secret: [u8; 32],
    pub(super) port: u16,
    pub(super) hosts: Hosts,
    pub(super) door: Option<Door>,
    pub(super) attempts: Attempts,
    /// Sendings of crews.
    pub(super) crews: Attempts,
    pub(crate) people: Arc<[String]>,
    pub(crate) bench: Arc<str>,
}

impl Guard {
    /// For this machine only, on `port`. The secret ties forms to their browser.
    pub fn local(secret: [u8; 32], port: u16) -> Self {
        Self {
            secret,
            port,
            hosts: Hosts::local(port),
            door: None,
            attempts: Attempts::default(),
            crews: Attempts::allowing(CREW_SENDINGS),
            people: Arc::from([]),
            bench: Arc::from(""),
        }
    }

    /// The names that can be picked at the bench.
    #[must_use]
    pub fn people(mut self, people: &[String]) -> Self {
        self.people = Arc::from(people);
        self
    }

    /// What this bench is called.
    #[must_use]
    pub fn bench(mut self, name: &str) -> Self {
        self.bench = Arc::from(name);
        self
    }

    /// Opens the server to the shop's network: under these names or addresses, to those who know
    /// the passphrase (its hash from [`super::hash_passphrase`]).
    #[must_use]
    pub fn lan(mut self, passphrase_hash: &str, hosts: &[String]) -> Self {
        for host in hosts {
            self.hosts.add(host, self.port);
        }
        self.door = Some(Door::new(passphrase_hash));
        self
    }

    /// Whether a passphrase is asked for.
    pub(crate) fn has_door(&self) -> bool {
        self.door.is_some()
    }
}
