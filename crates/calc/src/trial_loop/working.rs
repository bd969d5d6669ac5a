//! From the joints to the probability, in words.

use super::{METHOD, Next, Task};
use crate::Message;
use crate::working::Working;

/// The working of `next`, found for the last setting `at_mm` after `joints` joints.
pub fn working(task: &Task, at_mm: f64, joints: usize, next: &Next) -> Working {
    let (window, prior) = (&task.window, &task.prior);
    let belief = &next.belief;
    let known = prior.spread_dof == f64::INFINITY;
    let note = Message::new(if known {
        "note-spread-known"
    } else {
        "note-spread-learned"
    });
    let cost = Message::new("note-joint-cost").number("joints", task.joints_between, 0);
    Working::new(METHOD)
        .given("L", Message::new("given-lower"), window.lower_mm, 2, "mm")
        .given("U", Message::new("given-upper"), window.upper_mm, 2, "mm")
        .given(
            "b₀",
            Message::new("given-offset-before"),
            prior.offset_mm,
            2,
            "mm",
        )
        .given(
            "u₀",
            Message::new("given-offset-doubt"),
            prior.offset_sd_mm,
            2,
            "mm",
        )
        .given(
            "s₀",
            Message::new("given-spread-before"),
            prior.spread_mm,
            2,
            "mm",
        )
        .given("n", Message::new("given-joints"), joints as f64, 0, "")
        .given(
            "b",
            Message::new("given-offset-after"),
            belief.offset_mm(),
            3,
            "mm",
        )
        .given(
            "u_b",
            Message::new("given-offset-doubt-after"),
            belief.offset_sd_mm(),
            3,
            "mm",
        )
        .given(
            "σ",
            Message::new("given-spread-after"),
            belief.spread_mm(),
            3,
            "mm",
        )
        .given("x", Message::new("given-foretold"), at_mm, 2, "mm")
        .step("v", "x + b", at_mm + belief.offset_mm(), 3, "mm")
        .step(
            "s",
            "√(u_b² + σ²)",
            belief.offset_sd_mm().hypot(belief.spread_mm()),
            3,
            "mm",
        )
        .step("p", "Φ((U − v) / s) − Φ((L − v) / s)", next.inside, 4, "")
        .note(note)
        .note(cost)
}
