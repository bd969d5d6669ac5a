//! The name of a file in the head of an answer.

use std::fmt::Write as _;

/// `Content-Disposition` for a file that is shown or saved as `name`: RFC 6266, with the plain name
/// for old browsers and RFC 8187 for letters beyond it.
pub(super) fn disposition(is_shown: bool, name: &str) -> String {
    let how = if is_shown { "inline" } else { "attachment" };
    let is_plain =
        |c: char| c.is_ascii_graphic() && !matches!(c, '"' | '\\' | '%' | '/') || c == ' ';
    let plain: String = name
        .chars()
        .map(|c| if is_plain(c) { c } else { '_' })
        .collect();
    let mut whole = String::new();
    for byte in name.bytes() {
        let _ = match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'.' | b'-' | b'_' => {
                write!(whole, "{}", char::from(byte))
            }
            other => write!(whole, "%{other:02X}"),
        };
    }
    format!("{how}; filename=\"{plain}\"; filename*=UTF-8''{whole}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_gets_out_of_its_quotes() {
        assert_eq!(
            disposition(true, "Collet 3.jpg"),
            "inline; filename=\"Collet 3.jpg\"; filename*=UTF-8''Collet%203.jpg"
        );
        let bad = disposition(false, "ü\"; x=\"\\\r\nSet-Cookie: a%22.txt");
        assert!(bad.starts_with("attachment; filename=\"__; x=____Set-Cookie: a_22.txt\"; "));
        assert!(bad.ends_with(
            "filename*=UTF-8''%C3%BC%22%3B%20x%3D%22%5C%0D%0ASet-Cookie%3A%20a%2522.txt"
        ));
    }
}
