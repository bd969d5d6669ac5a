//! What a crew sends over the link on its card: forged, altered, twice, too large, too often; and what
//! the bench makes of it.

use std::path::{Path, PathBuf};

use crate::client::{Answer, Client};
use crate::played::demo_at;
use crate::program::{Program, run, text};

pub const ADDRESS: &str = "http://bench-2:4517";
/// Two readings inside 25.2 to 26.8 mm, so that the page gives a setting.
pub const READINGS: &str = "&reading=26.0&reading=26.1&clamped=yes";

/// The demo shop, kept and served with links on its cards.
pub struct Shop {
    pub program: Program,
    pub store: PathBuf,
    _folder: tempfile::TempDir,
}

impl Shop {
    pub fn open() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let store = folder.path().join("shop.setwright");
        demo_at(&store);
        let program = Program::serve_with(&store, "", &["--address-on-cards", ADDRESS]);
        Self {
            program,
            store,
            _folder: folder,
        }
    }

    pub fn address(&self) -> &str {
        &self.program.address
    }

    /// The path of the tool with `serial`, and what the code on its card opens.
    pub fn card(&self, serial: &str) -> (String, String) {
        let mut bench = Client::at(self.address());
        let found = bench.get(&format!("/find?q={serial}"));
        let tool = if found.location.is_empty() {
            let at = found.body.find("href=\"/tools/").expect("the tool") + 6;
            found.body[at..]
                .split('"')
                .next()
                .expect("closed")
                .to_owned()
        } else {
            found.location
        };
        let page = bench.get(&tool).body;
        let at = page.find(ADDRESS).expect("a link") + ADDRESS.len();
        let link = page[at..].split('"').next().expect("closed");
        (tool, link.replace("&amp;", "&"))
    }
}

/// A report of three good joints: inside 12.90 to 13.12 and 0.7 to 1.5 mm by more than the caliper's doubt.
pub const GOOD: [(&str, &str); 9] = [
    ("turns", "6 3/4"),
    ("value-collar-diameter", "13.00"),
    ("value-collar-diameter", "13,01"),
    ("value-collar-diameter", "13.02 mm"),
    ("value-reach", "1.1"),
    ("value-reach", "1.0"),
    ("value-reach", "1.2"),
    ("name", "Crew 7"),
    ("good", "yes"),
];

fn with(name: &str, value: &str) -> Vec<(&'static str, String)> {
    let mut fields: Vec<(&str, String)> = GOOD.map(|(n, v)| (n, v.to_owned())).to_vec();
    let at = fields
        .iter()
        .position(|(n, _)| *n == name)
        .expect("a field");
    value.clone_into(&mut fields[at].1);
    fields
}

fn send(crew: &mut Client, page: &Answer, fields: &[(&'static str, String)]) -> Answer {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    crew.send(page, "joints", &fields)
}

pub fn verified(store: &Path) {
    let verify = run(&["verify"], store);
    assert!(verify.status.success(), "{}", text(&verify));
}

pub fn inbox(shop: &Shop) -> serde_json::Value {
    let list = run(&["inbox", "list", "7K-0412", "--json"], &shop.store);
    assert!(list.status.success(), "{}", text(&list));
    serde_json::from_slice(&list.stdout).expect("JSON")
}

#[test]
fn what_a_crew_sends_waits_and_is_stored_once() {
    let mut shop = Shop::open();
    let (tool, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    let page = crew.get(&format!("{link}{READINGS}"));
    assert!(page.body.contains("7K-0412") && page.status == 200);
    for (name, value, says) in [
        // The whole stroke of 24 mm at 1.5 mm a turn.
        ("turns", "99", "0 to 16.0 turns"),
        ("turns", "six", "six"),
        // Within the travel, and far from the 6 3/4 that the page gives.
        ("turns", "2", "2.00 turns is too far from the 6.75"),
        ("value-reach", "1.8", "no good joint"),
        ("value-reach", "l.1", "l.1"),
        ("name", " ", "crew number"),
    ] {
        let refused = send(&mut crew, &page, &with(name, value));
        let said = refused.errors().join(" | ");
        assert_eq!(refused.status, 422, "{name} {value}");
        assert!(said.contains(says), "{name} {value}: {said}");
        assert_eq!(
            refused.value("joints", name).as_deref(),
            Some(value),
            "stays as typed"
        );
    }
    let unticked: Vec<_> = with("good", "yes")
        .into_iter()
        .filter(|(n, _)| *n != "good")
        .collect();
    let refused = send(&mut crew, &page, &unticked);
    assert!(refused.errors().join("").contains("Say whether"));
    assert_eq!(
        inbox(&shop),
        serde_json::json!([]),
        "nothing of that was stored"
    );

    let good = with("good", "yes");
    for _ in 0..2 {
        let sent = send(&mut crew, &page, &good);
        assert_eq!(sent.status, 303, "{:?}", sent.errors());
        assert!(
            crew.get(&sent.location)
                .body
                .contains("It waits for a technician")
        );
    }
    let listed = inbox(&shop);
    assert_eq!(listed.as_array().map(Vec::len), Some(1), "{listed}");
    assert_eq!(listed[0]["state"], "waiting");
    assert_eq!(listed[0]["by"], "Crew 7");
    assert_eq!(listed[0]["turns"], 6.75);
    // (26.0 + 26.1) / 2 mm.
    assert_eq!(listed[0]["measured_mm"], 26.05);
    assert_eq!(listed[0]["verdict"], "good");
    assert_eq!(listed[0]["given_turns"], 6.75);
    assert_eq!(listed[0]["table_turns"], 6.75);
    assert_eq!(listed[0]["belongs"], true);
    let table = text(&run(&["inbox", "list"], &shop.store));
    assert!(table.contains("26.05") && table.contains("6¾"), "{table}");
    assert_eq!(listed[0]["joints"][1][0]["value"], 13.01);

    // At the bench: counted, declined with a reason only, accepted once.
    let mut bench = Client::at(shop.address());
    assert!(bench.get("/").body.contains("One report from a crew"));
    let page = bench.get("/inbox");
    assert!(page.body.contains("stick-out 26.05 mm") && page.body.contains("6¾ turns"));
    let id = |act: &str| {
        let at = page
            .body
            .find(&format!("<form id=\"{act}-"))
            .expect("a form")
            + 10;
        page.body[at..]
            .split('"')
            .next()
            .expect("closed")
            .to_owned()
    };
    let no_reason = bench.send(&page, &id("decline"), &[("reason", "")]);
    assert_eq!(no_reason.errors(), ["Write why."]);
    let nameless = Client::nameless(shop.address()).get("/inbox");
    let mut stranger = Client::nameless(shop.address());
    let own = stranger.get("/inbox");
    let unnamed = stranger.send(&own, &id("accept"), &[]);
    assert_eq!(
        (nameless.status, unnamed.status),
        (200, 422),
        "who accepts is named"
    );
    let accepted = bench.send(&page, &id("accept"), &[]);
    assert_eq!(accepted.status, 303, "{:?}", accepted.errors());
    let late = bench.send(&page, &id("accept"), &[]);
    assert_eq!(late.status, 303, "the same form again");
    assert!(!bench.get("/").body.contains("report from a crew"));
    assert_eq!(inbox(&shop)[0]["state"], "accepted");

    // An acceptance can be taken back, with a reason, from the page of the tool.
    let shown = bench.get(&tool);
    assert!(shown.body.contains("Accepted as evidence") && shown.body.contains("Take it back"));
    let no_reason = bench.send(&shown, &id("decline"), &[("reason", "")]);
    assert_eq!(no_reason.errors(), ["Write why."]);
    let taken_back = bench.send(&shown, &id("decline"), &[("reason", "another tool")]);
    assert_eq!(taken_back.status, 303, "{:?}", taken_back.errors());
    assert_eq!(inbox(&shop)[0]["state"], "declined");
    let again = bench.send(&page, &id("decline"), &[("reason", "too late")]);
    assert!(again.status == 422 && again.body.contains("somebody has settled it"));
    shop.program.kill();
    verified(&shop.store);
    let rebuilt = run(&["rebuild"], &shop.store);
    assert!(rebuilt.status.success(), "{}", text(&rebuilt));
    verified(&shop.store);
}

#[test]
fn a_link_that_was_altered_sends_nothing() {
    let shop = Shop::open();
    let (_, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    let page = crew.get(&format!("{link}{READINGS}"));
    let (_, ours) = crate::client::ready(&page, "joints");
    for (name, value) in [
        ("sig", "00000000000000000000000000000000"),
        ("sig", ""),
        ("tool", "7K-0398"),
        ("code", "07"),
        ("fastener", "drumhale-d6"),
        ("nose", "n30-d6"),
        ("n", "1"),
        ("n", "x"),
        ("day", "2020-01-01"),
    ] {
        let altered: Vec<(&str, &str)> = ours
            .iter()
            .map(|(n, v)| (n.as_str(), if n == name { value } else { v.as_str() }))
            .chain(GOOD)
            .collect();
        let answer = crew.post("/setup", &altered);
        assert_eq!(answer.status, 403, "{name}={value}");
        assert!(answer.body.contains("Nothing was sent"), "{name}={value}");
        let opened = link.replace(
            &format!(
                "{name}={}",
                ours.iter().find(|(n, _)| n == name).map_or("", |(_, v)| v)
            ),
            &format!("{name}={value}"),
        );
        assert_ne!(opened, link);
        let opened = crew.get(&format!("{opened}{READINGS}"));
        assert!(
            !opened.body.contains("<form id=\"joints\""),
            "{name}={value}"
        );
        // Said before the answer, which is the table's all the same.
        let said = opened.body.find("This link was not made here");
        let answer = opened.body.find("class=\"big\"").unwrap_or(usize::MAX);
        assert!(said.is_some_and(|at| at < answer), "{name}={value}");
    }
    assert_eq!(inbox(&shop), serde_json::json!([]));
}

#[test]
fn a_renewed_link_makes_older_cards_void() {
    let mut shop = Shop::open();
    let (tool, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    let page = crew.get(&format!("{link}{READINGS}"));
    let mut bench = Client::at(shop.address());
    let shown = bench.get(&tool);
    let no_reason = bench.send(&shown, "renew-links", &[("reason", "")]);
    assert_eq!(no_reason.errors(), ["Write why."]);
    let renewed = bench.send(&shown, "renew-links", &[("reason", "card lost")]);
    assert_eq!(renewed.status, 303);
    let refused = send(&mut crew, &page, &with("good", "yes"));
    assert!(refused.status == 403 && refused.body.contains("were renewed"));
    let still = crew.get(&format!("{link}{READINGS}"));
    let said = still.body.find("This card’s code is void");
    let answer = still.body.find("turns</p>").expect("settings still work");
    assert!(said.is_some_and(|at| at < answer) && still.status == 200);
    // At the answer, too: what it is not, and whom to ask.
    let at_answer = still
        .body
        .find("The card is void: this is not this tool’s setting");
    assert!(at_answer.is_some_and(|at| at < answer && said.is_some_and(|top| top < at)));
    assert!(
        still.body[..answer].contains("Ask Tarnwick"),
        "{}",
        still.body
    );
    assert!(
        still
            .body
            .contains("From the sheet’s table, not this tool’s own.")
    );
    let (_, new) = shop.card("7K-0412");
    assert_ne!(new, link);
    let page = crew.get(&format!("{new}{READINGS}"));
    assert_eq!(send(&mut crew, &page, &with("good", "yes")).status, 303);
    shop.program.kill();
    let declined = [
        "inbox",
        "decline",
        "7K-0412",
        "2",
        "--reason",
        "wrong tool",
        "--who",
        "Ansa",
    ];
    let declined = run(&declined, &shop.store);
    assert!(declined.status.success(), "{}", text(&declined));
    let again = run(
        &["inbox", "accept", "7K-0412", "2", "--who", "Ansa"],
        &shop.store,
    );
    assert_eq!(again.status.code(), Some(1), "{}", text(&again));
    assert_eq!(inbox(&shop)[0]["why"], "wrong tool");
    verified(&shop.store);
}

#[test]
fn too_large_too_often_or_from_elsewhere_is_refused() {
    let shop = Shop::open();
    let (_, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    let page = crew.get(&format!("{link}{READINGS}"));
    let (_, ours) = crate::client::ready(&page, "joints");
    let ours: Vec<(&str, &str)> = ours.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let large = "x".repeat(16 << 10);
    let large: Vec<(&str, &str)> = [ours.as_slice(), &GOOD, &[("note", &large)]].concat();
    assert_eq!(crew.post("/setup", &large).status, 413);
    let long = "x".repeat(4001);
    let long: Vec<(&str, &str)> = [ours.as_slice(), &GOOD, &[("note", &long)]].concat();
    assert_eq!(crew.post("/setup", &long).status, 422);
    let files = crew.post_files("/setup", &ours, &[("file", "x.jpg", b"x")]);
    assert_eq!(files.status, 413);
    // Without the token of a page that this phone was shown.
    let foreign: Vec<(&str, &str)> = ours
        .iter()
        .copied()
        .filter(|(n, _)| *n != "csrf")
        .chain(GOOD)
        .collect();
    assert_eq!(crew.post("/setup", &foreign).status, 403);
    let mut last = 0;
    for _ in 0..40 {
        last = crew
            .post("/setup", &[ours.as_slice(), &[("name", "x")]].concat())
            .status;
        if last == 429 {
            break;
        }
    }
    assert_eq!(last, 429);
    assert_eq!(inbox(&shop), serde_json::json!([]));
}

/// Three joints at 6 1/2 turns that read 1.40 mm: 0.3 mm further from the flange than the middle of 0.7 to
/// 1.5 mm, so this tool wants more stroke, which is fewer turns.
const FAR: [(&str, &str); 9] = [
    ("turns", "6 1/2"),
    ("value-collar-diameter", "13.00"),
    ("value-collar-diameter", "13.01"),
    ("value-collar-diameter", "13.02"),
    ("value-reach", "1.40"),
    ("value-reach", "1.40"),
    ("value-reach", "1.40"),
    ("name", "Crew 7"),
    ("good", "yes"),
];

/// What the record holds of the tool 7K-0412 in the demo shop, and is not for the work place.
const PRIVATE: [&str; 9] = [
    "Fennholt",
    "Ansa",
    "Oswin",
    "Mirel",
    "Crew 7",
    "Slips since",
    "1.40",
    "href=\"/jobs",
    "href=\"/tools",
];

/// The large answer on a page.
fn big(page: &Answer) -> &str {
    let at = page.body.find("class=\"big\">").expect("an answer") + 12;
    page.body[at..].split('<').next().expect("closed")
}

#[test]
fn the_turns_are_this_very_tool_s_over_its_link_alone() {
    let mut shop = Shop::open();
    let (_, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    let asked = format!("{link}{READINGS}");
    // The sheet's relation: (36.0 - 26.05) / 1.5 = 6.63 turns, set in quarters.
    let first = crew.get(&asked);
    assert_eq!(big(&first), "6¾ turns");
    let by_bench = "From 1 earlier set-up of this tool (3 joints)";
    assert!(plain(&first).contains(by_bench), "{}", plain(&first));
    for _ in 0..2 {
        let page = crew.get(&asked);
        assert_eq!(crew.send(&page, "joints", &FAR).status, 303);
    }
    assert_eq!(big(&crew.get(&asked)), "6¾ turns", "nobody accepted it yet");
    let mut bench = Client::at(shop.address());
    for entry in ["1", "2"] {
        let page = bench.get("/inbox");
        let id = form_of(&page, "accept", entry);
        assert_eq!(bench.send(&page, &id, &[]).status, 303);
    }

    let own = crew.get(&asked);
    assert_eq!(big(&own), "6½ turns");
    assert!(own.body.contains("The table says 6¾."));
    // Nobody took the nose off since it was signed off: it is one set-up with what the crew sent.
    let one = "From 1 earlier set-up of this tool (9 joints)";
    assert!(plain(&own).contains(one), "{}", plain(&own));
    assert!(own.body.contains("First the card"));
    assert_eq!(own.value("joints", "turns").as_deref(), Some("6½"));

    // Without a good link the same tool is set by the table.
    let bare = link.split("&day=").next().expect("a day");
    let at = link.find("&sig=").expect("a code") + 5;
    let forged = format!("{}0{}", &link[..at], &link[at + 1..]);
    let forged = if forged == link {
        format!("{}1{}", &link[..at], &link[at + 1..])
    } else {
        forged
    };
    for other in [bare, &forged] {
        let page = crew.get(&format!("{other}{READINGS}"));
        assert_eq!((page.status, big(&page)), (200, "6¾ turns"), "{other}");
        assert!(page.body.contains("not this tool’s own"), "{other}");
        assert!(!page.body.contains("earlier set-up"), "{other}");
    }

    // On the shop's network, too: the turns, and nothing else of the record.
    shop.program.kill();
    let passphrase = shop.store.with_file_name("passphrase");
    std::fs::write(&passphrase, "collars before pins").expect("writes");
    let options = [
        "--lan",
        "bench-2",
        "--passphrase-file",
        passphrase.to_str().expect("plain"),
        "--address-on-cards",
        ADDRESS,
    ];
    let program = Program::serve_with(&shop.store, "", &options);
    let mut stranger = Client::nameless(&program.address.replace("0.0.0.0", "127.0.0.1"));
    let open = stranger.get(&asked);
    assert_eq!((open.status, big(&open)), (200, "6½ turns"));
    for private in PRIVATE {
        assert!(!open.body.contains(private), "{private}");
    }
    assert_eq!(stranger.get("/inbox").status, 303);
}

/// The text of a page without its tags.
pub fn plain(page: &Answer) -> String {
    let mut text = String::new();
    for part in page.body.split('<') {
        text.push_str(part.split_once('>').map_or(part, |(_, after)| after));
    }
    // Numbers in texts are set apart from their direction by marks that nobody sees.
    text.replace(['\u{2068}', '\u{2069}'], "")
}

/// The form of the inbox that does `act` with the sending `entry`.
fn form_of(page: &Answer, act: &str, entry: &str) -> String {
    let mut forms = page.body.split("<form id=\"").skip(1);
    forms
        .find_map(|form| {
            let id = form.split('"').next()?;
            (id.starts_with(act) && id.ends_with(&format!("-{entry}"))).then(|| id.to_owned())
        })
        .expect("the form")
}

#[test]
fn a_bad_joint_stops_the_crew_and_is_read_first() {
    let mut shop = Shop::open();
    let (tool, link) = shop.card("7K-0412");
    let mut crew = Client::nameless(shop.address());
    let asked = format!("{link}{READINGS}");
    let page = crew.get(&asked);
    assert_eq!(crew.send(&page, "joints", &GOOD).status, 303);
    let bad = [
        ("turns", "6 3/4"),
        ("good", "no"),
        ("seen", "lock-grooves"),
        ("value-reach", "0.4"),
        ("name", "Crew 9"),
        ("note", "third of the row"),
    ];
    for (name, says) in [
        ("seen", "Pick what the joint looks like"),
        ("name", "crew number"),
    ] {
        let without: Vec<(&str, &str)> = bad.into_iter().filter(|(n, _)| *n != name).collect();
        let refused = crew.send(&page, "joints", &without);
        let said = refused.errors().join(" | ");
        assert!(
            refused.status == 422 && said.contains(says),
            "{name}: {said}"
        );
    }
    // A bad joint may be all that is known: nothing measured before, nothing to measure after.
    let bare = crew.get(&link);
    let torn = [("good", "no"), ("seen", "gap"), ("name", "Crew 9")];
    for (page, fields) in [(&page, bad.as_slice()), (&bare, torn.as_slice())] {
        let sent = crew.send(page, "joints", fields);
        assert_eq!(sent.status, 303, "{:?}", sent.errors());
        let told = crew.get(&sent.location);
        assert!(told.body.contains("Do not set with this setting") && told.body.contains("Stop"));
        assert!(!told.body.contains("turns</p>"), "no setting beside it");
    }
    // Every phone stops, not only the one that sent it, and before anything is measured, too.
    let mut other = Client::nameless(shop.address());
    for path in [&link, &asked] {
        let page = other.get(path);
        assert!(is_stopped(&page), "{path}");
        assert_eq!(page.value("joints", "turns").as_deref(), Some(""));
    }
    let bare = link.split("&day=").next().expect("a day");
    assert!(!is_stopped(&other.get(&format!("{bare}{READINGS}"))));
    let listed = inbox(&shop);
    assert_eq!(listed[1]["verdict"], "bad");
    assert_eq!(listed[1]["seen"], "lock-grooves-torn");
    assert_eq!(listed[1]["measured_mm"], 26.05);
    assert_eq!(listed[2]["measured_mm"], serde_json::Value::Null);
    let table = text(&run(&["inbox", "list"], &shop.store));
    let (bad_at, good_at) = (table.find("bad"), table.find("good"));
    assert!(bad_at.is_some() && bad_at < good_at, "{table}");

    let mut bench = Client::at(shop.address());
    let page = bench.get("/inbox");
    let (bad_at, good_at) = (page.body.find("Crew 9"), page.body.find("Crew 7"));
    assert!(bad_at.is_some() && bad_at < good_at, "bad ones come first");
    assert!(page.body.contains("v rej") && page.body.contains("Lock grooves torn"));
    assert!(page.body.contains("third of the row"));
    let noted = bench.send(&page, &form_of(&page, "accept", "2"), &[]);
    assert_eq!(noted.status, 303, "{:?}", noted.errors());
    let reason = [("reason", "another tool")];
    let declined = bench.send(&page, &form_of(&page, "decline", "3"), &reason);
    assert_eq!(declined.status, 303, "{:?}", declined.errors());
    let shown = bench.get(&tool).body;
    assert!(shown.contains("It counts for no setting") && shown.contains("another tool"));
    assert!(is_stopped(&crew.get(&asked)), "noted, and not cleared");
    let noted = bench.get(&tool);
    let form = form_of(&noted, "decline", "2");
    let cleared = bench.send(&noted, &form, &[("reason", "pin of another lot")]);
    assert_eq!(cleared.status, 303, "{:?}", cleared.errors());
    let again = crew.get(&asked);
    assert!(!is_stopped(&again));
    assert!(
        plain(&again).contains("From 1 earlier set-up of this tool (3 joints)"),
        "not counted"
    );
    shop.program.kill();
    verified(&shop.store);
}

/// Whether a page shows the stop in place of any setting.
fn is_stopped(page: &Answer) -> bool {
    let stopped = page
        .body
        .contains("Do not set with this tool’s setting: a bad joint was reported");
    assert!(
        !stopped || !page.body.contains("turns</p>"),
        "no setting beside it"
    );
    stopped
}
