//! A job sheet with every component that a stage can need.

use calc::decision::{Limits, Verdict};
use calc::screw_stop::Rotation;
use maud::{Markup, html};

use super::components::{arrow, bar, chip};

pub fn body() -> Markup {
    html! {
        div.sheet {
            nav aria-label="Stages" { (rule()) }
            article {
                div.head {
                    div {
                        p.kick { "Job 1047 · Fennholt Glasshouse Frames" }
                        h1 { "Tulvane " span.whole { "TB-32," } " serial " span.whole { "7K-0412" } }
                        p.sub { "Battery puller, 32 kN · 61\u{202f}480 pulls · collars cut, pins stripped" }
                    }
                    p.due { b { "Due 26 Nov" } " " small { "2 days left" } }
                }
                section.stage { (fault()) }
                section.stage { (rebuilt()) }
                section.stage.now { (set_up()) }
                section.stage.next { h2 { "Proved" } p.empty { "Nothing to prove before the set-up is signed off." } }
            }
        }
    }
}

fn rule() -> Markup {
    let stages = [
        ("done", "Received", "24 Nov 08:12"),
        ("done", "Fault", "24 Nov 09:05"),
        ("skipped", "Agreed", "warranty"),
        ("done", "Rebuilt", "24 Nov 11:26"),
        ("now", "Set up", "now"),
        ("next", "Proved", ""),
        ("next", "Returned", ""),
    ];
    html! {
        ol.rule {
            @for (class, name, when) in stages {
                li class=(class) {
                    a href="#main" aria-current=[(class == "now").then_some("step")] {
                        b { (name) } small { (when) }
                    }
                }
            }
        }
    }
}

fn fault() -> Markup {
    let causes = [
        ("Collet worn: teeth rounded", "0.64", "64 %"),
        (
            "Wrong collet: the look-alike, 3.2 mm shorter",
            "0.21",
            "21 %",
        ),
        ("Stroke set too long", "0.09", "9 %"),
        ("A cause that is not in the list", "0.06", "6 %"),
    ];
    html! {
        header.stage-head { h2 { "Fault" } p.stage-note { "24 Nov 09:05, Ansa Reed" } }
        ol.bars {
            @for (what, share, percent) in causes {
                li {
                    details {
                        summary {
                            span.what { (what) }
                            meter min="0" max="1" value=(share) aria-label=(what) {}
                            b.n { (percent) }
                        }
                        ul { li { "Pins stripped: speaks for it, 2.1" } }
                    }
                }
            }
        }
        div.answer {
            p.lab { "Next check" }
            p.mid { "Measure the collet: 42.0 mm long, or 38.8?" }
            p.pm { "2 minutes, tool off and pack out" }
        }
        ul.checks { li { details { summary { "Count the teeth on one finger" small { "3 minutes" } } p { "Six." } } } }
        h3 { "Answered" }
        ul.done-list {
            li { "Does the trigger release at once? " b { "Yes" } small { "24 Nov 08:50, Ansa Reed" } }
        }
        div.result {
            p.what { "Pull force at stall " small { "24 Nov 08:40, Ansa Reed" } }
            p.mid { "32.4 kN " span.pm { "± 0.3" } }
            p { (chip(Verdict::Accept)) }
        }
        table.stack {
            caption { "Estimate" }
            thead { tr { th { "What" } th { "Number" } th.n { "Count" } th.n { "Each" } th.n { "Sum" } } }
            tbody {
                tr {
                    td data-label="What" { "Collet CR8" } td data-label="Number" { "N8-CR8" }
                    td.n data-label="Count" { "1" } td.n data-label="Each" { "86.00" } td.n data-label="Sum" { "86.00" }
                }
                tr {
                    td data-label="What" { "Labour" } td data-label="Number" {}
                    td.n data-label="Count" { "0.7" } td.n data-label="Each" { "62.00" } td.n data-label="Sum" { "43.40" }
                }
            }
        }
        p.sum { "Total " b.mid { "129.40" } }
        details.history { summary { "3 entries" } ol { li { "Received" small { "24 Nov 08:12, Ansa Reed" } } } }
        details.struck { summary { "1 entry struck" } ul { li { s { "Stick-out: 29.2" } " wrong pin" small { "24 Nov 09:00, Ansa Reed" } } } }
    }
}

fn rebuilt() -> Markup {
    html! {
        header.stage-head { h2 { "Rebuilt" } p.stage-note { "Step 3 of 5" } }
        ol.steps {
            li.done { "Pack out, trigger pressed once " small { "11:02, Óscar Vey" } }
            li.skipped { "Clean the nose" p { small { "Not needed: it was new" } } }
            li.now {
                h3 { "Unscrew the adapter" }
                p.warn { b { "Pack out." } " The spring behind it is loaded: keep the nose pointed away." small { "Model sheet; the maker’s instructions go first" } }
                div.hand {
                    (arrow(Rotation::Clockwise))
                    div { b { "Left-hand thread: turn clockwise to free" } span { "Seen from the nose, 17 mm spanner" } }
                }
                dl.facts { dt { "Torque on rebuild" } dd { "28 N·m ± 2.8" small { "dry thread" } } }
            }
            li.next { "Draw the collet" }
            li.next { "Inspect the ejector sleeve" }
        }
    }
}

fn set_up() -> Markup {
    let limits = Limits::new(Some(12.90), Some(13.12)).expect("in order");
    let joints = [
        ("1", "6½", "13.11", 13.11, Verdict::Undecided),
        ("2", "6⅝", "13.01", 13.01, Verdict::Accept),
        ("3", "6⅞", "12.84", 12.84, Verdict::Reject),
        ("4", "8", "12.10", 12.10, Verdict::Reject),
    ];
    html! {
        header { h2 { "Set up for Marlstead M8, code 08" } }
        div.cols {
            dl.facts {
                dt { "Stick-out" } dd { "26.20 mm " span.pm { "± 0.04" } small { "3 readings, caliper C-3, due 1 Mar 2027" } }
                dt { "Nose set" } dd { "N8, collet CR8 " span.acc { "✓ fits, 6 of 6" } small { "Its look-alike CR8-S is 3.2 mm shorter and strips the pin" } }
                dt { "Force" } dd { "23 of 32 kN " span.acc { "✓ enough" } }
            }
            div.answer {
                p.lab { "Adjuster, from fully open" }
                p.big { "6½ " small { "turns" } }
                p.dir { (arrow(Rotation::Clockwise)) "clockwise: shortens the stroke" }
                p.pm { "6.3 to 6.7, about 95 %" }
                details.working {
                    summary { "Show the working" }
                    dl.facts { dt { i { "L" } } dd { "26.20 mm" small { "stick-out, mean of 3" } } }
                    ol.reckoning {
                        li { code { "S = L − 12.0" } code { "= 26.20 − 12.0" } b { "= 14.20 mm" } }
                        li { code { "t = (24.0 − S) / p" } code { "= (24.0 − 14.20) / 1.50" } b { "= 6.53 turns" } }
                    }
                    table.working { thead { tr { th { "Stick-out, mm" } th.n { "Turns" } } } tbody { tr { td { "26.0" } td.n { "6.67" } } tr { td { "26.5" } td.n { "6.33" } } } }
                    p.hint { "Linear between rows of the sheet’s table" }
                }
            }
        }
        h3 { "Trial joints" }
        table.stack {
            thead { tr { th { "Joint" } th { "Turns" } th.n { "Collar, mm" } th { "Against the limits" } th { "Verdict" } } }
            tbody {
                @for (number, turns, shown, value, verdict) in joints {
                    tr {
                        td data-label="Joint" { (number) }
                        td data-label="Turns" { (turns) }
                        td.n data-label="Collar, mm" { (shown) }
                        td data-label="Against the limits" { (bar(value, limits, verdict)) }
                        td data-label="Verdict" { (chip(verdict)) }
                    }
                }
            }
        }
        p.note { "One more good joint: 99.6 % of joints will then be inside the limits." small { "Beta-binomial, 3 joints" } }
        p.note.ok { "Signed off." }
        p.dir { (arrow(Rotation::CounterClockwise)) "counter-clockwise: lengthens the stroke" }
        details.strike { summary { "Strike this entry" } p.hint { "It stays in the record, with your reason." } }
        details.test { summary { "Enter the hold test" } p.hint { "60 s at rated pull." } }
        div.scroll tabindex="0" role="group" aria-label="Recording" { table { tbody { tr { @for i in 0..12 { td.n { (i) ".0" } } } } } }
        div.buttons { a.button href="#main" { "Set-up card" } a.button.quiet href="#main" { "Service report" } }
    }
}
