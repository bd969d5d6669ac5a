//! The demo shop, played once for all tests: playing it takes seconds, copying it does not.

use std::fs;
use std::io::{BufRead, BufReader, ErrorKind};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant, SystemTime};

use jiff::Timestamp;
use jiff::tz::TimeZone;

const BINARY: &str = env!("CARGO_BIN_EXE_setwright");

/// Name of the record in the folder that is kept.
const NAME: &str = "demo.setwright";

/// Far more than playing takes on a busy machine: then whoever was at it has died.
const LONGEST: Duration = Duration::from_secs(180);

/// Puts the played demo shop at `store`, where nothing is yet. The demo is the same each time but for the day, so that what
/// one program of one day has played serves every test of it.
pub fn demo_at(store: &Path) {
    let kept = kept();
    let parent = store.parent().expect("a folder");
    let name = store.file_name().and_then(|n| n.to_str()).expect("plain");
    for entry in fs::read_dir(&kept).expect("the played demo") {
        let entry = entry.expect("readable");
        let of_record = entry.file_name().into_string().expect("plain");
        // A lock belongs to the program that held it.
        if let Some(rest) = of_record.strip_prefix(NAME).filter(|rest| *rest != ".lock") {
            copy(&entry.path(), &parent.join(format!("{name}{rest}")));
        }
    }
}

fn copy(from: &Path, to: &Path) {
    if !from.is_dir() {
        fs::copy(from, to).expect("copied");
        return;
    }
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("readable") {
        let entry = entry.expect("readable");
        copy(&entry.path(), &to.join(entry.file_name()));
    }
}

/// The folder with the demo as this program plays it today; the first test that asks plays it, the others wait.
fn kept() -> PathBuf {
    let built = fs::metadata(BINARY).and_then(|m| m.modified());
    let since = built.expect("built").duration_since(SystemTime::UNIX_EPOCH);
    let now = Timestamp::now().to_zoned_datetime(TimeZone::system());
    let day = now.date();
    let name = format!("demo-{}-{day}", since.expect("later").as_nanos());
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let begun = folder.with_extension("begun");
    let start = Instant::now();
    while !folder.exists() {
        match fs::create_dir(&begun) {
            Ok(()) => {
                play(&begun.join(NAME));
                // Whole at once, for those who wait.
                fs::rename(&begun, &folder).expect("renamed");
            }
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                if start.elapsed() > LONGEST {
                    fs::remove_dir_all(&begun).ok();
                }
                sleep(Duration::from_millis(100));
            }
            Err(error) => panic!("{}: {error}", begun.display()),
        }
    }
    folder
}

fn play(store: &Path) {
    let mut demo = Command::new(BINARY);
    demo.args(["demo", "--port", "0", "--keep"]).arg(store);
    let mut demo = demo.stdout(Stdio::piped()).spawn().expect("starts");
    let mut lines = BufReader::new(demo.stdout.take().expect("piped")).lines();
    let ready = lines.any(|line| line.is_ok_and(|line| line.contains("http://")));
    demo.kill().expect("kills");
    demo.wait().expect("ends");
    assert!(ready, "the demo says its address");
}
