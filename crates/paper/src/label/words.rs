//! The words beside the code, as large as they fit.

use calc::Message;
use words::Words;

use crate::lettering::{Weight, fitted, width};
use crate::model::Label;

/// From one line to the next, and from its top to its foot, in letter sizes.
const LEADING: f64 = 1.2;
const FOOT: f64 = 0.92;
/// Sizes are tried in these shares, largest first.
const SHARES: [f64; 6] = [1.0, 0.9, 0.8, 0.7, 0.6, 0.5];

/// A line in its place.
pub(super) struct Line {
    pub(super) text: String,
    pub(super) size: f64,
    pub(super) weight: Weight,
    /// Where it stands, from the top of the room.
    pub(super) foot: f64,
}

/// A text with its sizes, largest first, and the lines that it may take.
struct Piece {
    text: String,
    sizes: [f64; 3],
    weight: Weight,
    lines: usize,
}

/// "Job 1047"; empty if there is none.
pub(super) fn job(label: &Label, words: &Words) -> String {
    if label.job.is_empty() {
        return String::new();
    }
    words.say(&Message::new("paper-label-job").with("job", label.job.as_str()))
}

/// "Due 26 Nov 2026"; empty if there is none.
pub(super) fn due(label: &Label, words: &Words) -> String {
    if label.due.is_empty() {
        return String::new();
    }
    words.say(&Message::new("paper-label-due").with("due", label.due.as_str()))
}

/// The lines in `room` (width, height).
pub(super) fn set(label: &Label, words: &Words, room: (f64, f64)) -> Vec<Line> {
    let piece = |text: String, size: f64, weight, lines| Piece {
        text,
        sizes: [size, 0.85 * size, 0.7 * size],
        weight,
        lines,
    };
    let pieces = [
        piece(job(label, words), 5.6, Weight::Bold, 1),
        piece(label.model.clone(), 3.9, Weight::Bold, 2),
        piece(label.serial.clone(), 3.9, Weight::SemiBold, 2),
        piece(label.customer.clone(), 2.9, Weight::Regular, 2),
        piece(due(label, words), 2.9, Weight::SemiBold, 1),
    ];
    let tried = SHARES.map(|share| lines(&pieces, share, room.0));
    let fits = |lines: &Vec<Line>| lines.last().is_none_or(|line| line.foot <= room.1);
    tried
        .into_iter()
        .find(fits)
        .unwrap_or_else(|| cut(&pieces, room))
}

/// Lines one under the other.
#[derive(Default)]
struct Column {
    lines: Vec<Line>,
    top: f64,
}

impl Column {
    fn push(&mut self, text: String, size: f64, weight: Weight) {
        self.lines.push(Line {
            text,
            size,
            weight,
            foot: self.top + FOOT * size,
        });
        self.top += LEADING * size;
    }
}

fn lines(pieces: &[Piece], share: f64, room: f64) -> Vec<Line> {
    let mut column = Column::default();
    for piece in pieces.iter().filter(|p| !p.text.is_empty()) {
        let sizes = piece.sizes.map(|size| size * share);
        let (size, lines) = fitted(&piece.text, piece.weight, &sizes, room, piece.lines);
        for text in lines {
            column.push(text, size, piece.weight);
        }
    }
    column.lines
}

/// At the smallest size, each text cut after its lines: the code still holds what finds the whole.
fn cut(pieces: &[Piece], room: (f64, f64)) -> Vec<Line> {
    let mut column = Column::default();
    for piece in pieces.iter().filter(|p| !p.text.is_empty()) {
        let size = piece.sizes[2] * SHARES[5].max(0.6);
        let all = crate::lettering::lines(&piece.text, piece.weight, size, room.0);
        let is_cut = all.len() > piece.lines;
        for (at, mut text) in all.into_iter().take(piece.lines).enumerate() {
            if is_cut && at + 1 == piece.lines {
                while !text.is_empty() && width(&format!("{text}…"), piece.weight, size) > room.0
                {
                    text.pop();
                }
                text.push('…');
            }
            column.push(text, size, piece.weight);
        }
    }
    column.lines
}
