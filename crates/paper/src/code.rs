//! The short text in a label's code, which the find box understands.
//!
//! ```text
//! code    = "SETWRIGHT:" ( "JOB/" number | "TOOL/" serial )
//! number  = 1*DIGIT
//! serial  = 1*( A-Z | 0-9 | "-" | "." | "%" HEX HEX )
//! ```
//!
//! Whatever else a serial holds, small letters too, stands as `%` and the two hexadecimal digits of
//! each byte in UTF-8. So a code is made of the few signs that a QR code stores in least room, and
//! survives a scanner that types small letters for capitals. In reading, small letters are capitals,
//! and any one sign will do for `:` and `/`: a scanner set to another keyboard types others there.

use std::fmt::Write as _;

/// What a label points at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Code {
    /// A job, by its number.
    Job(u32),
    /// A tool, by its serial.
    Tool(String),
}

const HOUSE: &str = "SETWRIGHT";
const JOB: &str = "JOB";
const TOOL: &str = "TOOL";

impl Code {
    /// As a label holds it.
    pub fn text(&self) -> String {
        match self {
            Self::Job(number) => format!("{HOUSE}:{JOB}/{number}"),
            Self::Tool(serial) => format!("{HOUSE}:{TOOL}/{}", plain(serial)),
        }
    }

    /// Reads what a scanner typed; `None` if it is no code of ours.
    pub fn read(typed: &str) -> Option<Self> {
        let typed = typed.trim();
        let rest = after_sign(after(typed, HOUSE)?)?;
        if let Some(rest) = after(rest, JOB) {
            let number = after_sign(rest)?;
            let is_number = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
            return number.parse().ok().filter(|_| is_number).map(Self::Job);
        }
        let serial = after_sign(after(rest, TOOL)?)?;
        signs(serial).filter(|s| !s.is_empty()).map(Self::Tool)
    }
}

/// What follows `start`, in capitals or not.
fn after<'a>(text: &'a str, start: &str) -> Option<&'a str> {
    let (head, rest) = text.split_at_checked(start.len())?;
    head.eq_ignore_ascii_case(start).then_some(rest)
}

/// What follows one sign that is neither letter nor digit of ASCII.
fn after_sign(text: &str) -> Option<&str> {
    let mut rest = text.chars();
    let sign = rest.next()?;
    (!sign.is_ascii_alphanumeric()).then_some(rest.as_str())
}

fn plain(serial: &str) -> String {
    serial.bytes().fold(String::new(), |mut text, byte| {
        match byte {
            b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' => text.push(char::from(byte)),
            _ => {
                let _ = write!(text, "%{byte:02X}");
            }
        }
        text
    })
}

fn signs(plain: &str) -> Option<String> {
    let mut bytes = Vec::new();
    let mut rest = plain.bytes();
    while let Some(byte) = rest.next() {
        bytes.push(match byte {
            b'%' => {
                let high = char::from(rest.next()?).to_digit(16)?;
                let low = char::from(rest.next()?).to_digit(16)?;
                u8::try_from(16 * high + low).ok()?
            }
            other => other.to_ascii_uppercase(),
        });
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn codes_are_written_in_capitals() {
        for (code, text) in [
            (Code::Job(1047), "SETWRIGHT:JOB/1047"),
            (Code::Tool("7K-0412".to_owned()), "SETWRIGHT:TOOL/7K-0412"),
            (Code::Tool("a/ß".to_owned()), "SETWRIGHT:TOOL/%61%2F%C3%9F"),
        ] {
            assert_eq!(code.text(), text);
        }
    }

    #[test]
    fn scanners_type_in_many_ways() {
        for typed in [
            "SETWRIGHT:JOB/1047",
            "setwright:job/1047",
            "  setWRIGHT:Job/1047\r\n",
            "SETWRIGHTÑJOB-1047",
        ] {
            assert_eq!(Code::read(typed), Some(Code::Job(1047)), "{typed}");
        }
        let tool = Some(Code::Tool("7K-0412".to_owned()));
        assert_eq!(Code::read("setwright:tool/7k-0412"), tool);
    }

    #[test]
    fn other_texts_are_no_codes() {
        for typed in [
            "",
            "1047",
            "SETWRIGHT",
            "SETWRIGHT:JOB/",
            "SETWRIGHT:JOB/+5",
            "SETWRIGHT:JOB/99999999999",
            "SETWRIGHT:TOOL/",
            "SETWRIGHT:TOOL/%4",
            "SETWRIGHT:TOOL/%FF",
            "SETWRIGHT:TOOL/%+1",
            "SETWRIGHTXJOB/1",
            "SETWRIGHT:CASE/1",
            "ſetwright:job/1",
        ] {
            assert_eq!(Code::read(typed), None, "{typed}");
        }
    }

    proptest! {
        #[test]
        fn every_serial_comes_back(serial in "\\PC{1,40}") {
            let code = Code::Tool(serial);
            let text = code.text();
            prop_assert!(text.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit() || b":/%-.".contains(&b)));
            prop_assert_eq!(Code::read(&text), Some(code.clone()));
            prop_assert_eq!(Code::read(&text.to_lowercase()), Some(code));
        }
    }
}
