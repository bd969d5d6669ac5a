//! Sheets held against each other: what a tool model's settings name must be there and must fit.

use std::collections::BTreeMap;

use calc::Message;
use calc::decision::Limits;
use calc::units::Unit;
use rust_decimal::Decimal;

use super::read::{Mistake, measures};
use super::{
    Asked, BenchTestKind, Counter, Ending, FastenerFamily, FastenerKind, FaultModel, Gauge,
    GaugeKind, Kind, NoseSet, Rig, Setting, SettingBasis, Sheet, ToolModel,
};
use crate::pressure_setting::{At, Goal, pressure};

/// Every mistake that shows only when the sheets are seen together. `sheets` are file names and what
/// they say; mistakes name line 1, because a sheet no longer knows its lines.
pub fn check_together(sheets: &[(String, Sheet)]) -> Vec<Mistake> {
    let mut check = Check {
        sheets,
        mistakes: Vec::new(),
    };
    check.ids();
    check.counters();
    for (file, sheet) in sheets {
        match sheet {
            Sheet::ToolModel(model) => check.model(file, model),
            Sheet::FaultModel(faults) => {
                check.faults(file, faults);
                check.faults_of_tools(file, faults);
            }
            Sheet::Rig(rig) => check.rig(file, rig),
            Sheet::Fastener(fastener) => {
                for criterion in &fastener.criteria {
                    let key = format!("criterion[{}].gauges", criterion.id);
                    check.gauges(file, key, &criterion.gauges, criterion.unit);
                }
            }
            _ => {}
        }
    }
    check.mistakes
}

struct Check<'a> {
    sheets: &'a [(String, Sheet)],
    mistakes: Vec<Mistake>,
}

impl<'a> Check<'a> {
    fn report(&mut self, file: &str, key: String, value: &str, problem: Message) {
        self.mistakes.push(Mistake {
            file: file.to_owned(),
            line: 1,
            key,
            value: value.to_owned(),
            problem,
        });
    }

    /// An id stands for one sheet of its kind.
    fn ids(&mut self) {
        let mut first: BTreeMap<(Kind, &str), &str> = BTreeMap::new();
        for (file, sheet) in self.sheets {
            if let Some(other) = first.insert((sheet.kind(), sheet.id()), file) {
                let problem = Message::new("sheet-together-twice").with("file", other);
                self.report(file, "id".to_owned(), sheet.id(), problem);
            }
        }
    }

    /// A part number stands for one part: it has one price, and one count on hand.
    fn counters(&mut self) {
        let mut prices: BTreeMap<&str, (&str, Decimal)> = BTreeMap::new();
        let mut counts: BTreeMap<&str, (&str, u32)> = BTreeMap::new();
        for (file, sheet) in self.sheets {
            for sold in sold(sheet) {
                let key = |name: &str| format!("{}.{name}", sold.table);
                if let Some(price) = sold.counter.price {
                    let (other, first) = *prices.entry(sold.number).or_insert((file, price));
                    if first != price {
                        let problem = Message::new("sheet-together-price")
                            .with("file", other)
                            .with("price", first.to_string())
                            .with("number", sold.number);
                        self.report(file, key("price"), &price.to_string(), problem);
                    }
                }
                if let Some(count) = sold.counter.on_hand {
                    let (other, first) = *counts.entry(sold.number).or_insert((file, count));
                    if first != count {
                        let problem = Message::new("sheet-together-on-hand")
                            .with("file", other)
                            .with("count", first)
                            .with("number", sold.number);
                        self.report(file, key("on_hand"), &count.to_string(), problem);
                    }
                }
            }
        }
    }

    /// What answers a check is there. A fault model alone is not held to it: the tools may be at home
    /// elsewhere.
    fn faults(&mut self, file: &str, faults: &FaultModel) {
        let sheets = self.sheets;
        let mut tests = sheets.iter().filter_map(|(_, sheet)| match sheet {
            Sheet::ToolModel(model) => Some(model.bench_tests.iter().map(|t| t.id.as_str())),
            _ => None,
        });
        let tests: Vec<&str> = tests.by_ref().flatten().collect();
        let criteria: Vec<&str> = sheets
            .iter()
            .filter_map(|(_, sheet)| match sheet {
                Sheet::Fastener(fastener) => Some(fastener.criteria.iter().map(|c| c.id.as_str())),
                _ => None,
            })
            .flatten()
            .collect();
        for check in &faults.checks {
            let (key, id, known, problem) = match check.asked_by.as_ref().map(|by| &by.what) {
                Some(Asked::Test(id)) => ("test", id, &tests, "sheet-together-test"),
                Some(Asked::Criterion(id)) => {
                    ("criterion", id, &criteria, "sheet-together-criterion")
                }
                Some(Asked::Feature(_)) | None => continue,
            };
            if !known.is_empty() && !known.contains(&id.as_str()) {
                let key = format!("check[{}].{key}", check.id);
                self.report(file, key, id, Message::new(problem));
            }
        }
    }

    /// What a fault model names of tools is on one of them: a typing mistake would do nothing, silently. Without
    /// any tool model it is not held to it.
    fn faults_of_tools(&mut self, file: &str, faults: &FaultModel) {
        let sheets = self.sheets;
        let models: Vec<&ToolModel> = sheets
            .iter()
            .filter_map(|(_, sheet)| match sheet {
                Sheet::ToolModel(model) => Some(model),
                _ => None,
            })
            .collect();
        if models.is_empty() {
            return;
        }
        let has_part = |id: &str| models.iter().any(|model| model.part_called(id).is_some());
        let worn = faults.causes.iter().filter_map(|cause| {
            let part = cause.worn.as_deref()?;
            Some((format!("cause[{}].worn", cause.id), part))
        });
        let stripped = faults.checks.iter().filter_map(|check| {
            let part = check.stripped_to.as_deref()?;
            Some((format!("check[{}].stripped_to", check.id), part))
        });
        let fitted = faults.checks.iter().flat_map(|check| {
            let parts = check.parts.iter();
            parts.map(|id| (format!("check[{}].parts", check.id), id.as_str()))
        });
        let named = worn.chain(stripped).chain(fitted);
        for (key, part) in named.filter(|(_, part)| !has_part(part)) {
            self.report(file, key, part, Message::new("sheet-together-part"));
        }
        for cause in &faults.causes {
            let rated = cause.per_1000_on.keys();
            for id in rated.filter(|id| models.iter().all(|model| model.id != **id)) {
                let key = format!("cause[{}].per_1000_on", cause.id);
                self.report(file, key, id, Message::new("sheet-together-model"));
            }
        }
    }

    fn model(&mut self, file: &str, model: &ToolModel) {
        for (index, setting) in model.settings.iter().enumerate() {
            self.setting(file, index + 1, model, setting);
        }
        for (row, limit) in model.pull_limits.iter().enumerate() {
            let known =
                |sheet: &Sheet| sheet.kind() == Kind::Fastener && sheet.id() == limit.fastener;
            if !self.sheets.iter().any(|(_, sheet)| known(sheet)) {
                let problem = Message::new("sheet-together-no-fastener");
                let key = format!("pull_limit[{}].fastener", row + 1);
                self.report(file, key, &limit.fastener, problem);
            }
        }
        for test in &model.bench_tests {
            if let BenchTestKind::Measured { unit, gauges, .. } = &test.kind {
                let key = format!("bench_test[{}].gauges", test.id);
                self.gauges(file, key, gauges, *unit);
            }
        }
    }

    /// The gauges of a rig are there and measure force and length. A set of sheets without any gauge is not
    /// held to it.
    fn rig(&mut self, file: &str, rig: &Rig) {
        let gauges = || {
            self.sheets.iter().filter_map(|(_, sheet)| match sheet {
                Sheet::Gauge(gauge) => Some(gauge),
                _ => None,
            })
        };
        let lost: Vec<(&str, &str)> = [
            ("load_cell", &rig.load_cell, Unit::Kilonewton),
            ("stroke_sensor", &rig.stroke_sensor, Unit::Millimetre),
        ]
        .into_iter()
        .filter(|(_, id, unit)| {
            let fits = |g: &Gauge| g.id == **id && measures(g.kind) == unit.dimension();
            gauges().next().is_some() && !gauges().any(fits)
        })
        .map(|(key, id, _)| (key, id.as_str()))
        .collect();
        for (key, id) in lost {
            let problem = Message::new("sheet-together-no-gauge");
            self.report(file, key.to_owned(), id, problem);
        }
    }

    fn setting(&mut self, file: &str, row: usize, model: &ToolModel, setting: &Setting) {
        let nose_set = self.sheets.iter().find_map(|(_, sheet)| match sheet {
            Sheet::NoseSet(nose_set) if nose_set.id == setting.nose_set => Some(nose_set),
            _ => None,
        });
        let fastener = self.sheets.iter().find_map(|(_, sheet)| match sheet {
            Sheet::Fastener(fastener) if fastener.id == setting.fastener => Some(fastener),
            _ => None,
        });
        let key = |name: &str| format!("setting[{row}].{name}");
        match nose_set {
            None => {
                let problem = Message::new("sheet-together-no-nose-set");
                self.report(file, key("nose_set"), &setting.nose_set, problem);
            }
            Some(nose_set) => {
                for problem in misfits(model, nose_set, fastener) {
                    self.report(file, key("nose_set"), &setting.nose_set, problem);
                }
            }
        }
        match fastener {
            None => {
                let problem = Message::new("sheet-together-no-fastener");
                self.report(file, key("fastener"), &setting.fastener, problem);
            }
            Some(fastener) => {
                if fastener.force_kn.1 > model.rated_pull_kn {
                    let problem = Message::new("sheet-together-pull")
                        .number("force", fastener.force_kn.1, 1)
                        .number("rated", model.rated_pull_kn, 1);
                    self.report(file, key("fastener"), &setting.fastener, problem);
                }
                if let Some(problem) = basis_mistake(model, setting, fastener) {
                    let word = match setting.basis {
                        SettingBasis::StickOut => "stick-out",
                        SettingBasis::Stroke => "stroke",
                        SettingBasis::FullStroke => "full-stroke",
                        SettingBasis::Force => "force",
                    };
                    self.report(file, key("by"), word, problem);
                }
            }
        }
    }

    /// One of `kinds` is among the gauges and shows what `unit` measures. A set of sheets without
    /// any gauge is not held to it: the gauges may be at home elsewhere.
    fn gauges(&mut self, file: &str, key: String, kinds: &[GaugeKind], unit: Unit) {
        let mut any = false;
        let served = self.sheets.iter().any(|(_, sheet)| match sheet {
            Sheet::Gauge(gauge) => {
                any = true;
                kinds.contains(&gauge.kind) && measures(gauge.kind) == unit.dimension()
            }
            _ => false,
        });
        if any && !served {
            let problem = Message::new("sheet-together-no-gauge");
            self.report(file, key, "", problem);
        }
    }
}

/// A part with a number, as one sheet has it.
struct Sold<'a> {
    table: String,
    number: &'a str,
    counter: Counter,
}

fn sold(sheet: &Sheet) -> Vec<Sold<'_>> {
    match sheet {
        Sheet::ToolModel(model) => {
            let parts = model.parts.iter().map(|part| Sold {
                table: format!("part[{}]", part.id),
                number: &part.number,
                counter: Counter {
                    price: Some(part.price),
                    on_hand: None,
                },
            });
            parts.collect()
        }
        Sheet::NoseSet(nose) => {
            let of = |table: &str, number, counter| Sold {
                table: table.to_owned(),
                number,
                counter,
            };
            let mut parts = vec![
                of("collet", nose.collet.number.as_str(), nose.collet.counter),
                of("anvil", nose.anvil.number.as_str(), nose.anvil.counter),
            ];
            let housing = nose.housing.number.as_deref();
            parts.extend(housing.map(|number| of("housing", number, nose.housing.counter)));
            parts
        }
        _ => Vec::new(),
    }
}

/// Why a nose set cannot be the one that a setting names.
fn misfits(
    model: &ToolModel,
    nose_set: &NoseSet,
    fastener: Option<&FastenerFamily>,
) -> Vec<Message> {
    let mut problems = Vec::new();
    if nose_set.thread != model.front_end {
        problems.push(
            Message::new("sheet-together-thread")
                .with("nose", nose_set.thread.size.as_str())
                .with("tool", model.front_end.size.as_str()),
        );
    }
    let Some(fastener) = fastener else {
        return problems;
    };
    let collet = &nose_set.collet;
    if (collet.form, collet.pitch_mm) != (fastener.groove.form, fastener.groove.pitch_mm) {
        problems.push(Message::new("sheet-together-groove"));
    }
    let takes = |(min, max): (f64, f64)| (min..=max).contains(&fastener.diameter_mm);
    if !takes(collet.takes_mm) || !takes(nose_set.anvil.takes_mm) {
        problems.push(Message::new("sheet-together-diameter").number(
            "diameter",
            fastener.diameter_mm,
            1,
        ));
    }
    if let Some(most) = nose_set.max_pull_kn.filter(|m| fastener.force_kn.1 > *m) {
        problems.push(
            Message::new("sheet-together-nose-pull")
                .number("force", fastener.force_kn.1, 1)
                .number("most", most, 1),
        );
    }
    problems
}

/// Why a setting's basis does not suit its fastener.
fn basis_mistake(
    model: &ToolModel,
    setting: &Setting,
    fastener: &FastenerFamily,
) -> Option<Message> {
    match setting.basis {
        SettingBasis::StickOut => match fastener.stick_out_mm {
            None => Some(Message::new("sheet-together-stick-out")),
            Some(band) => uncovered(setting, band),
        },
        SettingBasis::Stroke => match fastener.stroke_mm {
            None => Some(Message::new("sheet-together-stroke")),
            Some(band) => uncovered(setting, band),
        },
        SettingBasis::FullStroke => (fastener.ending == Ending::NonBreak)
            .then(|| Message::new("sheet-together-full-stroke")),
        SettingBasis::Force if fastener.kind != FastenerKind::RivetNut => {
            Some(Message::new("sheet-together-force"))
        }
        SettingBasis::Force => pressure(model, fastener, Goal::Stop, At::Bench)
            .err()
            .map(|why| why.message()),
    }
}

/// A good reading must find its row: the table covers the whole band.
fn uncovered(setting: &Setting, band: Limits) -> Option<Message> {
    let (first, last) = (setting.rows.first()?.0, setting.rows.last()?.0);
    let (lower, upper) = (band.lower()?, band.upper()?);
    (lower < first || upper > last).then(|| {
        Message::new("sheet-together-cover")
            .number("first", first, 1)
            .number("last", last, 1)
            .number("lower", lower, 1)
            .number("upper", upper, 1)
    })
}
