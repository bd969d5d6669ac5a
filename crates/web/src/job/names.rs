//! The names of the shop's notions in the catalogue.

use shop::entry::{AnswerWay, Cover, PackGone, PackState, Phase, Said, Seen, WaitFor};
use shop::job::{Stage, Standing};
use shop::sheet::{Drive, FastenerKind, GaugeKind, ToolState};

macro_rules! names {
    ($($function:ident $type:ty { $($variant:path => $id:literal,)* })*) => {
        $(
            #[doc = concat!("The name of a `", stringify!($type), "` in the catalogue.")]
            pub fn $function(it: $type) -> &'static str {
                match it { $($variant => $id,)* }
            }
        )*
    };
}

names! {
    stage Stage {
        Stage::Received => "stage-received",
        Stage::Fault => "stage-fault",
        Stage::Agreed => "stage-agreed",
        Stage::Rebuilt => "stage-rebuilt",
        Stage::SetUp => "stage-set-up",
        Stage::Proved => "stage-proved",
        Stage::Returned => "stage-returned",
    }
    standing Standing {
        Standing::Done => "standing-done",
        Standing::Skipped => "standing-skipped",
        Standing::Now => "standing-now",
        Standing::Ahead => "standing-ahead",
    }
    phase Phase {
        Phase::AsFound => "as-found",
        Phase::AsLeft => "as-left",
    }
    drive Drive {
        Drive::Battery => "drive-battery",
        Drive::AirHydraulic => "drive-air-hydraulic",
        Drive::Hydraulic => "drive-hydraulic",
    }
    setting_caution Drive {
        Drive::Battery => "setting-caution-battery",
        Drive::AirHydraulic => "setting-caution-air",
        Drive::Hydraulic => "setting-caution-pump",
    }
    running_caution Drive {
        Drive::Battery => "check-energised",
        Drive::AirHydraulic => "check-energised-oil",
        Drive::Hydraulic => "check-energised-oil",
    }
    cover Cover {
        Cover::Covered => "cover-covered",
        Cover::NotCovered => "cover-not-covered",
        Cover::CannotTell => "cover-cannot-tell",
        Cover::InPart => "cover-in-part",
    }
    answer_way AnswerWay {
        AnswerWay::Counter => "way-counter",
        AnswerWay::Telephone => "way-telephone",
        AnswerWay::Writing => "way-writing",
    }
    pack PackState {
        PackState::None => "pack-none",
        PackState::Sound => "pack-sound",
        PackState::Damaged => "pack-damaged",
    }
    pack_gone PackGone {
        PackGone::Collected => "pack-gone-collected",
        PackGone::KeptApart => "pack-gone-kept-apart",
        PackGone::ToOwner => "pack-gone-to-owner",
    }
    said Said {
        Said::Yes => "said-yes",
        Said::No => "said-no",
        Said::NotSure => "said-not-sure",
    }
    seen Seen {
        Seen::Good => "seen-good",
        Seen::Under => "seen-under",
        Seen::Cut => "seen-cut",
        Seen::LockGroovesTorn => "seen-lock-grooves",
        Seen::PullGroovesTorn => "seen-pull-grooves",
        Seen::OffAxis => "seen-off-axis",
        Seen::Gap => "seen-gap",
        Seen::Marked => "seen-marked",
        Seen::BrokeLow => "seen-broke-low",
        Seen::StubProud => "seen-stub-proud",
    }
    wait_for WaitFor {
        WaitFor::Parts => "wait-parts",
        WaitFor::Yes => "wait-yes",
        WaitFor::Tool => "wait-tool",
    }
    tool_state ToolState {
        ToolState::RecordOnly => "state-record-only",
        ToolState::NoEnergy => "state-no-energy",
        ToolState::StrippedNoEnergy => "state-stripped",
        ToolState::Energised => "state-energised",
        ToolState::EnergisedLoaded => "state-loaded",
    }
    gauge_kind GaugeKind {
        GaugeKind::Caliper => "gauge-caliper",
        GaugeKind::Micrometer => "gauge-micrometer",
        GaugeKind::DepthGauge => "gauge-depth",
        GaugeKind::PlugGauge => "gauge-plug",
        GaugeKind::Feeler => "gauge-feeler",
        GaugeKind::LoadCell => "gauge-load-cell",
        GaugeKind::DisplacementSensor => "gauge-displacement",
        GaugeKind::PressureGauge => "gauge-pressure",
        GaugeKind::TorqueWrench => "gauge-torque",
        GaugeKind::Timer => "gauge-timer",
        GaugeKind::SpringTester => "gauge-spring",
        GaugeKind::Ammeter => "gauge-ammeter",
        GaugeKind::FlowMeter => "gauge-flow",
        GaugeKind::Scale => "gauge-scale",
    }
}

/// What the eye can say of a joint of this kind, with the key under which a form posts it.
pub fn looks(kind: FastenerKind) -> impl Iterator<Item = (&'static str, Seen, &'static str)> {
    let all = SEEN.into_iter();
    all.filter_map(move |(key, seen)| Some((key, seen, look(kind, seen)?)))
}

/// What the eye says, in the words of the fastener; `None` where its joints cannot show it.
pub fn look(kind: FastenerKind, look: Seen) -> Option<&'static str> {
    match (kind, look) {
        (FastenerKind::RivetNut, Seen::Under) => Some("look-nut-under"),
        (FastenerKind::RivetNut, Seen::Cut) => Some("look-nut-over"),
        (FastenerKind::BlindRivet, Seen::Under) => Some("look-rivet-under"),
        (FastenerKind::BlindRivet, Seen::PullGroovesTorn) => Some("look-rivet-slips"),
        (FastenerKind::BlindRivet, Seen::BrokeLow) => Some("look-rivet-early"),
        (
            FastenerKind::RivetNut,
            Seen::LockGroovesTorn
            | Seen::PullGroovesTorn
            | Seen::Marked
            | Seen::BrokeLow
            | Seen::StubProud,
        )
        | (FastenerKind::BlindRivet, Seen::LockGroovesTorn | Seen::Cut | Seen::Marked) => None,
        _ => Some(seen(look)),
    }
}

/// The keys under which a form posts what the eye says, in the order of the list.
pub const SEEN: [(&str, Seen); 10] = [
    ("good", Seen::Good),
    ("under", Seen::Under),
    ("cut", Seen::Cut),
    ("lock-grooves", Seen::LockGroovesTorn),
    ("pull-grooves", Seen::PullGroovesTorn),
    ("off-axis", Seen::OffAxis),
    ("gap", Seen::Gap),
    ("marked", Seen::Marked),
    ("broke-low", Seen::BrokeLow),
    ("stub-proud", Seen::StubProud),
];

/// How a job ended, by the key of its row.
pub fn ended(key: &str) -> &'static str {
    match key {
        "no-fault-found" => "end-no-fault-found",
        "unrepaired" => "end-unrepaired",
        "new-tool" => "end-new-tool",
        "scrapped" => "end-scrapped",
        "sent-to-maker" => "end-sent-to-maker",
        _ => "standing-ended",
    }
}

/// The make-safe tick `tick` in the catalogue.
pub fn make_safe(tick: &str) -> &'static str {
    match tick {
        "pack-out" => "safe-pack-out",
        "trigger-pressed" => "safe-trigger-pressed",
        "air-off" => "safe-air-off",
        "air-bled" => "safe-air-bled",
        "pump-off" => "safe-pump-off",
        "lines-zero" => "safe-lines-zero",
        _ => "safe-couplers-parted",
    }
}
