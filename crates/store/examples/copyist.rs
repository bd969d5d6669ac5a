//! Attaches, backs up and restores, and ends itself (`kill -9`) at the step that it is told. Tests
//! look what is left.
//!
//! `copyist attach STORE SEED` until killed, a line for each file that was acknowledged;
//! `copyist backup STORE BACKUP STEP` and `copyist restore BACKUP STORE STEP`: the steps counted
//! from 1, their number said at the end.

#[path = "../tests/backup/files.rs"]
mod files;
#[path = "../tests/logbook/sample.rs"]
#[expect(dead_code, reason = "others use the rest of it")]
mod sample;

use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use jiff::Timestamp;
use sample::{Chance, take_in};
use store::{Step, Store};

type Fallible<T> = Result<T, Box<dyn std::error::Error>>;

#[tokio::main(flavor = "multi_thread", worker_threads = 2)]
async fn main() -> Fallible<()> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["attach", store, seed] => attach(Path::new(store), seed.parse()?).await,
        ["backup", store, into, last] => {
            let mut steps = Steps::until(last.parse()?);
            let (store, into) = (Path::new(store), Path::new(into));
            let at = Timestamp::UNIX_EPOCH;
            store::backup(store, into, at, &mut |step| steps.take(step)).await?;
            steps.say()
        }
        ["restore", backup, store, last] => {
            let mut steps = Steps::until(last.parse()?);
            let (backup, store) = (Path::new(backup), Path::new(store));
            let at = Timestamp::UNIX_EPOCH;
            store::restore(backup, store, true, at, &mut |step| steps.take(step)).await?;
            steps.say()
        }
        _ => Err("copyist attach STORE SEED | backup STORE BACKUP STEP | restore …".into()),
    }
}

/// Steps taken, and the one not to be taken any more.
struct Steps {
    taken: usize,
    last: usize,
}

impl Steps {
    fn until(last: usize) -> Self {
        Self { taken: 0, last }
    }

    fn take(&mut self, _: Step) {
        self.taken += 1;
        if self.taken == self.last {
            let own = std::process::id().to_string();
            let _ = Command::new("kill").args(["-9", &own]).status();
            // The signal may take a moment; nothing more is done meanwhile.
            std::thread::sleep(std::time::Duration::from_secs(60));
        }
    }

    fn say(&self) -> Fallible<()> {
        println!("{}", self.taken);
        Ok(())
    }
}

async fn attach(path: &Path, seed: u64) -> Fallible<()> {
    let store = Store::open(path).await?;
    let by = store.person("Ansa").await?;
    let mut chance = Chance(seed);
    let (job, tool) = (chance.uuid(), chance.uuid());
    let key = chance.uuid().to_string();
    let taken = take_in(&store, &key, job, tool, &tool.to_string(), &by).await;
    let mut version = taken.map_err(|e| format!("{e:?}"))?.version;
    loop {
        let letter = b'a' + u8::try_from(chance.below(26))?;
        let mut text = chance.uuid().to_string().into_bytes();
        text.resize(usize::try_from(40 + chance.below(100_000))?, letter);
        let attached = files::attach(&store, (job, version), &by, "a.txt", &text).await;
        let (hash, written) = attached?;
        version = written.version;
        let mut out = std::io::stdout().lock();
        out.write_all(format!("ack {hash}\n").as_bytes())?;
        out.flush()?;
    }
}
