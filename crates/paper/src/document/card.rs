//! Set-up cards, one or many.

use calc::Message;
use serde::Serialize;
use words::Words;

use super::{Data, entry, pages};
use crate::PaperError;
use crate::gauge_bar::limit_numbers;
use crate::joint::joint;
use crate::model::SetupCard;
use crate::typeset::pdf;

/// Room for the drawing of joints: the card less its margins, mm.
const DRAWING_MM: f64 = 190.0;

/// What the template gets: every card with the texts that are its own.
#[derive(Serialize)]
struct Cards<'a> {
    cards: Vec<Card<'a>>,
}

#[derive(Serialize)]
struct Card<'a> {
    #[serde(flatten)]
    card: &'a SetupCard,
    recheck: String,
    entry: String,
    drawing: Option<Drawing>,
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
    setup_cards(std::slice::from_ref(card), words)
}

/// Set-up cards as one PDF, in the order given. Each counts its own pages.
///
/// # Errors
/// No card, a day that is not in the calendar, or the typesetter refuses.
pub fn setup_cards(cards: &[SetupCard], words: &Words) -> Result<Vec<u8>, PaperError> {
    let last = cards.last().ok_or(PaperError::Nothing)?;
    let doc = Cards {
        cards: cards.iter().map(|card| whole(card, words)).collect(),
    };
    let data = Data::of(&doc, words, pages(words));
    let count = match cards.len() {
        1 => String::new(),
        count => format!(" and {count}"),
    };
    let ident = format!("card {} {}{count}", last.job, last.record.hash);
    pdf("/card.typ", &data, &ident, last.issued)
}

fn whole<'a>(card: &'a SetupCard, words: &Words) -> Card<'a> {
    let recheck = Message::new("paper-recheck-joints").with("joints", card.recheck_joints);
    Card {
        card,
        recheck: words.say(&recheck),
        entry: entry(words, card.record.sequence),
        drawing: card.joint.as_ref().map(|sketch| {
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
        }),
    }
}
