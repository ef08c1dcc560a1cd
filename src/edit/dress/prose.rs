//! Prose in another dress: what its braces name. Text outside of braces is never read.

use super::{Dress, Dresser};
use crate::book::Puzzle;
use crate::notation::{BraceReads, LineKind, Section, Span, braces, is_blank};

impl Dresser<'_> {
    /// The braces in a line of prose, a caption or a question.
    pub fn braces(&mut self, prose: Span) {
        for brace in braces(&self.section.text, prose) {
            match &brace.reads {
                BraceReads::Claim(claim) => self.claim(claim),
                BraceReads::Cells(cells) => self.cells(cells),
                BraceReads::Houses(houses) => self.houses(houses),
                BraceReads::Words | BraceReads::IdAt(..) => {}
            }
        }
    }
}

impl Dress {
    /// Where the prose of a puzzle or a lesson names a digit, a line or a cell outside of braces: what that says may not
    /// hold any more, and nobody can tell.
    pub fn figures(&self, section: &Section, puzzle: &Puzzle) -> Vec<Span> {
        let blocks = section.statements[puzzle.statements.clone()].iter().flat_map(|it| section.block(it));
        let prose = blocks.filter_map(|line| match line.kind {
            LineKind::Prose => Some(line.span),
            LineKind::Step => section.step(line)?.prose(),
            _ => None,
        });
        prose.filter_map(|prose| figure(section, prose, self.how.size().side())).collect()
    }
}

/// The first word of some prose outside of braces that may be a digit, the number of a house, or a cell.
fn figure(section: &Section, prose: Span, side: u8) -> Option<Span> {
    let mut text = section.at(prose).to_owned();
    for brace in braces(&section.text, prose) {
        let here = brace.span.start as usize - prose.start as usize;
        text.replace_range(here..here + brace.span.len(), &" ".repeat(brace.span.len()));
    }
    let bare = text.split(is_blank).map(|word| word.trim_matches(|c: char| !c.is_alphanumeric()));
    let found = bare.into_iter().find(|word| names(word, side))?;
    let at = found.as_ptr() as usize - text.as_ptr() as usize;
    Some(Span::new(at, at + found.len()).shifted(prose.start as usize))
}

/// Whether a word is a number up to the size, or has the look of a cell: a letter and a number, once or twice.
fn names(word: &str, side: u8) -> bool {
    let is_number = |text: &str| text.parse().is_ok_and(|number: u8| (1..=side).contains(&number));
    let is_pair = |text: &str| text.strip_prefix(|c: char| c.is_ascii_alphabetic()).is_some_and(is_number);
    let middle = word.char_indices().skip(1).find(|(_, c)| c.is_ascii_alphabetic());
    let is_cell = middle.is_some_and(|(at, _)| is_pair(&word[..at]) && is_pair(&word[at..]));
    is_number(word) || is_pair(word) || is_cell
}
