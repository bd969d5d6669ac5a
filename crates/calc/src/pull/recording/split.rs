//! One pull after the other, told apart while the rows come in.
//!
//! A pull begins where the stroke leaves home before the force rises, and ends where the force is gone and the stroke
//! is home again. What is at rest between pulls is forgotten but for a short lead.

use super::RecordedPull;
use super::clock;
use super::fault::{Fault, What};
use super::level::level_top;
use super::saturation::flat_top;
use super::told::Faults;
use super::turn::{self, Between, Turn};

/// Rows from which rest is learnt: the zero, the noise, home.
const LEARN: usize = 16;
/// Rows of the running mean that is held against the thresholds.
const MEAN: usize = 4;
/// Rows kept before the stroke leaves home.
const LEAD: usize = 256;
/// Rows kept while the stroke is out without load.
const LEAD_MAX: usize = 1 << 17;
/// Rows at rest after a pull, and seconds.
const REST_ROWS: usize = 64;
const REST_S: f64 = 0.02;
/// Without return: a pull is over so long after the force is gone.
const STAYS_OUT_S: f64 = 5.0;
/// Home within so much, or so much of the travel.
pub(super) const HOME_MM: f64 = 0.3;
pub(super) const HOME_SHARE: f64 = 0.03;
/// A force that stands so many rows and so long, s, while the stroke never left home, is another zero.
const SHIFT_ROWS: usize = 64;
pub(super) const SHIFT_S: f64 = 0.1;
/// Without so much travel, mm, it was no pull.
const MOVED_MM: f64 = 0.5;
/// Loaded rows below which it was a knock.
const KNOCK: usize = 12;
/// A cell that is drawn so many times beyond what it bears reads no more: the unit is another one.
const BEYOND: f64 = 1.5;
/// No hand-held tool pulls so much, kN.
const TOOL_KN: f64 = 500.0;

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Learning,
    Rest,
    Pull,
    /// Over, but for what comes back; too long, and skipped until rest.
    Skipping,
}

/// The splitter.
pub(super) struct Split {
    state: State,
    buffer: RecordedPull,
    recent: [f64; MEAN],
    sum: f64,
    seen: usize,
    zero: f64,
    home: f64,
    on: f64,
    off: f64,
    /// Standard deviation of the noise, and of how many rows at rest it is known.
    noise: (f64, usize),
    sign: f64,
    loaded_rows: usize,
    unloaded_rows: usize,
    loaded_since: f64,
    unloaded_since: f64,
    home_rows: usize,
    home_since: f64,
    /// Of what is passed over: rows without load, and since when they are at home.
    rest_rows: usize,
    rest_since: f64,
    travel_max: f64,
    turn: Turn,
    last_travel: f64,
    start_kn: f64,
    zero_kn: Option<f64>,
    cell_end_kn: Option<f64>,
    /// What the cell bears, kN.
    cell_kn: Option<f64>,
    /// Of the rows in the buffer those before which lines are missing: which row of all, and how many lines.
    skipped: Vec<(usize, u64)>,
    rows_max: usize,
    first: bool,
    pub(super) pulls: u64,
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_unstable_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

impl Split {
    pub(super) fn new(rig: &super::Rig, rows_max: usize) -> Self {
        Self {
            state: State::Learning,
            buffer: RecordedPull::default(),
            recent: [0.0; MEAN],
            sum: 0.0,
            seen: 0,
            zero: 0.0,
            home: 0.0,
            on: 0.0,
            off: 0.0,
            noise: (0.0, 0),
            sign: 1.0,
            loaded_rows: 0,
            unloaded_rows: 0,
            loaded_since: 0.0,
            unloaded_since: 0.0,
            home_rows: 0,
            home_since: 0.0,
            rest_rows: 0,
            rest_since: 0.0,
            travel_max: 0.0,
            turn: Turn::none(0.0),
            last_travel: 0.0,
            start_kn: rig.start_kn.unwrap_or(0.1).abs(),
            zero_kn: rig.zero_kn,
            cell_end_kn: rig.cell_end_kn,
            cell_kn: rig.cell_end_kn.or(rig.cell_bears_kn),
            skipped: Vec::new(),
            rows_max,
            first: true,
            pulls: 0,
        }
    }

    /// Whether a pull is going on: not at home again yet.
    pub(super) fn in_pull(&self) -> bool {
        self.state == State::Pull && self.home_rows == 0
    }

    fn len(&self) -> usize {
        self.buffer.time_s.len()
    }

    /// Takes the next row.
    #[inline]
    pub(super) fn push(
        &mut self,
        line: u64,
        [force, stroke, time]: [f64; 3],
        pulls: &mut Vec<RecordedPull>,
        faults: &mut Faults,
    ) {
        if self.buffer.time_s.is_empty() {
            self.buffer.first_line = line;
        } else if line > self.buffer.last_line + 1 {
            let lines = line - self.buffer.last_line - 1;
            self.skipped.push((self.seen, lines));
        }
        if self.state != State::Skipping {
            self.buffer.time_s.push(time);
            self.buffer.stroke_mm.push(stroke);
            self.buffer.force_kn.push(force);
        }
        self.buffer.last_line = line;
        let slot = self.seen % MEAN;
        self.sum += force - self.recent[slot];
        self.recent[slot] = force;
        self.seen += 1;
        if self.seen.is_multiple_of(4096) {
            // Running sums gather rounding.
            self.sum = self.recent.iter().sum();
        }
        match self.state {
            State::Learning => {
                if self.len() == LEARN {
                    self.learn();
                    self.state = State::Rest;
                }
            }
            State::Rest => self.at_rest(stroke, faults),
            State::Pull => self.pulling(line, stroke, time, pulls, faults),
            State::Skipping => self.skipping(stroke, time),
        }
    }

    /// Passes over what is left of a pull, up to a rest from which the next one's zero can be read.
    fn skipping(&mut self, stroke: f64, time: f64) {
        let level = self.sign * (self.sum / MEAN as f64 - self.zero);
        let travel = (stroke - self.home).abs();
        if level > self.off {
            self.rest_rows = 0;
        } else {
            self.rest_rows += 1;
        }
        if self.rest_rows == 1 || travel >= HOME_MM {
            self.rest_since = time;
        }
        let rests = self.rest_rows >= turn::REST_ROWS && time - self.rest_since >= turn::REST_S;
        // A stroke that does not come home rests as well, some time.
        if rests || self.rest_rows > LEAD {
            self.restart();
        }
    }

    /// Zero, noise and home from the first rows.
    fn learn(&mut self) {
        let force = &self.buffer.force_kn;
        let steps: Vec<f64> = force.windows(2).map(|w| (w[1] - w[0]).abs()).collect();
        // Of normal noise the median step is 0.954 standard deviations.
        let noise = median(steps) / 0.954;
        let few = force.len().min(LEARN / 2);
        self.zero = self.zero_kn.unwrap_or(median(force[..few].to_vec()));
        self.home = median(self.buffer.stroke_mm[..few].to_vec());
        self.noise = (noise, LEARN);
        self.thresholds();
    }

    /// Where a pull begins and ends; with more room while the noise is hardly known.
    fn thresholds(&mut self) {
        let (noise, rows) = self.noise;
        let wide = if rows < LEAD { 10.0 } else { 6.0 };
        self.on = self.start_kn.max(wide * noise);
        self.off = (self.start_kn / 2.0).max(wide / 2.0 * noise);
    }

    /// Learns more of the noise from a row at rest.
    fn learn_noise(&mut self) {
        let [.., before, last] = self.buffer.force_kn[..] else {
            return;
        };
        let rows = (self.noise.1 + 1).min(4 * LEAD);
        // Of normal noise the mean step is 1.128 standard deviations.
        let step = (last - before).abs() / 1.128;
        self.noise = (self.noise.0 + (step - self.noise.0) / rows as f64, rows);
        if rows.is_multiple_of(64) {
            self.thresholds();
        }
    }

    fn at_rest(&mut self, stroke: f64, faults: &mut Faults) {
        let level = self.sum / MEAN as f64 - self.zero;
        let travel = (stroke - self.home).abs();
        if level.abs() > self.on {
            self.state = State::Pull;
            self.sign = level.signum();
            (self.loaded_rows, self.unloaded_rows) = (0, 0);
            self.travel_max = travel;
            self.last_travel = travel;
            self.turn = Turn::none(travel);
            self.cut_lead(faults);
        } else if travel < HOME_MM {
            if level.abs() < self.off && self.zero_kn.is_none() {
                self.zero += level / LEAD as f64;
            }
            self.learn_noise();
            if self.len() > 8 * LEAD {
                self.forget(self.len() - LEAD, faults);
            }
        } else if self.len() > 2 * LEAD_MAX {
            self.forget(self.len() - LEAD_MAX, faults);
        }
    }

    /// Keeps of the lead only what came shortly before the stroke left home.
    fn cut_lead(&mut self, faults: &mut Faults) {
        let stroke = &self.buffer.stroke_mm;
        let left = stroke
            .iter()
            .rposition(|s| (s - self.home).abs() < HOME_MM / 2.0);
        self.forget(left.unwrap_or(0).saturating_sub(LEAD), faults);
    }

    /// Line of row `at` of the buffer.
    fn line(&self, at: usize) -> u64 {
        let rows = self.len() - at;
        let row = self.seen - rows;
        let behind = self.skipped.iter().rev().take_while(|(r, _)| *r > row);
        let skipped: u64 = behind.map(|(_, lines)| lines).sum();
        self.buffer.last_line + 1 - rows as u64 - skipped
    }

    fn forget(&mut self, rows: usize, faults: &mut Faults) {
        self.buffer.first_line = self.line(rows);
        self.buffer.time_s.drain(..rows);
        self.buffer.stroke_mm.drain(..rows);
        self.buffer.force_kn.drain(..rows);
        let first = self.seen - self.len();
        self.skipped.retain(|(row, _)| *row > first);
        faults.forget_before(self.buffer.first_line);
    }

    fn pulling(
        &mut self,
        line: u64,
        stroke: f64,
        time: f64,
        pulls: &mut Vec<RecordedPull>,
        faults: &mut Faults,
    ) {
        let level = self.sign * (self.sum / MEAN as f64 - self.zero);
        let travel = (stroke - self.home).abs();
        let jumps_back = self.last_travel - travel > 0.3 * self.travel_max.max(3.0);
        self.last_travel = travel;
        self.turn.moved(travel, self.len());
        // Back on the way, without load, it is rows that are missing: whether a pull follows there is seen below.
        let on_the_way = self.unloaded_rows > 0 && !self.is_home(travel);
        if jumps_back && !on_the_way {
            // Another recording behind this one.
            if level > self.on && self.unloaded_rows == 0 {
                faults.tell(line, What::Merged);
            }
            self.close(self.len() - 1, pulls, faults);
            return;
        }
        if self.loaded_rows == 0 {
            self.loaded_since = time;
        }
        let stands = self.loaded_rows > SHIFT_ROWS && time - self.loaded_since > SHIFT_S;
        if stands && self.travel_max < HOME_MM && self.zero_kn.is_none() {
            let few = self.len() - LEARN..;
            self.zero = median(self.buffer.force_kn[few].to_vec());
            self.forget(self.len() - LEARN, faults);
            self.restart();
            return;
        }
        let still_loaded = level
            > if self.unloaded_rows == 0 {
                self.off
            } else {
                self.on
            };
        if self.is_home(travel) {
            let next = self.len();
            self.turn.is_home(travel, time, still_loaded, next);
        }
        if still_loaded {
            let behind = self.turn.behind(travel, self.travel_max);
            if let Some(Between::Nothing(at) | Between::Unsure(at)) = behind {
                faults.put(Fault {
                    line: self.line(at),
                    last_line: line,
                    what: What::Merged,
                });
            }
            match behind {
                Some(Between::Rest(at) | Between::Nothing(at)) => {
                    self.close(at, pulls, faults);
                    return;
                }
                // Told once.
                Some(Between::Unsure(_)) => self.turn = Turn::none(travel),
                None => {}
            }
            self.travel_max = self.travel_max.max(travel);
            self.loaded_rows += 1;
            (self.unloaded_rows, self.home_rows) = (0, 0);
        } else {
            if self.unloaded_rows == 0 {
                self.unloaded_since = time;
            }
            self.unloaded_rows += 1;
            let since = time - self.unloaded_since;
            let home = self.is_home(travel);
            let still = level.abs() < self.on;
            if !(home && still) {
                self.home_rows = 0;
            } else if self.home_rows == 0 {
                (self.home_rows, self.home_since) = (1, time);
            } else {
                self.home_rows += 1;
            }
            let rests = self.home_rows >= REST_ROWS && time - self.home_since >= REST_S;
            if rests || (still && since > STAYS_OUT_S) {
                // Half of the rest leads the next pull in; of a slow logger there are only a few rows of it.
                let lead = (REST_ROWS / 2).min(self.unloaded_rows / 2);
                self.close(self.len() - lead, pulls, faults);
                return;
            }
        }
        if self.len() >= self.rows_max {
            let rows = self.rows_max as u64;
            faults.tell(line, What::TooManyRows(rows));
            self.close(self.len(), pulls, faults);
            self.state = State::Skipping;
            (self.rest_rows, self.rest_since) = (0, time);
        }
    }

    fn is_home(&self, travel: f64) -> bool {
        travel < HOME_MM.max(HOME_SHARE * self.travel_max)
    }

    /// Hands over what stands before row `end` of the buffer and goes on with the rest.
    fn close(&mut self, end: usize, pulls: &mut Vec<RecordedPull>, faults: &mut Faults) {
        if self.loaded_rows >= KNOCK && self.travel_max > MOVED_MM {
            self.look_over(end, faults);
            self.pulls += 1;
            self.first = false;
            pulls.push(self.taken(end, faults));
        } else {
            self.forget(end, faults);
        }
        self.restart();
    }

    /// The pull before row `end` of the buffer, taken out of it.
    fn taken(&mut self, end: usize, faults: &mut Faults) -> RecordedPull {
        let last_line = match end {
            0 => self.buffer.first_line,
            _ => self.line(end - 1),
        };
        let tail = RecordedPull {
            first_line: self.line(end),
            last_line: self.buffer.last_line,
            time_s: self.buffer.time_s.split_off(end),
            stroke_mm: self.buffer.stroke_mm.split_off(end),
            force_kn: self.buffer.force_kn.split_off(end),
            ..RecordedPull::default()
        };
        let mut pull = std::mem::replace(&mut self.buffer, tail);
        pull.last_line = last_line;
        pull.zero_kn = self.zero_kn;
        pull.faults = faults.of_pull(pull.first_line, last_line);
        let first = self.seen - self.len();
        self.skipped.retain(|(row, _)| *row > first);
        pull
    }

    /// Back to rest; what stands in the buffer is the next one's lead.
    fn restart(&mut self) {
        self.state = State::Rest;
        (self.loaded_rows, self.unloaded_rows, self.home_rows) = (0, 0, 0);
    }

    /// What is wrong with the pull before row `end` of the buffer as a whole; a sign that is turned is turned back.
    fn look_over(&mut self, end: usize, faults: &mut Faults) {
        let first = self.buffer.first_line;
        let over = |values: &[f64], from: f64| {
            let ends = |(low, high): (f64, f64), x: &f64| (low.min(x - from), high.max(x - from));
            values.iter().fold((0.0, 0.0), ends)
        };
        let (zero, home) = (self.zero, self.home);
        let (pushed, pulled) = over(&self.buffer.force_kn[..end], zero);
        // What the cell gives, its zero still in it, says whether it is at its end.
        let reading = (zero + pulled).max(-zero - pushed);
        let beyond = reading > self.cell_kn.map_or(TOOL_KN, |cell| BEYOND * cell);
        if beyond {
            let far = |f: &f64| f.abs() >= reading * (1.0 - 1e-9);
            let at = self.buffer.force_kn[..end].iter().position(far);
            let what = What::Implausible {
                force_kn: reading,
                cell_kn: self.cell_kn,
            };
            faults.tell(self.line(at.unwrap_or(0)), what);
        }
        let turned = -pushed > 1.5 * pulled;
        if turned {
            let force = &mut self.buffer.force_kn[..end];
            force.iter_mut().for_each(|f| *f = 2.0 * zero - *f);
            faults.tell(first, What::ForceInverted);
        }
        for (begin, last) in clock::stands(&self.buffer.time_s[..end]) {
            faults.put(Fault {
                line: self.line(begin),
                last_line: self.line(last),
                what: What::TimeStands,
            });
        }
        let (back, out) = over(&self.buffer.stroke_mm[..end], home);
        if -back > 2.0 * out {
            let stroke = &mut self.buffer.stroke_mm[..end];
            stroke.iter_mut().for_each(|s| *s = 2.0 * home - *s);
            faults.tell(first, What::StrokeInverted);
        }
        let force = &self.buffer.force_kn[..end];
        let least = self.on.max(0.2 * pulled.max(-pushed));
        let loaded = |rows: &[f64]| (median(rows.to_vec()) - zero).abs() > least;
        if self.first && self.zero_kn.is_some() && loaded(&force[..end.min(LEARN / 2)]) {
            faults.tell(first, What::StartsOut);
        }
        // A zero learnt under load is none: the rest after shows another.
        let ends_elsewhere = loaded(&force[end.saturating_sub(REST_ROWS)..]);
        if self.first && self.zero_kn.is_none() && ends_elsewhere && self.unloaded_rows > 0 {
            faults.tell(first, What::StartsLoaded);
        }
        let cell_end = self.cell_end_kn.filter(|_| !beyond);
        let cell_end = cell_end.map(|kn| if turned { kn + 2.0 * zero } else { kn });
        if let Some((at_kn, samples)) = flat_top(force, cell_end) {
            let found = force.iter().position(|f| *f >= at_kn);
            let line = self.line(found.unwrap_or(0));
            faults.tell(line, What::Saturated { at_kn, samples });
        } else if let Some(top) =
            level_top(force, &self.buffer.stroke_mm[..end], zero, self.noise.0)
        {
            let (first, last) = top.samples;
            faults.put(Fault {
                line: self.line(first),
                last_line: self.line(last),
                what: What::MaybeCutOff(top.at_kn),
            });
        }
    }

    /// Whether the force is still there.
    fn is_held(&self) -> bool {
        self.sign * (self.sum / MEAN as f64 - self.zero) > self.on
    }

    /// The clock goes back by `by_s` before the row of `line`, and goes on from there: the recording is the same. Under load it
    /// shows neither zero nor home, so those stay; what is left of the pull is passed over.
    pub(super) fn clock_jumps(
        &mut self,
        line: u64,
        by_s: f64,
        pulls: &mut Vec<RecordedPull>,
        faults: &mut Faults,
    ) {
        let tell = |faults: &mut Faults| faults.tell(line, What::TimeBackwards(by_s));
        let breaks_off = self.in_pull();
        if breaks_off {
            tell(faults);
            if self.is_held() {
                faults.tell(self.buffer.last_line, What::Truncated);
            }
        }
        if self.state == State::Pull {
            self.close(self.len(), pulls, faults);
        }
        if breaks_off {
            self.state = State::Skipping;
        } else {
            tell(faults);
        }
        self.forget(self.len(), faults);
        // Whatever follows does not have it in its rows.
        faults.forget_before(line + 1);
        (self.rest_rows, self.rest_since) = (0, f64::INFINITY);
    }

    /// The clock begins anew, or a heading stands here: what comes is another recording.
    pub(super) fn cut(&mut self, pulls: &mut Vec<RecordedPull>, faults: &mut Faults) {
        if self.state == State::Pull {
            if self.is_held() {
                faults.tell(self.buffer.last_line, What::Truncated);
            }
            self.close(self.len(), pulls, faults);
        }
        self.forget(self.len(), faults);
        self.state = State::Learning;
        self.first = true;
    }

    /// The file is at its end.
    pub(super) fn finish(&mut self, pulls: &mut Vec<RecordedPull>, faults: &mut Faults) {
        if self.state == State::Learning && self.len() > KNOCK {
            self.learn();
        }
        if self.state == State::Pull {
            // A clip of one stretch ends loaded; so does a file whose first rows were loaded.
            if self.is_held() {
                faults.tell(self.buffer.last_line, What::Truncated);
            }
            self.close(self.len(), pulls, faults);
        }
    }
}
