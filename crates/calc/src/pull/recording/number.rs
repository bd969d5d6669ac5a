//! Decimal numbers, fast and exact.
//!
//! Digits go into a whole number and a power of ten. Both are exact where the whole number is below 2^53 and the power
//! not above 10^22, and then so is the one multiplication or division (Clinger 1990, from memory). Other numbers
//! go the slow way.

const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// The number that begins at `from`, and where it ends. With `comma`, a comma is a decimal mark, too.
#[inline]
pub(super) fn read(bytes: &[u8], from: usize, comma: bool) -> Option<(f64, usize)> {
    let mut i = from;
    let mut negative = false;
    if let Some(sign @ (b'-' | b'+')) = bytes.get(i) {
        negative = *sign == b'-';
        i += 1;
    }
    let mut whole: u64 = 0;
    let first = i;
    while let Some(digit) = bytes
        .get(i)
        .map(|b| b.wrapping_sub(b'0'))
        .filter(|d| *d < 10)
    {
        whole = whole.wrapping_mul(10).wrapping_add(u64::from(digit));
        i += 1;
    }
    let mut digits = i - first;
    let mut power: i32 = 0;
    if bytes
        .get(i)
        .is_some_and(|b| *b == b'.' || (comma && *b == b','))
    {
        i += 1;
        let begin = i;
        while let Some(digit) = bytes
            .get(i)
            .map(|b| b.wrapping_sub(b'0'))
            .filter(|d| *d < 10)
        {
            whole = whole.wrapping_mul(10).wrapping_add(u64::from(digit));
            i += 1;
        }
        digits += i - begin;
        power = -((i - begin).min(10_000) as i32);
    }
    if digits == 0 {
        return None;
    }
    if let Some(b'e' | b'E') = bytes.get(i) {
        (power, i) = exponent(bytes, i + 1, power)?;
    }
    let value = match power.unsigned_abs() {
        size @ 0..=22 if digits <= 18 && whole < (1 << 53) => {
            let scale = POWERS[size as usize];
            match power < 0 {
                true => whole as f64 / scale,
                false => whole as f64 * scale,
            }
        }
        _ => return slowly(&bytes[from..i]).map(|x| (x, i)),
    };
    Some((if negative { -value } else { value }, i))
}

/// The exponent at `i`, added to `power`, and where it ends.
fn exponent(bytes: &[u8], mut i: usize, power: i32) -> Option<(i32, usize)> {
    let negative = bytes.get(i) == Some(&b'-');
    if let Some(b'-' | b'+') = bytes.get(i) {
        i += 1;
    }
    let begin = i;
    let mut size: i32 = 0;
    while let Some(digit) = bytes.get(i).filter(|b| b.is_ascii_digit()) {
        size = (size * 10 + i32::from(digit - b'0')).min(10_000);
        i += 1;
    }
    let signed = if negative { -size } else { size };
    (i > begin).then_some((power + signed, i))
}

#[cold]
fn slowly(text: &[u8]) -> Option<f64> {
    let text = std::str::from_utf8(text).ok()?.replace(',', ".");
    text.parse::<f64>().ok().filter(|x| x.is_finite())
}

/// The number that `cell` is, and nothing else; quotes and spaces around it do not count.
pub(super) fn whole_cell(cell: &[u8], comma: bool) -> Option<f64> {
    let cell = trimmed(cell);
    let (value, end) = read(cell, 0, comma)?;
    (end == cell.len()).then_some(value)
}

/// Without spaces and quotes around it.
pub(super) fn trimmed(cell: &[u8]) -> &[u8] {
    let around = |b: &u8| b.is_ascii_whitespace() || *b == b'"';
    let begin = cell.iter().position(|b| !around(b)).unwrap_or(cell.len());
    let end = cell
        .iter()
        .rposition(|b| !around(b))
        .map_or(begin, |e| e + 1);
    &cell[begin..end.max(begin)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_and_what_is_none() {
        for (text, wanted) in [
            ("0", 0.0),
            ("-1.5", -1.5),
            ("+,5", 0.5),
            ("12,75", 12.75),
            ("1e-3", 1e-3),
            ("1.25E+2", 125.0),
            ("5.", 5.0),
            ("123456789012345678901234567890", 1.2345678901234568e29),
            ("\" 7 \"", 7.0),
        ] {
            assert_eq!(whole_cell(text.as_bytes(), true), Some(wanted), "{text}");
        }
        for text in [
            "", "-", ".", "e5", "1e", "1.2.3", "NaN", "inf", "1 2", "1e999", "x1",
        ] {
            assert_eq!(whole_cell(text.as_bytes(), true), None, "{text}");
        }
        assert_eq!(whole_cell(b"1,5", false), None);
    }

    proptest! {
        #[test]
        fn as_the_standard_library_reads_it(x in prop::num::f64::NORMAL, places in 0usize..12) {
            for text in [format!("{x:e}"), format!("{:.places$}", x.rem_euclid(1e6)), format!("{x}")] {
                let wanted: f64 = text.parse().expect("a number");
                prop_assert_eq!(whole_cell(text.as_bytes(), false), Some(wanted), "{}", text);
            }
        }

        #[test]
        fn nothing_makes_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..40)) {
            whole_cell(&bytes, true);
        }
    }
}
