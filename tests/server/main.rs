//! The language server as a client meets it: over pipes, from the first message to the exit code.

#![allow(clippy::unwrap_used, reason = "a client that is not answered is a failed test")]

mod client;
mod desk;
mod editing;
mod features;
mod life;
mod names;
mod promises;
mod protocol;
mod random;
mod shapes;
mod text;
mod truth;
