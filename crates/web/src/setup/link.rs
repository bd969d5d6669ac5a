//! The link on a tool's set-up card: it opens the crew's page with this tool, fastener and nose set, and
//! lets whoever holds the card send joints into the tool's inbox.
//!
//! The link carries a code over all that it says: HMAC-SHA-256 (RFC 2104) under a key derived from the
//! server's secret, cut to its first 128 bits, the least that RFC 2104 section 5 allows. Nothing about
//! it is stored; a tool's links are made void by renewing them, which counts up a number in them.

use std::fmt::Write as _;
use std::sync::Arc;

use axum::response::Response;
use calc::Message;
use hmac::{Hmac, KeyInit, Mac};
use jiff::civil::Date;
use sha2::Sha256;
use shop::crew::{Inbox, LinkFor, inbox_of};
use shop::entry::Entry;
use uuid::Uuid;

use super::PATH;
use crate::app::{App, failed};
use crate::forms::Typed;

/// Bytes of the code that a link carries.
const CODE_BYTES: usize = 16;
/// Longest address on a card.
const LONGEST: usize = 120;

/// What makes and reads the links on cards.
#[derive(Clone)]
pub struct CardLinks {
    key: Option<[u8; 32]>,
    address: Option<Arc<str>>,
}

impl CardLinks {
    /// None are made, and none are good.
    pub const NONE: Self = Self {
        key: None,
        address: None,
    };

    /// Under the server's secret. Without an address none are made; those made before stay good.
    ///
    /// # Errors
    /// An address that no browser opens.
    pub fn new(secret: &[u8; 32], address: Option<&str>) -> Result<Self, Message> {
        let address = address.map(|a| a.trim().trim_end_matches('/'));
        if let Some(address) = address.filter(|address| !is_address(address)) {
            return Err(Message::new("crew-address").with("address", address));
        }
        Ok(Self {
            key: Some(derived(secret)),
            address: address.map(Arc::from),
        })
    }

    /// Whether cards get a link.
    pub fn has_address(&self) -> bool {
        self.address.is_some()
    }

    /// The whole link for a card; `None` without an address.
    pub fn on_card(&self, tool: Uuid, serial: &str, link: &LinkFor, day: Date) -> Option<String> {
        let address = self.address.as_deref()?;
        let code = self.code(tool, link, &day.to_string())?;
        let mut query = form_urlencoded::Serializer::new(String::new());
        query
            .append_pair("model", &link.model)
            .append_pair("fastener", &link.fastener);
        if !link.code.is_empty() {
            query.append_pair("code", &link.code);
        }
        query
            .append_pair("nose", &link.nose)
            .append_pair("tool", serial)
            .append_pair("day", &day.to_string())
            .append_pair("n", &link.renewed.to_string())
            .append_pair("sig", &hex(&code));
        Some(format!("{address}{PATH}?{}", query.finish()))
    }

    /// Whether `sent` is the code of this link, compared in constant time.
    fn holds(&self, tool: Uuid, link: &LinkFor, day: &str, sent: &str) -> bool {
        let (Some(key), Some(sent)) = (&self.key, unhex(sent)) else {
            return false;
        };
        mac(key, tool, link, day)
            .verify_truncated_left(&sent)
            .is_ok()
    }

    fn code(&self, tool: Uuid, link: &LinkFor, day: &str) -> Option<[u8; CODE_BYTES]> {
        let whole = mac(self.key.as_ref()?, tool, link, day)
            .finalize()
            .into_bytes();
        whole.get(..CODE_BYTES)?.try_into().ok()
    }
}

/// A link as it was opened.
pub enum Link {
    /// None: the page was opened by itself.
    None,
    /// Good.
    Holds(Held),
    /// Good once; the tool's links were renewed since. A bad joint stops it all the same.
    Void(Held),
    /// Not one of ours, or changed.
    Wrong,
}

/// What a link of ours was made for.
pub struct Held {
    /// The tool.
    pub tool: Uuid,
    /// What it was made for.
    pub link: LinkFor,
    /// The tool's inbox.
    pub inbox: Inbox,
}

impl Link {
    /// The link that `typed` carries.
    pub async fn of(app: &App, typed: &Typed) -> Result<Self, Response> {
        if !typed.has("sig") {
            return Ok(Self::None);
        }
        let Ok(renewed) = typed.get("n").parse() else {
            return Ok(Self::Wrong);
        };
        let link = LinkFor {
            model: typed.get("model").to_owned(),
            fastener: typed.get("fastener").to_owned(),
            code: typed.get("code").to_owned(),
            nose: typed.get("nose").to_owned(),
            renewed,
        };
        let Some(serial) = super::serial(typed) else {
            return Ok(Self::Wrong);
        };
        let tools = app.store.tools_by_serial(serial).await.map_err(failed)?;
        let own = |tool: &Uuid| {
            app.links
                .holds(*tool, &link, typed.get("day"), typed.get("sig"))
        };
        let Some(tool) = tools.iter().map(|tool| tool.tool).find(own) else {
            return Ok(Self::Wrong);
        };
        let logged = app.store.entries(inbox_of(tool)).await.map_err(failed)?;
        let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
        let inbox = Inbox::fold(tool, &entries);
        let renewed = inbox.renewed != link.renewed;
        let held = Held { tool, link, inbox };
        Ok(match renewed {
            true => Self::Void(held),
            false => Self::Holds(held),
        })
    }

    /// The link, if it is good.
    pub fn held(&self) -> Option<&Held> {
        match self {
            Self::Holds(held) => Some(held),
            _ => None,
        }
    }
}

/// What a form carries on of the link, beside what was picked and the tool.
pub const FIELDS: [&str; 3] = ["day", "n", "sig"];

fn is_address(text: &str) -> bool {
    let rest = text
        .strip_prefix("http://")
        .or_else(|| text.strip_prefix("https://"));
    let plain = |b: u8| b.is_ascii_alphanumeric() || b"-._~:/[]".contains(&b);
    text.len() <= LONGEST
        && rest.is_some_and(|rest| {
            !rest.is_empty() && !rest.starts_with('/') && rest.bytes().all(plain)
        })
}

/// A key of its own: what is made with it says nothing of the secret's other uses.
fn derived(secret: &[u8; 32]) -> [u8; 32] {
    let mut mac = keyed(secret);
    mac.update(b"setwright crew link 1");
    mac.finalize().into_bytes().into()
}

fn keyed(key: &[u8; 32]) -> Hmac<Sha256> {
    // A key shorter than the hash's block is padded with zeros to it (RFC 2104).
    let mut block = [0; 64];
    block[..key.len()].copy_from_slice(key);
    Hmac::<Sha256>::new(&block.into())
}

/// Each part is led by its length: two texts cannot run into each other.
fn mac(key: &[u8; 32], tool: Uuid, link: &LinkFor, day: &str) -> Hmac<Sha256> {
    let mut mac = keyed(key);
    let (tool, renewed) = (tool.to_string(), link.renewed.to_string());
    let parts = [
        tool.as_str(),
        &link.model,
        &link.fastener,
        &link.code,
        &link.nose,
        day,
        &renewed,
    ];
    for part in parts {
        mac.update(&(part.len() as u64).to_be_bytes());
        mac.update(part.as_bytes());
    }
    mac
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn unhex(text: &str) -> Option<[u8; CODE_BYTES]> {
    if text.len() != 2 * CODE_BYTES || !text.is_ascii() {
        return None;
    }
    let mut bytes = [0; CODE_BYTES];
    for (i, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(&text[2 * i..2 * i + 2], 16).ok()?;
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const TOOL: Uuid = Uuid::from_u128(0x6f96_19ff_8b86_4d01_b42d_00cf_4fc9_64ff);

    fn link() -> LinkFor {
        LinkFor {
            model: "tulvane-tb-32".to_owned(),
            fastener: "marlstead-m8".to_owned(),
            code: "08".to_owned(),
            nose: "n8".to_owned(),
            renewed: 0,
        }
    }

    fn links() -> CardLinks {
        CardLinks::new(&[7; 32], Some("http://bench-2:4517/")).expect("an address")
    }

    #[test]
    fn the_code_is_hmac_sha_256() {
        // Python 3.11.7, hmac.new(…, "sha256").hexdigest()[:32], over the same bytes.
        let code = links().code(TOOL, &link(), "2026-11-25").expect("a key");
        assert_eq!(hex(&code), "6a72805355ecf72e58fae7e260a4fd28");
    }

    #[test]
    fn a_link_opens_what_it_was_made_for_and_nothing_else() {
        let links = links();
        let url = links.on_card(TOOL, "7K-0412", &link(), date(2026, 11, 25));
        let url = url.expect("an address");
        let start = "http://bench-2:4517/setup?model=tulvane-tb-32&fastener=marlstead-m8&code=08&nose=n8&tool=7K-0412&day=2026-11-25&n=0&sig=";
        let code = url.strip_prefix(start).expect("as a browser reads it");
        let day = "2026-11-25";
        assert!(links.holds(TOOL, &link(), day, code));
        assert!(
            !links.holds(Uuid::nil(), &link(), day, code),
            "another tool"
        );
        assert!(
            !links.holds(TOOL, &link(), "2026-11-26", code),
            "another day"
        );
        let other = |change: fn(&mut LinkFor)| {
            let mut link = link();
            change(&mut link);
            links.holds(TOOL, &link, day, code)
        };
        assert!(!other(|l| l.model.push('x')));
        assert!(!other(|l| l.fastener.push('n')));
        assert!(!other(|l| l.code = "8".to_owned()));
        assert!(!other(|l| l.nose.clear()));
        assert!(!other(|l| l.renewed = 1));
        let runs_over = LinkFor {
            fastener: "marlstead-m80".to_owned(),
            code: "8".to_owned(),
            ..link()
        };
        assert!(!links.holds(TOOL, &runs_over, day, code), "lengths count");
        for wrong in [
            "",
            "é",
            &code[..30],
            &code.replace(&code[..1], "g"),
            &format!("{code}00"),
        ] {
            assert!(!links.holds(TOOL, &link(), day, wrong), "{wrong}");
        }
        let elsewhere = CardLinks::new(&[8; 32], None).expect("no address");
        assert!(!elsewhere.holds(TOOL, &link(), day, code), "another server");
        assert!(!CardLinks::NONE.holds(TOOL, &link(), day, code));
    }

    #[test]
    fn addresses_that_no_browser_opens_are_refused() {
        for good in [
            "http://127.0.0.1:4517",
            "https://bench-2/shop",
            "http://[fe80::1]:4517/",
        ] {
            assert!(CardLinks::new(&[0; 32], Some(good)).is_ok(), "{good}");
        }
        for bad in [
            "",
            "bench-2",
            "ftp://x",
            "http://",
            "http:///setup",
            "http://a b",
            "http://a?b",
            "http://é",
            "javascript:x",
        ] {
            assert!(CardLinks::new(&[0; 32], Some(bad)).is_err(), "{bad}");
        }
    }
}
