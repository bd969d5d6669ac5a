//! A recording of pulls over HTTP: brought, its faults named, taken by ticks, its verdict on the job.

use crate::client::{Client, receive};
use crate::files::goes_back;
use crate::program::Program;
use crate::suspect::words_of;

const SLIPPING: &[u8] =
    include_bytes!("../../../../sheets/demo/recordings/ah-1212-d6-as-found.csv");
const TO_STALL: &[u8] = include_bytes!("../../../../sheets/demo/recordings/ah-1301-stall.csv");

#[test]
fn a_recording_is_read_its_faults_named_and_what_is_ticked_counts() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let fields = [("rig", "bench-1"), ("fastener", "drumhale-d6")];
    let brought = client.upload(
        &page,
        "recording-fault",
        &fields,
        &[("file", "d6.csv", SLIPPING)],
    );
    assert_eq!(brought.status, 303, "{:?}", brought.errors());
    assert!(brought.location.contains("/pulls/"), "{}", brought.location);

    // Nothing counts yet: faults stand with their lines, the pull with one in it is not ticked.
    let review = client.get(&brought.location);
    assert_eq!(review.status, 200);
    assert!(
        review.body.contains("Line 1101: stroke is no number"),
        "{}",
        review.body
    );
    assert!(review.body.contains("class=\"pull-plot\""));
    let ticked = |number: &str| {
        let begin = format!("name=\"pull\" value=\"{number}\"");
        let tick = review.body.split(&begin).nth(1).expect("it is offered");
        tick.split('>')
            .next()
            .is_some_and(|rest| rest.contains("checked"))
    };
    assert!(ticked("1") && !ticked("2") && ticked("3"));
    assert!(!client.get(&job).body.contains("of 4 pulls"));
    let shown = |body: &str, what: &str| {
        let row = body.split(&format!(">{what}</td>")).nth(1);
        let cell = row.and_then(|row| row.split("</td>").next());
        cell.expect("a row of the table").to_owned()
    };
    let size = shown(&review.body, "Mean size of the slips");
    assert!(size.contains(" ± ") && size.contains(" kN"), "{size}");
    assert!(!shown(&review.body, "Slips").contains('±'));
    assert!(review.body.contains("no uncertainty is reckoned"));
    for (what, part) in [
        ("Peak", "load cell"),
        ("Stroke", "displacement sensor"),
        ("Mean size of the slips", "reading off the slips"),
    ] {
        let title = format!("<summary>Uncertainty budget: {what}</summary>");
        let budget = review.body.split(&title).nth(1).expect("a budget");
        let budget = budget.split("</details>").next().expect("its end");
        assert!(
            budget.contains(part) && budget.contains("Welch–Satterthwaite"),
            "{budget}"
        );
    }

    // Without a tick nothing is taken, and the page comes back with what to mend.
    let none = client.send(&review, "pulls", &[("pull", ""), ("note", "as found")]);
    assert_eq!(none.status, 422);
    assert!(none.body.contains("as found") && none.body.contains("Line 1101"));

    let taken = client.send(
        &review,
        "pulls",
        &[("pull", "1"), ("pull", "3"), ("note", "as found")],
    );
    assert_eq!(taken.status, 303, "{:?}", taken.errors());
    let page = client.get(&job);
    assert!(
        page.body.contains("2 of 4 pulls of Drumhale D6"),
        "{}",
        page.body
    );
    assert!(page.body.contains("Slips out of limits in pull 1, 3"));
    let again = client.get(&brought.location);
    assert!(again.body.contains("count already"));

    // The file is kept as it was sent.
    let address = page
        .body
        .split("<figure><a href=\"")
        .nth(1)
        .expect("the file");
    let address = address.split('"').next().expect("its address").to_owned();
    assert!(client.get(&address).bytes == SLIPPING);

    // Its drawing stands alone, too.
    let drawn = page
        .body
        .split("src=\"")
        .find(|rest| rest.contains("/plot.svg\""));
    let drawn = drawn
        .and_then(|rest| rest.split('"').next())
        .expect("a drawing")
        .to_owned();
    let drawn = client.get(&drawn);
    assert!(drawn.status == 200 && drawn.body.starts_with("<svg"));
    goes_back(&mut client, &job);
    let report = words_of(&client.get(&format!("{job}/report.pdf")).bytes);
    assert!(report.contains("Mean size of the slips"), "{report}");
}

/// A job with five pulls to stall that count as found.
pub fn stalled(client: &mut Client) -> String {
    let job = receive(client, "7K-2");
    let page = client.get(&job);
    let files: [(&str, &str, &[u8]); 1] = [("file", "stall.csv", TO_STALL)];
    let brought = client.upload(&page, "recording-fault", &[("rig", "bench-1")], &files);
    let review = client.get(&brought.location);
    let pulls = ["1", "2", "3", "4", "5"].map(|n| ("pull", n));
    let taken = client.send(&review, "pulls", &pulls);
    assert_eq!(taken.status, 303, "{:?}", taken.errors());
    job
}

#[test]
fn pulls_to_stall_answer_the_bench_test_and_what_is_no_recording_says_so() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = stalled(&mut client);
    // 21 kN is far below what the sheet of this tool asks for at stall, 30.4 kN.
    let page = client.get(&job);
    assert!(page.body.contains("5 of 5 pulls to stall"), "{}", page.body);
    assert!(
        page.body
            .contains("Peak out of limits in pull 1, 2, 3, 4, 5")
    );
    assert!(page.body.contains("Record"), "the record is on the page");

    let files: [(&str, &str, &[u8]); 1] = [("file", "notes.txt", b"no numbers here\n")];
    let brought = client.upload(&page, "recording-fault", &[("rig", "bench-1")], &files);
    let review = client.get(&brought.location);
    assert!(
        review.body.contains("No pull can be read"),
        "{}",
        review.body
    );
    assert!(review.body.contains("Line 1: no rows of numbers"));
    goes_back(&mut client, &job);
    let report = words_of(&client.get(&format!("{job}/report.pdf")).bytes);
    assert!(report.contains("Energy not given back"), "{report}");
}
