//! Every gauge, and whether it is in date.

use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use jiff::civil::Date;
use maud::{Markup, html};
use shop::gauge::State as Stands;
use shop::sheet::{Gauge, Shelf};

use super::path;
use crate::app::App;
use crate::job::names;
use crate::shell::{self, Nav, Page};
use crate::show;

/// The list.
pub(super) async fn list(State(app): State<App>, p: Page) -> Response {
    let p = p.at(Nav::Gauges);
    let shelf = app.store.shelf();
    let (_, today) = app.now();
    let title = p.t("gauges-title");
    let body = html! {
        div.plain {
            h1 { (title) }
            @if shelf.gauges().next().is_none() { p.empty { (p.t("gauges-empty")) } }
            table.stack {
                thead { tr { th { (p.t("gauges-name")) } th { (p.t("gauges-kind")) } th { (p.t("gauges-range")) } th { (p.t("gauges-doubt")) } th { (p.t("gauges-due")) } th { (p.t("gauges-state")) } } }
                tbody {
                    @for (_, gauge) in shelf.gauges() {
                        tr {
                            td data-label=(p.t("gauges-name")) { a href=(path(&gauge.id)) { (gauge.name) } }
                            td data-label=(p.t("gauges-kind")) { (p.t(names::gauge_kind(gauge.kind))) }
                            td.n data-label=(p.t("gauges-range")) { (gauge.range.0) " – " (gauge.range.1) " " (gauge.unit.symbol()) }
                            td.n data-label=(p.t("gauges-doubt")) { "± " (shelf.expanded(gauge, today)) " " (gauge.unit.symbol()) }
                            td data-label=(p.t("gauges-due")) { (show::day(shelf.standing(gauge, today, None).due)) }
                            td data-label=(p.t("gauges-state")) { (state(&p, &shelf, gauge, today)) }
                        }
                    }
                }
            }
        }
    };
    Html(shell::page(&p, &title, body).into_string()).into_response()
}

/// Whether it may be used today, as a chip.
pub(super) fn state(p: &Page, shelf: &Shelf, gauge: &Gauge, today: Date) -> Markup {
    match shelf.standing(gauge, today, None).state {
        Stands::InDate => html! { span.v.acc { (p.t("gauge-in-date")) } },
        Stands::OutOfDate => html! { span.v.rej { (p.t("gauge-stale")) } },
        Stands::Failed => html! { span.v.rej { (p.t("gauge-failed")) } },
    }
}
