//! Small drawings that say how to measure.

use maud::{Markup, html};

/// Where stick-out is measured: from the sheet face to the end of the pin, sheets clamped tight.
pub fn stick_out(label: &str) -> Markup {
    html! {
        svg.draw viewBox="0 0 328 128" role="img" aria-label=(label) {
            rect.d-plate x="60" y="30" width="16" height="76" {}
            rect.d-plate x="76" y="30" width="22" height="76" {}
            path.d-pin d="M60 52c-14 0-18 6-18 16s4 16 18 16z" {}
            rect.d-pin x="60" y="60" width="150" height="16" {}
            path.d-groove d="M120 60v16M126 60v16M132 60v16M138 60v16M144 60v16M150 60v16M156 60v16M170 60v16M176 60v16M182 60v16M188 60v16M194 60v16M200 60v16" {}
            path.d-size d="M98 112V122M210 80V122M98 118H210M98 118l7-3v6zM210 118l-7-3v6z" {}
        }
    }
}
