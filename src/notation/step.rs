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
fn step(text: &str) -> impl Piece<'_, StepLine> {
    let by = preceded(
        (blanks, key("by"), blanks0),
        inside(In::Reason, expect("the name of a pattern, after `by`", reason(text))),
    );
    (claims(text), or_end(expect("a comma and a claim, or `by` and the reason", by)))
        .map(|(claims, reason)| StepLine::Step(claims, reason))
}

/// The end of the line, or else this.
fn or_end<'a, T>(parser: impl Piece<'a, T>) -> impl Piece<'a, Option<T>> {
    alt((eof.map(|_| None), parser.map(Some)))
}

/// A pattern's name, and what it takes; nothing follows a reason.
fn reason(text: &str) -> impl Piece<'_, Reason> {
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
fn houses_or_cells(text: &str) -> impl Piece<'_, Vec<Named>> {
    fn named(text: &str) -> impl Piece<'_, Vec<Named>> {
        let houses = same_houses(text).map(|houses| houses.into_iter().map(Named::House).collect());
        alt((houses, range(text).map(|cells| vec![Named::Cells(cells)])))
    }
    let after = |word, what| preceded((key(word), blanks0), expect(what, named(text)));
    alt((after("in", "houses or cells, after `in`"), after("at", "houses or cells, after `at`"), named(text)))
}

/// `of DIGITS`
fn of_digits(text: &str) -> impl Piece<'_, Vec<Named>> {
    preceded((key("of"), blanks0), expect("digits, after `of`", digits(text)))
        .map(|digits| vec![Named::Digits(digits)])
}

/// `with DIGITS of HOUSE`, `with CELLS`
fn with_fact(text: &str) -> impl Piece<'_, Vec<Named>> {
    let of = expect("`of` and a house, after the digit", (blanks, key("of"), blanks0));
    let digit = separated_pair(digits(text), of, expect("a house, after `of`", house(text)))
        .map(|(digits, house)| Named::WithDigit(digits, house));
    let fact = alt((digit, ranges(text).map(Named::WithCells)));
    preceded((key("with"), blanks0), expect("cells, or a digit `of` a house, after `with`", fact))
        .map(|fact| vec![fact])
}

/// `show`, its parts in any order, and the caption last; nothing follows it.
fn show(text: &str) -> impl Piece<'_, StepLine> {
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
fn marks(text: &str) -> impl Piece<'_, ShowPart> {
    let which = alt((
        key("all").map(|_| ShowPart::MarksAll),
        key("none").map(|_| ShowPart::MarksNone),
        key("known").map(|_| ShowPart::MarksKnown),
        digits(text).map(ShowPart::MarksOf),
    ));
    preceded((key("marks"), blanks0), expect("`all`, `none`, `known` or digits, after `marks`", which))
}

/// `ask "QUESTION" : CLAIM{, CLAIM}`
fn ask(text: &str) -> impl Piece<'_, StepLine> {
    let question = expect("the question in quotes, after `ask`", preceded(blanks, string));
    let answer =
        expect("`:` and the claim that answers it, after the question", (blanks0, tag(":"), blanks0));
    (preceded(key("ask"), question), preceded(answer, expect("a claim, after `:`", claims(text))))
        .map(move |(question, claims)| StepLine::Ask(place(text, question), claims))
}

/// `point NAME`
fn point(text: &str) -> impl Piece<'_, StepLine> {
    preceded(key("point"), expect("a name in one word, after `point`", preceded(blanks, name)))
        .map(move |name| StepLine::Point(place(text, name)))
}

/// `finish [by PATTERN{, PATTERN}]`
fn finish(text: &str) -> impl Piece<'_, StepLine> {
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
fn allow(text: &str) -> impl Piece<'_, StepLine> {
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

#[cfg(test)]
mod tests {
    use super::super::claim::tests::{
        any_line, lies_in, told, told_cells, told_digits, told_fault, told_houses, told_places,
    };
    use super::*;
    use insta::assert_snapshot;
    use proptest::prelude::*;

    fn told_step(text: &str, step: &StepLine) -> String {
        let claims =
            |claims: &[Claim]| claims.iter().map(|claim| told(text, claim)).collect::<Vec<_>>().join(", ");
        match step {
            StepLine::Say(prose) => format!("say({})", prose.of(text)),
            StepLine::Step(said, None) => claims(said),
            StepLine::Step(said, Some(reason)) => {
                format!("{} by {}", claims(said), told_reason(text, reason))
            }
            StepLine::Show(show) => told_show(text, show),
            StepLine::Ask(question, said) => format!("ask({}: {})", question.of(text), claims(said)),
            StepLine::Point(name) => format!("point({})", name.of(text)),
            StepLine::Finish(patterns) => {
                let patterns: Vec<_> = patterns.iter().map(|pattern| pattern.of(text)).collect();
                format!("finish({})", patterns.join("; "))
            }
            StepLine::Allow(name, why) => format!("allow({} {})", name.of(text), why.of(text)),
        }
    }

    fn told_reason(text: &str, reason: &Reason) -> String {
        assert!(reason.span.of(text).starts_with(reason.pattern.of(text)));
        let named = reason.names.iter().map(|named| match named {
            Named::House(house) => told_houses(text, &[*house]),
            Named::Cells(cells) => told_cells(text, &[*cells]),
            Named::Digits(digits) => format!("of {}", told_digits(text, digits)),
            Named::WithCells(cells) => format!("with {}", told_cells(text, cells)),
            Named::WithDigit(digits, house) => {
                format!("with {} of {}", told_digits(text, digits), told_houses(text, &[*house]))
            }
        });
        format!("{}({})", reason.pattern.of(text), named.collect::<Vec<_>>().join("; "))
    }

    fn told_show(text: &str, show: &Show) -> String {
        let parts = show.parts.iter().map(|part| match part {
            ShowPart::Only(places) => format!("only {}", told_places(text, places)),
            ShowPart::Shade(places) => format!("shade {}", told_places(text, places)),
            ShowPart::Ring(places) => format!("ring {}", told_places(text, places)),
            ShowPart::MarksOf(digits) => format!("marks {}", told_digits(text, digits)),
            other => format!("{other:?}"),
        });
        let why = show.why.then(|| "why".to_owned());
        let caption = show.caption.map(|caption| caption.of(text).to_owned());
        format!("show({})", why.into_iter().chain(parts).chain(caption).collect::<Vec<_>>().join("; "))
    }

    fn reads(lines: &str) -> String {
        let read = |line: &str| match read_step_line(line, Span::new(0, line.len())) {
            Ok(step) => told_step(line, &step),
            Err(fault) => told_fault(line, &fault),
        };
        lines.lines().map(read).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn steps_are_read() {
        assert_snapshot!(reads(
            "r2c7 = 2
r3c7 = 9, r3c9 = 4  by counting in box 3  # so it is
r4c1, r6c1 = 46, 7 of box 1 in col 3
49 of box 2 in r1c6 r2c5  by crossing row 3 col 4
r1c1 = 3  by hidden single in col 1 with 3 of box 2 with r5c1 r5c3
r1c1 = 3  by box hidden single
r1c1 = 3  by box hidden single in box 1 at r1c1
r1c1 = 3  by X-Wing of 7 in row 1 2 r4c4..r4c6 region K
r1c1 = 3  by last open cell"
        ), @r"
        is(2,7; 2)
        is(3,7; 9), is(3,9; 4) by counting(box:3)
        is(4,1 6,1; 46), within(7; box:1; col:3)
        within(49; box:2; 1,6 2,5) by crossing(row:3; col:4)
        is(1,1; 3) by hidden single(col:1; with 3 of box:2; with 5,1 5,3)
        is(1,1; 3) by box hidden single()
        is(1,1; 3) by box hidden single(box:1; 1,1)
        is(1,1; 3) by X-Wing(of 7; row:1; row:2; 4,4..4,6; region:K)
        is(1,1; 3) by last open cell()
        ");
    }

    #[test]
    fn other_lines_of_a_walk_are_read() {
        assert_snapshot!(reads(
            r#">
>  Puzzle # 14 opens {r1c1}.
show
show why only box 2 box 3 shade row 3 col 4 ring r1c6 r2c5 "Two # cells"   # said
show marks all ring house window1 why marks 4/6 only r1c1..r2c2
show marks known marks none „He said \”so”
show "He said “so”"
ask "Where does \"7\" go?" : 7 of box 1 in r1c1, r2c2 open
ask "Where?":r1c1=5
point two-kettles.2
point café
finish
finish by hidden single, last open cell
allow step-early "try # here""#
        ), @r#"
        say()
        say(Puzzle # 14 opens {r1c1}.)
        show()
        show(why; only box:2 box:3; shade row:3 col:4; ring 1,6 2,5; "Two # cells")
        show(why; MarksAll; ring house:window1; marks 46; only 1,1..2,2)
        show(MarksKnown; MarksNone; „He said \”so”)
        show("He said “so”")
        ask("Where does \"7\" go?": within(7; box:1; 1,1), open(2,2))
        ask("Where?": is(1,1; 5))
        point(two-kettles.2)
        point(café)
        finish()
        finish(hidden single; last open cell)
        allow(step-early "try # here")
        "#);
    }

    #[test]
    fn what_is_no_step_is_marked() {
        assert_snapshot!(reads(
            "r7c2 =
r7c2 = 4,
r7c2 = 4, x
r7c2 = 44 8
r7c2 = 4 bye
r10c1
shw
shown
needs hidden pears
9 of box 7 in r9c7 by
9 of box 7 in r9c7 by 4
9 of box 7 in r9c7 by in box 7
9 of box 7 in r9c7 by box 7
9 of box 7 in r9c7 by box
9 of box 7 in r9c7 by crossing box
9 of box 7 in r9c7 by crossing box row 4
9 of box 7 in r9c7 by crossing in
9 of box 7 in r9c7 by crossing in 4
9 of box 7 in r9c7 by crossing of
9 of box 7 in r9c7 by crossing of box 4
9 of box 7 in r9c7 by crossing with
9 of box 7 in r9c7 by crossing with box 4
9 of box 7 in r9c7 by crossing with 4
9 of box 7 in r9c7 by crossing with 4 of
9 of box 7 in r9c7 by crossing with 4 of box 1 2
9 of box 7 in r9c7 by crossing in box 1, r1c1 = 3
9 of box 7 in r9c7 by crossing2
9 of box 7 in r9c7 by crossing by counting"
        ), @r"
        r7c2 =[] -- incomplete: digits, after `=`
        r7c2 = 4,[] -- incomplete: a claim, after the comma
        r7c2 = 4, [x] -- unreadable: a claim, after the comma
        is(7,2; 448)
        r7c2 = 4 [bye] -- unreadable: a comma and a claim, or `by` and the reason
        r10c1[] -- incomplete: `=`, `not` or `open`, after the cells
        [shw] -- unreadable: a claim, which begins with cells, digits or houses; or `>`, `show`, `ask`, `point`, `finish` or `allow`
        [shown] -- unreadable: a claim, which begins with cells, digits or houses; or `>`, `show`, `ask`, `point`, `finish` or `allow`
        [needs] hidden pears -- unreadable: a claim, which begins with cells, digits or houses; or `>`, `show`, `ask`, `point`, `finish` or `allow`
        9 of box 7 in r9c7 by[] -- incomplete: the name of a pattern, after `by`
        9 of box 7 in r9c7 by [4] -- reason: the name of a pattern, after `by`
        9 of box 7 in r9c7 by [in] box 7 -- reason: the name of a pattern, after `by`
        9 of box 7 in r9c7 by [box] 7 -- reason: the name of a pattern, after `by`
        9 of box 7 in r9c7 by [box] -- reason: the name of a pattern, after `by`
        9 of box 7 in r9c7 by crossing box[] -- incomplete: the number of the box
        9 of box 7 in r9c7 by crossing box [row] 4 -- reason: the number of the box
        9 of box 7 in r9c7 by crossing in[] -- incomplete: houses or cells, after `in`
        9 of box 7 in r9c7 by crossing in [4] -- reason: houses or cells, after `in`
        9 of box 7 in r9c7 by crossing of[] -- incomplete: digits, after `of`
        9 of box 7 in r9c7 by crossing of [box] 4 -- reason: digits, after `of`
        9 of box 7 in r9c7 by crossing with[] -- incomplete: cells, or a digit `of` a house, after `with`
        9 of box 7 in r9c7 by crossing with [box] 4 -- reason: cells, or a digit `of` a house, after `with`
        9 of box 7 in r9c7 by crossing with 4[] -- incomplete: `of` and a house, after the digit
        9 of box 7 in r9c7 by crossing with 4 of[] -- incomplete: a house, after `of`
        9 of box 7 in r9c7 by crossing with 4 of box 1 [2] -- reason: houses, cells, `of` and digits, or `with` and what is known
        9 of box 7 in r9c7 by crossing in box 1[,] r1c1 = 3 -- reason: houses, cells, `of` and digits, or `with` and what is known
        9 of box 7 in r9c7 by crossing[2] -- reason: houses, cells, `of` and digits, or `with` and what is known
        9 of box 7 in r9c7 by crossing [by] counting -- reason: houses, cells, `of` and digits, or `with` and what is known
        ");
    }

    #[test]
    fn what_is_no_other_line_of_a_walk_is_marked() {
        assert_snapshot!(reads(
            r#"show"x" y
show only
show only shade row 4
show ring r1c1 pink
show marks
show marks some
show marks 4 "so
show "so" ring r1c1
show only house ring r1c1
ask
ask so
ask "so
ask "so"
ask "so" r1c1 = 5
ask "so" :
ask "so" : maybe
ask "so" : r1c1 = 5 by magic
point
point a b
finish with hidden single
finish by
finish by hidden single,
finish by hidden single in box 4
allow
allow step-early
allow step-early because
allow step-early "because
allow step-early "because" so
# nothing"#
        ), @r#"
        show["x"] y -- show: `why`, `only`, `shade`, `ring`, `marks` or a caption in quotes
        show only[] -- incomplete: cells or houses, after `only`
        show only [shade] row 4 -- show: cells or houses, after `only`
        show ring r1c1 [pink] -- show: `why`, `only`, `shade`, `ring`, `marks` or a caption in quotes
        show marks[] -- incomplete: `all`, `none`, `known` or digits, after `marks`
        show marks [some] -- show: `all`, `none`, `known` or digits, after `marks`
        show marks 4 ["so] -- QuoteOpen
        show "so" [ring] r1c1 -- show: `why`, `only`, `shade`, `ring`, `marks` or a caption in quotes
        show(only house:ring 1,1)
        ask[] -- incomplete: the question in quotes, after `ask`
        ask [so] -- unreadable: the question in quotes, after `ask`
        ask ["so] -- QuoteOpen
        ask "so"[] -- incomplete: `:` and the claim that answers it, after the question
        ask "so" [r1c1] = 5 -- unreadable: `:` and the claim that answers it, after the question
        ask "so" :[] -- incomplete: a claim, after `:`
        ask "so" : [maybe] -- unreadable: a claim, after `:`
        ask "so" : r1c1 = 5 [by] magic -- unreadable: nothing more on this line
        point[] -- incomplete: a name in one word, after `point`
        point a [b] -- unreadable: nothing more on this line
        finish [with] hidden single -- unreadable: `by` and patterns
        finish by[] -- incomplete: a pattern, after `by`
        finish by hidden single,[] -- incomplete: a pattern, after the comma
        finish by hidden single [in] box 4 -- reason: a comma and a pattern
        allow[] -- incomplete: the name of a finding, after `allow`
        allow step-early[] -- incomplete: the reason why, in quotes
        allow step-early [because] -- unreadable: the reason why, in quotes
        allow step-early ["because] -- QuoteOpen
        allow step-early "because" [so] -- unreadable: nothing more on this line
        []# nothing -- incomplete: a claim, which begins with cells, digits or houses; or `>`, `show`, `ask`, `point`, `finish` or `allow`
        "#);
    }

    proptest! {
        #[test]
        fn any_line_is_read_or_marked(line in any_line(), before in "\\PC{0,4}", after in "\\PC{0,4}") {
            let text = format!("{before}{line}{after}");
            let span = Span::new(before.len(), before.len() + line.len());
            match read_step_line(&text, span) {
                Ok(step) => step.prose().into_iter().for_each(|prose| lies_in(&text, span, prose)),
                Err(fault) => lies_in(&text, span, fault.span),
            }
        }

        #[test]
        fn a_reason_never_holds_more_than_it_shows(tail in any_line()) {
            let line = format!("r1c1 = 4 by crossing {tail}");
            if let Ok(StepLine::Step(_, Some(reason))) = read_step_line(&line, Span::new(0, line.len())) {
                prop_assert!(content(&line).ends_with(reason.span.of(&line)));
            }
        }
    }

    #[test]
    fn long_lines_are_read_in_one_go() {
        for (head, piece) in [
            ("", "r1c1 = 4,"),
            ("r1c1 = 4 by ", "crossing "),
            ("r1c1 = 4 by x ", "with "),
            ("r1c1 = 4 by x ", "with r1c1 "),
            ("r1c1 = 4 by x ", "in row 1 2 "),
            ("show ", "why "),
            ("show ", "marks all "),
            ("show only ", "r1c1 "),
            ("show ", "\""),
            ("show ", "\\\" "),
            ("finish by ", "box x,"),
            ("point ", "a"),
            ("ask \"", "\\"),
            ("", ">"),
            ("show ", "\u{201c}a\u{201d}#"),
        ] {
            let line = head.to_owned() + &piece.repeat(1 << 17);
            let _ = read_step_line(&line, Span::new(0, line.len()));
        }
    }
}
