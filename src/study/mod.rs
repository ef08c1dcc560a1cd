//! A puzzle as a reader meets it: whether it can be reasoned about, where the work stands, what comes next, and its
//! grade.

mod assert;
mod grade;
mod next;
mod start;

pub use assert::{claims, contradicted};
pub use grade::{Effort, Grade, Grader, Openings, ScanningGrade};
pub use next::{Mistaken, Next};
pub use start::{Start, Unready, Work};
