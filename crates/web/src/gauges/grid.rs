//! The study typed box by box: parts × people × trials are chosen first, then every reading has its own box.

use calc::Message;
use maud::{Markup, html};
use shop::sheet::Gauge;

use super::page::View;
use super::study::Table;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_count, parse_number};
use crate::shell::{Field, Form, Page};

/// The form with a box for each reading.
pub(super) const ID: &str = "study-grid";
/// The form that asks for its size; it is sent in the address.
pub(super) const SIZE: &str = "study-size";

/// Fewest of each.
const FEWEST: u64 = 2;

/// Name, label, and the most of each: where averages and ranges still have a factor. More are pasted.
const SIZES: [(&str, &str, u64); 3] = [
    ("parts", "field-study-parts", 10),
    ("people", "field-study-people", 3),
    ("trials", "field-study-trials", 3),
];

/// How many of each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Size {
    parts: usize,
    people: usize,
    trials: usize,
}

/// Whether a grid is asked for.
pub(super) fn is_asked(typed: &Typed) -> bool {
    SIZES.iter().any(|(name, _, _)| typed.has(name))
}

/// The size that is asked for.
///
/// # Errors
/// Each of the three that cannot be.
pub(super) fn size(p: &Page, typed: &Typed) -> Result<Size, FieldErrors> {
    let mut errors = FieldErrors::new();
    let [parts, people, trials] = SIZES.map(|(name, label, most)| {
        let count = parse_count(typed.get(name)).and_then(|count| {
            let wide = Message::new("refuse-study-size")
                .with("value", count)
                .with("min", FEWEST)
                .with("max", most);
            let in_reach = (FEWEST..=most).contains(&count);
            in_reach.then_some(count as usize).ok_or(wide)
        });
        errors.keep(name, p.t(label), count)
    });
    match (parts, people, trials) {
        (Some(parts), Some(people), Some(trials)) => Ok(Size {
            parts,
            people,
            trials,
        }),
        _ => Err(errors),
    }
}

/// The form for the size, and below it the grid where one is asked for.
pub(super) fn form(v: &View) -> Markup {
    let typed = match v.refused {
        Some(refused) if v.is_refused(ID) => refused.typed,
        _ => v.query,
    };
    let asked = is_asked(typed).then(|| size(v.p, typed));
    let none = FieldErrors::new();
    let errors = match &asked {
        Some(Err(errors)) => errors,
        _ => &none,
    };
    let ask = Form::new(v.p, SIZE, typed, errors);
    let action = format!("{}#study-gauge", super::path(&v.gauge.id));
    html! {
        h3 { (v.t("study-grid-heading")) }
        form #(SIZE) method="get" action=(action) novalidate autocomplete="off" {
            div.line {
                @for (name, label, most) in SIZES {
                    (ask.count(&Field::new(name, v.t(label)).short().value(most.to_string())))
                }
            }
            div.buttons { button.quiet { (v.t("button-study-grid")) } }
        }
        @if let Some(Ok(size)) = asked { (grid(v, size)) }
    }
}

fn person_key(person: usize) -> String {
    format!("person-{}", person + 1)
}

/// The row of one person's trial: a box for each part.
fn row_key(person: usize, trial: usize) -> String {
    format!("cell-{}-{}", person + 1, trial + 1)
}

/// Person by person, as they measure: every part once, then again.
fn grid(v: &View, size: Size) -> Markup {
    let form = v.form(ID);
    let unit = v.gauge.unit.symbol();
    let numbered = |id: &'static str, n: usize| v.say(&Message::new(id).with("n", n + 1));
    html! {
        (form.wrap(&v.action(super::study::ID), None, html! {
            input type="hidden" name="parts" value=(size.parts);
            input type="hidden" name="people" value=(size.people);
            input type="hidden" name="trials" value=(size.trials);
            (form.text(&Field::new("date", v.t("field-study-date")).hint(v.t("hint-date")).short()))
            (form.text(&Field::new("what", v.t("field-study-what"))))
            @for person in 0..size.people {
                (form.text(&Field::new(&person_key(person), numbered("field-study-person", person))))
                @for trial in 0..size.trials {
                    @let label = Message::new("study-grid-row")
                        .with("person", person + 1).with("trial", trial + 1).with("parts", size.parts);
                    @let key = row_key(person, trial);
                    (form.readings(&Field::new(&key, v.say(&label)).unit(unit).signed(), size.parts))
                }
            }
            (form.text(&Field::new("note", v.t("field-note"))))
            div.buttons { button { (v.t("button-study")) } }
        }))
    }
}

/// What was typed into the grid; what is wrong is noted at its box, with part, person and trial.
pub(super) fn read(
    p: &Page,
    gauge: &Gauge,
    typed: &Typed,
    errors: &mut FieldErrors,
) -> Option<Table> {
    let size = match size(p, typed) {
        Ok(size) => size,
        Err(wrong) => {
            wrong
                .iter()
                .for_each(|(field, message)| errors.add(field, message.clone()));
            return None;
        }
    };
    let people = names(p, typed, size, errors);
    let mut whole = true;
    let readings = people.iter().enumerate().map(|(person, name)| {
        let trials = (0..size.trials).map(|trial| {
            let row = row_key(person, trial);
            let typed: Vec<&str> = typed.all(&row).collect();
            let parts = (0..size.parts).map(|part| {
                let at = Message::new("study-grid-cell")
                    .with("part", part + 1)
                    .with("person", name.as_str())
                    .with("trial", trial + 1);
                let raw = typed.get(part).copied().unwrap_or_default();
                let value = parse_number(raw, gauge.unit);
                let value = value.and_then(|value| in_range(gauge, value));
                let value = errors.keep(&reading_key(&row, part), p.say(&at), value);
                whole &= value.is_some();
                value.unwrap_or_default()
            });
            parts.collect()
        });
        trials.collect()
    });
    let readings: Vec<Vec<Vec<f64>>> = readings.collect();
    (whole && errors.is_empty()).then_some((people, readings))
}

/// Who measured; one without a name is called by its number in what is wrong elsewhere.
fn names(p: &Page, typed: &Typed, size: Size, errors: &mut FieldErrors) -> Vec<String> {
    let mut people: Vec<String> = Vec::new();
    for person in 0..size.people {
        let key = person_key(person);
        let label = p.say(&Message::new("field-study-person").with("n", person + 1));
        let name = typed.get(&key).trim().to_owned();
        if name.is_empty() {
            errors.add_for(&key, label.as_str(), Message::new("refuse-study-nameless"));
            people.push(label);
            continue;
        }
        if people.contains(&name) {
            let twice = Message::new("refuse-study-twice").with("name", name.as_str());
            errors.add_for(&key, label, twice);
        }
        people.push(name);
    }
    people
}

fn in_range(gauge: &Gauge, value: f64) -> Result<f64, Message> {
    let (low, high) = gauge.range;
    let decimals = gauge.decimals();
    let beyond = Message::new("refuse-study-range")
        .number("value", value, decimals)
        .number("min", low, decimals)
        .number("max", high, decimals)
        .with("unit", gauge.unit.symbol());
    (low..=high).contains(&value).then_some(value).ok_or(beyond)
}

/// What is wrong with the whole grid stands at its first box.
pub(super) fn at_first_box(errors: &FieldErrors) -> FieldErrors {
    let mut moved = FieldErrors::new();
    for (field, message) in errors.iter() {
        let first = row_key(0, 0);
        let field = if field == "table" { &first } else { field };
        moved.add(field, message.clone());
    }
    moved
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::by_hand::page_of;
    use calc::units::Unit;
    use jiff::civil::date;
    use shop::sheet::GaugeKind;

    fn caliper() -> Gauge {
        Gauge {
            id: "c-3".to_owned(),
            name: "C-3".to_owned(),
            kind: GaugeKind::Caliper,
            unit: Unit::Millimetre,
            range: (0.0, 150.0),
            resolution: 0.01,
            expanded: 0.02,
            calibrated: date(2026, 1, 1),
            due: date(2027, 1, 1),
            certificate: "K-1".to_owned(),
            directions: Vec::new(),
            length_mm: None,
        }
    }

    /// A grid of 2 × 2 × 2; what stands in `others` stands in it instead, boxes by the key of their mistake.
    fn typed(others: &[(&str, &str)]) -> Typed {
        let mut fields = Typed::new();
        let mut put = |key: String, name: String, usual: String| {
            let other = others.iter().find(|(known, _)| *known == key);
            let value = other.map_or(usual, |(_, value)| (*value).to_owned());
            fields = std::mem::replace(&mut fields, Typed::new()).with(name, value);
        };
        for name in ["parts", "people", "trials"] {
            put(name.to_owned(), name.to_owned(), "2".to_owned());
        }
        for (person, name) in ["Ansa", "Mirel"].into_iter().enumerate() {
            put(person_key(person), person_key(person), name.to_owned());
            for (trial, part) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
                let row = row_key(person, trial);
                let usual = format!("1{person}.{trial}{part}");
                put(reading_key(&row, part), row, usual);
            }
        }
        fields
    }

    fn told(others: &[(&str, &str)]) -> (Option<Table>, Vec<(String, String)>) {
        let p = page_of("");
        let mut errors = FieldErrors::new();
        let table = read(&p, &caliper(), &typed(others), &mut errors);
        let errors = errors
            .iter()
            .map(|(field, message)| (field.to_owned(), p.say(message)));
        (table, errors.collect())
    }

    #[test]
    fn boxes_are_read_by_person_trial_and_part() {
        let (table, errors) = told(&[("cell-2-1-2", " 11,99 ")]);
        assert_eq!(errors, []);
        let (people, readings) = table.expect("it reads");
        assert_eq!(people, ["Ansa", "Mirel"]);
        assert_eq!(readings[0], [[10.0, 10.01], [10.1, 10.11]]);
        assert_eq!(readings[1], [[11.0, 11.99], [11.1, 11.11]]);
    }

    #[test]
    fn a_bad_box_is_named_with_part_person_and_trial() {
        for (key, value, begin) in [
            ("cell-2-1-2", "1O.2", "Part 2, Mirel, trial 1"),
            ("cell-1-2", "", "Part 1, Ansa, trial 2"),
            ("cell-1-1", "151", "Part 1, Ansa, trial 1"),
            ("cell-1-1-2", "NaN", "Part 2, Ansa, trial 1"),
            ("person-2", " ", "Person 2"),
            ("person-2", "Ansa", "Person 2"),
            ("people", "4", "People"),
            ("parts", "1", "Parts"),
            ("trials", "two", "Trials"),
        ] {
            let (table, errors) = told(&[(key, value)]);
            assert!(table.is_none(), "{key} {value}");
            let [(field, text)] = &errors[..] else {
                panic!("{key} {value}: {errors:?}");
            };
            assert!(field == key && text.starts_with(begin), "{field}: {text}");
        }
    }
}
