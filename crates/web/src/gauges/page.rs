//! The page of one gauge: how it stands, what was written of it, and the forms that add to that.

use std::sync::Arc;

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use jiff::Timestamp;
use jiff::civil::Date;
use maud::{Markup, html};
use shop::entry::{Entry, PersonKey};
use shop::gauge::{History, subject_of};
use shop::sheet::{Gauge, Kind, Pin, Shelf};
use store::Names;

use super::{backwards, calibration, check, grid, history, list, study};
use crate::app::{App, failed};
use crate::forms::{FieldErrors, Typed};
use crate::job::names;
use crate::shell::{Form, Page, error_page, page_with_errors};
use crate::show;

/// A form that was refused.
pub(super) struct Refused<'a> {
    /// What was typed.
    pub typed: &'a Typed,
    /// What is wrong with it.
    pub errors: &'a FieldErrors,
}

/// What the parts of the page see.
pub(super) struct View<'a> {
    pub p: &'a Page,
    pub app: &'a App,
    pub shelf: &'a Shelf,
    pub gauge: &'a Gauge,
    pub history: &'a History,
    pub entries: &'a [Entry],
    pub names: &'a Names,
    pub today: Date,
    /// What stands in the address.
    pub query: &'a Typed,
    pub refused: Option<&'a Refused<'a>>,
}

impl View<'_> {
    /// The text `id`.
    pub fn t(&self, id: &str) -> String {
        self.p.t(id)
    }

    /// A text with values.
    pub fn say(&self, message: &Message) -> String {
        self.p.say(message)
    }

    /// The name behind a key.
    pub fn person(&self, key: &PersonKey) -> String {
        let name = self.names.get(key).cloned();
        name.unwrap_or_else(|| self.t("name-erased"))
    }

    /// `24 Nov 08:12, Ansa`.
    pub fn stamp(&self, at: Timestamp, by: &PersonKey) -> String {
        format!("{}, {}", show::moment(at, &self.app.zone), self.person(by))
    }

    /// The form `id`, with what was typed into it if it was refused.
    pub fn form<'f>(&'f self, id: &'f str) -> Form<'f> {
        match self.refused {
            Some(refused) if refused.typed.get("form") == id => {
                Form::new(self.p, id, refused.typed, refused.errors)
            }
            _ => Form::blank(self.p, id),
        }
    }

    /// Whether the form `id` is shown again after a refusal.
    pub fn is_refused(&self, id: &str) -> bool {
        self.refused.is_some_and(|r| r.typed.get("form") == id)
    }

    /// Where the form `act` is sent.
    pub fn action(&self, act: &str) -> String {
        format!("{}/{act}", super::path(&self.gauge.id))
    }
}

/// What a page or paper of a gauge is made from.
pub(super) struct Held {
    shelf: Arc<Shelf>,
    pin: Pin,
    entries: Vec<Entry>,
    names: Names,
    none: History,
    nothing: Typed,
}

impl Held {
    /// All that is held of the gauge `id`.
    ///
    /// # Errors
    /// There is no such gauge, or the record cannot be read.
    pub async fn of(app: &App, p: &Page, id: &str) -> Result<Self, Response> {
        let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
        let shelf = app.store.shelf();
        let newest = shelf.history(Kind::Gauge, id).last().ok_or_else(not_here)?;
        let pin = Pin {
            id: id.to_owned(),
            revision: newest.number,
        };
        let logged = app.store.entries(subject_of(id)).await.map_err(failed)?;
        Ok(Self {
            shelf,
            pin,
            entries: logged.into_iter().map(|l| l.entry).collect(),
            names: app.store.names().await.map_err(failed)?,
            none: History::default(),
            nothing: Typed::new(),
        })
    }

    /// The same for its parts; `None` where the sheet is no gauge's.
    pub fn view<'a>(&'a self, app: &'a App, p: &'a Page, shown: Shown<'a>) -> Option<View<'a>> {
        let history = self.shelf.gauge_history(&self.pin.id);
        let (query, refused) = match shown {
            Shown::Asked(query) => (query, None),
            Shown::Refused(refused) => (&self.nothing, Some(refused)),
            Shown::Plain => (&self.nothing, None),
        };
        Some(View {
            p,
            app,
            shelf: &self.shelf,
            gauge: self.shelf.gauge(&self.pin)?,
            history: history.unwrap_or(&self.none),
            entries: &self.entries,
            names: &self.names,
            today: app.now().1,
            query,
            refused,
        })
    }
}

/// As what the page is shown.
#[derive(Clone, Copy)]
pub(super) enum Shown<'a> {
    /// With what stands in its address.
    Asked(&'a Typed),
    /// After a form was refused.
    Refused(&'a Refused<'a>),
    /// On paper.
    Plain,
}

/// The page.
pub(super) async fn page(
    app: &App,
    p: &Page,
    id: &str,
    shown: Shown<'_>,
) -> Result<Response, Response> {
    let held = Held::of(app, p, id).await?;
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let v = held.view(app, p, shown).ok_or_else(not_here)?;
    let in_doubt = backwards::section(&v).await.map_err(failed)?;
    let body = html! {
        div.plain {
            p { a href=(super::PATH) { (v.t("gauges-title")) } }
            h1 { (v.gauge.name) }
            @if v.shelf.is_withdrawn(Kind::Gauge, id) { p.warn { (v.t("sheet-withdrawn")) } }
            (head(&v))
            (in_doubt)
            h2 { (v.t("gauge-history")) }
            (history::lines(&v))
            h2 { (v.t("gauge-write-down")) }
            (calibration::form(&v))
            (check::form(&v))
            (study::form(&v))
        }
    };
    let size = grid::is_asked(v.query).then(|| grid::size(p, v.query));
    let none = FieldErrors::new();
    let (form, errors) = match (v.refused, &size) {
        (Some(refused), _) => (refused.typed.get("form"), refused.errors),
        (None, Some(Err(errors))) => (grid::SIZE, errors),
        (None, _) => ("", &none),
    };
    let status = match errors.is_empty() {
        true => StatusCode::OK,
        false => StatusCode::UNPROCESSABLE_ENTITY,
    };
    let page = page_with_errors(p, &v.gauge.name, form, errors, body);
    Ok((status, Html(page.into_string())).into_response())
}

/// The large answer: may it be used; then what it is.
fn head(v: &View) -> Markup {
    let (gauge, unit) = (v.gauge, v.gauge.unit.symbol());
    let standing = v.shelf.standing(gauge, v.today, None);
    let certificate = match standing.calibration {
        Some(c) => &c.certificate,
        None => &gauge.certificate,
    };
    html! {
        p { (list::state(v.p, v.shelf, gauge, v.today)) " "
            (v.say(&Message::new("gauge-due").with("due", show::day(standing.due)))) }
        dl.facts {
            dt { (v.t("gauges-kind")) } dd { (v.t(names::gauge_kind(gauge.kind))) }
            dt { (v.t("gauges-range")) } dd { (gauge.range.0) " – " (gauge.range.1) " " (unit) }
            dt { (v.t("gauge-resolution")) } dd { (gauge.resolution) " " (unit) }
            dt { (v.t("gauges-doubt")) } dd { "± " (v.shelf.expanded(gauge, v.today)) " " (unit) }
            @if !gauge.directions.is_empty() {
                dt { (v.t("gauge-ways")) }
                dd { @for way in &gauge.directions { (v.t(history::way_name((*way).into()))) " " } }
            }
            dt { (v.t("gauge-calibrated")) }
            dd { (show::day(standing.calibrated)) " · " (certificate) }
        }
        @if standing.calibration.is_none() { p.hint { (v.t("gauge-by-sheet")) } }
        p { a href=(format!("/sheets/gauge/{}", gauge.id)) { (v.t("gauge-sheet")) } }
    }
}
