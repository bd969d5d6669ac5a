//! Recordings that a logger leaves in a folder, and recordings that are very long.

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::client::{Client, receive};
use crate::program::{BINARY, Program, peak_mb, run, text};

const SLIPPING: &[u8] =
    include_bytes!("../../../../sheets/demo/recordings/ah-1212-d6-as-found.csv");

/// A shop that looks into `folder`.
fn looking_into(folder: &Path) -> Program {
    let mut empty = Program::start();
    empty.kill();
    let folder = folder.to_str().expect("a plain name");
    let looking = Program::serve_with(&empty.store, "", &["--recordings", folder]);
    looking.adopt(&mut empty)
}

/// Looks at `path` until the page says `words`; what it said then.
fn wait_for(client: &mut Client, path: &str, words: &str) -> crate::client::Answer {
    let begin = Instant::now();
    loop {
        let page = client.get(path);
        if page.body.contains(words) {
            return page;
        }
        assert!(
            begin.elapsed() < Duration::from_secs(30),
            "{words}: {}",
            page.body
        );
        std::thread::sleep(Duration::from_millis(200));
    }
}

#[test]
fn what_a_logger_leaves_in_its_folder_waits_on_the_job_and_is_brought_from_there() {
    let folder = tempfile::tempdir().expect("a folder");
    let recording = folder.path().join("d6 pull.csv");
    fs::write(&recording, SLIPPING).expect("written");
    fs::write(folder.path().join("notes.docx"), "no recording").expect("written");
    let program = looking_into(folder.path());
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");

    // A file that the logger still writes does not wait yet, the other one does.
    let slow = folder.path().join("slow.csv");
    let begin = Instant::now();
    let page = loop {
        let mut growing = File::options()
            .create(true)
            .append(true)
            .open(&slow)
            .expect("open");
        growing.write_all(b"0.1,0.2,0.3\n").expect("written");
        let page = client.get(&job);
        assert!(!page.body.contains("slow.csv"), "it is still written to");
        let waits = page.body.contains("d6 pull.csv, ");
        if waits && begin.elapsed() > Duration::from_secs(4) {
            break page;
        }
        assert!(begin.elapsed() < Duration::from_secs(30), "{}", page.body);
        std::thread::sleep(Duration::from_millis(200));
    };
    assert!(
        page.body.contains("1 waiting in the recordings folder"),
        "{}",
        page.body
    );
    assert!(!page.body.contains("notes.docx"));

    // What does not wait is not brought, and no name is taken for a path.
    for name in [
        "slow.csv",
        "../shop.setwright",
        "notes.docx",
        program.store.to_str().expect("plain"),
    ] {
        let refused = client.upload(&page, "recording-fault", &[("waiting", name)], &[]);
        assert_eq!(refused.status, 422, "{name}");
        assert!(
            refused.errors().join(" ").contains("does not wait"),
            "{name}"
        );
    }

    let fields = [
        ("waiting", "d6 pull.csv"),
        ("rig", "bench-1"),
        ("fastener", "drumhale-d6"),
    ];
    let brought = client.upload(&page, "recording-fault", &fields, &[]);
    assert_eq!(brought.status, 303, "{:?}", brought.errors());
    assert!(brought.location.contains("/pulls/"), "{}", brought.location);
    // Read as a file that was dropped: faults by their lines, the pull with one in it not ticked.
    let review = client.get(&brought.location);
    assert!(review.body.contains("Line 1101: stroke is no number"));
    let taken = client.send(&review, "pulls", &[("pull", "1"), ("pull", "3")]);
    assert_eq!(taken.status, 303, "{:?}", taken.errors());
    assert!(
        client
            .get(&job)
            .body
            .contains("2 of 4 pulls of Drumhale D6")
    );

    // The folder is as it was; the job offers the other file, and another job says that this one is kept.
    assert!(fs::read(&recording).expect("still there") == SLIPPING);
    let page = wait_for(&mut client, &job, "slow.csv, ");
    assert!(
        !page.body.contains("value=\"d6 pull.csv\""),
        "the job has it already"
    );
    let other = receive(&mut client, "7K-2");
    let page = client.get(&other);
    let tick = page
        .body
        .split("value=\"d6 pull.csv\"")
        .nth(1)
        .expect("it is offered");
    assert!(
        tick.split("</label>")
            .next()
            .expect("a label")
            .contains("keeps this file already")
    );

    // The folder goes away: the page says so, and a file can still be sent.
    fs::remove_dir_all(folder.path()).expect("removed");
    wait_for(&mut client, &other, "recordings folder cannot be read now");
    let page = client.get(&other);
    let sent = client.upload(
        &page,
        "recording-fault",
        &[],
        &[("file", "a.csv", SLIPPING)],
    );
    assert_eq!(sent.status, 303, "{:?}", sent.errors());
}

#[test]
fn a_recordings_folder_that_is_none_is_said_before_anything_is_opened() {
    let around = tempfile::tempdir().expect("a folder");
    let file = around.path().join("file.csv");
    fs::write(&file, "1;2\n").expect("written");
    let store = around.path().join("shop.setwright");
    for folder in [around.path().join("none"), file] {
        let named = folder.to_str().expect("plain");
        let refused = run(&["serve", "--port", "0", "--recordings", named], &store);
        assert_eq!(refused.status.code(), Some(1), "{}", text(&refused));
        let said = text(&refused);
        assert!(
            said.contains(named) && said.contains("Name a folder that is there"),
            "{said}"
        );
        assert!(!store.exists());
    }
}

/// Rows of a logger that runs all day: at rest, one pull, at rest.
fn a_stretch_of_rows() -> String {
    (0..20_000).fold(String::new(), |text, i| {
        let x = (f64::from(i) / 500.0 - 20.0).abs().min(1.0);
        let (stroke, force) = (20.0 * (1.0 - x), 15.0 * (1.0 - x));
        text + &format!("{:.3};{stroke:.2};{force:.2}\n", f64::from(i) / 1000.0)
    })
}

const HEAD: &str = "Time (s);Stroke (mm);Force (kN)\n";

#[test]
fn a_long_recording_is_read_at_the_prompt_without_being_held() {
    let mut child = Command::new(BINARY)
        .args(["pulls", "read", "-", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .expect("starts");
    let mut input = child.stdin.take().expect("piped");
    let stretch = a_stretch_of_rows();
    input.write_all(HEAD.as_bytes()).expect("taken");
    let mut feed = |megabytes: usize| {
        for _ in 0..megabytes * 1_000_000 / stretch.len() {
            input.write_all(stretch.as_bytes()).expect("taken");
        }
        peak_mb(child.id())
    };
    let before = feed(10);
    let after = feed(80);
    drop(input);
    assert!(child.wait().expect("ends").success());
    assert!(after < before + 16.0, "{before} MB, then {after} MB");
}

#[test]
fn a_recording_larger_than_a_photo_goes_to_the_disk_as_it_comes() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let stretch = a_stretch_of_rows();
    let recording = HEAD.to_owned() + &stretch.repeat(27_000_000 / stretch.len());
    let before = program.peak_mb();
    let files: [(&str, &str, &[u8]); 1] = [("file", "day.csv", recording.as_bytes())];
    let brought = client.upload(&page, "recording-fault", &[], &files);
    assert_eq!(brought.status, 303, "{:?}", brought.errors());
    let after = program.peak_mb();
    assert!(after < before + 12.0, "{before} MB, then {after} MB");
    let kept = client.get(&job);
    let address = kept
        .body
        .split("<figure><a href=\"")
        .nth(1)
        .expect("the file");
    let address = address.split('"').next().expect("its address").to_owned();
    assert!(client.get(&address).bytes == recording.as_bytes());
}
