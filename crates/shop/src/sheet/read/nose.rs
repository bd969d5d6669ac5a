//! Reads a nose set sheet.

use calc::Message;

use super::mistake::plain;
use super::shared;
use super::table::Table;
use super::value::Span;
use crate::sheet::{Anvil, Collet, LookAlike, NoseSet};

/// Nominal diameters of fasteners, mm.
const DIAMETER: Span = Span(0.5, 100.0);

pub(super) fn read(t: &Table) -> Option<NoseSet> {
    let collet = t.table("collet", collet);
    let anvil = t.table("anvil", anvil);
    Some(NoseSet {
        id: t.id("id"),
        name: t.string("name"),
        thread: shared::thread(t, "thread"),
        housing_bore_mm: t.number("housing_bore_mm", Span::LENGTH),
        max_pull_kn: t.number("max_pull_kN", Span(0.1, 2000.0)),
        look_alikes: t.tables("look_alike", "number", 0, |l| Some(look_alike(l))),
        collet: collet?,
        anvil: anvil?,
    })
}

fn collet(t: &Table) -> Collet {
    let (form, pitch_mm) = shared::groove(t);
    let length_mm = t.number("length_mm", Span::LENGTH);
    let grip_mm = t.number("grip_mm", Span::LENGTH);
    if t.good(&["length_mm", "grip_mm"]) && grip_mm > length_mm {
        t.mistake("grip_mm", Message::new("sheet-grip-longer"));
    }
    Collet {
        number: t.string("number"),
        form,
        pitch_mm,
        teeth: t.whole("teeth", 0, 200),
        length_mm,
        grip_mm,
        takes_mm: t.interval("takes_mm", DIAMETER),
    }
}

fn anvil(t: &Table) -> Anvil {
    let throat_mm = t.number("throat_mm", Span::LENGTH);
    let no_go_mm = t.number("no_go_mm", Span::LENGTH);
    if t.good(&["throat_mm", "no_go_mm"]) && no_go_mm <= throat_mm {
        let problem = Message::new("sheet-no-go");
        t.mistake("no_go_mm", problem.with("throat", plain(throat_mm)));
    }
    Anvil {
        number: t.string("number"),
        throat_mm,
        no_go_mm,
        takes_mm: t.interval("takes_mm", DIAMETER),
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
