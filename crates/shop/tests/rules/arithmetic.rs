//! Every line of a working is reckoned again from the numbers as they are printed.

use calc::decision::{self, Limits, Rule};
use calc::repeated::{self, Estimate, GaugeDoubt};
use calc::units::Unit;
use calc::working::Working;
use proptest::prelude::*;
use shop::diagnosis::{Seen, diagnose};

use crate::bench::shelf;

/// Reckons a filled formula: + − · / ² ³ ⁴ √( ) exp( ) round( ) ∞. `None` for one with a sum sign or a
/// table in it.
struct Reckoner<'a>(std::iter::Peekable<std::str::Chars<'a>>);

fn reckon(filled: &str) -> Option<f64> {
    if filled.contains(['Σ', '%']) {
        return None;
    }
    let mut reckoner = Reckoner(filled.chars().peekable());
    let value = reckoner.sum()?;
    reckoner.skip();
    reckoner.0.peek().is_none().then_some(value)
}

impl Reckoner<'_> {
    fn skip(&mut self) {
        while self.0.peek().is_some_and(|c| c.is_whitespace()) {
            self.0.next();
        }
    }

    fn takes(&mut self, wanted: &[char]) -> Option<char> {
        self.skip();
        self.0.next_if(|c| wanted.contains(c))
    }

    fn sum(&mut self) -> Option<f64> {
        let mut value = self.product()?;
        while let Some(sign) = self.takes(&['+', '−']) {
            let next = self.product()?;
            value += if sign == '+' { next } else { -next };
        }
        Some(value)
    }

    fn product(&mut self) -> Option<f64> {
        let mut value = self.power()?;
        while let Some(sign) = self.takes(&['·', '/']) {
            let next = self.power()?;
            value = if sign == '·' {
                value * next
            } else {
                value / next
            };
        }
        Some(value)
    }

    fn power(&mut self) -> Option<f64> {
        let mut value = self.atom()?;
        while let Some(raised) = self.takes(&['²', '³', '⁴']) {
            value = value.powi(match raised {
                '²' => 2,
                '³' => 3,
                _ => 4,
            });
        }
        Some(value)
    }

    fn atom(&mut self) -> Option<f64> {
        self.skip();
        let mut word = String::new();
        let raised = |c: &char| matches!(c, '²' | '³' | '⁴');
        let of_a_word =
            |c: &char| (c.is_alphanumeric() && !raised(c)) || matches!(c, '.' | '-' | '√' | '∞');
        while let Some(c) = self.0.next_if(of_a_word) {
            word.push(c);
        }
        if self.takes(&['(']).is_none() {
            return number(&word);
        }
        let inside = self.sum()?;
        self.takes(&[')'])?;
        match word.as_str() {
            "" => Some(inside),
            "√" => Some(inside.sqrt()),
            "exp" => Some(inside.exp()),
            "round" => Some(inside.round()),
            _ => None,
        }
    }
}

/// A number as printed.
fn number(text: &str) -> Option<f64> {
    match text {
        "∞" => Some(f64::INFINITY),
        _ => text.parse().ok(),
    }
}

/// Every line that can be reckoned gives what is printed, to a unit of its last digit (or a
/// thousandth of it: factors are printed rounded). Gives how many could be.
pub fn holds(working: &Working) -> usize {
    let mut reckoned = 0;
    for step in &working.steps {
        let Some(value) = reckon(&step.filled) else {
            continue;
        };
        let printed = number(&step.value).expect("a number");
        let decimals = step.value.split_once('.').map_or(0, |(_, d)| d.len());
        let unit = 10_f64.powi(-i32::try_from(decimals).expect("few"));
        let slack = unit.max(printed.abs() * 2e-3);
        // Infinite is what is said to be so, never what was divided by a printed 0.
        let near = if printed.is_infinite() {
            step.filled == step.value
        } else {
            (value - printed).abs() <= slack
        };
        assert!(
            near,
            "{} = {} = {} gives {value}, printed {}",
            step.symbol, step.formula, step.filled, step.value
        );
        reckoned += 1;
    }
    reckoned
}

#[test]
fn the_reckoner_reckons() {
    assert_eq!(reckon("2.0 + 3 · 4² − 6 / 3"), Some(48.0));
    assert_eq!(reckon("√((-3.0)² + 16)"), Some(5.0));
    assert_eq!(reckon("0.25 · round(6.53 / 0.25)"), Some(6.5));
    assert_eq!(reckon("∞"), Some(f64::INFINITY));
    assert_eq!(reckon("1 / ∞"), Some(0.0));
    assert_eq!(reckon("w_t + 1"), None);
    assert_eq!(reckon("Σx / 3"), None);
}

proptest! {
    #[test]
    fn of_a_setting(stick_out in 25.3..26.7f64, doubt in 0.01..0.3f64) {
        let shelf = shelf();
        let (_, model) = shelf.models().find(|(_, m)| m.id == "tulvane-tb-32").expect("model");
        let (_, family) = shelf.fasteners().find(|(_, f)| f.id == "marlstead-m8").expect("family");
        let rule = model.settings.iter().find(|s| s.fastener == family.id).expect("rule");
        let measured = Estimate {
            value: stick_out, standard: doubt / 2.0, dof: 10.0, expanded: doubt, spread: 0.0,
        };
        if let Ok(answer) = shop::setting::turns(model, rule, family, family.code("06"), &measured) {
            prop_assert_eq!(holds(&answer.working), 4);
        }
    }

    #[test]
    fn of_a_verdict(value in -50.0..50.0f64, doubt in 0.0..5.0f64) {
        let limits = Limits::new(Some(-20.5), Some(20.25)).expect("limits");
        let w = decision::working(value, doubt, limits, Rule::Guarded, Unit::Millimetre, 2);
        prop_assert_eq!(holds(&w), 2);
    }

    #[test]
    fn of_a_mean(xs in prop::collection::vec(20.0..30.0f64, 1..12)) {
        let gauge = GaugeDoubt { expanded: 0.03, resolution: 0.01 };
        let xs: Vec<f64> = xs.iter().map(|x| (x * 100.0).round() / 100.0).collect();
        let w = repeated::working(&xs, gauge, Unit::Millimetre, 2);
        prop_assert!(holds(&w) >= 4);
    }

    #[test]
    fn of_a_mean_of_near_and_equal_readings(steps in prop::collection::vec(0u8..2, 1..12)) {
        let gauge = GaugeDoubt { expanded: 0.03, resolution: 0.01 };
        let xs: Vec<f64> = steps.iter().map(|n| 25.0 + f64::from(*n) * 0.01).collect();
        let w = repeated::working(&xs, gauge, Unit::Millimetre, 2);
        prop_assert!(holds(&w) >= 4);
    }

    #[test]
    fn of_a_diagnosis(there in prop::collection::vec(any::<prop::sample::Index>(), 1..4)) {
        let shelf = shelf();
        let (_, model) = shelf.fault_models().next().expect("faults");
        let mut seen = Seen::default();
        for index in there {
            seen.symptoms.insert(index.get(&model.symptoms).id.clone(), true);
        }
        if let Some(d) = diagnose(model, shop::sheet::Drive::Battery, &seen) {
            for ranked in d.ranked.iter().take(5) {
                prop_assert_eq!(holds(&ranked.working), 1);
            }
        }
    }
}
