//! Jobs and benches: how often none is free, and how long a job waits.
//!
//! # Formula
//! a = λ / μ. Erlang B, who finds none free goes: B₀ = 1, B_c = a · B_{c−1} / (c + a · B_{c−1}). Erlang C, who finds none free
//! waits: ρ = a / c, C = B / (1 − ρ · (1 − B)); wait C / (c · μ − λ), waiting λ times that, in the shop 1 / μ and a more. None at
//! all: p₀ = 1 / (aᶜ / c! · (1 / B + ρ / (1 − ρ))).
//!
//! # Validity
//! Jobs come by chance at a steady rate; for Erlang C the work on one varies exponentially; benches alike, first come first
//! served.
//!
//! # Source
//! Erlang (1917); any textbook on queues (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, figures};
use cdflib::special::gamma_log;

/// None free, gone.
pub const LOSS: Method = Method {
    name: "erlang-b",
    version: 1,
    source: "Erlang (1917), recursion (from memory)",
};

/// None free, waits.
pub const WAIT: Method = Method {
    name: "erlang-c",
    version: 1,
    source: "Erlang (1917), M/M/c queue (from memory)",
};

/// Most benches.
const MOST: f64 = 1e6;

/// The share of jobs that find none of `servers` free, at a load of `load` jobs at once, and go.
///
/// # Errors
/// A load that is not above 0, no server or more than a million.
pub fn blocking(load: f64, servers: u64) -> Result<f64, CalcError> {
    let a = within("a", load, 1e-100, 1e9)?;
    within("c", servers as f64, 1.0, MOST)?;
    let mut b = 1.0;
    for c in 1..=servers {
        b = a * b / (c as f64 + a * b);
    }
    Ok(b)
}

/// A shop with benches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Queue {
    /// Share of the time that a bench works.
    pub utilisation: f64,
    /// Share of jobs that wait.
    pub wait_probability: f64,
    /// Mean wait.
    pub wait: f64,
    /// Jobs that wait, on average.
    pub waiting: f64,
    /// Mean time in the shop.
    pub time: f64,
    /// Jobs in the shop, on average.
    pub number: f64,
    /// Share of the time without any job.
    pub empty: f64,
}

/// The queue before `servers`, jobs coming at `arrival` and one bench doing `service` per time.
///
/// # Errors
/// A rate that is not above 0, no server or more than a million, more coming than can be done.
pub fn queue(arrival: f64, service: f64, servers: u64) -> Result<Queue, CalcError> {
    let mu = within("μ", service, 1e-60, 1e60)?;
    let c = within("c", servers as f64, 1.0, MOST)?;
    let all = c * mu;
    let lambda = within("λ", arrival, 1e-60, all * (1.0 - 1e-12))?;
    let a = within("λ", lambda / mu, 1e-100, MOST)?;
    let b = blocking(a, servers)?;
    let rho = a / c;
    let wait_probability = b / (1.0 - rho * (1.0 - b));
    let wait = wait_probability / (all - lambda);
    let log_term = c * a.ln() - gamma_log(c + 1.0);
    let log_rest = if b > 0.0 {
        (1.0 / b + rho / (1.0 - rho)).ln()
    } else {
        // So few find none free that the sum is eᵃ.
        a - log_term
    };
    Ok(Queue {
        utilisation: rho,
        wait_probability,
        wait,
        waiting: lambda * wait,
        time: wait + 1.0 / mu,
        number: lambda * wait + a,
        empty: (-log_term - log_rest).exp().min(1.0),
    })
}

/// From the load to the share.
pub fn loss_working(load: f64, servers: u64, found: f64) -> Working {
    Working::new(LOSS)
        .given(
            "a",
            Message::new("given-offered-load"),
            load,
            figures(load, 6),
            "",
        )
        .given("c", Message::new("given-servers"), servers as f64, 0, "")
        .step("B", "(a^c / c!) / Σ (a^k / k!), k = 0 … c", found, 5, "")
}

/// From the rates to the wait.
pub fn wait_working(arrival: f64, service: f64, servers: u64, found: &Queue) -> Working {
    let few = |x: f64| figures(x, 5);
    Working::new(WAIT)
        .given(
            "λ",
            Message::new("given-arrival-rate"),
            arrival,
            few(arrival),
            "",
        )
        .given(
            "μ",
            Message::new("given-service-rate"),
            service,
            few(service),
            "",
        )
        .given("c", Message::new("given-servers"), servers as f64, 0, "")
        .step("ρ", "λ / (c · μ)", found.utilisation, 4, "")
        .step("C", "B / (1 − ρ · (1 − B))", found.wait_probability, 4, "")
        .step("W", "C / (c · μ − λ)", found.wait, few(found.wait), "")
        .step("L", "λ · W", found.waiting, few(found.waiting), "")
        .note(Message::new("note-queue"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        // a = 1, two benches: (1/2) / (1 + 1 + 1/2) = 0.2.
        assert!((blocking(1.0, 2).expect("good") - 0.2).abs() < 1e-15);
        // One bench at 0.9: waits 0.9, mean wait 9, 8.1 waiting, empty 0.1.
        let one = queue(0.9, 1.0, 1).expect("good");
        for (found, wanted) in [
            (one.wait_probability, 0.9),
            (one.wait, 9.0),
            (one.waiting, 8.1),
            (one.number, 9.0),
            (one.empty, 0.1),
        ] {
            assert!((found - wanted).abs() < 1e-12, "{one:?}");
        }
    }

    #[test]
    fn refusals() {
        for load in [0.0, -1.0, f64::NAN] {
            assert!(blocking(load, 2).is_err());
        }
        assert!(blocking(1.0, 0).is_err() && blocking(1.0, u64::MAX).is_err());
        assert!(queue(5.0, 1.0, 4).is_err() && queue(4.0, 1.0, 4).is_err());
        assert!(queue(0.0, 1.0, 1).is_err() && queue(1.0, f64::INFINITY, 1).is_err());
    }

    proptest! {
        #[test]
        fn another_bench_helps(a in 0.1..30.0f64, extra in 1u64..20) {
            let c = a.ceil() as u64 + extra;
            let (here, more) = (queue(a, 1.0, c).expect("good"), queue(a, 1.0, c + 1).expect("good"));
            prop_assert!(more.wait < here.wait);
            prop_assert!(blocking(a, c + 1).expect("good") < blocking(a, c).expect("good"));
            // Where it is seldom full it is empty as often as without a limit, e⁻ᵃ.
            prop_assert!(here.empty <= (-a).exp() * (1.0 + 1e-9));
        }
    }
}
