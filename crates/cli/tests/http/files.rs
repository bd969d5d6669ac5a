//! Photos and files over HTTP: sent, shown, stripped, refused, and never half there.

use std::io::Write;
use std::net::TcpStream;
use std::path::{Path, PathBuf};

use crate::client::{Answer, Client, multipart, ready, receive};
use crate::program::{Program, run, text};

/// A small photo, with an EXIF block that holds a place put behind its first two bytes. The block is
/// a TIFF header, the orientation 6, and words that a stripped photo must not hold.
fn photo() -> Vec<u8> {
    let plain = include_bytes!("../../../store/tests/attachments/samples/progressive.jpg");
    let mut block =
        b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0".to_vec();
    block.extend(b"GPSLatitude 48 12 N");
    let length = u16::try_from(block.len() + 2).expect("short");
    [
        &plain[..2],
        &[0xff, 0xe1],
        &length.to_be_bytes(),
        &block,
        &plain[2..],
    ]
    .concat()
}

fn holds(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|w| w == words.as_bytes())
}

/// Every file that is kept beside the store, on its way or in its place.
pub fn kept(store: &Path) -> Vec<PathBuf> {
    let mut open = vec![PathBuf::from(format!("{}.files", store.display()))];
    let mut found = Vec::new();
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
            match entry.path() {
                path if path.is_dir() => open.push(path),
                path => found.push(path),
            }
        }
    }
    found
}

/// The addresses of the files on a job page.
fn addresses(page: &Answer) -> Vec<&str> {
    let links = page.body.split("<figure><a href=\"").skip(1);
    links.filter_map(|rest| rest.split('"').next()).collect()
}

fn attach(client: &mut Client, page: &Answer, name: &str, bytes: &[u8]) -> Answer {
    let fields = [("note", "teeth worn flat")];
    client.upload(page, "file-fault", &fields, &[("file", name, bytes)])
}

#[test]
fn a_photo_is_shown_at_its_stage_without_the_place_it_was_taken() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    // The box for the camera was left empty, as browsers send it.
    let files: [(&str, &str, &[u8]); 3] = [
        ("file", "Collet 3.JPG", &photo()),
        ("file", "réadings.csv", b"t;F\r\n0,0;12,5\r\n"),
        ("camera", "", b""),
    ];
    let stored = client.upload(&page, "file-fault", &[("note", "teeth worn flat")], &files);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    assert!(stored.location.ends_with("#fault"), "{}", stored.location);

    let page = client.get(&job);
    assert!(page.body.contains("teeth worn flat"));
    let addresses = addresses(&page);
    assert_eq!(addresses.len(), 2, "one entry a file");
    let given = client.get(addresses[0]);
    assert_eq!(given.status, 200);
    assert!(holds(&photo(), "GPSLatitude") && !holds(&given.bytes, "GPSLatitude"));
    assert!(
        holds(&given.bytes, "Exif"),
        "it still says how it is turned"
    );
    let head = given.head.to_lowercase();
    for line in [
        "content-type: image/jpeg",
        "content-disposition: inline; filename=\"collet 3.jpg\"",
        "x-content-type-options: nosniff",
        "cache-control: no-store",
    ] {
        assert!(head.contains(line), "{line}: {head}");
    }
    let policy = head
        .lines()
        .filter(|l| l.starts_with("content-security-policy"));
    let policy: Vec<&str> = policy.collect();
    assert_eq!(policy.len(), 1);
    assert!(policy[0].contains("sandbox") && policy[0].contains("default-src 'none'"));

    let thumbnail = client.get(&format!("{}/thumbnail", addresses[0]));
    assert_eq!(thumbnail.status, 200);
    assert!(thumbnail.bytes.starts_with(&[0xff, 0xd8, 0xff]));

    let csv = client.get(addresses[1]);
    assert_eq!(csv.bytes, b"t;F\r\n0,0;12,5\r\n");
    let head = csv.head.to_lowercase();
    assert!(head.contains("content-type: text/csv"), "{head}");
    assert!(
        head.contains("attachment; filename=\"r_adings.csv\""),
        "{head}"
    );
    assert!(
        head.contains("filename*=utf-8''r%c3%a9adings.csv"),
        "{head}"
    );
    assert_eq!(
        client.get(&format!("{}/thumbnail", addresses[1])).status,
        404
    );
}

#[test]
fn files_are_given_out_by_job_and_entry_only() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    assert_eq!(attach(&mut client, &page, "a.jpg", &photo()).status, 303);
    let other = receive(&mut client, "7K-2");
    let page = client.get(&job);
    let address = addresses(&page)[0];
    let version = address.rsplit('/').next().expect("a version");
    for nothing in [
        format!("{other}/files/{version}"),
        format!("{job}/files/1"),
        format!("{job}/files/99"),
        format!("{job}/files/..%2f..%2fshop.setwright"),
    ] {
        let answer = client.get(&nothing);
        assert!(
            matches!(answer.status, 400 | 404),
            "{nothing}: {}",
            answer.status
        );
    }
}

#[test]
fn the_same_form_twice_is_stored_once_and_the_same_file_lies_there_once() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let first = attach(&mut client, &page, "a.jpg", &photo());
    let second = attach(&mut client, &page, "a.jpg", &photo());
    assert_eq!((first.status, second.status), (303, 303));
    assert!(second.location.contains("repeated=true"));
    let page = client.get(&job);
    assert_eq!(addresses(&page).len(), 1);
    // A new form with the same photo, at the same stage and at another.
    let again = attach(&mut client, &page, "b.jpg", &photo());
    assert_eq!(again.status, 422);
    assert!(again.errors()[0].contains("attached here already"));
    let files: [(&str, &str, &[u8]); 1] = [("file", "b.jpg", &photo())];
    let elsewhere = client.upload(&page, "file-received", &[], &files);
    assert_eq!(elsewhere.status, 303, "{:?}", elsewhere.errors());
    assert_eq!(kept(&program.store).len(), 1);
}

#[test]
fn a_form_without_its_token_or_from_another_page_keeps_nothing() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let (action, ours) = ready(&page, "file-fault");
    let others: Vec<(&str, &str)> = ours
        .iter()
        .map(|(n, v)| (n.as_str(), v.as_str()))
        .filter(|(name, _)| *name != "csrf")
        .collect();
    let jpeg = photo();
    let files: [(&str, &str, &[u8]); 1] = [("file", "a.jpg", &jpeg)];
    let wrong = "0".repeat(64);
    let token = ours.iter().find(|(n, _)| n == "csrf").expect("a token");
    let token = token.1.as_str();
    let with = |at: usize, token| {
        let mut fields = others.clone();
        fields.insert(at, ("csrf", token));
        fields
    };
    for (what, fields) in [
        ("none", others.clone()),
        ("wrong", with(0, wrong.as_str())),
        ("too late", with(1, token)),
    ] {
        let answer = client.post_files(&action, &fields, &files);
        assert_eq!(answer.status, 403, "{what}");
        assert!(answer.body.contains("Nothing was stored"));
    }
    assert_eq!(kept(&program.store), [] as [PathBuf; 0]);
    let answer = client.post_files(&action, &with(0, token), &files);
    assert_eq!(answer.status, 303, "with it first it goes through");
}

#[test]
fn too_large_and_not_what_it_says_get_a_clear_answer_and_keep_the_caption() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let mut large = photo();
    large.resize(30_000_000, 7);
    for (name, bytes, says) in [
        ("big.jpg", &large[..], &["30.0 MB", "25 MB"][..]),
        ("a.pdf", &photo(), &["a.pdf", "PDF document", "JPEG photo"]),
        ("a.svg", b"<svg xmlns='x'/>", &["a.svg", "SVG drawing"]),
        ("a.jpg", b"<svg onload='x'/>", &["SVG drawing"]),
        ("a.exe", b"MZ\x90\0", &["program"]),
        ("a.jpg", &photo()[..300], &["breaks off"]),
        ("a.txt", b"", &["is empty"]),
    ] {
        let answer = attach(&mut client, &page, name, bytes);
        assert_eq!(answer.status, 422, "{name}");
        let errors = answer.errors().join(" ");
        for words in says {
            assert!(errors.contains(words), "{name}: {words}: {errors}");
        }
        assert_eq!(
            answer.value("file-fault", "note").as_deref(),
            Some("teeth worn flat")
        );
        assert_eq!(kept(&program.store), [] as [PathBuf; 0], "{name}");
    }
    let nothing = client.upload(&page, "file-fault", &[], &[("file", "", b"")]);
    assert_eq!(nothing.errors(), ["Pick a photo or file."]);
    assert_eq!(addresses(&client.get(&job)), [] as [&str; 0]);
}

#[test]
fn of_several_files_the_good_ones_need_not_be_sent_again() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let files: [(&str, &str, &[u8]); 3] = [
        ("file", "bad.svg", b"<svg/>"),
        ("file", "good & new.jpg", &photo()),
        ("file", "worse.gif", b"GIF89a"),
    ];
    let refused = client.upload(&page, "file-fault", &[("note", "n")], &files);
    assert_eq!(refused.status, 422);
    let errors = refused.errors().join(" ");
    assert!(
        errors.contains("bad.svg") && errors.contains("worse.gif"),
        "{errors}"
    );
    assert!(refused.body.contains("good &amp; new.jpg"));
    let stored = client.upload(&refused, "file-fault", &[("note", "n")], &[]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(&job);
    assert_eq!(addresses(&page).len(), 1);
    let given = client.get(addresses(&page)[0]);
    assert!(given.head.contains("good & new.jpg"), "{}", given.head);
}

#[test]
fn a_file_sent_while_another_bench_wrote_waits_for_a_second_press() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let seen = client.get(&job);
    let mut other = Client::of(&program.address, "Ansa");
    let page = other.get(&job);
    let wrote = other.send(&page, "not-safe", &[("reason", "shell cracked")]);
    assert_eq!(wrote.status, 303);
    let refused = attach(&mut client, &seen, "a.jpg", &photo());
    assert_eq!(refused.status, 409);
    assert!(
        refused.body.contains("shell cracked"),
        "what changed is shown"
    );
    let again = client.upload(&refused, "file-fault", &[("note", "n")], &[]);
    assert_eq!(again.status, 303, "{:?}", again.errors());
    assert_eq!(addresses(&client.get(&job)).len(), 1);
}

#[test]
fn without_a_name_the_file_waits_for_one() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let mut nameless = Client::nameless(&program.address);
    let page = nameless.get(&job);
    let refused = attach(&mut nameless, &page, "a.jpg", &photo());
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("Pick your name"));
    assert!(refused.body.contains("name=\"kept\""));
    // A made-up file cannot be slipped in by its hash.
    let page = client.get(&job);
    let (action, ours) = ready(&page, "file-fault");
    let made_up = format!("{} a.jpg", "0".repeat(64));
    let mut fields: Vec<(&str, &str)> =
        ours.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    fields.push(("kept", &made_up));
    let refused = client.post(&action, &fields);
    assert_eq!(refused.errors(), ["Pick a photo or file."]);
}

#[test]
fn a_kill_in_the_middle_of_sending_leaves_no_entry_and_no_piece() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let (action, ours) = ready(&page, "file-fault");
    let fields: Vec<(&str, &str)> = ours.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let mut jpeg = photo();
    jpeg.resize(8_000_000, 7);
    let body = multipart(&fields, &[("file", "a.jpg", &jpeg)]);
    let mut stream = TcpStream::connect(&program.address).expect("connects");
    let head = client.head_of_upload(&action, body.len());
    stream.write_all(head.as_bytes()).expect("sent");
    stream.write_all(&body[..6_000_000]).expect("sent");
    let mut waited = 0;
    while kept(&program.store).is_empty() && waited < 500 {
        std::thread::sleep(std::time::Duration::from_millis(10));
        waited += 1;
    }
    assert_eq!(kept(&program.store).len(), 1, "a piece is on the disk");
    program.kill();
    let verified = run(&["verify"], &program.store);
    assert!(verified.status.success(), "{}", text(&verified));
    let program = Program::serve(&program.store, "").adopt(&mut program);
    let mut client = Client::at(&program.address);
    assert_eq!(addresses(&client.get(&job)), [] as [&str; 0]);
    assert_eq!(kept(&program.store), [] as [PathBuf; 0]);

    // A sender that breaks off leaves nothing either, while the program goes on.
    let page = client.get(&job);
    let (action, ours) = ready(&page, "file-fault");
    let fields: Vec<(&str, &str)> = ours.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let body = multipart(&fields, &[("file", "a.jpg", &jpeg)]);
    let mut stream = TcpStream::connect(&program.address).expect("connects");
    let head = client.head_of_upload(&action, body.len());
    stream.write_all(head.as_bytes()).expect("sent");
    stream.write_all(&body[..6_000_000]).expect("sent");
    drop(stream);
    let mut waited = 0;
    while !kept(&program.store).is_empty() && waited < 500 {
        std::thread::sleep(std::time::Duration::from_millis(10));
        waited += 1;
    }
    assert_eq!(kept(&program.store), [] as [PathBuf; 0]);
    assert_eq!(addresses(&client.get(&job)), [] as [&str; 0]);
}

#[test]
fn a_full_disk_takes_no_file_and_says_so() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    program.kill();
    let size = std::fs::metadata(&program.store).expect("a store").len();
    let blocks = size.div_ceil(1024) + 200;
    let limits = format!("trap '' XFSZ; ulimit -f {blocks};");
    let limited = Program::serve(&program.store, &limits);
    let mut client = Client::at(&limited.address);
    let page = client.get(&job);
    let text = "12.5 N;".repeat(1_000_000);
    let answer = attach(&mut client, &page, "a.csv", text.as_bytes());
    assert_eq!(answer.status, 503);
    assert!(
        answer.body.contains("teeth worn flat"),
        "the caption is not lost"
    );
    assert_eq!(kept(&program.store), [] as [PathBuf; 0]);
    let page = client.get(&job);
    assert_eq!(page.status, 200);
    assert_eq!(attach(&mut client, &page, "a.jpg", &photo()).status, 303);
}

/// The tool goes back as it came: the shortest way to a report.
pub fn goes_back(client: &mut Client, job: &str) {
    let now = jiff::Timestamp::now();
    let today = now.to_zoned_datetime(jiff::tz::TimeZone::system());
    let today = today.date().to_string();
    for (form, fields) in [
        ("not-safe", &[("reason", "shell cracked")][..]),
        ("cause", &[("causes", "collet-teeth-worn")]),
        (
            "warranty",
            &[
                ("cover", "not-covered"),
                ("term", "wear"),
                ("evidence", "teeth"),
            ],
        ),
        (
            "estimate",
            &[("what", "Look"), ("count", "1"), ("each", "10")],
        ),
        (
            "answer",
            &[("yes", "no"), ("name", "Fennholt, buyer"), ("on", &today)],
        ),
        (
            "return",
            &[
                ("to", "Fennholt, driver"),
                ("checked", "yes"),
                ("note", "The case stays here."),
            ],
        ),
    ] {
        let page = client.get(job);
        let done = client.send(&page, form, fields);
        assert_eq!(done.status, 303, "{form}: {:?}", done.errors());
    }
}

#[test]
fn the_report_shows_the_photos_of_the_job() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let files: [(&str, &str, &[u8]); 2] = [
        ("file", "collet.jpg", &photo()),
        ("file", "pulls.csv", b"0;12,5\n"),
    ];
    let stored = client.upload(&page, "file-fault", &[("note", "teeth worn flat")], &files);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    goes_back(&mut client, &job);
    let report = client.get(&format!("{job}/report.pdf"));
    assert_eq!(report.status, 200);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("report.pdf");
    std::fs::write(&path, &report.bytes).expect("written");
    let told = std::process::Command::new("pdftotext")
        .arg(&path)
        .arg("-")
        .output();
    let told = text(&told.expect("pdftotext of poppler-utils is installed"));
    for words in ["Photos", "teeth worn flat", "collet.jpg", "pulls.csv"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(
        holds(&report.bytes, "DCTDecode"),
        "the picture itself is in it"
    );
    assert_eq!(client.get(&format!("{job}/report.pdf")).bytes, report.bytes);
    let ended = client.get(&job);
    assert!(
        !ended.body.contains("<form id=\"file-"),
        "an ended job takes no more"
    );
    assert_eq!(addresses(&ended).len(), 2, "and still shows them");
}
