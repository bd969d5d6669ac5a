//! The read tables: what lists and searches look at. They follow from the logbook and are written
//! in the transaction that writes the entries.

pub(crate) mod inboxes;
pub(crate) mod job_row;
pub(crate) mod jobs;
pub(crate) mod lessons;
pub(crate) mod refresh;
pub(crate) mod tool_row;
pub(crate) mod tools;

/// A value of a column, as written and as compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Cell {
    Text(Option<String>),
    Int(Option<i64>),
}

impl Cell {
    /// For a list of differences; an empty column shows as nothing.
    pub fn shown(&self) -> String {
        match self {
            Self::Text(text) => text.clone().unwrap_or_default(),
            Self::Int(number) => number.map(|n| n.to_string()).unwrap_or_default(),
        }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(Some(text.to_owned()))
    }
}

impl From<&Option<String>> for Cell {
    fn from(text: &Option<String>) -> Self {
        Self::Text(text.clone())
    }
}

impl From<i64> for Cell {
    fn from(number: i64) -> Self {
        Self::Int(Some(number))
    }
}

impl From<Option<i64>> for Cell {
    fn from(number: Option<i64>) -> Self {
        Self::Int(number)
    }
}

/// Binds `cells` in order.
macro_rules! bind_all {
    ($query:expr, $cells:expr) => {{
        let mut query = $query;
        for (_, cell) in $cells {
            query = match cell {
                $crate::tables::Cell::Text(text) => query.bind(text),
                $crate::tables::Cell::Int(number) => query.bind(number),
            };
        }
        query
    }};
}
pub(crate) use bind_all;

/// A pattern for `LIKE … ESCAPE '\'` that finds `text` anywhere.
pub(crate) fn anywhere(text: &str) -> String {
    format!("%{}%", literally(text))
}

/// A pattern for `LIKE … ESCAPE '\'` that finds what begins with `text`.
pub(crate) fn begins_with(text: &str) -> String {
    format!("{}%", literally(text))
}

fn literally(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        if matches!(letter, '%' | '_' | '\\') {
            escaped.push('\\');
        }
        escaped.push(letter);
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns_take_their_own_signs_literally() {
        assert_eq!(anywhere("5%_\\a"), "%5\\%\\_\\\\a%");
        assert_eq!(begins_with("tb"), "tb%");
    }
}
