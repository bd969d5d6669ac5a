//! Nose sets that look the same, what differs, and whether a caliper can tell.

use calc::Message;
use calc::repeated::GaugeDoubt;
use calc::units::Unit;
use calc::working::{Method, Working, fixed, places};

use crate::sheet::{Gauge, GaugeKind, LookAlike, NoseSet};

/// Sizes that lie closer together look the same, mm (common practice, no source).
pub const EYE_MM: f64 = 1.0;

/// How the smallest difference that a gauge can tell is found.
pub const SMALLEST_TOLD: Method = Method {
    name: "smallest-difference-told",
    version: 1,
    source: "U: JCGM 100:2008, F.2.2.1 and 6.2; twice U: common practice, no source",
};

/// A size of a nose set that can differ from its twin's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Whole length of the collet.
    ColletLength,
    /// Gripping section.
    Grip,
    /// Outside of the collet.
    ColletOutside,
    /// Throat of the anvil.
    Throat,
    /// Bore of the housing.
    HousingBore,
    /// Pitch of the teeth.
    Pitch,
    /// Teeth, counted.
    Teeth,
}

impl Size {
    /// The easiest to get at first: outsides, bores, teeth.
    const ALL: [Size; 7] = [
        Size::ColletLength,
        Size::ColletOutside,
        Size::HousingBore,
        Size::Throat,
        Size::Grip,
        Size::Pitch,
        Size::Teeth,
    ];

    /// Its name.
    pub fn name(self) -> Message {
        Message::new(match self {
            Self::ColletLength => "size-collet-length",
            Self::Grip => "size-grip",
            Self::ColletOutside => "size-collet-outside",
            Self::Throat => "size-throat",
            Self::HousingBore => "size-housing-bore",
            Self::Pitch => "size-pitch",
            Self::Teeth => "size-teeth",
        })
    }

    /// As written in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Self::ColletLength => "collet_length_mm",
            Self::Grip => "grip_mm",
            Self::ColletOutside => "collet_outside_mm",
            Self::Throat => "throat_mm",
            Self::HousingBore => "housing_bore_mm",
            Self::Pitch => "pitch_mm",
            Self::Teeth => "teeth",
        }
    }

    fn of(self, nose: &NoseSet) -> Option<f64> {
        match self {
            Self::ColletLength => nose.collet.length_mm,
            Self::Grip => nose.collet.grip_mm,
            Self::ColletOutside => nose.collet.outside_mm,
            Self::Throat => nose.anvil.throat_mm,
            Self::HousingBore => nose.housing.bore_mm,
            Self::Pitch => nose.collet.pitch_mm,
            Self::Teeth => nose.collet.teeth.map(f64::from),
        }
    }

    /// Whether it is one of the collet, the anvil or the housing that both sets share.
    fn is_shared(self, a: &NoseSet, b: &NoseSet) -> bool {
        match self {
            Self::Throat => a.anvil.number == b.anvil.number,
            Self::HousingBore => a.housing.number.is_some() && a.housing.number == b.housing.number,
            _ => a.collet.number == b.collet.number,
        }
    }

    /// What tells it where the caliper cannot.
    fn instead(self) -> &'static str {
        match self {
            Self::ColletLength | Self::ColletOutside => "tell-micrometer",
            Self::Throat | Self::HousingBore => "tell-plug-gauge",
            Self::Grip | Self::Pitch | Self::Teeth => "tell-lens",
        }
    }
}

/// How a difference is told.
#[derive(Clone, Debug, PartialEq)]
pub enum Tell {
    /// By a caliper.
    Caliper,
    /// By counting.
    Count,
    /// Not by a caliper: what to use instead.
    Instead(Message),
    /// There is no caliper in date to say so.
    NoCaliper,
}

impl Tell {
    /// In words, for a difference in `size`.
    pub fn words(&self, size: Size) -> Message {
        match self {
            Self::Caliper if size == Size::Pitch => Message::new("tell-caliper-over"),
            Self::Caliper => Message::new("tell-caliper"),
            Self::Count => Message::new("tell-count"),
            Self::Instead(with) => Message::new("tell-instead").with("with", with.clone()),
            Self::NoCaliper => Message::new("tell-no-caliper"),
        }
    }

    /// As written in JSON.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Caliper => "caliper",
            Self::Count => "count",
            Self::Instead(_) => "not-by-caliper",
            Self::NoCaliper => "no-caliper-in-date",
        }
    }
}

/// A size that differs between two sets.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Which.
    pub size: Size,
    /// On the first set.
    pub first: f64,
    /// On the second set.
    pub second: f64,
    /// How to tell.
    pub tell: Tell,
}

impl Difference {
    /// By how much, without sign.
    pub fn by(&self) -> f64 {
        (self.first - self.second).abs()
    }

    /// Both sizes and the difference, as printed.
    pub fn figures(&self) -> [String; 3] {
        let least = usize::from(self.size != Size::Teeth);
        let decimals = places(self.first, least).max(places(self.second, least));
        let text = |value| match self.size {
            Size::Teeth => fixed(value, 0),
            _ => format!("{} mm", fixed(value, decimals)),
        };
        [text(self.first), text(self.second), text(self.by())]
    }
}

/// Two sets that look the same.
#[derive(Clone, Debug, PartialEq)]
pub struct Twins<'a> {
    /// The one with the lower id.
    pub first: &'a NoseSet,
    /// The other.
    pub second: &'a NoseSet,
    /// What differs: first what a caliper tells, the easiest to get at before the others.
    pub differences: Vec<Difference>,
    /// Sizes that one of the sheets does not know.
    pub not_known: Vec<Size>,
}

impl Twins<'_> {
    /// The numbers by which the two go: of the collets, else of the first parts that differ.
    pub fn numbers(&self) -> [&str; 2] {
        let (a, b) = (self.first, self.second);
        if a.collet.number != b.collet.number {
            [&a.collet.number, &b.collet.number]
        } else if a.anvil.number != b.anvil.number {
            [&a.anvil.number, &b.anvil.number]
        } else {
            [&a.id, &b.id]
        }
    }
}

/// The caliper of `gauges` that is in date and tells the smallest difference.
pub fn best_caliper<'a>(
    gauges: impl IntoIterator<Item = &'a Gauge>,
    is_in_date: impl Fn(&Gauge) -> bool,
) -> Option<&'a Gauge> {
    gauges
        .into_iter()
        .filter(|g| g.kind == GaugeKind::Caliper && g.unit == Unit::Millimetre)
        .filter(|g| is_in_date(g))
        .min_by(|a, b| {
            let told = |g: &Gauge| smallest_told_mm(g.doubt());
            told(a).total_cmp(&told(b)).then_with(|| a.id.cmp(&b.id))
        })
}

/// Expanded uncertainty of one reading, k = 2: certificate and smallest step.
fn expanded_mm(gauge: GaugeDoubt) -> f64 {
    (gauge.expanded.powi(2) + gauge.resolution.powi(2) / 3.0).sqrt()
}

/// The smallest difference of two sizes that a gauge can tell, mm: twice the expanded uncertainty of
/// one reading.
pub fn smallest_told_mm(gauge: GaugeDoubt) -> f64 {
    2.0 * expanded_mm(gauge)
}

/// The working of [`smallest_told_mm`].
pub fn working(gauge: GaugeDoubt) -> Working {
    Working::new(SMALLEST_TOLD)
        .given(
            "w",
            Message::new("given-gauge-expanded"),
            gauge.expanded,
            3,
            "mm",
        )
        .given(
            "r",
            Message::new("given-gauge-step"),
            gauge.resolution,
            3,
            "mm",
        )
        .step("U", "√(w² + r²/3)", expanded_mm(gauge), 4, "mm")
        .step("d", "2 · U", smallest_told_mm(gauge), 3, "mm")
        .note(Message::new("note-told-two-readings"))
}

/// How a difference of `by` in `size` is told. A pitch is measured over `teeth` teeth, over which the
/// difference adds up.
pub fn tell(size: Size, by: f64, teeth: u32, caliper: Option<&Gauge>) -> Tell {
    let seen = match size {
        Size::Teeth => return Tell::Count,
        Size::Pitch => by * f64::from(teeth.saturating_sub(1)),
        _ => by,
    };
    match caliper {
        None => Tell::NoCaliper,
        Some(gauge) if seen > smallest_told_mm(gauge.doubt()) => Tell::Caliper,
        Some(_) => Tell::Instead(Message::new(size.instead())),
    }
}

/// Whether an eye takes one for the other: the same thread and form of teeth, nearly the same
/// fastener and outside. An outside that a sheet does not know tells nothing.
fn look_the_same(a: &NoseSet, b: &NoseSet) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() < EYE_MM;
    let range = |x: (f64, f64), y: (f64, f64)| near(x.0, y.0) && near(x.1, y.1);
    let outside = a.collet.outside_mm.zip(b.collet.outside_mm);
    a.thread == b.thread
        && a.collet.form == b.collet.form
        && range(a.collet.takes_mm, b.collet.takes_mm)
        && range(a.anvil.takes_mm, b.anvil.takes_mm)
        && outside.is_none_or(|(x, y)| near(x, y))
}

/// Every two of `noses` that look the same and are not.
pub fn twins<'a>(
    noses: impl IntoIterator<Item = &'a NoseSet>,
    caliper: Option<&Gauge>,
) -> Vec<Twins<'a>> {
    let mut noses: Vec<&NoseSet> = noses.into_iter().collect();
    noses.sort_by(|a, b| a.id.cmp(&b.id));
    let mut found = Vec::new();
    for (i, first) in noses.iter().enumerate() {
        for second in noses.iter().skip(i + 1) {
            if look_the_same(first, second)
                && let Some(pair) = pair(first, second, caliper)
            {
                found.push(pair);
            }
        }
    }
    found
}

/// What differs between two sets; `None` if nothing differs and nothing is unknown.
fn pair<'a>(first: &'a NoseSet, second: &'a NoseSet, caliper: Option<&Gauge>) -> Option<Twins<'a>> {
    let teeth = first.collet.teeth.min(second.collet.teeth).unwrap_or(0);
    let mut differences = Vec::new();
    let mut not_known = Vec::new();
    for size in Size::ALL {
        if size.is_shared(first, second) {
            continue;
        }
        match (size.of(first), size.of(second)) {
            (Some(a), Some(b)) if a != b => differences.push(Difference {
                size,
                first: a,
                second: b,
                tell: tell(size, (a - b).abs(), teeth, caliper),
            }),
            // Plain jaws have no pitch on either side: nothing is missing.
            (Some(_), Some(_)) => {}
            (None, None) if size == Size::Pitch => {}
            _ => not_known.push(size),
        }
    }
    // Stable: what a caliper tells comes first, the easiest to get at before the others.
    differences.sort_by_key(|d| d.tell != Tell::Caliper);
    (!differences.is_empty() || !not_known.is_empty()).then_some(Twins {
        first,
        second,
        differences,
        not_known,
    })
}

/// A part that a sheet itself names as easily taken for its own.
#[derive(Clone, Debug, PartialEq)]
pub struct LookAlikeOf<'a> {
    /// The set whose sheet names it.
    pub nose: &'a NoseSet,
    /// What the sheet says.
    pub part: &'a LookAlike,
    /// How to tell.
    pub tell: Tell,
}

/// The look-alikes that the sheets of `noses` name.
pub fn look_alikes<'a>(
    noses: impl IntoIterator<Item = &'a NoseSet>,
    caliper: Option<&Gauge>,
) -> Vec<LookAlikeOf<'a>> {
    let mut found: Vec<LookAlikeOf> = noses
        .into_iter()
        .flat_map(|nose| nose.look_alikes.iter().map(move |part| (nose, part)))
        .map(|(nose, part)| LookAlikeOf {
            nose,
            part,
            // The sheet says in words which size it is: taken as a plain outside size.
            tell: tell(
                Size::ColletLength,
                (part.this_mm - part.that_mm).abs(),
                0,
                caliper,
            ),
        })
        .collect();
    found.sort_by(|a, b| (&a.nose.id, &a.part.number).cmp(&(&b.nose.id, &b.part.number)));
    found
}
