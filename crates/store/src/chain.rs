//! The hash chain: each entry carries a hash over itself and over the hash of the entry before it.

use sha2::{Digest, Sha256};

/// First field of every hash; another form of entry would carry another one.
const FORM: &str = "setwright entry 1";

/// What the first entry of an origin names as the hash before it.
pub(crate) const START: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// What an entry's hash is taken over, as stored.
pub(crate) struct Link<'a> {
    pub origin: &'a str,
    pub seq: i64,
    pub subject: &'a str,
    pub version: i64,
    pub schema: i64,
    pub kind: &'a str,
    pub at: &'a str,
    pub by: &'a str,
    pub body: &'a str,
    pub prev_hash: &'a str,
}

impl Link<'_> {
    /// SHA-256 in lower-case hex over the fields in this order, each led by its length in bytes as
    /// eight bytes, highest first. Without the lengths, `ab` + `c` and `a` + `bc` would be one.
    pub fn hash(&self) -> String {
        let (seq, version, schema) = (
            self.seq.to_string(),
            self.version.to_string(),
            self.schema.to_string(),
        );
        let fields = [
            FORM,
            self.origin,
            &seq,
            self.subject,
            &version,
            &schema,
            self.kind,
            self.at,
            self.by,
            self.body,
            self.prev_hash,
        ];
        let mut hasher = Sha256::new();
        for field in fields {
            hasher.update((field.len() as u64).to_be_bytes());
            hasher.update(field.as_bytes());
        }
        hex(&hasher.finalize())
    }
}

/// `bytes` as lower-case hex.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use std::process::Command;

    use super::*;

    const SAMPLE: Link<'_> = Link {
        origin: "0b5e51c2-8f0f-4d0a-9d7b-3f6f0a1c2d3e",
        seq: 12,
        subject: "7f1f3f9a-1d3e-4c1a-8a55-2b1a4f3c9d10",
        version: 3,
        schema: 1,
        kind: "resumed",
        at: "2026-11-25T09:30:00.000001Z",
        by: "ansa",
        body: "{\"note\":\"2 µm\"}",
        prev_hash: START,
    };

    /// The same bytes, put together by another program from the description in docs/logbook.md.
    const PYTHON: &str = r#"
import hashlib
fields = ["setwright entry 1", "0b5e51c2-8f0f-4d0a-9d7b-3f6f0a1c2d3e", "12",
          "7f1f3f9a-1d3e-4c1a-8a55-2b1a4f3c9d10", "3", "1", "resumed",
          "2026-11-25T09:30:00.000001Z", "ansa", '{"note":"2 µm"}', "0" * 64]
print(hashlib.sha256(b"".join(len(b).to_bytes(8, "big") + b
      for b in (f.encode() for f in fields))).hexdigest())
"#;

    #[test]
    fn hash_is_as_documented() {
        // Computed once with `PYTHON`, so that the check also holds where there is no python3.
        let computed = "71f40d02d9d2573b77c78dce552a0e2d11484fe27e7634c5a840e86e34bc868f";
        assert_eq!(SAMPLE.hash(), computed);
        if let Ok(ran) = Command::new("python3").args(["-c", PYTHON]).output() {
            let said = String::from_utf8_lossy(&ran.stdout);
            let complaint = String::from_utf8_lossy(&ran.stderr);
            assert_eq!(said.trim(), computed, "{complaint}");
        }
    }

    #[test]
    fn every_field_counts_and_borders_too() {
        let base = SAMPLE.hash();
        let changed = [
            Link {
                origin: "x",
                ..SAMPLE
            },
            Link { seq: 13, ..SAMPLE },
            Link {
                subject: "x",
                ..SAMPLE
            },
            Link {
                version: 4,
                ..SAMPLE
            },
            Link {
                schema: 2,
                ..SAMPLE
            },
            Link {
                kind: "waiting",
                ..SAMPLE
            },
            Link {
                at: "2026-11-25T09:30:00.000002Z",
                ..SAMPLE
            },
            Link {
                by: "joren",
                ..SAMPLE
            },
            Link {
                body: "{}",
                ..SAMPLE
            },
            Link {
                prev_hash: "x",
                ..SAMPLE
            },
            // The same letters in a row, parted elsewhere.
            Link {
                by: "ansa{",
                body: "\"note\":\"2 µm\"}",
                ..SAMPLE
            },
        ];
        let mut seen = vec![base];
        for link in changed {
            let hash = link.hash();
            assert!(!seen.contains(&hash), "{hash} twice");
            seen.push(hash);
        }
    }
}
