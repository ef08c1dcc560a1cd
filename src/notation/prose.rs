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

/// The braces in a line of prose, a caption or a question. `{{` is a brace to be printed, and begins no reference; `}` alone
/// is text.
pub fn braces(text: &str, span: Span) -> impl Iterator<Item = Brace> {
    marks(span.of(text)).filter_map(Result::ok).map(move |(open, end)| {
        let here = |from, to| Span::new(from, to).shifted(span.start as usize);
        let inner = trimmed(text, here(open + 1, end));
        Brace { span: here(open, end + 1), inner, reads: reads(text, inner) }
    })
}

/// The first brace in such a line that is not closed.
pub fn open_brace(text: &str, span: Span) -> Option<Fault> {
    let open = span.start as usize + marks(span.of(text)).find_map(Result::err)?;
    Some(Fault { span: Span::new(open, open + 1), kind: FaultKind::BraceOpen })
}

/// The places of the braces in `prose`, one after the other: the opening one and the one that closes it, or `Err` with one
/// that is not closed.
fn marks(prose: &str) -> impl Iterator<Item = Result<(usize, usize), usize>> {
    let mut at = 0;
    std::iter::from_fn(move || {
        loop {
            let open = at + prose[at..].find('{')?;
            let inner = open + 1;
            let end = prose[inner..].find(['{', '}']).map(|found| inner + found);
            match end {
                Some(end) if prose[end..].starts_with('}') => {
                    at = end + 1;
                    return Some(Ok((open, end)));
                }
                Some(end) if end == inner => at = inner + 1,
                _ => {
                    at = end.unwrap_or(prose.len());
                    return Some(Err(open));
                }
            }
        }
    })
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

#[cfg(test)]
mod tests {
    use super::super::claim::tests::{any_line, lies_in, told, told_cells, told_houses};
    use super::*;
    use insta::assert_snapshot;
    use proptest::prelude::*;

    fn told_braces(prose: &str) -> String {
        let span = Span::new(0, prose.len());
        let mut lines = vec![prose.to_owned()];
        lines.extend(braces(prose, span).map(|brace| match &brace.reads {
            BraceReads::Claim(claim) => format!("  claim {}", told(prose, claim)),
            BraceReads::Cells(cells) => format!("  cells {}", told_cells(prose, cells)),
            BraceReads::Houses(houses) => format!("  houses {}", told_houses(prose, houses)),
            BraceReads::IdAt(id, point) => format!("  id {} at {}", id.of(prose), point.of(prose)),
            BraceReads::Words => format!("  words ({})", brace.inner.of(prose)),
        }));
        lines.extend(open_brace(prose, span).map(|fault| {
            assert_eq!(fault.kind, FaultKind::BraceOpen);
            format!("  open at {}", fault.span.start)
        }));
        lines.join("\n")
    }

    #[test]
    fn braces_are_read() {
        let prose = [
            "Begin with { r5c1 } and {r1c1, r2c2..r2c4}, in {box 4} and {row 1 2 col 3}.",
            "Row 6 keeps {r6c5 r6c6 r6c7 = 137}; {row 6 misses 1347}; {7 of box 1 in col 3}; {r1c1 open}.",
            "{hidden pair}, {tm2-014}, {tm2-014 at two-kettles}, {at noon}, {a b at c}, {}, {r1c1 = }",
            "A {{ is a brace, }} is text, {{r1c1}, {{{r1c1}}}.",
            "{r1c1 and {r2c2} and {r3c3",
            "{{{",
            "{",
        ];
        assert_snapshot!(prose.map(told_braces).join("\n"), @r"
        Begin with { r5c1 } and {r1c1, r2c2..r2c4}, in {box 4} and {row 1 2 col 3}.
          cells 5,1
          cells 1,1 2,2..2,4
          houses box:4
          houses row:1 row:2 col:3
        Row 6 keeps {r6c5 r6c6 r6c7 = 137}; {row 6 misses 1347}; {7 of box 1 in col 3}; {r1c1 open}.
          claim is(6,5 6,6 6,7; 137)
          claim misses(row:6; 1347)
          claim within(7; box:1; col:3)
          claim open(1,1)
        {hidden pair}, {tm2-014}, {tm2-014 at two-kettles}, {at noon}, {a b at c}, {}, {r1c1 = }
          words (hidden pair)
          words (tm2-014)
          id tm2-014 at two-kettles
          words (at noon)
          words (a b at c)
          words ()
          words (r1c1 =)
        A {{ is a brace, }} is text, {{r1c1}, {{{r1c1}}}.
          cells 1,1
        {r1c1 and {r2c2} and {r3c3
          cells 2,2
          open at 0
        {{{
          open at 2
        {
          open at 0
        ");
    }

    proptest! {
        #[test]
        fn any_prose_is_read(line in any_line(), before in "\\PC{0,4}", after in "\\PC{0,4}") {
            let text = format!("{before}{line}{after}");
            let span = Span::new(before.len(), before.len() + line.len());
            let mut end = span.start;
            for brace in braces(&text, span) {
                lies_in(&text, span, brace.span);
                lies_in(&text, brace.span, brace.inner);
                let whole = brace.span.of(&text);
                prop_assert!(whole.starts_with('{') && whole.ends_with('}'), "{}", whole);
                prop_assert!(end <= brace.span.start);
                end = brace.span.end;
            }
            if let Some(fault) = open_brace(&text, span) {
                lies_in(&text, span, fault.span);
            }
        }
    }

    #[test]
    fn long_prose_is_read_in_one_go() {
        for piece in ["{", "{ ", "{}", "}", "{r1c1 ", "{r1c1}", "{r1c1 = 4 ", "{{ "] {
            let prose = piece.repeat(1 << 18);
            assert!(braces(&prose, Span::new(0, prose.len())).count() <= 1 << 18);
        }
        let prose = format!("{{{}}}", "r1c1 ".repeat(1 << 18));
        assert_eq!(braces(&prose, Span::new(0, prose.len())).count(), 1);
    }
}
