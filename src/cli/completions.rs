//! `gridsetter completions`: what a shell needs to complete commands and options.

use super::terminal::{Closed, Terminal};
use clap::{Args, Command};
use clap_complete::{Shell, generate};

const EXAMPLES: &str = "\
Examples:
  gridsetter completions bash > ~/.local/share/bash-completion/completions/gridsetter
  gridsetter completions fish > ~/.config/fish/completions/gridsetter.fish";

/// Write the completions for a shell
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// For which shell
    #[arg(value_enum, value_name = "SHELL")]
    shell: Shell,
}

/// Runs the command; `command` is the whole command line, with its options.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, mut command: Command, terminal: &mut Terminal) -> Result<(), Closed> {
    let mut script = Vec::new();
    generate(arguments.shell, &mut command, "gridsetter", &mut script);
    terminal.print(&String::from_utf8_lossy(&script))
}
