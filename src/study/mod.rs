//! A puzzle as a reader meets it: whether it can be reasoned about, where the work stands, what comes next, its grade,
//! what is asked of it, and what it can teach.

mod assert;
mod conditions;
mod grade;
mod next;
mod start;
mod teach;

pub use crate::reason::while_wanted;
pub use assert::{claims, contradicted};
pub use conditions::{Conditions, Fitting};
pub use grade::{Effort, Grade, Grader, Openings, ScanningGrade};
pub use next::{Mistaken, Next};
pub use start::{Start, Unready, Work};
pub use teach::{Lessons, Subject};
