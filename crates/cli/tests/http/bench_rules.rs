//! What a technician types at the counter and at the bench: a counter that fell, a pack that did and did not
//! come, a tool that came for its set-up alone.

use crate::client::{Answer, Client, done};
use crate::program::Program;

const RECEIPT: [(&str, &str); 8] = [
    ("serial", "7K-77"),
    ("customer", "Fennholt Glasshouse Frames"),
    ("complaint", "to be set for M8"),
    ("made_safe", "pack-out"),
    ("made_safe", "trigger-pressed"),
    ("kit-1", "1"),
    ("kit-4", "1"),
    ("pack", "none"),
];

/// The receipt sent with these fields beside it.
fn received(client: &mut Client, more: &[(&str, &str)]) -> Answer {
    let page = client.get("/receive?model=tulvane-tb-32");
    client.send(&page, "receive", &[&RECEIPT[..], more].concat())
}

fn job_of(answer: &Answer) -> String {
    assert_eq!(answer.status, 303, "{:?}", answer.errors());
    let path = answer.location.split('#').next();
    path.expect("a path").to_owned()
}

#[test]
fn a_counter_that_reads_less_than_at_the_last_visit_is_asked() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let first = [("new_tool", "yes"), ("counter", "12000")];
    let job = job_of(&received(&mut client, &first));
    // It goes back as it came: nothing is complained of, and the price is too high.
    done(&mut client, &job, "set-up-only", &[("note", "")]);
    let page = client.get(&job);
    assert!(page.body.contains("Set-up only: nothing is complained of"));
    let verdict = [
        ("cover", "not-covered"),
        ("term", "set-up"),
        ("evidence", "no part"),
    ];
    done(&mut client, &job, "warranty", &verdict);
    let price = [
        ("what", "Set-up"),
        ("count", "1"),
        ("each", "60.00"),
        ("tax", "0"),
    ];
    done(&mut client, &job, "estimate", &price);
    let now = jiff::Timestamp::now().to_zoned_datetime(jiff::tz::TimeZone::system());
    let today = now.date().to_string();
    let no = [
        ("yes", "no"),
        ("name", "Fennholt, buyer"),
        ("on", today.as_str()),
    ];
    done(&mut client, &job, "answer", &no);
    done(
        &mut client,
        &job,
        "return",
        &[
            ("to", "driver"),
            ("checked", "yes"),
            ("note", "The case stays here."),
        ],
    );

    let fell = received(&mut client, &[("counter", "500")]);
    assert_eq!(fell.status, 422);
    let errors = fell.errors().join(" | ");
    assert!(errors.contains("reads 500"), "{errors}");
    assert!(errors.contains("changed or set back"), "{errors}");
    assert_eq!(fell.value("receive", "counter").as_deref(), Some("500"));
    let bare = [("counter", "500"), ("counter_anew", "yes")];
    let bare = received(&mut client, &bare);
    assert!(
        bare.errors().join(" ").contains("who says so"),
        "{:?}",
        bare.errors()
    );
    let told = [
        ("counter", "500"),
        ("counter_anew", "yes"),
        ("counter_reason", "new board, says the owner"),
    ];
    let job = job_of(&received(&mut client, &told));
    let page = client.get(&job);
    assert!(
        page.body
            .contains("It began anew: new board, says the owner")
    );
    assert!(page.body.contains("12\u{202f}000"), "what it showed before");
    // Put right to a lower reading without the word why, it is asked again, and the reason stays.
    let wrong = [
        ("counter", "400"),
        ("counter_reason", ""),
        ("reason", "misread"),
    ];
    let page = client.get(&job);
    let refused = client.send(&page, "amend-receipt", &wrong);
    assert_eq!(refused.status, 422);
    assert_eq!(
        refused.value("amend-receipt", "counter").as_deref(),
        Some("400")
    );
}

#[test]
fn a_pack_that_came_has_a_state() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let both = received(&mut client, &[("new_tool", "yes"), ("kit-2", "1")]);
    assert_eq!(both.status, 422);
    for id in ["receive-pack-error", "receive-kit-2-error"] {
        assert!(both.body.contains(&format!("id=\"{id}\"")), "{id}");
    }
    assert_eq!(both.value("receive", "kit-2").as_deref(), Some("1"));
}

#[test]
fn something_complained_of_is_no_set_up_alone() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let slips = [("new_tool", "yes"), ("symptoms", "jaws-slip")];
    let job = job_of(&received(&mut client, &slips));
    let page = client.get(&job);
    assert!(
        !page.body.contains("<form id=\"set-up-only\""),
        "not offered"
    );
    // With nothing complained of the stage offers it.
    let other = [("serial", "7K-78"), ("new_tool", "yes")];
    let page = client.get("/receive?model=tulvane-tb-32");
    let fields = [&other[..], &RECEIPT[1..]].concat();
    let job = job_of(&client.send(&page, "receive", &fields));
    let page = client.get(&job);
    assert!(page.body.contains("<form id=\"set-up-only\""));
    let stored = client.send(&page, "set-up-only", &[("note", "M8 line")]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(&job);
    assert!(page.body.contains("M8 line") && !page.body.contains("<form id=\"cause\""));
}
