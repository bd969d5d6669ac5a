//! Backup, restore and files at the prompt, while the shop works in the browser.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;

use crate::client::{Client, receive};
use crate::program::{BINARY, Program, run, text};

/// A path beside the store.
fn beside(store: &Path, name: &str) -> PathBuf {
    store.parent().expect("a folder").join(name)
}

fn plain(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

/// How it ended, and all that it said.
fn ended(output: &Output) -> (i32, String) {
    (output.status.code().expect("not killed"), text(output))
}

#[test]
fn a_backup_under_four_writers_comes_back_as_one_moment() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let jobs: Vec<String> = (0..4)
        .map(|n| receive(&mut client, &format!("7K-{n}")))
        .collect();
    let (stop, stored) = (AtomicBool::new(false), AtomicUsize::new(0));
    let folders: Vec<PathBuf> = (0..2)
        .map(|n| beside(&program.store, &format!("b{n}")))
        .collect();
    std::thread::scope(|scope| {
        for job in &jobs {
            let (address, stop, stored) = (&program.address, &stop, &stored);
            scope.spawn(move || {
                let mut client = Client::at(address);
                let mut n = 0;
                while !stop.load(Ordering::Relaxed) {
                    let page = client.get(job);
                    let text = format!("{job} reading {n}");
                    let files: [(&str, &str, &[u8]); 1] = [("file", "r.txt", text.as_bytes())];
                    let answer = client.upload(&page, "file-fault", &[], &files);
                    assert_eq!(answer.status, 303, "{:?}", answer.errors());
                    n += 1;
                    stored.fetch_add(1, Ordering::Relaxed);
                }
            });
        }
        for folder in &folders {
            // Every backup finds something new.
            let before = stored.load(Ordering::Relaxed);
            let is_new = || stored.load(Ordering::Relaxed) > before;
            for _ in 0..2000 {
                if is_new() {
                    break;
                }
                std::thread::sleep(Duration::from_millis(5));
            }
            assert!(is_new(), "the writers write");
            let made = run(&["backup", plain(folder)], &program.store);
            assert_eq!(ended(&made).0, 0, "{}", text(&made));
        }
        stop.store(true, Ordering::Relaxed);
    });
    program.kill();
    let mut last = 0;
    for (n, folder) in folders.iter().enumerate() {
        let target = beside(&program.store, &format!("r{n}.setwright"));
        let restored = run(&["restore", "--json", plain(folder)], &target);
        let (code, said) = ended(&restored);
        assert_eq!(code, 0, "{said}");
        let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
        let entries = said["manifest"]["entries"].as_u64().expect("a number");
        let files = &said["manifest"]["kinds"]["file-attached"];
        assert!(entries > last && files.as_u64() > Some(0), "{said}");
        last = entries;
        let verified = run(&["verify"], &target);
        let (code, said) = ended(&verified);
        assert_eq!(code, 0, "{said}");
        assert!(said.contains(&format!("{entries} entries")), "{said}");
        assert!(said.contains(&format!("{files} files")), "{said}");
    }
    // What was restored is a shop like any other.
    let target = beside(&program.store, "r1.setwright");
    let again = Program::serve(&target, "");
    let mut client = Client::at(&again.address);
    let page = client.get(&jobs[0]);
    assert!(page.body.contains("r.txt"));
    let files: [(&str, &str, &[u8]); 1] = [("file", "new.txt", b"goes on")];
    assert_eq!(client.upload(&page, "file-fault", &[], &files).status, 303);
}

#[test]
fn restore_is_refused_over_an_open_or_a_kept_record_and_says_what_to_do() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let folder = beside(&program.store, "b");
    let backup = ["backup", plain(&folder)];
    assert_eq!(ended(&run(&backup, &program.store)).0, 0);
    let (code, said) = ended(&run(&backup, &program.store));
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("is there already"), "{said}");
    receive(&mut client, "7K-2");

    let restore = ["restore", plain(&folder), "--keep-old"];
    let (code, said) = ended(&run(&restore, &program.store));
    assert_eq!(code, 3, "{said}");
    assert!(
        said.contains("Another program has this record open"),
        "{said}"
    );
    program.kill();
    let (code, said) = ended(&run(&restore[..2], &program.store));
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("--keep-old"), "{said}");

    let (code, said) = ended(&run(&restore, &program.store));
    assert_eq!(code, 0, "{said}");
    let kept = said.split("is kept in ").nth(1).expect("it says where");
    let kept = Path::new(kept.trim()).join("shop.setwright");
    let (code, said) = ended(&run(&["job", "list"], &kept));
    assert!(code == 0 && said.contains("7K-2"), "{said}");
    let (code, said) = ended(&run(&["job", "list"], &program.store));
    assert!(
        code == 0 && said.contains("7K-1") && !said.contains("7K-2"),
        "{said}"
    );
    let served = Program::serve(&program.store, "");
    assert_eq!(Client::at(&served.address).get(&job).status, 200);
}

#[test]
fn half_a_backup_is_called_so_by_name() {
    let mut program = Program::start();
    program.kill();
    let folder = beside(&program.store, "b");
    assert_eq!(
        ended(&run(&["backup", plain(&folder)], &program.store)).0,
        0
    );
    let partial = beside(&program.store, "b.partial");
    std::fs::rename(&folder, &partial).expect("renamed");
    let target = beside(&program.store, "other.setwright");
    for asked in [&folder, &partial] {
        let (code, said) = ended(&run(&["restore", plain(asked)], &target));
        assert_eq!(code, 1, "{said}");
        assert!(
            said.contains("b.partial is a backup that broke off"),
            "{said}"
        );
    }
    assert!(!target.exists());
}

#[test]
fn a_backup_that_does_not_fit_on_the_disk_is_not_taken_for_one() {
    let mut program = Program::start();
    program.kill();
    let folder = beside(&program.store, "b");
    let script = "trap '' XFSZ; ulimit -f 8; exec \"$0\" backup \"$1\" --store \"$2\"";
    let mut limited = Command::new("bash");
    limited.args(["-c", script, BINARY, plain(&folder), plain(&program.store)]);
    let (code, said) = ended(&limited.output().expect("runs"));
    assert_eq!(code, 3, "{said}");
    assert!(!folder.exists(), "nothing bears the name");
    let (code, said) = ended(&run(&["backup", plain(&folder)], &program.store));
    assert_eq!(code, 0, "with room it is made: {said}");
}

#[test]
fn files_are_added_listed_and_got_at_the_prompt() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    receive(&mut client, "7K-1");
    program.kill();
    let store = &program.store;
    let csv = beside(store, "readings.csv");
    std::fs::write(&csv, "t;F\n0;12,5\n").expect("written");
    let added = run(
        &[
            "files",
            "add",
            "1001",
            plain(&csv),
            "--by",
            "Ansa",
            "--note",
            "first pulls",
        ],
        store,
    );
    let (code, said) = ended(&added);
    assert_eq!(code, 0, "{said}");
    let hash = said.split(' ').next().expect("a hash").to_owned();
    let (_, said) = ended(&run(&["files", "list", "1001"], store));
    assert!(
        said.contains("readings.csv") && said.contains("first pulls"),
        "{said}"
    );
    let (_, said) = ended(&run(&["files", "list", "1001", "--json"], store));
    let listed: serde_json::Value = serde_json::from_str(&said).expect("JSON");
    assert_eq!(listed[0]["sha256"], hash.as_str());
    assert_eq!(listed[0]["stage"], "fault", "the stage that the job is in");

    let out = beside(store, "out.csv");
    let get = ["files", "get", "1001", &hash[..6], plain(&out)];
    let (code, said) = ended(&run(&get, store));
    assert_eq!(code, 0, "{said}");
    assert_eq!(std::fs::read(&out).expect("written"), b"t;F\n0;12,5\n");
    let (code, said) = ended(&run(&get, store));
    assert_eq!(code, 3, "it overwrites nothing: {said}");
    let printed = run(&["files", "get", "1001", &hash, "-"], store);
    assert_eq!(printed.stdout, b"t;F\n0;12,5\n");

    let bad = beside(store, "drawing.svg");
    std::fs::write(&bad, "<svg/>").expect("written");
    for (arguments, says) in [
        (
            &["files", "add", "1001", plain(&csv), "--by", "Ansa"][..],
            "attached here already",
        ),
        (
            &["files", "add", "1001", plain(&bad), "--by", "Ansa"],
            "SVG drawing",
        ),
        (
            &[
                "files",
                "add",
                "1001",
                plain(&csv),
                "--by",
                "Ansa",
                "--stage",
                "proved",
            ],
            "not open",
        ),
        (
            &["files", "add", "9999", plain(&csv), "--by", "Ansa"],
            "There is no",
        ),
        (&["files", "get", "1001", "0000"], "has no file"),
        (&["files", "list", "9999"], "There is no job 9999"),
    ] {
        let (code, said) = ended(&run(arguments, store));
        assert_eq!(code, 1, "{said}");
        assert!(said.contains(says), "{says}: {said}");
    }
}

#[test]
fn verify_tells_missing_changed_and_left_over_files() {
    let mut program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    let files: [(&str, &str, &[u8]); 2] =
        [("file", "one.txt", b"one"), ("file", "two.txt", b"two")];
    assert_eq!(client.upload(&page, "file-fault", &[], &files).status, 303);
    program.kill();
    let store = &program.store;
    let (code, said) = ended(&run(&["verify"], store));
    assert!(code == 0 && said.contains("2 files"), "{said}");

    let (_, said) = ended(&run(&["files", "list", "1001", "--json"], store));
    let listed: serde_json::Value = serde_json::from_str(&said).expect("JSON");
    let place = |n: usize| {
        let hash = listed[n]["sha256"].as_str().expect("a hash");
        beside(store, "shop.setwright.files")
            .join(&hash[..2])
            .join(&hash[2..])
    };
    std::fs::write(place(0), "ONE").expect("written");
    std::fs::rename(
        place(1),
        beside(store, "shop.setwright.files").join("stray"),
    )
    .expect("moved");
    let (code, said) = ended(&run(&["verify"], store));
    assert_eq!(code, 1);
    for says in [
        "“one.txt”",
        "was changed",
        "“two.txt”",
        "is missing",
        "stray",
        "no entry",
    ] {
        assert!(said.contains(says), "{says}: {said}");
    }
}
