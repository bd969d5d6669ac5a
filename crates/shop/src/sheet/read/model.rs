//! Reads a tool model sheet.

use calc::Message;

use super::table::Table;
use super::value::{self, Span, Word};
use super::{adjuster, bench_test, opening, part, puller, rig, setting, shared};
use crate::sheet::{
    Drive, Guard, Joint, JointAdapter, KitItem, Lubricant, Pack, Supply, Task, TermFrom, ToolModel,
    Warranty,
};

pub(super) fn read(t: &Table) -> Option<ToolModel> {
    let (parts, lubricants) = (t.ids("part"), t.ids("lubricant"));
    let drive = t.word("drive");
    let (pack, supply) = energy(t, drive);
    let stroke_mm = t.number("stroke_mm", Span(1.0, 500.0));
    let adjuster = t.table("adjuster", adjuster::read);
    let settings = setting::read_all(t, adjuster.as_ref(), stroke_mm);
    let on_tool = t.tables("part", "id", 1, |p| {
        Some(part::read(p, &parts, &lubricants))
    });
    opening::order(t, &on_tool);
    Some(ToolModel {
        id: t.id("id"),
        name: t.string("name"),
        drive,
        rated_pull_kn: t.number("rated_pull_kN", Span(0.1, 2000.0)),
        stroke_mm,
        cycle_s: t.number("cycle_s", Span(0.1, 120.0)),
        mass_kg: t.number("mass_kg", Span(0.1, 100.0)),
        vibration_m_per_s2: t.given("vibration_m_per_s2", |v| {
            value::number(v, Span(0.01, 500.0))
        }),
        vibration_uncertainty: vibration_uncertainty(t),
        noise_db: t.given("noise_dB", |v| value::number(v, Span(30.0, 150.0))),
        price_new: t.given("price_new", value::money),
        life_years: t.given("life_years", |v| value::number(v, Span(0.1, 100.0))),
        front_end: shared::thread(t, "front_end"),
        pack,
        supply,
        settings,
        kit: t.tables("kit", "item", 1, |k| Some(kit_item(k, drive))),
        parts: on_tool,
        joints: t.tables("joint", "id", 0, |j| Some(joint(j, &parts))),
        after_opening: t.tables("after_opening", "id", 0, |a| {
            opening::after_opening(a, &parts, &lubricants)
        }),
        lubricants: t.tables("lubricant", "id", 0, |l| Some(lubricant(l))),
        tasks: t.tables("task", "id", 0, |k| Some(task(k, &parts))),
        bench_tests: t.tables("bench_test", "id", 1, bench_test::read),
        pull_limits: t.tables("pull_limit", "", 0, rig::pull_limit),
        cautions: t.tables("caution", "text", 0, |c| Some(shared::caution(c))),
        warranty: t.table("warranty", |w| warranty(w, &parts))?,
        // Last, because it ends the reading when it is not there.
        adjuster: adjuster??,
    })
}

/// An uncertainty of nothing would look like a declaration.
fn vibration_uncertainty(t: &Table) -> Option<f64> {
    let given = t.given("vibration_uncertainty", |v| {
        value::number(v, Span(0.0, 500.0))
    });
    if given.is_some() && !t.has("vibration_m_per_s2") {
        let problem = Message::new("sheet-vibration-missing");
        t.mistake("vibration_uncertainty", problem);
    }
    given
}

/// The pack of a battery tool, the supply of the others.
fn energy(t: &Table, drive: Drive) -> (Option<Pack>, Option<Supply>) {
    let pack = t.table_given("pack", |p| Pack {
        voltage_v: p.number("voltage_V", Span(1.0, 400.0)),
        capacity_ah: p.number("capacity_Ah", Span(0.1, 50.0)),
    });
    let supply = t.table_given("supply", |s| {
        let return_bar = s.given("return_bar", |v| value::number(v, Span(0.1, 1500.0)));
        if drive == Drive::Hydraulic && !s.has("return_bar") {
            s.mistake("return_bar", Message::new("sheet-return-missing"));
        }
        Supply {
            pressure_bar: s.number("pressure_bar", Span(0.5, 1500.0)),
            return_bar,
            fluid: s.string("fluid"),
            puller: puller::read(s, drive),
        }
    });
    if t.good(&["drive"]) {
        let (wanted, other) = match drive {
            Drive::Battery => ("pack", "supply"),
            Drive::AirHydraulic | Drive::Hydraulic => ("supply", "pack"),
        };
        if !t.has(wanted) {
            t.mistake(
                wanted,
                Message::new("sheet-energy-missing").with("key", wanted),
            );
        }
        if t.has(other) {
            t.mistake(
                other,
                Message::new("sheet-energy-not-wanted").with("key", wanted),
            );
        }
    }
    (pack, supply)
}

impl Word for TermFrom {
    const WORDS: &'static [(&'static str, Self)] =
        &[("sale", TermFrom::Sale), ("first-use", TermFrom::FirstUse)];
}

impl Word for Guard {
    const WORDS: &'static [(&'static str, Self)] =
        &[("tails", Guard::Tails), ("hands", Guard::Hands)];
}

fn kit_item(t: &Table, drive: Drive) -> KitItem {
    let pack = t.flag("pack");
    if pack && drive != Drive::Battery {
        t.mistake("pack", Message::new("sheet-kit-pack"));
    }
    KitItem {
        pack,
        guards: t.given("guards", value::word),
        item: t.string("item"),
        count: t.whole("count", 1, 1000),
        internal: t.flag("internal"),
    }
}

fn joint(t: &Table, parts: &std::collections::BTreeSet<String>) -> Joint {
    const TORQUE: Span = Span(0.05, 5000.0);
    let torque_nm = t.number("torque_Nm", TORQUE);
    let tolerance_nm = t.number("tolerance_Nm", TORQUE);
    if t.good(&["torque_Nm", "tolerance_Nm"]) && tolerance_nm >= torque_nm {
        let wider = Message::new("sheet-tolerance-wider");
        t.mistake(
            "tolerance_Nm",
            wider.with("torque", super::mistake::plain(torque_nm)),
        );
    }
    Joint {
        id: t.id("id"),
        name: t.string("name"),
        holds: t.reference("holds", parts),
        thread: shared::thread(t, "thread"),
        count: t.whole("count", 1, 200),
        torque_nm,
        tolerance_nm,
        locking: t.string("locking"),
        tool: t.string("tool"),
        adapter: adapter(t),
        caution: t.table_given("caution", shared::caution),
    }
}

/// `adapter_mm`, with the angle `adapter_deg` that is 0 where it is left out. Folded back over the
/// wrench an adapter is not used: a small slip of the angle would change the torque most there.
fn adapter(t: &Table) -> Option<JointAdapter> {
    let offset = t.given("adapter_mm", |v| value::number(v, Span(1.0, 1000.0)));
    let angle = t.given("adapter_deg", |v| value::number(v, Span(0.0, 90.0)));
    if t.has("adapter_deg") && !t.has("adapter_mm") {
        t.mistake("adapter_deg", Message::new("sheet-adapter-angle"));
    }
    offset.map(|offset_mm| JointAdapter {
        offset_mm,
        angle_deg: angle.unwrap_or(0.0),
    })
}

fn lubricant(t: &Table) -> Lubricant {
    Lubricant {
        id: t.id("id"),
        name: t.string("name"),
    }
}

fn task(t: &Table, parts: &std::collections::BTreeSet<String>) -> Task {
    let task = Task {
        id: t.id("id"),
        what: t.string("what"),
        every_pulls: t
            .given("every_pulls", |v| value::whole(v, 1, 100_000_000))
            .map(u64::from),
        every_days: t.given("every_days", |v| value::whole(v, 1, 36_500)),
        every_shift: t.flag("every_shift"),
        parts: t.references("parts", parts),
        washes: t.references("washes", parts),
    };
    let has_interval = t.has("every_pulls") || t.has("every_days") || task.every_shift;
    if !has_interval {
        t.mistake("every_pulls", Message::new("sheet-interval-missing"));
    }
    task
}

fn warranty(t: &Table, parts: &std::collections::BTreeSet<String>) -> Warranty {
    Warranty {
        months: t.whole("months", 0, 600),
        from: t.given("from", value::word).unwrap_or(TermFrom::Sale),
        pulls: t
            .given("pulls", |v| value::whole(v, 1, 1_000_000_000))
            .map(u64::from),
        excluded_parts: t.references("excluded_parts", parts),
        voided_by: t.list("voided_by", value::string),
        evidence: t.list("evidence", value::string),
        decided_by: t.given("decided_by", value::string),
        source: t.string("source"),
    }
}
