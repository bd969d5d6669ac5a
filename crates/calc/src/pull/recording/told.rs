//! Faults as they are told: few enough to be named, and each with the pull in which it stands.

use super::fault::{FEW_MISSING, Fault, What};
use super::left_out::LeftOut;

/// Gathers them: those of the file, and again those since the row with which the pull in hand begins.
pub(super) struct Faults {
    of_file: Named,
    here: Named,
    /// Rows left out or missing since then: many short runs hide as much as a long one.
    left_out: LeftOut,
}

/// So many by name, the rest by their number. One that spoils a pull is never left out for one that does not.
#[derive(Clone)]
struct Named {
    list: Vec<Fault>,
    most: usize,
    /// Whether one of the list may give way to one that spoils.
    gives_way: bool,
    others: Option<Others>,
}

/// Faults that found no room.
#[derive(Clone, Copy)]
struct Others {
    count: u64,
    last_line: u64,
    /// Last line of one that spoils.
    spoiling: Option<u64>,
}

impl Named {
    fn new(most: usize) -> Self {
        Self {
            list: Vec::new(),
            most,
            gives_way: false,
            others: None,
        }
    }

    /// Takes `fault` in, if it goes on what was told last.
    fn goes_on(&mut self, fault: &Fault) -> bool {
        self.list.last_mut().is_some_and(|f| f.goes_on(fault))
    }

    fn put(&mut self, fault: Fault) {
        if self.list.len() < self.most {
            self.gives_way |= !fault.spoils();
            self.list.push(fault);
            return;
        }
        if !(self.gives_way && fault.spoils()) {
            return self.leave_out(&fault);
        }
        match self.list.iter().rposition(|f| !f.spoils()) {
            Some(at) => {
                let gives_way = self.list.remove(at);
                self.leave_out(&gives_way);
                self.list.push(fault);
            }
            None => {
                self.gives_way = false;
                self.leave_out(&fault);
            }
        }
    }

    fn leave_out(&mut self, fault: &Fault) {
        let before = self.others;
        let spoiling = fault.spoils().then_some(fault.last_line);
        self.others = Some(Others {
            count: before.map_or(0, |others| others.count) + 1,
            last_line: before.map_or(0, |o| o.last_line).max(fault.last_line),
            spoiling: spoiling.max(before.and_then(|others| others.spoiling)),
        });
    }

    fn forget_before(&mut self, line: u64) {
        self.list.retain(|fault| fault.last_line >= line);
        self.others = self.others.filter(|others| others.last_line >= line);
        if let Some(others) = &mut self.others {
            others.spoiling = others.spoiling.filter(|last| *last >= line);
        }
    }

    /// In the order of the lines; of those left out, their number at the line that `at` makes of their last.
    fn told(mut self, at: impl Fn(u64) -> u64) -> Vec<Fault> {
        self.list.sort_by_key(|fault| fault.line);
        self.list.dedup();
        if let Some(others) = self.others {
            let what = What::More {
                count: others.count,
                spoils: others.spoiling.is_some(),
            };
            self.list.push(Fault::at(at(others.last_line), what));
        }
        self.list
    }
}

impl Faults {
    pub(super) fn new(most: usize) -> Self {
        Self {
            of_file: Named::new(most),
            here: Named::new(most.max(1)),
            left_out: LeftOut::default(),
        }
    }

    /// Tells one. The same in neighbouring lines is one that goes on.
    pub(super) fn tell(&mut self, line: u64, what: What) {
        self.put(Fault::at(line, what));
    }

    /// Tells one.
    pub(super) fn put(&mut self, fault: Fault) {
        self.left_out.add(fault.line, fault.what.rows_left_out());
        let (named, here) = (self.of_file.goes_on(&fault), self.here.goes_on(&fault));
        // One that goes on in hand is counted already where it found no room.
        if !named && (!here || self.of_file.list.len() < self.of_file.most) {
            self.of_file.put(fault.clone());
        }
        if !here {
            self.here.put(fault);
        }
    }

    /// Rows before `first_line` are forgotten, and with them their faults.
    pub(super) fn forget_before(&mut self, first_line: u64) {
        self.here.forget_before(first_line);
        self.left_out.forget_before(first_line);
    }

    /// Those of the pull that ends with `last_line`; what comes after it stays in hand, too.
    pub(super) fn of_pull(&mut self, first_line: u64, last_line: u64) -> Vec<Fault> {
        self.forget_before(first_line);
        let mut of_pull = self.here.clone();
        if let Some(in_all) = self.left_out.within(first_line, last_line)
            && in_all.rows > FEW_MISSING
            && !of_pull.list.iter().any(Fault::spoils)
        {
            let fault = Fault {
                line: in_all.line,
                last_line: in_all.last_line,
                what: What::LeftOut(in_all.rows),
            };
            self.of_file.put(fault.clone());
            of_pull.put(fault);
        }
        self.forget_before(last_line + 1);
        of_pull.told(|last| last.min(last_line))
    }

    /// All of the file, in the order of the lines.
    pub(super) fn all(self) -> Vec<Fault> {
        let lines = self.of_file.list.iter().map(|fault| fault.line);
        let last = lines.max().unwrap_or(1);
        self.of_file.told(|_| last)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn more(count: u64) -> What {
        let spoils = false;
        What::More { count, spoils }
    }

    #[test]
    fn each_pull_has_its_own_and_the_file_the_first_of_all() {
        let mut faults = Faults::new(2);
        for line in [1, 3, 5, 12, 14, 16] {
            faults.tell(line, What::ShortRow);
        }
        let of_first = faults.of_pull(4, 11);
        // Three of four found no room, the last on line 16: it may be the first pull's and is the next one's.
        assert_eq!(of_first, [Fault::at(11, more(4))]);
        assert_eq!(faults.of_pull(12, 20), [Fault::at(16, more(4))]);
        faults.tell(25, What::Merged);
        assert_eq!(faults.of_pull(21, 30), [Fault::at(25, What::Merged)]);
        assert_eq!(faults.of_pull(31, 40), []);
        let all = faults.all();
        // The one that spoils has its place.
        assert_eq!(all[..2].iter().filter(|f| f.spoils()).count(), 1);
        assert_eq!(all[2..], [Fault::at(25, more(5))]);
    }

    #[test]
    fn what_spoils_is_told_however_much_was_told_before() {
        let mut faults = Faults::new(3);
        // Far enough apart that what is left out here does not spoil by itself.
        (1..=3).for_each(|i| faults.tell(2 * i, What::ShortRow));
        (0..5).for_each(|i| faults.tell(100 + i, What::ForceInverted));
        faults.tell(110, What::Truncated);
        let of_pull = faults.of_pull(1, 120);
        assert_eq!(of_pull.len(), 4);
        assert!(of_pull[..3].contains(&Fault::at(110, What::Truncated)));
        assert_eq!(of_pull[3].what, more(6));
        assert!(faults.all().contains(&Fault::at(110, What::Truncated)));
    }

    #[test]
    fn what_found_no_room_still_says_that_it_spoils_and_whose_it_is() {
        let mut faults = Faults::new(2);
        for line in [10, 20, 30] {
            faults.tell(line, What::Merged);
        }
        let spoils = |count| What::More {
            count,
            spoils: true,
        };
        // Both named ones are the first pull's, the third stands behind it.
        assert_eq!(
            faults.of_pull(1, 25).last().map(|f| &f.what),
            Some(&spoils(1))
        );
        assert_eq!(faults.of_pull(26, 40), [Fault::at(30, spoils(1))]);
        // Another that does not spoil goes on with that number, not with the word.
        faults.tell(45, What::ForceInverted);
        assert!(!faults.of_pull(41, 50).iter().any(Fault::spoils));
    }

    #[test]
    fn short_runs_count_together_within_their_pull() {
        let mut faults = Faults::new(100);
        let at_three = [10, 20, 30];
        at_three
            .iter()
            .for_each(|line| faults.tell(*line, What::ShortRow));
        faults.tell(60, What::Dropped(3));
        let of_first = faults.of_pull(1, 40);
        assert!(!of_first.iter().any(Fault::spoils), "{of_first:?}");
        faults.tell(70, What::ShortRow);
        let of_second = faults.of_pull(41, 80);
        let wanted = Fault {
            line: 60,
            last_line: 70,
            what: What::LeftOut(4),
        };
        assert!(
            of_second.contains(&wanted) && wanted.spoils(),
            "{of_second:?}"
        );
        assert!(faults.all().contains(&wanted));
    }
}
