//! The code as black squares.

use std::fmt::Write as _;

use fast_qr::{ECL, QRBuilder, QRCode};

/// White modules that a scanner needs around a code (ISO/IEC 18004).
const QUIET: usize = 4;

/// The modules of a QR code.
pub(super) struct Modules(QRCode);

impl Modules {
    /// Bears a quarter of it being scratched or greased over, or as much as the length of `text`
    /// leaves room for; `None` if there is no room at all.
    pub(super) fn of(text: &str) -> Option<Self> {
        [ECL::Q, ECL::M, ECL::L]
            .into_iter()
            .find_map(|level| QRBuilder::new(text).ecl(level).build().ok())
            .map(Self)
    }

    /// The code alone as an SVG element, with its quiet zone.
    pub(super) fn svg(&self) -> String {
        let mut svg =
            String::from(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">"#);
        self.draw(&mut svg, 100.0);
        svg.push_str("</svg>");
        svg
    }

    /// Draws the code with its quiet zone in a square of `side` at the origin.
    pub(super) fn draw(&self, svg: &mut String, side: f64) {
        let module = side / (self.0.size + 2 * QUIET) as f64;
        let mut path = String::new();
        for row in 0..self.0.size {
            let dark = |column: usize| self.0[row][column].value();
            let mut column = 0;
            while column < self.0.size {
                let run = (column..self.0.size).take_while(|c| dark(*c)).count();
                if run > 0 {
                    let _ = write!(path, "M{} {}h{run}v1h-{run}z", column + QUIET, row + QUIET);
                }
                column += run.max(1);
            }
        }
        let _ = write!(
            svg,
            r##"<path class="label-code" transform="scale({module:.5})" d="{path}" fill="#000000" shape-rendering="crispEdges"/>"##
        );
    }
}
