//! Puzzles that are the same as others, perhaps in another dress.

use super::{Arguments, Format, Ready, Tally};
use crate::board::{Digit, Grid, Layout};
use crate::cli::firsts::Firsts;
use crate::cli::json;
use crate::cli::project::Projects;
use crate::cli::puzzles::{Met, Puzzles, heading_of};
use crate::cli::telling::Telling;
use crate::cli::terminal::{Closed, Terminal};
use crate::sameness::{self, Form, Undecided, canonical, how};
use crate::study::Conditions;
use serde::Serialize;
use std::path::Path;
use std::sync::Arc;

/// Finds them, and writes each as it comes; `None` if the file that they are compared with cannot be read, which is said.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more, or the user wants no more.
pub fn find(
    arguments: &Arguments,
    projects: &mut Projects,
    terminal: &mut Terminal,
) -> Result<Option<Tally>, Closed> {
    let (mut known, uncompared) = match &arguments.asked.same_as {
        None => (Known::default(), 0),
        Some(file) => match Known::of(file, projects, terminal) {
            Some(known) => known,
            None => return Ok(None),
        },
    };
    let look = |ready: &Ready| {
        // Where nothing else is asked, nothing is graded.
        if *ready.conditions != Conditions::default() {
            ready.graded()?;
        }
        Own::of(ready.met).map(|own| own.map(Box::new)).transpose()
    };
    let mut tally = arguments.each(projects, terminal, look, |own, tally, terminal| {
        let Ok(own) = own else {
            tally.uncompared += 1;
            return Ok(());
        };
        if let Some(same) = known.same(&own) {
            tally.fitting += 1;
            let written = || match arguments.format {
                Format::Json => same.as_json(),
                Format::Human => same.as_text(),
            };
            return if tally.fitting <= arguments.most() { terminal.print(&written()) } else { Ok(()) };
        }
        if arguments.asked.repeated {
            known.learn(&own);
        }
        Ok(())
    })?;
    tally.uncompared += uncompared;
    Ok(Some(tally))
}

/// The puzzles that others are compared with, the first of each kind. Of a puzzle of size 9 about 160 bytes are kept: of what
/// it is, as little as it takes to work out its form again.
#[derive(Default)]
struct Known {
    firsts: Firsts<First>,
    files: Vec<String>,
    layouts: Vec<Arc<Layout>>,
    /// Of all of them, one behind the other, the id, the title and the givens.
    text: String,
}

/// The first puzzle of its kind.
struct First {
    file: u32,
    layout: u32,
    line: usize,
    /// Where its text begins, and how long its parts are.
    begin: usize,
    id: u32,
    title: u32,
}

/// A puzzle to be compared: it has exactly one solution.
struct Own {
    file: String,
    line: usize,
    id: Option<String>,
    title: String,
    layout: Arc<Layout>,
    givens: Grid,
    form: Form,
}

/// A puzzle that is the same as one that is known.
struct Same<'a> {
    own: &'a Own,
    file: &'a str,
    line: usize,
    id: Option<&'a str>,
    title: &'a str,
    how: String,
}

/// It, as a line of JSON.
#[derive(Serialize)]
struct SameLine<'a> {
    file: &'a str,
    line: usize,
    id: Option<&'a str>,
    same_as: FirstPlace<'a>,
    how: &'a str,
}

#[derive(Serialize)]
struct FirstPlace<'a> {
    file: &'a str,
    id: Option<&'a str>,
}

impl Own {
    /// The puzzle, unless it has not exactly one solution.
    ///
    /// # Errors
    /// If it cannot be compared.
    fn of(met: &Met) -> Result<Option<Own>, Undecided> {
        let (Some((_, givens, form)), Some(layout)) = (met.puzzle.form().transpose()?, &met.puzzle.layout)
        else {
            return Ok(None);
        };
        Ok(Some(Own {
            file: met.file.to_owned(),
            line: met.line(),
            id: met.puzzle.id.as_ref().map(|id| id.text.clone()),
            title: met.puzzle.title.join(" "),
            layout: Arc::clone(layout),
            givens: givens.clone(),
            form: form.clone(),
        }))
    }
}

impl Known {
    /// The puzzles of a file, and how many of them cannot be compared; `None` if it cannot be read, which is said.
    fn of(file: &Path, projects: &mut Projects, terminal: &mut Terminal) -> Option<(Known, usize)> {
        let (mut known, mut uncompared) = (Known::default(), 0);
        let look = |met: &Met, _: &mut Telling| Own::of(met);
        let taken = Puzzles::of(file).each(&[], projects, terminal, look, |own, _| {
            uncompared += usize::from(own.is_err());
            if let Some(own) = own.ok().flatten().filter(|own| known.same(own).is_none()) {
                known.learn(&own);
            }
            Ok(())
        });
        taken.ok().filter(|()| !terminal.is_troubled())?;
        Some((known, uncompared))
    }

    /// What is known that this puzzle is the same as.
    fn same<'a>(&'a self, own: &'a Own) -> Option<Same<'a>> {
        let is_same = |first: &First| self.formed(first).is_some_and(|(.., form)| form == own.form);
        let first = self.firsts.find(&own.form, is_same)?;
        let (layout, givens, form) = self.formed(first)?;
        let how = how((layout, &givens, &form), (&own.layout, &own.givens, &own.form))?;
        let (id, title, _) = self.texts(first);
        Some(Same {
            own,
            file: self.files.get(first.file as usize)?,
            line: first.line,
            id: Some(id).filter(|id| !id.is_empty()),
            title,
            how: how.told(&givens),
        })
    }

    /// Takes in a puzzle like which there is none yet.
    fn learn(&mut self, own: &Own) {
        let id = own.id.as_deref().unwrap_or_default();
        let (Some(id_len), Some(title_len)) = (length(id), length(&own.title)) else { return };
        if self.files.last() != Some(&own.file) {
            self.files.push(own.file.clone());
        }
        let layout = self.layouts.iter().position(|layout| *layout == own.layout);
        let layout = layout.unwrap_or_else(|| {
            self.layouts.push(Arc::clone(&own.layout));
            self.layouts.len() - 1
        });
        let (Ok(file), Ok(layout)) = (u32::try_from(self.files.len() - 1), u32::try_from(layout)) else {
            return;
        };
        let begin = self.text.len();
        self.text.extend([id, &own.title]);
        self.text.extend(own.givens.cells().iter().map(|digit| digit.map_or('.', Digit::symbol)));
        let first = First { file, layout, line: own.line, begin, id: id_len, title: title_len };
        self.firsts.add(&own.form, first);
    }

    /// The id, the title and the givens of a puzzle.
    fn texts(&self, first: &First) -> (&str, &str, &str) {
        let cells = self.layouts.get(first.layout as usize).map_or(0, |layout| layout.size().cells());
        let (id, rest) = self.text[first.begin..].split_at(first.id as usize);
        let (title, rest) = rest.split_at(first.title as usize);
        (id, title, &rest[..cells])
    }

    /// A puzzle and its form, as they were when it was learnt.
    fn formed(&self, first: &First) -> Option<(&Layout, Grid, Form)> {
        let layout = self.layouts.get(first.layout as usize)?;
        let givens = Grid::from_line(self.texts(first).2).ok()?;
        let form = canonical(layout, &givens, sameness::Budget::default()).ok()?.form;
        Some((layout, givens, form))
    }
}

fn length(text: &str) -> Option<u32> {
    u32::try_from(text.len()).ok()
}

impl Same<'_> {
    /// As a sentence.
    fn as_text(&self) -> String {
        let own = heading_of(&self.own.file, self.own.line, self.own.id.as_deref(), &self.own.title);
        let first = heading_of(self.file, self.line, self.id, self.title);
        format!("{own}: the same as {first}: {}\n", self.how)
    }

    /// As a line of JSON.
    fn as_json(&self) -> String {
        json::line(&SameLine {
            file: &self.own.file,
            line: self.own.line,
            id: self.own.id.as_deref(),
            same_as: FirstPlace { file: self.file, id: self.id },
            how: &self.how,
        })
    }
}
