//! Names of files as they are sent: kept to be read, never to be a path.

/// Most letters of a name.
const MOST: usize = 120;

/// `name` without folders, control signs and signs that turn the direction of writing, and not too
/// long. Its ending stays.
pub(crate) fn clean(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let kept: String = last.chars().filter(|c| is_plain(*c)).collect();
    let kept = kept.trim().trim_start_matches('.').trim();
    if kept.is_empty() {
        return "file".to_owned();
    }
    let length = kept.chars().count();
    if length <= MOST {
        return kept.to_owned();
    }
    let ending = kept.rfind('.').map_or("", |at| &kept[at..]);
    let ending = if ending.chars().count() > 12 {
        ""
    } else {
        ending
    };
    let start = MOST - ending.chars().count();
    let start: String = kept.chars().take(start).collect();
    format!("{start}{ending}")
}

/// What follows the last point, in small letters; empty if there is none.
pub(crate) fn ending(name: &str) -> String {
    name.rsplit_once('.')
        .map(|(_, ending)| ending.to_lowercase())
        .unwrap_or_default()
}

/// Not a control sign, nor one of those that are not seen: with them a name can read other than it
/// is.
fn is_plain(c: char) -> bool {
    let unseen = matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{ad}');
    !c.is_control() && !unseen
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_no_paths_and_read_as_they_are() {
        for (sent, kept) in [
            ("Collet 3.JPG", "Collet 3.JPG"),
            ("../../etc/passwd", "passwd"),
            ("C:\\photos\\a.png", "a.png"),
            ("a\r\nb\0.pdf", "ab.pdf"),
            ("cracked\u{202e}gpj.exe", "crackedgpj.exe"),
            (" .. ", "file"),
            ("..hidden", "hidden"),
            ("", "file"),
            ("naïve ½.csv", "naïve ½.csv"),
        ] {
            assert_eq!(clean(sent), kept, "{sent:?}");
        }
    }

    #[test]
    fn a_long_name_keeps_its_ending() {
        let name = clean(&format!("{}.jpeg", "é".repeat(400)));
        assert_eq!(name.chars().count(), MOST);
        assert!(name.ends_with("é.jpeg"));
        assert_eq!(clean(&"x".repeat(400)).len(), MOST);
        assert_eq!(ending("A.b.JPG"), "jpg");
        assert_eq!(ending("none"), "");
    }
}
