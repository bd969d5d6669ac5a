//! What is known of the very tool whose link was opened: its past, whether a bad joint stops it, whether a
//! newer card exists. Without a good link nothing shows what the record holds.

use axum::response::Response;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use shop::crew::stops;
use shop::trial::own::{Past, signed_off_last};

use super::choice::Choice;
use super::link::Link;
use crate::app::{App, failed};
use crate::forms::Typed;
use crate::job::past;

/// What is known of a tool.
#[derive(Default)]
pub struct Known {
    /// What its earlier set-ups say.
    pub past: Past,
    /// When the bad joint was reported for which nobody sets with it.
    pub stopped: Option<Timestamp>,
    /// It was set up anew since the card of this link was printed.
    pub has_newer_card: bool,
}

impl Known {
    /// Of the tool behind `link`.
    pub async fn of(app: &App, link: &Link, typed: &Typed) -> Result<Self, Response> {
        let shelf = app.store.shelf();
        // The link names what was picked: with another nose set or fastener it would not be good.
        let held = match link {
            Link::Holds(held) | Link::Void(held) => held,
            Link::None | Link::Wrong => return Ok(Self::default()),
        };
        let Some(sheets) = Choice::of(typed, &shelf).sheets() else {
            return Ok(Self::default());
        };
        let desk = app.desk(&shelf);
        let jobs = past::jobs(&app.store, held.tool).await.map_err(failed)?;
        let (nose_set, fastener) = (&sheets.nose.id, &sheets.fastener.id);
        let signed_off = signed_off_last(&jobs, nose_set, fastener).map(|signed| signed.at);
        let stopped = stops(&held.inbox, nose_set, fastener, signed_off);
        if matches!(link, Link::Void(_)) {
            return Ok(Self {
                stopped: stopped.map(|sent| sent.at),
                ..Self::default()
            });
        }
        Ok(Self {
            past: past::of_tool(&jobs, &held.inbox, &sheets, &desk),
            stopped: stopped.map(|sent| sent.at),
            has_newer_card: is_older(typed.get("day"), signed_off, &app.zone),
        })
    }
}

/// Whether a card printed on `day` is older than the newest sign-off.
fn is_older(day: &str, signed_off: Option<Timestamp>, zone: &TimeZone) -> bool {
    let card: Option<Date> = day.parse().ok();
    let newest = signed_off.map(|at| at.to_zoned_datetime(zone.clone()).date());
    card.zip(newest).is_some_and(|(card, newest)| card < newest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_card_is_older_than_a_sign_off_of_a_later_day_where_the_shop_is() {
        // 23:30 on 4 March in UTC is 5 March two hours further east.
        let signed: Timestamp = "2026-03-04T23:30:00Z".parse().expect("a time");
        let east = TimeZone::fixed(jiff::tz::offset(2));
        let older = |day: &str, zone: &TimeZone| is_older(day, Some(signed), zone);
        assert!(older("2026-03-03", &TimeZone::UTC));
        assert!(!older("2026-03-04", &TimeZone::UTC) && older("2026-03-04", &east));
        assert!(!older("2026-03-05", &east));
        assert!(!is_older("2026-03-03", None, &TimeZone::UTC));
    }
}
