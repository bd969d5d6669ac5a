//! The reader of sheet files: the thing that a file describes, or every mistake in it.
//!
//! Syntax comes first: where the TOML itself does not hold, what follows would only mislead. Then
//! every key is read, and every mistake in it is kept with its line.

mod adjuster;
mod bench_test;
mod fastener;
mod faults;
mod gauge;
mod lists;
mod mistake;
mod model;
mod nearest;
mod nose;
mod opening;
mod part;
mod puller;
mod relation;
mod rig;
mod scalars;
mod setting;
mod shared;
mod shop_card;
mod source;
mod table;
mod value;

use calc::Message;
use toml::de::DeTable;

pub use mistake::Mistake;
pub(super) use shared::measures;

use super::{Kind, Sheet};
use source::Source;
use table::Table;
use value::Word;

impl Word for Kind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("tool-model", Kind::ToolModel),
        ("fastener", Kind::Fastener),
        ("nose-set", Kind::NoseSet),
        ("gauge", Kind::Gauge),
        ("fault-model", Kind::FaultModel),
        ("shop", Kind::Shop),
        ("rig", Kind::Rig),
    ];
}

/// Reads the text of one sheet file. `file` is only named in the mistakes.
///
/// # Errors
/// Every mistake in the file, in order of line.
pub fn read(file: &str, text: &str) -> Result<Sheet, Vec<Mistake>> {
    let source = Source::new(file, text);
    let (entries, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let at = error.span().unwrap_or(text.len()..text.len());
        let problem = Message::new("sheet-syntax").with("what", error.message());
        source.report(at, String::new(), problem);
    }
    if !source.is_clean() {
        return Err(source.into_mistakes());
    }
    let sheet = sheet(&source, entries.get_ref());
    match sheet {
        Some(sheet) if source.is_clean() => Ok(sheet),
        _ => Err(source.into_mistakes()),
    }
}

fn sheet<'a>(source: &'a Source<'a>, entries: &'a DeTable<'a>) -> Option<Sheet> {
    let kind = kind(source, entries)?;
    Table::root(source, entries, |t| {
        t.has("sheet");
        match kind {
            Kind::ToolModel => model::read(t).map(Sheet::ToolModel),
            Kind::Fastener => fastener::read(t).map(Sheet::Fastener),
            Kind::NoseSet => nose::read(t).map(Sheet::NoseSet),
            Kind::Gauge => gauge::read(t).map(Sheet::Gauge),
            Kind::FaultModel => faults::read(t).map(Sheet::FaultModel),
            Kind::Shop => shop_card::read(t).map(Sheet::Shop),
            Kind::Rig => rig::read(t).map(Sheet::Rig),
        }
    })
}

/// The kind of the sheet. Without it, no other key can be told right from wrong.
fn kind(source: &Source, entries: &DeTable) -> Option<Kind> {
    let key = || "sheet".to_owned();
    let Some(written) = entries.get("sheet") else {
        let kinds: Vec<&str> = Kind::WORDS.iter().map(|(word, _)| *word).collect();
        let problem = Message::new("sheet-kind-missing").with("allowed", kinds.join(", "));
        source.report_value(0, key(), String::new(), problem);
        return None;
    };
    value::word(written.get_ref())
        .map_err(|problem| source.report(written.span(), key(), problem))
        .ok()
}
