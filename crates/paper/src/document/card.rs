//! Set-up cards, one or many.

use std::collections::BTreeMap;

use calc::Message;
use serde::Serialize;
use words::Words;

use super::{Data, entry, pages};
use crate::PaperError;
use crate::gauge_bar::limit_numbers;
use crate::joint::joint;
use crate::label::code_svg;
use crate::model::{Day, SetupCard};
use crate::typeset::{pdf, pdf_of_many};

/// Room for the drawing of joints: the card less its margins, mm.
const DRAWING_MM: f64 = 190.0;

/// What the template gets.
#[derive(Serialize)]
struct Card<'a> {
    #[serde(flatten)]
    card: &'a SetupCard,
    drawing: Option<Drawing>,
    /// The link as a code.
    code: Option<String>,
}

/// The joints on the back.
#[derive(Serialize)]
struct Drawing {
    svg: String,
    /// Scale, and what is drawn to it.
    scale: String,
    /// What a collar beyond its diameter means; empty where there is none.
    fat: String,
}

/// The set-up card as PDF, A5 landscape; with a second side if the card has joints to draw.
///
/// # Errors
/// A day that is not in the calendar, or the typesetter refuses.
pub fn setup_card(card: &SetupCard, words: &Words) -> Result<Vec<u8>, PaperError> {
    let (data, day) = data(card, words);
    pdf("/card.typ", &data, &ident(card), day)
}

/// Set-up cards as one PDF, in the order given. Each counts its own pages.
///
/// # Errors
/// No card, a day that is not in the calendar, or the typesetter refuses.
pub fn setup_cards(cards: &[SetupCard], words: &Words) -> Result<Vec<u8>, PaperError> {
    let last = cards.last().ok_or(PaperError::Nothing)?;
    let ident = format!("{} cards, last {}", cards.len(), ident(last));
    let title = words.text("paper-cards-title");
    pdf_of_many(
        "/card.typ",
        cards,
        |card| data(card, words),
        &title,
        &ident,
        last.issued,
    )
}

fn ident(card: &SetupCard) -> String {
    format!("card {} {}", card.job, card.record.hash)
}

fn said(card: &SetupCard, words: &Words) -> BTreeMap<&'static str, String> {
    let recheck = Message::new("paper-recheck-joints").with("joints", card.recheck_joints);
    let mut said = pages(words);
    said.insert("recheck", words.say(&recheck));
    said.insert("entry", entry(words, card.record.sequence));
    said
}

fn data<'a>(card: &'a SetupCard, words: &'a Words) -> (Data<'a, Card<'a>>, Day) {
    let data = Data::of(whole(card, words), words, said(card, words));
    (data, card.issued)
}

fn whole<'a>(card: &'a SetupCard, words: &Words) -> Card<'a> {
    let drawing = card.joint.as_ref().map(|sketch| {
        let drawn = joint(sketch, words, DRAWING_MM);
        let scale = Message::new("paper-joint-scale").with("scale", drawn.scale_text());
        let fat = sketch.collar_mm.and_then(|limits| {
            let [_, upper] = limit_numbers(limits, 0);
            Some(Message::new("paper-joint-fat").with("limit", upper?))
        });
        Drawing {
            svg: drawn.svg,
            scale: words.say(&scale),
            fat: fat.map(|fat| words.say(&fat)).unwrap_or_default(),
        }
    });
    Card {
        card,
        drawing,
        code: card.link.as_deref().and_then(code_svg),
    }
}
