//! From a part's readings to its life, step by step.

use super::{Life, beyond};
use crate::Message;
use crate::units::Unit;
use crate::working::{Working, figures, places};

/// Pulls in which a rate is told.
const THOUSAND: f64 = 1000.0;

/// How `life` comes about, with sizes in `unit`; for a service after `service_in` pulls where one is named.
pub fn working(life: &Life, unit: Unit, service_in: Option<f64>) -> Working {
    let unit = unit.symbol();
    let few = |value: f64| figures(value, 4);
    let given = |what: &'static str| Message::new(what);
    let prior = life.prior;
    let (rate, rate_se) = (life.rate * THOUSAND, life.rate_se * THOUSAND);
    let has_prior = prior.rate_sd.is_finite();
    let mut w = Working::new(super::METHOD)
        .given(
            "r",
            given("given-wear-readings"),
            life.readings as f64,
            0,
            "",
        )
        .given(
            "N",
            given("given-wear-pulls"),
            life.pulls / THOUSAND,
            3,
            "thousand pulls",
        );
    if has_prior {
        let (b0, sb) = (prior.rate * THOUSAND, prior.rate_sd * THOUSAND);
        w = w
            .given("b₀", given("given-wear-rate-before"), b0, few(sb), unit)
            .given("s_b", given("given-wear-rate-doubt"), sb, few(sb), unit);
    }
    if prior.start_u > 0.0 {
        // Start and rate are found together: their sums say nothing to a reader.
        w = w
            .given("y₀", given("given-wear-start"), life.start, 4, unit)
            .given("b", given("given-wear-rate"), rate, few(rate), unit)
            .given(
                "u_b",
                given("given-wear-rate-se"),
                rate_se,
                few(rate_se),
                unit,
            );
    } else {
        let million = THOUSAND * THOUSAND;
        let (snn, sny) = (life.sums.0 / million, life.sums.1 / THOUSAND);
        let precision = 1.0 / (rate_se * rate_se);
        w = w
            .given(
                "y₀",
                given("given-wear-new"),
                prior.start,
                places(prior.start, 2),
                unit,
            )
            .given("S_nn", given("given-wear-snn"), snn, few(snn), "")
            .given("S_ny", given("given-wear-sny"), sny, few(sny), "");
        w = if has_prior {
            w.step("P_b", "1 / s_b² + S_nn", precision, few(precision), "")
                .step("b", "b₀ + S_ny / P_b", rate, few(rate), unit)
        } else {
            w.step("P_b", "S_nn", precision, few(precision), "").step(
                "b",
                "S_ny / P_b",
                rate,
                few(rate),
                unit,
            )
        };
        w = w.step("u_b", "1 / √P_b", rate_se, few(rate_se), unit);
    }
    let (now, now_u) = life.at(life.pulls);
    w = w.step("y_N", "y₀ + b · N", now, 3, unit);
    w = limits(w, life, unit, now_u);
    if let Some(service_in) = service_in {
        let (then, then_u) = life.at(life.pulls + service_in);
        w = w
            .given(
                "m",
                given("given-wear-service"),
                service_in / THOUSAND,
                3,
                "thousand pulls",
            )
            .step("y_m", "y₀ + b · (N + m)", then, 3, unit)
            .given(
                "u_m",
                given("given-wear-doubt-then"),
                then_u,
                few(then_u),
                unit,
            );
        w = chance(w, life, service_in);
    }
    notes(w, life)
}

fn limits(w: Working, life: &Life, unit: &'static str, now_u: f64) -> Working {
    let limit = |w: Working, symbol, what: &'static str, value: f64| {
        w.given(symbol, Message::new(what), value, places(value, 2), unit)
    };
    let left = life.left().unwrap_or(f64::INFINITY) / 1000.0;
    let w = w.given(
        "u_N",
        Message::new("given-wear-doubt-now"),
        now_u,
        figures(now_u, 4),
        unit,
    );
    match (life.limits.lower(), life.limits.upper()) {
        (Some(l), Some(u)) => {
            let w = limit(w, "L", "given-wear-lower", l);
            limit(w, "U", "given-wear-upper", u)
        }
        (one, other) => {
            let Some(value) = one.or(other) else {
                return w;
            };
            let w = limit(w, "L", "given-wear-limit", value);
            // Beyond its limit, or without wear to be seen, the ratio says nothing.
            if left > 0.0 && left.is_finite() {
                w.step("m_L", "(L − y₀) / b − N", left, 3, "thousand pulls")
            } else {
                w
            }
        }
    }
}

/// The probability after `service_in` pulls, from the last lines.
fn chance(w: Working, life: &Life, service_in: f64) -> Working {
    let (y, u) = life.at(life.pulls + service_in);
    let p = life.beyond_after(service_in);
    if life.newest_beyond > beyond(y, u, life.limits) {
        return w.given("p", Message::new("given-wear-newest"), p, 3, "");
    }
    let formula = match (life.limits.lower(), life.limits.upper()) {
        (None, Some(_)) => "Φ((y_m − L) / u_m)",
        (Some(_), None) => "Φ((L − y_m) / u_m)",
        _ => "Φ((y_m − U) / u_m) + Φ((L − y_m) / u_m)",
    };
    w.step("p", formula, p, 3, "")
}

fn notes(w: Working, life: &Life) -> Working {
    let w = w.note(Message::new("note-wear-line"));
    let w = if life.prior.rate_sd.is_finite() {
        w.note(Message::new("note-wear-prior"))
    } else {
        w
    };
    let w = if life.prior.start_u > 0.0 {
        w.note(Message::new("note-wear-from-reading"))
    } else {
        w
    };
    let (y, u) = life.at(life.pulls);
    if life.newest_beyond > beyond(y, u, life.limits) {
        w.note(Message::new("note-wear-newest"))
    } else if life.is_off_the_line() {
        w.note(Message::new("note-wear-misfit").number("off", life.misfit, 1))
    } else {
        w
    }
}
