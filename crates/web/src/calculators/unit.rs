//! The unit that a name carries: `torque_Nm` is in N·m.

/// Ends of names with the unit's symbol. An end that holds another stands before it.
const ENDS: &[(&str, &str)] = &[
    ("turns_per_mm", "turns/mm"),
    ("_m3_per_min", "m³/min"),
    ("_J_per_kg_K", "J/(kg·K)"),
    ("_kg_per_s", "kg/s"),
    ("_m_per_s", "m/s"),
    ("_Pa_s", "Pa·s"),
    ("_per_min", "/min"),
    ("turns", "turns"),
    ("_Nm", "N·m"),
    ("_kN", "kN"),
    ("_N", "N"),
    ("_mm2", "mm²"),
    ("_mm", "mm"),
    ("_m", "m"),
    ("_cm3", "cm³"),
    ("_l", "l"),
    ("_bar", "bar"),
    ("_J", "J"),
    ("_Wh", "Wh"),
    ("_Ah", "Ah"),
    ("_V", "V"),
    ("_W", "W"),
    ("_K", "K"),
    ("_deg", "°"),
    ("_percent", "%"),
    ("_pct", "%"),
];

/// The symbol of the unit in `name`; empty where it names none.
pub fn of_name(name: &str) -> &'static str {
    let end = ENDS.iter().find(|(end, _)| name.ends_with(end));
    end.map_or("", |(_, symbol)| symbol)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_carries_its_unit() {
        for (name, symbol) in [
            ("torque_Nm", "N·m"),
            ("free_air_m3_per_min", "m³/min"),
            ("turns_per_mm", "turns/mm"),
            ("set_turns", "turns"),
            ("length_m", "m"),
            ("viscosity_Pa_s", "Pa·s"),
            ("pressure_abs_bar", "bar"),
            ("efficiency", ""),
            ("level", ""),
        ] {
            assert_eq!(of_name(name), symbol, "{name}");
        }
    }

    #[test]
    fn an_end_that_holds_another_stands_before_it() {
        for (i, (end, _)) in ENDS.iter().enumerate() {
            let hidden = ENDS[..i].iter().any(|(before, _)| end.ends_with(before));
            assert!(!hidden, "{end}");
        }
    }
}
