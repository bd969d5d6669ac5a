//! Entries to write in tests, and a small source of chance that can be repeated from its seed.

use jiff::Timestamp;
use shop::entry::{
    Body, CauseConfirmed, CheckAnswered, HandedOver, PackState, PersonKey, PinRecord,
    ProofSignedOff, Received, Resumed, Returned, Said, Struck, SymptomsNoted, ToolRegistered,
    WaitFor, Waiting,
};
use store::{AppendError, Request, Store, Written};
use uuid::Uuid;

/// A sheet revision that need not be on the shelf.
fn pin(id: &str) -> PinRecord {
    PinRecord {
        id: id.to_owned(),
        revision: 1,
    }
}

/// A tool is registered.
pub fn register(serial: &str, owner: &PersonKey) -> Body {
    ToolRegistered {
        serial: serial.to_owned(),
        model: pin("tulvane-tb-32"),
        owner: owner.clone(),
    }
    .into()
}

/// A tool is taken in.
pub fn receive(number: u32, tool: Uuid, serial: &str, customer: &PersonKey) -> Body {
    Received {
        number,
        customer: customer.clone(),
        tool,
        serial: serial.to_owned(),
        model: pin("tulvane-tb-32"),
        faults: pin("faults"),
        shop: pin("tarnwick"),
        counter: Some(61_480 + u64::from(number)),
        counter_was: None,
        counter_anew: None,
        sold: None,
        first_used: None,
        complaint: "Cuts the collars — 100 % of them".to_owned(),
        symptoms: vec!["collar-cut".to_owned()],
        came: Vec::new(),
        pack: PackState::Sound,
        made_safe: Vec::new(),
        due: Some(jiff::civil::date(2026, 12, 1)),
    }
    .into()
}

/// A cause is confirmed, with what readings said.
pub fn confirmed(causes: &[&str]) -> Body {
    let ids = |ids: &[&str]| ids.iter().map(|id| (*id).to_owned()).collect();
    CauseConfirmed {
        causes: ids(causes),
        set_up_only: false,
        probability: None,
        handed: HandedOver {
            symptoms: ids(&["jaws-slip"]),
            yes: ids(&["stall-force"]),
            no: ids(&["load-hold-60s"]),
            ..HandedOver::default()
        },
        note: "nothing".to_owned(),
    }
    .into()
}

/// A tool goes back.
pub fn returned(by: &PersonKey) -> Body {
    Returned {
        end: None,
        to: by.clone(),
        with: Vec::new(),
        report: String::new(),
        authorised: by.clone(),
        note: String::new(),
        in_doubt: Vec::new(),
        doubt_reason: String::new(),
    }
    .into()
}

/// An entry of a job under way, of one of several kinds.
pub fn work(choice: u64) -> Body {
    match choice % 8 {
        0 => Waiting {
            wait_for: [WaitFor::Parts, WaitFor::Yes, WaitFor::Tool][(choice / 5 % 3) as usize],
            note: format!("note {choice}"),
        }
        .into(),
        1 => Resumed {}.into(),
        2 => SymptomsNoted {
            present: vec![format!("symptom-{}", choice % 7)],
            absent: Vec::new(),
        }
        .into(),
        3 => CheckAnswered {
            made_safe: Vec::new(),
            check: format!("check-{}", choice % 11),
            answer: Said::Yes,
            note: String::new(),
        }
        .into(),
        5 => confirmed(&[["collet-teeth-worn"], ["anvil-bore-worn"]][(choice / 8 % 2) as usize]),
        6 => ProofSignedOff {
            adjuster_stands: true,
            reason: String::new(),
        }
        .into(),
        7 => returned(&PersonKey("k".to_owned())),
        _ => Struck {
            version: (choice % 6) as u32 + 2,
            reason: "misread".to_owned(),
        }
        .into(),
    }
}

/// A request without a serial, at a fixed time.
pub fn request(submission: &str, subject: Uuid, expected_version: u32, by: &PersonKey) -> Request {
    Request {
        submission: submission.to_owned(),
        subject,
        expected_version,
        by: by.clone(),
        at: "2026-11-25T09:30:00.123456Z"
            .parse::<Timestamp>()
            .expect("a time"),
        serial: None,
    }
}

/// Takes in a new tool as a new job, the number being the next.
pub async fn take_in(
    store: &Store,
    submission: &str,
    job: Uuid,
    tool: Uuid,
    serial: &str,
    by: &PersonKey,
) -> Result<Written, AppendError<String>> {
    let (serial, customer) = (serial.to_owned(), by.clone());
    store
        .append(request(submission, job, 0, by), move |scene| {
            let registered = (tool, register(&serial, &customer));
            let received = receive(scene.next_number, tool, &serial, &customer);
            Ok(vec![registered, (job, received)])
        })
        .await
}

/// Writes one entry to a subject.
pub async fn write(
    store: &Store,
    request: Request,
    body: Body,
) -> Result<Written, AppendError<String>> {
    let subject = request.subject;
    store
        .append(request, move |_| Ok(vec![(subject, body)]))
        .await
}

/// Chance from a seed (SplitMix64; Steele, Lea and Flood 2014).
pub struct Chance(pub u64);

impl Chance {
    /// A number below `bound`.
    pub fn below(&mut self, bound: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % bound
    }

    /// An id.
    pub fn uuid(&mut self) -> Uuid {
        Uuid::from_u64_pair(self.below(u64::MAX), self.below(u64::MAX))
    }
}
