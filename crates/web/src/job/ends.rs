//! The other ends of a job: sent to the maker, scrapped.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{End, PackGone, PackState, Returned};
use shop::job::{Command, EndIn, ReturnIn, ScrapIn, SendIn};

use super::post::People;
use super::view::View;
use super::{agreed, names};
use crate::forms::Typed;
use crate::shell::{Choice, Field};

const GONE: [(&str, PackGone); 3] = [
    ("collected", PackGone::Collected),
    ("kept-apart", PackGone::KeptApart),
    ("to-owner", PackGone::ToOwner),
];

/// Both forms, folded; nothing where the job cannot end yet.
pub fn forms(v: &View) -> Markup {
    if !v.job.may_end_early() {
        return html! {};
    }
    html! {
        details open[v.is_refused("send")] { summary { (v.t("send-summary")) } (send(v)) }
        details open[v.is_refused("scrap")] { summary { (v.t("scrap-summary")) } (scrap(v)) }
    }
}

fn send(v: &View) -> Markup {
    let form = v.form("send");
    let r = &v.job.received.body;
    let came = r.came.iter().filter(|c| c.count > 0);
    let came = came.map(|c| Choice::new(&c.item, format!("{} × {}", c.count, c.item)).chosen(true));
    let asked = v.model.warranty.evidence.iter();
    let asked = asked.map(|item| Choice::new(item, item.clone()));
    let items: Vec<Choice> = came.chain(asked).collect();
    let is_short = !agreed::missing_texts(v).is_empty();
    let yes = |text| [Choice::new("yes", v.t(text))];
    html! {
        p.hint { (v.t("send-hint")) }
        // Before the parcel is closed: afterwards nobody looks.
        (agreed::missing(v))
        @if r.pack == PackState::Damaged { p.warn { (v.t("lithium-damaged")) small { (v.t("lithium-damaged-source")) } } }
        (v.wrap(&form, "send", html! {
            (form.ticks(&Field::new("sent", v.t("field-sent")), &items))
            @if is_short { (form.ticks(&Field::new("missing_seen", v.t("field-missing-seen")), &yes("missing-seen-yes"))) }
            @if r.pack == PackState::Damaged { (form.ticks(&Field::new("pack_kept", v.t("field-pack-kept")), &yes("pack-kept-yes"))) }
            (form.text(&Field::new("parcel", v.t("field-parcel"))))
            (form.text(&Field::new("to", v.t("field-sent-to"))))
            (form.ticks(&Field::new("checked", v.t("field-checked")), &yes("checked-parcel")))
            (form.text(&Field::new("note", v.t("field-note"))))
        }, "button-send"))
    }
}

fn scrap(v: &View) -> Markup {
    let form = v.form("scrap");
    let pack = v.job.received.body.pack;
    let choices = GONE.map(|(key, gone)| Choice::new(key, v.t(names::pack_gone(gone))));
    html! {
        (v.warn("scrap-caution", "source-maker"))
        @match pack {
            PackState::None => {}
            PackState::Sound => { (v.warn("scrap-lithium", "scrap-lithium-source")) }
            PackState::Damaged => { p.warn { (v.t("lithium-damaged")) small { (v.t("lithium-damaged-source")) } } }
        }
        (v.wrap(&form, "scrap", html! {
            (form.text(&Field::new("to", v.t("field-scrap-agreed"))))
            (form.text(&Field::new("witness", v.t("field-witness"))))
            @if pack != PackState::None { (form.radios(&Field::new("pack_gone", v.t("field-pack-gone")), &choices)) }
            (form.ticks(&Field::new("checked", v.t("field-checked")), &[Choice::new("yes", v.t("checked-scrap"))]))
            (form.text(&Field::new("note", v.t("field-note"))))
        }, "button-scrap"))
    }
}

/// The command of either form.
pub fn parse(kind: &str, typed: &Typed, people: &People) -> Option<Command> {
    let end = match kind {
        "scrap" => EndIn::Scrapped(ScrapIn {
            witness: people.second.clone(),
            pack: GONE
                .iter()
                .find(|(key, _)| *key == typed.get("pack_gone"))
                .map(|(_, gone)| *gone),
        }),
        "send" => EndIn::ToMaker(SendIn {
            parcel: typed.get("parcel").to_owned(),
            sent: typed
                .all("sent")
                .filter(|s| !s.is_empty())
                .map(str::to_owned)
                .collect(),
            missing_seen: typed.ticked("missing_seen", "yes"),
            pack_kept: typed.ticked("pack_kept", "yes"),
        }),
        _ => return None,
    };
    Some(Command::Return(ReturnIn {
        to: people.typed.clone(),
        authorised: people.picked.clone(),
        with: Vec::new(),
        checked: typed.has("checked"),
        note: typed.get("note").to_owned(),
        doubted: shop::job::Doubted::default(),
        end,
    }))
}

/// How the job ended, in a line.
pub fn told(v: &View, back: &Returned) -> String {
    let name = v.person(&back.to);
    let message = match &back.end {
        None | Some(End::NoFaultFound | End::Unrepaired | End::NewTool) => {
            Message::new("returned-to").with("name", name)
        }
        Some(End::Scrapped { witness, .. }) => Message::new("ended-scrapped")
            .with("name", name)
            .with("witness", v.person(witness)),
        Some(End::SentToMaker { parcel, .. }) => Message::new("ended-sent")
            .with("name", name)
            .with("parcel", parcel.as_str()),
    };
    v.say(&message)
}
