//! From foreign text to the notation.

use super::symbols::Look;
use super::write::{Survey, Writer};
use super::{Columns, Form, Trouble, TroubleKind, form, grids, list, table};
use crate::board::Grid;

/// A text from elsewhere.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Foreign<'a> {
    /// What people call it.
    pub name: &'a str,
    /// What it says.
    pub text: &'a str,
}

/// How to read foreign texts.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ImportOptions {
    /// The form that each has; found out where it is `None`.
    pub form: Option<Form>,
    /// What the columns of a table are; where it is `Some`, each text is a table, whatever its form seems to be.
    pub columns: Option<Columns>,
    /// What ids begin with that are made for puzzles without one; a hyphen and a number follow. Of what is no letter and
    /// no digit a hyphen is made; of nothing, `puzzle`.
    pub prefix: String,
}

impl Default for ImportOptions {
    fn default() -> Self {
        ImportOptions { form: None, columns: None, prefix: "puzzle".into() }
    }
}

/// Foreign texts in the notation.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Imported {
    /// The form that each text was read as.
    pub forms: Vec<Form>,
    /// A whole file of the notation: the rows that could be read as puzzles, all else as comments, in the order in
    /// which they stood. Empty where it was handed on in pieces.
    pub text: String,
    /// How many puzzles that is.
    pub puzzles: usize,
    /// How many rows are kept as comments because they could not be read.
    pub left: usize,
    /// What is not as it was, in the order of texts and lines.
    pub troubles: Vec<Trouble>,
}

/// Puts foreign texts into the notation, one after the other. Every row is in the result, as a puzzle or as a comment,
/// and no two puzzles have one id.
///
/// An empty cell may be written `.`, `0`, `_`, `*`, `-` or with a middle dot. Letters are digits from ten, and never
/// read as a digit that they look like.
pub fn import(texts: &[Foreign], how: &ImportOptions) -> Imported {
    let mut text = String::new();
    let imported = import_in_pieces(texts, how, &mut |piece| text.push_str(piece));
    Imported { text, ..imported }
}

/// The same; each piece of the result is handed on once it is known, and not kept.
pub fn import_in_pieces(texts: &[Foreign], how: &ImportOptions, hand_on: &mut dyn FnMut(&str)) -> Imported {
    let texts: Vec<(Foreign, Form)> = texts
        .iter()
        .map(|&Foreign { name, text }| {
            let text = text.strip_prefix('\u{feff}').unwrap_or(text);
            let form = match (&how.columns, how.form) {
                (Some(_), _) => Form::Table,
                (None, Some(form)) => form,
                (None, None) => form::recognise(text),
            };
            (Foreign { name, text }, form)
        })
        .collect();
    // Twice over each text: ids that are made must differ from all that stand there, further down too.
    let mut survey = Survey::default();
    for &(Foreign { text, .. }, form) in &texts {
        read(text, form, how, &mut |piece| survey.look_at(&piece));
    }
    let mut writer = Writer::new(survey, &how.prefix, hand_on);
    for &(Foreign { name, text }, form) in &texts {
        // One text needs no name.
        writer.begin(if texts.len() > 1 { name } else { "" });
        read(text, form, how, &mut |piece| writer.write(piece));
    }
    writer.finish(texts.into_iter().map(|(_, form)| form).collect())
}

fn read<'a>(text: &'a str, form: Form, how: &ImportOptions, emit: &mut dyn FnMut(Piece<'a>)) {
    match form {
        Form::List => list::read(text, emit),
        Form::Grids => grids::read(text, emit),
        Form::Table => table::read(text, how.columns.as_ref(), emit),
    }
}

/// Where something stands in the foreign text.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Place {
    /// From 1.
    pub line: usize,
    /// In characters, from 1.
    pub column: usize,
}

/// What a reader makes of a row.
pub(super) enum Piece<'a> {
    /// It is kept as it stands.
    Kept {
        /// As it stands, of one line or several.
        raw: &'a str,
        /// Why it is no puzzle, if it might be one.
        trouble: Option<(Place, TroubleKind)>,
    },
    /// It is a puzzle.
    Puzzle(Box<Draft<'a>>),
}

/// A puzzle as it is read, before it has its id.
pub(super) struct Draft<'a> {
    /// Where the givens begin.
    pub place: Place,
    /// The id as written; empty where one was to be expected.
    pub id: Option<Id>,
    /// The title; its lines are lines of the title.
    pub title: String,
    pub givens: Grid,
    pub look: Look,
    pub solution: Option<Grid>,
    pub level: Option<u32>,
    pub number: Option<u32>,
    /// What has no statement of its own: key and value.
    pub extras: Vec<(String, String)>,
    /// Comments of its row.
    pub remarks: Vec<&'a str>,
    pub troubles: Vec<(Place, TroubleKind)>,
}

/// An id as written.
pub(super) struct Id {
    pub text: String,
    pub place: Place,
}

impl Draft<'_> {
    pub(super) fn new(place: Place, givens: Grid, look: Look) -> Self {
        Draft {
            place,
            id: None,
            title: String::new(),
            givens,
            look,
            solution: None,
            level: None,
            number: None,
            extras: Vec::new(),
            remarks: Vec::new(),
            troubles: Vec::new(),
        }
    }

    /// Keeps what a field says as `extra`, and says why.
    pub(super) fn keep(&mut self, key: &str, value: &str, place: Place, why: TroubleKind) {
        self.extras.push((key.into(), value.into()));
        self.troubles.push((place, why));
    }

    /// Whether a grid is full, of the same size, and has all the givens.
    pub(super) fn is_solved_by(&self, grid: &Grid) -> bool {
        let same = grid.size() == self.givens.size();
        same && grid.is_full() && self.givens.digits().all(|(cell, digit)| grid[cell] == Some(digit))
    }
}
