//! The known word nearest to a mistyped one.

/// The candidate that differs least from `written`, if it differs little enough to be meant.
pub(super) fn nearest<'c>(
    written: &str,
    candidates: impl Iterator<Item = &'c str>,
) -> Option<&'c str> {
    // A longer text is no slip of the hand, and the distance costs length times length.
    if written.len() > 60 {
        return None;
    }
    let lower = written.to_lowercase();
    candidates
        .map(|candidate| (distance(&lower, &candidate.to_lowercase()), candidate))
        .filter(|(distance, candidate)| {
            // Two letters swapped are two changes, also in a short word.
            *distance < candidate.len() && *distance <= 2.max(1 + candidate.len() / 4)
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// Single-character changes that turn `a` into `b`.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let change = diagonal + usize::from(ca != *cb);
            diagonal = row[j + 1];
            row[j + 1] = change.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_counted_by_hand() {
        for (a, b, d) in [
            ("", "", 0),
            ("pitch", "pitch", 0),
            ("torqe", "torque", 1),
            ("kitten", "sitting", 3),
            ("", "abc", 3),
        ] {
            assert_eq!(distance(a, b), d, "{a} {b}");
            assert_eq!(distance(b, a), d, "{b} {a}");
        }
    }

    #[test]
    fn a_slip_is_recognised_and_a_stranger_is_not() {
        let keys = ["torque_Nm", "tolerance_Nm", "tool"];
        let near = |written| nearest(written, keys.iter().copied());
        assert_eq!(near("torqe_Nm"), Some("torque_Nm"));
        assert_eq!(near("torque_nm"), Some("torque_Nm"));
        assert_eq!(near("toll"), Some("tool"));
        assert_eq!(near("colour"), None);
        assert_eq!(near(&"x".repeat(10_000)), None);
    }
}
