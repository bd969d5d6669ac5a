//! Which files of the folder are whole: those that a logger does not write into any more.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::time::{Duration, Instant, SystemTime};

/// A file that stood still so long is whole.
pub(super) const STILL: Duration = Duration::from_secs(3);

/// What the folder says of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Listed {
    /// Name in the folder.
    pub name: OsString,
    /// Its length.
    pub bytes: u64,
    /// When it was last written, where the folder tells that.
    pub written: Option<SystemTime>,
}

/// The files of the folder, and since when each stands still. Judged by what was seen of them, not by their own
/// times: the clock of a logger or of a network folder may be another.
#[derive(Debug, Default)]
pub(super) struct Seen {
    files: BTreeMap<OsString, (Listed, Instant)>,
}

impl Seen {
    /// The folder held `listed` at `now`. What is not among them is forgotten.
    pub fn look(&mut self, listed: Vec<Listed>, now: Instant) {
        let mut before = std::mem::take(&mut self.files);
        self.files = listed
            .into_iter()
            .map(|file| {
                let since = match before.remove(&file.name) {
                    Some((same, since)) if same == file => since,
                    _ => now,
                };
                (file.name.clone(), (file, since))
            })
            .collect();
    }

    /// The files that are whole, the one that was written last first. An empty one was begun and not written yet.
    pub fn whole(&self, now: Instant) -> Vec<&Listed> {
        let still = |since: Instant| now.saturating_duration_since(since) >= STILL;
        let files = self.files.values();
        let whole = files.filter(|(file, since)| file.bytes > 0 && still(*since));
        let mut whole: Vec<&Listed> = whole.map(|(file, _)| file).collect();
        whole.sort_by(|a, b| b.written.cmp(&a.written).then(a.name.cmp(&b.name)));
        whole
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, bytes: u64, written_s: u64) -> Listed {
        Listed {
            name: name.into(),
            bytes,
            written: Some(SystemTime::UNIX_EPOCH + Duration::from_secs(written_s)),
        }
    }

    fn names(seen: &Seen, now: Instant) -> Vec<String> {
        let names = seen.whole(now).into_iter();
        names
            .map(|file| file.name.to_string_lossy().into_owned())
            .collect()
    }

    #[test]
    fn a_file_is_whole_once_it_stood_still() {
        let begin = Instant::now();
        let at = |ms: u64| begin + Duration::from_millis(ms);
        let mut seen = Seen::default();
        let none = [] as [&str; 0];
        // Old by its own time: that says nothing of who still writes.
        seen.look(vec![file("a.csv", 10, 0)], at(0));
        assert_eq!(names(&seen, at(2999)), none);
        assert_eq!(names(&seen, at(3000)), ["a.csv"]);
        // It grows, or is written again at the same length: the wait begins anew.
        seen.look(vec![file("a.csv", 11, 0)], at(3000));
        assert_eq!(names(&seen, at(5999)), none);
        seen.look(vec![file("a.csv", 11, 1)], at(5000));
        assert_eq!(names(&seen, at(7999)), none);
        seen.look(vec![file("a.csv", 11, 1)], at(8000));
        assert_eq!(names(&seen, at(8000)), ["a.csv"]);
        // Gone and come back is another file.
        seen.look(vec![], at(8100));
        assert_eq!(names(&seen, at(20_000)), none);
        seen.look(vec![file("a.csv", 11, 1)], at(8200));
        assert_eq!(names(&seen, at(8300)), none);
        assert_eq!(names(&seen, at(11_200)), ["a.csv"]);
    }

    #[test]
    fn an_empty_file_waits_for_its_first_row_and_the_newest_stands_first() {
        let now = Instant::now();
        let mut seen = Seen::default();
        let files = vec![
            file("empty.csv", 0, 9),
            file("older.csv", 5, 1),
            file("newer.csv", 5, 2),
            file("as new.csv", 5, 2),
        ];
        seen.look(files, now);
        let later = now + STILL;
        assert_eq!(
            names(&seen, later),
            ["as new.csv", "newer.csv", "older.csv"]
        );
    }
}
