//! The working behind a number: formula, the numbers put in, result, units, interval, source.
//!
//! One type carries it from the calculation to screen, paper, prompt and record, so that all show
//! the same.

use crate::Message;

/// A method by its name and version; stored with each result, so that a later correction of the
/// method does not rewrite what was found with the old one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Method {
    /// Stable name, kebab-case.
    pub name: &'static str,
    /// Rises when results can change.
    pub version: u32,
    /// Where the formula comes from: a standard, a book, or "common practice, no source".
    pub source: &'static str,
}

/// One value that went in.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// Symbol in the formulas.
    pub symbol: &'static str,
    /// What it is.
    pub what: Message,
    /// Its value as printed.
    pub value: String,
    /// Its unit's symbol; empty for pure numbers.
    pub unit: &'static str,
    /// Where it comes from: readings, a sheet, a gauge.
    pub from: Option<Message>,
}

/// One line of reckoning.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What the line gives.
    pub symbol: &'static str,
    /// The formula in symbols.
    pub formula: &'static str,
    /// The formula with the numbers put in.
    pub filled: String,
    /// The result as printed.
    pub value: String,
    /// Its unit's symbol.
    pub unit: &'static str,
}

/// Formula, numbers, result and source of one computed answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// The method.
    pub method: Method,
    /// What went in.
    pub given: Vec<Given>,
    /// The reckoning, in order.
    pub steps: Vec<Step>,
    /// What was assumed or holds only here.
    pub notes: Vec<Message>,
}

impl Working {
    /// An empty sheet for `method`.
    pub fn new(method: Method) -> Self {
        Self {
            method,
            given: Vec::new(),
            steps: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// Writes down an input.
    #[must_use]
    pub fn given(
        mut self,
        symbol: &'static str,
        what: Message,
        value: f64,
        decimals: usize,
        unit: &'static str,
    ) -> Self {
        self.given.push(Given {
            symbol,
            what,
            value: fixed(value, decimals),
            unit,
            from: None,
        });
        self
    }

    /// Says where the last input comes from.
    #[must_use]
    pub fn from(mut self, from: Message) -> Self {
        if let Some(last) = self.given.last_mut() {
            last.from = Some(from);
        }
        self
    }

    /// Writes down a line of reckoning. Symbols of earlier lines and inputs in `formula` are
    /// replaced by their printed values, so what is shown is what was put in.
    #[must_use]
    pub fn step(
        mut self,
        symbol: &'static str,
        formula: &'static str,
        value: f64,
        decimals: usize,
        unit: &'static str,
    ) -> Self {
        let filled = self.fill(formula);
        self.steps.push(Step {
            symbol,
            formula,
            filled,
            value: fixed(value, decimals),
            unit,
        });
        self
    }

    /// Adds an assumption or a limit of the method.
    #[must_use]
    pub fn note(mut self, note: Message) -> Self {
        self.notes.push(note);
        self
    }

    /// Continues with the lines of another working (its givens and steps come first).
    #[must_use]
    pub fn after(mut self, earlier: Working) -> Self {
        self.given.splice(0..0, earlier.given);
        self.steps.splice(0..0, earlier.steps);
        self.notes.splice(0..0, earlier.notes);
        self
    }

    fn fill(&self, formula: &str) -> String {
        let mut filled = String::new();
        let mut word = String::new();
        for c in formula.chars().chain(std::iter::once(' ')) {
            if is_symbol_char(c) {
                word.push(c);
            } else {
                filled.push_str(self.value_of(&word).unwrap_or(&word));
                word.clear();
                filled.push(c);
            }
        }
        filled.pop();
        filled
    }

    fn value_of(&self, symbol: &str) -> Option<&str> {
        let steps = self.steps.iter().rev();
        let step = steps.map(|s| (s.symbol, &s.value)).find(|s| s.0 == symbol);
        let given = self.given.iter().rev();
        let given = given.map(|g| (g.symbol, &g.value)).find(|g| g.0 == symbol);
        step.or(given).map(|(_, value)| value.as_str())
    }
}

fn is_symbol_char(c: char) -> bool {
    // A raised digit is a power of what stands before it, not a part of its name.
    let raised = matches!(c, '²' | '³' | '⁴');
    (c.is_alphanumeric() && !raised) || c == '_' || c == '\u{304}' || ('₀'..='₉').contains(&c)
}

/// `value` with `decimals` decimals; never "-0.00".
pub fn fixed(value: f64, decimals: usize) -> String {
    if value == f64::INFINITY {
        return "∞".to_owned();
    }
    let text = format!("{value:.decimals$}");
    if text.starts_with('-') && text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
        return text[1..].to_owned();
    }
    text
}

/// `value` to `decimals` decimals, never above it: a lower bound stays one when it is written.
pub fn rounded_down(value: f64, decimals: usize) -> f64 {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(12));
    let scaled = value * scale;
    // What is whole but for the last digits of reckoning is whole.
    let whole = scaled.round();
    let is_whole = (scaled - whole).abs() <= 1e-9 * whole.abs().max(1.0);
    let down = if is_whole { whole } else { scaled.floor() };
    if down.is_finite() {
        down / scale
    } else {
        value
    }
}

/// `value` to `decimals` decimals, never below it: for upper bounds.
pub fn rounded_up(value: f64, decimals: usize) -> f64 {
    -rounded_down(-value, decimals)
}

/// Decimals that write `value` exactly, as a sheet states it: at least `least`, at most 4.
pub fn places(value: f64, least: usize) -> usize {
    let exact = |d: &usize| {
        let scaled = value * 10_f64.powi(i32::try_from(*d).unwrap_or(4));
        (scaled - scaled.round()).abs() < 1e-6
    };
    (least..4).find(exact).unwrap_or(least.max(4))
}

/// Decimals that show `digits` figures of `value`, from 0 to 12.
pub fn figures(value: f64, digits: i32) -> usize {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    let leading = value.abs().log10().floor() as i32;
    (digits - 1 - leading).clamp(0, 12).unsigned_abs() as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_follow_the_magnitude() {
        for (value, decimals) in [
            (1234.5, 2),
            (1.0, 5),
            (0.01234, 7),
            (5e-9, 12),
            (0.0, 0),
            (-20.0, 4),
        ] {
            assert_eq!(figures(value, 6), decimals, "{value}");
        }
    }

    const METHOD: Method = Method {
        name: "ohm",
        version: 1,
        source: "test",
    };

    #[test]
    fn numbers_are_put_into_the_formula() {
        let working = Working::new(METHOD)
            .given("R", Message::new("a"), 12.0, 1, "Ω")
            .given("I", Message::new("b"), 0.5, 2, "A")
            .step("U", "R · I", 6.0, 1, "V")
            .step("P", "U · I", 3.0, 1, "W");
        assert_eq!(working.steps[0].filled, "12.0 · 0.50");
        assert_eq!(working.steps[1].filled, "6.0 · 0.50");
    }

    #[test]
    fn a_symbol_inside_a_longer_word_stays() {
        let working = Working::new(METHOD).given("s", Message::new("a"), 2.0, 0, "");
        assert_eq!(
            working.step("x", "sin(s) + s²", 0.0, 0, "").steps[0].filled,
            "sin(2) + 2²"
        );
    }

    #[test]
    fn a_limit_is_written_as_it_is_stated() {
        for (value, least, decimals) in [
            (13.12, 1, 2),
            (13.12, 3, 3),
            (372.4, 0, 1),
            (0.1, 0, 1),
            (30.0, 0, 0),
        ] {
            assert_eq!(places(value, least), decimals, "{value}");
        }
        assert_eq!(places(1.0 / 3.0, 0), 4);
    }

    #[test]
    fn bounds_are_rounded_away_from_what_they_bound() {
        // By hand: 0.05^(1/5) = 0.54928…, which is no 55 %.
        assert_eq!(rounded_down(54.928, 1), 54.9);
        assert_eq!(rounded_up(54.901, 1), 55.0);
        assert_eq!(rounded_down(-0.123, 2), -0.13);
        assert_eq!(rounded_up(-0.129, 2), -0.12);
        // 54.9 stays itself, though ten times that is a little less than 549.
        for value in [54.9, 12.9, 0.3, 0.0, 1e300] {
            assert_eq!(rounded_down(value, 1), value);
            assert_eq!(rounded_up(value, 1), value);
        }
        assert_eq!(rounded_up(f64::INFINITY, 1), f64::INFINITY);
    }

    #[test]
    fn no_negative_zero() {
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(-0.01, 2), "-0.01");
    }
}
