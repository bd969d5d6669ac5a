//! Joints in numbers by tool model and fastener: over the set-ups that were signed off in ended jobs.

use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use maud::{Markup, html};
use shop::job::{Job, SetUp};
use shop::joint_numbers::JointNumbers;
use shop::sheet::{FastenerFamily, Kind, Shelf, ToolModel};

use crate::app::{App, failed};
use crate::job::past;
use crate::shell::{Nav, Page, page};
use crate::show;

/// Where it is.
pub(crate) const PATH: &str = "/fleet/joints";

/// Ended jobs of a model that are looked through: what is older was another bench's hand (common practice, no source).
const MOST_JOBS: u32 = 100;

/// Jobs that are named, of each model and fastener.
const NAMED: usize = 8;

/// Set-ups of one model for one fastener.
struct Group<'a> {
    model: &'a ToolModel,
    fastener: &'a FastenerFamily,
    /// Number of the job, and its set-up.
    set_ups: Vec<(u32, &'a SetUp)>,
}

/// The page.
pub(super) async fn show(State(app): State<App>, p: Page) -> Result<Response, Response> {
    let p = p.at(Nav::Fleet);
    let shelf = app.store.shelf();
    let mut jobs: Vec<(&ToolModel, Vec<Job>)> = Vec::new();
    for (_, model) in shelf.models() {
        let ended = app.store.set_up_jobs(&model.id, MOST_JOBS).await;
        let mut read = Vec::new();
        for job in ended.map_err(failed)? {
            read.extend(past::read(&app.store, job).await.map_err(failed)?);
        }
        jobs.push((model, read));
    }
    let groups = groups(&shelf, &jobs);
    let title = p.t("joints-fleet-title");
    let body = html! {
        div.plain {
            (super::others(&p, PATH))
            h1 { (title) }
            p.hint { (p.t("joints-fleet-intro")) }
            @if groups.is_empty() { p.empty { (p.t("joints-fleet-none")) } }
            @else { p.warn { (p.t("joints-fleet-caution")) } }
            @for group in &groups { (one(&p, group)) }
        }
    };
    Ok(Html(page(&p, &title, body).into_string()).into_response())
}

/// Model by model, fastener by fastener; set-ups that count, the newest job first.
fn groups<'a>(shelf: &'a Shelf, jobs: &'a [(&'a ToolModel, Vec<Job>)]) -> Vec<Group<'a>> {
    let mut groups: Vec<Group> = Vec::new();
    for (model, jobs) in jobs {
        let set_ups = jobs.iter().flat_map(|job| {
            let number = job.received.body.number;
            job.set_ups.iter().map(move |set_up| (number, set_up))
        });
        for (number, set_up) in set_ups.filter(|(_, set_up)| counts(set_up)) {
            let id = &set_up.fitted.body.fastener.id;
            let same = |g: &&mut Group| g.model.id == model.id && g.fastener.id == *id;
            if let Some(group) = groups.iter_mut().find(same) {
                group.set_ups.push((number, set_up));
                continue;
            }
            let pin = shelf.newest(Kind::Fastener, id);
            if let Some(fastener) = pin.and_then(|pin| shelf.fastener(&pin)) {
                groups.push(Group {
                    model,
                    fastener,
                    set_ups: vec![(number, set_up)],
                });
            }
        }
    }
    groups
}

fn counts(set_up: &SetUp) -> bool {
    set_up.signed_off.is_some() && !set_up.joints.is_empty()
}

fn one(p: &Page, group: &Group) -> Markup {
    let set_ups = group.set_ups.iter().map(|(_, set_up)| *set_up);
    let numbers = JointNumbers::of_set_ups(set_ups, group.fastener);
    let mut jobs: Vec<u32> = group.set_ups.iter().map(|(number, _)| *number).collect();
    jobs.dedup();
    let title = Message::new("joints-fleet-of")
        .with("model", group.model.name.as_str())
        .with("fastener", group.fastener.name.as_str());
    html! {
        h2 { (p.say(&title)) }
        p {
            (p.say(&Message::new("joints-fleet-jobs").with("count", jobs.len())))
            @for number in jobs.iter().take(NAMED) { " " a href=(format!("/jobs/{number}#set-up")) { (number) } }
        }
        @if let Some(numbers) = &numbers { (show::joint_numbers(p, numbers)) }
    }
}
