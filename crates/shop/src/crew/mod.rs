//! The crew at the work place: what it asks before it sets a fastener.

mod at_work;

pub use at_work::{
    CALIPER_RANGE_MM, CrewSetting, HAND_CALIPER, MOST_PINS, noses_for, setting, unit_slip,
};
