//! The plan, and what it lets through.

use calc::operating_characteristic::{Model, Plan, accepts, working};
use calc::sampling_tables::{letter, letter_working, plan, plan_working};
use calc::working::{figures, fixed};
use calc::{Message, proportion};
use maud::{Markup, PreEscaped, html};
use paper::chart::{OperatingCurve, operating_curve};

use super::question::{Asked, limit_text};
use crate::shell::Page;
use crate::show;

/// Points of the curve.
const POINTS: u32 = 80;

/// The plan with its curve.
pub fn answer(p: &Page, asked: &Asked) -> Markup {
    let found = letter(asked.lot, asked.level);
    let found = found.and_then(|(letter, sample)| {
        let (plan, at) = plan(letter, asked.aql_pct)?;
        Ok((letter, sample, plan, at))
    });
    let (letter, sample, plan, at) = match found {
        Ok(found) => found,
        Err(error) => return html! { p.warn { (p.say(&error.message())) } },
    };
    // A plan as large as the lot looks at all of it: where the look destroys, no joint would be left.
    let is_all = plan.sample >= asked.lot;
    if is_all && asked.destroys() {
        let none = Message::new("lot-plan-none")
            .with("lot", p.words.count(asked.lot))
            .with("sample", p.words.count(plan.sample))
            .with("aql", limit_text(asked.aql_pct));
        return html! { p.warn { (p.say(&none)) } };
    }
    let how_many = if is_all {
        Message::new("lot-plan-all").with("lot", p.words.count(asked.lot))
    } else {
        Message::new("lot-plan")
            .with("sample", p.words.count(plan.sample))
            .with("lot", p.words.count(asked.lot))
    };
    let accept = Message::new("lot-accept")
        .with("accept", plan.accept)
        .with("reject", plan.accept + 1);
    let table = if letter == at {
        Message::new("lot-letter").with("letter", letter.to_string())
    } else {
        Message::new("lot-letter-moved")
            .with("letter", letter.to_string())
            .with("to", at.to_string())
    };
    html! {
        div.answer {
            p.big { (p.say(&how_many)) }
            // Whoever looks at all sorts: there is nothing to conclude from a number.
            p.mid { @if is_all { (p.t("lot-accept-all")) } @else { (p.say(&accept)) } }
            @if !is_all { p { (p.t("lot-random")) } }
            p.pm { (p.say(&table)) }
        }
        (show::working(p, &letter_working(asked.lot, sample).after(plan_working(asked.aql_pct, plan, letter != at))))
        p.hint { (p.t("lot-switch")) }
        @if is_all { p { (p.t("lot-curve-all")) } } @else { (curve(p, asked, plan)) }
    }
}

/// The share of bad ones, percent, with which the plan accepts with `chance`: an upper bound for a share, asked
/// the other way round.
fn share_at(plan: Plan, chance: f64) -> Option<f64> {
    let found = proportion::intervals(plan.accept, plan.sample, 1.0 - chance).ok()?;
    Some(found.one_sided_upper * 100.0)
}

fn percent(share: f64) -> String {
    fixed(share, figures(share, 2))
}

fn curve(p: &Page, asked: &Asked, plan: Plan) -> Markup {
    let chance = |share_pct: f64| {
        let found = accepts(plan, share_pct / 100.0, Model::Binomial);
        found.unwrap_or_default() * 100.0
    };
    let (Some(half), Some(bad)) = (share_at(plan, 0.5), share_at(plan, 0.1)) else {
        return html! {};
    };
    let good = (asked.aql_pct, chance(asked.aql_pct));
    // Far enough to the right that next to nothing passes, to a whole share.
    let most = share_at(plan, 0.01).unwrap_or(100.0).max(asked.aql_pct);
    let most = rounded_up(most.min(100.0));
    let at = |i: u32| most * f64::from(i) / f64::from(POINTS);
    let label = Message::new("lot-curve-label")
        .with("good", limit_text(asked.aql_pct))
        .number("chance", good.1, 0)
        .with("bad", percent(bad));
    let drawing = operating_curve(&OperatingCurve {
        points: (0..=POINTS).map(|i| (at(i), chance(at(i)))).collect(),
        good,
        bad: (bad, chance(bad)),
        decimals: figures(most / 4.0, 2).min(4),
        axes: (p.t("lot-curve-x"), p.t("lot-curve-y")),
        label: p.say(&label),
    });
    let line = |message: Message| html! { li { (p.say(&message)) } };
    html! {
        h2 { (p.t("lot-curve")) }
        figure.chart { (PreEscaped(drawing)) }
        ul {
            (line(Message::new("lot-curve-good").with("share", limit_text(asked.aql_pct)).number("chance", good.1, 0)))
            (line(Message::new("lot-curve-half").with("share", percent(half))))
            (line(Message::new("lot-curve-bad").with("share", percent(bad))))
        }
        (show::working(p, &working(plan, asked.aql_pct / 100.0, None, good.1 / 100.0)))
    }
}

/// The next of 1, 2, 4, 10 times a power of ten: four steps of it are round numbers.
fn rounded_up(most: f64) -> f64 {
    let power = 10_f64.powf(most.log10().floor());
    let steps = [1.0, 2.0, 4.0, 10.0].map(|step| step * power);
    let fits = steps.into_iter().find(|step| *step >= most);
    fits.unwrap_or(most).min(100.0)
}
