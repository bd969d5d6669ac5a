//! A form that carries files: too large to be read before its token is looked at, so the token comes
//! first in it, and the rest goes on to the handler unread.

use std::future::poll_fn;
use std::pin::Pin;
use std::task::{Context, Poll};

use axum::body::{Body, Bytes, HttpBody};
use axum::http::header::{CONTENT_TYPE, HeaderMap};
use http_body::Frame;

/// Most bytes of such a form. More than a recording may have, so that the sender of one that is too
/// large can be told its size. Nothing of it is held: it goes to the disk, or is let go, as it comes.
pub(crate) const UPLOAD_LIMIT: usize = 1_100_000_000;

/// Within so many bytes the token must have come.
const TOKEN_WITHIN: usize = 4096;

/// Whether a request carries files.
pub(super) fn is_upload(headers: &HeaderMap) -> bool {
    headers
        .get(CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok())
        .is_some_and(|kind| kind.starts_with("multipart/form-data"))
}

/// The value of the first field, which must go by `name`; empty if another field leads. And the body
/// as it was.
pub(super) async fn first_field(name: &str, mut body: Body) -> (String, Body) {
    let mut head = Vec::new();
    let value = loop {
        match first(name, &head) {
            First::Is(value) => break value,
            First::Other => break String::new(),
            First::Unread if head.len() > TOKEN_WITHIN => break String::new(),
            First::Unread => {}
        }
        match next(&mut body).await {
            Some(piece) => head.extend_from_slice(&piece),
            None => break String::new(),
        }
    };
    let led = Led {
        head: Some(head.into()),
        rest: body,
    };
    (value, Body::new(led))
}

/// Reads what is left, up to the limit: a browser that is still sending would not see the answer.
pub(super) async fn drain(mut body: Body) {
    let mut read = 0;
    while let Some(piece) = next(&mut body).await {
        read += piece.len();
        if read > UPLOAD_LIMIT {
            return;
        }
    }
}

async fn next(body: &mut Body) -> Option<Bytes> {
    loop {
        let frame = poll_fn(|cx| Pin::new(&mut *body).poll_frame(cx)).await?;
        // A sender that breaks off sends no more.
        if let Ok(piece) = frame.ok()?.into_data() {
            return Some(piece);
        }
    }
}

/// What the beginning of a form says of its first field.
#[derive(Debug, PartialEq, Eq)]
enum First {
    Is(String),
    Other,
    Unread,
}

/// RFC 7578: a boundary, the field's headers, an empty line, its value, a line end.
fn first(name: &str, head: &[u8]) -> First {
    let find = |bytes: &[u8], what: &[u8]| bytes.windows(what.len()).position(|w| w == what);
    let Some(end) = find(head, b"\r\n\r\n") else {
        return First::Unread;
    };
    let headers = String::from_utf8_lossy(&head[..end]);
    if !headers.ends_with(&format!("form-data; name=\"{name}\"")) {
        return First::Other;
    }
    let value = &head[end + 4..];
    match find(value, b"\r\n") {
        Some(end) => First::Is(String::from_utf8_lossy(&value[..end]).into_owned()),
        None => First::Unread,
    }
}

/// A body of which the head was read already.
struct Led {
    head: Option<Bytes>,
    rest: Body,
}

impl HttpBody for Led {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        if let Some(head) = self.head.take() {
            return Poll::Ready(Some(Ok(Frame::data(head))));
        }
        Pin::new(&mut self.rest).poll_frame(cx)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FORM: &[u8] = b"--x\r\nContent-Disposition: form-data; name=\"csrf\"\r\n\r\n\
        abc\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a\"\r\n\r\nbytes\r\n--x--\r\n";

    #[test]
    fn the_first_field_is_read_from_any_beginning() {
        let lead = "--x\r\nContent-Disposition: form-data; name=\"csrf\"\r\n\r\n";
        let whole = lead.len() + "abc\r\n".len();
        for length in 0..FORM.len() {
            let expected = match length < whole {
                true => First::Unread,
                false => First::Is("abc".to_owned()),
            };
            assert_eq!(first("csrf", &FORM[..length]), expected, "{length}");
        }
        assert_eq!(first("token", FORM), First::Other);
        let file =
            b"--x\r\nContent-Disposition: form-data; name=\"csrf\"; filename=\"a\"\r\n\r\nabc\r\n";
        assert_eq!(first("csrf", file), First::Other);
    }

    #[tokio::test]
    async fn the_body_goes_on_as_it_was() {
        let (token, body) = first_field("csrf", Body::from(FORM)).await;
        assert_eq!(token, "abc");
        let bytes = axum::body::to_bytes(body, 1000).await;
        assert_eq!(bytes.expect("read"), FORM);
    }

    #[tokio::test]
    async fn a_token_that_does_not_come_is_not_waited_for() {
        let long = vec![b'x'; 1 << 20];
        let (token, _) = first_field("csrf", Body::from(long)).await;
        assert_eq!(token, "");
        let (token, _) = first_field("csrf", Body::empty()).await;
        assert_eq!(token, "");
    }
}
