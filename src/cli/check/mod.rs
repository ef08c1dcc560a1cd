//! `gridsetter check`: read, judge, report, and mend if asked to.

mod files;
mod lists;
mod memory;
mod whole;

use super::ids::Ids;
use super::input::{Inputs, Source};
use super::project::Projects;
use super::replace::Replacer;
use super::report::{Format, Identities};
use super::terminal::{Closed, Terminal, Trouble, words};
use super::watch;
use super::words::{counted, finding_named};
use crate::lint::{self, Group, Severity};
use crate::settings;
use clap::{Args, ValueEnum};
use lists::Lists;
use std::fs;
use std::path::PathBuf;

const EXAMPLES: &str = "\
Examples:
  gridsetter check books/                 every .gset file of a folder
  gridsetter check --fix volume.gset      mend what can be mended without a doubt
  gridsetter check --diff volume.gset     show that, and change nothing
  gridsetter check --format json books/   one finding a line, for programs
  gridsetter check --baseline old.json books/
                                          only what `--format json` did not find when old.json was written

Exit code: 0 nothing found, 1 findings at or above --fail-on, 2 something could not be read or written.";

/// Find what is wrong, and say where, why and what to do
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
#[allow(clippy::struct_excessive_bools, reason = "each is an option of its own")]
pub struct Arguments {
    #[command(flatten)]
    inputs: Inputs,
    /// How findings are written
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// Mend what can be mended without changing what is meant; files are written over
    #[arg(long)]
    fix: bool,
    /// Mend what can be mended by a guess, too; files are written over
    #[arg(long)]
    fix_unsafe: bool,
    /// Show what mending would change, and change nothing
    #[arg(long)]
    diff: bool,
    /// Report only this finding (may be repeated, or several with commas)
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    only: Vec<String>,
    /// Do not report this finding (may be repeated, or several with commas)
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    skip: Vec<String>,
    /// From which severity on a finding makes the exit code 1; `warning`, where nothing else is set
    #[arg(long, value_enum, value_name = "SEVERITY")]
    fail_on: Option<FailOn>,
    /// Leave out what was found before, as `--format json` wrote it into this file
    ///
    /// A finding is known by its file, its puzzle, its name and its words, wherever in the file it stands by now. Make
    /// the file from the same folder, with the same paths.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["fix", "fix_unsafe", "diff"])]
    baseline: Option<PathBuf>,
    /// Look only at the puzzle of this id (may be repeated)
    #[arg(long, value_name = "ID")]
    id: Vec<String>,
    /// Stay, and check again whenever a file has changed
    #[arg(long)]
    watch: bool,
    #[arg(skip)]
    about: About,
}

/// What is asked for.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
enum About {
    /// Everything.
    #[default]
    All,
    /// Walkthroughs: those that cannot be judged are named.
    Walks,
}

/// A severity, as an option.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum FailOn {
    /// What cannot be read, or is contradicted by the puzzle itself
    Error,
    /// What is not as said, or not decided
    Warning,
    /// What is true and idle, or a matter of style
    Info,
}

impl From<FailOn> for Severity {
    fn from(said: FailOn) -> Severity {
        match said {
            FailOn::Error => Severity::Error,
            FailOn::Warning => Severity::Warning,
            FailOn::Info => Severity::Info,
        }
    }
}

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
    let Some(said) = arguments.rules(terminal) else { return Ok(()) };
    if !arguments.watch {
        return once(arguments, &said, projects, terminal, replacer);
    }
    let way = projects.way().clone();
    watch::stay(&arguments.inputs.paths, &way, terminal, |terminal| match projects.read_anew() {
        Ok(()) => once(arguments, &said, projects, terminal, replacer),
        Err(trouble) => {
            terminal.trouble(&trouble);
            Ok(())
        }
    })
}

/// Checks what is there now.
fn once(
    arguments: &Arguments,
    said: &settings::Check,
    projects: &mut Projects,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<(), Closed> {
    let found = arguments.known().and_then(|known| {
        let sources = arguments.inputs.sources(terminal);
        // If the settings of a file cannot be used, what was asked for is not known.
        let projects: Result<Vec<_>, _> = sources.iter().map(|source| projects.of(source)).collect();
        Ok((known, sources, projects?))
    });
    let (mut known, sources, found) = match found {
        Ok(found) => found,
        Err(trouble) => {
            terminal.trouble(&trouble);
            return Ok(());
        }
    };
    if !arguments.goes_line_by_line(&sources) {
        return whole::check(arguments, said, sources.into_iter().zip(found), &mut known, terminal, replacer);
    }
    let (asked, ids) = (&arguments.id, &Ids::new(&arguments.id));
    let lists = Lists { sources: &sources, said, asked, ids, format: arguments.format };
    let sum = lists.check(&mut known, projects, terminal)?;
    ids.say_missing(terminal);
    terminal.remark(&sum.told());
    arguments.say_gone(&known, terminal);
    Ok(())
}

impl Arguments {
    /// For what is found in walkthroughs, and what keeps them from being judged.
    pub fn of_walks(inputs: &Inputs, ids: &[String]) -> Arguments {
        let walks =
            lint::FINDINGS.iter().filter(|it| it.group == Group::Walks || it.severity == Severity::Error);
        Arguments {
            inputs: inputs.clone(),
            format: Format::Human,
            fix: false,
            fix_unsafe: false,
            diff: false,
            only: walks.map(|finding| finding.name.to_owned()).collect(),
            skip: Vec::new(),
            fail_on: None,
            baseline: None,
            id: ids.to_vec(),
            watch: false,
            about: About::Walks,
        }
    }

    /// What the options say of what is reported, if they fit together and name what exists; says what does not.
    fn rules(&self, terminal: &mut Terminal) -> Option<settings::Check> {
        let mut troubles = Vec::new();
        let mut known = |names: &[String]| {
            let known = names.iter().filter_map(|name| {
                finding_named(name).map_err(|trouble| troubles.push(trouble)).ok().map(|finding| finding.name)
            });
            known.collect()
        };
        let rules = settings::Check {
            only: known(&self.only),
            skip: known(&self.skip),
            fail_on: self.fail_on.map(Severity::from),
        };
        if self.diff && self.format != Format::Human {
            let what = "a diff is not among the findings that a program reads";
            troubles.push(Trouble::new(
                "--diff",
                what,
                "leave out --format: the JSON names each fix and its edits",
            ));
        }
        if self.mends_in_place() && self.inputs.has_stdin() {
            let what = "standard input cannot be written over";
            troubles.push(Trouble::new("--fix", what, "add --diff to see what would change"));
        }
        if self.watch && self.inputs.has_stdin() {
            let what = "standard input is read once and cannot change";
            troubles.push(Trouble::new("--watch", what, "leave one of the two out"));
        }
        for trouble in &troubles {
            terminal.trouble(trouble);
        }
        troubles.is_empty().then_some(rules)
    }

    /// Whether all of these files are lists that can be checked line by line: nothing of them is to be mended.
    fn goes_line_by_line(&self, sources: &[Source]) -> bool {
        let lists = !sources.is_empty() && sources.iter().all(|source| source.list);
        lists && !self.mends() && self.about == About::All
    }

    /// Says what of the baseline is found no more.
    fn say_gone(&self, known: &Identities, terminal: &mut Terminal) {
        if let (Some(path), left @ 1..) = (&self.baseline, known.left()) {
            let (name, are) = (path.display(), if left == 1 { "is" } else { "are" });
            let gone = counted(left, "finding");
            terminal.remark(&format!("{gone} of {name} {are} gone: it can be written anew"));
        }
    }

    /// What was found before.
    ///
    /// # Errors
    /// If it cannot be read.
    fn known(&self) -> Result<Identities, Trouble> {
        let Some(path) = &self.baseline else { return Ok(Identities::default()) };
        let name = path.display().to_string();
        let advice = "write it with `gridsetter check --format json`";
        let text = fs::read_to_string(path).map_err(|error| Trouble::new(&name, words(&error), advice))?;
        Identities::read(&text)
            .map_err(|line| Trouble::new(format!("{name}:{line}"), "this line is no finding", advice))
    }

    /// Whether something is mended, be it only to show what that would change.
    fn mends(&self) -> bool {
        self.fix || self.fix_unsafe || self.diff
    }

    fn mends_in_place(&self) -> bool {
        (self.fix || self.fix_unsafe) && !self.diff
    }
}
