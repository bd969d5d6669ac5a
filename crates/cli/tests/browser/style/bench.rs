//! The bench page: jobs on hand.

use maud::{Markup, html};

pub fn body() -> Markup {
    let jobs = [
        (
            1047,
            "Tulvane TB-32, serial 7K-0412",
            "Fennholt Glasshouse Frames",
            "Collars cut, pins stripped",
            4,
            "Set up",
            "26 Nov",
            false,
            "",
        ),
        (
            1048,
            "Orrinbeck AH-21, serial 2203-118",
            "Corvane Trailer Bodies",
            "Two pulls on line 3",
            1,
            "Fault",
            "24 Nov",
            true,
            "",
        ),
        (
            1051,
            "Skarnholt HP-90, serial H90-077",
            "Hollin Flats Bin Erectors",
            "Pump runs, no pull",
            3,
            "Rebuilt",
            "28 Nov",
            false,
            "Waits for parts",
        ),
    ];
    html! {
        div.plain {
            div.stage-head { h1 { "Bench" } a.button href="/forms" { "Receive a tool" } }
            ul.cards {
                @for (number, tool, customer, complaint, at, stage, due, is_late, waits) in jobs {
                    li {
                        h3 { a href="/" { (tool) } }
                        p.kick { "Job " (number) " · " (customer) }
                        p.due.late[is_late] { b { (due) } }
                        p.sub { (complaint) }
                        div.mini aria-hidden="true" {
                            @for i in 0..7 {
                                span class=(if i < at { if i == 2 { "skipped" } else { "done" } } else if i == at { "now" } else { "next" }) {}
                            }
                        }
                        span.stage-name { (stage) }
                        @if !waits.is_empty() { span.wait { (waits) } }
                    }
                }
            }
            h2 { "Returned this week" }
            p.empty { "No tool went back this week." }
        }
    }
}
