//! The crew's page: what it answers, what it refuses, and that nothing else is open with it.

use std::fs;
use std::path::{Path, PathBuf};

use crate::client::{Client, receive};
use crate::program::Program;

/// Tool, fastener and code of the first demo set.
const M8: &str = "/setup?model=tulvane-tb-32&fastener=marlstead-m8&code=08";

#[test]
fn stick_out_gives_turns_as_the_sheet_s_relation_does() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    // The demo sheet's own relation, by hand: turns = (36.0 - L) / 1.5, set in quarters.
    for (stick_out, exact, set) in [
        ("25.5", "7.00", "7"),
        ("26.0", "6.67", "6¾"),
        ("26.5", "6.33", "6¼"),
    ] {
        let page = crew.get(&format!(
            "{M8}&clamped=yes&reading={stick_out}&reading={stick_out}&reading={stick_out}"
        ));
        assert_eq!(page.status, 200, "{:?}", page.errors());
        let answer = page
            .body
            .split("class=\"answer\"")
            .nth(1)
            .expect("an answer");
        assert!(
            answer.contains(&format!("class=\"big\">{set} turns")),
            "{answer}"
        );
        assert!(answer.contains(&format!("Exact {exact} turns")), "{answer}");
        assert!(answer.contains("clockwise") && answer.contains("shortens the stroke"));
    }
    // Rivet nuts: turns = S / 1.25, and 2½ turns make 3.125 mm, inside 2.8 to 3.6 mm.
    let nut = "/setup?model=orrinbeck-ah-21&fastener=drumhale-rn6&stroke=3.0";
    assert!(crew.get(nut).body.contains("class=\"big\">2½ turns"));
    // A blind rivet breaks its own mandrel: nothing to measure.
    let rivet = "/setup?model=orrinbeck-ah-21&fastener=drumhale-db4&code=4";
    assert!(crew.get(rivet).body.contains("class=\"big\">Full stroke"));
}

#[test]
fn make_safe_stands_before_the_turns_in_each_drive_s_own_words() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    let asked = [
        (format!("{M8}&clamped=yes&reading=26.0&reading=26.1"), ["Pack out", "Trigger pressed"]),
        (
            "/setup?model=orrinbeck-ah-21&fastener=drumhale-rn6&stroke=3.0".to_owned(),
            ["Air off", "Bled"],
        ),
        (
            "/setup?model=skarnholt-hp-90&fastener=brackwell-b12n&code=10&clamped=yes&reading=38.0&reading=38.1".to_owned(),
            ["Pump off", "lines at zero"],
        ),
    ];
    for (path, words) in asked {
        let page = crew.get(&path);
        let turns = page.body.find("class=\"big\"").expect("an answer");
        for word in words {
            let at = page.body.find(word).unwrap_or(usize::MAX);
            assert!(at < turns, "{word} before the turns: {path}");
        }
    }
}

#[test]
fn what_cannot_be_set_is_refused_with_the_reason() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    // By hand: stack = (11.9 + 13.5) / 2 + 26.0 - 29.2 = 9.5 mm, which code 06 (8.7 to 10.3) is for.
    let long = crew
        .get(&format!(
            "{M8}&clamped=yes&reading=29.2&reading=29.1&reading=29.3"
        ))
        .body;
    for part in [
        "Do not set",
        "too long for this code",
        "about 9.5 mm",
        "Code 06",
    ] {
        assert!(long.contains(part), "{part}");
    }
    assert!(
        !long.contains("clockwise"),
        "no way to turn beside a refusal"
    );
    // Refused first; then what explains it, the likeliest first, and the look that tells them apart.
    let order = [
        "Do not set",
        "What explains it",
        "Code 2 steps too long",
        "Tell them apart:",
    ];
    let at: Vec<_> = order.map(|part| long.find(part)).to_vec();
    assert!(at.iter().all(Option::is_some) && at.is_sorted(), "{at:?}");
    let apart = crew
        .get(&format!(
            "{M8}&clamped=yes&reading=25.4&reading=26.7&reading=26.0"
        ))
        .body;
    assert!(apart.contains("Do not set") && apart.contains("differ too much"));
}

#[test]
fn near_the_end_of_the_band_more_pins_are_asked_for() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    // 25.40 mm in a band of 25.2 to 26.8 mm, each pin 0.05 mm off.
    let near = "&clamped=yes&reading=25.30&reading=25.40&reading=25.50";
    let three = crew.get(&format!("{M8}{near}")).body;
    assert!(three.contains("Measure two more pins") && three.contains("25.40 mm"));
    assert!(three.contains("25.2 to 26.8 mm") || three.contains("The band is"));
    assert!(!three.contains("Do not set") && !three.contains("answer no"));
    assert!(!three.contains("clockwise"), "no setting yet");
    let five = crew
        .get(&format!("{M8}{near}&reading=25.30&reading=25.50"))
        .body;
    assert!(!five.contains("Measure two more pins"));
}

#[test]
fn a_slip_is_named_at_its_box_and_stays_as_typed() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    let slips = [
        ("reading=26,0&reading=2b.1", "2b.1", "is not a number in mm"),
        ("reading=1.02+in&reading=26.0", "1.02 in", "takes mm"),
        // 1.024 in = 26.01 mm: inside the band as inches only.
        ("reading=1.024&reading=26.0", "1.024", "26.01 mm"),
        ("reading=&reading=", "", "at least two pins"),
        ("reading=26.0", "26.0", "at least two pins"),
        ("reading=-26&reading=26", "-26", "0 to 150 mm"),
        ("reading=26.0&reading=26.0&gauge=no-such", "26.0", "no-such"),
        (
            "reading=26&reading=26&reading=26&reading=26&reading=26&reading=26",
            "26",
            "At most 5",
        ),
    ];
    for (readings, typed, says) in slips {
        let page = crew.get(&format!("{M8}&clamped=yes&{readings}"));
        assert_eq!(page.status, 422, "{readings}");
        let errors = page.errors().join(" | ");
        assert!(errors.contains(says), "{readings}: {errors}");
        assert!(
            page.body.contains(&format!("value=\"{typed}\"")),
            "{readings}"
        );
        assert!(!page.body.contains("clockwise"), "{readings}");
    }
    let loose = crew.get(&format!("{M8}&reading=26.0&reading=26.1"));
    let errors = loose.errors().join(" | ");
    assert!(
        loose.status == 422 && errors.contains("Clamp the sheets tight and measure again"),
        "{errors}"
    );
    assert!(loose.body.contains("value=\"26.1\"") && !loose.body.contains("clockwise"));
    // 0.12 in = 3.05 mm: a stroke of this nut as inches only.
    let inches = crew.get("/setup?model=orrinbeck-ah-21&fastener=drumhale-rn6&stroke=0.12");
    assert!(inches.status == 422 && inches.errors().join("").contains("3.05 mm"));
    let stroke = crew.get("/setup?model=orrinbeck-ah-21&fastener=drumhale-rn6&stroke=4");
    let errors = stroke.errors().join(" | ");
    assert!(
        stroke.status == 422 && errors.contains("2.80") && errors.contains("3.60"),
        "{errors}"
    );
    for unknown in [
        "/setup?model=no-such",
        "/setup?model=tulvane-tb-32&fastener=brackwell-b12",
        "/setup?model=tulvane-tb-32&fastener=marlstead-m8&code=99",
        "/setup?model=tulvane-tb-32&fastener=marlstead-m8&code=08&nose=n48-b12",
        "/setup?model=%22%3E%3Cscript%3E",
    ] {
        let page = crew.get(unknown);
        assert_eq!(page.status, 422, "{unknown}");
        assert!(
            page.errors().join("").contains("is not among the sheets"),
            "{unknown}"
        );
        assert!(!page.body.contains("\"><script>"));
    }
}

#[test]
fn the_last_fastener_is_remembered_in_the_phone() {
    let program = Program::start();
    let mut crew = Client::nameless(&program.address);
    assert!(!crew.get("/setup").body.contains("Marlstead M8, code"));
    let set = crew.get(&format!(
        "{M8}&tool=7K-0412&clamped=yes&reading=26.0&reading=26.0"
    ));
    let cookie = set
        .head
        .lines()
        .find(|line| line.contains("setwright_setup="));
    let cookie = cookie.expect("a cookie");
    assert!(
        cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"),
        "{cookie}"
    );
    assert!(
        !cookie.contains("26.0"),
        "what was measured is not kept: {cookie}"
    );
    let again = crew.get("/setup").body;
    assert!(again.contains("Marlstead M8, code 08") && again.contains("7K-0412"));
    let mut other = Client::nameless(&program.address);
    assert!(
        !other.get("/setup").body.contains("7K-0412"),
        "another phone knows nothing"
    );
}

#[test]
fn with_a_passphrase_the_crew_s_page_alone_is_open() {
    let mut earlier = Program::start();
    let mut bench = Client::at(&earlier.address);
    let job = receive(&mut bench, "7K-0555");
    earlier.kill();
    let passphrase = earlier.store.with_file_name("passphrase");
    fs::write(&passphrase, "collars before pins").expect("writes");
    let options = [
        "--lan",
        "bench-2",
        "--passphrase-file",
        passphrase.to_str().expect("plain"),
    ];
    let program = Program::serve_with(&earlier.store, "", &options);
    let local = program.address.replace("0.0.0.0", "127.0.0.1");

    let mut stranger = Client::nameless(&local);
    let open = stranger.get(&format!(
        "{M8}&tool=7K-0555&clamped=yes&reading=26.0&reading=26.1"
    ));
    assert_eq!(open.status, 200);
    assert!(open.body.contains("6¾ turns"));
    // A link that was made up shows no more than none.
    let made_up = "&nose=n8&day=2026-11-25&n=0&sig=6a72805355ecf72e58fae7e260a4fd28";
    let made_up = stranger.get(&format!(
        "{M8}&tool=7K-0555{made_up}&clamped=yes&reading=26.0&reading=26.1"
    ));
    assert!(made_up.status == 200 && made_up.body.contains("6¾ turns"));
    for header in [
        "content-security-policy: default-src 'none'",
        "x-frame-options: DENY",
        "cache-control: no-store",
    ] {
        assert!(open.head.contains(header), "{header}");
    }
    for private in [
        "Fennholt",
        "Joren",
        "Ansa",
        "1001",
        "href=\"/jobs",
        "href=\"/tools",
        "slips",
    ] {
        assert!(
            !open.body.contains(private) && !made_up.body.contains(private),
            "{private} is not for strangers"
        );
    }
    let paths = every_path();
    assert!(paths.len() > 15, "the scan found the routes: {paths:?}");
    for path in paths.iter().chain([&job]) {
        let answer = stranger.get(path);
        let is_open = ["/setup", "/login"].contains(&path.as_str()) || path.starts_with("/assets/");
        if !is_open {
            let led = answer.status == 303 && answer.location.starts_with("/login?next=");
            assert!(led, "{path} answers {} to strangers", answer.status);
        }
    }
    for like_it in [
        "/setup/",
        "/setup/x",
        "/setupx",
        "/SETUP",
        "/setup/../tools",
        "//setup",
        "/setup%2F..%2Ftools",
    ] {
        assert_eq!(stranger.get(like_it).status, 303, "{like_it}");
    }
    let posted = stranger.post("/setup", &[("model", "tulvane-tb-32")]);
    assert_eq!(posted.status, 403, "it reads only");
}

/// Every path that the pages' sources give a route, with something in each of its places.
fn every_path() -> Vec<String> {
    let mut paths = Vec::new();
    let mut folders: Vec<PathBuf> = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("../web/src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("sources").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let text = fs::read_to_string(&path).unwrap_or_default();
            let squeezed: String = text.split_whitespace().collect();
            for part in squeezed.split(".route(\"").skip(1) {
                let route = part.split('"').next().unwrap_or_default();
                paths.push(filled(route));
            }
        }
    }
    paths.extend(["/jobs/1001/report.pdf", "/tools/cards.pdf", "/nowhere"].map(str::to_owned));
    paths
}

/// A route with its places filled in.
fn filled(route: &str) -> String {
    let mut path = String::new();
    for (i, part) in route.split(['{', '}']).enumerate() {
        path.push_str(if i % 2 == 0 { part } else { "1001" });
    }
    path
}
