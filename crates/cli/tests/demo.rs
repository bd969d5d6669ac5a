//! The demo shop from outside: the program as people start it, its pages and papers over plain HTTP,
//! and the record that it leaves behind.

#![cfg(unix)]

use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

/// Far more than it takes, so that only a demo that hangs fails here.
const START: Duration = Duration::from_secs(60);

/// The stages that a job can stand in; a job that was just received stands at its fault already.
const STAGES: [&str; 6] = ["fault", "agreed", "rebuilt", "set-up", "proved", "returned"];

#[test]
fn every_page_opens_every_paper_prints_the_same_and_the_record_is_whole() {
    let folder = tempfile::tempdir().expect("a folder for the store");
    let store = folder.path().join("demo.setwright");
    let demo = Demo::start(&store);
    let pages = demo.crawl();

    let jobs = jobs(&pages);
    assert_eq!(jobs.len(), 20, "as many as the scenario tells of");
    let current: BTreeSet<&str> = jobs.iter().filter_map(|job| current_stage(job)).collect();
    assert_eq!(current, BTreeSet::from(STAGES));
    for job in &jobs {
        for stage in STAGES.iter().chain(&["received"]) {
            assert!(job.contains(&format!("<section id=\"{stage}\"")));
        }
    }

    let list = pages["/?all=true"].text();
    for name in ["Tulvane TB-32", "Orrinbeck AH-21", "Skarnholt HP-90"] {
        assert!(list.contains(name), "no {name}");
    }
    let visits = |(path, page): (&String, &Answer)| {
        path.starts_with("/tools/")
            && targets(&page.text())
                .filter(|t| t.starts_with("/jobs/"))
                .count()
                > 1
    };
    assert!(pages.iter().any(visits), "no tool was here twice");

    let papers: BTreeSet<String> = pages
        .values()
        .flat_map(|page| targets(&page.text()).collect::<Vec<_>>())
        .filter(|target| target.ends_with(".pdf"))
        .collect();
    let ended = jobs.iter().filter(|j| current_stage(j).is_none()).count();
    let reports = papers.iter().filter(|p| p.ends_with("/report.pdf")).count();
    assert_eq!(
        ended, 9,
        "seven mended or sent home, one scrapped, one sent on"
    );
    assert_eq!(reports, ended, "each ended job has a report");
    assert!(reports < papers.len(), "no set-up card");
    // Several at once, but not all: the last would wait for its answer longer than a reader does.
    let papers: Vec<&String> = papers.iter().collect();
    for some in papers.chunks(8) {
        thread::scope(|scope| {
            for path in some {
                scope.spawn(|| demo.prints_the_same_twice(path));
            }
        });
    }

    // Job 1004 renewed the collet at 26 014 pulls; the sheet asks for one every 20 000.
    let care = words_of(&demo.get("/jobs/1004/care-sheet.pdf").body);
    let digits: String = care.chars().filter(|c| !c.is_whitespace()).collect();
    assert!(digits.contains("at46014"), "{care}");
    // The rebuild washed the collet, and the days run from the hand-back.
    assert!(digits.contains("at31014or"), "{care}");
    other_ends(&demo, &pages);
    let cards = demo.get("/tools/set-up-cards.pdf").body;
    demo.stop();
    assert_eq!(cards, cards_at_the_prompt(&store, &[]));
    assert_eq!(
        jobs_on(&cards),
        ["1014", "1004", "1006", "1007", "1008", "1005"]
    );
    assert_eq!(
        jobs_on(&cards_at_the_prompt(&store, &["1006", "1004"])),
        ["1006", "1004"]
    );
    let verified = setwright()
        .args(["verify", "--store"])
        .arg(&store)
        .output()
        .expect("verify runs");
    let said = String::from_utf8_lossy(&verified.stdout);
    assert!(verified.status.success(), "{said}");
}

/// A quote of three options that was revised and answered by telephone, a scrapped tool, a parcel.
fn other_ends(demo: &Demo, pages: &BTreeMap<String, Answer>) {
    let says = |path: &str, parts: &[&str]| {
        let paper = words_of(&demo.get(path).body);
        let paper = paper.split_whitespace().collect::<Vec<_>>().join(" ");
        for part in parts {
            assert!(paper.contains(part), "{path}: no {part} in {paper}");
        }
    };
    says(
        "/jobs/1002/report.pdf",
        &["Recorded pulls", "12 of 12 pulls of Drumhale D6", "DS-1"],
    );
    assert_eq!(current_stage(&pages["/jobs/1017"].text()), Some("rebuilt"));
    says(
        "/jobs/1017/quote.pdf",
        &[
            "No. 1017-Q2",
            "New option: New tool",
            "C. New tool",
            "14:20",
            "to Mirel",
        ],
    );
    says(
        "/jobs/1017/quotes/1.pdf",
        &["No. 1017-Q1", "Replaced by revision 2", "133.42 USD"],
    );
    says(
        "/jobs/1018/return-note.pdf",
        &[
            "Scrapped",
            "Witness",
            "Joren",
            "Kept apart",
            "49 CFR 173.185(f)",
        ],
    );
    says(
        "/jobs/1019/return-note.pdf",
        &[
            "Sent to the maker",
            "TK-22817",
            "Three failed joints with their grip code",
        ],
    );
}

#[test]
fn the_jobs_beside_the_demo_sheets_are_no_mistake() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo");
    let checked = setwright()
        .args(["sheets", "check"])
        .arg(folder)
        .output()
        .expect("check runs");
    let said = String::from_utf8_lossy(&checked.stderr);
    assert!(checked.status.success(), "{said}");
}

/// The file of set-up cards that the prompt prints.
fn cards_at_the_prompt(store: &Path, of: &[&str]) -> Vec<u8> {
    let printed = setwright()
        .args(["job", "cards", "--store"])
        .arg(store)
        .arg("-")
        .args(of)
        .output()
        .expect("the cards print");
    let said = String::from_utf8_lossy(&printed.stderr);
    assert!(printed.status.success(), "{said}");
    printed.stdout
}

/// The words of a paper.
fn words_of(pdf: &[u8]) -> String {
    let mut reader = Command::new("pdftotext")
        .args(["-", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("pdftotext, of poppler-utils");
    let mut stdin = reader.stdin.take().expect("piped");
    stdin.write_all(pdf).expect("taken");
    drop(stdin);
    let read = reader.wait_with_output().expect("read");
    String::from_utf8_lossy(&read.stdout).into_owned()
}

/// The job of each card, in order.
fn jobs_on(cards: &[u8]) -> Vec<String> {
    let text = words_of(cards);
    let mut jobs: Vec<String> = text
        .lines()
        .filter_map(|line| line.split_once("· Job ")?.1.split_once(" ·"))
        .map(|(number, _)| number.to_owned())
        .collect();
    jobs.dedup();
    jobs
}

/// Every job page.
fn jobs(pages: &BTreeMap<String, Answer>) -> Vec<String> {
    let is_job = |path: &str| {
        path.strip_prefix("/jobs/")
            .is_some_and(|number| number.bytes().all(|b| b.is_ascii_digit()))
    };
    pages
        .iter()
        .filter(|(path, _)| is_job(path))
        .map(|(_, page)| page.text())
        .collect()
}

/// The stage that a job page marks as the one at hand; `None` if the job has ended.
fn current_stage(page: &str) -> Option<&'static str> {
    let marked = |stage: &&str| page.contains(&format!("href=\"#{stage}\" aria-current=\"step\""));
    STAGES.into_iter().find(marked)
}

/// Where the links of a page lead within this server, without their anchors.
fn targets(page: &str) -> impl Iterator<Item = String> {
    page.split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|target| target.starts_with('/'))
        .map(|target| target.split('#').next().unwrap_or(target))
        .map(|target| target.replace("&amp;", "&"))
}

/// The running demo; it ends with the test, also when that fails.
struct Demo {
    child: Child,
    port: u16,
}

impl Demo {
    fn start(store: &Path) -> Self {
        let mut child = setwright()
            .args(["demo", "--port", "0", "--keep"])
            .arg(store)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the demo starts");
        let stdout = child.stdout.take().expect("its words are piped");
        let mut demo = Self { child, port: 0 };
        let (sender, port) = mpsc::channel();
        thread::spawn(move || {
            for line in BufReader::new(stdout).lines().map_while(Result::ok) {
                let address = line.split_once("http://127.0.0.1:").map(|(_, rest)| rest);
                let port = address.and_then(|a| a.split('/').next()?.parse().ok());
                if let Some(port) = port {
                    sender.send(port).ok();
                }
            }
        });
        demo.port = port
            .recv_timeout(START)
            .expect("the demo says its address, or on stderr which form was refused");
        demo
    }

    /// Every page that can be reached by links from the first one; papers are left aside.
    fn crawl(&self) -> BTreeMap<String, Answer> {
        let mut pages = BTreeMap::new();
        let mut next = vec!["/".to_owned()];
        while let Some(path) = next.pop() {
            if pages.contains_key(&path) || path.ends_with(".pdf") {
                continue;
            }
            let page = self.get(&path);
            if page.kind.starts_with("text/html") {
                let text = page.text();
                assert!(!text.contains('⟦'), "{path} lacks a text");
                next.extend(targets(&text));
            }
            pages.insert(path, page);
        }
        pages
    }

    fn prints_the_same_twice(&self, path: &str) {
        let first = self.get(path).body;
        assert!(first.starts_with(b"%PDF-"), "{path} is no PDF");
        let same = self.get(path).body == first;
        assert!(same, "{path} prints differently the second time");
    }

    /// The answer to a plain request; it must be a whole 200.
    fn get(&self, path: &str) -> Answer {
        let mut stream =
            TcpStream::connect((Ipv4Addr::LOCALHOST, self.port)).expect("the demo listens");
        stream.set_read_timeout(Some(START)).expect("a timeout");
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n\r\n",
            self.port
        )
        .expect("the request is sent");
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).expect("the answer comes");
        let end = bytes
            .windows(4)
            .position(|four| four == b"\r\n\r\n")
            .expect("a head");
        let head = String::from_utf8_lossy(&bytes[..end]).to_lowercase();
        let body = bytes.split_off(end + 4);
        assert!(head.starts_with("http/1.1 200 "), "{path}: {head}");
        let header = |name: &str| head.lines().find_map(|line| line.strip_prefix(name));
        let length = header("content-length: ").and_then(|n| n.parse().ok());
        assert_eq!(length, Some(body.len()), "{path} is cut short");
        Answer {
            kind: header("content-type: ").unwrap_or_default().to_owned(),
            body,
        }
    }

    /// Asks the demo to stop, as a service manager does, and waits for it.
    fn stop(mut self) {
        let asked = Command::new("kill")
            .args(["-TERM", &self.child.id().to_string()])
            .status()
            .expect("kill runs");
        assert!(asked.success());
        let ended = self.child.wait().expect("the demo ends");
        assert!(ended.success(), "the demo ended with {ended}");
    }
}

impl Drop for Demo {
    fn drop(&mut self) {
        self.child.kill().ok();
        self.child.wait().ok();
    }
}

struct Answer {
    kind: String,
    body: Vec<u8>,
}

impl Answer {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }
}

fn setwright() -> Command {
    Command::new(env!("CARGO_BIN_EXE_setwright"))
}
