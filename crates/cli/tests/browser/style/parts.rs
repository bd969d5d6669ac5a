//! Parts that only one stage needs.

use calc::decision::{Limits, Verdict};
use calc::screw_stop::Rotation;
use maud::{Markup, html};

use super::components::{arrow, bar, chip};

pub fn body() -> Markup {
    let limits = Limits::new(Some(12.90), Some(13.12)).expect("in order");
    html! {
        div.sheet {
            nav aria-label="Stages" { ol.rule { li.now { a href="#main" aria-current="step" { b { "Proved" } } } } }
            article {
                div.head { h1 { "Parts of single stages" } }
                section.stage.done {
                    details.stage-done open { summary { h2 { "Set up" } small { "done" } } (set_up(limits)) }
                }
                section.stage.now { h2 { "Proved" } (proved()) }
                section.stage.drop-here {
                    h2 { "Returned" }
                    (drawn_and_attached())
                    ul.papers { li { a href="/" { "Service report (PDF)" } } li { a href="/" { "Set-up card (PDF)" } } }
                }
            }
        }
    }
}

/// The axis drawing, and a photo at its stage.
fn drawn_and_attached() -> Markup {
    html! {
        figure.axis {
            div.wide { svg viewBox="0 0 60 20" role="img" aria-label="Parts along the axis" { path d="M0 10H60" stroke="#1c2a31" {} } }
            div.narrow {}
            details open { summary { "Parts by number" } ol.axis-parts { li { "Anvil " small { "TB32-101" } } } }
        }
        ul.files { li { figure {
            a href="/" { span.file { "readings.csv" } }
            figcaption { b { "readings.csv" } small { "24 Nov 09:05, Ansa" } }
        } } }
        details.add-file open {
            summary { "Add a photo or file" }
            form { div.camera { label for="camera" { "Camera" } input #camera type="file"; } }
        }
    }
}

fn set_up(limits: Limits) -> Markup {
    html! {
        svg.draw viewBox="0 0 328 128" role="img" aria-label="Stick-out is measured from the sheet face to the pin end" {
            rect.d-plate x="60" y="30" width="38" height="76" {}
            rect.d-pin x="60" y="60" width="150" height="16" {}
            path.d-groove d="M120 60v16M126 60v16" {}
            path.d-size d="M98 112V122M210 80V122M98 118H210" {}
        }
        div.answer.no {
            p.lab { "No setting" }
            p.big { "29.20 mm" }
            p { "is outside the band of code 08. A pin of code 10 may have been taken." }
        }
        div.answer { p.dir { (arrow(Rotation::CounterClockwise)) b { "½ turn counter-clockwise (lengthens the stroke)" } } }
        table.stack.joints {
            thead { tr { th { "Joint" } th { "Collar" } th { "Verdict" } } }
            tbody { tr {
                td data-label="Joint" { b { "1" } " at 6½" }
                td data-label="Collar" { b { "13.01 mm" } (bar(13.01, limits, Verdict::Accept)) }
                td data-label="Verdict" { (chip(Verdict::Accept)) small { "Looks good" } }
            } }
        }
        div.criterion {
            div.field { label for="collar" { "Collar diameter" } div.box { input #collar type="text" inputmode="decimal"; span.unit { "mm" } } }
            div.field { label for="gauge" { "Gauge" } select #gauge { option { "Caliper C-3" } } }
        }
    }
}

fn proved() -> Markup {
    html! {
        div.beside {
            div.result { p.what { "As found" } p.mid { "27.1 kN " span.pm { "± 0.3" } } p { (chip(Verdict::Reject)) } }
            div.result { p.what { "As left" } p.mid { "32.4 kN " span.pm { "± 0.3" } } p { (chip(Verdict::Accept)) } }
        }
    }
}
