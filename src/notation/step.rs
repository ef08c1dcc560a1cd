//! The lines of a walk, as written.

use super::claim::{claims, digits, house, house_word, is_reserved, places, range, ranges, same_houses};
use super::line::{is_blank, is_quote, trimmed};
use super::scan::{
    In, Piece, Read, all, blanks, blanks0, comma, content, expect, inside, key, place, string,
};
use super::{CellRange, Claim, Digits, Fault, HouseRef, Place, Span};
use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag, take_while1};
use nom::combinator::{consumed, eof, opt, recognize, verify};
use nom::multi::{many0, many0_count};
use nom::sequence::{preceded, separated_pair, terminated};
use std::iter::once;

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

impl StepLine {
    /// Where braces stand in it: its prose, or its caption or question with the quotes.
    pub fn prose(&self) -> Option<Span> {
        match self {
            StepLine::Say(prose) | StepLine::Ask(prose, _) => Some(*prose),
            StepLine::Show(show) => show.caption,
            _ => None,
        }
    }
}

/// A line of a `steps` block. `span` is the line from its first word on, and may end in a comment.
///
/// # Errors
/// One, at the first place that cannot be read.
pub fn read_step_line(text: &str, span: Span) -> Result<StepLine, Fault> {
    let line = span.of(text);
    if line.starts_with('>') {
        return Ok(StepLine::Say(trimmed(text, Span { start: span.start + 1, ..span })));
    }
    let kinds = alt((show(text), ask(text), point(text), finish(text), allow(text), step(text)));
    all(text, content(line), expect(CLAIM_OR_WORD, kinds))
}

/// What a line of a walk begins with, for people.
const CLAIM_OR_WORD: &str =
    "a claim, which begins with cells, digits or houses; or `>`, `show`, `ask`, `point`, `finish` or `allow`";

/// `CLAIM{, CLAIM} [by REASON]`
fn step<'a>(text: &'a str) -> impl Piece<'a, StepLine> {
    let by = preceded(
        (blanks, key("by"), blanks0),
        inside(In::Reason, expect("the reason, after `by`", reason(text))),
    );
    (claims(text), or_end(expect("a comma and a claim, or `by` and the reason", by)))
        .map(|(claims, reason)| StepLine::Step(claims, reason))
}

/// The end of the line, or else this.
fn or_end<'a, T>(parser: impl Piece<'a, T>) -> impl Piece<'a, Option<T>> {
    alt((eof.map(|_| None), parser.map(Some)))
}

/// A pattern's name, and what it takes; nothing follows a reason.
fn reason<'a>(text: &'a str) -> impl Piece<'a, Reason> {
    let named = alt((with_fact(text), of_digits(text), houses_or_cells(text)));
    let more = expect("houses, cells, `of` and digits, or `with` and what is known", eof);
    let whole = consumed((pattern, many0(preceded(blanks, named))));
    terminated(whole, more).map(move |(whole, (pattern, names))| Reason {
        span: place(text, whole),
        pattern: place(text, pattern),
        names: names.concat(),
    })
}

/// The name of a pattern, or of a way of seeing. Only its first word can be the word for a house: `box hidden single`.
fn pattern(rest: &str) -> Read<'_, &str> {
    fn word(rest: &str) -> Read<'_, &str> {
        let letters = take_while1(|c: char| c.is_ascii_alphabetic() || c == '-');
        verify(letters, |word: &str| !is_reserved(word)).parse(rest)
    }
    recognize((opt((house_word(), blanks)), word, many0_count((blanks, word)))).parse(rest)
}

/// `HOUSES` or `CELLS`, with `in` or `at` before them or without
fn houses_or_cells<'a>(text: &'a str) -> impl Piece<'a, Vec<Named>> {
    fn named<'a>(text: &'a str) -> impl Piece<'a, Vec<Named>> {
        let houses = same_houses(text).map(|houses| houses.into_iter().map(Named::House).collect());
        alt((houses, range(text).map(|cells| vec![Named::Cells(cells)])))
    }
    let after = |word, what| preceded((key(word), blanks0), expect(what, named(text)));
    alt((after("in", "houses or cells, after `in`"), after("at", "houses or cells, after `at`"), named(text)))
}

/// `of DIGITS`
fn of_digits<'a>(text: &'a str) -> impl Piece<'a, Vec<Named>> {
    preceded((key("of"), blanks0), expect("digits, after `of`", digits(text)))
        .map(|digits| vec![Named::Digits(digits)])
}

/// `with DIGITS of HOUSE`, `with CELLS`
fn with_fact<'a>(text: &'a str) -> impl Piece<'a, Vec<Named>> {
    let of = expect("`of` and a house, after the digit", (blanks, key("of"), blanks0));
    let digit = separated_pair(digits(text), of, expect("a house, after `of`", house(text)))
        .map(|(digits, house)| Named::WithDigit(digits, house));
    let fact = alt((digit, ranges(text).map(Named::WithCells)));
    preceded((key("with"), blanks0), expect("cells, or a digit `of` a house, after `with`", fact))
        .map(|fact| vec![fact])
}

/// `show`, its parts in any order, and the caption last; nothing follows it.
fn show<'a>(text: &'a str) -> impl Piece<'a, StepLine> {
    let drawn = |word, part: fn(Vec<Place>) -> ShowPart, what| {
        preceded((key(word), blanks0), expect(what, places(text))).map(move |places| Some(part(places)))
    };
    let part = alt((
        key("why").map(|_| None),
        drawn("only", ShowPart::Only, "cells or houses, after `only`"),
        drawn("shade", ShowPart::Shade, "cells or houses, after `shade`"),
        drawn("ring", ShowPart::Ring, "cells or houses, after `ring`"),
        marks(text).map(Some),
    ));
    let more = expect("`why`, `only`, `shade`, `ring`, `marks` or a caption in quotes", eof);
    let parts = (many0(preceded(blanks, part)), opt(preceded(blanks, string)), more);
    preceded(key("show"), inside(In::Show, parts)).map(move |(parts, caption, _)| {
        let why = parts.contains(&None);
        let parts = parts.into_iter().flatten().collect();
        StepLine::Show(Show { why, parts, caption: caption.map(|caption| place(text, caption)) })
    })
}

/// `marks all`, `marks none`, `marks known`, `marks DIGITS`
fn marks<'a>(text: &'a str) -> impl Piece<'a, ShowPart> {
    let which = alt((
        key("all").map(|_| ShowPart::MarksAll),
        key("none").map(|_| ShowPart::MarksNone),
        key("known").map(|_| ShowPart::MarksKnown),
        digits(text).map(ShowPart::MarksOf),
    ));
    preceded((key("marks"), blanks0), expect("`all`, `none`, `known` or digits, after `marks`", which))
}

/// `ask "QUESTION" : CLAIM{, CLAIM}`
fn ask<'a>(text: &'a str) -> impl Piece<'a, StepLine> {
    let question = expect("the question in quotes, after `ask`", preceded(blanks, string));
    let answer =
        expect("`:` and the claim that answers it, after the question", (blanks0, tag(":"), blanks0));
    (preceded(key("ask"), question), preceded(answer, expect("a claim, after `:`", claims(text))))
        .map(move |(question, claims)| StepLine::Ask(place(text, question), claims))
}

/// `point NAME`
fn point<'a>(text: &'a str) -> impl Piece<'a, StepLine> {
    preceded(key("point"), expect("a name in one word, after `point`", preceded(blanks, name)))
        .map(move |name| StepLine::Point(place(text, name)))
}

/// `finish [by PATTERN{, PATTERN}]`
fn finish<'a>(text: &'a str) -> impl Piece<'a, StepLine> {
    let others = many0(preceded(comma, expect("a pattern, after the comma", pattern)));
    let patterns = (expect("a pattern, after `by`", pattern), others, expect("a comma and a pattern", eof));
    let by = preceded((blanks, key("by"), blanks0), inside(In::Reason, patterns));
    preceded(key("finish"), or_end(expect("`by` and patterns", by))).map(move |by| {
        let patterns =
            by.map(|(first, others, _)| once(first).chain(others).map(|name| place(text, name)).collect());
        StepLine::Finish(patterns.unwrap_or_default())
    })
}

/// `allow NAME "why"`
fn allow<'a>(text: &'a str) -> impl Piece<'a, StepLine> {
    let finding = expect("the name of a finding, after `allow`", preceded(blanks, name));
    let why = expect("the reason why, in quotes", preceded(blanks, string));
    (preceded(key("allow"), finding), why)
        .map(move |(name, why)| StepLine::Allow(place(text, name), place(text, why)))
}

/// A name that people give: letters of any language, figures, `-`, `.` and `_`.
fn name(rest: &str) -> Read<'_, &str> {
    let beyond_ascii = |c: char| c > '\u{a0}' && !is_blank(c) && !is_quote(c);
    take_while1(|c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_') || beyond_ascii(c))
        .parse(rest)
}
