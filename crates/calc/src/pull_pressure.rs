//! The pull that a pressure gives, and the pressure for a pull, with friction.
//!
//! # Formula
//! F = p · i · A · (1 − f): A the area that the oil pulls on, i the oil pressure over the pressure p (1 where p is
//! the oil's own), f the share lost to friction. With f unsure by w_f, F is unsure by the share w_f / (1 − f).
//!
//! # Validity
//! Pressure held while the tool stands at its stall: while it cycles, hose and valves take from it. Return side
//! without pressure.
//!
//! # Source
//! Balance of forces.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, places};

/// This method.
pub const METHOD: Method = Method {
    name: "pull-pressure",
    version: 1,
    source: "balance of forces",
};

/// What turns pressure into pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Puller {
    /// Area that the oil pulls on, mm².
    pub area_mm2: f64,
    /// Oil pressure over the pressure that is measured.
    pub ratio: f64,
    /// Share of the force lost to friction.
    pub friction: f64,
    /// Expanded uncertainty of that share.
    pub friction_expanded: f64,
}

impl Puller {
    fn checked(&self) -> Result<Self, CalcError> {
        within("A", self.area_mm2, 1e-3, 1e9)?;
        within("i", self.ratio, 1e-3, 1e6)?;
        let friction = within("f", self.friction, 0.0, 0.9)?;
        within("w_f", self.friction_expanded, 0.0, 0.99 - friction)?;
        Ok(*self)
    }

    /// kN for each bar, `friction` taken off.
    fn kn_per_bar(&self, friction: f64) -> f64 {
        self.ratio * self.area_mm2 * 1e-4 * (1.0 - friction)
    }

    /// The pull of `pressure_bar`, kN: least, best, most.
    ///
    /// # Errors
    /// An area, ratio or pressure that is not above 0, a friction outside 0 to 0.9.
    pub fn pull_kn(&self, pressure_bar: f64) -> Result<Pull, CalcError> {
        let puller = self.checked()?;
        let bar = within("p", pressure_bar, 1e-6, 1e6)?;
        let of = |friction: f64| bar * puller.kn_per_bar(friction);
        Ok(Pull {
            least_kn: of(self.friction + self.friction_expanded),
            kn: of(self.friction),
            most_kn: of((self.friction - self.friction_expanded).max(0.0)),
        })
    }

    /// The pressure, bar, for a pull of `force_kn`: at which it comes for sure, at which it comes as far as
    /// one knows, and below which it surely does not come.
    ///
    /// # Errors
    /// As [`Puller::pull_kn`]; a force that is not above 0.
    pub fn pressure_bar(&self, force_kn: f64) -> Result<Pressure, CalcError> {
        let puller = self.checked()?;
        let force = within("F", force_kn, 1e-6, 1e6)?;
        let of = |friction: f64| force / puller.kn_per_bar(friction);
        Ok(Pressure {
            sure_bar: of(self.friction + self.friction_expanded),
            bar: of(self.friction),
            least_bar: of((self.friction - self.friction_expanded).max(0.0)),
        })
    }
}

/// A pull with its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Lower end.
    pub least_kn: f64,
    /// Best value.
    pub kn: f64,
    /// Upper end.
    pub most_kn: f64,
}

/// A pressure for a pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressure {
    /// The pull comes for sure.
    pub sure_bar: f64,
    /// Best value.
    pub bar: f64,
    /// Below, it surely does not come.
    pub least_bar: f64,
}

/// What is given in every working.
pub fn given(puller: &Puller) -> Working {
    let what = |id: &'static str| Message::new(id);
    Working::new(METHOD)
        .given(
            "A",
            what("given-pull-area"),
            puller.area_mm2,
            places(puller.area_mm2, 0),
            "mm²",
        )
        .given(
            "i",
            what("given-ratio"),
            puller.ratio,
            places(puller.ratio, 0),
            "",
        )
        .given(
            "f",
            what("given-friction-share"),
            puller.friction,
            places(puller.friction, 2),
            "",
        )
        .given(
            "w_f",
            what("given-friction-doubt"),
            puller.friction_expanded,
            places(puller.friction_expanded, 2),
            "",
        )
}

/// The working of [`Puller::pull_kn`].
///
/// # Errors
/// As [`Puller::pull_kn`].
pub fn working_pull(puller: &Puller, pressure_bar: f64) -> Result<Working, CalcError> {
    let pull = puller.pull_kn(pressure_bar)?;
    Ok(given(puller)
        .given(
            "p",
            Message::new("given-pressure"),
            pressure_bar,
            places(pressure_bar, 1),
            "bar",
        )
        .step("F", "p · i · A · (1 − f) / 10000", pull.kn, 2, "kN")
        .step(
            "F₁",
            "p · i · A · (1 − f − w_f) / 10000",
            pull.least_kn,
            2,
            "kN",
        )
        .step(
            "F₂",
            "p · i · A · (1 − f + w_f) / 10000",
            pull.most_kn,
            2,
            "kN",
        )
        .note(Message::new("note-stall")))
}

/// The working of [`Puller::pressure_bar`].
///
/// # Errors
/// As [`Puller::pressure_bar`].
pub fn working_pressure(puller: &Puller, force_kn: f64) -> Result<Working, CalcError> {
    let pressure = puller.pressure_bar(force_kn)?;
    Ok(given(puller)
        .given(
            "F",
            Message::new("given-pull"),
            force_kn,
            places(force_kn, 1),
            "kN",
        )
        .step("p", "F · 10000 / (i · A · (1 − f))", pressure.bar, 2, "bar")
        .step(
            "p₁",
            "F · 10000 / (i · A · (1 − f − w_f))",
            pressure.sure_bar,
            2,
            "bar",
        )
        .note(Message::new("note-stall")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const HEAD: Puller = Puller {
        area_mm2: 2370.0,
        ratio: 1.0,
        friction: 0.0,
        friction_expanded: 0.0,
    };

    #[test]
    fn a_head_before_friction_by_hand() {
        // 380 bar on 2370 mm²: 38 N/mm² · 2370 mm² = 90.06 kN.
        let pull = HEAD.pull_kn(380.0).expect("good");
        assert!((pull.kn - 90.06).abs() < 1e-9);
        assert_eq!((pull.least_kn, pull.most_kn), (pull.kn, pull.kn));
        // 6.0 bar through (100/15)² on π (36² − 17²) / 4 = 790.9 mm²: 21.09 kN.
        let air = Puller {
            area_mm2: 790.9,
            ratio: (100.0_f64 / 15.0).powi(2),
            ..HEAD
        };
        assert!((air.pull_kn(6.0).expect("good").kn - 21.09).abs() < 0.005);
    }

    #[test]
    fn refusals() {
        for bad in [
            Puller {
                area_mm2: 0.0,
                ..HEAD
            },
            Puller {
                ratio: f64::NAN,
                ..HEAD
            },
            Puller {
                friction: 0.95,
                ..HEAD
            },
            Puller {
                friction: -0.01,
                ..HEAD
            },
            Puller {
                friction: 0.5,
                friction_expanded: 0.5,
                ..HEAD
            },
        ] {
            assert!(bad.pull_kn(100.0).is_err(), "{bad:?}");
            assert!(bad.pressure_bar(10.0).is_err(), "{bad:?}");
        }
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(
                HEAD.pull_kn(bad).is_err() && HEAD.pressure_bar(bad).is_err(),
                "{bad}"
            );
            assert!(working_pull(&HEAD, bad).is_err() && working_pressure(&HEAD, bad).is_err());
        }
    }

    proptest! {
        #[test]
        fn there_and_back(kn in 1.0..200.0f64, f in 0.0..0.3f64, w in 0.0..0.05f64) {
            let puller = Puller { friction: f, friction_expanded: w, ..HEAD };
            let p = puller.pressure_bar(kn).expect("good");
            prop_assert!((puller.pull_kn(p.bar).expect("good").kn - kn).abs() < 1e-9 * kn);
            // At the sure pressure even the least pull is enough.
            prop_assert!(puller.pull_kn(p.sure_bar).expect("good").least_kn >= kn * (1.0 - 1e-12));
            prop_assert!(p.least_bar <= p.bar && p.bar <= p.sure_bar);
        }

        #[test]
        fn more_pressure_pulls_more_and_friction_less(bar in 1.0..500.0f64, f in 0.0..0.3f64) {
            let with = |f, bar| Puller { friction: f, ..HEAD }.pull_kn(bar).expect("good").kn;
            prop_assert!(with(f, bar + 1.0) > with(f, bar));
            prop_assert!(with(f + 0.01, bar) < with(f, bar));
        }
    }
}
