//! A table of a sheet, read key by key.
//!
//! Every getter notes that its key was asked for and reports what is wrong with it; it then gives
//! a stand-in, so that reading goes on and finds the other mistakes too. A sheet with any mistake
//! is thrown away, so no stand-in ever leaves the reader. Rules that compare keys ask
//! [`Table::good`] first. Keys that nobody asked for are unknown keys.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;

use calc::Message;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::nearest::nearest;
use super::source::Source;

/// A table while it is being read.
pub(super) struct Table<'a> {
    pub(super) source: &'a Source<'a>,
    pub(super) entries: &'a DeTable<'a>,
    /// Where the table begins: its header, or its brace.
    pub(super) header: Range<usize>,
    /// Path of its keys, with the last dot.
    pub(super) path: String,
    asked: RefCell<BTreeSet<&'static str>>,
    pub(super) bad: RefCell<BTreeSet<&'static str>>,
}

impl<'a> Table<'a> {
    /// Reads the whole file.
    pub(super) fn root<T>(
        source: &'a Source<'a>,
        entries: &'a DeTable<'a>,
        read: impl FnOnce(&Table) -> T,
    ) -> T {
        Self::open(source, entries, 0..0, String::new(), read)
    }

    pub(super) fn open<T>(
        source: &'a Source<'a>,
        entries: &'a DeTable<'a>,
        header: Range<usize>,
        path: String,
        read: impl FnOnce(&Table) -> T,
    ) -> T {
        let table = Table {
            source,
            entries,
            header,
            path,
            asked: RefCell::default(),
            bad: RefCell::default(),
        };
        let made = read(&table);
        table.report_unknown_keys();
        made
    }

    fn report_unknown_keys(&self) {
        let asked = self.asked.borrow();
        for key in self.entries.keys() {
            let written = key.get_ref().as_ref();
            if asked.contains(written) {
                continue;
            }
            let problem = match nearest(written, asked.iter().copied()) {
                Some(near) => Message::new("sheet-key-unknown-near").with("near", near),
                None => {
                    let known: Vec<&str> = asked.iter().copied().collect();
                    Message::new("sheet-key-unknown").with("known", known.join(", "))
                }
            };
            self.source
                .report(key.span(), format!("{}{written}", self.path), problem);
        }
    }

    /// Reports a mistake at `key`, or at the head of the table if the key is not there.
    pub(super) fn mistake(&self, key: &'static str, problem: Message) {
        let full = format!("{}{key}", self.path);
        self.bad.borrow_mut().insert(key);
        match self.entries.get(key) {
            Some(value) => self.source.report(value.span(), full, problem),
            None => {
                self.source
                    .report_value(self.header.start, full, String::new(), problem);
            }
        }
    }

    /// Reports a mistake in a part of the value of `key`.
    pub(super) fn mistake_at(&self, at: Range<usize>, key: &'static str, problem: Message) {
        self.bad.borrow_mut().insert(key);
        self.source
            .report(at, format!("{}{key}", self.path), problem);
    }

    /// Whether all of `keys` are there and were read without a mistake.
    pub(super) fn good(&self, keys: &[&'static str]) -> bool {
        let bad = self.bad.borrow();
        keys.iter()
            .all(|key| self.entries.contains_key(*key) && !bad.contains(key))
    }

    /// Whether `key` is written in the table.
    pub(super) fn has(&self, key: &'static str) -> bool {
        self.asked.borrow_mut().insert(key);
        self.entries.contains_key(key)
    }

    /// The value of a key that may be left out.
    pub(super) fn given<T>(
        &self,
        key: &'static str,
        convert: impl FnOnce(&DeValue) -> Result<T, Message>,
    ) -> Option<T> {
        self.asked.borrow_mut().insert(key);
        let value = self.entries.get(key)?;
        convert(value.get_ref())
            .map_err(|problem| self.mistake(key, problem))
            .ok()
    }

    /// The value of a key that must be there.
    pub(super) fn needed<T>(
        &self,
        key: &'static str,
        convert: impl FnOnce(&DeValue) -> Result<T, Message>,
    ) -> Option<T> {
        if !self.has(key) {
            self.mistake(key, Message::new("sheet-key-missing").with("key", key));
        }
        self.given(key, convert)
    }

    /// A table that must be there.
    pub(super) fn table<T>(&self, key: &'static str, read: impl FnOnce(&Table) -> T) -> Option<T> {
        if !self.has(key) {
            self.mistake(key, Message::new("sheet-key-missing").with("key", key));
        }
        self.table_given(key, read)
    }

    /// A table that may be left out.
    pub(super) fn table_given<T>(
        &self,
        key: &'static str,
        read: impl FnOnce(&Table) -> T,
    ) -> Option<T> {
        let value = self.spanned(key)?;
        let DeValue::Table(entries) = value.get_ref() else {
            self.mistake(key, Message::new("sheet-need-table"));
            return None;
        };
        let path = format!("{}{key}.", self.path);
        Some(Table::open(self.source, entries, value.span(), path, read))
    }

    pub(super) fn spanned(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.borrow_mut().insert(key);
        self.entries.get(key)
    }

    pub(super) fn value_of(
        &self,
        key: &'static str,
        fits: impl Fn(&DeValue) -> bool,
        problem: impl Fn() -> Message,
    ) -> Option<&'a DeValue<'a>> {
        let value = self.spanned(key)?.get_ref();
        if fits(value) {
            return Some(value);
        }
        self.mistake(key, problem());
        None
    }
}
