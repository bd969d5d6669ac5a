//! Reads a nose set sheet.

use calc::Message;

use super::mistake::plain;
use super::shared;
use super::table::Table;
use super::value::{self, Span};
use crate::sheet::{Anvil, Collet, Counter, Housing, LookAlike, NoseSet};

/// Nominal diameters of fasteners, mm.
const DIAMETER: Span = Span(0.5, 100.0);

pub(super) fn read(t: &Table) -> Option<NoseSet> {
    let collet = t.table("collet", collet);
    let anvil = t.table("anvil", anvil);
    let (number, counter) = t.table_given("housing", housing).unwrap_or_default();
    Some(NoseSet {
        id: t.id("id"),
        name: t.string("name"),
        thread: shared::thread(t, "thread"),
        housing: Housing {
            number,
            bore_mm: length(t, "housing_bore_mm"),
            counter,
        },
        max_pull_kn: t.given("max_pull_kN", |v| value::number(v, Span(0.1, 2000.0))),
        look_alikes: t.tables("look_alike", "number", 0, |l| Some(look_alike(l))),
        collet: collet?,
        anvil: anvil?,
    })
}

/// A length that a sheet may not know.
fn length(t: &Table, key: &'static str) -> Option<f64> {
    t.given(key, |v| value::number(v, Span::LENGTH))
}

fn counter(t: &Table) -> Counter {
    Counter {
        price: t.given("price", value::money),
        on_hand: t.given("on_hand", |v| value::whole(v, 0, 1_000_000)),
    }
}

fn housing(t: &Table) -> (Option<String>, Counter) {
    (Some(t.string("number")), counter(t))
}

fn collet(t: &Table) -> Collet {
    let (form, pitch_mm) = shared::groove(t);
    let length_mm = length(t, "length_mm");
    let grip_mm = length(t, "grip_mm");
    if t.good(&["length_mm", "grip_mm"]) && grip_mm > length_mm {
        t.mistake("grip_mm", Message::new("sheet-grip-longer"));
    }
    Collet {
        number: t.string("number"),
        form,
        pitch_mm,
        teeth: t.given("teeth", |v| value::whole(v, 0, 200)),
        length_mm,
        grip_mm,
        outside_mm: length(t, "outside_mm"),
        takes_mm: t.interval("takes_mm", DIAMETER),
        counter: counter(t),
    }
}

fn anvil(t: &Table) -> Anvil {
    let throat_mm = length(t, "throat_mm");
    let no_go_mm = length(t, "no_go_mm");
    if let (Some(throat), Some(no_go)) = (throat_mm, no_go_mm)
        && no_go <= throat
    {
        let problem = Message::new("sheet-no-go");
        t.mistake("no_go_mm", problem.with("throat", plain(throat)));
    }
    Anvil {
        number: t.string("number"),
        throat_mm,
        no_go_mm,
        takes_mm: t.interval("takes_mm", DIAMETER),
        counter: counter(t),
    }
}

fn look_alike(t: &Table) -> LookAlike {
    let this_mm = t.number("this_mm", Span::LENGTH);
    let that_mm = t.number("that_mm", Span::LENGTH);
    if t.good(&["this_mm", "that_mm"]) && this_mm == that_mm {
        t.mistake("that_mm", Message::new("sheet-look-alike-same"));
    }
    LookAlike {
        number: t.string("number"),
        differs: t.string("differs"),
        this_mm,
        that_mm,
        effect: t.string("effect"),
    }
}
