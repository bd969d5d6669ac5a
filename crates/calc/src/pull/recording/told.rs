//! Faults as they are told: few enough to be named, and each with the pull in which it stands.

use super::fault::{Fault, What};

/// Gathers them: those of the file, and again those since the row with which the pull in hand begins.
pub(super) struct Faults {
    named: Vec<Fault>,
    /// How many are named, of the file and of each pull.
    most: usize,
    unnamed: u64,
    here: Vec<Fault>,
    /// Of those in hand that found no room: how many, and the last line.
    besides: Option<(u64, u64)>,
}

impl Faults {
    pub(super) fn new(most: usize) -> Self {
        Self {
            named: Vec::new(),
            most,
            unnamed: 0,
            here: Vec::new(),
            besides: None,
        }
    }

    /// Tells one. The same in neighbouring lines is one that goes on.
    pub(super) fn tell(&mut self, line: u64, what: What) {
        self.put(Fault::at(line, what));
    }

    fn put(&mut self, fault: Fault) {
        let goes_on = |list: &mut Vec<Fault>| list.last_mut().is_some_and(|f| f.goes_on(&fault));
        let (named, here) = (goes_on(&mut self.named), goes_on(&mut self.here));
        if !named {
            match self.named.len() < self.most {
                true => self.named.push(fault.clone()),
                false => self.unnamed += u64::from(!here),
            }
        }
        if !here {
            match self.here.len() < self.most.max(1) {
                true => self.here.push(fault),
                false => {
                    let count = self.besides.map_or(0, |(count, _)| count);
                    self.besides = Some((count + 1, fault.last_line));
                }
            }
        }
    }

    /// Rows before `first_line` are forgotten, and with them their faults.
    pub(super) fn forget_before(&mut self, first_line: u64) {
        self.here.retain(|fault| fault.last_line >= first_line);
        self.besides = self.besides.filter(|(_, last)| *last >= first_line);
    }

    /// Those of the pull that ends with `last_line`; what comes after it stays in hand, too.
    pub(super) fn of_pull(&mut self, first_line: u64, last_line: u64) -> Vec<Fault> {
        self.forget_before(first_line);
        let mut of_pull = self.here.clone();
        of_pull.sort_by_key(|fault| fault.line);
        if let Some((count, last)) = self.besides {
            let line = last.min(last_line);
            of_pull.push(Fault::at(line, What::More(count)));
        }
        self.forget_before(last_line + 1);
        of_pull
    }

    /// All of the file, in the order of the lines.
    pub(super) fn all(mut self) -> Vec<Fault> {
        self.named.sort_by_key(|fault| fault.line);
        self.named.dedup();
        if self.unnamed > 0 {
            let line = self.named.last().map_or(1, |fault| fault.line);
            self.named.push(Fault::at(line, What::More(self.unnamed)));
        }
        self.named
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_pull_has_its_own_and_the_file_the_first_of_all() {
        let mut faults = Faults::new(2);
        for line in [1, 3, 5, 12, 14, 16] {
            faults.tell(line, What::ShortRow);
        }
        let of_first = faults.of_pull(4, 11);
        // Three of four found no room, the last on line 16: it may be the first pull's and is the next one's.
        assert_eq!(of_first, [Fault::at(11, What::More(4))]);
        assert_eq!(faults.of_pull(12, 20), [Fault::at(16, What::More(4))]);
        faults.tell(25, What::Merged);
        assert_eq!(faults.of_pull(21, 30), [Fault::at(25, What::Merged)]);
        assert_eq!(faults.of_pull(31, 40), []);
        let all = faults.all();
        assert_eq!(all.len(), 3);
        assert_eq!(all[2].what, What::More(5));
    }
}
