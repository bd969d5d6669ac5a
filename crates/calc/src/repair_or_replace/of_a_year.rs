//! What the year to come costs with a repair, and what a year of a new tool costs: version 2, by which quotes of
//! before keep what they say.
//!
//! # Formula
//! Pulls a year N = ⌊365 · pulls / days⌋ between two readings of the counter. A wear part of life L that was
//! used u pulls has l = max(0, L − u) left; where l ≤ N it is renewed r = 1 + ⌊(N − l) / L⌋ times within the
//! year. With the repair Q: C_r = Q + Σ r · c + s · Q / 100, s the share of repairs that come back in percent.
//! A new tool of price P and life T years: C_n = P / T.
//!
//! Money is whole cents, so nothing is lost in a sum; a share of it is rounded half up to the cent.
//!
//! # Validity
//! Pulls go on as they did. The whole repair is put on one year, and a new tool is taken not to wear, so the
//! comparison leans towards the new tool: no new quote is reckoned so.
//!
//! # Errors
//! A life of no pulls or no years, sums of [`MOST_CENTS`](super::MOST_CENTS) or more.
//!
//! # Source
//! Sums of expected cost; the share of repairs that come back: common practice, no source.

use super::{MOST_PULLS, money};
use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "repair-or-replace",
    version: 2,
    source: "sums of expected cost; life in pulls, price and life of a new tool: model sheet; share of come-backs: common practice, no source",
};

/// Share of a repair that is expected to be done again, percent (common practice, no source).
pub const COME_BACK_PERCENT: u64 = 5;

/// A part that wears, as it was taken then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WearPart {
    /// Pulls since it was new.
    pub used: u64,
    /// Its life, pulls.
    pub life: u64,
    /// What it costs to renew it once, part and hands, cents.
    pub cents: u64,
}

/// A wear part whose life ends within the year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Renewal {
    /// Pulls that are left of its life.
    pub left: u64,
    /// How often it is renewed within the year.
    pub times: u64,
    /// What that costs, cents.
    pub cents: u64,
}

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked<'a> {
    /// What the repair costs, cents.
    pub repair: u64,
    /// Share of repairs that come back, percent.
    pub come_back_percent: u64,
    /// The parts that wear and that the repair does not renew.
    pub wear: &'a [WearPart],
    /// Pulls a year.
    pub pulls_a_year: u64,
    /// Price of a new tool, cents.
    pub price_new: u64,
    /// Its life, years.
    pub life_years: f64,
}

/// Both costs of a year, cents.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// The wear parts renewed within the year; `None` for one that lasts longer.
    pub renewals: Vec<Option<Renewal>>,
    /// What they cost.
    pub wear: u64,
    /// The share of the repair for a come-back.
    pub come_back: u64,
    /// The year to come with the repair.
    pub with_repair: u64,
    /// A year of a new tool.
    pub new_tool: u64,
}

/// When and at what cost `part` is renewed within the year; `None` if it lasts longer.
///
/// # Errors
/// A life of no pulls; a sum too large.
pub fn renewal(part: WearPart, pulls_a_year: u64) -> Result<Option<Renewal>, CalcError> {
    within("L", part.life as f64, 1.0, MOST_PULLS)?;
    within("N", pulls_a_year as f64, 0.0, MOST_PULLS * 365.0)?;
    let left = part.life.saturating_sub(part.used);
    if left > pulls_a_year {
        return Ok(None);
    }
    let times = 1 + (pulls_a_year - left) / part.life;
    Ok(Some(Renewal {
        left,
        times,
        cents: money("c", part.cents.saturating_mul(times))?,
    }))
}

/// Both costs of the year.
///
/// # Errors
/// As the head of this module says.
pub fn compare(asked: &Asked) -> Result<Compared, CalcError> {
    let repair = money("Q", asked.repair)?;
    let price = money("P", asked.price_new)?;
    within("s", asked.come_back_percent as f64, 0.0, 100.0)?;
    let years = within("T", asked.life_years, 0.1, 1000.0)?;
    let renewals: Vec<Option<Renewal>> = asked
        .wear
        .iter()
        .map(|part| renewal(*part, asked.pulls_a_year))
        .collect::<Result<_, _>>()?;
    let wear = renewals.iter().flatten().map(|r| r.cents);
    let wear = money("W", wear.fold(0, u64::saturating_add))?;
    let come_back = (repair * asked.come_back_percent + 50) / 100;
    Ok(Compared {
        renewals,
        wear,
        come_back,
        with_repair: repair + wear + come_back,
        new_tool: (price as f64 / years).round() as u64,
    })
}

/// From the prices to both costs.
pub fn working(asked: &Asked, found: &Compared) -> Working {
    let plain = |cents: u64| cents as f64 / 100.0;
    let given =
        |w: Working, symbol, what, cents| w.given(symbol, Message::new(what), plain(cents), 2, "");
    let working = given(Working::new(METHOD), "Q", "given-repair-paid", asked.repair);
    let working = given(working, "W", "given-wear-year", found.wear).given(
        "s",
        Message::new("given-done-again"),
        asked.come_back_percent as f64,
        0,
        "%",
    );
    given(working, "P", "given-price-new", asked.price_new)
        .given(
            "T",
            Message::new("given-life-years"),
            asked.life_years,
            1,
            "a",
        )
        .step(
            "C_r",
            "Q + W + s · Q / 100",
            plain(found.with_repair),
            2,
            "",
        )
        .step("C_n", "P / T", plain(found.new_tool), 2, "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repair_or_replace::MOST_CENTS;
    use proptest::prelude::*;

    const PLAIN: Asked = Asked {
        repair: 20_010,
        come_back_percent: COME_BACK_PERCENT,
        wear: &[],
        pulls_a_year: 50_000,
        price_new: 150_000,
        life_years: 6.0,
    };

    #[test]
    fn by_hand() {
        // 60 000 − 50 000 are left: renewed once. 30 000 − 50 000 is over: now, and after 30 000 more.
        let part = |used, life, cents| WearPart { used, life, cents };
        let wear = [
            part(50_000, 60_000, 4_000),
            part(50_000, 30_000, 150),
            part(50_000, 300_000, 9_900),
        ];
        let found = compare(&Asked {
            wear: &wear,
            ..PLAIN
        })
        .expect("good");
        let told: Vec<Option<(u64, u64, u64)>> = found
            .renewals
            .iter()
            .map(|r| r.map(|r| (r.left, r.times, r.cents)))
            .collect();
        assert_eq!(told, [Some((10_000, 1, 4_000)), Some((0, 2, 300)), None]);
        // 5 % of 200.10 is 10.005: the half cent goes up.
        assert_eq!((found.wear, found.come_back), (4_300, 1_001));
        assert_eq!(found.with_repair, 20_010 + 4_300 + 1_001);
        assert_eq!(found.new_tool, 25_000, "1500 over 6 years");
        let steps = working(&PLAIN, &found).steps;
        assert_eq!(steps[1].filled, "1500.00 / 6.0");
    }

    #[test]
    fn refusals() {
        let wrong = [
            Asked {
                repair: MOST_CENTS,
                ..PLAIN
            },
            Asked {
                price_new: u64::MAX,
                ..PLAIN
            },
            Asked {
                come_back_percent: 101,
                ..PLAIN
            },
            Asked {
                life_years: 0.0,
                ..PLAIN
            },
            Asked {
                life_years: f64::NAN,
                ..PLAIN
            },
            Asked {
                pulls_a_year: u64::MAX,
                wear: &[WearPart {
                    used: 0,
                    life: 1,
                    cents: 1,
                }],
                ..PLAIN
            },
            Asked {
                wear: &[WearPart {
                    used: 0,
                    life: 0,
                    cents: 1,
                }],
                ..PLAIN
            },
            Asked {
                wear: &[WearPart {
                    used: 0,
                    life: 1,
                    cents: MOST_CENTS,
                }],
                ..PLAIN
            },
        ];
        for asked in wrong {
            assert!(compare(&asked).is_err(), "{asked:?}");
        }
    }

    proptest! {
        /// Renewing as it wears out, pull by pull, comes to the same.
        #[test]
        fn renewals_are_those_of_a_year_gone_through(used in 0u64..400, life in 1u64..200, year in 0u64..500) {
            let (mut left, mut times) = (life.saturating_sub(used), 0);
            for pull in 0..=year {
                if left == 0 {
                    times += 1;
                    left = life;
                }
                if pull < year {
                    left -= 1;
                }
            }
            let found = renewal(WearPart { used, life, cents: 7 }, year).expect("good");
            prop_assert_eq!(found.map_or(0, |r| r.times), times);
            prop_assert_eq!(found.map_or(0, |r| r.cents), times * 7);
        }
    }
}
