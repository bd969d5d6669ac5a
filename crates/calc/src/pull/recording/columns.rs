//! Columns, their units, and the rig that remembers them.

use crate::Message;
use crate::units::Unit;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Force on the fastener.
    Force,
    /// Stroke of the nose.
    Stroke,
    /// Time.
    Time,
}

impl Role {
    /// All, in the order in which samples are kept.
    pub const ALL: [Self; 3] = [Self::Force, Self::Stroke, Self::Time];

    /// Its name in a text.
    pub fn message(self) -> Message {
        Message::new(match self {
            Self::Force => "recording-role-force",
            Self::Stroke => "recording-role-stroke",
            Self::Time => "recording-role-time",
        })
    }

    /// Words in headings: long ones may stand anywhere, single letters alone.
    fn words(self) -> &'static [&'static str] {
        match self {
            Self::Force => &["force", "load", "kraft", "pull", "zugkraft", "last", "f"],
            Self::Stroke => &[
                "stroke",
                "displacement",
                "disp",
                "travel",
                "position",
                "extension",
                "weg",
                "hub",
                "s",
                "x",
            ],
            Self::Time => &["time", "zeit", "elapsed", "t"],
        }
    }

    /// Whether a heading, without its unit, speaks of this.
    pub(super) fn is_named(self, heading: &str) -> bool {
        let mut words = heading.split(|c: char| !c.is_alphanumeric());
        let fits = |word: &str| {
            let known = self.words().iter();
            known
                .into_iter()
                .any(|k| word == *k || (k.len() > 3 && word.contains(k)))
        };
        words.any(|word| fits(&word.to_lowercase()))
    }
}

/// A unit in which loggers write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoggedUnit {
    /// One of the program's own: force, length or seconds.
    Of(Unit),
    /// Thousandths of a second.
    Millisecond,
    /// Millionths of a second.
    Microsecond,
    /// Volts of a sensor; what they mean the rig's scale says.
    Volt,
}

impl LoggedUnit {
    /// The unit written `text`, with or without brackets.
    pub fn parse(text: &str) -> Option<Self> {
        let plain = text.trim().trim_matches(['[', ']', '(', ')', '"', ' ']);
        match plain.to_lowercase().as_str() {
            "ms" | "msec" => return Some(Self::Millisecond),
            "us" | "µs" | "μs" => return Some(Self::Microsecond),
            "v" | "volt" | "volts" => return Some(Self::Volt),
            "sec" | "seconds" => return Some(Self::Of(Unit::Second)),
            "lb" | "lbs" => return Some(Self::Of(Unit::PoundForce)),
            "inch" | "inches" => return Some(Self::Of(Unit::Inch)),
            "" => return None,
            _ => {}
        }
        let unit = Unit::parse(plain)?;
        Self::Of(unit).role().map(|_| Self::Of(unit))
    }

    /// Its symbol.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Of(unit) => unit.symbol(),
            Self::Millisecond => "ms",
            Self::Microsecond => "µs",
            Self::Volt => "V",
        }
    }

    /// What it measures; `None` for volts.
    pub(super) fn role(self) -> Option<Role> {
        use crate::units::Dimension;
        match self {
            Self::Volt => None,
            Self::Millisecond | Self::Microsecond => Some(Role::Time),
            Self::Of(unit) => match unit.dimension() {
                Dimension::Force => Some(Role::Force),
                Dimension::Length => Some(Role::Stroke),
                Dimension::Time => Some(Role::Time),
                _ => None,
            },
        }
    }

    /// One of this in kN, mm or s; `None` if it is no unit of `role`.
    pub(super) fn factor(self, role: Role) -> Option<f64> {
        match (self, role) {
            (Self::Millisecond, Role::Time) => Some(1e-3),
            (Self::Microsecond, Role::Time) => Some(1e-6),
            (Self::Of(unit), role) => unit.convert(
                1.0,
                match role {
                    Role::Force => Unit::Kilonewton,
                    Role::Stroke => Unit::Millimetre,
                    Role::Time => Unit::Second,
                },
            ),
            _ => None,
        }
    }
}

/// Where a column stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// Its number, from 1.
    Number(usize),
    /// Its heading, or the beginning of that.
    Heading(String),
}

/// What a rig knows of one column. What it leaves open is looked for in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// Where it stands.
    pub place: Option<Place>,
    /// Its unit; with volts, `scale` says what one is.
    pub unit: Option<LoggedUnit>,
    /// Multiplies each value: kN, mm or s per volt where the unit is volts, else a correction.
    pub scale: Option<f64>,
    /// Taken from each value before it is multiplied, in the file's unit.
    pub offset: f64,
}

/// A bench rig: what its files look like.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rig {
    /// Force.
    pub force: Column,
    /// Stroke.
    pub stroke: Column,
    /// Time.
    pub time: Column,
    /// Samples a second, where the file has no time.
    pub rate_hz: Option<f64>,
    /// What the cell shows without load, kN on the file's scale, where it is not taken from the rest before the pull.
    pub zero_kn: Option<f64>,
    /// Reading from which on the cell or its amplifier is at its end, kN: as the cell gives it, the zero still in it.
    pub cell_end_kn: Option<f64>,
    /// What the cell bears, kN, where it is not said at what force it is at its end.
    pub cell_bears_kn: Option<f64>,
    /// Force above which a pull is seen, kN; 0.1 if not said, and never within the noise.
    pub start_kn: Option<f64>,
}

impl Rig {
    /// The same, with these units of force, stroke and time where it knows none.
    pub(super) fn with_units(&self, units: [Option<LoggedUnit>; 3]) -> Self {
        let mut rig = self.clone();
        let columns = [&mut rig.force, &mut rig.stroke, &mut rig.time];
        for (column, unit) in columns.into_iter().zip(units) {
            column.unit = column.unit.or(unit);
        }
        rig
    }

    /// What it knows of a column.
    pub fn column(&self, role: Role) -> &Column {
        match role {
            Role::Force => &self.force,
            Role::Stroke => &self.stroke,
            Role::Time => &self.time,
        }
    }
}
