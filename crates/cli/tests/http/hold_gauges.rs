//! The hold test of a strong tool: the form lists the cells that stand the full pull, and another is refused.

use crate::client::{Client, form};
use crate::program::Program;

const RECEIPT: [(&str, &str); 11] = [
    ("serial", "HP-77"),
    ("new_tool", "yes"),
    ("customer", "Hollin Flats Bin Erectors"),
    ("complaint", "lets go after a moment"),
    ("symptoms", "jaws-slip"),
    ("counter", "5100"),
    ("made_safe", "pump-off"),
    ("made_safe", "lines-zero"),
    ("made_safe", "couplers-parted"),
    ("kit-1", "1"),
    ("kit-4", "1"),
];

#[test]
fn a_cell_that_the_full_pull_could_break_is_not_offered_and_is_refused() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let page = client.get("/receive?model=skarnholt-hp-90");
    let received = client.send(&page, "receive", &RECEIPT);
    assert_eq!(received.status, 303, "{:?}", received.errors());
    let job = received.location.split('#').next().expect("a path");
    let page = client.get(job);
    let cells = |test: &str| {
        let form = form(&page.body, &format!("bench-test-as-found-{test}")).expect("it is asked");
        let offered = |id: &str| form.contains(&format!("value=\"{id}\""));
        [offered("lc-50"), offered("lc-120")]
    };
    // A full pull of up to 95.7 kN, whatever is lost of it.
    assert_eq!(cells("hold"), [false, true], "{}", page.body);
    let hint = "It stands under the full pull, up to 95.70 kN";
    assert!(page.body.contains(hint), "{}", page.body);
    let typed = [("gauge", "lc-50"), ("reading", "2.0")];
    let told = client.send(&page, "bench-test-as-found-hold", &typed);
    assert_eq!(told.status, 422);
    for said in ["LC-50 reads 0.00 to 50.00 kN", "up to 95.70 kN"] {
        assert!(told.body.contains(said), "{said}: {}", told.body);
    }
    // What was typed stays.
    assert!(told.body.contains("value=\"2.0\""), "{}", told.body);
    let typed = [("gauge", "lc-120"), ("reading", "2.0")];
    let read = client.send(&page, "bench-test-as-found-hold", &typed);
    assert_eq!(read.status, 303, "{:?}", read.errors());
}
