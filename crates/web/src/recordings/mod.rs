//! The recordings folder: what a logger puts there waits on the job page to be brought.
//!
//! The folder is looked at every second or so and never written to. A file is known by its name in it, and a name
//! that the folder does not list opens nothing: it is never taken for a path. What is no plain file (a link, a
//! folder) is passed over.

mod still;

use std::collections::HashMap;
use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant, SystemTime};

use calc::Message;
use still::{Listed, Seen};
use store::{FileError, FileHash, Files, Kept};

/// Time between two looks.
const EVERY: Duration = Duration::from_secs(1);

/// Files that are offered; older ones are counted.
const MOST: usize = 12;

/// Endings of files that loggers write.
const ENDINGS: &[&str] = &["csv", "tsv", "txt", "dat", "asc", "log"];

/// A folder that a logger writes into.
#[derive(Clone, Debug)]
pub struct RecordingsFolder {
    path: Arc<Path>,
    state: Arc<Mutex<State>>,
}

#[derive(Debug, Default)]
struct State {
    seen: Seen,
    /// Why the last look failed.
    trouble: Option<String>,
    /// The hash of each file that is offered, while it stays as it is; none of one that could not be read.
    hashes: HashMap<Key, Option<FileHash>>,
}

/// A file as it was when it was hashed.
type Key = (OsString, u64, Option<SystemTime>);

fn key(file: &Listed) -> Key {
    (file.name.clone(), file.bytes, file.written)
}

/// A file that waits.
#[derive(Clone, Debug)]
pub(crate) struct WaitingFile {
    /// Its name, to be shown and picked.
    pub name: String,
    /// Its length.
    pub bytes: u64,
    /// When it was last written.
    pub written: Option<SystemTime>,
    /// Its hash, once it is known.
    pub hash: Option<FileHash>,
    /// The record keeps the same content.
    pub is_kept: bool,
}

/// What the folder offers.
#[derive(Clone, Debug, Default)]
pub(crate) struct Waiting {
    /// The newest files that are whole.
    pub files: Vec<WaitingFile>,
    /// Older ones.
    pub more: usize,
    /// Why the folder cannot be read now.
    pub trouble: Option<String>,
}

impl RecordingsFolder {
    /// The folder at `path`, looked at once.
    ///
    /// # Errors
    /// There is no folder, or it cannot be read.
    pub fn at(path: &Path) -> io::Result<Self> {
        // Links on the way to the folder are the shop's own business; links in it are not followed.
        let path = path.canonicalize()?;
        let listed = list(&path)?;
        let mut state = State::default();
        state.seen.look(listed, Instant::now());
        Ok(Self {
            path: path.into(),
            state: Arc::new(Mutex::new(state)),
        })
    }

    /// Looks at the folder again and again, for as long as the program runs.
    pub async fn watch(self) {
        loop {
            let folder = self.clone();
            // A look that fails is told on the page; the next one may not.
            let _ = tokio::task::spawn_blocking(move || folder.look()).await;
            tokio::time::sleep(EVERY).await;
        }
    }

    fn look(&self) {
        let listed = list(&self.path);
        let now = Instant::now();
        {
            let mut state = self.state();
            match listed {
                Ok(listed) => {
                    state.seen.look(listed, now);
                    state.trouble = None;
                }
                Err(error) => {
                    state.seen.look(Vec::new(), now);
                    state.trouble = Some(error.to_string());
                }
            }
        }
        self.hash_one(now);
    }

    /// Hashes the newest file that is offered and not hashed yet: a look takes one at most.
    fn hash_one(&self, now: Instant) {
        let next = {
            let mut state = self.state();
            let offered: Vec<Listed> = state
                .seen
                .whole(now)
                .into_iter()
                .take(MOST)
                .cloned()
                .collect();
            let keys: Vec<Key> = offered.iter().map(key).collect();
            state.hashes.retain(|known, _| keys.contains(known));
            let known = &state.hashes;
            offered.into_iter().find(|f| !known.contains_key(&key(f)))
        };
        let Some(file) = next else { return };
        let hash = open(&self.path.join(&file.name)).and_then(|mut from| FileHash::of(&mut from));
        // One that cannot be read is offered without, and the next one is not kept waiting for it; whoever picks it
        // is told why.
        self.state().hashes.insert(key(&file), hash.ok());
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What it offers now, beside what the record keeps already.
    pub(crate) fn waiting(&self, kept: &Files) -> Waiting {
        let state = self.state();
        let whole = state.seen.whole(Instant::now());
        let files = whole.iter().take(MOST).map(|file| {
            let hash = state.hashes.get(&key(file)).cloned().flatten();
            let there = hash.as_ref().map(|hash| kept.open(hash));
            WaitingFile {
                name: shown(&file.name),
                bytes: file.bytes,
                written: file.written,
                hash,
                is_kept: matches!(there, Some(Ok(Some(_)))),
            }
        });
        Waiting {
            files: files.collect(),
            more: whole.len().saturating_sub(MOST),
            trouble: state.trouble.clone(),
        }
    }

    /// Takes the file that is offered as `name` into `files`, piece by piece, as if it had been sent. Waits for the
    /// disk.
    ///
    /// # Errors
    /// [`FileError::Refused`]: it is not offered, was written to meanwhile, cannot be read, or is not taken for what
    /// it is. Otherwise the disk fails.
    pub(crate) fn bring(&self, name: &str, files: &Files) -> Result<Kept, FileError> {
        let not_whole = || {
            let message = Message::new("waiting-not-whole").with("name", name);
            FileError::Refused(message)
        };
        let unreadable = |error: io::Error| {
            let message = Message::new("waiting-unreadable").with("name", name);
            FileError::Refused(message.with("why", error.to_string()))
        };
        let wanted = {
            let state = self.state();
            let mut whole = state.seen.whole(Instant::now()).into_iter();
            whole.find(|file| shown(&file.name) == name).cloned()
        };
        let wanted = wanted.ok_or_else(not_whole)?;
        let mut file = open(&self.path.join(&wanted.name)).map_err(unreadable)?;
        let mut incoming = files.receive(name)?;
        let mut piece = vec![0; 64 * 1024];
        let mut bytes = 0;
        loop {
            match file.read(&mut piece) {
                Ok(0) => break,
                Ok(length) => {
                    bytes += length as u64;
                    incoming.write(&piece[..length])?;
                }
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(unreadable(error)),
            }
        }
        // A logger that went on writing has made another file of it.
        let now = file.metadata().map_err(unreadable)?;
        let same = bytes == wanted.bytes && now.len() == wanted.bytes;
        if !same || now.modified().ok() != wanted.written {
            return Err(not_whole());
        }
        incoming.keep()
    }
}

/// A name as it is shown and picked.
fn shown(name: &OsStr) -> String {
    name.to_string_lossy().into_owned()
}

fn is_offered(name: &OsStr) -> bool {
    let path = PathBuf::from(name);
    let ending = path.extension().and_then(OsStr::to_str);
    let known = ending.is_some_and(|e| ENDINGS.contains(&e.to_lowercase().as_str()));
    // Names with a point before them are those of files that programs keep for themselves.
    known && !shown(name).starts_with(['.', '~'])
}

/// The plain files of `folder` that may hold a recording.
fn list(folder: &Path) -> io::Result<Vec<Listed>> {
    let mut listed = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        // Of a link this tells the link, not what it leads to. One that is gone again is no longer there.
        let Ok(found) = entry.metadata() else {
            continue;
        };
        if found.is_file() && is_offered(&entry.file_name()) {
            listed.push(Listed {
                name: entry.file_name(),
                bytes: found.len(),
                written: found.modified().ok(),
            });
        }
    }
    Ok(listed)
}

/// Opens a plain file, and nothing that was put in its place.
fn open(path: &Path) -> io::Result<File> {
    let plain = |found: &fs::Metadata| match found.is_file() {
        true => Ok(()),
        false => Err(io::Error::from(io::ErrorKind::InvalidInput)),
    };
    plain(&fs::symlink_metadata(path)?)?;
    let file = File::open(path)?;
    let opened = file.metadata()?;
    plain(&opened)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        // A link that took the file's place between the two looks leads to another file.
        let there = fs::symlink_metadata(path)?;
        if (there.dev(), there.ino()) != (opened.dev(), opened.ino()) {
            return Err(io::ErrorKind::InvalidInput.into());
        }
    }
    Ok(file)
}

#[cfg(test)]
mod tests {
    use store::Store;

    use super::*;

    fn refused(done: Result<Kept, FileError>) -> &'static str {
        match done {
            Err(FileError::Refused(message)) => message.id,
            other => panic!("{other:?}"),
        }
    }

    #[tokio::test]
    async fn names_are_no_paths_and_links_are_not_followed() {
        let around = tempfile::tempdir().expect("a folder");
        let store = Store::open(&around.path().join("shop.setwright")).await;
        let store = store.expect("a record");
        let inside = around.path().join("logger");
        fs::create_dir_all(inside.join("deeper.csv")).expect("made");
        let secret = around.path().join("secret.csv");
        fs::write(&secret, "1;2\n").expect("written");
        fs::write(inside.join("pull.csv"), "1;2\n").expect("written");
        fs::write(inside.join("deeper.csv/in.csv"), "1;2\n").expect("written");
        for other in [".pull.csv", "~pull.csv", "pull.csv.part", "pull"] {
            fs::write(inside.join(other), "1;2\n").expect("written");
        }
        #[cfg(unix)]
        std::os::unix::fs::symlink(&secret, inside.join("link.csv")).expect("linked");
        let folder = RecordingsFolder::at(&inside).expect("a folder");
        let none = folder.waiting(store.files()).files.len();
        assert_eq!(none, 0, "nothing is whole at first sight");
        let seen_before = || {
            let listed = list(&inside).expect("read");
            let mut state = folder.state();
            state.seen = Seen::default();
            state.seen.look(listed, Instant::now() - 2 * still::STILL);
        };
        seen_before();
        let names = folder.waiting(store.files()).files.into_iter();
        assert_eq!(names.map(|f| f.name).collect::<Vec<_>>(), ["pull.csv"]);
        let bring = |name: &str| folder.bring(name, store.files());
        for name in [
            "../secret.csv",
            "link.csv",
            "deeper.csv",
            "deeper.csv/in.csv",
            "./pull.csv",
            ".pull.csv",
            "",
            "..",
            "pull.csv/",
            "none.csv",
            &secret.display().to_string(),
        ] {
            assert_eq!(refused(bring(name)), "waiting-not-whole", "{name}");
        }
        let kept = bring("pull.csv").expect("brought");
        assert_eq!((kept.name.as_str(), kept.bytes), ("pull.csv", 4));
        folder.look();
        let files = folder.waiting(store.files()).files;
        assert!(files[0].is_kept && files[0].hash == Some(kept.hash));
        // One that cannot be read keeps no other one waiting for its hash.
        fs::write(inside.join("zulu.csv"), "5;6\n").expect("written");
        let older = File::options().write(true).open(inside.join("zulu.csv"));
        let aged = older.and_then(|file| file.set_modified(SystemTime::UNIX_EPOCH));
        aged.expect("the other one comes first");
        seen_before();
        fs::remove_file(inside.join("pull.csv")).expect("removed");
        folder.state().hashes.clear();
        for _ in 0..2 {
            folder.hash_one(Instant::now());
        }
        let hashed = folder.waiting(store.files()).files.into_iter();
        let hashed: Vec<_> = hashed.map(|f| (f.name, f.hash.is_some())).collect();
        let expected = [("pull.csv", false), ("zulu.csv", true)].map(|(n, h)| (n.to_owned(), h));
        assert!(
            expected.iter().all(|one| hashed.contains(one)),
            "{hashed:?}"
        );
        fs::remove_file(inside.join("zulu.csv")).expect("removed");
        fs::write(inside.join("pull.csv"), "1;2\n").expect("written");
        seen_before();
        // Put in the place of a file that was listed, a link is not followed either.
        #[cfg(unix)]
        {
            fs::remove_file(inside.join("pull.csv")).expect("removed");
            std::os::unix::fs::symlink(&secret, inside.join("pull.csv")).expect("linked");
            assert_eq!(refused(bring("pull.csv")), "waiting-unreadable");
            fs::remove_file(inside.join("pull.csv")).expect("removed");
        }
        // Written to after it was seen: it is not taken for what was seen.
        fs::write(inside.join("pull.csv"), "1;2\n3;4\n").expect("written");
        assert_eq!(refused(bring("pull.csv")), "waiting-not-whole");
        store.close().await;
    }

    #[test]
    fn a_folder_that_is_none_is_refused() {
        let around = tempfile::tempdir().expect("a folder");
        assert!(RecordingsFolder::at(&around.path().join("none")).is_err());
        let file = around.path().join("file");
        fs::write(&file, "").expect("written");
        assert!(RecordingsFolder::at(&file).is_err());
    }

    #[test]
    fn a_folder_that_goes_away_says_so_and_comes_back() {
        let around = tempfile::tempdir().expect("a folder");
        let path = around.path().join("logger");
        fs::create_dir(&path).expect("made");
        let folder = RecordingsFolder::at(&path).expect("a folder");
        fs::remove_dir(&path).expect("removed");
        folder.look();
        assert!(folder.state().trouble.is_some());
        fs::create_dir(&path).expect("made");
        folder.look();
        assert_eq!(folder.state().trouble, None);
    }
}
