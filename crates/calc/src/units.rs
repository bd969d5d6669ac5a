//! Units of readings and limits, and their exact conversions.
//!
//! # Source
//! NIST SP 811 (2008) Appendix B.8: 1 in = 25.4 mm, 1 lbf = 4.448 221 615 260 5 N,
//! 1 psi = 6 894.757 293 168 361 Pa (from lbf and in), 1 kgf = 9.806 65 N, 1 ozf = 1/16 lbf, 1 US gallon =
//! 231 in³, 1 lb = 0.453 592 37 kg, all exact by definition.

/// Standard atmosphere, Pa, exact by definition.
pub(crate) const ATMOSPHERE_PA: f64 = 101_325.0;

const LBF: f64 = 4.448_221_615_260_5;
const KGF: f64 = 9.806_65;
const INCH: f64 = 0.0254;
const CUBIC_INCH: f64 = INCH * INCH * INCH;
const POUND: f64 = 0.453_592_37;

/// What kind of quantity a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// Length.
    Length,
    /// Force.
    Force,
    /// Torque.
    Torque,
    /// Pressure.
    Pressure,
    /// Time.
    Time,
    /// Ratio.
    Ratio,
    /// Temperature.
    Temperature,
    /// Current.
    Current,
    /// Volume flow.
    Flow,
    /// Turns of a screw.
    Turns,
    /// A count.
    Count,
    /// Energy.
    Energy,
    /// Power.
    Power,
    /// Volume.
    Volume,
    /// Area.
    Area,
    /// Mass.
    Mass,
}

macro_rules! units {
    ($($name:ident $symbol:literal $dimension:ident $factor:expr, $doc:literal;)*) => {
        /// A unit of measurement.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Unit { $(#[doc = $doc] $name,)* }

        impl Unit {
            /// Every unit.
            pub const ALL: &[Unit] = &[$(Unit::$name,)*];

            /// The symbol as printed and as written in sheets.
            pub fn symbol(self) -> &'static str {
                match self { $(Unit::$name => $symbol,)* }
            }

            /// What it measures.
            pub fn dimension(self) -> Dimension {
                match self { $(Unit::$name => Dimension::$dimension,)* }
            }

            /// How many SI units of its dimension one of it is.
            fn factor(self) -> f64 {
                match self { $(Unit::$name => $factor,)* }
            }
        }
    };
}

units! {
    Millimetre "mm" Length 0.001, "Millimetre.";
    Inch "in" Length INCH, "Inch.";
    Metre "m" Length 1.0, "Metre.";
    Foot "ft" Length INCH * 12.0, "Foot.";
    Kilonewton "kN" Force 1000.0, "Kilonewton.";
    Newton "N" Force 1.0, "Newton.";
    PoundForce "lbf" Force LBF, "Pound-force.";
    KilogramForce "kgf" Force KGF, "Kilogram-force.";
    NewtonMetre "N·m" Torque 1.0, "Newton metre.";
    PoundForceInch "lbf·in" Torque LBF * INCH, "Pound-force inch.";
    PoundForceFoot "lbf·ft" Torque LBF * INCH * 12.0, "Pound-force foot.";
    OunceForceInch "ozf·in" Torque LBF * INCH / 16.0, "Ounce-force inch.";
    KilogramForceMetre "kgf·m" Torque KGF, "Kilogram-force metre.";
    KilogramForceCentimetre "kgf·cm" Torque KGF * 0.01, "Kilogram-force centimetre.";
    Pascal "Pa" Pressure 1.0, "Pascal.";
    Bar "bar" Pressure 1e5, "Bar.";
    Psi "psi" Pressure LBF / (INCH * INCH), "Pound-force per square inch.";
    Megapascal "MPa" Pressure 1e6, "Megapascal.";
    Kilopascal "kPa" Pressure 1e3, "Kilopascal.";
    KilogramForcePerCm2 "kgf/cm²" Pressure KGF * 1e4, "Kilogram-force per square centimetre.";
    Atmosphere "atm" Pressure ATMOSPHERE_PA, "Standard atmosphere.";
    Second "s" Time 1.0, "Second.";
    Minute "min" Time 60.0, "Minute.";
    Percent "%" Ratio 0.01, "Percent.";
    Celsius "°C" Temperature 1.0, "Degree Celsius.";
    Ampere "A" Current 1.0, "Ampere.";
    LitrePerMinute "l/min" Flow 0.001 / 60.0, "Litre per minute.";
    CubicMetrePerMinute "m³/min" Flow 1.0 / 60.0, "Cubic metre per minute.";
    CubicFootPerMinute "ft³/min" Flow CUBIC_INCH * 1728.0 / 60.0, "Cubic foot per minute.";
    Turn "turns" Turns 1.0, "Turns of a screw.";
    Piece "pcs" Count 1.0, "Pieces.";
    Joule "J" Energy 1.0, "Joule.";
    WattHour "Wh" Energy 3600.0, "Watt hour.";
    FootPoundForce "ft·lbf" Energy LBF * INCH * 12.0, "Foot pound-force, as work.";
    Watt "W" Power 1.0, "Watt.";
    Horsepower "hp" Power LBF * INCH * 12.0 * 550.0, "Horsepower, 550 ft·lbf a second.";
    CubicCentimetre "cm³" Volume 1e-6, "Cubic centimetre.";
    Litre "l" Volume 1e-3, "Litre.";
    CubicInch "in³" Volume CUBIC_INCH, "Cubic inch.";
    GallonUs "gal" Volume CUBIC_INCH * 231.0, "US gallon.";
    SquareMillimetre "mm²" Area 1e-6, "Square millimetre.";
    SquareInch "in²" Area INCH * INCH, "Square inch.";
    Kilogram "kg" Mass 1.0, "Kilogram.";
    Gram "g" Mass 1e-3, "Gram.";
    Pound "lb" Mass POUND, "Pound.";
    Ounce "oz" Mass POUND / 16.0, "Ounce.";
}

impl Unit {
    /// The unit written `symbol`, also in plain ASCII (`Nm`, `lbf.in`).
    pub fn parse(symbol: &str) -> Option<Self> {
        let plain = |s: &str| s.replace(['·', '.', ' '], "").to_lowercase();
        Self::ALL
            .iter()
            .copied()
            .find(|unit| unit.symbol() == symbol)
            .or_else(|| {
                Self::ALL
                    .iter()
                    .copied()
                    .find(|unit| plain(unit.symbol()) == plain(symbol))
            })
    }

    /// `value` of this unit in `to`; `None` if they measure different things.
    pub fn convert(self, value: f64, to: Unit) -> Option<f64> {
        if self == to {
            return Some(value);
        }
        (self.dimension() == to.dimension()).then(|| value * self.factor() / to.factor())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn conversions_match_nist_sp_811() {
        // NIST SP 811 (2008) Appendix B.8, printed digits.
        for (from, to, printed, half_digit) in [
            (Unit::PoundForceInch, Unit::NewtonMetre, 0.112_984_8, 5e-8),
            (Unit::PoundForceFoot, Unit::NewtonMetre, 1.355_818, 5e-7),
            (Unit::PoundForce, Unit::Newton, 4.448_222, 5e-7),
            (Unit::Psi, Unit::Bar, 0.068_947_57, 5e-9),
            (Unit::Psi, Unit::Pascal, 6_894.757, 5e-4),
            (Unit::Megapascal, Unit::Psi, 145.0377, 5e-5),
            (Unit::Megapascal, Unit::Bar, 10.0, 1e-12),
            (Unit::KilogramForceMetre, Unit::NewtonMetre, 9.806_65, 1e-12),
            (Unit::OunceForceInch, Unit::NewtonMetre, 7.061_552e-3, 5e-10),
            (Unit::Inch, Unit::Millimetre, 25.4, 1e-12),
            (Unit::Foot, Unit::Metre, 0.3048, 1e-15),
            (Unit::KilogramForcePerCm2, Unit::Kilopascal, 98.0665, 1e-12),
            (Unit::Atmosphere, Unit::Pascal, 101_325.0, 1e-9),
            (Unit::FootPoundForce, Unit::Joule, 1.355_818, 5e-7),
            (Unit::Horsepower, Unit::Watt, 745.699_9, 5e-5),
            (Unit::CubicInch, Unit::CubicCentimetre, 16.387_06, 5e-6),
            (Unit::GallonUs, Unit::Litre, 3.785_412, 5e-7),
            (
                Unit::CubicFootPerMinute,
                Unit::LitrePerMinute,
                28.316_85,
                5e-6,
            ),
            (Unit::Pound, Unit::Kilogram, 0.453_592_37, 1e-15),
            (Unit::Ounce, Unit::Gram, 28.349_52, 5e-6),
        ] {
            let got = from.convert(1.0, to).expect("same dimension");
            assert!((got - printed).abs() <= half_digit, "{from:?}: {got}");
        }
    }

    #[test]
    fn lengths_do_not_become_forces() {
        assert_eq!(Unit::Millimetre.convert(1.0, Unit::Newton), None);
        assert_eq!(Unit::NewtonMetre.convert(1.0, Unit::Joule), None);
    }

    #[test]
    fn symbols_read_back() {
        for unit in Unit::ALL {
            assert_eq!(Unit::parse(unit.symbol()), Some(*unit));
        }
        assert_eq!(Unit::parse("Nm"), Some(Unit::NewtonMetre));
        assert_eq!(Unit::parse("furlong"), None);
    }

    proptest! {
        #[test]
        fn round_trips(value in -1e6..1e6f64) {
            for from in Unit::ALL {
                for to in Unit::ALL {
                    if let Some(there) = from.convert(value, *to) {
                        let back = to.convert(there, *from).expect("same dimension");
                        prop_assert!((back - value).abs() <= 1e-12 * value.abs().max(1.0));
                    }
                }
            }
        }
    }
}
