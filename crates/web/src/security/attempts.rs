//! How often an address may try a passphrase, or send joints.

use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Wrong passphrases that one address may send within [`WINDOW`].
pub(super) const ALLOWED: usize = 5;
/// How long a wrong passphrase counts.
pub(super) const WINDOW: Duration = Duration::from_secs(15 * 60);
/// Addresses remembered at once; beyond it those longest quiet are forgotten.
const REMEMBERED: usize = 10_000;

/// Tries of late, by address.
pub(super) struct Attempts {
    allowed: usize,
    list: Mutex<HashMap<IpAddr, Vec<Instant>>>,
}

impl Default for Attempts {
    fn default() -> Self {
        Self::allowing(ALLOWED)
    }
}

impl Attempts {
    /// So many within [`WINDOW`].
    pub(super) fn allowing(allowed: usize) -> Self {
        Self {
            allowed,
            list: Mutex::default(),
        }
    }

    /// How long the address must wait; `None` if it may try, and the try counts at once: tries
    /// sent side by side cannot slip past the limit.
    pub(super) fn take(&self, from: IpAddr, now: Instant) -> Option<Duration> {
        let mut list = self.list.lock().unwrap_or_else(PoisonError::into_inner);
        let recent = |at: &Instant| now.duration_since(*at) < WINDOW;
        if list.len() >= REMEMBERED && !list.contains_key(&from) {
            list.retain(|_, tries| tries.last().is_some_and(recent));
            let quietest = list.iter().min_by_key(|(_, t)| t.last().copied());
            if list.len() >= REMEMBERED
                && let Some((&address, _)) = quietest
            {
                list.remove(&address);
            }
        }
        let tries = list.entry(from).or_default();
        tries.retain(recent);
        if tries.len() >= self.allowed {
            return tries.first().map(|at| WINDOW - now.duration_since(*at));
        }
        tries.push(now);
        None
    }

    /// Forgets an address that knew the passphrase.
    pub(super) fn forgive(&self, from: IpAddr) {
        self.list
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .remove(&from);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::Ipv4Addr;

    #[test]
    fn five_tries_then_a_wait() {
        let attempts = Attempts::default();
        let (one, other) = (IpAddr::from([10, 0, 0, 1]), IpAddr::from([10, 0, 0, 2]));
        let start = Instant::now();
        for _ in 0..ALLOWED {
            assert_eq!(attempts.take(one, start), None);
        }
        let minute = start + Duration::from_secs(60);
        assert_eq!(
            attempts.take(one, minute),
            Some(WINDOW - Duration::from_secs(60))
        );
        assert_eq!(attempts.take(other, minute), None);
        assert_eq!(attempts.take(one, start + WINDOW), None);
    }

    #[test]
    fn who_knows_the_passphrase_starts_afresh() {
        let attempts = Attempts::default();
        let one = IpAddr::from([10, 0, 0, 1]);
        let start = Instant::now();
        for _ in 0..ALLOWED {
            attempts.take(one, start);
        }
        attempts.forgive(one);
        assert_eq!(attempts.take(one, start), None);
    }

    #[test]
    fn memory_is_bounded() {
        let attempts = Attempts::default();
        let start = Instant::now();
        for n in 0..REMEMBERED as u32 + 50 {
            attempts.take(IpAddr::from(Ipv4Addr::from(n)), start);
        }
        assert_eq!(
            attempts.list.lock().expect("not poisoned").len(),
            REMEMBERED
        );
    }
}
