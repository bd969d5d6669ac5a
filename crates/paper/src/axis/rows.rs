//! Breaking the axis into rows.

/// Least distance between two parts.
pub(super) const GAP: f64 = 11.0;

/// How many parts stand in each row, in order: as few rows as `room` allows, and those of like
/// width. `least` is the width that each part needs for its balloon.
pub(super) fn broken(lengths: &[f64], room: f64, least: f64) -> Vec<usize> {
    let fewest = greedy(lengths, room, least).len();
    let longest = lengths.iter().copied().fold(0.0, f64::max);
    let (mut narrow, mut wide) = (longest.min(room), room);
    // Thirty halvings leave less than a millionth of a unit.
    for _ in 0..30 {
        let middle = f64::midpoint(narrow, wide);
        if greedy(lengths, middle, least).len() <= fewest {
            wide = middle;
        } else {
            narrow = middle;
        }
    }
    greedy(lengths, wide, least)
}

fn greedy(lengths: &[f64], room: f64, least: f64) -> Vec<usize> {
    let mut rows: Vec<usize> = Vec::new();
    let mut used = 0.0;
    for length in lengths {
        let with = used + GAP + length;
        match rows.last_mut() {
            Some(count) if with <= room && (*count + 1) as f64 * least <= room => {
                *count += 1;
                used = with;
            }
            _ => {
                rows.push(1);
                used = *length;
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_alike() {
        assert_eq!(broken(&[50.0; 8], 300.0, 26.0), [4, 4]);
        assert_eq!(broken(&[50.0; 9], 300.0, 26.0), [5, 4]);
        assert_eq!(broken(&[], 300.0, 26.0), [] as [usize; 0]);
    }

    #[test]
    fn balloons_limit_a_row() {
        let rows = broken(&[5.0; 20], 260.0, 26.0);
        assert_eq!(rows.iter().sum::<usize>(), 20);
        assert!(rows.iter().all(|count| *count <= 10), "{rows:?}");
    }

    #[test]
    fn a_part_wider_than_the_row_stands_alone() {
        assert_eq!(broken(&[10.0, 400.0, 10.0], 300.0, 26.0), [1, 1, 1]);
    }
}
