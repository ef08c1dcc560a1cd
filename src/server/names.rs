//! Ids: where each is borne and where it is named, in all files that are looked at together.

use super::convert::Lines;
use super::place::Place;
use super::state::Snapshot;
use crate::book::{Book, Meaning};
use crate::notation::{Section, Span};
use std::sync::Arc;
use tower_lsp::ls_types::{Location, Uri};

/// A place where an id stands.
#[derive(Clone, Copy)]
pub struct Mention {
    /// Which of [`Snapshot::files`].
    pub file: usize,
    /// Which section of it.
    pub section: usize,
    /// Where in the section.
    pub span: Span,
    /// Whether a puzzle or a lesson bears it here; else it is named.
    pub borne: bool,
}

impl Snapshot {
    /// The files that are looked at together, the text itself first.
    pub fn files(&self) -> impl Iterator<Item = (&Uri, &Arc<Book>)> {
        std::iter::once((&self.uri, &self.book)).chain(self.others.iter().map(|(uri, book)| (uri, book)))
    }

    /// The id that stands at a place, and where.
    pub fn id_at<'a>(&'a self, place: &Place<'a>) -> Option<(&'a str, Span)> {
        let here = |mention: &Mention| mention.span.start <= place.byte && place.byte <= mention.span.end;
        let mention = of_section(&self.book, 0, place.at).find(here)?;
        Some((place.section.at(mention.span), mention.span))
    }

    /// Where ids stand, of which `wanted` holds, in order of file and place; as far as it comes, if nobody wants it any more.
    pub fn mentions(&self, wanted: impl Fn(&str) -> bool) -> Vec<Mention> {
        let all = 1 + self.others.len();
        let files = self.files().enumerate().take_while(|(file, _)| {
            self.errand.at(*file, Some(all));
            !self.errand.is_called_off()
        });
        files.flat_map(|(file, (_, book))| of_book(book, file, &wanted)).collect()
    }

    /// Where puzzles and lessons bear ids, of which `wanted` holds: prose is not looked through.
    pub fn bearers(&self, wanted: impl Fn(&str) -> bool) -> Vec<Mention> {
        let files = self.files().enumerate();
        let of_file = |(file, (_, book)): (usize, (_, &Arc<Book>))| {
            let sections = book.tree.sections.iter().zip(&book.meanings).enumerate();
            let of_section = |(section, (text, meaning)): (usize, (&Arc<Section>, &Arc<Meaning>))| {
                let ids = meaning.puzzles().filter_map(|puzzle| Some(puzzle.id.as_ref()?.span));
                let ids = ids.filter(|span| wanted(text.at(*span)));
                ids.map(|span| Mention { file, section, span, borne: true }).collect::<Vec<_>>()
            };
            sections.flat_map(of_section).collect::<Vec<_>>()
        };
        files.flat_map(of_file).collect()
    }

    /// The same in the text itself, without a look at other files.
    pub fn mentions_here(&self, wanted: impl Fn(&str) -> bool) -> Vec<Mention> {
        of_book(&self.book, 0, &wanted).collect()
    }

    /// A place of one of [`Snapshot::files`].
    pub fn location(&self, file: usize, section: usize, span: Span) -> Option<Location> {
        let (uri, book) = self.files().nth(file)?;
        let range = match file {
            0 => self.range(section, span),
            _ => Lines::of(book, self.encoding).range(section, span),
        };
        Some(Location { uri: uri.clone(), range })
    }

    /// Mentions as places of files.
    pub fn locations(&self, mentions: &[Mention]) -> Vec<Location> {
        let of_file = |file: &[Mention]| -> Vec<Location> {
            let Some((uri, book)) = self.files().nth(file[0].file) else { return Vec::new() };
            let lines = Lines::of(book, self.encoding);
            let place = |it: &Mention| Location { uri: uri.clone(), range: lines.range(it.section, it.span) };
            file.iter().map(place).collect()
        };
        mentions.chunk_by(|one, next| one.file == next.file).flat_map(of_file).collect()
    }
}

/// The wanted ids of a file.
fn of_book(book: &Book, file: usize, wanted: impl Fn(&str) -> bool + Copy) -> impl Iterator<Item = Mention> {
    let sections = book.tree.sections.iter().enumerate();
    sections.flat_map(move |(at, section)| {
        of_section(book, file, at).filter(move |it| wanted(section.at(it.span)))
    })
}

/// The ids of a section: those that are borne there, then those that are named.
fn of_section(book: &Book, file: usize, section: usize) -> impl Iterator<Item = Mention> {
    let borne = book.meanings[section].puzzles().filter_map(|puzzle| Some(puzzle.id.as_ref()?.span));
    let named = book.references_in(file, section).map(|reference| reference.spot.span);
    let mention = move |borne| move |span| Mention { file, section, span, borne };
    borne.map(mention(true)).chain(named.map(mention(false)))
}
