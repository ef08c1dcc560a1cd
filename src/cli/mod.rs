//! The command line: arguments, files, output and exit codes, and no puzzle logic.
//!
//! A file a subcommand, and beside them what they share. Exit codes: 0 done and nothing found, 1 done and there is
//! something to act on, 2 something could not be done.

mod check;
mod completions;
mod course;
mod diff;
mod explain;
mod export;
mod find;
mod firsts;
mod fmt;
mod grade;
mod hint;
mod ids;
mod import;
mod in_order;
mod input;
mod json;
mod mend;
mod pieces;
mod place;
mod print;
mod progress;
mod project;
mod puzzles;
mod replace;
mod report;
mod room;
mod serve;
mod solve;
mod stop;
mod sum;
mod taken;
mod tally;
mod telling;
mod terminal;
mod unread;
mod visible;
mod voice;
mod walk;
mod walk_json;
mod walk_write;
mod watch;
mod words;

use anstream::ColorChoice;
use clap::error::ErrorKind;
use clap::{CommandFactory, Parser, Subcommand, ValueEnum};
use project::Projects;
use replace::Replacer;
use std::env;
use std::ffi::OsString;
use std::io::{self, Write};
use std::num::NonZeroUsize;
use std::panic::{self, AssertUnwindSafe};
use std::process::ExitCode;
use terminal::{Closed, Talk, Terminal};

const EXAMPLES: &str = "\
Examples:
  gridsetter check books/           what is wrong, where, why, and what to do
  gridsetter solve volume.gset      how many solutions each puzzle has, and the first
  gridsetter hint volume.gset       the next step, and why
  gridsetter explain row-length     more about a finding

A gridsetter.toml holds for the files of its folder and of the folders in it:
  [check]
  only = []             the findings to report; all, if none are named
  skip = [\"undecided\"]  the findings not to report
  fail-on = \"error\"     as the option
  [ladder]
  order = []            the patterns that may be used, cheapest first; all, if none are named
  without = []          patterns to leave out
  levels = []           the pattern with which each level begins, level 1 first
  names = []            what the levels are called, level 1 first
  [print]
  shade = \"lines\"       how `shade` looks: lines or grey
  ring = \"circle\"       how `ring` looks: circle or square

Each command has its own --help.";

/// The heading in each help under which the options stand that every command has.
const EVERYWHERE: &str = "Options of every command";

/// Check, solve, explain and grade number-placement puzzles written as plain text
#[derive(Parser, Debug)]
#[command(name = "gridsetter", version, after_help = EXAMPLES)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
    /// Colour the output
    #[arg(long, value_enum, value_name = "WHEN", default_value_t = Color::Auto, global = true, help_heading = EVERYWHERE)]
    color: Color,
    /// Say nothing beside results and troubles
    #[arg(short, long, global = true, help_heading = EVERYWHERE, conflicts_with = "verbose")]
    quiet: bool,
    /// Say which files are read
    #[arg(short, long, global = true, help_heading = EVERYWHERE)]
    verbose: bool,
    /// Look at so many puzzles at once; as many as there are processors, where nothing is said
    ///
    /// What is found, and in which order it is told, is the same for any number.
    #[arg(short, long, value_name = "N", global = true, help_heading = EVERYWHERE)]
    jobs: Option<NonZeroUsize>,
    #[command(flatten)]
    settings: project::Options,
}

#[derive(Subcommand, Debug)]
enum Command {
    Check(check::Arguments),
    Fmt(fmt::Arguments),
    Solve(solve::Arguments),
    Hint(hint::Arguments),
    Walk(walk::Arguments),
    Grade(grade::Arguments),
    Find(find::Arguments),
    Import(import::Arguments),
    Export(export::Arguments),
    Print(print::Arguments),
    Explain(explain::Arguments),
    Serve(serve::Arguments),
    Completions(completions::Arguments),
}

/// When to colour.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Color {
    /// On a terminal, unless `NO_COLOR` is set
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

impl From<Color> for ColorChoice {
    fn from(when: Color) -> ColorChoice {
        match when {
            Color::Auto => ColorChoice::Auto,
            Color::Always => ColorChoice::Always,
            Color::Never => ColorChoice::Never,
        }
    }
}

/// Runs the command line with the arguments of this process.
pub fn main() -> ExitCode {
    panic::set_hook(Box::new(|fault| {
        let place =
            fault.location().map_or_else(String::new, |at| format!(" at {}:{}", at.file(), at.line()));
        let what = fault.payload_as_str().unwrap_or_default();
        let text =
            format!("gridsetter: a fault in the program itself{place}: {what}; please report this line");
        let _ = writeln!(io::stderr(), "{}", visible::line(&text));
    }));
    panic::catch_unwind(AssertUnwindSafe(parse_and_run)).unwrap_or(ExitCode::from(2))
}

/// Reads the arguments of this process. The words with which editors start the server are known at sight: to build the
/// parser of all commands would take longer than the server's first answer.
fn parse() -> Result<Arguments, clap::Error> {
    let words: Vec<OsString> = env::args_os().skip(1).collect();
    if words == ["serve"] || words == ["serve", "--stdio"] {
        return Ok(Arguments::of_editors());
    }
    Arguments::try_parse()
}

impl Arguments {
    /// Those with which editors start the server.
    fn of_editors() -> Arguments {
        Arguments {
            command: Command::Serve(serve::Arguments::default()),
            color: Color::Auto,
            quiet: false,
            verbose: false,
            jobs: None,
            settings: project::Options::default(),
        }
    }
}

fn parse_and_run() -> ExitCode {
    let arguments = match parse() {
        Ok(arguments) => arguments,
        Err(said) => return refused(&said),
    };
    let talk = match (arguments.quiet, arguments.verbose) {
        (true, _) => Talk::Quiet,
        (_, true) => Talk::Verbose,
        _ => Talk::Normal,
    };
    let mut terminal = Terminal::new(arguments.color.into(), talk);
    let replacer = Replacer::default();
    // A server replaces no files.
    if !matches!(arguments.command, Command::Serve(_)) {
        terminal.stop().listen(replacer.clone());
    }
    if let Some(jobs) = arguments.jobs {
        // It fails only where there is a pool already, and there is none yet.
        let _ = rayon::ThreadPoolBuilder::new().num_threads(jobs.get()).build_global();
    }
    let mut projects = match Projects::new(&arguments.settings) {
        Ok(projects) => projects,
        Err(trouble) => {
            terminal.trouble(&trouble);
            return terminal.exit_code();
        }
    };
    // What ended early has its exit code too.
    let _: Result<(), Closed> = match &arguments.command {
        Command::Check(arguments) => check::run(arguments, &mut projects, &mut terminal, &replacer),
        Command::Fmt(arguments) => fmt::run(arguments, &mut terminal, &replacer),
        Command::Solve(arguments) => solve::run(arguments, &mut projects, &mut terminal),
        Command::Hint(arguments) => hint::run(arguments, &mut projects, &mut terminal),
        Command::Walk(arguments) => walk::run(arguments, &mut projects, &mut terminal, &replacer),
        Command::Grade(arguments) => grade::run(arguments, &mut projects, &mut terminal),
        Command::Find(arguments) => find::run(arguments, &mut projects, &mut terminal),
        Command::Import(arguments) => import::run(arguments, &mut terminal),
        Command::Export(arguments) => export::run(arguments, &mut terminal),
        Command::Print(arguments) => print::run(arguments, &mut projects, &mut terminal, &replacer),
        Command::Explain(arguments) => explain::run(arguments, &mut projects, &mut terminal),
        Command::Serve(arguments) => {
            serve::run(arguments, projects.way(), &mut terminal);
            Ok(())
        }
        Command::Completions(arguments) => completions::run(arguments, Arguments::command(), &mut terminal),
    };
    terminal.exit_code()
}

/// Shows the help that was asked for, or what is wrong with the arguments.
fn refused(said: &clap::Error) -> ExitCode {
    if matches!(said.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
        let _ = said.print();
        return ExitCode::SUCCESS;
    }
    let _ = write!(io::stderr(), "{}", visible::lines(&said.to_string()));
    ExitCode::from(2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_servers_usual_words_mean_what_the_parser_reads() {
        let parsed = Arguments::try_parse_from(["gridsetter", "serve"]).unwrap();
        assert_eq!(format!("{parsed:?}"), format!("{:?}", Arguments::of_editors()));
    }
}
