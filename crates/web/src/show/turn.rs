//! The way to turn: word, arrow and effect always together.

use calc::Message;
use maud::{Markup, PreEscaped, html};
use shop::setting::Turn;

use crate::shell::Page;

/// `clockwise, shortens the stroke`, with the arrow, from where counted and from where seen.
pub fn turn(p: &Page, turn: Turn) -> Markup {
    html! {
        p.dir {
            (PreEscaped(paper::turn_arrow(turn.rotation)))
            b { (p.words.term(turn.rotation)) " (" (p.words.term(turn.effect)) ")" }
        }
        p.pm { (p.words.term(turn.zero)) ", " (p.words.term(turn.view)) }
    }
}

/// A change of so many turns: number, word, arrow, effect.
pub fn change(p: &Page, turns: f64, turn: Turn) -> Markup {
    let text = Message::new("turn-change")
        .with("turns", paper::fraction(turns))
        .with("rotation", p.words.term(turn.rotation))
        .with("effect", p.words.term(turn.effect));
    html! {
        span.dir {
            (PreEscaped(paper::turn_arrow(turn.rotation)))
            b { (p.say(&text)) }
        }
    }
}
