//! A puzzle as a reader meets it: whether it can be reasoned about, where the work stands, and its grade.

mod grade;
mod start;

pub use grade::{Effort, Grade, Grader, Openings, ScanningGrade};
pub use start::{Start, Unready, Work};
