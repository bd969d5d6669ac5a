//! Certificates of the bench proof: when one is issued, who signs, what it rests on, and how it stands.

use calc::Message;
use sha2::{Digest, Sha256};
use shop::entry::{
    Body, CertificateIssued, Entry, Outcome, PackGone, Phase, PullDrawing, PullsDrawn,
};
use shop::job::{AuthoriseIn, CertificateIn, CertificateState, Command, Desk, Job, Signer, decide};
use shop::sheet::{self, Shelf};
use shop::tables::job_row;

use crate::bench::{Bench, desk, person, shelf, strike};
use crate::ends::scrap;
use crate::walk::{hand_back, prove, test};

pub fn signer(name: &str) -> Signer {
    Signer {
        key: person(name),
        name: name.to_owned(),
    }
}

fn asked() -> CertificateIn {
    CertificateIn {
        temperature_c: Some(21.5),
        conditions: " pack charged full ".to_owned(),
        remarks: String::new(),
        changed: String::new(),
        author: Some(signer("Joren")),
        doubted: shop::job::Doubted::default(),
        checked: true,
        pulls: Vec::new(),
        paper: None,
    }
}

pub fn issue(with: impl Fn(&mut CertificateIn)) -> Command {
    let mut typed = asked();
    with(&mut typed);
    Command::IssueCertificate(typed)
}

/// What waits, authorised by Oswin.
pub fn authorise(bench: &Bench, with: impl Fn(&mut AuthoriseIn)) -> Command {
    let prepared = bench.job().prepared.map_or(0, |p| p.version);
    let mut typed = AuthoriseIn {
        prepared,
        approver: Some(signer("Oswin")),
        author_name: Some("Joren".to_owned()),
        checked: true,
        paper: Some("9f86d081".repeat(8)),
    };
    with(&mut typed);
    Command::AuthoriseCertificate(typed)
}

/// Prepares by one and authorises by another, as the demo's shop asks for.
pub fn issues(bench: &mut Bench, with: impl Fn(&mut CertificateIn)) -> u32 {
    bench.does(issue(with));
    bench.does(authorise(bench, |_| {}))
}

pub fn of(bench: &Bench, version: u32) -> CertificateIssued {
    let job = bench.job();
    let found = job.certificates.iter().find(|c| c.version == version);
    found.expect("issued").body.clone()
}

/// The demo's shelf with a later shop card that does not ask for a second person.
fn one_signature() -> Shelf {
    let mut shelf = shelf().clone();
    let (pin, _) = shelf.shops().next().expect("the demo's card");
    let history = shelf.history(sheet::Kind::Shop, &pin.id);
    let text = history.last().expect("a revision").text.clone();
    let text = text.replace("second_signature = true\n", "");
    let card = sheet::read("shop.toml", &text).expect("still a good card");
    shelf.put(card, text);
    shelf
}

#[test]
fn it_rests_on_the_proof_and_all_that_was_tested() {
    let mut bench = Bench::proved();
    let job = bench.job();
    let issued = {
        let version = issues(&mut bench, |_| {});
        of(&bench, version)
    };
    assert_eq!(issued.number, "1-P1");
    assert_eq!((issued.replaces, issued.changed.as_str()), (None, ""));
    assert_eq!(issued.conditions, "pack charged full");
    for version in [
        job.received.version,
        job.proof.as_ref().expect("proved").version,
    ]
    .into_iter()
    .chain(job.tests.iter().map(|t| t.version))
    {
        assert!(issued.rests_on.contains(&version), "{version}");
    }
    let sheets: Vec<&str> = issued.sheets.iter().map(|s| s.id.as_str()).collect();
    for id in ["tulvane-tb-32", "tarnwick", "marlstead-m8", "n8", "lc-50"] {
        assert!(sheets.contains(&id), "{id}: {sheets:?}");
    }
    let state = bench
        .job()
        .certificate_state(&of(&bench, bench.job().version));
    assert_eq!(state, CertificateState::InForce);
}

#[test]
fn what_is_missing_is_refused_at_its_field() {
    let bench = Bench::proved();
    let refused = |with: fn(&mut CertificateIn)| bench.refused(issue(with));
    assert_eq!(
        refused(|c| c.temperature_c = None),
        ["temperature: refuse-temperature-missing"]
    );
    for wrong in [-40.0, 71.0, f64::NAN] {
        let mut typed = asked();
        typed.temperature_c = Some(wrong);
        let told = bench.refused(Command::IssueCertificate(typed));
        assert_eq!(told, ["temperature: refuse-temperature"], "{wrong}");
    }
    assert_eq!(
        refused(|c| c.checked = false),
        ["checked: refuse-not-checked"]
    );
    assert_eq!(refused(|c| c.author = None), [": refuse-who"]);
    // Before the proof there is nothing to certify.
    let early = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    assert_eq!(early.refused(issue(|_| {})), [": refuse-certificate-proof"]);
}

#[test]
fn two_people_each_do_their_own_act() {
    let mut bench = Bench::proved();
    let last_at = bench.job().last_at;
    let prepared = bench.does(issue(|_| {}));
    let job = bench.job();
    assert_eq!(job.certificates.len(), 0, "nothing is issued yet");
    assert_eq!(
        job.prepared.as_ref().map(|p| p.version),
        Some(prepared),
        "it waits"
    );
    assert_eq!(job.changed_since_prepared(&bench.desk), []);
    // One at a time: what waits is authorised or withdrawn first.
    assert_eq!(bench.refused(issue(|_| {})), [": refuse-certificate-waits"]);
    assert_eq!(
        bench.refused(authorise(&bench, |a| a.checked = false)),
        ["checked: refuse-not-checked"]
    );
    assert_eq!(
        bench.refused(authorise(&bench, |a| a.approver = None)),
        [": refuse-who"]
    );
    assert_eq!(
        bench.refused(authorise(&bench, |a| a.prepared -= 1)),
        [": refuse-nothing-prepared"]
    );
    let version = bench.does(authorise(&bench, |_| {}));
    let issued = of(&bench, version);
    assert_eq!(issued.author, person("Joren"));
    assert_eq!(issued.approver, Some(person("Oswin")));
    assert_eq!(issued.prepared, Some(prepared));
    assert_eq!(issued.paper, Some("9f86d081".repeat(8)));
    let job = bench.job();
    assert_eq!(job.prepared, None);
    assert_eq!(job.certificate_state(&issued), CertificateState::InForce);
    assert_eq!(job.last_at, last_at, "it finds nothing new");
    assert_eq!(
        bench.refused(authorise(&bench, |_| {})),
        [": refuse-nothing-prepared"]
    );
}

#[test]
fn nobody_authorises_their_own_where_two_must_sign() {
    let mut bench = Bench::proved();
    bench.does(issue(|_| {}));
    let by = |bench: &Bench, key: &str, name: &str| {
        bench.refused(authorise(bench, |a| {
            a.approver = Some(Signer {
                key: person(key),
                name: name.to_owned(),
            });
        }))
    };
    let own = [": refuse-approver-author"];
    assert_eq!(by(&bench, "Joren", "Joren"), own);
    // The prompt takes any name: another spelling is the same person under another key.
    for spelling in ["joren", "JOREN", " Joren "] {
        assert_eq!(by(&bench, "another", spelling), own, "{spelling}");
    }
    // A key is a person, whatever the name.
    assert_eq!(by(&bench, "Joren", "Oswin"), own);
    for nobody in ["Nobody", "oswin", "Oswin R."] {
        assert_eq!(
            by(&bench, nobody, nobody),
            [": refuse-signer-not-listed"],
            "{nobody}"
        );
    }
    // Nor does one prepare it under a name that nobody picks.
    let early = Bench::proved();
    assert_eq!(
        early.refused(issue(|c| c.author = Some(signer("joren")))),
        [": refuse-signer-not-listed"]
    );
    // An author whose name was erased is still known by the key.
    assert_eq!(
        bench.refused(authorise(&bench, |a| {
            a.approver = Some(signer("Joren"));
            a.author_name = None;
        })),
        own
    );
}

#[test]
fn where_one_signature_is_enough_it_stays_one_act() {
    let bench = Bench::proved();
    // The card of the day decides, not the one under which the tool came in.
    let shelf = one_signature();
    let alone = Desk {
        shelf: &shelf,
        ..desk()
    };
    let paper = Some("9f86d081".repeat(8));
    let one = decide(&bench.job(), issue(|c| c.paper = paper.clone()), &alone);
    match one.as_deref() {
        Ok([Body::CertificateIssued(issued)]) => {
            assert_eq!((&issued.approver, issued.prepared), (&None, None));
            assert_eq!(issued.paper, paper);
        }
        other => panic!("{other:?}"),
    }
    let told = decide(
        &bench.job(),
        issue(|c| c.author = Some(signer("joren"))),
        &alone,
    );
    let told = told.expect_err("no name of the list");
    assert_eq!(told[0].message.id, "refuse-signer-not-listed");
}

#[test]
fn what_changed_since_it_was_prepared_wants_it_prepared_anew() {
    let mut bench = Bench::proved();
    let prepared = bench.does(issue(|_| {}));
    let proof = bench.job().proof.expect("proved").version;
    bench.does(strike(proof));
    let changes = bench.job().changed_since_prepared(&bench.desk);
    assert_eq!(
        changes,
        [Message::new("prepared-entry-gone").with("entry", proof)]
    );
    assert_eq!(
        bench.refused(authorise(&bench, |_| {})),
        [": refuse-certificate-proof"]
    );
    let again = bench.does(prove());
    let changes = bench.job().changed_since_prepared(&bench.desk);
    assert_eq!(
        changes,
        [
            Message::new("prepared-entry-gone").with("entry", proof),
            Message::new("prepared-entry-new").with("entry", again),
        ]
    );
    let told = decide(&bench.job(), authorise(&bench, |_| {}), &bench.desk);
    let told = told.expect_err("it is no more what was prepared");
    let what = changes[0].clone();
    assert_eq!(
        told[0].message,
        Message::new("refuse-prepared-changed").with("what", what)
    );
    // Prepared anew it takes the place of the one before, and withdrawn does not bring that back.
    let anew = bench.does(issue(|_| {}));
    assert_ne!(anew, prepared);
    assert_eq!(bench.job().changed_since_prepared(&bench.desk), []);
    assert!(!bench.job().may_strike(prepared));
    bench.does(strike(anew));
    assert_eq!(bench.job().prepared, None);
}

#[test]
fn what_was_put_right_at_the_counter_is_told() {
    let mut bench = Bench::proved();
    bench.does(issue(|_| {}));
    bench.does(Command::AmendReceipt {
        counter: Some(12_001),
        anew: shop::counter::AnewIn::default(),
        sold: None,
        first_used: None,
        complaint: "It does not do as it should".to_owned(),
        due: None,
        reason: "misread".to_owned(),
    });
    assert_eq!(
        bench.job().changed_since_prepared(&bench.desk),
        [Message::new("prepared-receipt")]
    );
    assert_eq!(
        bench.refused(authorise(&bench, |_| {})),
        [": refuse-prepared-changed"]
    );
}

#[test]
fn a_prepared_one_is_withdrawn_also_when_the_tool_is_gone() {
    let mut bench = Bench::proved();
    bench.does(hand_back());
    let prepared = bench.does(issue(|_| {}));
    let last_at = bench.job().last_at;
    bench.does(strike(prepared));
    let job = bench.job();
    assert_eq!(job.prepared, None);
    assert_eq!(job.struck.len(), 1);
    assert_eq!(job.last_at, last_at);
    let version = issues(&mut bench, |_| {});
    assert_eq!(of(&bench, version).number, "1-P1", "no number was used up");
}

#[test]
fn nobody_is_asked_to_sign_for_a_tool_that_was_scrapped() {
    let mut bench = Bench::proved();
    let prepared = bench.does(issue(|_| {}));
    let waits = |bench: &Bench| job_row(&bench.entries).expect("received").signature;
    assert_eq!(waits(&bench), "1-P1");
    bench.does(scrap(Some("other"), Some(PackGone::Collected)));
    assert_eq!((bench.job().prepared, waits(&bench)), (None, String::new()));
    bench.refuses(strike(prepared), ": refuse-returned");
}

#[test]
fn a_correction_is_a_new_one_that_names_the_old_and_says_what_changed() {
    let mut bench = Bench::proved();
    let first = issues(&mut bench, |_| {});
    assert_eq!(
        bench.refused(issue(|_| {})),
        ["changed: refuse-certificate-changed"]
    );
    // An ended job is corrected, too.
    bench.does(hand_back());
    let second = issues(&mut bench, |c| c.changed = "the temperature".to_owned());
    let (first, second) = (of(&bench, first), of(&bench, second));
    assert_eq!(second.number, "1-P2");
    assert_eq!(second.replaces.as_deref(), Some("1-P1"));
    let job = bench.job();
    assert_eq!(
        job.certificate_state(&first),
        CertificateState::Replaced {
            by: "1-P2".to_owned()
        }
    );
    assert_eq!(job.certificate_state(&second), CertificateState::InForce);
    assert!(job.returned.is_some(), "the job stays ended");
}

#[test]
fn an_issued_certificate_is_never_struck() {
    let mut bench = Bench::proved();
    let issued = issues(&mut bench, |_| {});
    assert!(!bench.job().may_strike(issued));
    bench.refused(strike(issued));
    let back = bench.does(hand_back());
    bench.refused(strike(issued));
    // The end of the job can be, as before.
    assert!(bench.job().may_strike(back));
}

#[test]
fn what_is_struck_afterwards_changes_the_certificate_in_nothing_and_is_told() {
    let mut bench = Bench::proved();
    let version = issues(&mut bench, |_| {});
    let issued = of(&bench, version);
    let proof = bench.job().proof.expect("proved").version;
    bench.does(strike(proof));
    let job = bench.job();
    assert_eq!(
        job.certificate_state(&issued),
        CertificateState::RecordChanged
    );
    assert_eq!(bench.refused(issue(|_| {})), [": refuse-certificate-proof"]);
    // Printed again it is what it was.
    let then = Job::as_certified(&bench.entries, version).expect("the job of then");
    assert_eq!(then.certificate_content(&issued), issued.content);
    assert!(then.proof.is_some());
    // Proved again, the old one still rests on a proof that was struck.
    bench.does(prove());
    assert_eq!(
        bench.job().certificate_state(&issued),
        CertificateState::RecordChanged
    );
}

#[test]
fn an_altered_reading_gives_another_content() {
    let mut bench = Bench::proved();
    let version = issues(&mut bench, |_| {});
    let issued = of(&bench, version);
    let content = |entries: &[Entry]| {
        let then = Job::as_certified(entries, version).expect("a job");
        then.certificate_content(&issued)
    };
    assert_eq!(content(&bench.entries), issued.content);
    let mut altered = bench.entries.clone();
    let reading = altered.iter_mut().find_map(|e| match &mut e.body {
        Body::BenchTestRead(b) => b.readings.first_mut(),
        _ => None,
    });
    reading.expect("a reading").value += 0.01;
    assert_ne!(content(&altered), issued.content);
    let mut other = issued.clone();
    other.remarks = "fit for use".to_owned();
    assert_ne!(bench.job().certificate_content(&other), issued.content);
}

/// Another form would make every certificate issued before unprintable: it is written out here by hand.
#[test]
fn the_form_of_the_content_is_fixed() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    bench.does(test(
        Phase::AsFound,
        "pull-force",
        "lc-50",
        &[31.62, 31.7, 31.58, 31.66, 31.64],
    ));
    let issued = stored(1);
    let job = bench.job();
    let read = &job.tests[0].body;
    let of_one = read.readings[0].expanded.expect("an uncertainty");
    let readings = [31.62, 31.7, 31.58, 31.66, 31.64]
        .map(|value| format!(r#"[{value},"kN","{value}",["lc-50",1],{of_one},true]"#))
        .join(",");
    let written = format!(
        r#"["setwright certificate 1","7-P2","bench-proof 1","7-P1","temperature",[1,"T-1"],12000,"customer",[["tulvane-tb-32",1]],[1,4,9],null,[[2,"as-found","pull-force",{},{},{},"{}",[{readings}],""]],null,null,[12.5,"pack full"],"none","k3","k4"]"#,
        read.value.expect("a mean"),
        read.expanded.expect("an uncertainty"),
        read.spread_percent.expect("the sheet limits it"),
        match read.outcome {
            Outcome::Accept => "accept",
            Outcome::Undecided => "undecided",
            Outcome::Reject => "reject",
        },
    );
    assert_eq!(
        job.certificate_content(&issued),
        sha256(&written),
        "{written}"
    );
    // It says nothing of recorded pulls, so also where there are some it says what it said.
    bench.write(recorded());
    assert_eq!(
        bench.job().certificate_content(&issued),
        sha256(&written),
        "{written}"
    );
}

pub fn sha256(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The stored certificate of this place.
pub fn stored(nth: usize) -> CertificateIssued {
    let mut lines = crate::entries::stored().filter(|(kind, _)| *kind == "certificate-issued");
    let (kind, json) = lines.nth(nth).expect("a stored line");
    match Body::from_json(kind, 1, json) {
        Ok(Body::CertificateIssued(issued)) => issued,
        other => panic!("{other:?}"),
    }
}

/// Recorded pulls as stored: as left on a rig, as found without one.
pub fn recorded() -> Vec<Body> {
    let lines = crate::entries::stored().filter(|(kind, _)| *kind == "pulls-read");
    let bodies = lines.map(|(kind, json)| Body::from_json(kind, 1, json));
    bodies.collect::<Result<_, _>>().expect("stored lines read")
}

#[test]
fn the_form_of_the_content_with_recorded_pulls_is_fixed() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    bench.write(recorded());
    let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    let left = format!(
        r#"["as-left","{hash}","stall.csv",["bench-1",1],null,[["lc-50",1],["ds-1",1]],true,6,[[2,[["peak",20.41,0.26,19.0,22.0,"accept"],["stroke",11.2,0.08,null,null,null]],null]],null,"accept",["pull-reading 1"],""]"#
    );
    let found = format!(
        r#"["as-found","{hash}","d6.csv",null,["drumhale-d6",1],[],false,1,[[1,[],"undecided"]],[12,0.92,["{hash}"]],"undecided",["pull-reading 1","pull-envelope 1"],"no rig"]"#
    );
    let drawing = r#"[[[1,"rejected",[[100,0],[4000,12500]]],[2,"left-out",[]]],[["take-up",0,1500]],[[1,3000,9000,2100]],[[1500,-20,900]]]"#;
    let written = format!(
        r#"["setwright certificate 2","1-P1","bench-proof 2",null,"",[1,"T-1"],12000,"customer",[["tulvane-tb-32",1]],[1,2,3],null,[],null,null,[21.5,""],"","k3",null,[[2,{left},{drawing}],[3,{found},null]],[3,2]]"#
    );
    assert_eq!(
        bench.job().certificate_content(&stored(2)),
        sha256(&written),
        "{written}"
    );
}

#[test]
fn recorded_pulls_stand_on_it_with_their_drawing_and_struck_ones_are_told() {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet").set_up_m8();
    bench = bench.tested();
    let before = bench.job().version;
    bench.write(recorded());
    bench.does(prove());
    let drawing = PullDrawing {
        band: vec![(1, 2, 3)],
        ..PullDrawing::default()
    };
    let drawn = |entry| PullsDrawn {
        entry,
        drawing: Some(drawing.clone()),
    };
    // One more than there is stands nowhere; one that could not be read has no drawing.
    let version = issues(&mut bench, |c| {
        c.pulls = vec![drawn(before + 1), drawn(900)]
    });
    let issued = of(&bench, version);
    let entries: Vec<_> = issued
        .pulls
        .iter()
        .map(|p| (p.entry, p.drawing.is_some()))
        .collect();
    assert_eq!(entries, [(before + 2, false), (before + 1, true)]);
    assert!(issued.rests_on.contains(&(before + 1)));
    let sheets: Vec<&str> = issued.sheets.iter().map(|s| s.id.as_str()).collect();
    for id in ["bench-1", "drumhale-d6", "lc-50", "ds-1"] {
        let named = sheets.iter().filter(|sheet| **sheet == id).count();
        assert_eq!(named, 1, "{id}: {sheets:?}");
    }
    let state = |bench: &Bench| bench.job().certificate_state(&issued);
    assert_eq!(state(&bench), CertificateState::InForce);
    let mut other = issued.clone();
    other.pulls[1].drawing = None;
    assert_ne!(bench.job().certificate_content(&other), issued.content);
    let proof = bench.job().proof.expect("proved").version;
    bench.does(strike(proof));
    bench.does(strike(before + 1));
    bench.does(prove());
    assert_eq!(state(&bench), CertificateState::RecordChanged);
    let then = Job::as_certified(&bench.entries, version).expect("the job of then");
    assert_eq!(then.certificate_content(&issued), issued.content);
}

#[test]
fn a_tool_that_did_not_go_back_to_work_has_none() {
    let mut bench = Bench::proved();
    bench.does(hand_back());
    let mut job = bench.job();
    assert!(job.certifiable());
    let back = job.returned.as_mut().expect("returned");
    back.body.end = Some(shop::entry::End::SentToMaker {
        parcel: "P-1".to_owned(),
        sent: Vec::new(),
        missing: Vec::new(),
    });
    let told = decide(&job, issue(|_| {}), &bench.desk).expect_err("it is with the maker");
    assert_eq!(told[0].message, Message::new("refuse-certificate-left"));
}
