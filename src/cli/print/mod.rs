//! `gridsetter print`: pages.

mod files;
mod pages;

use super::project::Projects;
use super::puzzles::Puzzles;
use super::replace::Replacer;
use super::terminal::{Closed, Terminal, Trouble};
use super::voice::VoiceOptions;
use super::walk::{Then, Way};
use super::words::counted;
use crate::draw::{Length, LengthError};
use crate::print::{Page, Press};
use clap::{Args, ValueEnum};
use files::is_folder;
use std::path::PathBuf;

const EXAMPLES: &str = "\
Examples:
  gridsetter print volume.gset > volume.html                 each puzzle on a page of its own
  gridsetter print --show puzzle,answer -o out/ volume.gset  a file for each page, named by the ids
  gridsetter print --to svg --id lk-007 volume.gset          one picture
  gridsetter print --each-step --width 480 --to svg -o steps/ --id lk-007 volume.gset
                                                             a picture for each step, its words beside it

Answers are printed only where --show asks for them. `language` and `naming` of a file say in which
words it is printed, unless --language and --cells do. In text a form feed stands between pages.
With -o, files are written over.

Exit code: 0 done, 1 something that was asked for is not there, 2 something could not be done.";

/// Print puzzles, answers, sheets, lessons and walks as pages; files named by -o are written over
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    puzzles: Puzzles,
    /// What is written
    #[arg(long, value_enum, value_name = "FORM", default_value_t = To::Html)]
    to: To,
    /// Write to this file; to a folder that is there, or a name with a slash at its end, a file for each page
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// What to print of each puzzle (several with commas); puzzle, where nothing is said
    #[arg(long, value_enum, value_name = "WHAT", value_delimiter = ',')]
    show: Vec<Show>,
    /// Print the walk with a numbered picture for each step
    #[arg(long)]
    each_step: bool,
    /// How the reader looks at the grid on the walk
    #[arg(long, value_enum, value_name = "METHOD", default_value_t = Way::Scanning)]
    method: Way,
    /// Where scanning is stuck, go on so
    #[arg(long, value_enum, value_name = "METHOD", conflicts_with = "method")]
    then: Option<Then>,
    /// How wide a picture is, in px, mm, cm, in or pt
    #[arg(long, value_name = "WIDTH", default_value = "110mm", value_parser = width)]
    width: Length,
    /// Give each grid in words too; in text, in place of the drawing
    #[arg(long)]
    words: bool,
    #[command(flatten)]
    voice: VoiceOptions,
}

/// What is written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum To {
    /// Pages for a browser, which can print them
    Html,
    /// A picture a file
    Svg,
    /// Plain characters
    Text,
}

/// What to print of a puzzle.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Show {
    /// The grid to be solved with its notes and text, and the text around it in its file; of a lesson, its position
    Puzzle,
    /// The author's hints, each further than the one before
    Hints,
    /// Each solver's sheet, with what is remembered beside it
    Work,
    /// The answer
    Answer,
    /// The walkthroughs that are written, with their diagrams; of a lesson, always with its position
    Steps,
    /// A walk to the end, as it is found
    Walk,
    /// What was wrong in print, and since when that is known: a list for each file
    Errata,
}

fn width(text: &str) -> Result<Length, LengthError> {
    text.parse()
}

/// A page, and how it is printed.
type Printed = (Page, Press);

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(
    arguments: &Arguments,
    projects: &mut Projects,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<(), Closed> {
    let all = arguments.puzzles.together(projects, terminal);
    let pages = arguments.pages(&all, terminal)?;
    if arguments.to == To::Svg && !pages.is_empty() && pages.iter().all(|(page, _)| page.is_text()) {
        let advice = "print them with --to html or --to text";
        terminal.trouble(&Trouble::new("--to svg", "no page that is asked for has a picture", advice));
        return Ok(());
    }
    match &arguments.output {
        Some(path) if is_folder(path) => arguments.write_folder(path, &pages, terminal, replacer),
        Some(path) => {
            if let Some(text) = arguments.whole(&pages, terminal)
                && let Err(trouble) = replacer.put(path, text.as_bytes())
            {
                terminal.trouble(&trouble);
            }
        }
        None => {
            if let Some(text) = arguments.whole(&pages, terminal) {
                terminal.print(&text)?;
            }
        }
    }
    terminal.remark(&counted(pages.len(), "page"));
    Ok(())
}
