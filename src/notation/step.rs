//! The lines of a walk, as written.

use super::{CellRange, Claim, Digits, HouseRef, Place, Span};

/// One line of a `steps` block.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum StepLine {
    /// `> prose`: what the teacher says; the span is the prose after the sign.
    Say(Span),
    /// One step: claims, and the reason that they share.
    Step(Vec<Claim>, Option<Reason>),
    /// A diagram here.
    Show(Show),
    /// A question to the reader: its string (with quotes), and the claims that answer it.
    Ask(Span, Vec<Claim>),
    /// `point NAME`: the name.
    Point(Span),
    /// `finish [by …]`: the patterns named.
    Finish(Vec<Span>),
    /// `allow NAME "why"`: the finding's name and the string (with quotes).
    Allow(Span, Span),
}

/// The reason of a step: a pattern or a way of seeing, and what it names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reason {
    /// The whole reason, without `by`.
    pub span: Span,
    /// The pattern's name, as written.
    pub pattern: Span,
    /// What it names, in the order written.
    pub names: Vec<Named>,
}

/// Something that a [`Reason`] names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Named {
    /// A house that takes part.
    House(HouseRef),
    /// Cells that take part.
    Cells(CellRange),
    /// `of DIGITS`.
    Digits(Digits),
    /// `with CELLS`: an earlier fact, by its cells.
    WithCells(Vec<CellRange>),
    /// `with DIGITS of HOUSE`: an earlier fact, by digit and house.
    WithDigit(Digits, HouseRef),
}

/// A diagram: `show [why] [only P] [shade P] [ring P] [marks …] ["caption"]`, parts in any order.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Show {
    /// `why`: draw the witnesses of the next step.
    pub why: bool,
    /// The parts in the order written.
    pub parts: Vec<ShowPart>,
    /// The caption, with its quotes.
    pub caption: Option<Span>,
}

/// One part of a [`Show`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ShowPart {
    /// `only P`: draw nothing else.
    Only(Vec<Place>),
    /// `shade P`.
    Shade(Vec<Place>),
    /// `ring P`.
    Ring(Vec<Place>),
    /// `marks all`.
    MarksAll,
    /// `marks none`.
    MarksNone,
    /// `marks known`.
    MarksKnown,
    /// `marks 46`.
    MarksOf(Digits),
}

pub(super) fn read_step_line(_text: &str, span: Span) -> Result<StepLine, super::Fault> {
    Ok(StepLine::Say(span))
}
