//! The set-up card.

use axum::response::Response;
use calc::Message;
use calc::units::Unit;
use paper::joint::{JointFeature, JointSketch};
use paper::model::{JointLimit, SetupCard};
use shop::crew::LinkFor;
use shop::job::{SetUp, SetUpSheets};
use shop::sheet::{FastenerFamily, SettingBasis};

use crate::app::{App, failed};
use crate::inbox;
use crate::job::view::View;
use crate::job::{Loaded, bench, names};

/// A joint is checked again after so many (common practice, no source).
const RECHECK_JOINTS: u32 = 20;

/// The card of the set-up in hand, with the tool's link; `None` before it was signed off.
pub async fn card(app: &App, v: &View<'_>, loaded: &Loaded) -> Result<Option<SetupCard>, Response> {
    let Some(card) = without_link(v, loaded) else {
        return Ok(None);
    };
    let link = link(app, v).await?;
    Ok(Some(SetupCard { link, ..card }))
}

/// The link that opens the crew's page for this tool and setting.
async fn link(app: &App, v: &View<'_>) -> Result<Option<String>, Response> {
    let set_up = v.job.set_up();
    let Some((set_up, signed)) = set_up.and_then(|s| Some((s, s.signed_off.as_ref()?))) else {
        return Ok(None);
    };
    let received = &v.job.received.body;
    let inbox = inbox::load(app, received.tool).await.map_err(failed)?;
    let fitted = &set_up.fitted.body;
    let link = LinkFor {
        model: received.model.id.clone(),
        fastener: fitted.fastener.id.clone(),
        code: fitted.code.clone(),
        nose: fitted.nose_set.id.clone(),
        renewed: inbox.renewed,
    };
    let day = signed.at.to_zoned_datetime(v.zone.clone()).date();
    let links = &app.links;
    Ok(links.on_card(received.tool, &received.serial, &link, day))
}

fn without_link(v: &View, loaded: &Loaded) -> Option<SetupCard> {
    let set_up = v.job.set_up()?;
    let signed = set_up.signed_off.as_ref()?;
    let s = v.job.set_up_sheets(set_up, &v.desk)?;
    let limits = s.fastener.criteria.iter().map(|c| {
        let gauges: Vec<String> = c
            .gauges
            .iter()
            .map(|g| v.t(names::gauge_kind(*g)))
            .collect();
        JointLimit {
            what: c.name.clone(),
            limits: bench::limits_text(v, &c.limits, c.unit.symbol()),
            gauge: gauges.join(", "),
        }
    });
    Some(SetupCard {
        shop: super::shop(v),
        job: v.job.received.body.number.to_string(),
        tool: super::tool(v),
        fastener: super::fastener(set_up, &s),
        nose: super::nose(v, &s),
        stick_out: super::stick_out(v, set_up, &s),
        setting: super::setting(v, set_up, &s)?,
        pressure: super::pressure_to_set(v, set_up, &s),
        holds_for: holds_for(v, set_up, &s).unwrap_or_default(),
        waived: signed.body.reason.clone(),
        limits: limits.collect(),
        joint: sketch(s.fastener),
        link: None,
        recheck_joints: RECHECK_JOINTS,
        signed_by: v.person(&signed.by),
        signed_on: super::printed(v, signed.at),
        record: super::head(loaded),
        issued: super::issued(v, signed.at),
    })
}

/// The stick-out that the turns were found for, and what one millimetre more asks for.
fn holds_for(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Option<String> {
    let by_stick_out = s.rule.is_some_and(|r| r.basis == SettingBasis::StickOut);
    let mean = set_up.stick_out().filter(|_| by_stick_out)?.mean_mm?;
    let per_mm = s.model.adjuster.stop.turns_per_mm();
    let text = Message::new(if per_mm < 0.0 {
        "card-holds-less"
    } else {
        "card-holds-more"
    });
    Some(v.say(&text.number("mm", mean, 2).number("turns", per_mm.abs(), 2)))
}

/// The joint to scale, from the first criterion that can be drawn.
pub(crate) fn sketch(family: &FastenerFamily) -> Option<JointSketch> {
    let mut drawable = family.criteria.iter().filter_map(|c| {
        let feature = match c.id.as_str() {
            "reach" => JointFeature::Reach,
            "pin-end" => JointFeature::PinEnd,
            "stem-end" => JointFeature::StemEnd,
            "set-length" => JointFeature::SetLength,
            _ => return None,
        };
        (c.unit == Unit::Millimetre).then_some((feature, c))
    });
    let (feature, criterion) = drawable.next()?;
    Some(JointSketch {
        feature,
        diameter_mm: family.diameter_mm,
        limits_mm: criterion.limits,
        collar_mm: family.criterion("collar-diameter").map(|c| c.limits),
        if_low: criterion.if_low,
        if_high: criterion.if_high,
    })
}
