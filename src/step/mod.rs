//! One step of reasoning: what it claims, what it reads, and what a reader knows after it. Knows no pattern's way of
//! being found.

mod claim;
mod deduction;
mod marks;
mod position;
mod written;

pub use claim::Claim;
pub use deduction::{Base, By, Deduction, MOST_BASES, Method, Premise, Seen, Swap, Witness};
pub use position::Position;
pub use written::{plainly, recalled};
