//! Prose, and the checked references in its braces.

use super::claim::{read_cells, read_claim, read_houses};
use super::line::{is_blank, trimmed};
use super::scan::place;
use super::{CellRange, Claim, Fault, FaultKind, HouseRef, Span};

/// A reference in braces, in prose.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Brace {
    /// From the opening brace to the closing one.
    pub span: Span,
    /// What stands between, without blanks at the ends.
    pub inner: Span,
    /// How it reads.
    pub reads: BraceReads,
}

/// How the text between braces reads; tried in this order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum BraceReads {
    /// A claim, to be checked at this point.
    Claim(Claim),
    /// Cells, one or several.
    Cells(Vec<CellRange>),
    /// Houses, one or several.
    Houses(Vec<HouseRef>),
    /// Words: a pattern's name or an id, to be looked up.
    Words,
    /// `ID at POINT`: both spans.
    IdAt(Span, Span),
}

/// The braces in a line of prose, a caption or a question, and the first one that is not closed. `{{` is a brace to be
/// printed, and begins no reference; `}` alone is text.
pub fn braces(text: &str, span: Span) -> (Vec<Brace>, Option<Fault>) {
    let prose = span.of(text);
    let mut braces = Vec::new();
    let mut fault = None;
    let mut at = 0;
    while let Some(open) = prose[at..].find('{').map(|found| at + found) {
        let inner = open + 1;
        let end = prose[inner..].find(['{', '}']).map(|found| inner + found);
        at = match end {
            Some(end) if prose[end..].starts_with('}') => {
                let here = |from, to| Span::new(from, to).shifted(span.start as usize);
                let inner = trimmed(text, here(inner, end));
                braces.push(Brace { span: here(open, end + 1), inner, reads: reads(text, inner) });
                end + 1
            }
            Some(end) if end == inner => inner + 1,
            _ => {
                let open = span.start as usize + open;
                fault.get_or_insert(Fault { span: Span::new(open, open + 1), kind: FaultKind::BraceOpen });
                end.unwrap_or(prose.len())
            }
        }
    }
    (braces, fault)
}

/// How the text between braces reads.
fn reads(text: &str, inner: Span) -> BraceReads {
    read_claim(text, inner)
        .map(BraceReads::Claim)
        .or_else(|| read_cells(text, inner).map(BraceReads::Cells))
        .or_else(|| read_houses(text, inner).map(BraceReads::Houses))
        .or_else(|| id_at(text, inner))
        .unwrap_or(BraceReads::Words)
}

/// `ID at POINT`
fn id_at(text: &str, inner: Span) -> Option<BraceReads> {
    let mut words = inner.of(text).split(is_blank).filter(|word| !word.is_empty());
    match (words.next(), words.next(), words.next(), words.next()) {
        (Some(id), Some("at"), Some(point), None) => {
            Some(BraceReads::IdAt(place(text, id), place(text, point)))
        }
        _ => None,
    }
}
