//! A PDF read back with the poppler tools, as a reader would see it.

use std::fs;
use std::path::Path;
use std::process::Command;

/// What a document says.
pub struct Read {
    /// Its text, with runs of white space as one space.
    pub text: String,
    /// The text of each page.
    pub pages: Vec<String>,
}

impl Read {
    /// Fails unless each of `parts` stands in the text.
    pub fn says(&self, parts: &[&str]) {
        for part in parts {
            assert!(self.text.contains(part), "missing: {part}\n{}", self.text);
        }
    }
}

/// Reads `bytes` back; `name` keeps the files of tests that run side by side apart.
pub fn read(name: &str, bytes: &[u8]) -> Read {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    fs::write(&path, bytes).expect("temporary folder takes a file");
    let told = Command::new("pdftotext")
        .args(["-raw".as_ref(), path.as_os_str(), "-".as_ref()])
        .output()
        .expect("pdftotext of poppler-utils is installed");
    assert!(
        told.status.success(),
        "{}",
        String::from_utf8_lossy(&told.stderr)
    );
    let raw = String::from_utf8(told.stdout).expect("pdftotext writes UTF-8");
    let pages: Vec<String> = raw
        .trim_end_matches('\u{c}')
        .split('\u{c}')
        .map(flat)
        .collect();
    let read = Read {
        text: flat(&raw),
        pages,
    };
    assert!(!read.text.contains('⟦'), "a text is missing\n{}", read.text);
    read
}

fn flat(text: &str) -> String {
    let visible = text.replace('\u{200b}', "");
    visible.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A piece of a page as dots.
pub struct Raster {
    width: usize,
    dots: Vec<[u8; 3]>,
    /// Millimetres to a dot.
    dot_mm: f64,
}

/// Where a colour is found, mm from the piece's top left corner.
#[derive(Debug)]
pub struct Extents {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl Raster {
    const DOTS_PER_INCH: f64 = 600.0;

    /// The piece at `(left, top)` of `page` with `(width, height)`, mm.
    pub fn of(name: &str, bytes: &[u8], page: u32, piece: (f64, f64, f64, f64)) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
        fs::write(&path, bytes).expect("temporary folder takes a file");
        let dots = |mm: f64| format!("{:.0}", mm / 25.4 * Self::DOTS_PER_INCH);
        let (page, resolution) = (page.to_string(), Self::DOTS_PER_INCH.to_string());
        let (x, y, w, h) = (dots(piece.0), dots(piece.1), dots(piece.2), dots(piece.3));
        let drawn = Command::new("pdftoppm")
            .args(["-r", &resolution, "-f", &page, "-l", &page])
            .args(["-aa", "no", "-aaVector", "no"])
            .args(["-x", &x, "-y", &y, "-W", &w, "-H", &h])
            .arg(&path)
            .output()
            .expect("pdftoppm of poppler-utils is installed");
        Self::read(&drawn.stdout)
    }

    /// A portable pixmap: three numbers in text, then the dots.
    fn read(pixmap: &[u8]) -> Self {
        let mut at = 0;
        let mut words = Vec::new();
        while words.len() < 4 {
            let end = at
                + pixmap[at..]
                    .iter()
                    .position(u8::is_ascii_whitespace)
                    .expect("a head");
            words.push(String::from_utf8_lossy(&pixmap[at..end]).into_owned());
            at = end + 1;
        }
        assert_eq!(words[0], "P6");
        let (dots, _) = pixmap[at..].as_chunks::<3>();
        Self {
            width: words[1].parse().expect("a width"),
            dots: dots.to_vec(),
            dot_mm: 25.4 / Self::DOTS_PER_INCH,
        }
    }

    pub fn width(&self) -> usize {
        self.width
    }

    pub fn height(&self) -> usize {
        self.dots.len() / self.width
    }

    /// How bright a dot is.
    pub fn grey(&self, x: usize, y: usize) -> u8 {
        let dot = self.dots[y * self.width + x].map(u32::from);
        u8::try_from(dot.iter().sum::<u32>() / 3).expect("a mean of bytes is a byte")
    }

    /// Column and row of every dot of `colour`, such as `#5aa877`.
    fn places(&self, colour: &str) -> impl Iterator<Item = (usize, usize)> {
        let part = |at: usize| u8::from_str_radix(&colour[at..at + 2], 16).expect("a colour");
        let wanted = [part(1), part(3), part(5)];
        let dots = self.dots.iter().enumerate();
        let width = self.width;
        dots.filter(move |(_, dot)| **dot == wanted)
            .map(move |(at, _)| (at % width, at / width))
    }

    /// Where `colour` is found.
    pub fn extents(&self, colour: &str) -> Option<Extents> {
        let (mut found, mut is_any) = ([usize::MAX, 0, usize::MAX, 0], false);
        for (x, y) in self.places(colour) {
            found = [
                found[0].min(x),
                found[1].max(x + 1),
                found[2].min(y),
                found[3].max(y + 1),
            ];
            is_any = true;
        }
        let [left, right, top, bottom] = found.map(|dots| dots as f64 * self.dot_mm);
        is_any.then_some(Extents {
            left,
            right,
            top,
            bottom,
        })
    }

    /// The widest stretch of a row that lies between two dots of `colour`, in the row half way down.
    pub fn gap(&self, colour: &str) -> Option<f64> {
        let extents = self.extents(colour)?;
        let row = (f64::midpoint(extents.top, extents.bottom) / self.dot_mm) as usize;
        let columns: Vec<usize> = self
            .places(colour)
            .filter(|p| p.1 == row)
            .map(|p| p.0)
            .collect();
        let gaps = columns.windows(2).map(|two| two[1] - two[0] - 1);
        gaps.max().map(|dots| dots as f64 * self.dot_mm)
    }
}
