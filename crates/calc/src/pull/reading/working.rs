//! How a pull's numbers come about, for whoever reads them.

use crate::Message;
use crate::working::Working;

use super::{Filter, METHOD, Reading};

/// From zero, noise and filter to the numbers of `reading`.
pub fn working(reading: &Reading) -> Working {
    let (told, found) = (&reading.told, &reading.features);
    let given = |id: &'static str| Message::new(id);
    let mut sheet = Working::new(METHOD)
        .given("F₀", given("given-pull-zero"), told.zero_kn, 3, "kN")
        .given("σ", given("given-pull-noise"), told.noise_kn, 3, "kN");
    if let Some(drift) = told.drift_kn {
        sheet = sheet.given("ΔF₀", given("given-pull-drift"), drift, 3, "kN");
    }
    sheet = sheet
        .step("F_raw", "max (F − F₀)", found.peak_raw_kn, 2, "kN")
        .step("F_max", "max H(F − F₀)", found.peak_kn.value, 2, "kN")
        .step("u(F_max)", "√(Σ u²)", found.peak_kn.u, 3, "kN");
    if let Some(load) = found.break_kn {
        sheet = sheet.step("F_b", "F(s_b)", load.value, 2, "kN");
    }
    if let Some(slope) = found.stiffness_kn_mm {
        sheet = sheet.step("c", "ΔF / Δs", slope.value, 3, "kN/mm");
    }
    sheet = sheet
        .step("s", "s_end − s_home", found.stroke_mm.value, 2, "mm")
        .step("W", "∫ F ds", found.energy_j.value, 1, "J");
    sheet.note(match told.filter {
        Filter::Butterworth { order, cutoff_hz } => Message::new("note-pull-butterworth")
            .with("order", order)
            .number("cutoff", cutoff_hz, 0),
        Filter::SavitzkyGolay { window, degree } => Message::new("note-pull-savitzky-golay")
            .with("window", window)
            .with("degree", degree),
        Filter::None | Filter::Usual => Message::new("note-pull-no-filter"),
    })
}
