//! From a form on a gauge's page to entries of the gauge.

use axum::http::StatusCode;
use calc::Message;
use shop::entry::{FileAttached, PersonKey};
use shop::gauge::{GaugeCommand, StudyIn, decide, subject_of};
use shop::sheet::Gauge;
use store::Kept;

use super::{calibration, check, grid, study};
use crate::app::App;
use crate::forms::{FieldErrors, Typed, too_long};
use crate::job::{Trouble, submission};
use crate::shell::{Page, error_page};
use crate::write_again::{To, write_again};

/// Longest table that is read, characters.
const MOST_TABLE: usize = 60_000;

/// Does what the form `act` of gauge `id` asks for, in the name that was picked.
pub(crate) async fn carry_out(
    app: &App,
    p: &Page,
    id: &str,
    act: &str,
    typed: &Typed,
    kept: Vec<Kept>,
) -> Result<(), Trouble> {
    let not_here = || Trouble::Answer(error_page(p, StatusCode::NOT_FOUND, None));
    let shelf = app.store.shelf();
    let gauge = shelf.gauge_in_force(id).ok_or_else(not_here)?;
    // A pasted table has a length of its own.
    let others: Typed = typed.pairs().filter(|(name, _)| *name != "table").collect();
    let mut long = too_long(&others);
    let count = typed.get("table").chars().count();
    if count > MOST_TABLE {
        let message = Message::new("text-too-long");
        long.add(
            "table",
            message.with("most", MOST_TABLE).with("count", count),
        );
    }
    if !long.is_empty() {
        return Err(Trouble::Fields(long));
    }
    let by = app.visitor_key(p).await.map_err(Trouble::Answer)?;
    let who = || Trouble::Fields(FieldErrors::one("who", Message::new("refuse-who")));
    let by = by.ok_or_else(who)?;
    let command = command(app, p, gauge, act, typed, kept).await?;
    let written = write(app, id, typed, by, command).await;
    match written {
        Err(Trouble::Fields(errors)) if grid::is_asked(typed) => {
            Err(Trouble::Fields(grid::at_first_box(&errors)))
        }
        written => written,
    }
}

async fn command(
    app: &App,
    p: &Page,
    gauge: &Gauge,
    act: &str,
    typed: &Typed,
    kept: Vec<Kept>,
) -> Result<GaugeCommand, Trouble> {
    Ok(match act {
        calibration::ID => {
            let by = match typed.filled("by") {
                Some(name) => Some(person(app, name).await?),
                None => None,
            };
            let mut input = calibration::parse(p, gauge, typed, by).map_err(Trouble::Fields)?;
            let mut kept = kept.into_iter();
            input.file = kept.next().map(attached);
            if kept.next().is_some() {
                let message = Message::new("refuse-calibration-files");
                return Err(Trouble::Fields(FieldErrors::one("file", message)));
            }
            GaugeCommand::Calibrate(Box::new(input))
        }
        check::ID => GaugeCommand::Check(check::parse(p, gauge, typed).map_err(Trouble::Fields)?),
        study::ID => {
            let parsed = study::parse(p, gauge, typed).map_err(Trouble::Fields)?;
            let mut people = Vec::new();
            for name in &parsed.people {
                people.push(person(app, name).await?);
            }
            GaugeCommand::Study(StudyIn {
                date: parsed.date,
                what: parsed.what,
                people,
                readings: parsed.readings,
                note: parsed.note,
            })
        }
        "strike" => GaugeCommand::Strike {
            number: typed.get("number").parse().unwrap_or(0),
            reason: typed.get("reason").to_owned(),
        },
        _ => return Err(Trouble::Answer(error_page(p, StatusCode::NOT_FOUND, None))),
    })
}

async fn person(app: &App, name: &str) -> Result<PersonKey, Trouble> {
    app.store.person(name).await.map_err(Trouble::Store)
}

/// The certificate as an entry: its stage is the gauge's, not a job's.
fn attached(kept: Kept) -> FileAttached {
    FileAttached {
        name: kept.name,
        media_type: kept.kind.media_type().to_owned(),
        bytes: kept.bytes,
        sha256: kept.hash.to_string(),
        stage: "calibration".to_owned(),
        note: String::new(),
        step: String::new(),
    }
}

async fn write(
    app: &App,
    id: &str,
    typed: &Typed,
    by: PersonKey,
    command: GaugeCommand,
) -> Result<(), Trouble> {
    let subject = subject_of(id);
    // The same form with another file says something else.
    let file = match &command {
        GaugeCommand::Calibrate(input) => input.file.as_ref().map(|f| f.sha256.as_str()),
        _ => None,
    };
    let said = typed.clone().with("sha256", file.unwrap_or_default());
    let to = To {
        subject,
        submission: submission::key_of_inbox(&subject.to_string(), &said),
        by,
        busy: "learned-busy",
    };
    let (id, app_there) = (id.to_owned(), app.clone());
    let written = write_again(app, to, move |scene| {
        let desk = app_there.desk(scene.shelf);
        decide(&id, &command, &desk)
    });
    written.await?;
    Ok(())
}
