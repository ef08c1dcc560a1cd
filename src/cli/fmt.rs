//! `gridsetter fmt`: the one written form.

use super::diff;
use super::input::{Inputs, Text};
use super::replace::Replacer;
use super::terminal::{Closed, Terminal, Trouble};
use super::words::counted;
use crate::book::Book;
use crate::format::format;
use clap::Args;

const EXAMPLES: &str = "\
Examples:
  gridsetter fmt books/            write every .gset file of a folder in its one form
  gridsetter fmt --check books/    only show what would change
  gridsetter fmt -                 read standard input, write standard output

Exit code: 0 done, 1 with --check if a file would change, 2 something could not be read or written.";

/// Write files in the one form that the notation has; files are written over
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    inputs: Inputs,
    /// Show what would change, and change nothing
    #[arg(long)]
    check: bool,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, terminal: &mut Terminal, replacer: &Replacer) -> Result<(), Closed> {
    let (mut files, mut changed) = (0, 0);
    for source in arguments.inputs.sources(terminal) {
        if source.list {
            let advice = "`gridsetter import` makes a .gset file of it";
            terminal.trouble(&Trouble::new(&source.name, "is a list, which has no other form", advice));
            continue;
        }
        let text = match source.read() {
            Ok(text) => text,
            Err(trouble) => {
                terminal.trouble(&trouble);
                continue;
            }
        };
        let Text::Utf8(before) = &text else {
            let advice = "it is as it was; save it as UTF-8";
            terminal.trouble(&Trouble::new(&source.name, "is not UTF-8 text", advice));
            continue;
        };
        files += 1;
        let now = format(&Book::read_shared(&source.name, before));
        let differs = **before != now;
        changed += usize::from(differs);
        terminal.detail(&format!("{}: {}", source.name, if differs { "changes" } else { "stays" }));
        match &source.path {
            _ if arguments.check => {
                if differs {
                    terminal.found();
                    terminal.print(&diff::unified(&source.name, before, &now, terminal.styled()))?;
                }
            }
            None => terminal.print(&now)?,
            Some(path) if differs => {
                if let Err(trouble) = replacer.replace(&source.name, path, text.bytes(), now.as_bytes()) {
                    changed -= 1;
                    terminal.trouble(&trouble);
                }
            }
            Some(_) => {}
        }
    }
    let what = if arguments.check { "would change" } else { "changed" };
    terminal.remark(&format!("{changed} of {} {what}", counted(files, "file")));
    Ok(())
}
