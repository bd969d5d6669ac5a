//! Sheets: plain TOML descriptions of the kinds of things that a shop works with.
//!
//! Each file describes one thing; its first key says of which kind. Reading a file gives the thing
//! or every mistake in it, with line, value and what is allowed.

mod fastener;
mod faults;
mod feature;
mod full_pull;
mod gauge;
mod model;
mod nose;
mod opening;
mod puller;
mod read;
mod rig;
mod shelf;
mod shop_card;
mod together;

pub use fastener::{Criterion, Ending, FastenerFamily, FastenerKind, GripCode, Groove, GrooveForm};
pub use faults::{
    Asked, AskedBy, Cause, Check, CheckLink, FaultModel, Learning, Own, Symptom, ToolState,
    UNLISTED,
};
pub use feature::Feature;
pub use gauge::{Direction, Gauge, GaugeKind};
pub use model::{
    Adjuster, BenchTest, BenchTestKind, Caution, Drive, Guard, Joint, JointAdapter, KitItem,
    Lubricant, Pack, Part, Setting, SettingBasis, Shape, Supply, Task, TermFrom, Thread, ToolModel,
    Warranty, Wear,
};
pub use nose::{Anvil, Collet, Counter, Housing, LookAlike, NoseSet};
pub use opening::{AfterOpening, FitCheck, Shows, Side};
pub use puller::PullerFacts;
pub use read::{Mistake, read};
pub use rig::{PullLimit, Rig};
pub use shelf::{Kind, Pin, Revision, Sheet, Shelf};
pub use shop_card::{ShopCard, WEAR_RISK};
pub use together::check_together;
