//! Where the stroke turns within what looks like one pull, and whether what comes after it is another one.

use super::split::{HOME_MM, HOME_SHARE, SHIFT_S};

/// Rows and seconds at home from which a zero can be read. Common practice, no source, as the numbers below.
pub(super) const REST_ROWS: usize = 3;
pub(super) const REST_S: f64 = 0.02;
/// The stroke stands within so much of its least, mm.
const STANDS_MM: f64 = 0.1;
/// Way back that is a let-go and no spring of tool or joint, mm, and share of the travel.
const BACK_MM: f64 = 1.0;
const BACK_SHARE: f64 = 0.1;
/// Back to less than this share of the travel, what comes after is a pull of its own.
const OWN_SHARE: f64 = 0.75;

/// What lies between what came before a turn and what comes after it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Between {
    /// A rest; its middle row in the buffer.
    Rest(usize),
    /// Nothing: two pulls, parted at this row of the buffer.
    Nothing(usize),
    /// The tool let go and pulled again on its way, from this row of the buffer on: one pull or two.
    Unsure(usize),
}

/// The last turn of the stroke.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turn {
    /// Farthest travel before it, mm.
    far: f64,
    /// Least travel since, mm, and the row behind it.
    least: f64,
    at: usize,
    /// First row at home since, and its time.
    home: Option<(usize, f64)>,
    /// Middle of the rest since.
    rest: Option<usize>,
}

impl Turn {
    /// None yet; the stroke is at `travel`.
    pub(super) fn none(travel: f64) -> Self {
        Self {
            far: travel,
            least: travel,
            at: 0,
            home: None,
            rest: None,
        }
    }

    /// The stroke moves on to `travel`; the next row is `next`.
    #[inline]
    pub(super) fn moved(&mut self, travel: f64, next: usize) {
        if travel >= self.far {
            *self = Self::none(travel);
        } else if travel < self.least {
            (self.least, self.at) = (travel, next);
        }
    }

    /// The row before `next` is at home, `loaded` or not. A zero that jumps at rest looks like load, so then it must stand longer.
    #[inline]
    pub(super) fn is_home(&mut self, travel: f64, time: f64, loaded: bool, next: usize) {
        let (from, since) = *self.home.get_or_insert((next - 1, time));
        let long = if loaded { SHIFT_S } else { REST_S };
        // On its way out again it does not rest.
        let stands = travel < self.least + STANDS_MM;
        if stands && next - from >= REST_ROWS && time - since >= long {
            self.rest = Some(from.midpoint(next));
        }
    }

    /// Whether the force at `travel` is another pull's than that which went as far as `travel_max`. It is asked under load. Take-up
    /// friction is there at once, so the force says nothing before the stroke has left the turn.
    #[inline]
    pub(super) fn behind(&self, travel: f64, travel_max: f64) -> Option<Between> {
        let back = self.far - self.least;
        if travel <= self.least + HOME_MM || back <= BACK_MM.max(BACK_SHARE * travel_max) {
            return None;
        }
        let home = self.least <= HOME_MM.max(HOME_SHARE * travel_max);
        Some(match self.rest {
            Some(middle) if home => Between::Rest(middle),
            _ if self.least < OWN_SHARE * travel_max => Between::Nothing(self.at),
            _ => Between::Unsure(self.at),
        })
    }
}
