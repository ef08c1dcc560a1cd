//! What says where cells lie, and what lies where, in another dress.

use super::Dresser;
use crate::board::{BoxShape, Cell, HouseName, Layout};
use crate::book::{Puzzle, Symmetry};
use crate::edit::below;
use crate::notation::{Keyword, Section, Span, Statement, Value, is_blank, read_cells};
use crate::sameness::Transformation;

/// A layout when its cells are moved; `back` takes the move back. `None` if that is none.
pub(super) fn moved(layout: &Layout, back: &Transformation) -> Option<Layout> {
    let size = layout.size();
    let mut new = match (layout.boxes(), layout.regions()) {
        (Some(shape), _) => Layout::with_boxes(size, box_shape(shape, back)).ok()?,
        (None, letters) => {
            let letters: Vec<char> = letters?.chars().collect();
            let forth = back.inverse();
            let letter = |cell: Cell| {
                let source = forth.source(cell);
                letters.get(usize::from(source.row()) * size.usize() + usize::from(source.col())).copied()
            };
            Layout::with_regions(size, &size.all_cells().map(letter).collect::<Option<Vec<_>>>()?).ok()?
        }
    };
    if layout.diagonals() {
        new = new.and_diagonals();
    }
    for house in layout.houses() {
        if let HouseName::Named(name) = &house.name {
            new = new.and_house(name, house.cells.iter().map(|cell| back.source(*cell)).collect()).ok()?;
        }
    }
    Some(new)
}

fn box_shape(shape: BoxShape, how: &Transformation) -> BoxShape {
    if how.transposed() { BoxShape { rows: shape.columns, columns: shape.rows } } else { shape }
}

/// Whether a puzzle says something of this kind itself.
pub(super) fn is_own(section: &Section, puzzle: &Puzzle, keyword: Keyword) -> bool {
    puzzle.blocks(section, keyword).next().is_some()
}

/// The part of a section that a puzzle takes.
pub(super) fn lines_of(section: &Section, puzzle: &Puzzle) -> Span {
    let begin = |at: usize| {
        let statement = section.statements.get(at)?;
        Some(section.lines.get(statement.line as usize)?.span.start as usize)
    };
    let end = begin(puzzle.statements.end).unwrap_or(section.text.len());
    Span::new(begin(puzzle.statements.start).unwrap_or(0), end)
}

impl Dresser<'_> {
    /// A statement that speaks of cells or of the shape of the whole.
    pub fn geometry(&mut self, statement: &Statement) {
        let values = &statement.values;
        let (Some(keyword), Some(first), true) = (statement.keyword, values.first(), self.dress.moves())
        else {
            return;
        };
        let all = |values: &[Value]| Some(values.first()?.span.to(values.last()?.span));
        match keyword {
            Keyword::Boxes => {
                if let (Some(span), Some(shape)) = (all(values), self.dress.to.boxes()) {
                    self.put(span, shape.to_string());
                }
            }
            Keyword::Symmetry => {
                let said = Symmetry::WORDS.iter().find(|(word, _)| *word == self.section.at(first.span));
                if let Some((_, symmetry)) = said {
                    self.put(first.span, self.symmetry(*symmetry).word().to_owned());
                }
            }
            Keyword::House => {
                if let Some(ranges) = all(&values[1..]).and_then(|span| read_cells(&self.section.text, span))
                {
                    self.cells(&ranges);
                }
            }
            Keyword::Allow => {
                let cells: Vec<Value> =
                    values.iter().skip(1).filter(|value| !value.quoted).copied().collect();
                let cells = cells.split_first().and_then(|(_at, cells)| all(cells));
                if let Some(ranges) = cells.and_then(|span| read_cells(&self.section.text, span)) {
                    self.cells(&ranges);
                }
            }
            keyword if keyword.is_constraint() => {
                if let Some(span) = all(values) {
                    self.constraint(keyword, span);
                }
            }
            _ => {}
        }
    }

    /// The cells of a constraint: behind a number, if there is one, and on both sides of a colon.
    fn constraint(&mut self, keyword: Keyword, span: Span) {
        let is_ordered = matches!(keyword, Keyword::Thermometer | Keyword::Arrow);
        let mut start = span.start as usize;
        for part in self.section.at(span).split(':') {
            let number = part.trim_start_matches(is_blank).split(is_blank).next().unwrap_or_default();
            let numbered = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
            let cells = if numbered { part.find(number).unwrap_or(0) + number.len() } else { 0 };
            let here = Span::new(start + cells, start + part.len());
            if let Some(ranges) = read_cells(&self.section.text, here) {
                self.lines_of_cells(&ranges, is_ordered);
            }
            start += part.len() + 1;
        }
    }

    /// What is said for several puzzles, and has to be said otherwise in this one.
    pub fn missing_geometry(&mut self, puzzle: &Puzzle) {
        let mut lines = Vec::new();
        let mut say = |keyword: Keyword, value: String| lines.push(format!("{:<10} {value}", keyword.word()));
        let is_own = |keyword| is_own(self.section, puzzle, keyword);
        if let Some(shape) = self.dress.to.boxes().filter(|shape| self.dress.from.boxes() != Some(*shape))
            && !is_own(Keyword::Boxes)
        {
            say(Keyword::Boxes, shape.to_string());
        }
        if let Some(symmetry) = &puzzle.facts.symmetry
            && self.symmetry(symmetry.value) != symmetry.value
            && !is_own(Keyword::Symmetry)
        {
            say(Keyword::Symmetry, self.symmetry(symmetry.value).word().to_owned());
        }
        let size = puzzle.blocks(self.section, Keyword::Size).next().map(|(_, statement)| statement);
        let head = size.or(self.section.statements.get(puzzle.statements.start));
        if let Some(head) = head.filter(|_| !lines.is_empty()) {
            self.whole.push(below(
                self.section,
                &Statement { block: head.line..head.line, ..head.clone() },
                &lines,
            ));
        }
    }

    fn symmetry(&self, symmetry: Symmetry) -> Symmetry {
        match symmetry {
            Symmetry::MirrorAcross if self.dress.how.transposed() => Symmetry::MirrorDown,
            Symmetry::MirrorDown if self.dress.how.transposed() => Symmetry::MirrorAcross,
            other => other,
        }
    }
}
