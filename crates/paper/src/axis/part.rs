//! Each kind of part as a primitive, seen from the side and a little from the front.

use std::fmt::Write as _;

use calc::screw_stop::Hand;

use super::place::Placed;
use super::size::Drawn;
use super::{PartShape, PartState, ThreadTurn};
use crate::svg::{BRASS, DARK_BRASS, GREEN, INK, SOFT, escaped, n};

impl PartState {
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Plain => "is-plain",
            Self::Current => "is-current",
            Self::Removed => "is-removed",
            Self::Renewed => "is-renewed",
        }
    }
}

/// Neck of a collet, as a share of its head.
const NECK: f64 = 0.74;

/// Half the height of a part at its middle, where its leader begins.
pub(super) fn half_height(placed: &Placed) -> f64 {
    let radius = placed.drawn.diameter / 2.0;
    match placed.part.shape {
        PartShape::Collet => NECK * radius,
        _ => radius,
    }
}

/// Line and faces of a state.
struct Paint {
    line: &'static str,
    width: f64,
    dash: &'static str,
    body: &'static str,
    face: &'static str,
    bore: &'static str,
}

const fn paint(state: PartState) -> Paint {
    match state {
        PartState::Plain => Paint {
            line: INK,
            width: 1.2,
            dash: "",
            body: "#dfe6e7",
            face: "#f4f7f6",
            bore: "#aab8bc",
        },
        PartState::Current => Paint {
            line: DARK_BRASS,
            width: 2.2,
            dash: "",
            body: "#f0d893",
            face: "#faf0d0",
            bore: BRASS,
        },
        PartState::Removed => Paint {
            line: SOFT,
            width: 0.9,
            dash: r#" stroke-dasharray="4 3""#,
            body: "none",
            face: "none",
            bore: "none",
        },
        PartState::Renewed => Paint {
            line: GREEN,
            width: 2.2,
            dash: "",
            body: "#cfe4d6",
            face: "#eef6f0",
            bore: "#8dbb9c",
        },
    }
}

/// The part's box, and what it is painted with.
struct Sketch<'a> {
    svg: &'a mut String,
    x: f64,
    /// Height of the axis.
    axis: f64,
    drawn: Drawn,
    paint: Paint,
}

pub(super) fn draw(svg: &mut String, placed: &Placed, axis: f64, turn: Option<&ThreadTurn>) {
    let part = placed.part;
    let paint = paint(part.state);
    let number = if part.number.is_empty() {
        String::new()
    } else {
        format!(" ({})", part.number)
    };
    let _ = write!(
        svg,
        r#"<g class="ax-part {}" stroke="{}" stroke-width="{}" stroke-linejoin="round" stroke-linecap="round"{}><title>{}</title>"#,
        part.state.class(),
        paint.line,
        paint.width,
        paint.dash,
        escaped(&format!("{}: {}{number}", placed.number, part.name)),
    );
    let mut sketch = Sketch {
        svg: &mut *svg,
        x: placed.x,
        axis,
        drawn: placed.drawn,
        paint,
    };
    match part.shape {
        PartShape::Sleeve | PartShape::Ring => sketch.tube(),
        PartShape::Rod => sketch.rod(),
        PartShape::Collet => sketch.collet(),
        PartShape::Spring => sketch.spring(),
        PartShape::Nut => sketch.nut(),
        PartShape::Block => sketch.block(),
        PartShape::Key => sketch.key(),
    }
    let can_break = matches!(
        part.shape,
        PartShape::Sleeve | PartShape::Rod | PartShape::Block
    );
    if placed.drawn.broken && can_break {
        sketch.broken();
    }
    if let Some(turn) = turn.filter(|t| t.part == part.id) {
        sketch.thread(turn.hand);
    }
    svg.push_str("</g>");
}

impl Sketch<'_> {
    fn path(&mut self, class: &str, fill: &str, path: &str) {
        let _ = write!(
            self.svg,
            r#"<path class="{class}" d="{path}" fill="{fill}"/>"#
        );
    }

    /// Half the width of an end face, seen a little from the front.
    fn lean(&self, radius: f64) -> f64 {
        (0.26 * radius).min(0.3 * self.drawn.length)
    }

    /// A cylinder from `from` to `to`, with the rounding of its ends.
    fn cylinder(&mut self, from: f64, to: f64, radius: f64) {
        let lean = self.lean(radius);
        let path = format!(
            "M{a} {top}H{b}A{rx} {ry} 0 0 1 {b} {bottom}H{a}A{rx} {ry} 0 0 1 {a} {top}Z",
            a = n(from + lean),
            b = n(to - lean),
            top = n(self.axis - radius),
            bottom = n(self.axis + radius),
            rx = n(lean),
            ry = n(radius),
        );
        let body = self.paint.body;
        self.path("ax-body", body, &path);
    }

    /// The front face of a cylinder that begins at `from`, with its bore.
    fn face(&mut self, from: f64, radius: f64) {
        let lean = self.lean(radius);
        let x = from + lean;
        let (face, bore) = (self.paint.face, self.paint.bore);
        let ellipse = |class: &str, fill: &str, rx: f64, ry: f64, cy: f64| {
            format!(
                r#"<ellipse class="{class}" cx="{}" cy="{}" rx="{}" ry="{}" fill="{fill}"/>"#,
                n(x),
                n(cy),
                n(rx),
                n(ry)
            )
        };
        let outer = ellipse("ax-face", face, lean, radius, self.axis);
        self.svg.push_str(&outer);
        // Dashed, two rings so close would be a blot.
        let blot = self.paint.face == "none" && self.drawn.length < 14.0;
        if let Some(diameter) = self.drawn.bore.filter(|_| !blot) {
            let inner = (diameter / 2.0).min(radius - 1.0);
            let bore = ellipse("ax-bore", bore, lean * inner / radius, inner, self.axis);
            self.svg.push_str(&bore);
        }
    }

    fn ends(&self) -> (f64, f64, f64) {
        let radius = self.drawn.diameter / 2.0;
        (self.x, self.x + self.drawn.length, radius)
    }

    fn tube(&mut self) {
        let (from, to, radius) = self.ends();
        self.cylinder(from, to, radius);
        self.face(from, radius);
    }

    /// With a thinner end at the rear.
    fn rod(&mut self) {
        let (from, to, radius) = self.ends();
        let step = from + 0.68 * self.drawn.length;
        self.cylinder(step - 2.0 * self.lean(radius), to, 0.58 * radius);
        self.cylinder(from, step, radius);
        self.face(from, radius);
    }

    /// A head with slots between its fingers, and a thinner neck.
    fn collet(&mut self) {
        let (from, to, radius) = self.ends();
        let neck = NECK * radius;
        let (head, shoulder) = (
            from + 0.34 * self.drawn.length,
            from + 0.46 * self.drawn.length,
        );
        let (lean, end) = (self.lean(radius), self.lean(neck));
        let path = format!(
            "M{a} {top}H{h}L{s} {n1}H{b}A{ex} {ey} 0 0 1 {b} {n2}H{s}L{h} {bottom}H{a}A{rx} {ry} 0 0 1 {a} {top}Z",
            a = n(from + lean),
            h = n(head),
            s = n(shoulder),
            b = n(to - end),
            top = n(self.axis - radius),
            bottom = n(self.axis + radius),
            n1 = n(self.axis - neck),
            n2 = n(self.axis + neck),
            ex = n(end),
            ey = n(neck),
            rx = n(lean),
            ry = n(radius),
        );
        let body = self.paint.body;
        self.path("ax-body", body, &path);
        let slots = format!(
            "M{a} {u}H{b}M{a} {d}H{b}",
            a = n(from + 1.6 * lean),
            b = n(from + 0.78 * self.drawn.length),
            u = n(self.axis - 0.3 * radius),
            d = n(self.axis + 0.3 * radius),
        );
        self.path("ax-line", "none", &slots);
        self.face(from, radius);
    }

    /// Coils: those behind thin, those in front heavy.
    fn spring(&mut self) {
        let (from, to, radius) = self.ends();
        let coils = (self.drawn.length / 8.0).round().clamp(2.0, 9.0);
        let pitch = (to - from) / (coils + 0.5);
        let (top, bottom) = (n(self.axis - radius), n(self.axis + radius));
        let (mut front, mut behind) = (String::new(), String::new());
        // The bound of the clamp above makes the cast exact.
        for coil in 0..=coils as usize {
            let x = from + coil as f64 * pitch;
            let _ = write!(front, "M{} {top}L{} {bottom}", n(x), n(x + pitch / 2.0));
            if coil < coils as usize {
                let (low, next) = (n(x + pitch / 2.0), n(x + pitch));
                let _ = write!(behind, "M{low} {bottom}L{next} {top}");
            }
        }
        let heavy = self.paint.width + 1.0;
        let _ = write!(
            self.svg,
            r#"<path class="ax-coil" d="{behind}" fill="none" stroke-width="{}"/><path class="ax-coil" d="{front}" fill="none" stroke-width="{heavy}"/>"#,
            n(0.7 * self.paint.width),
        );
    }

    /// Seen on its flats, with chamfered ends.
    fn nut(&mut self) {
        let (from, to, radius) = self.ends();
        let chamfer = (0.16 * radius).min(0.25 * self.drawn.length);
        let path = format!(
            "M{a} {t}L{b} {top}H{c}L{d} {t}V{u}L{c} {bottom}H{b}L{a} {u}Z",
            a = n(from),
            b = n(from + chamfer),
            c = n(to - chamfer),
            d = n(to),
            t = n(self.axis - radius + chamfer),
            u = n(self.axis + radius - chamfer),
            top = n(self.axis - radius),
            bottom = n(self.axis + radius),
        );
        let body = self.paint.body;
        self.path("ax-body", body, &path);
        let flats = format!(
            "M{a} {u}H{b}M{a} {d}H{b}",
            a = n(from),
            b = n(to),
            u = n(self.axis - 0.42 * radius),
            d = n(self.axis + 0.42 * radius),
        );
        self.path("ax-line", "none", &flats);
    }

    /// A body with rounded corners.
    fn rounded(&mut self, corner: f64) {
        let (from, to, radius) = self.ends();
        let _ = write!(
            self.svg,
            r#"<rect class="ax-body" x="{}" y="{}" width="{}" height="{}" rx="{}" fill="{}"/>"#,
            n(from),
            n(self.axis - radius),
            n(to - from),
            n(2.0 * radius),
            n(corner),
            self.paint.body,
        );
    }

    /// A case with a lid line near each end.
    fn block(&mut self) {
        let (from, to, radius) = self.ends();
        let corner = (0.12 * radius).min(0.2 * self.drawn.length);
        self.rounded(corner);
        let lid = (0.16 * self.drawn.length).min(9.0);
        let lids = format!(
            "M{a} {t}V{u}M{b} {t}V{u}",
            a = n(from + lid),
            b = n(to - lid),
            t = n(self.axis - radius),
            u = n(self.axis + radius),
        );
        self.path("ax-line", "none", &lids);
    }

    /// A key with round ends and its top edge.
    fn key(&mut self) {
        let (_, _, radius) = self.ends();
        let round = radius.min(self.drawn.length / 2.0);
        self.rounded(round);
    }

    /// Two waves across a part that is longer than drawn.
    fn broken(&mut self) {
        let radius = self.drawn.diameter / 2.0;
        let mut waves = String::new();
        for shift in [0.5, 0.5 + 4.0 / self.drawn.length] {
            let x = self.x + shift * self.drawn.length;
            let _ = write!(
                waves,
                "M{} {}c3 {q} 3 {r} 0 {r}s-3 {p} 0 {r}",
                n(x),
                n(self.axis - radius),
                q = n(0.25 * radius),
                p = n(0.75 * radius),
                r = n(radius),
            );
        }
        self.path("ax-break", "none", &waves);
    }

    /// Flanks of a thread: a right-hand one leans like a backslash, a left-hand one the other way.
    fn thread(&mut self, hand: Hand) {
        let radius = 0.5 * self.drawn.diameter;
        let lean = match hand {
            Hand::Right => 2.0,
            Hand::Left => -2.0,
        };
        let count = ((0.4 * self.drawn.length) / 5.0).clamp(1.0, 5.0).floor();
        let middle = self.x + 0.62 * self.drawn.length;
        let mut flanks = String::new();
        for flank in 0..count as usize {
            let x = middle + (flank as f64 - (count - 1.0) / 2.0) * 5.0;
            let _ = write!(
                flanks,
                "M{} {}L{} {}",
                n(x - lean),
                n(self.axis - 0.6 * radius),
                n(x + lean),
                n(self.axis + 0.6 * radius),
            );
        }
        self.path("ax-thread", "none", &flanks);
    }
}
