//! `gridsetter print`: pages.

use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::replace::Replacer;
use super::terminal::{Closed, Terminal, Trouble, words};
use super::visible;
use super::voice::VoiceOptions;
use super::walk::{Then, Way, walked};
use super::words::counted;
use crate::book::Walkthrough;
use crate::draw::{Length, LengthError};
use crate::notation::{ItemKind, Keyword};
use crate::print::{Names, Page, Press, Subject, html, text};
use crate::replay::{self, Replay, State};
use crate::study::{Start, Unready};
use crate::words::stuck;
use clap::{Args, ValueEnum};
use std::fs;
use std::path::{Path, PathBuf};

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
    /// The grid to be solved with its notes and text, and the text before it in its file; of a lesson, its position
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
    let mut pages: Vec<Printed> = Vec::new();
    arguments.puzzles.each_of_all(projects, terminal, |met, terminal| {
        pages.extend(arguments.pages(&met, terminal));
        Ok(())
    })?;
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

/// Whether a path names a folder: one that is there, or by a slash at its end.
fn is_folder(path: &Path) -> bool {
    path.is_dir() || path.as_os_str().to_string_lossy().ends_with(std::path::is_separator)
}

impl Arguments {
    /// What is asked for, in the order of [`Show`].
    fn shown(&self, met: &Met) -> Vec<Show> {
        let unsaid = self.show.is_empty();
        let has_steps = met.puzzle.blocks(met.section, Keyword::Steps).next().is_some();
        let teaches = met.puzzle.lesson && has_steps;
        let asked = |show: &Show| match show {
            Show::Walk => self.show.contains(show) || (self.each_step && unsaid && !teaches),
            Show::Steps => self.show.contains(show) || (unsaid && teaches),
            Show::Puzzle if unsaid => !self.each_step,
            _ => self.show.contains(show),
        };
        Show::value_variants().iter().copied().filter(asked).collect()
    }

    /// The pages of a puzzle. What is not there is said.
    fn pages(&self, met: &Met, terminal: &mut Terminal) -> Vec<Printed> {
        let voice = self.voice.voice_of(met.book);
        let Met { puzzle, section, item, workspace, .. } = *met;
        let number = workspace.number(met.at);
        let subject = Subject { workspace, section, item, puzzle, voice, number };
        let mut missing = |what: &str| {
            terminal.found();
            terminal.remark(&format!("{}: {what}", met.heading));
        };
        let unready = |what: &str, why: &Unready| format!("no {what}: {why}");
        let lacking = |keyword: Keyword, printed: usize, missing: &mut dyn FnMut(&str)| {
            let all = puzzle.blocks(section, keyword).count();
            if printed < all {
                let lost =
                    if all == 1 { "its".to_owned() } else { format!("{} of its {all}", all - printed) };
                missing(&format!(
                    "{lost} `{}` could not be read; `gridsetter check` says more",
                    keyword.word()
                ));
            }
        };
        let mut pages = Vec::new();
        let mut start = None;
        let shown = self.shown(met);
        for &show in &shown {
            if show == Show::Puzzle && self.puzzles.id.is_empty() {
                pages.extend(openings(&subject, met));
            }
            let found = match show {
                // A lesson that borrows its grid shows it with its steps.
                Show::Puzzle if puzzle.borrows(section).is_some() => continue,
                Show::Puzzle => subject.page().into_iter().collect(),
                // A puzzle need not have hints, sheets or walkthroughs; those that it has are all printed, or missed.
                Show::Hints => {
                    let hints = subject.hints();
                    lacking(Keyword::Hint, hints.as_ref().map_or(0, |page| page.body.len()), &mut missing);
                    pages.extend(hints);
                    continue;
                }
                Show::Work => {
                    let sheets = subject.sheets();
                    // Beside the sheets there may be a page for what is remembered with the givens alone.
                    let printed = if sheets.is_empty() { 0 } else { puzzle.sheets.len() };
                    lacking(Keyword::Work, printed, &mut missing);
                    pages.extend(sheets);
                    continue;
                }
                Show::Answer if puzzle.lesson => continue, // Nor a lesson an answer.
                Show::Answer => match start.get_or_insert_with(|| Start::of(puzzle)) {
                    Ok(start) => {
                        start.solution.as_ref().and_then(|grid| subject.answer(grid)).into_iter().collect()
                    }
                    Err(why) => {
                        missing(&unready("answer", why));
                        continue;
                    }
                },
                Show::Steps => {
                    let walked = self.walkthroughs(&subject, met);
                    lacking(Keyword::Steps, walked.len(), &mut missing);
                    pages.extend(walked);
                    continue;
                }
                Show::Walk => match start.get_or_insert_with(|| Start::of(puzzle)) {
                    Ok(start) => {
                        let (walk, last) = walked(start, met.ladder, self.method.method(), self.then);
                        let why = (!walk.is_finished()).then(|| stuck(&voice, last));
                        subject.walk(&walk, self.each_step, why).into_iter().collect()
                    }
                    Err(why) => {
                        missing(&unready("walk", why));
                        continue;
                    }
                },
            };
            let found: Vec<Page> = found;
            if found.is_empty() {
                missing("it has no grid that could be read; `gridsetter check` says more");
            }
            pages.extend(found);
        }
        if self.puzzles.id.is_empty() && shown.contains(&Show::Puzzle) {
            pages.extend(closings(&subject, met));
        }
        let press = Press { voice, look: met.print.look(), width: self.width.clone(), words: self.words };
        pages.into_iter().map(|page| (page, press.clone())).collect()
    }

    /// A page for each walkthrough that is written.
    fn walkthroughs(&self, subject: &Subject, met: &Met) -> Vec<Page> {
        let own = || {
            let start = Start::of(met.puzzle).ok()?;
            let state = State::new(start.position());
            Some((start, state))
        };
        let borrowed = || replay::borrowed(met.workspace, met.section, met.puzzle);
        let Some((start, state)) = own().or_else(borrowed) else { return Vec::new() };
        let walks = replay::walks(met.section, met.puzzle, met.ladder, &start, &state);
        let written = walks
            .iter()
            .filter(|(walk, _)| met.section.statements[walk.statement].keyword == Some(Keyword::Steps));
        let page = |(walk, replay): &(Walkthrough, Replay)| {
            subject.walkthrough(walk, replay, &start.givens, self.each_step)
        };
        written.filter_map(page).collect()
    }

    /// All pages in one file; `None` if that cannot be, which is said.
    fn whole(&self, pages: &[Printed], terminal: &mut Terminal) -> Option<String> {
        match self.to {
            To::Text => Some(pages.iter().map(plain).collect::<Vec<_>>().join("\u{c}\n")),
            To::Html => Some(html(pages)),
            To::Svg => {
                let files: Vec<Part> =
                    pages.iter().flat_map(drawn).filter(|(_, ending, _)| *ending == "svg").collect();
                match &files[..] {
                    [] => Some(String::new()),
                    [(_, _, picture)] => Some(picture.clone()),
                    _ => {
                        let what = format!("{} are a file each", counted(files.len(), "picture"));
                        let advice = "give a folder with -o, such as `-o out/`, or one puzzle with --id";
                        terminal.trouble(&Trouble::new("--to svg", what, advice));
                        None
                    }
                }
            }
        }
    }

    /// A file for each page, or for each picture and the words of its step.
    fn write_folder(&self, folder: &Path, pages: &[Printed], terminal: &mut Terminal, replacer: &Replacer) {
        if let Err(error) = fs::create_dir_all(folder) {
            let what = format!("cannot be made: {}", words(&error));
            terminal.trouble(&Trouble::new(folder.display().to_string(), what, "name another folder"));
            return;
        }
        let mut names = Names::new();
        for printed in pages {
            let name = names.give(&printed.0.name);
            let files = match self.to {
                To::Text => vec![(String::new(), "txt", plain(printed))],
                To::Html => vec![(String::new(), "html", html(std::slice::from_ref(printed)))],
                To::Svg => drawn(printed),
            };
            for (part, ending, text) in files {
                let path = folder.join(format!("{name}{part}.{ending}"));
                if let Err(trouble) = replacer.put(&path, text.as_bytes()) {
                    terminal.trouble(&trouble);
                    return;
                }
            }
        }
    }
}

/// The pages of text that stand before a puzzle, behind the one before it: a foreword, the opening of a part.
fn openings(subject: &Subject, met: &Met) -> Vec<Page> {
    let sections = &met.book.tree.sections[..=met.at.section];
    let items =
        sections.iter().rev().flat_map(|section| section.items.iter().rev().map(move |item| (section, item)));
    let before = items.skip_while(|(_, item)| !std::ptr::eq(*item, met.item)).skip(1);
    let mut before: Vec<_> = before.take_while(|(_, item)| item.kind.is_opening()).collect();
    before.reverse();
    before.into_iter().flat_map(|(section, item)| Subject { section, item, ..*subject }.texts()).collect()
}

/// The pages of text behind the last puzzle of a file.
fn closings(subject: &Subject, met: &Met) -> Vec<Page> {
    let sections = &met.book.tree.sections[met.at.section..];
    let items = sections.iter().flat_map(|section| section.items.iter().map(move |item| (section, item)));
    let behind: Vec<_> = items.skip_while(|(_, item)| !std::ptr::eq(*item, met.item)).skip(1).collect();
    if behind.iter().any(|(_, item)| matches!(item.kind, ItemKind::Puzzle | ItemKind::Lesson)) {
        return Vec::new();
    }
    let text = behind.into_iter().filter(|(_, item)| item.kind.is_opening());
    text.flat_map(|(section, item)| Subject { section, item, ..*subject }.texts()).collect()
}

/// A page as plain text, safe to show.
fn plain((page, press): &Printed) -> String {
    visible::lines(&text(page, press)).into_owned()
}

/// A file beside others of its page: what stands between the page's name and the ending, the ending, and the text.
type Part = (String, &'static str, String);

/// The pictures of a page, and the words of steps.
fn drawn((page, press): &Printed) -> Vec<Part> {
    let labels = press.voice.labels();
    let mut files = Vec::new();
    for (picture, step) in page.pictures() {
        let said = || picture.said(&labels).join("\n") + "\n";
        let part = step.map_or_else(String::new, |(n, _)| format!("-{n:03}"));
        let words = match step {
            Some((_, words)) if press.words => Some(format!("{words}\n\n{}", said())),
            Some((_, words)) => Some(format!("{words}\n")),
            None => press.words.then(said),
        };
        files.push((part.clone(), "svg", picture.svg(press.look, &press.width, &labels)));
        files.extend(words.map(|words| (part, "txt", words)));
    }
    files
}
