//! Getters of lists: of values, of rows, of tables.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use calc::Message;
use toml::Spanned;
use toml::de::DeValue;

use super::table::Table;
use super::value::{self, Span};

/// A row of a table of pairs, and where it stands.
pub(super) struct Row {
    pub(super) at: Range<usize>,
    pub(super) pair: (f64, f64),
}

impl<'a> Table<'a> {
    /// A list that must be there, each element read by `convert`.
    pub(super) fn list<T>(
        &self,
        key: &'static str,
        convert: impl Fn(&DeValue) -> Result<T, Message>,
    ) -> Vec<T> {
        if !self.has(key) {
            self.mistake(key, Message::new("sheet-key-missing").with("key", key));
        }
        self.list_given(key, convert)
    }

    /// A list that may be left out.
    pub(super) fn list_given<T>(
        &self,
        key: &'static str,
        convert: impl Fn(&DeValue) -> Result<T, Message>,
    ) -> Vec<T> {
        self.elements(key)
            .into_iter()
            .filter_map(|element| {
                convert(element.get_ref())
                    .map_err(|problem| self.mistake_at(element.span(), key, problem))
                    .ok()
            })
            .collect()
    }

    /// A list of ids, each of which must be one of `known`.
    pub(super) fn references(&self, key: &'static str, known: &BTreeSet<String>) -> Vec<String> {
        self.list_given(key, |v| {
            value::string(v).and_then(|id| value::refer(id, known))
        })
    }

    /// An id that must be one of `known`.
    pub(super) fn reference(&self, key: &'static str, known: &BTreeSet<String>) -> String {
        self.needed(key, |v| {
            value::string(v).and_then(|id| value::refer(id, known))
        })
        .unwrap_or_default()
    }

    /// A table of pairs `[[a, b], …]`.
    pub(super) fn rows(&self, key: &'static str, first: Span, second: Span) -> Vec<Row> {
        self.elements(key)
            .into_iter()
            .filter_map(
                |element| match value::pair(element.get_ref(), first, second) {
                    Ok(pair) => Some(Row {
                        at: element.span(),
                        pair,
                    }),
                    Err(problem) => {
                        self.mistake_at(element.span(), key, problem);
                        None
                    }
                },
            )
            .collect()
    }

    /// The keys and values of a table whose keys are ids, each of which must be one of `known`.
    pub(super) fn by_id<T>(
        &self,
        key: &'static str,
        known: &BTreeSet<String>,
        convert: impl Fn(&DeValue) -> Result<T, Message>,
    ) -> Vec<(String, T)> {
        self.pairs(key, |id| value::refer(id, known), convert)
    }

    /// Values by ids of other sheets, in a table within the table; left out, there are none.
    pub(super) fn by_far_id<T>(
        &self,
        key: &'static str,
        convert: impl Fn(&DeValue) -> Result<T, Message>,
    ) -> Vec<(String, T)> {
        if self.has(key) {
            self.pairs(key, value::as_id, convert)
        } else {
            Vec::new()
        }
    }

    fn pairs<T>(
        &self,
        key: &'static str,
        refer: impl Fn(String) -> Result<String, Message>,
        convert: impl Fn(&DeValue) -> Result<T, Message>,
    ) -> Vec<(String, T)> {
        let Some(DeValue::Table(entries)) = self.value_of(
            key,
            |v| v.as_table().is_some(),
            || Message::new("sheet-need-table"),
        ) else {
            return Vec::new();
        };
        let mut pairs = Vec::new();
        for (id, value) in entries {
            let path = format!("{key}.{}", id.get_ref());
            match refer(id.get_ref().to_string()) {
                Ok(id) => match convert(value.get_ref()) {
                    Ok(value) => pairs.push((id, value)),
                    Err(problem) => self.inner_mistake(value.span(), key, &path, problem),
                },
                Err(problem) => self.inner_mistake(id.span(), key, &path, problem),
            }
        }
        pairs
    }

    fn inner_mistake(&self, at: Range<usize>, key: &'static str, path: &str, problem: Message) {
        self.bad.borrow_mut().insert(key);
        self.source
            .report(at, format!("{}{path}", self.path), problem);
    }

    /// A list of tables, of which `least` must be there. Their `name` (an id, a code) is unique.
    pub(super) fn tables<T>(
        &self,
        key: &'static str,
        name: &'static str,
        least: usize,
        read: impl Fn(&Table) -> Option<T>,
    ) -> Vec<T> {
        if least > 0 && !self.has(key) {
            self.mistake(key, Message::new("sheet-key-missing").with("key", key));
        }
        let elements = self.elements(key);
        if self.good(&[key]) && elements.len() < least {
            self.mistake(key, Message::new("sheet-too-few").with("least", least));
        }
        let mut first_lines = BTreeMap::new();
        let mut made = Vec::new();
        for (index, element) in elements.into_iter().enumerate() {
            let DeValue::Table(entries) = element.get_ref() else {
                self.mistake_at(element.span(), key, Message::new("sheet-need-table"));
                continue;
            };
            let named = entries.get(name).and_then(|v| v.get_ref().as_str());
            let label = named.map_or_else(|| (index + 1).to_string(), str::to_owned);
            let path = format!("{}{key}[{label}].", self.path);
            made.extend(Table::open(
                self.source,
                entries,
                element.span(),
                path,
                |table| {
                    if let Some(named) = named {
                        let line = self.source.line(table.header.start);
                        if let Some(first) = first_lines.insert(named, line) {
                            let twice = Message::new("sheet-id-twice").with("line", first);
                            table.mistake(name, twice);
                        }
                    }
                    read(table)
                },
            ));
        }
        made
    }

    /// The ids written in a list of tables, whether or not those can be read otherwise.
    pub(super) fn ids(&self, key: &'static str) -> BTreeSet<String> {
        let Some(DeValue::Array(tables)) = self.entries.get(key).map(Spanned::get_ref) else {
            return BTreeSet::new();
        };
        tables
            .iter()
            .filter_map(|t| t.get_ref().as_table()?.get("id")?.get_ref().as_str())
            .map(str::to_owned)
            .collect()
    }

    fn elements(&self, key: &'static str) -> Vec<&'a Spanned<DeValue<'a>>> {
        match self.value_of(
            key,
            |v| v.as_array().is_some(),
            || Message::new("sheet-need-list"),
        ) {
            Some(DeValue::Array(elements)) => elements.iter().collect(),
            _ => Vec::new(),
        }
    }
}
