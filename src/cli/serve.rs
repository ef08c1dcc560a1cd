//! `gridsetter serve`: the language server.

use super::terminal::{Terminal, Trouble, words};
use crate::server::{Ending, Level, Log, serve};
use crate::settings::Way;
use clap::{Args, ValueEnum};
use std::fs::File;
use std::io;
use std::path::PathBuf;
use std::process;

const EXAMPLES: &str = "\
An editor starts this command and speaks the Language Server Protocol with it.

Exit code: 0 if the editor took its leave as the protocol wants it, 1 if it was lost.";

/// Serve an editor: findings while you type, hover, fixes, formatting
#[derive(Args, Default, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// Speak over standard input and output; it is the only way, and may be left out
    #[arg(long)]
    #[allow(dead_code, reason = "editors give it; there is nothing to choose")]
    stdio: bool,
    /// Note what happens in this file, behind what it holds
    #[arg(long, value_name = "FILE")]
    log: Option<PathBuf>,
    /// How much of it to note
    #[arg(long, value_enum, value_name = "LEVEL", default_value_t, requires = "log")]
    log_level: Much,
}

/// How much is noted.
#[derive(ValueEnum, Clone, Copy, Default, Debug)]
enum Much {
    /// Faults in the program itself
    Error,
    /// Also what takes longer than a tenth of a second, and messages that are not understood
    Warning,
    /// Also beginning and end
    #[default]
    Info,
    /// Also every message, with the time that it takes
    Debug,
}

impl From<Much> for Level {
    fn from(much: Much) -> Level {
        match much {
            Much::Error => Level::Error,
            Much::Warning => Level::Warning,
            Much::Info => Level::Info,
            Much::Debug => Level::Debug,
        }
    }
}

/// Runs the command. What it writes to standard output is no text for people, and does not go through `terminal`.
pub fn run(arguments: &Arguments, way: &Way, terminal: &mut Terminal) {
    let log = match &arguments.log {
        None => Log::none(),
        Some(path) => match Log::to(path, arguments.log_level.into()) {
            Ok(log) => log,
            Err(error) => {
                let advice = "give a file that can be written";
                terminal.trouble(&Trouble::new(path.display().to_string(), words(&error), advice));
                return;
            }
        },
    };
    let ended =
        output().and_then(|output| serve(io::stdin().lock(), output, || process::exit(1), way.clone(), &log));
    match ended {
        Ok(Ending::Orderly) => {}
        Ok(Ending::Abrupt) => terminal.found(),
        Err(error) => {
            let advice = "end other programs, and try again";
            terminal.trouble(&Trouble::new("serve", words(&error), advice));
        }
    }
}

/// Standard output as it is: Rust's own has a buffer that parts each message behind its header, so that an editor is woken
/// twice for it.
#[cfg(unix)]
fn output() -> io::Result<File> {
    use std::os::fd::AsFd as _;
    Ok(io::stdout().as_fd().try_clone_to_owned()?.into())
}

/// The same, where files have handles.
#[cfg(windows)]
fn output() -> io::Result<File> {
    use std::os::windows::io::AsHandle as _;
    Ok(io::stdout().as_handle().try_clone_to_owned()?.into())
}
