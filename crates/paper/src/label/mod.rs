//! The label for a tool or its case: 62 mm × 29 mm, black on white for a label printer.

mod qr;
mod words;

use std::fmt::Write as _;

use ::words::Words;
use calc::Message;
use serde::Serialize;

use crate::PaperError;
use crate::model::Label;
use crate::svg::{LETTERS, escaped, n};
use crate::typeset::pdf;

/// Width and height, mm.
const WIDTH: f64 = 62.0;
const HEIGHT: f64 = 29.0;
/// Words stand right of the code, mm.
const WORDS_LEFT: f64 = 29.0;
const WORDS_TOP: f64 = 2.5;
const EDGE: f64 = 2.0;

/// What the template gets.
#[derive(Serialize)]
struct Data<'a> {
    svg: &'a str,
    says: &'a str,
    lang: &'a str,
}

/// The label as PDF, a page of 62 mm × 29 mm.
///
/// # Errors
/// A serial too long for a code, a day that is not in the calendar, or the typesetter refuses.
pub fn label(label: &Label, words: &Words) -> Result<Vec<u8>, PaperError> {
    let svg = label_svg(label, words)?;
    let says = says(label, words);
    let data = Data {
        svg: &svg,
        says: &says,
        lang: words.tag(),
    };
    let ident = format!("label {}", label.code.text());
    pdf("/label.typ", &data, &ident, label.issued)
}

/// The label as an SVG element; a unit is a millimetre.
///
/// # Errors
/// A serial too long for a code.
pub fn label_svg(label: &Label, words: &Words) -> Result<String, PaperError> {
    let code = qr::Modules::of(&label.code.text()).ok_or(PaperError::Code)?;
    let says = escaped(&says(label, words));
    let mut svg = format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" class="label" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{says}"><title>{says}</title><rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>"##
    );
    // As large as the quiet zone of four modules on each side lets.
    code.draw(&mut svg, HEIGHT);
    let room = (WIDTH - WORDS_LEFT - EDGE, HEIGHT - 2.0 * WORDS_TOP);
    for line in words::set(label, words, room) {
        let _ = write!(
            svg,
            r##"<text x="{}" y="{}" font-family="{LETTERS}" font-size="{}" font-weight="{}" fill="#000000">{}</text>"##,
            n(WORDS_LEFT),
            n(WORDS_TOP + line.foot),
            n(line.size),
            line.weight.number(),
            escaped(&line.text),
        );
    }
    svg.push_str("</svg>");
    Ok(svg)
}

/// The label for those who cannot see it.
fn says(label: &Label, words: &Words) -> String {
    let job = words::job(label, words);
    let due = words::due(label, words);
    let parts = [
        job,
        label.model.clone(),
        label.serial.clone(),
        label.customer.clone(),
        due,
    ];
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    let says = Message::new("paper-label-says").with("what", parts.join(", "));
    words.say(&says)
}

/// `text` as a code for scanners; `None` if it is too long for one.
pub(crate) fn code_svg(text: &str) -> Option<String> {
    Some(qr::Modules::of(text)?.svg())
}
