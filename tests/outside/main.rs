//! The board and the search against what others found out: cases with known answers, published counts, and a SAT
//! solver.

mod cases;
mod counts;
mod random;
mod sat;
mod search;
