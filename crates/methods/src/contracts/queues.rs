//! `erlang-b`, `erlang-c`

use calc::queue;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Positive, contract};

contract! {
    /// Benches, and jobs that go elsewhere if none is free.
    struct LossInput {
        /// Load, the jobs that would be at work at once.
        offered_load: Positive,
        /// Benches.
        servers: u64,
    }
}

contract! {
    /// How many go.
    struct LossOutput {
        /// Share of jobs that find no bench free.
        blocking: f64,
    }
}

/// The contract.
pub(crate) struct ErlangB;

impl Contract for ErlangB {
    const METHOD: Method = queue::LOSS;
    const SUMMARY: &'static str = "method-erlang-b";
    const FORMULA: &'static str = "B₀ = 1; B_c = a · B_(c−1) / (c + a · B_(c−1))";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("a", "offered_load"), ("c", "servers")];
    type In = LossInput;
    type Out = LossOutput;

    fn compute(input: &LossInput) -> Result<(LossOutput, Option<Working>), MethodError> {
        let (load, servers) = (input.offered_load.0, input.servers);
        let blocking = queue::blocking(load, servers)?;
        let working = queue::loss_working(load, servers, blocking);
        Ok((LossOutput { blocking }, Some(working)))
    }
}

contract! {
    /// Benches, and jobs that wait if none is free.
    struct WaitInput {
        /// Jobs that come per time.
        arrival_rate: Positive,
        /// Jobs that one bench does per time.
        service_rate: Positive,
        /// Benches.
        servers: u64,
    }
}

contract! {
    /// How long they wait.
    struct WaitOutput {
        /// Share of jobs that wait.
        wait_probability: f64,
        /// Mean wait of all jobs.
        wait_time: f64,
        /// Jobs that wait, on average.
        queue_length: f64,
        /// Mean time from coming to done.
        time_in_system: f64,
        /// Jobs that wait or are at work, on average.
        number_in_system: f64,
        /// Share of the time that a bench works.
        utilisation: f64,
        /// Share of the time without any job.
        empty_probability: f64,
    }
}

/// The contract.
pub(crate) struct ErlangC;

impl Contract for ErlangC {
    const METHOD: Method = queue::WAIT;
    const SUMMARY: &'static str = "method-erlang-c";
    const FORMULA: &'static str =
        "ρ = λ / (c · μ); C = B / (1 − ρ · (1 − B)); W = C / (c · μ − λ); L = λ · W";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("λ", "arrival_rate"),
        ("μ", "service_rate"),
        ("c", "servers"),
        ("a", "arrival_rate"),
    ];
    const ANSWERS: &'static [&'static str] = &["wait_time", "wait_probability"];
    type In = WaitInput;
    type Out = WaitOutput;

    fn compute(input: &WaitInput) -> Result<(WaitOutput, Option<Working>), MethodError> {
        let (arrival, service) = (input.arrival_rate.0, input.service_rate.0);
        let found = queue::queue(arrival, service, input.servers)?;
        let out = WaitOutput {
            wait_probability: found.wait_probability,
            wait_time: found.wait,
            queue_length: found.waiting,
            time_in_system: found.time,
            number_in_system: found.number,
            utilisation: found.utilisation,
            empty_probability: found.empty,
        };
        let working = queue::wait_working(arrival, service, input.servers, &found);
        Ok((out, Some(working)))
    }
}
