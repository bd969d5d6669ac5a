//! Holding methods against values from outside.
//!
//! A check file ([`read`]) holds cases: inputs, what must come out, how near, and who says so. A case is
//! run through the registry ([`run`]) and passes, fails, or is not available because its method is not
//! there. Nothing is skipped without being told.

mod compare;
mod file;
mod run;
mod series;
mod tolerance;

pub use compare::Compared;
pub use file::{Case, Expected, FileError, Kind, Run, read};
pub use run::{Outcome, Verdict, run};
pub use tolerance::{Near, Tolerance};
