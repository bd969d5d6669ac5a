//! A drawing read back as elements with attributes, and the places that its paths go through.

use std::collections::BTreeMap;

/// An element, in the order in which it is drawn.
#[derive(Debug)]
pub struct Element {
    pub name: String,
    attributes: BTreeMap<String, String>,
    /// The text that follows its opening tag.
    pub text: String,
}

impl Element {
    pub fn get(&self, name: &str) -> Option<&str> {
        self.attributes.get(name).map(String::as_str)
    }

    pub fn number(&self, name: &str) -> f64 {
        let text = self
            .get(name)
            .unwrap_or_else(|| panic!("{name} of {self:?}"));
        text.parse().unwrap_or_else(|_| panic!("{name}={text}"))
    }

    pub fn has_class(&self, class: &str) -> bool {
        self.get("class")
            .is_some_and(|c| c.split(' ').any(|c| c == class))
    }

    /// Left, top, right, bottom of a circle, an ellipse, a rectangle or a path; `None` of others.
    pub fn bounds(&self) -> Option<[f64; 4]> {
        match self.name.as_str() {
            "circle" | "ellipse" => {
                let (cx, cy) = (self.number("cx"), self.number("cy"));
                let is_circle = self.name == "circle";
                let (rx, ry) = if is_circle { ("r", "r") } else { ("rx", "ry") };
                let (rx, ry) = (self.number(rx), self.number(ry));
                Some([cx - rx, cy - ry, cx + rx, cy + ry])
            }
            "rect" => {
                let (x, y) = (self.number("x"), self.number("y"));
                Some([x, y, x + self.number("width"), y + self.number("height")])
            }
            "path" => {
                let points = points(self.get("d")?);
                let start = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
                Some(points.iter().fold(start, |[l, t, r, b], (x, y)| {
                    [l.min(*x), t.min(*y), r.max(*x), b.max(*y)]
                }))
            }
            _ => None,
        }
    }
}

/// All elements. Fails on what is not well formed.
pub fn elements(svg: &str) -> Vec<Element> {
    let mut open = Vec::new();
    let mut found = Vec::new();
    for piece in svg.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').expect("a tag ends");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "tags close in order");
            continue;
        }
        let is_whole = tag.ends_with('/');
        let tag = tag.trim_end_matches('/');
        let (name, rest) = tag.split_once(' ').unwrap_or((tag, ""));
        if !is_whole {
            open.push(name.to_owned());
        }
        let mut attributes = BTreeMap::new();
        let mut rest = rest.trim();
        while let Some((key, after)) = rest.split_once("=\"") {
            let (value, next) = after.split_once('"').expect("a value ends");
            let twice = attributes.insert(key.trim().to_owned(), value.to_owned());
            assert!(twice.is_none(), "{key} stands twice in {tag}");
            rest = next;
        }
        assert!(rest.trim().is_empty(), "{rest} in {tag}");
        found.push(Element {
            name: name.to_owned(),
            attributes,
            text: text.to_owned(),
        });
    }
    assert!(open.is_empty(), "{open:?} stay open");
    found
}

/// The places that a path names: ends and control points.
pub fn points(path: &str) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    let (mut x, mut y) = (0.0, 0.0);
    for (command, numbers) in commands(path) {
        match command {
            'M' | 'L' => {
                for pair in numbers.chunks(2) {
                    (x, y) = (pair[0], pair[1]);
                    found.push((x, y));
                }
            }
            'C' | 'S' | 'Q' => {
                let curve: Vec<_> = numbers.chunks(2).map(|p| (p[0], p[1])).collect();
                (x, y) = *curve.last().expect("a curve has an end");
                found.extend(curve);
            }
            'H' => {
                x = numbers[0];
                found.push((x, y));
            }
            'V' => {
                y = numbers[0];
                found.push((x, y));
            }
            'A' => {
                (x, y) = (numbers[5], numbers[6]);
                found.push((x, y));
            }
            'l' | 'm' => {
                (x, y) = (x + numbers[0], y + numbers[1]);
                found.push((x, y));
            }
            'h' => {
                x += numbers[0];
                found.push((x, y));
            }
            'c' | 's' => {
                let curve: Vec<_> = numbers.chunks(2).map(|p| (x + p[0], y + p[1])).collect();
                (x, y) = *curve.last().expect("a curve has an end");
                found.extend(curve);
            }
            'Z' | 'z' => {}
            other => panic!("{other} in {path}"),
        }
    }
    found
}

fn commands(path: &str) -> Vec<(char, Vec<f64>)> {
    let mut found: Vec<(char, String)> = Vec::new();
    for c in path.chars() {
        if c.is_alphabetic() {
            found.push((c, String::new()));
        } else {
            let numbers = &mut found.last_mut().expect("a path begins with a command").1;
            if c == '-' {
                numbers.push(' ');
            }
            numbers.push(c);
        }
    }
    let parsed = |text: String| {
        let numbers = text.split([' ', ',']).filter(|t| !t.is_empty());
        numbers.map(|t| t.parse().expect("a number")).collect()
    };
    found
        .into_iter()
        .map(|(c, text)| (c, parsed(text)))
        .collect()
}
