//! The second person: what was prepared by one is authorised by another, and only then issued.

use calc::Message;

use super::refusal::{Refusals, refuse, refuse_all};
use super::{Desk, Job, Signer};
use crate::entry::{Body, CertificateIssued};
use crate::spelling::folded;

/// What the second person says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AuthoriseIn {
    /// Version of the entry that was looked at.
    pub prepared: u32,
    /// The name picked at the bench.
    pub approver: Option<Signer>,
    /// The name of the one who prepared it; `None` if it was erased.
    pub author_name: Option<String>,
    /// What will stand on it was checked.
    pub checked: bool,
    /// SHA-256 of the paper that was kept.
    pub paper: Option<String>,
}

impl Job {
    /// What is other than it was when the certificate that waits was prepared; nothing where it can be
    /// authorised as it is.
    pub fn changed_since_prepared(&self, desk: &Desk) -> Vec<Message> {
        let Some(prepared) = &self.prepared else {
            return Vec::new();
        };
        let was = &prepared.body.certificate;
        let now = self.certificate_entries(&was.method);
        let entry = |id, version: &u32| Message::new(id).with("entry", *version);
        let gone = was.rests_on.iter().filter(|v| !now.contains(v));
        let new = now.iter().filter(|v| !was.rests_on.contains(v));
        let mut changes: Vec<Message> = gone
            .map(|v| entry("prepared-entry-gone", v))
            .chain(new.map(|v| entry("prepared-entry-new", v)))
            .collect();
        changes.extend(self.doubts_since(was, desk));
        // The entries are the same and say the same: what is left is what was amended of the receipt.
        if changes.is_empty() && self.certificate_content(was) != was.content {
            changes.push(Message::new("prepared-receipt"));
        }
        changes
    }

    pub(super) fn authorise_certificate(
        &self,
        typed: AuthoriseIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let waits = self.prepared.as_ref();
        let Some(prepared) = waits.filter(|p| p.version == typed.prepared) else {
            return refuse_all(Message::new("refuse-nothing-prepared"));
        };
        if self.proof.is_none() {
            return refuse_all(Message::new("refuse-certificate-proof"));
        }
        if !self.certifiable() {
            return refuse_all(Message::new("refuse-certificate-left"));
        }
        if let Some(change) = self.changed_since_prepared(desk).into_iter().next() {
            let changed = Message::new("refuse-prepared-changed");
            return refuse_all(changed.with("what", change));
        }
        let Some(signer) = typed.approver else {
            return refuse_all(Message::new("refuse-who"));
        };
        let author = &prepared.body.certificate.author;
        let same_name = |name: &String| folded(name) == folded(&signer.name);
        if signer.key == *author || typed.author_name.as_ref().is_some_and(same_name) {
            return refuse_all(Message::new("refuse-approver-author"));
        }
        let approver = signer.listed(desk)?;
        if !typed.checked {
            let message = Message::new("refuse-not-checked");
            return Err(vec![refuse("checked", message)]);
        }
        let mut issued = CertificateIssued {
            approver: Some(approver),
            prepared: Some(prepared.version),
            paper: typed.paper,
            ..prepared.body.certificate.clone()
        };
        issued.content = self.certificate_content(&issued);
        Ok(vec![issued.into()])
    }
}
