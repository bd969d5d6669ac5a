//! Fault-finding: which cause is there, how sure that is, and what to look at next.
//!
//! Plain numbers only. Causes and questions go by their places from 0; the caller keeps their names.
//!
//! * [`model`]: causes with their priors, questions (signs and checks) with their links.
//! * [`posterior`](mod@posterior): from what was seen to the probability of each cause, with up to three
//!   causes at once; why; and whether what was seen contradicts itself.
//! * [`inspection`]: in which order suspects are looked at, where looks are perfect.
//! * [`task`] and [`look_ahead`]: what to look at next or to repair, by expected cost, with looks that can err;
//!   [`exact`] is the best plan of a small task.
//! * [`measure`]: how far the approximations are off.

pub mod conflict;
pub mod exact;
mod fit;
pub mod inspection;
pub mod look_ahead;
pub mod measure;
pub mod model;
mod node;
pub mod posterior;
mod search;
mod sets;
mod sums;
mod survey;
pub mod task;
mod working;

pub use conflict::Conflict;
pub use exact::{BestPlan, best_plan};
pub use inspection::{InspectOrRepair, InspectionOrder, inspect_or_repair, ratio_order};
pub use look_ahead::{Advice, Effort, First, advise, advise_in_time};
pub use model::{Handed, Link, Model, Observation, Question, link_of};
pub use posterior::{FaultSet, Faults, Posterior, posterior, stumbling_block};
pub use survey::Worth;
pub use task::{Bench, Look, Repairs, Says, Task};
pub use working::{advice_working, look_working, posterior_working};
