//! Puzzles that are the same as others, perhaps in another dress.

use super::json;
use super::puzzles::Met;
use crate::board::{Grid, Layout};
use crate::book::Puzzle;
use crate::sameness::{Canonical, Form, Undecided, how};
use serde::Serialize;
use std::collections::HashMap;
use std::sync::Arc;

/// The puzzles that others are compared with.
#[derive(Default)]
pub struct Known(HashMap<Form, First>);

/// The first puzzle of its kind.
struct First {
    file: String,
    id: Option<String>,
    heading: String,
    canonical: Canonical,
    layout: Arc<Layout>,
    givens: Grid,
}

/// A puzzle that is the same as one that is known.
pub struct Same<'a> {
    first: &'a First,
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

impl Known {
    /// What is known that this puzzle is the same as; nothing for one without exactly one solution.
    ///
    /// # Errors
    /// If it could not be compared.
    pub fn same(&self, puzzle: &Puzzle) -> Result<Option<Same<'_>>, Undecided> {
        let Some(own) = puzzle.form().transpose()? else { return Ok(None) };
        Ok(self.0.get(&own.2.form).and_then(|first| {
            let how = how((&first.layout, &first.givens, &first.canonical), own)?.told(&first.givens);
            Some(Same { first, how })
        }))
    }

    /// Takes the puzzle in, unless there is one like it, or it has not exactly one solution.
    pub fn learn(&mut self, met: &Met) {
        let (Some(Ok((_, givens, canonical))), Some(layout)) = (met.puzzle.form(), &met.puzzle.layout) else {
            return;
        };
        self.0.entry(canonical.form.clone()).or_insert_with(|| First {
            file: met.file.to_owned(),
            id: met.puzzle.id.as_ref().map(|id| id.text.clone()),
            heading: met.heading.clone(),
            canonical: canonical.clone(),
            layout: Arc::clone(layout),
            givens: givens.clone(),
        });
    }
}

impl Same<'_> {
    /// As a sentence.
    pub fn as_text(&self, met: &Met) -> String {
        format!("{}: the same as {}: {}\n", met.heading, self.first.heading, self.how)
    }

    /// As a line of JSON.
    pub fn as_json(&self, met: &Met) -> String {
        json::line(&SameLine {
            file: met.file,
            line: met.line,
            id: met.puzzle.id.as_ref().map(|id| id.text.as_str()),
            same_as: FirstPlace { file: &self.first.file, id: self.first.id.as_deref() },
            how: &self.how,
        })
    }
}
