//! The reader: pieces of the file in, pulls out.

use super::RecordedPull;
use super::columns::Rig;
use super::fault::{Fault, What};
use super::head::{Layout, is_whole, names_columns, understand};
use super::rows::Wanted;
use super::split::Split;
use super::told::Faults;

/// How much is taken in before it is too much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// Rows in one pull: 60 s at 50 kHz and some.
    pub pull_rows: usize,
    /// Rows in a file.
    pub file_rows: u64,
    /// Faults that are named; the rest is counted.
    pub faults: usize,
}

impl Default for Bounds {
    fn default() -> Self {
        Self {
            pull_rows: 4_000_000,
            file_rows: 100_000_000,
            faults: 1000,
        }
    }
}

/// Lines of a head, and bytes of a line.
const HEAD_LINES: usize = 200;
const LINE_BYTES: usize = 1 << 16;
/// Steps of time from which the usual one is learnt.
const STEPS: usize = 64;

/// What was found beside the pulls.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// How the rows were read.
    pub layout: Option<Layout>,
    /// Rows of numbers.
    pub rows: u64,
    /// What is wrong, in the order of the lines.
    pub faults: Vec<Fault>,
}

/// Reads one file, a piece after the other.
pub struct Reader {
    rig: Rig,
    bounds: Bounds,
    layout: Option<(Layout, Wanted)>,
    head: Vec<Vec<u8>>,
    head_first: u64,
    carry: Vec<u8>,
    line: u64,
    rows: u64,
    over: bool,
    split: Split,
    clock: Clock,
    faults: Faults,
    /// What is wrong with a row of this is that the file ends in it.
    broken_off: bool,
    /// Rows left out since the last good one.
    left_out: u64,
    /// A row of the head, by which a second heading is understood.
    sample: Vec<u8>,
}

/// Looks after the time column.
#[derive(Default)]
struct Clock {
    first: f64,
    last: f64,
    running: bool,
    steps: Vec<f64>,
    longest: Option<f64>,
    usual: f64,
    /// Rows since the last step of time.
    stood: u64,
}

impl Reader {
    /// A reader of a file of `rig`.
    pub fn new(rig: Rig, bounds: Bounds) -> Self {
        Self {
            split: Split::new(&rig, bounds.pull_rows),
            rig,
            bounds,
            layout: None,
            head: Vec::new(),
            head_first: 1,
            carry: Vec::new(),
            line: 0,
            rows: 0,
            over: false,
            clock: Clock::default(),
            faults: Faults::new(bounds.faults),
            broken_off: false,
            left_out: 0,
            sample: Vec::new(),
        }
    }

    /// Takes the next piece; pulls that are complete go to `pulls`.
    pub fn feed(&mut self, bytes: &[u8], pulls: &mut Vec<RecordedPull>) {
        if self.over || bytes.is_empty() {
            return;
        }
        let mut rest = bytes;
        if !self.carry.is_empty() {
            let end = rest
                .iter()
                .position(|b| *b == b'\n')
                .map_or(rest.len(), |e| e + 1);
            self.carry.extend_from_slice(&rest[..end]);
            rest = &rest[end..];
            if self.carry.ends_with(b"\n") {
                let carry = std::mem::take(&mut self.carry);
                self.lines(&carry, pulls);
            }
        }
        let whole = rest.iter().rposition(|b| *b == b'\n').map_or(0, |e| e + 1);
        self.lines(&rest[..whole], pulls);
        self.carry.extend_from_slice(&rest[whole..]);
        if self.carry.len() > LINE_BYTES {
            let kind = magic(&self.carry).filter(|_| self.line == 0);
            self.no_text(self.line + 1, kind);
        }
    }

    fn no_text(&mut self, line: u64, kind: Option<&'static str>) {
        self.tell(line, What::NotText(kind));
        self.over = true;
        self.carry.clear();
    }

    fn tell(&mut self, line: u64, what: What) {
        self.faults.tell(line, what);
    }

    /// Whole lines.
    fn lines(&mut self, bytes: &[u8], pulls: &mut Vec<RecordedPull>) {
        let mut at = 0;
        while at < bytes.len() && !self.over {
            if let Some((layout, wanted)) = &self.layout
                && let Some((values, next)) = wanted.quick(bytes, at, layout)
            {
                self.line += 1;
                self.row(values, pulls);
                at = next;
                continue;
            }
            let rest = &bytes[at..];
            let end = rest.iter().position(|b| *b == b'\n').unwrap_or(rest.len());
            self.line += 1;
            self.slow_line(&rest[..end], pulls);
            at += end + 1;
        }
    }

    /// A line that is no plain row.
    fn slow_line(&mut self, line: &[u8], pulls: &mut Vec<RecordedPull>) {
        if self.line == 1
            && let Some(kind) = magic(line)
        {
            return self.no_text(1, Some(kind));
        }
        if line.contains(&0) || line.len() > LINE_BYTES {
            return self.no_text(self.line, None);
        }
        match self.layout.take() {
            None => self.head_line(line, pulls),
            Some((layout, wanted)) => {
                let blank = line.iter().all(u8::is_ascii_whitespace);
                if names_columns(line, layout.delimiter, &self.rig) {
                    // A second heading: maybe other units from here on.
                    self.split.cut(pulls, &mut self.faults);
                    self.clock.running = false;
                    self.layout = Some((layout, wanted));
                    self.second_heading(line);
                    return;
                }
                let read = wanted.careful(line, &layout);
                self.layout = Some((layout, wanted));
                match read {
                    Ok(values) => self.row(values, pulls),
                    Err(_) if blank => {}
                    Err(_) if self.broken_off => self.tell(self.line, What::Truncated),
                    Err(what) => {
                        self.left_out += 1;
                        self.tell(self.line, what);
                    }
                }
            }
        }
    }

    fn head_line(&mut self, line: &[u8], pulls: &mut Vec<RecordedPull>) {
        let line = line.strip_prefix(b"\xef\xbb\xbf").unwrap_or(line);
        let line = line.strip_suffix(b"\r").unwrap_or(line);
        self.head.push(line.to_vec());
        if is_whole(&self.head) {
            match understand(&self.head, self.head_first, &self.rig) {
                Ok(head) => {
                    let wanted = Wanted::of(&head.layout);
                    self.layout = Some((head.layout, wanted));
                    self.sample.clone_from(&self.head[self.head.len() - 1]);
                    self.head_rows(head.first_row, pulls);
                }
                Err(faults) => self.not_understood(faults),
            }
        } else if self.head.len() >= HEAD_LINES {
            let controls = |b: &&u8| **b < 9;
            let binary = self.head.iter().flatten().filter(controls).count() > 0;
            self.tell(
                1,
                if binary {
                    What::NotText(None)
                } else {
                    What::NoNumbers
                },
            );
            self.over = true;
        }
    }

    /// What the columns hold is not known: nothing more is read.
    fn not_understood(&mut self, faults: Vec<Fault>) {
        let each = faults.into_iter();
        each.for_each(|fault| self.tell(fault.line, fault.what));
        self.over = true;
    }

    /// Rows that stand among the lines of the head.
    fn head_rows(&mut self, first: usize, pulls: &mut Vec<RecordedPull>) {
        let lines = std::mem::take(&mut self.head);
        let now = self.line;
        for (i, line) in lines.iter().enumerate().skip(first) {
            self.line = self.head_first + i as u64;
            self.slow_line(line, pulls);
        }
        self.line = now;
    }

    /// A heading in the middle: what it says counts from here on, and another unit is told. One that says less than the
    /// first and the same columns changes nothing; another one ends the reading.
    fn second_heading(&mut self, heading: &[u8]) {
        let Some((before, _)) = self.layout.clone() else {
            return;
        };
        let heading = heading.strip_suffix(b"\r").unwrap_or(heading);
        let mut lines = vec![heading.to_vec()];
        lines.resize(4, self.sample.clone());
        let found = understand(&lines, self.line, &self.rig);
        let head = match found {
            Ok(head) => head,
            Err(faults) => {
                let as_before = understand(&lines, self.line, &self.rig.with_units(before.units));
                let same = as_before.is_ok_and(|head| head.layout.columns == before.columns);
                if !same {
                    self.not_understood(faults);
                }
                return;
            }
        };
        for (k, role) in super::Role::ALL.into_iter().enumerate() {
            if let (Some(before), Some(after)) = (before.units[k], head.layout.units[k])
                && before != after
            {
                let mixed = What::MixedUnits {
                    role,
                    before,
                    after,
                };
                self.tell(self.line, mixed);
            }
        }
        let wanted = Wanted::of(&head.layout);
        self.layout = Some((head.layout, wanted));
    }

    /// A row of numbers, in kN, mm and s.
    #[inline]
    fn row(&mut self, mut values: [f64; 3], pulls: &mut Vec<RecordedPull>) {
        self.rows += 1;
        if self.rows > self.bounds.file_rows {
            let rows = self.bounds.file_rows;
            self.tell(self.line, What::TooManyRows(rows));
            self.over = true;
            return;
        }
        if values[2].is_nan() {
            values[2] = self.rows as f64 / self.rig.rate_hz.unwrap_or(1.0);
        }
        let time = values[2];
        let step = time - self.clock.last;
        let clock = &mut self.clock;
        if !clock.running {
            (clock.first, clock.running) = (time, true);
        } else if step < 0.0 {
            let anew = time <= clock.first + 2.0 * clock.usual;
            match anew {
                true => self.split.cut(pulls, &mut self.faults),
                false => {
                    self.split
                        .clock_jumps(self.line, -step, pulls, &mut self.faults);
                }
            }
        } else if let Some(longest) = clock.longest {
            if step > longest && self.split.in_pull() {
                let missing = ((step / clock.usual).round() as u64).saturating_sub(1);
                // Rows that were left out are told as that, and those that came while the clock stood are there.
                let there = self.left_out + clock.stood;
                if missing > there || there == 0 {
                    let dropped = missing.saturating_sub(there).max(1);
                    self.tell(self.line, What::Dropped(dropped));
                }
            }
        } else {
            clock.steps.push(step);
            if clock.steps.len() == STEPS {
                let mut steps = std::mem::take(&mut clock.steps);
                clock.usual = steps.iter().sum::<f64>() / STEPS as f64;
                steps.sort_unstable_by(f64::total_cmp);
                // A logger may round its time to more than a sample.
                let long = steps[STEPS * 9 / 10].max(steps[STEPS / 2]);
                clock.longest = Some(1.5 * long).filter(|l| *l > 0.0);
            }
        }
        self.clock.stood = if step == 0.0 { self.clock.stood + 1 } else { 0 };
        self.clock.last = time;
        self.left_out = 0;
        self.split.push(self.line, values, pulls, &mut self.faults);
    }

    /// The file is at its end.
    pub fn finish(mut self, pulls: &mut Vec<RecordedPull>) -> Told {
        if !self.carry.is_empty() && !self.over {
            let carry = std::mem::take(&mut self.carry);
            self.line += 1;
            // Of a last row that is no row, only the end of the file is to blame.
            self.broken_off = self.layout.is_some();
            self.slow_line(&carry, pulls);
        }
        if self.layout.is_none() && !self.over {
            let what = if self.line == 0 {
                What::NoPull
            } else {
                What::NoNumbers
            };
            self.tell(1, what);
        }
        self.split.finish(pulls, &mut self.faults);
        if self.layout.is_some() && self.split.pulls == 0 {
            self.tell(self.line, What::NoPull);
        }
        Told {
            layout: self.layout.map(|(layout, _)| layout),
            rows: self.rows,
            faults: self.faults.all(),
        }
    }
}

/// What a file is that begins like this, if it is known and no plain text.
fn magic(line: &[u8]) -> Option<&'static str> {
    let known: &[(&[u8], &str)] = &[
        (b"PK\x03\x04", "zip"),
        (b"PK\x05\x06", "zip"),
        (b"7z\xbc\xaf\x27\x1c", "7z"),
        (b"Rar!\x1a\x07", "rar"),
        (b"\x28\xb5\x2f\xfd", "zstd"),
        (b"\xfd7zXZ\0", "xz"),
        (b"%PDF", "pdf"),
        (b"\x1f\x8b", "gzip"),
        (b"\x89PNG", "png"),
        (b"\xff\xd8\xff", "jpeg"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
        (b"\xd0\xcf\x11\xe0", "ole"),
    ];
    let found = known.iter().find(|(begin, _)| line.starts_with(begin));
    found.map(|(_, name)| *name)
}
