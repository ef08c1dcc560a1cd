//! The language server as a client meets it: over pipes, from the first message to the exit code.

#![allow(clippy::unwrap_used, reason = "a client that is not answered is a failed test")]

mod asked;
mod client;
mod desk;
mod dressed;
mod editing;
mod features;
mod files;
mod life;
mod markup;
mod names;
mod promises;
mod protocol;
mod pull;
mod random;
mod session;
mod shapes;
mod text;
mod truth;
