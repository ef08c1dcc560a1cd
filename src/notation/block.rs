//! Indented lines: those of the open block, and those that have lost it.

use super::claim::read_claim_line;
use super::line::{bad_symbol, first_word, is_frame, is_plain_row, is_token, pieces, without_comment};
use super::look::{Look, looks_like_walk};
use super::outer::near;
use super::prose::open_brace;
use super::reader::{Open, Reader};
use super::step::read_step_line;
use super::{Block, Fault, FaultKind, Keyword, LineKind, Span, StepLine, is_blank, is_gap};

impl Reader<'_> {
    /// Reads an indented line, or one that should have been.
    pub(super) fn inner(&mut self, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        let block = self.open.map_or(Block::None, |open| open.block);
        if line.starts_with('#') && block != Block::Prose {
            return LineKind::Comment;
        }
        let kind = match block {
            Block::Prose => self.prose(inner),
            Block::Kept => LineKind::Kept,
            Block::Known => self.claim(inner),
            Block::Steps => self.step(inner),
            Block::Grid if is_plain_row(line.as_bytes()) => self.sound_row(),
            Block::Grid | Block::Work | Block::None => match first_word(line).and_then(Keyword::named) {
                Some(keyword) => return self.indented_statement(keyword, inner),
                None if block == Block::None => return self.homeless(inner),
                None => self.row_of(block, inner),
            },
        };
        if kind != LineKind::Statement {
            self.extend_block();
        }
        kind
    }

    /// A row of the open grid that needs no closer look.
    pub(super) fn plain_row(&mut self) -> LineKind {
        self.extend_block();
        self.sound_row()
    }

    /// Makes the open block reach to the line that is being read.
    fn extend_block(&mut self) {
        let end = self.here() + 1;
        if let Some(open) = self.open {
            self.section.statements[open.statement].block.end = end;
        }
    }

    fn breaks_block(&mut self) {
        if let Some(open) = self.open {
            self.section.statements[open.statement].broken = true;
        }
    }

    fn indented_statement(&mut self, keyword: Keyword, inner: Span) -> LineKind {
        let word = self.keyword_span(inner);
        self.run_fault(word, FaultKind::StatementIndented(keyword));
        let run = self.run;
        let kind = self.statement(keyword, inner, true);
        self.run = run;
        kind
    }

    /// An indented line where no block is open.
    fn homeless(&mut self, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        if let Some(look) = Look::of(line) {
            return self.lost_block(inner, look);
        }
        if let Some((word, keyword)) = first_word(line).and_then(near) {
            return self.near_statement(word, keyword, inner);
        }
        self.run_fault(inner, FaultKind::BlockWithoutStart(None));
        LineKind::Kept
    }

    /// Rows, claims or lines of a walk where they cannot be: the block that they look like begins here.
    pub(super) fn lost_block(&mut self, inner: Span, look: Look) -> LineKind {
        let keyword = look.keyword();
        self.run_fault(inner, FaultKind::BlockWithoutStart(Some(keyword)));
        let statement = self.push_statement(Some(keyword), inner.first(0), Vec::new());
        let here = self.here();
        self.section.statements[statement].broken = true;
        self.section.statements[statement].block = here..here;
        if let Some(item) = self.section.items.last_mut() {
            item.unsure = true;
        }
        // Its lines may stand in column 1 as the first does; that is not worth a word of its own.
        self.open = Some(Open { statement, keyword, block: keyword.shape().block, outdented: true });
        self.inner(inner)
    }

    /// A line of a grid or a sheet.
    fn row_of(&mut self, block: Block, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        if looks_like_walk(line) {
            return self.lost_block(inner, Look::Walk);
        }
        let row = without_comment(line);
        if is_frame(row) {
            return LineKind::Frame;
        }
        if block == Block::Work { self.sheet_row(row, inner) } else { self.grid_row(row, inner) }
    }

    fn grid_row(&mut self, row: &str, inner: Span) -> LineKind {
        let bar = || row.char_indices().next().filter(|_| row.chars().all(is_gap));
        if let Some((at, c)) = bad_symbol(row).or_else(bar) {
            let span = Span::new(at, at + c.len_utf8()).shifted(inner.start as usize);
            self.run_fault(span, FaultKind::RowUnreadable(c));
            self.breaks_block();
            return LineKind::Kept;
        }
        self.sound_row()
    }

    fn sound_row(&mut self) -> LineKind {
        self.grid_seen |=
            self.open.is_some_and(|open| matches!(open.keyword, Keyword::Givens | Keyword::Position));
        LineKind::Row
    }

    fn sheet_row(&mut self, row: &str, inner: Span) -> LineKind {
        let bars = || row.chars().all(is_gap).then_some((0, row.trim_end_matches(is_blank)));
        if let Some((at, piece)) = pieces(row).find(|(_, piece)| !is_token(piece)).or_else(bars) {
            let span = Span::new(at, at + piece.len()).shifted(inner.start as usize);
            self.run_fault(span, FaultKind::MarkUnreadable);
            self.breaks_block();
            return LineKind::Kept;
        }
        LineKind::Tokens
    }

    fn prose(&mut self, inner: Span) -> LineKind {
        self.check_braces(inner);
        LineKind::Prose
    }

    fn check_braces(&mut self, span: Span) {
        self.section.faults.extend(open_brace(self.text, span));
    }

    fn claim(&mut self, inner: Span) -> LineKind {
        match read_claim_line(self.text, inner) {
            Ok(claim) => {
                self.section.claims.push((inner.start, claim));
                LineKind::Claim
            }
            Err(fault) => self.strayed(inner, fault),
        }
    }

    fn step(&mut self, inner: Span) -> LineKind {
        match read_step_line(self.text, inner) {
            Ok(step) => {
                match &step {
                    StepLine::Say(prose) => self.check_braces(*prose),
                    StepLine::Ask(question, _) => self.check_braces(*question),
                    StepLine::Show(show) => {
                        show.caption.into_iter().for_each(|caption| self.check_braces(caption));
                    }
                    _ => {}
                }
                self.section.steps.push((inner.start, step));
                LineKind::Step
            }
            Err(fault) => self.strayed(inner, fault),
        }
    }

    /// A line of a walk or of remembered facts that cannot be read as one.
    fn strayed(&mut self, inner: Span, fault: Fault) -> LineKind {
        let line = inner.of(self.text);
        if !looks_like_walk(line) {
            if let Some(keyword) = first_word(line).and_then(Keyword::named) {
                return self.indented_statement(keyword, inner);
            }
            if let Some(look @ (Look::Row | Look::Sheet)) = Look::of(line).filter(|_| line.contains(is_gap)) {
                return self.lost_block(inner, look);
            }
        }
        self.run_fault(fault.span, fault.kind);
        self.breaks_block();
        LineKind::Kept
    }
}
