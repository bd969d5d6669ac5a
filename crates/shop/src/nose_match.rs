//! Does a nose set fit a fastener and a tool, criterion by criterion.

use calc::Message;

use crate::sheet::{FastenerFamily, GrooveForm, NoseSet, ToolModel};

/// Whether one criterion is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// Met.
    Yes,
    /// Not met.
    No,
    /// A size is missing, so nobody can say.
    Unknown,
}

/// A criterion, whether it is met, and the numbers behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// Name of the criterion.
    pub name: Message,
    /// Whether it is met.
    pub fit: Fit,
    /// The two sides that were compared.
    pub detail: Message,
}

/// All criteria of one nose set.
#[derive(Clone, Debug, PartialEq)]
pub struct Match {
    /// Criteria.
    pub reasons: Vec<Reason>,
}

impl Match {
    /// Met criteria and all.
    pub fn count(&self) -> (usize, usize) {
        let met = self.reasons.iter().filter(|r| r.fit == Fit::Yes).count();
        (met, self.reasons.len())
    }

    /// Fits only if every criterion is met; undecided if one is unknown and none fails.
    pub fn fit(&self) -> Fit {
        let has = |fit| self.reasons.iter().any(|r| r.fit == fit);
        if has(Fit::No) {
            Fit::No
        } else if has(Fit::Unknown) {
            Fit::Unknown
        } else {
            Fit::Yes
        }
    }
}

/// Compares `nose` with `fastener` and `model`.
pub fn compare(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Match {
    Match {
        reasons: vec![
            front_thread(model, nose),
            groove(fastener, nose),
            pitch(fastener, nose),
            grip_length(fastener, nose),
            size(fastener, nose),
            throat(fastener, nose),
            force(model, fastener, nose),
            setting(model, fastener, nose),
        ],
    }
}

fn yes_no(met: bool) -> Fit {
    if met { Fit::Yes } else { Fit::No }
}

fn front_thread(model: &ToolModel, nose: &NoseSet) -> Reason {
    let text = |t: &crate::sheet::Thread| -> String {
        let hand = match t.hand {
            calc::screw_stop::Hand::Right => "RH",
            calc::screw_stop::Hand::Left => "LH",
        };
        format!("{} {hand}", t.size)
    };
    Reason {
        name: Message::new("match-thread"),
        fit: yes_no(nose.thread == model.front_end),
        detail: Message::new("match-two")
            .with("nose", text(&nose.thread))
            .with("other", text(&model.front_end)),
    }
}

fn form_name(form: GrooveForm) -> Message {
    Message::new(match form {
        GrooveForm::Round => "groove-round",
        GrooveForm::Vee60 => "groove-vee60",
        GrooveForm::Buttress => "groove-buttress",
        GrooveForm::Plain => "groove-plain",
        GrooveForm::Thread => "groove-thread",
    })
}

fn groove(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    Reason {
        name: Message::new("match-groove"),
        fit: yes_no(nose.collet.form == fastener.groove.form),
        detail: Message::new("match-two")
            .with("nose", form_name(nose.collet.form))
            .with("other", form_name(fastener.groove.form)),
    }
}

fn pitch(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let plain = |form| matches!(form, GrooveForm::Plain);
    let (fit, detail) = match (nose.collet.pitch_mm, fastener.groove.pitch_mm) {
        (Some(a), Some(b)) => (
            yes_no((a - b).abs() <= 0.01),
            Message::new("match-two-mm")
                .number("nose", a, 2)
                .number("other", b, 2),
        ),
        _ if plain(nose.collet.form) && plain(fastener.groove.form) => {
            (Fit::Yes, Message::new("match-plain"))
        }
        _ => (Fit::Unknown, Message::new("match-missing")),
    };
    Reason {
        name: Message::new("match-pitch"),
        fit,
        detail,
    }
}

fn grip_length(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let (fit, detail) = match fastener.tail_mm {
        Some(tail) => (
            yes_no(nose.collet.grip_mm <= tail),
            Message::new("match-two-mm")
                .number("nose", nose.collet.grip_mm, 1)
                .number("other", tail, 1),
        ),
        None => (Fit::Unknown, Message::new("match-missing")),
    };
    Reason {
        name: Message::new("match-grip"),
        fit,
        detail,
    }
}

fn size(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let d = fastener.diameter_mm;
    let takes = |range: (f64, f64)| (range.0..=range.1).contains(&d);
    Reason {
        name: Message::new("match-size"),
        fit: yes_no(takes(nose.collet.takes_mm) && takes(nose.anvil.takes_mm)),
        detail: Message::new("match-range")
            .number("min", nose.collet.takes_mm.0.max(nose.anvil.takes_mm.0), 1)
            .number("max", nose.collet.takes_mm.1.min(nose.anvil.takes_mm.1), 1)
            .number("other", d, 1),
    }
}

/// The anvil's throat makes the swaged diameter, so it must lie inside that criterion's limits.
fn throat(fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let throat = nose.anvil.throat_mm;
    let limits = fastener.criterion("collar-diameter").map(|c| c.limits);
    let (fit, detail) = match limits.and_then(|l| l.lower().zip(l.upper())) {
        Some((lower, upper)) => (
            yes_no((lower..=upper).contains(&throat)),
            Message::new("match-within")
                .number("nose", throat, 2)
                .number("min", lower, 2)
                .number("max", upper, 2),
        ),
        None => (
            yes_no(throat > 0.0),
            Message::new("match-throat-free").number("nose", throat, 2),
        ),
    };
    Reason {
        name: Message::new("match-throat"),
        fit,
        detail,
    }
}

fn force(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let bears = model.rated_pull_kn.min(nose.max_pull_kn);
    Reason {
        name: Message::new("match-force"),
        fit: yes_no(fastener.force_kn.1 <= bears),
        detail: Message::new("match-force-detail")
            .number("needs", fastener.force_kn.1, 1)
            .number("bears", bears, 1),
    }
}

fn setting(model: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet) -> Reason {
    let known = model
        .settings
        .iter()
        .any(|s| s.nose_set == nose.id && s.fastener == fastener.id);
    Reason {
        name: Message::new("match-setting"),
        fit: yes_no(known),
        detail: Message::new(if known {
            "match-setting-known"
        } else {
            "match-setting-none"
        }),
    }
}
