//! The `gridsetter` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    gridsetter::cli::main()
}
