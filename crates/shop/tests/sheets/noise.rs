//! Whatever stands in a file, the reader answers.

use proptest::prelude::*;
use shop::sheet;

use crate::demo_files;

/// Reads and looks at what came: no panic, and mistakes that lie in the file.
fn read(text: &str) {
    if let Err(mistakes) = sheet::read("noise.toml", text) {
        assert!(!mistakes.is_empty(), "a refusal has a reason");
        let lines = text.lines().count().max(1);
        for mistake in mistakes {
            assert!((1..=lines).contains(&mistake.line), "{mistake:?}");
            assert!(mistake.value.chars().count() <= 48, "{mistake:?}");
        }
    }
}

/// Pieces that mean something to the reader.
fn piece() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("[[part]]\n".to_owned()),
        Just("[adjuster]\n".to_owned()),
        Just("hand = \"left\"\n".to_owned()),
        Just("mm_to_turns = [[1, 2], [3]]\n".to_owned()),
        Just("lower = 1e400\n".to_owned()),
        Just("due = 0000-01-01\n".to_owned()),
        Just("count = 0xFFFFFFFFFFFFFFFFFF\n".to_owned()),
        Just("= [{[{".to_owned()),
        Just("\"\"\"".to_owned()),
        "[a-z_]{1,12} = [0-9.e-]{1,8}\n",
    ]
}

proptest! {
    #[test]
    fn any_text(text in any::<String>()) {
        read(&text);
    }

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        read(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn pieces_of_sheets(kind in 0..6usize, pieces in prop::collection::vec(piece(), 0..20)) {
        let kind = shop::sheet::Kind::ALL[kind].key();
        read(&format!("sheet = \"{kind}\"\n{}", pieces.concat()));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn demo_sheets_with_a_piece_cut_out_and_another_put_in(
        file in any::<prop::sample::Index>(),
        at in any::<prop::sample::Index>(),
        gone in 0..60usize,
        put in prop_oneof![piece(), "\\PC{0,12}", "[0-9.,\"\\[\\]{}=\n-]{0,6}"],
    ) {
        let files = demo_files();
        let chars: Vec<char> = file.get(&files).1.chars().collect();
        let start = at.index(chars.len());
        let end = (start + gone).min(chars.len());
        let text: String = chars[..start].iter().copied().chain(put.chars()).chain(chars[end..].iter().copied()).collect();
        read(&text);
    }

    #[test]
    fn demo_sheets_with_a_line_gone(
        file in any::<prop::sample::Index>(),
        at in any::<prop::sample::Index>(),
    ) {
        let files = demo_files();
        let lines: Vec<&str> = file.get(&files).1.lines().collect();
        let gone = at.index(lines.len());
        let kept: Vec<&str> = lines.iter().enumerate().filter(|(i, _)| *i != gone).map(|(_, l)| *l).collect();
        read(&kept.join("\n"));
    }
}
