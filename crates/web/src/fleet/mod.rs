//! The fleet: what the shop's closed jobs made of the numbers of its fault model, and a manager's say in it.

mod exposure;
pub(crate) mod joints;
mod key;
mod learned;
pub(crate) mod lot_check;
mod number;

use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use calc::Message;
use maud::{Markup, html};
use shop::entry::{Entry, LEARNING, LearntNumber, PersonKey};
use shop::job::Refusals;
use shop::learning::{Counted, LearningCommand, Lessons, Rulings, decide};
use shop::sheet::{Drive, FaultModel, Kind, Pin, Shelf};
use store::StoreError;

use crate::app::{App, failed};
use crate::forms::{FieldErrors, Typed, too_long};
use crate::job::{Trouble, rulings, submission};
use crate::shell::{self, Nav, Page, error_page};
use crate::write_again::{To, write_again};

/// Where it is.
pub(crate) const PATH: &str = "/fleet/learned";

/// The routes of the fleet.
pub fn routes() -> Router<App> {
    Router::new()
        .route(PATH, get(first))
        .route(exposure::PATH, get(exposure::show))
        .route(lot_check::PATH, get(lot_check::show))
        .route(joints::PATH, get(joints::show))
        .route("/fleet/learned/{faults}/{drive}", get(list))
        .route("/fleet/learned/{faults}/{drive}/{number}", get(one))
        .route("/fleet/learned/{faults}/{drive}/{number}/{act}", post(act))
}

/// The ways to the other pages of the fleet than the one at `here`.
fn others(p: &Page, here: &str) -> Markup {
    let pages = [
        (PATH, "exposure-learned"),
        (exposure::PATH, "exposure-link"),
        (lot_check::PATH, "lot-link"),
        (joints::PATH, "joints-fleet-link"),
    ];
    html! {
        ul.papers {
            @for (path, text) in pages.into_iter().filter(|(path, _)| *path != here) { li { a href=(path) { (p.t(text)) } } }
        }
    }
}

/// A fault model and a drive, with what was said of its numbers.
struct Place {
    shelf: std::sync::Arc<Shelf>,
    pin: Pin,
    drive: Drive,
    said: Vec<Entry>,
}

impl Place {
    async fn of(app: &App, p: &Page, faults: &str, drive: &str) -> Result<Self, Response> {
        let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
        let shelf = app.store.shelf();
        let pin = shelf
            .newest(Kind::FaultModel, faults)
            .ok_or_else(not_here)?;
        let drive = Drive::ALL.into_iter().find(|d| d.key() == drive);
        Ok(Self {
            drive: drive.ok_or_else(not_here)?,
            said: rulings(app).await.map_err(failed)?,
            pin,
            shelf,
        })
    }

    /// The sheet; `None` where an older program stored it and this one does not read it.
    fn faults(&self) -> Option<&FaultModel> {
        self.shelf.fault_model(&self.pin)
    }

    fn path(&self) -> String {
        format!("{PATH}/{}/{}", self.pin.id, self.drive.key())
    }

    /// Every number of the drive as all jobs closed so far make it.
    fn counted<'a>(&self, app: &App, faults: &'a FaultModel) -> Counted<'a> {
        let (now, _) = app.now();
        let closed = app.store.lessons();
        let lessons = Lessons::of(faults, &closed, (None, now), &self.shelf);
        let rulings = Rulings::fold(&faults.id, &self.said, now);
        Counted::of(faults, self.drive, &lessons, &rulings, &self.shelf)
    }
}

async fn first(State(app): State<App>, p: Page) -> Result<Response, Response> {
    let p = p.at(Nav::Fleet);
    let shelf = app.store.shelf();
    let Some(revision) = shelf.in_force(Kind::FaultModel).next() else {
        return Ok(learned::empty(&p));
    };
    let place = Place::of(&app, &p, revision.sheet.id(), Drive::ALL[0].key()).await?;
    learned::page(&app, &p, &place, StatusCode::OK, None).await
}

async fn list(
    State(app): State<App>,
    p: Page,
    Path((faults, drive)): Path<(String, String)>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Fleet);
    let place = Place::of(&app, &p, &faults, &drive).await?;
    learned::page(&app, &p, &place, StatusCode::OK, None).await
}

async fn one(
    State(app): State<App>,
    p: Page,
    Path((faults, drive, number)): Path<(String, String, String)>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Fleet);
    let place = Place::of(&app, &p, &faults, &drive).await?;
    number::page(&app, &p, &place, &number, StatusCode::OK, None).await
}

/// Stands for every number where counts begin anew.
const ALL: &str = "all";

async fn act(
    State(app): State<App>,
    p: Page,
    Path((faults, drive, number, act)): Path<(String, String, String, String)>,
    typed: Typed,
) -> Result<Response, Response> {
    let p = p.at(Nav::Fleet);
    let place = Place::of(&app, &p, &faults, &drive).await?;
    let path = place.path();
    let back = match number.as_str() {
        ALL => path,
        number => format!("{path}/{number}"),
    };
    match carry_out(&app, &p, &place, &number, &act, &typed).await {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(Trouble::Fields(errors)) => {
            let p = p.holding_form();
            let status = StatusCode::UNPROCESSABLE_ENTITY;
            let refused = Some((&typed, &errors));
            if number == ALL {
                return learned::page(&app, &p, &place, status, refused).await;
            }
            number::page(&app, &p, &place, &number, status, refused).await
        }
        Err(Trouble::Answer(answer)) => Err(answer),
        Err(Trouble::Conflict(_)) => Err(failed(StoreError::Closed)),
        Err(Trouble::Store(error)) => {
            eprintln!("{back}: {error:?}");
            Err(shell::not_written(&p, &back, &typed))
        }
    }
}

async fn carry_out(
    app: &App,
    p: &Page,
    place: &Place,
    number: &str,
    act: &str,
    typed: &Typed,
) -> Result<(), Trouble> {
    let not_here = || Trouble::Answer(error_page(p, StatusCode::NOT_FOUND, None));
    let long = too_long(typed);
    if !long.is_empty() {
        return Err(Trouble::Fields(long));
    }
    let number = match number {
        ALL => None,
        key => Some(key::parse(key).ok_or_else(not_here)?),
    };
    let command = command(act, number, typed)
        .ok_or_else(not_here)?
        .map_err(Trouble::Fields)?;
    let by = app.visitor_key(p).await.map_err(Trouble::Answer)?;
    let who = || Trouble::Fields(FieldErrors::one("who", Message::new("refuse-who")));
    let by = by.ok_or_else(who)?;
    write(app, &place.pin, typed, by, command).await
}

/// What the form asks for; `None` if there is no such form.
fn command(
    act: &str,
    number: Option<LearntNumber>,
    typed: &Typed,
) -> Option<Result<LearningCommand, FieldErrors>> {
    let reason = typed.get("reason").to_owned();
    Some(match (act, number) {
        ("pin", Some(number)) => match crate::forms::parse_quantity(typed.get("value"), "%") {
            Ok(percent) => Ok(LearningCommand::Pin {
                number,
                value: percent / 100.0,
                reason,
            }),
            Err(message) => Err(FieldErrors::one("value", message)),
        },
        ("release", Some(number)) => Ok(LearningCommand::Release { number, reason }),
        ("reset", number) => Ok(LearningCommand::Reset { number, reason }),
        _ => return None,
    })
}

async fn write(
    app: &App,
    pin: &Pin,
    typed: &Typed,
    by: PersonKey,
    command: LearningCommand,
) -> Result<(), Trouble> {
    let to = To {
        subject: LEARNING,
        submission: submission::key_of_inbox(&LEARNING.to_string(), typed),
        by,
        busy: "learned-busy",
    };
    let (pin, now) = (pin.clone(), app.now().0);
    let written = write_again(app, to, move |scene| {
        let faults = scene.shelf.fault_model(&pin).ok_or_else(Refusals::new)?;
        let rulings = Rulings::fold(&faults.id, scene.entries, now);
        decide(&rulings, command.clone(), faults)
    });
    written.await?;
    Ok(())
}
