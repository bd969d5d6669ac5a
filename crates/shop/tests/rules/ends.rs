//! The ends of a job other than a mended tool.

use shop::entry::{End, PackGone, PackState};
use shop::job::{Command, EndIn, ReturnIn, ScrapIn, SendIn, Stage, Standing};
use shop::tables::job_row;

use crate::bench::{Bench, model, person, receipt};
use crate::walk::{answer, estimate, hand_back, look, not_safe, plan, prove, skip, warranty};

const TB: &str = "tulvane-tb-32";

fn ends(end: EndIn) -> Command {
    Command::Return(ReturnIn {
        to: Some(person("owner")),
        authorised: Some(person("bench")),
        with: Vec::new(),
        checked: true,
        note: String::new(),
        doubted: shop::job::Doubted::default(),
        end,
    })
}

pub fn scrap(witness: Option<&str>, pack: Option<PackGone>) -> Command {
    ends(EndIn::Scrapped(ScrapIn {
        witness: witness.map(person),
        pack,
    }))
}

fn send(change: impl FnOnce(&mut SendIn)) -> Command {
    let mut input = SendIn {
        parcel: "P-118".to_owned(),
        sent: vec!["Tool with nose set".to_owned()],
        ..SendIn::default()
    };
    change(&mut input);
    ends(EndIn::ToMaker(input))
}

fn came_with(pack: PackState, lost: Option<usize>) -> Bench {
    let mut input = receipt(model(TB), &["no-start"]);
    input.pack = pack;
    if pack == PackState::None {
        // The second line of the sheet's kit.
        input.came[1] = 0;
    }
    if let Some(lost) = lost {
        input.came[lost] = 0;
    }
    let mut bench = Bench::taken_in(&input);
    bench.does(not_safe());
    bench.does(crate::walk::cause("switch-worn"));
    bench
}

fn row(bench: &Bench) -> String {
    job_row(&bench.entries).expect("a job").stage
}

fn ended(bench: &Bench) -> Option<End> {
    bench.job().returned.expect("ended").body.end
}

#[test]
fn a_no_ends_unrepaired_and_a_mended_tool_has_no_other_end() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(warranty());
    bench.does(estimate(100));
    bench.does(answer(false));
    bench.does(hand_back());
    assert_eq!(
        (ended(&bench), row(&bench).as_str()),
        (Some(End::Unrepaired), "unrepaired")
    );
    let mut mended = Bench::proved();
    mended.does(hand_back());
    assert_eq!((ended(&mended), row(&mended).as_str()), (None, "ended"));
}

#[test]
fn nothing_found_is_an_end_of_its_own() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(Command::ConfirmCause {
        causes: Vec::new(),
        note: "works as it should".to_owned(),
    });
    let mut bench = bench.agreed();
    bench.does(skip(Stage::Rebuilt));
    bench.does(skip(Stage::SetUp));
    let mut bench = bench.tested();
    bench.does(prove());
    bench.does(hand_back());
    assert_eq!(
        (ended(&bench), row(&bench).as_str()),
        (Some(End::NoFaultFound), "no-fault-found")
    );
}

#[test]
fn scrap_has_the_owner_s_word_a_witness_and_a_place_for_the_pack() {
    let mut bench = came_with(PackState::Sound, None);
    bench.refuses(
        scrap(None, Some(PackGone::Collected)),
        "witness: refuse-witness",
    );
    bench.refuses(
        scrap(Some("bench"), Some(PackGone::Collected)),
        "witness: refuse-witness-other",
    );
    bench.refuses(scrap(Some("other"), None), "pack_gone: refuse-pack-gone");
    let nobody = Command::Return(ReturnIn {
        to: None,
        authorised: Some(person("bench")),
        with: Vec::new(),
        checked: true,
        note: String::new(),
        doubted: shop::job::Doubted::default(),
        end: EndIn::Scrapped(ScrapIn {
            witness: Some(person("other")),
            pack: Some(PackGone::ToOwner),
        }),
    });
    bench.refuses(nobody, "to: refuse-scrap-agreed");
    bench.does(scrap(Some("other"), Some(PackGone::Collected)));
    assert_eq!(row(&bench), "scrapped");
    let job = bench.job();
    assert_eq!(
        (job.stage(), job.standing(Stage::Rebuilt)),
        (None, Standing::Skipped)
    );
    assert!(!job.kept_setting());
    // A damaged pack goes to nobody's home.
    let damaged = came_with(PackState::Damaged, None);
    damaged.refuses(
        scrap(Some("other"), Some(PackGone::ToOwner)),
        "pack_gone: refuse-pack-to-owner",
    );
    // Without a pack nothing is asked.
    let mut bare = came_with(PackState::None, None);
    bare.does(scrap(Some("other"), None));
    let gone = ended(&bare);
    assert!(
        matches!(gone, Some(End::Scrapped { pack: None, .. })),
        "{gone:?}"
    );
}

#[test]
fn nothing_is_scrapped_or_sent_before_the_cause_is_known() {
    let bench = Bench::received(TB, &["jaws-slip"]);
    bench.refuses(scrap(Some("other"), None), ": refuse-not-yet");
    bench.refuses(send(|_| {}), ": refuse-not-yet");
}

#[test]
fn an_opened_tool_may_be_scrapped_but_not_sent_in_pieces() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.does(look("make-safe", true));
    bench.refuses(send(|_| {}), ": refuse-send-open");
    bench.does(scrap(Some("other"), Some(PackGone::Collected)));
    assert_eq!(row(&bench), "scrapped");
}

#[test]
fn a_parcel_has_a_number_a_list_and_says_what_is_missing() {
    let mut bench = came_with(PackState::None, Some(3));
    bench.refuses(send(|s| s.missing_seen = true), ": refuse-send-warranty");
    bench.does(warranty());
    bench.refuses(send(|_| {}), "missing_seen: refuse-missing-seen");
    assert_eq!(
        bench.refused(send(|s| {
            s.missing_seen = true;
            s.parcel.clear();
            s.sent.clear();
        })),
        ["sent: refuse-sent", "parcel: refuse-parcel"]
    );
    bench.does(send(|s| {
        s.missing_seen = true;
        s.sent.push("Proof of sale with its date".to_owned());
    }));
    let Some(End::SentToMaker {
        parcel,
        sent,
        missing,
    }) = ended(&bench)
    else {
        panic!("sent");
    };
    assert_eq!((parcel.as_str(), sent.len()), ("P-118", 2));
    assert_eq!(missing[0], "Tail collector");
    assert!(
        missing.contains(&"Pull counter at receipt".to_owned()),
        "{missing:?}"
    );
    assert!(!missing.contains(&"Proof of sale with its date".to_owned()));
    assert_eq!(row(&bench), "sent-to-maker");
    assert!(!bench.job().kept_setting());
}

#[test]
fn a_damaged_pack_lies_in_no_parcel() {
    let mut bench = came_with(PackState::Damaged, None);
    bench.does(warranty());
    bench.refuses(send(|_| {}), "pack_kept: refuse-pack-kept");
    bench.does(send(|s| s.pack_kept = true));
}

#[test]
fn the_end_can_be_struck_and_the_work_goes_on() {
    let mut bench = Bench::ready(TB);
    let end = bench.does(send(|_| {}));
    bench.does(crate::bench::strike(end));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
    assert_eq!(row(&bench), "rebuilt");
}

#[test]
fn what_came_and_does_not_go_back_is_accounted_for() {
    let mut bench = Bench::proved();
    let back = |with: Vec<String>, note: &str| {
        Command::Return(ReturnIn {
            to: Some(person("driver")),
            authorised: Some(person("bench")),
            with,
            checked: true,
            note: note.to_owned(),
            doubted: shop::job::Doubted::default(),
            end: EndIn::Back,
        })
    };
    let came = bench.job().received.body.came.clone();
    let all: Vec<String> = came.iter().map(|came| came.item.clone()).collect();
    assert!(all.len() > 1, "{all:?}");
    let refused = bench.refused(back(all[1..].to_vec(), " "));
    assert_eq!(refused, ["note: refuse-return-stays"]);
    let mut with_all = Bench::proved();
    with_all.does(back(all.clone(), ""));
    bench.does(back(all[1..].to_vec(), "Kept for the crew's second tool."));
}
