//! What the shop learned: the page, a number of it, and what a manager says.

use crate::client::{Client, receive};
use crate::program::Program;

const NUMBER: &str = "/fleet/learned/workshop/battery/rate.collet-teeth-worn.battery";

#[test]
fn a_manager_pins_a_rate_and_jobs_are_reckoned_with_it() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let first = client.get("/fleet/learned");
    assert_eq!(first.status, 200);
    let list = client.get("/fleet/learned/workshop/battery");
    for said in [
        "What we learned",
        "Closed jobs that teach",
        "Nothing differs from the sheet yet",
        NUMBER,
    ] {
        assert!(list.body.contains(said), "{said}\n{}", list.body);
    }
    let page = client.get(NUMBER);
    assert!(
        page.body.contains("As the sheet says; no own job yet"),
        "{}",
        page.body
    );

    // Bad input is refused at its field, and what was typed stays.
    let wrong = client.send(&page, "pin", &[("value", "140"), ("reason", "as agreed")]);
    assert_eq!(wrong.status, 422);
    assert_eq!(
        wrong.errors(),
        ["140.0 %: type 0.1 to 99. No evidence could speak against never or always."]
    );
    assert_eq!(wrong.value("pin", "reason").as_deref(), Some("as agreed"));
    let wrong = client.send(&page, "pin", &[("value", "lots"), ("reason", "as agreed")]);
    assert_eq!(wrong.status, 422, "{}", wrong.body);
    let wrong = client.send(&page, "pin", &[("value", "40"), ("reason", "")]);
    assert_eq!(wrong.status, 422, "{}", wrong.body);

    let pinned = client.send(
        &page,
        "pin",
        &[("value", "40"), ("reason", "counted by hand")],
    );
    assert_eq!(pinned.status, 303, "{:?}", pinned.errors());
    let page = client.get(NUMBER);
    for said in [
        "40.0 %",
        "Held at 40.0 %.",
        "counted by hand",
        "Pinned; sheet",
    ] {
        assert!(page.body.contains(said), "{said}\n{}", page.body);
    }
    let job_page = client.get(&job);
    assert!(
        job_page.body.contains("1 is pinned by a manager"),
        "{}",
        job_page.body
    );

    let released = client.send(&page, "release", &[("reason", "enough jobs by now")]);
    assert_eq!(released.status, 303, "{:?}", released.errors());
    assert!(client.get(NUMBER).body.contains("As the sheet says"));

    let list = client.get("/fleet/learned/workshop/battery");
    let anew = client.send(&list, "reset-all", &[("reason", "new kind of work")]);
    assert_eq!(anew.status, 303, "{:?}", anew.errors());
    for missing in [
        "/fleet/learned/workshop/steam",
        "/fleet/learned/nothing/battery",
        "/fleet/learned/workshop/battery/rate.gremlins.battery",
        "/fleet/learned/workshop/battery/mood",
    ] {
        assert_eq!(client.get(missing).status, 404, "{missing}");
    }
}
