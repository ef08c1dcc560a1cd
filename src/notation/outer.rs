//! Lines in column 1: statements, and what should have been indented or has lost its statement.

use super::claim::read_claim_line;
use super::line::{bad_symbol, first_word, values, without_comment};
use super::look::{Look, looks_like_walk};
use super::reader::{Open, Reader};
use super::step::read_step_line;
use super::{Block, FaultKind, Keyword, LineKind, Span, is_blank};

impl Reader<'_> {
    /// Reads a line that stands in column 1.
    pub(super) fn outer(&mut self, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        let word = first_word(line);
        if let Some(keyword) = word.and_then(Keyword::named) {
            // `house NAME` begins a claim too.
            let claim = keyword == Keyword::House && self.reads_as_walk(inner);
            return if claim { self.outdented(inner) } else { self.statement(keyword, inner, false) };
        }
        // So does `region K`, which is nearly `regions`.
        let walk = self.open.is_some_and(|open| matches!(open.block, Block::Known | Block::Steps));
        if let Some((word, keyword)) = word.filter(|_| !(walk && looks_like_walk(line))).and_then(near) {
            return self.near_statement(word, keyword, inner);
        }
        if self.looks_at_home(inner) {
            return self.outdented(inner);
        }
        if let Some(look) = Look::of(line) {
            return self.lost_block(inner, look);
        }
        self.unknown_statement(inner)
    }

    /// A line of the open block that stands in column 1.
    pub(super) fn outdented(&mut self, inner: Span) -> LineKind {
        if let Some(open) = self.open.as_mut().filter(|open| !open.outdented) {
            open.outdented = true;
            let keyword = open.keyword;
            self.fault(inner, FaultKind::NotIndented(keyword));
        }
        self.inner(inner)
    }

    /// Whether a line in column 1 looks like a line of the open block.
    fn looks_at_home(&self, inner: Span) -> bool {
        let line = inner.of(self.text);
        let Some(open) = self.open else { return false };
        match open.block {
            Block::None | Block::Kept => false,
            Block::Prose => true,
            Block::Known | Block::Steps => looks_like_walk(line),
            Block::Grid if open.keyword == Keyword::Regions => bad_symbol(without_comment(line)).is_none(),
            Block::Grid | Block::Work => matches!(Look::of(line), Some(Look::Row | Look::Sheet)),
        }
    }

    fn reads_as_walk(&self, inner: Span) -> bool {
        match self.open.map(|open| open.block) {
            Some(Block::Known) => read_claim_line(self.text, inner).is_ok(),
            Some(Block::Steps) => read_step_line(self.text, inner).is_ok(),
            _ => false,
        }
    }

    fn unknown_statement(&mut self, inner: Span) -> LineKind {
        let word = inner.of(self.text).split(is_blank).next().unwrap_or_default();
        let span = inner.first(word.len());
        self.run_fault(span, FaultKind::UnknownStatement(None));
        let statement = self.push_statement(
            None,
            span,
            values(self.text, Span::new(span.end as usize, inner.end as usize)).values,
        );
        self.section.statements[statement].broken = true;
        // Its indented lines are kept with it: nobody can say what they are.
        self.open = Some(Open { statement, keyword: Keyword::Plan, block: Block::Kept, outdented: false });
        LineKind::Statement
    }
}

/// A word with the statement that it nearly is.
pub(super) fn near(word: &str) -> Option<(&str, Keyword)> {
    Some((word, Keyword::near(word)?))
}
