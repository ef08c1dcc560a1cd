//! `gridsetter print`: pages.

use super::ids::Ids;
use super::project::Projects;
use super::puzzles::{Met, Puzzles, Together};
use super::replace::Replacer;
use super::telling::Telling;
use super::terminal::{Closed, Terminal, Trouble, words};
use super::unread;
use super::visible;
use super::voice::VoiceOptions;
use super::walk::{Then, Way, walked};
use super::words::counted;
use crate::book::{Entry, SectionId, Walkthrough};
use crate::draw::{Length, LengthError};
use crate::notation::Keyword;
use crate::print::{Names, Page, Press, Running, Subject, errata, html, text};
use crate::replay::{self, Replay};
use crate::study::{Start, Unready};
use crate::words::{Voice, stuck};
use clap::{Args, ValueEnum};
use rayon::prelude::*;
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

/// What the pages of a file lean on beside its puzzles, and those that refer to it: the text between them first.
const OF_FILE: [Keyword; 8] = [
    Keyword::Text,
    Keyword::Symbols,
    Keyword::Language,
    Keyword::Naming,
    Keyword::Numbers,
    Keyword::Collection,
    Keyword::Series,
    Keyword::Volume,
];

impl Show {
    /// The statements of a puzzle that are printed.
    fn leans_on(self) -> &'static [Keyword] {
        match self {
            Show::Puzzle => &[Keyword::Symbols, Keyword::Number, Keyword::Note, Keyword::Text],
            Show::Hints => &[Keyword::Symbols, Keyword::Number, Keyword::Hint],
            Show::Work => &[Keyword::Symbols, Keyword::Number, Keyword::Work, Keyword::Known],
            Show::Answer | Show::Walk => &[Keyword::Symbols, Keyword::Number],
            Show::Steps => &[Keyword::Symbols, Keyword::Number, Keyword::Steps],
            Show::Errata => &[Keyword::Number, Keyword::Erratum],
        }
    }
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

/// Whether a path names a folder: one that is there, or by a slash at its end.
fn is_folder(path: &Path) -> bool {
    path.is_dir() || path.as_os_str().to_string_lossy().ends_with(std::path::is_separator)
}

impl Arguments {
    /// What is asked for, in the order of [`Show`].
    fn shown(&self, met: &Met) -> Vec<Show> {
        let unsaid = self.show.is_empty();
        let teaches = met.puzzle.lesson && met.has(Keyword::Steps);
        let asked = |show: &Show| match show {
            Show::Walk => self.show.contains(show) || (self.each_step && unsaid && !teaches),
            Show::Steps => self.show.contains(show) || (unsaid && teaches),
            Show::Puzzle if unsaid => !self.each_step,
            _ => self.show.contains(show),
        };
        Show::value_variants().iter().copied().filter(asked).collect()
    }

    /// Whether the text between puzzles is printed.
    fn shows_text(&self) -> bool {
        let unsaid = self.show.is_empty() && !self.each_step;
        self.puzzles.id.is_empty() && (unsaid || self.show.contains(&Show::Puzzle))
    }

    /// All pages, in the order of the files. What is not there is said.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more.
    fn pages(&self, all: &Together, terminal: &mut Terminal) -> Result<Vec<Printed>, Closed> {
        let ids = Ids::new(&self.puzzles.id);
        let places = all.places();
        let leans_on: &[Keyword] = if self.shows_text() { &OF_FILE } else { &OF_FILE[1..] };
        let mut pages = Vec::new();
        for (number, book) in all.workspace().books.iter().enumerate() {
            let mut telling = Telling::default();
            unread::say_openings(number, leans_on, &places, &mut telling);
            terminal.tell(telling)?;
            let voice = self.voice.voice_of(book);
            let (look, width) = (all.settings(number).print.look(), self.width.clone());
            let press = Press { voice, look, width, words: self.words };
            let entries: Vec<_> = all.entries(number).collect();
            let found = entries.into_par_iter().map(|(at, entry, meant)| match meant {
                Entry::Preface | Entry::Part if self.shows_text() => {
                    (texts(all, at, entry, voice), Telling::default())
                }
                Entry::Puzzle(puzzle) if ids.take(puzzle) => {
                    self.pages_of(&all.met(at, entry, puzzle, &places), voice)
                }
                _ => (Vec::new(), Telling::default()),
            });
            for (found, telling) in found.collect::<Vec<_>>() {
                terminal.tell(telling)?;
                pages.extend(found.into_iter().map(|page| (page, press.clone())));
            }
            if self.show.contains(&Show::Errata) {
                pages.extend(self.errata(all, number, voice).map(|page| (page, press.clone())));
            }
        }
        ids.say_missing(terminal);
        Ok(pages)
    }

    /// The page with the errata of a file: of all that stands there, or of what --id names.
    fn errata(&self, all: &Together, number: usize, voice: Voice<'static>) -> Option<Page> {
        let workspace = all.workspace();
        let book = &workspace.books[number];
        let ids = &self.puzzles.id;
        let of_item = |(at, entry, meant): (SectionId, usize, &Entry)| {
            let section = workspace.section(at);
            let item = &section.items[entry];
            let heading = match meant {
                Entry::Puzzle(puzzle) => {
                    let number = workspace.number(at);
                    Subject { workspace, book, section, item, puzzle, voice, number }.heading()
                }
                _ => Vec::new(),
            };
            let is_meant = match meant {
                Entry::Puzzle(puzzle) => puzzle.id.as_ref().is_some_and(|id| ids.contains(&id.text)),
                _ => false,
            };
            if ids.is_empty() || is_meant {
                errata(section, item, &heading.join(" \u{b7} "))
            } else {
                Vec::new()
            }
        };
        Page::of_errata(&book.name, all.entries(number).flat_map(of_item).collect(), voice)
    }

    /// The pages of a puzzle, and what is not there.
    fn pages_of(&self, met: &Met, voice: Voice<'static>) -> (Vec<Page>, Telling) {
        let Met { puzzle, section, item, workspace, book, .. } = *met;
        let number = workspace.number(met.at);
        let subject = Subject { workspace, book, section, item, puzzle, voice, number };
        let mut shown = self.shown(met);
        let leans_on: Vec<Keyword> = shown.iter().flat_map(|show| show.leans_on()).copied().collect();
        let mut telling = Telling::default();
        met.say_unread(&leans_on, &mut telling);
        let mut missing = |what: &str| {
            telling.found();
            telling.remark(format!("{}: {what}", met.heading()));
        };
        if !subject.has_grid() && puzzle.borrows(section).is_none() {
            missing("it has no grid that could be read; `gridsetter check` says more");
            shown.retain(|show| *show == Show::Hints);
        }
        let mut pages = Vec::new();
        for show in shown {
            match self.found(show, &subject, met) {
                Ok(found) => pages.extend(found),
                Err(what) => missing(&what),
            }
        }
        (pages, telling)
    }

    /// The pages of what is asked for of a puzzle, which need not have hints, sheets or walkthroughs.
    ///
    /// # Errors
    /// What is missing, as a sentence without its end.
    fn found(&self, show: Show, subject: &Subject, met: &Met) -> Result<Vec<Page>, String> {
        let puzzle = met.puzzle;
        let has_steps = met.has(Keyword::Steps);
        let unready = |what: &'static str| move |why: Unready| format!("no {what}: {why}");
        Ok(match show {
            Show::Puzzle if !subject.has_grid() && !has_steps => {
                return Err("it has no grid of its own, and no steps to show one with".to_owned());
            }
            Show::Puzzle => subject.page().into_iter().collect(),
            Show::Hints => subject.hints().into_iter().collect(),
            Show::Work => subject.sheets(),
            Show::Answer if !puzzle.lesson => {
                let start = Start::of(puzzle).map_err(unready("answer"))?;
                start.solution.and_then(|grid| subject.answer(&grid)).into_iter().collect()
            }
            Show::Steps if has_steps => self.walkthroughs(subject, met).map_err(unready("walkthrough"))?,
            Show::Walk => {
                let start = Start::of(puzzle).map_err(unready("walk"))?;
                let (walk, last) = walked(&start, met.ladder, self.method.method(), self.then);
                let why = (!walk.is_finished()).then(|| stuck(&subject.voice, last));
                subject.walk(&walk, self.each_step, why).into_iter().collect()
            }
            Show::Answer | Show::Steps | Show::Errata => Vec::new(),
        })
    }

    /// A page for each walkthrough that is written.
    fn walkthroughs(&self, subject: &Subject, met: &Met) -> Result<Vec<Page>, Unready> {
        let (start, state) = replay::begin(met.workspace, met.section, met.puzzle)?;
        let walks = replay::walks(met.section, met.puzzle, met.ladder, &start, &state);
        let written = walks
            .iter()
            .filter(|(walk, _)| met.section.statements[walk.statement].keyword == Some(Keyword::Steps));
        let page = |(walk, replay): &(Walkthrough, Replay)| {
            subject.walkthrough(walk, replay, &start.givens, self.each_step)
        };
        Ok(written.filter_map(page).collect())
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

/// The pages of text of a preface or a part. It speaks of the puzzle behind it; at the end of a file, of the last one.
fn texts(all: &Together, at: SectionId, entry: usize, voice: Voice) -> Vec<Page> {
    let (workspace, section) = (all.workspace(), all.workspace().section(at));
    let book = &workspace.books[at.book];
    let puzzles = || workspace.puzzles().filter(|(id, ..)| id.book == at.book);
    let behind = puzzles().find(|(id, ..)| *id >= at);
    let puzzle = behind.or_else(|| puzzles().last()).map(|(.., puzzle)| puzzle);
    Running { workspace, book, section, puzzle, voice }.pages(&section.items[entry])
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
