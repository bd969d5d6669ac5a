//! What was typed, exactly as it came.

use axum::body::Bytes;
use axum::extract::{FromRequest, Request};
use axum::response::{IntoResponse, Response};

/// The posted names and values in their order, unaltered: a refused form shows them again as typed,
/// and a reading keeps its raw text beside its value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Typed {
    pairs: Vec<(String, String)>,
}

impl Typed {
    /// Nothing typed yet.
    pub const fn new() -> Self {
        Self { pairs: Vec::new() }
    }

    /// Reads a form body (`application/x-www-form-urlencoded`). Cannot fail: bytes that are not
    /// UTF-8 are replaced, a name without `=` has an empty value.
    pub fn from_body(body: &[u8]) -> Self {
        Self {
            pairs: form_urlencoded::parse(body).into_owned().collect(),
        }
    }

    /// Adds a value: to prefill a form from what is known.
    #[must_use]
    pub fn with(mut self, name: impl Into<String>, value: impl Into<String>) -> Self {
        self.pairs.push((name.into(), value.into()));
        self
    }

    /// The same with `value` as the only one under `name`.
    #[must_use]
    pub fn set(mut self, name: &str, value: impl Into<String>) -> Self {
        self.pairs.retain(|(n, _)| n != name);
        self.with(name, value)
    }

    /// The first value under `name`, without the white space around it; empty if there is none.
    pub fn get(&self, name: &str) -> &str {
        self.raw(name).trim()
    }

    /// The first value under `name` as it came; empty if there is none.
    pub fn raw(&self, name: &str) -> &str {
        self.all(name).next().unwrap_or_default()
    }

    /// The value under `name`, trimmed; `None` if nothing was typed.
    pub fn filled(&self, name: &str) -> Option<&str> {
        Some(self.get(name)).filter(|value| !value.is_empty())
    }

    /// Every value under `name`, in order, as it came.
    pub fn all<'a>(&'a self, name: &str) -> impl Iterator<Item = &'a str> {
        self.pairs
            .iter()
            .filter(move |(n, _)| n == name)
            .map(|(_, value)| value.as_str())
    }

    /// Whether `name` was posted at all (a tick, a pressed button).
    pub fn has(&self, name: &str) -> bool {
        self.all(name).next().is_some()
    }

    /// Whether `value` is among the values under `name`.
    pub fn ticked(&self, name: &str, value: &str) -> bool {
        self.all(name).any(|v| v == value)
    }

    /// Whether nothing was posted.
    pub fn is_empty(&self) -> bool {
        self.pairs.is_empty()
    }

    /// Every name and value, in order.
    pub fn pairs(&self) -> impl Iterator<Item = (&str, &str)> {
        self.pairs.iter().map(|(n, v)| (n.as_str(), v.as_str()))
    }
}

impl<N: Into<String>, V: Into<String>> FromIterator<(N, V)> for Typed {
    fn from_iter<I: IntoIterator<Item = (N, V)>>(pairs: I) -> Self {
        Self {
            pairs: pairs
                .into_iter()
                .map(|(n, v)| (n.into(), v.into()))
                .collect(),
        }
    }
}

impl<S: Send + Sync> FromRequest<S> for Typed {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        let body = Bytes::from_request(request, state)
            .await
            .map_err(IntoResponse::into_response)?;
        Ok(Self::from_body(&body))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn keeps_order_repeats_and_white_space() {
        let typed = Typed::from_body(b"r=+1.2+mm&r=&tick=battery&tick=charger&note=a%0D%0Ab&lone");
        assert_eq!(typed.all("r").collect::<Vec<_>>(), [" 1.2 mm", ""]);
        assert_eq!(typed.get("r"), "1.2 mm");
        assert_eq!(typed.filled("missing"), None);
        assert!(typed.ticked("tick", "charger"));
        assert!(typed.has("lone") && typed.get("lone").is_empty());
        assert_eq!(typed.get("note"), "a\r\nb");
    }

    proptest! {
        #[test]
        fn whatever_is_typed_comes_back(pairs in prop::collection::vec((".*", ".*"), 0..8)) {
            let mut body = form_urlencoded::Serializer::new(String::new());
            body.extend_pairs(&pairs);
            let typed = Typed::from_body(body.finish().as_bytes());
            let back: Vec<_> = typed.pairs().map(|(n, v)| (n.to_owned(), v.to_owned())).collect();
            prop_assert_eq!(back, pairs);
        }

        #[test]
        fn any_bytes_are_read(body in prop::collection::vec(any::<u8>(), 0..200)) {
            Typed::from_body(&body);
        }
    }
}
