//! Gridsetter reads collections of number-placement puzzles written as plain text, and says what is wrong
//! with them, where, and why.

pub mod board;
pub mod book;
pub mod cli;
pub mod draw;
pub mod edit;
pub mod exchange;
pub mod files;
pub mod format;
pub mod ladder;
pub mod lint;
pub mod notation;
pub mod print;
pub mod proof;
pub mod reason;
pub mod replay;
pub mod sameness;
pub mod server;
pub mod settings;
pub mod solve;
pub mod step;
pub mod study;
pub mod words;
