//! Reads the settings of a tool model and holds their tables against the adjuster.

use std::ops::Range;

use calc::Message;
use calc::screw_stop::ScrewStop;

use super::lists::Row;
use super::mistake::plain;
use super::relation::{self, Travel};
use super::table::Table;
use super::value::{Span, Word};
use crate::sheet::{Adjuster, Setting, SettingBasis};

/// Key of the table's rows.
const ROWS: &str = "mm_to_turns";

/// Part by which a table's slope may differ from the pitch.
const SLOPE_PART: f64 = 0.05;

impl Word for SettingBasis {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("stick-out", SettingBasis::StickOut),
        ("stroke", SettingBasis::Stroke),
        ("full-stroke", SettingBasis::FullStroke),
        ("force", SettingBasis::Force),
    ];
}

/// All settings; one for each nose set and fastener.
pub(super) fn read_all(
    t: &Table,
    adjuster: Option<&Option<Adjuster>>,
    stroke_mm: f64,
) -> Vec<Setting> {
    let adjuster = adjuster.and_then(Option::as_ref);
    let stop = adjuster.map(|a| &a.stop);
    let travel = adjuster.filter(|_| t.good(&["stroke_mm"])).map(|a| Travel {
        stop: &a.stop,
        full_mm: stroke_mm,
        step_turns: a.step_turns,
    });
    // A stop cannot be turned further than the whole stroke.
    let most_turns = travel
        .as_ref()
        .map_or(500.0, |travel| travel.full_mm / travel.stop.pitch_mm);
    let pairs = std::cell::RefCell::new(Vec::new());
    // The fastener alone does not name a setting: two nose sets may be there for it.
    t.tables("setting", "", 0, |s| {
        let setting = read(s, stop, travel.as_ref(), most_turns);
        let pair = (setting.nose_set.clone(), setting.fastener.clone());
        if s.good(&["nose_set", "fastener"]) && pairs.borrow().contains(&pair) {
            s.mistake("fastener", Message::new("sheet-setting-twice"));
        }
        pairs.borrow_mut().push(pair);
        Some(setting)
    })
}

fn read(t: &Table, stop: Option<&ScrewStop>, travel: Option<&Travel>, most_turns: f64) -> Setting {
    let basis: SettingBasis = t.word("by");
    let rows = t.rows(ROWS, Span(0.0, 500.0), Span(0.0, most_turns));
    let relation = t.table_given("relation", relation::read).flatten();
    let by_stick_out = basis == SettingBasis::StickOut;
    if t.good(&["by", "relation"]) && !by_stick_out {
        t.mistake("relation", Message::new("sheet-relation-not-wanted"));
    }
    let by_relation = t.has("relation") && by_stick_out && !t.has(ROWS);
    let by_table = basis.is_by_turns() && !by_relation;
    let mut expanded_turns = 0.0;
    if by_relation {
        if t.has("expanded_turns") {
            t.mistake("expanded_turns", Message::new("sheet-doubt-without-table"));
        }
    } else if t.good(&["by"]) && !by_table {
        for key in [ROWS, "expanded_turns"] {
            if t.has(key) {
                t.mistake(key, Message::new("sheet-table-not-wanted"));
            }
        }
    } else {
        expanded_turns = t.number("expanded_turns", Span(0.0, 2.0));
        if t.good(&["by"]) && !t.has(ROWS) {
            t.mistake(ROWS, Message::new("sheet-key-missing").with("key", ROWS));
        }
    }
    if by_table && t.good(&["by", ROWS]) {
        let doubt = t.good(&["expanded_turns"]).then_some(expanded_turns);
        if let Some((at, problem)) = mistake_in(&rows, stop, doubt) {
            match at {
                Some(at) => t.mistake_at(at, ROWS, problem),
                None => t.mistake(ROWS, problem),
            }
        }
    }
    if let (Some(relation), Some(travel), true) = (
        &relation,
        travel,
        t.good(&["by", ROWS, "expanded_turns"]) && by_stick_out,
    ) && let Some((at, problem)) =
        relation::contradiction(relation, &rows, expanded_turns, travel)
    {
        t.mistake_at(at, ROWS, problem);
    }
    let mut rows: Vec<(f64, f64)> = rows.into_iter().map(|row| row.pair).collect();
    if let (Some(relation), Some(travel), true) = (&relation, travel, by_relation) {
        rows = relation::ends(relation, travel);
        expanded_turns = relation::doubt_turns(relation, travel);
    }
    Setting {
        nose_set: t.string("nose_set"),
        fastener: t.string("fastener"),
        basis,
        rows,
        expanded_turns,
        relation,
        by_relation,
    }
}

/// The first thing wrong with a table, and the row it lies in.
fn mistake_in(
    rows: &[Row],
    stop: Option<&ScrewStop>,
    doubt: Option<f64>,
) -> Option<(Option<Range<usize>>, Message)> {
    let (Some(first), Some(last), true) = (rows.first(), rows.last(), rows.len() >= 2) else {
        return Some((None, Message::new("sheet-table-short")));
    };
    let at = |row: &Row| Some(row.at.clone());
    if let Some(pair) = rows.windows(2).find(|p| p[1].pair.0 <= p[0].pair.0) {
        return Some((at(&pair[1]), Message::new("sheet-table-order")));
    }
    let stop = stop?;
    let wanted = stop.turns_per_mm();
    let wrong_way = |p: &&[Row]| (p[1].pair.1 - p[0].pair.1) * wanted <= 0.0;
    if let Some(pair) = rows.windows(2).find(wrong_way) {
        let problem = if wanted > 0.0 {
            Message::new("sheet-table-must-rise")
        } else {
            Message::new("sheet-table-must-fall")
        };
        return Some((at(&pair[1]), problem));
    }
    let slope = (last.pair.1 - first.pair.1) / (last.pair.0 - first.pair.0);
    if (slope / wanted - 1.0).abs() > SLOPE_PART {
        let problem = Message::new("sheet-table-slope")
            .number("have", slope.abs(), 3)
            .number("want", wanted.abs(), 3)
            .with("pitch", plain(stop.pitch_mm));
        return Some((None, problem));
    }
    let doubt = doubt?;
    let off_line = |row: &&Row| {
        let on_line = first.pair.1 + slope * (row.pair.0 - first.pair.0);
        (row.pair.1 - on_line).abs() > doubt + 1e-9
    };
    let row = rows.iter().find(off_line)?;
    let on_line = first.pair.1 + slope * (row.pair.0 - first.pair.0);
    let problem = Message::new("sheet-table-off-line")
        .number("line", on_line, 2)
        .number("doubt", doubt, 2);
    Some((at(row), problem))
}
