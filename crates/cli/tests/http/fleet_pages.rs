//! Pages that reckon and keep nothing: exposure of a day, sampling plan of a lot; and joints in numbers.

use crate::client::Client;
use crate::crew_link::{GOOD, READINGS, Shop};
use crate::program::Program;

#[test]
fn the_exposure_of_a_day_is_reckoned_from_what_was_measured_and_what_sheets_declare() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    let empty = crew.get("/fleet/exposure");
    assert_eq!(empty.status, 200);
    assert!(empty.body.contains("href=\"/fleet/learned\""));
    assert!(
        crew.get("/fleet/learned/workshop/battery")
            .body
            .contains("href=\"/fleet/exposure\"")
    );

    // ISO 5349-2:2001, E.2.1: 7.4 m/s² for 2.5 h give 4.1 m/s². 2.5 h are 3000 pulls of 3 s.
    let measured = "pulls=3000&seconds=3&vibration=7,4&noise=90";
    let page = crew.get(&format!("/fleet/exposure?{measured}"));
    assert_eq!(page.status, 200, "{:?}", page.errors());
    // By hand: 90 + 10 · lg(2.5 / 8) = 84.9.
    for says in [
        "A(8) = 4.14 m/s²",
        "Above the action value of 2.5",
        "L_EX,8h = 84.9 dB(A)",
        "Above the lower action value",
        "a planning aid",
        "local law",
    ] {
        let (body, says) = (page.body.to_lowercase(), says.to_lowercase());
        assert!(body.contains(&says), "{says}: {}", page.body);
    }
    // The sheet's declared value counts with its uncertainty: 2.3 + 1.1 = 3.4; cycle time 2.8 s.
    let page =
        crew.get("/fleet/exposure?tool=tulvane-tb-32&pulls=1200&pulls-2=10&seconds-2=1&noise-2=70");
    for says in [
        "3.4 m/s²: 2.3 declared and 1.1 uncertainty",
        "1200 pulls of 2.8 s",
        "No vibration is known of: Tool 2",
    ] {
        assert!(page.body.contains(says), "{says}: {}", page.body);
    }
    for (query, field) in [
        ("tool=tulvane-tb-32", "pulls"),
        ("tool=&pulls=&seconds=&vibration=&noise=", "tool"),
        ("tool=none&pulls=5", "tool"),
        ("pulls=5&seconds=3", "tool"),
        ("pulls=5&vibration=3", "seconds"),
        ("pulls=5&seconds=3&vibration=7400", "vibration"),
        ("pulls=5&seconds=3&noise=loud", "noise"),
        ("pulls=90000&seconds=3&vibration=3", "pulls"),
        (
            "tool=tulvane-tb-32&pulls=5&pulls-2=x&tool-2=tulvane-tb-32",
            "pulls-2",
        ),
    ] {
        let told = crew.get(&format!("/fleet/exposure?{query}"));
        assert_eq!(told.status, 422, "{query}");
        let id = format!("id=\"exposure-{field}-error\"");
        assert!(told.body.contains(&id), "{query}: {:?}", told.errors());
    }
}

#[test]
fn a_sampling_plan_names_its_standard_and_draws_its_curve() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    let page = crew.get("/fleet/lot-check?lot=400&level=II&aql=1");
    // ISO 2859-1:1999, tables 1 and 2-A (from memory): 281 to 500 pieces, level II: H, 50; AQL 1.0: Ac 1, Re 2.
    for says in [
        "Look at 50 of 400 joints",
        "reject it with 2 or more",
        "Code letter H. ISO 2859-1:1999",
        // By hand: 0.99^50 + 50 · 0.01 · 0.99^49 = 0.9106.
        "passes 91 times in a hundred",
        "class=\"curve\"",
        "Every bad joint that is found is replaced",
    ] {
        assert!(page.body.contains(says), "{says}: {}", page.body);
    }
    let small = crew.get("/fleet/lot-check?lot=4&level=II&aql=0.65");
    assert!(
        small.body.contains("Look at all 4 joints"),
        "{}",
        small.body
    );
    // Two joints of two, with 10 %: no number of bad ones is taken for good.
    let two = crew.get("/fleet/lot-check?lot=2&level=II&aql=10");
    assert!(two.body.contains("Look at all 2 joints"), "{}", two.body);
    assert!(two.body.contains("Replace each bad one") && !two.body.contains("Accept the lot"));
    // A test that destroys leaves none of 500 where the table asks for 1250.
    let none = crew.get("/fleet/lot-check?lot=500&level=S-1&aql=0.01");
    assert_eq!(none.status, 200);
    assert!(
        none.body
            .contains("No plan of this level exists for 500 joints"),
        "{}",
        none.body
    );
    assert!(!none.body.contains("Look at all"));
    for (query, field) in [
        ("lot=1", "lot"),
        ("lot=many", "lot"),
        ("lot=400&level=IV", "level"),
        ("lot=400&aql=1.1", "aql"),
    ] {
        let told = crew.get(&format!("/fleet/lot-check?{query}"));
        assert_eq!(told.status, 422, "{query}");
        let id = format!("id=\"lot-{field}-error\"");
        assert!(told.body.contains(&id), "{query}: {:?}", told.errors());
    }
}

#[test]
fn joints_stand_in_numbers_on_the_job_and_in_the_inbox_with_a_run_chart() {
    let shop = Shop::open();
    let mut bench = Client::at(shop.address());
    // Job 5 of the demo ends with ten good joints. By hand: 0.05^(1/10) = 0.741.
    let job = bench.get("/jobs/1005");
    assert!(
        job.body
            .contains("10 good of 10 prove that at least 74.1 % are good"),
        "{}",
        job.body
    );
    let (tool, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    // Eight joints as they should be, the ninth far off and still inside the limits.
    for collars in [
        ["12.98", "13.00", "12.99"],
        ["13.00", "12.99", "12.98"],
        ["12.99", "13.00", "13.07"],
    ] {
        let page = crew.get(&format!("{link}{READINGS}"));
        let mut sent: Vec<(&str, &str)> = GOOD.to_vec();
        let boxes = sent
            .iter_mut()
            .filter(|(name, _)| *name == "value-collar-diameter");
        for ((_, value), collar) in boxes.zip(&collars) {
            *value = collar;
        }
        let done = crew.send(&page, "joints", &sent);
        assert_eq!(done.status, 303, "{:?}", done.errors());
    }
    let page = bench.get(&tool);
    for says in [
        "3 good of 3 prove that at least 36.8 % are good",
        "Run chart: Collar diameter over the swaged land, 9 joints",
        "one joint beyond three standard deviations (joint 9: 13.07 mm)",
        "class=\"signal\"",
    ] {
        assert!(page.body.contains(says), "{says}: {}", page.body);
    }
    assert!(
        bench
            .get("/inbox")
            .body
            .contains("href=\"/fleet/lot-check\"")
    );
}

#[test]
fn joints_of_ended_jobs_stand_by_model_and_fastener() {
    let program = Program::start();
    let empty = Client::nameless(&program.address).get("/fleet/joints");
    assert!(
        empty.body.contains("No set-up was signed off"),
        "{}",
        empty.body
    );

    let shop = Shop::open();
    let mut bench = Client::at(shop.address());
    let links = bench.get("/fleet/lot-check");
    assert!(links.body.contains("href=\"/fleet/joints\""));
    let page = bench.get("/fleet/joints");
    assert_eq!(page.status, 200);
    for says in [
        "Tulvane TB-32, Marlstead M8",
        "href=\"/jobs/1004#set-up\"",
        "with 95 % confidence at least",
        "They prove nothing of a joint that stands",
    ] {
        assert!(page.body.contains(says), "{says}: {}", page.body);
    }
    assert!(!page.body.contains("/jobs/1014#"), "that job has not ended");
}
