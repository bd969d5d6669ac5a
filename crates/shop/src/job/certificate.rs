//! Certificates of the bench proof: when one is issued, what it rests on, and whether that still stands.

use std::collections::BTreeSet;

use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Doubted, Job, Stamped};
use crate::entry::{
    Body, CertificateIssued, CertificatePrepared, Entry, PersonKey, Phase, PinRecord, PullsDrawn,
    PullsRead, Reading, TrialJointRead,
};
use crate::sheet::{Kind, ShopCard};
use calc::Message;

/// What a certificate is made by: raised when it comes to say something else of the same entries.
pub const CERTIFICATE_METHOD: &str = "bench-proof 5";

/// What certificates were made by that rest on the signed setting alone, not on the joints that it was found by.
const WITHOUT_JOINTS: [&str; 4] = [
    "bench-proof 1",
    "bench-proof 2",
    "bench-proof 3",
    "bench-proof 4",
];
/// Temperatures at which people stand at a bench, °C. Common practice, no source.
const TEMPERATURE_C: (f64, f64) = (-10.0, 50.0);

/// What is written down for a certificate, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CertificateIn {
    /// Temperature at the bench, °C.
    pub temperature_c: Option<f64>,
    /// Other conditions.
    pub conditions: String,
    /// Remarks.
    pub remarks: String,
    /// What was changed against the certificate that this one replaces.
    pub changed: String,
    /// The name picked at the bench.
    pub author: Option<Signer>,
    /// Why it is made although some of what stands on it is in doubt.
    pub doubted: Doubted,
    /// What will stand on it was checked.
    pub checked: bool,
    /// The drawings of the recorded pulls, read from their recordings again.
    pub pulls: Vec<PullsDrawn>,
    /// SHA-256 of the paper that was kept, where it is issued by this.
    pub paper: Option<String>,
}

/// Somebody who signs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signer {
    /// Key, which is what is kept.
    pub key: PersonKey,
    /// The name that was picked, or given at the prompt.
    pub name: String,
}

impl Signer {
    /// The key, if the name is one of the people of the shop cards in force: at the prompt any other
    /// could be given.
    pub(super) fn listed(self, desk: &Desk) -> Result<PersonKey, Refusals> {
        let cards = desk.shelf.shops().map(|(_, card)| card);
        if cards
            .flat_map(|card| &card.people)
            .any(|one| *one == self.name)
        {
            return Ok(self.key);
        }
        refuse_all(Message::new("refuse-signer-not-listed").with("name", self.name))
    }
}

/// How a certificate stands today.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CertificateState {
    /// It is in force, and the record still says what it says.
    InForce,
    /// It is in force, and the record has changed since: a correction is due.
    RecordChanged,
    /// Another one replaced it.
    Replaced {
        /// Number of that one.
        by: String,
    },
}

impl Job {
    /// Whether a certificate can be issued: the tool is proved and did not end otherwise.
    pub fn certifiable(&self) -> bool {
        self.proof.is_some() && (self.returned.is_none() || self.goes_back_to_work())
    }

    /// The certificate in force; it may have been issued on a record that has changed since.
    pub fn certificate(&self) -> Option<&Stamped<CertificateIssued>> {
        self.certificates.last()
    }

    /// Number of the next certificate. None is struck, so no number comes twice.
    pub fn next_certificate(&self) -> String {
        let next = self.certificates.len() + 1;
        format!("{}-P{next}", self.received.body.number)
    }

    /// Whether the shop asks for a second person: as its card says today, whatever it said when the tool
    /// came in.
    pub fn second_signature(&self, desk: &Desk) -> bool {
        let pin = self.shop_pin();
        let today = desk.shelf.newest(Kind::Shop, &pin.id).unwrap_or(pin);
        let card: Option<&ShopCard> = desk.shelf.shop(&today);
        card.is_some_and(|card| card.second_signature)
    }

    /// How the certificate `issued` of this job stands.
    pub fn certificate_state(&self, issued: &CertificateIssued) -> CertificateState {
        let numbers = self.certificates.iter().map(|c| &c.body);
        let mut after = numbers.skip_while(|c| c.number != issued.number).skip(1);
        match after.next() {
            Some(next) => CertificateState::Replaced {
                by: next.number.clone(),
            },
            None if self.proof.is_none() || self.certificate_content(issued) != issued.content => {
                CertificateState::RecordChanged
            }
            None => CertificateState::InForce,
        }
    }

    /// The job as it stood when the certificate of version `version` was issued.
    pub fn as_certified(entries: &[Entry], version: u32) -> Option<Self> {
        let then = entries.iter().take_while(|e| e.version <= version);
        Self::fold(&then.cloned().collect::<Vec<_>>())
    }

    pub(super) fn issue_certificate(
        &self,
        typed: CertificateIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        if self.proof.is_none() {
            return refuse_all(Message::new("refuse-certificate-proof"));
        }
        if !self.certifiable() {
            return refuse_all(Message::new("refuse-certificate-left"));
        }
        if self.prepared.is_some() && self.changed_since_prepared(desk).is_empty() {
            return refuse_all(Message::new("refuse-certificate-waits"));
        }
        let mut refusals = Refusals::new();
        let temperature_c = temperature(typed.temperature_c, &mut refusals);
        let before = self.certificate().map(|c| c.body.number.clone());
        let changed = match &before {
            Some(_) => needed("changed", &typed.changed, "refuse-certificate-changed"),
            None => Ok(String::new()),
        };
        let changed = changed.unwrap_or_else(|refusal| {
            refusals.push(refusal);
            String::new()
        });
        let in_doubt = self.in_doubt(desk);
        let doubt_reason =
            self.doubt_reason(&typed.doubted, &in_doubt, "refuse-certificate-doubt", desk);
        let doubt_reason = doubt_reason.unwrap_or_else(|refusal| {
            refusals.push(refusal);
            String::new()
        });
        if !typed.checked {
            refusals.push(refuse("checked", Message::new("refuse-not-checked")));
        }
        let author = match typed.author {
            None => {
                refusals.push(refuse("", Message::new("refuse-who")));
                None
            }
            Some(signer) => signer.listed(desk).map_err(|why| refusals.extend(why)).ok(),
        };
        let (Some(author), true) = (author, refusals.is_empty()) else {
            return Err(refusals);
        };
        let mut issued = CertificateIssued {
            number: self.next_certificate(),
            method: CERTIFICATE_METHOD.to_owned(),
            rests_on: self.certificate_entries(CERTIFICATE_METHOD),
            sheets: self.certificate_sheets(),
            content: String::new(),
            temperature_c,
            conditions: typed.conditions.trim().to_owned(),
            remarks: typed.remarks.trim().to_owned(),
            author,
            approver: None,
            replaces: before,
            changed,
            pulls: self.drawn(&typed.pulls),
            prepared: None,
            paper: None,
            in_doubt,
            doubt_reason,
        };
        issued.content = self.certificate_content(&issued);
        if self.second_signature(desk) {
            let certificate = issued;
            return Ok(vec![CertificatePrepared { certificate }.into()]);
        }
        issued.paper = typed.paper;
        Ok(vec![issued.into()])
    }

    /// Recorded pulls that stand on a certificate: those that count, as found before as left.
    pub fn certified_pulls(&self) -> impl Iterator<Item = &Stamped<PullsRead>> {
        let phases = [Phase::AsFound, Phase::AsLeft].into_iter();
        phases.flat_map(|phase| self.pulls_in(phase))
    }

    /// The same with their drawings out of `drawn`.
    fn drawn(&self, drawn: &[PullsDrawn]) -> Vec<PullsDrawn> {
        let of = |entry: u32| drawn.iter().find(|one| one.entry == entry);
        let each = self.certified_pulls().map(|read| PullsDrawn {
            entry: read.version,
            drawing: of(read.version).and_then(|one| one.drawing.clone()),
        });
        each.collect()
    }

    /// Versions of the entries that a certificate rests on.
    pub(super) fn certificate_entries(&self, method: &str) -> Vec<u32> {
        let set_up = self.set_up();
        let tests = self.tests.iter().map(|t| t.version);
        let mut versions: Vec<u32> = std::iter::once(self.received.version)
            .chain(tests)
            .chain(self.not_safe.as_ref().map(|n| n.version))
            .chain(set_up.map(|s| s.fitted.version))
            .chain(set_up.and_then(|s| s.signed_off.as_ref().map(|s| s.version)))
            .chain(self.joints_of(method).iter().map(|joint| joint.version))
            .chain(self.proof.as_ref().map(|p| p.version))
            .chain(self.certified_pulls().map(|p| p.version))
            .collect();
        versions.sort_unstable();
        versions
    }

    /// The trial joints that the setting which was signed off rests on.
    pub(super) fn signed_joints(&self) -> &[Stamped<TrialJointRead>] {
        let signed = self.set_up().filter(|set_up| set_up.signed_off.is_some());
        signed.map_or(&[], |set_up| &set_up.joints)
    }

    /// Those of them that a certificate made by `method` rests on: the first ones did on none.
    fn joints_of(&self, method: &str) -> &[Stamped<TrialJointRead>] {
        match WITHOUT_JOINTS.contains(&method) {
            true => &[],
            false => self.signed_joints(),
        }
    }

    /// The readings that a certificate made by `method` rests on, without those of recorded pulls.
    pub fn certified_readings(&self, method: &str) -> impl Iterator<Item = &Reading> {
        let tests = self.tests.iter().flat_map(|test| &test.body.readings);
        let joints = self.joints_of(method).iter().map(|joint| &joint.body);
        let of_joints = joints.flat_map(|joint| {
            let read = joint.readings.iter().map(|read| &read.reading);
            read.chain(&joint.pressure)
        });
        tests.chain(of_joints)
    }

    /// The sheets that a certificate rests on, each once.
    fn certificate_sheets(&self) -> Vec<PinRecord> {
        let received = &self.received.body;
        let fitted = self.set_up().map(|s| &s.fitted.body);
        let set_up = fitted.into_iter().flat_map(|f| [&f.fastener, &f.nose_set]);
        let readings = self.certified_readings(CERTIFICATE_METHOD);
        let pulls = || self.certified_pulls().map(|read| &read.body);
        let gauges: BTreeSet<(&str, u32)> = readings
            .map(|r| &r.gauge)
            .chain(pulls().flat_map(|read| &read.gauges))
            .map(|pin| (pin.id.as_str(), pin.revision))
            .collect();
        let gauges = gauges.into_iter().map(|(id, revision)| PinRecord {
            id: id.to_owned(),
            revision,
        });
        let set_for = |pin: &PinRecord| fitted.is_some_and(|f| f.fastener == *pin);
        let mut pulled_with: Vec<PinRecord> = Vec::new();
        for pin in pulls()
            .flat_map(|read| [&read.rig, &read.fastener])
            .flatten()
        {
            if !pulled_with.contains(pin) && !set_for(pin) {
                pulled_with.push(pin.clone());
            }
        }
        [&received.model, &received.shop]
            .into_iter()
            .chain(set_up)
            .cloned()
            .chain(gauges)
            .chain(pulled_with)
            .collect()
    }
}

fn temperature(typed: Option<f64>, refusals: &mut Refusals) -> f64 {
    let (min, max) = TEMPERATURE_C;
    match typed {
        None => refusals.push(refuse(
            "temperature",
            Message::new("refuse-temperature-missing"),
        )),
        Some(value) if !(min..=max).contains(&value) => {
            let message = Message::new("refuse-temperature")
                .number("value", value, 1)
                .number("min", min, 0)
                .number("max", max, 0);
            refusals.push(refuse("temperature", message));
        }
        Some(value) => return value,
    }
    0.0
}
