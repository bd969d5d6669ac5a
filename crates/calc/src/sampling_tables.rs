//! Code letter and single sampling plan for a lot, by the tables of ISO 2859-1.
//!
//! # Formula
//! Table 1: lot size and inspection level give a letter. Table 2-A: the letter gives the sample, the acceptance quality
//! limit (AQL) the acceptance number. Along each letter the numbers 0, ↑, ↓, 1, 2, 3, 5, 7, 10, 14, 21 shift by one column with
//! each step of the AQL; an arrow, and every place before or after the row, leads to the next plan that there is, with
//! its own sample.
//!
//! # Validity
//! Normal inspection, single sampling, shares of bad pieces up to an AQL of 10 %. The switching rules to tightened and
//! reduced inspection are part of the standard and not here. A sample as large as the lot means all of it.
//!
//! # Source
//! ISO 2859-1:1999, Tables 1 and 2-A, from memory; parts agree with a public transcription. The standard rules.

use crate::Message;
use crate::error::{CalcError, within};
use crate::operating_characteristic::Plan;
use crate::working::{Method, Working};

/// The code letter.
pub const LETTER: Method = Method {
    name: "sampling-code-letter",
    version: 1,
    source: "ISO 2859-1:1999, Table 1 (from memory, agrees with a public transcription)",
};

/// The plan.
pub const PLAN: Method = Method {
    name: "single-sampling-plan",
    version: 1,
    source: "ISO 2859-1:1999, Table 2-A (from memory, agrees in part with a public transcription)",
};

/// The letters with their samples.
pub const LETTERS: [(char, u64); 16] = [
    ('A', 2),
    ('B', 3),
    ('C', 5),
    ('D', 8),
    ('E', 13),
    ('F', 20),
    ('G', 32),
    ('H', 50),
    ('J', 80),
    ('K', 125),
    ('L', 200),
    ('M', 315),
    ('N', 500),
    ('P', 800),
    ('Q', 1250),
    ('R', 2000),
];

/// Acceptance quality limits, percent of bad pieces.
pub const LIMITS_PCT: [f64; 16] = [
    0.010, 0.015, 0.025, 0.040, 0.065, 0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5, 10.0,
];

/// Inspection level.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// Special level 1, the smallest samples.
    S1,
    /// Special level 2.
    S2,
    /// Special level 3.
    S3,
    /// Special level 4.
    S4,
    /// General level I.
    I,
    /// General level II, the usual one.
    II,
    /// General level III, the largest samples.
    III,
}

/// Largest lot of each row of Table 1, and its letters by level.
const TABLE_1: [(u64, &[u8; 7]); 15] = [
    (8, b"AAAAAAB"),
    (15, b"AAAAABC"),
    (25, b"AABBBCD"),
    (50, b"ABBCCDE"),
    (90, b"BBCCCEF"),
    (150, b"BBCDDFG"),
    (280, b"BCDEEGH"),
    (500, b"BCDEFHJ"),
    (1200, b"CCEFGJK"),
    (3200, b"CDEGHKL"),
    (10_000, b"CDFGJLM"),
    (35_000, b"CDFHKMN"),
    (150_000, b"DEGJLNP"),
    (500_000, b"DEGJMPQ"),
    (u64::MAX, b"DEHKNQR"),
];

/// Acceptance numbers along a letter, from the place of 0; `None` for the arrows after it.
const ALONG: [Option<u64>; 11] = [
    Some(0),
    None,
    None,
    Some(1),
    Some(2),
    Some(3),
    Some(5),
    Some(7),
    Some(10),
    Some(14),
    Some(21),
];

/// The code letter of a lot of `lot` pieces, and its sample.
///
/// # Errors
/// A lot below two pieces.
pub fn letter(lot: u64, level: Level) -> Result<(char, u64), CalcError> {
    within("N", lot as f64, 2.0, f64::MAX)?;
    let row = TABLE_1.iter().find(|(most, _)| lot <= *most);
    let letters = row.map_or(TABLE_1[TABLE_1.len() - 1].1, |(_, letters)| letters);
    let found = char::from(letters[level as usize]);
    let sample = LETTERS.iter().find(|(l, _)| *l == found);
    Ok(*sample.unwrap_or(&LETTERS[0]))
}

/// Place of 0 in the column of an AQL: the letter after which the column's numbers follow. It moves one letter down with
/// each smaller AQL; for 10 % it lies one before A.
fn place_of_none(column: usize) -> i64 {
    14 - column as i64
}

/// What stands at one place of Table 2-A.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Entry {
    /// An acceptance number.
    Accept(u64),
    /// An arrow to the plan above: to earlier letters.
    Up,
    /// An arrow to the plan below: to later letters.
    Down,
}

fn entry(letter: usize, column: usize) -> Entry {
    match letter as i64 - place_of_none(column) {
        off if off < 0 => Entry::Down,
        1 => Entry::Up,
        2 => Entry::Down,
        off => match ALONG.get(off.unsigned_abs() as usize).copied().flatten() {
            Some(accept) => Entry::Accept(accept),
            None => Entry::Up,
        },
    }
}

/// The first plan from `letter` on in the direction of the arrow there; the other way where the table ends first.
fn follow(letter: usize, column: usize) -> Option<(usize, u64)> {
    let number = |at: usize| match entry(at, column) {
        Entry::Accept(accept) => Some((at, accept)),
        _ => None,
    };
    let up = || (0..letter).rev().find_map(number);
    let down = || (letter + 1..LETTERS.len()).find_map(number);
    match entry(letter, column) {
        Entry::Accept(accept) => Some((letter, accept)),
        Entry::Up => up().or_else(down),
        Entry::Down => down().or_else(up),
    }
}

/// The single sampling plan under normal inspection for a code letter and an AQL in percent, with the letter at which it
/// stands.
///
/// # Errors
/// A letter that is none of [`LETTERS`], an AQL that is none of [`LIMITS_PCT`].
pub fn plan(letter: char, aql_pct: f64) -> Result<(Plan, char), CalcError> {
    let place = LETTERS.iter().position(|(l, _)| *l == letter);
    let Some(place) = place else {
        return Err(CalcError::TooFew {
            input: "letter",
            have: 0,
            need: 1,
        });
    };
    let aql = within("AQL", aql_pct, LIMITS_PCT[0], LIMITS_PCT[15])?;
    let column = LIMITS_PCT.iter().position(|a| (a - aql).abs() < 1e-9);
    let Some(column) = column else {
        // Between two columns: the refusal names the nearest that there is.
        let off = |limit: &&f64| (**limit - aql).abs();
        let nearest = LIMITS_PCT.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
        let nearest = *nearest.unwrap_or(&LIMITS_PCT[0]);
        return Err(CalcError::OutOfRange {
            input: "AQL",
            value: aql,
            min: nearest,
            max: nearest,
        });
    };
    let Some((at, accept)) = follow(place, column) else {
        return Err(CalcError::Impossible);
    };
    let (letter, sample) = LETTERS[at];
    Ok((Plan { sample, accept }, letter))
}

/// The working of a letter.
pub fn letter_working(lot: u64, sample: u64) -> Working {
    Working::new(LETTER)
        .given("N", Message::new("given-lot-size"), lot as f64, 0, "")
        .given("n", Message::new("given-sample-size"), sample as f64, 0, "")
        .note(Message::new("note-sampling-standard"))
}

/// The working of a plan.
pub fn plan_working(aql_pct: f64, plan: Plan, was_moved: bool) -> Working {
    let mut w = Working::new(PLAN)
        .given("AQL", Message::new("given-aql"), aql_pct, 3, "%")
        .given(
            "n",
            Message::new("given-sample-size"),
            plan.sample as f64,
            0,
            "",
        )
        .given(
            "Ac",
            Message::new("given-accept-number"),
            plan.accept as f64,
            0,
            "",
        )
        .step("Re", "Ac + 1", plan.accept as f64 + 1.0, 0, "");
    if was_moved {
        w = w.note(Message::new("note-sampling-arrow"));
    }
    w.note(Message::new("note-sampling-standard"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_the_table() {
        // ISO 2859-1:1999, Table 1 (from memory, level II agrees with a public transcription).
        for (lot, level, expected) in [
            (2, Level::II, 'A'),
            (8, Level::III, 'B'),
            (50, Level::II, 'D'),
            (51, Level::II, 'E'),
            (1200, Level::II, 'J'),
            (3201, Level::II, 'L'),
            (500_001, Level::III, 'R'),
            (u64::MAX, Level::S1, 'D'),
            (1000, Level::S4, 'F'),
        ] {
            assert_eq!(letter(lot, level).map(|l| l.0), Ok(expected), "{lot}");
        }
        assert!(letter(1, Level::II).is_err());
        assert!(letter(0, Level::II).is_err());
    }

    #[test]
    fn letters_rise_with_lot_and_level() {
        let place = |c: char| LETTERS.iter().position(|(l, _)| *l == c).expect("a letter");
        let rows: Vec<Vec<usize>> = TABLE_1
            .iter()
            .map(|(_, row)| row.iter().map(|b| place(char::from(*b))).collect())
            .collect();
        for row in &rows {
            assert!(row.windows(2).all(|w| w[0] <= w[1]), "{row:?}");
        }
        for level in 0..7 {
            assert!(rows.windows(2).all(|w| w[0][level] <= w[1][level]));
        }
    }

    #[test]
    fn plans_of_the_table() {
        // ISO 2859-1:1999, Table 2-A (from memory; the first eight agree with a public transcription).
        for (letter, aql, n, c, at) in [
            ('F', 0.65, 20, 0, 'F'),
            ('J', 0.65, 80, 1, 'J'),
            ('N', 0.65, 500, 7, 'N'),
            ('J', 1.0, 80, 2, 'J'),
            ('K', 1.0, 125, 3, 'K'),
            ('L', 1.0, 200, 5, 'L'),
            ('H', 2.5, 50, 3, 'H'),
            ('J', 2.5, 80, 5, 'J'),
            // Arrows: up to 0, down to 1, down to 0 from small lots, up from beyond 21.
            ('G', 0.65, 20, 0, 'F'),
            ('H', 0.65, 80, 1, 'J'),
            ('A', 0.65, 20, 0, 'F'),
            ('R', 1.0, 1250, 21, 'Q'),
            ('R', 10.0, 125, 21, 'K'),
            // 10 % has no plan with 0: small lots go down to 1.
            ('A', 10.0, 5, 1, 'C'),
            ('B', 10.0, 5, 1, 'C'),
            ('A', 6.5, 2, 0, 'A'),
            ('B', 6.5, 2, 0, 'A'),
            ('C', 6.5, 8, 1, 'D'),
            // The smallest AQL has no plan after 0: the row ends.
            ('R', 0.010, 1250, 0, 'Q'),
            ('A', 0.010, 1250, 0, 'Q'),
        ] {
            let found = plan(letter, aql).expect("in the table");
            let expected = Plan {
                sample: n,
                accept: c,
            };
            assert_eq!(found, (expected, at), "{letter} {aql}");
        }
    }

    #[test]
    fn a_smaller_limit_never_accepts_more_bad_ones_in_a_sample() {
        for (letter, _) in LETTERS {
            for pair in LIMITS_PCT.windows(2) {
                let (strict, _) = plan(letter, pair[0]).expect("in the table");
                let (wide, _) = plan(letter, pair[1]).expect("in the table");
                let share = |p: Plan| p.accept as f64 / p.sample as f64;
                assert!(share(strict) <= share(wide), "{letter} {pair:?}");
            }
        }
    }

    #[test]
    fn refusals() {
        assert!(plan('I', 1.0).is_err());
        for aql in [0.0, 0.7, 15.0, f64::NAN, f64::INFINITY] {
            assert!(plan('J', aql).is_err(), "{aql}");
        }
    }
}
