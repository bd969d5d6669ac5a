//! The name that was probably meant.

/// The one of `names` nearest to `typed`, if it is near at all.
pub fn nearest<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let longest = typed.chars().count().min(LONGEST);
    let typed: Vec<char> = typed.to_lowercase().chars().take(LONGEST).collect();
    names
        .into_iter()
        .map(|name| (distance(&typed, name), name))
        .min()
        .filter(|(far, _)| *far <= (longest / 3).max(1))
        .map(|(_, name)| name)
}

/// No name is longer; more of what was typed is not looked at.
const LONGEST: usize = 80;

/// How many letters must be put in, left out or changed (Levenshtein).
fn distance(typed: &[char], name: &str) -> usize {
    let mut row: Vec<usize> = (0..=typed.len()).collect();
    for (i, c) in name.to_lowercase().chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, t) in typed.iter().enumerate() {
            let changed = diagonal + usize::from(c != *t);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[typed.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_understood_and_strangers_are_not() {
        let names = ["torque-adapter", "battery-energy"];
        assert_eq!(nearest("torque-adaptor", names), Some("torque-adapter"));
        assert_eq!(nearest("Torque-Adapter", names), Some("torque-adapter"));
        assert_eq!(nearest("baterry-enrgy", names), Some("battery-energy"));
        assert_eq!(nearest("weibull-fit", names), None);
        assert_eq!(nearest("", names), None);
        assert_eq!(nearest("x", []), None);
    }
}
