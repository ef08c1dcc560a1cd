//! Claims, and the cells, houses and digits that they speak of, as written.
//!
//! Nothing here knows the size of the puzzle: `r46c1` is rows 4 and 6 in a 9x9 and row 46 elsewhere, so numbers
//! are kept as they stand, with their places, and are given meaning in `book/`.

use super::line::trimmed;
use super::scan::{Piece, Read, all, blanks, blanks0, comma, content, expect, key, place};
use super::{Fault, Span};
use crate::board::Cell;
use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag, take_while, take_while_m_n};
use nom::character::complete::{digit1, one_of, satisfy};
use nom::combinator::{consumed, eof, opt, recognize, verify};
use nom::multi::{many0, separated_list1};
use nom::sequence::{preceded, terminated};
use std::iter::once;

/// One claim of a step, of a remembered fact, or within braces in prose.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Claim {
    /// The whole claim.
    pub span: Span,
    /// What it says.
    pub says: Says,
}

/// What a [`Claim`] says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Says {
    /// `CELLS = DIGITS`: each of these cells holds one of these digits.
    Is(Vec<CellRange>, Digits),
    /// `CELLS not DIGITS`: none of these cells holds any of these digits.
    Not(Vec<CellRange>, Digits),
    /// `DIGITS of HOUSES in PLACE`, or `… not in PLACE`.
    Within {
        /// The digits spoken of.
        digits: Digits,
        /// Each of these houses has each of the digits there.
        houses: Vec<HouseRef>,
        /// `true` for `not in`.
        elsewhere: bool,
        /// Where.
        place: Vec<Place>,
    },
    /// `HOUSES misses DIGITS`: a look, not a deduction.
    Misses(Vec<HouseRef>, Digits),
    /// `CELLS open`: a look, not a deduction.
    Open(Vec<CellRange>),
}

/// Digits as written: `46`, `4 6` or `4/6`, with the place of each symbol in [`Digits::symbols`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Digits {
    /// From the first symbol to the last.
    pub span: Span,
    /// Each symbol (a capital or a digit sign; never repaired) and where it stands.
    pub symbols: Vec<(char, Span)>,
}

/// A cell as written, `r4c1` or `r46c1`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CellRef {
    /// The whole.
    pub span: Span,
    /// The figures after `r`.
    pub row: Span,
    /// The figures after `c`.
    pub col: Span,
}

/// A cell, or a range `r4c1..r6c3`: a rectangle, or in one line the cells in the order given.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CellRange {
    /// The cell, or where the range begins.
    pub from: CellRef,
    /// Where the range ends, if it is one.
    pub to: Option<CellRef>,
}

impl CellRange {
    /// The whole.
    pub fn span(&self) -> Span {
        self.to.map_or(self.from.span, |to| self.from.span.to(to.span))
    }
}

/// Which kind of house a word names.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum HouseWord {
    /// `row 4`
    Row,
    /// `col 1`
    Col,
    /// `box 6`
    Box,
    /// `region K`
    Region,
    /// `diagonal 1`
    Diagonal,
    /// `house window1`
    House,
}

/// One house: `col 1 2` is two of them with the same word. (`word` spans the word that both share.)
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct HouseRef {
    /// Its kind.
    pub kind: HouseWord,
    /// The place of the word `row`, `col` …
    pub word: Span,
    /// The number, letter or name after it.
    pub name: Span,
}

/// Part of a place: cells, or a house.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Place {
    /// Cells.
    Cells(CellRange),
    /// A house.
    House(HouseRef),
}

/// Why a cell or a range as written does not name cells of a board.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum CellsError {
    /// The cell written there is not on the board.
    Outside(Span),
    /// A range must begin and end with one cell, and there stand several, as in `r46c1`.
    Several(Span),
}

impl CellRef {
    /// The rows and the columns that it names on a board of `side` cells, counted from 1. Up to 9 each figure is one
    /// (`r46c1` is rows 4 and 6; a figure that stands twice counts once), above it is one number. They may lie outside
    /// of the board; 255 stands for all that is larger.
    pub fn numbers(&self, text: &str, side: u8) -> (Vec<u8>, Vec<u8>) {
        let numbers = |figures: Span| {
            let figures = figures.of(text);
            if side > 9 {
                return vec![figures.parse().unwrap_or(u8::MAX)];
            }
            let mut numbers = Vec::new();
            for number in figures.bytes().map(|figure| figure - b'0') {
                if !numbers.contains(&number) {
                    numbers.push(number);
                }
            }
            numbers
        };
        (numbers(self.row), numbers(self.col))
    }

    /// Its cells on a board of `side` cells, row by row in the order written.
    ///
    /// # Errors
    /// If one of them is not on the board.
    pub fn cells(&self, text: &str, side: u8) -> Result<Vec<Cell>, CellsError> {
        let (rows, cols) = self.numbers(text, side);
        if !rows.iter().chain(&cols).all(|number| (1..=side).contains(number)) {
            return Err(CellsError::Outside(self.span));
        }
        Ok(rows.iter().flat_map(|row| cols.iter().map(move |col| Cell::new(row - 1, col - 1))).collect())
    }
}

impl CellRange {
    /// Its cells on a board of `side` cells (at most 25): a rectangle in reading order, cells of one line in the order
    /// that the range runs, those of `r46c1` in the order written.
    ///
    /// # Errors
    /// If a cell of it is not on the board, or a range has no clear corner.
    pub fn cells(&self, text: &str, side: u8) -> Result<Vec<Cell>, CellsError> {
        let Some(to) = &self.to else {
            return self.from.cells(text, side);
        };
        let corner = |cell: &CellRef| match cell.cells(text, side)?[..] {
            [corner] => Ok((corner.row(), corner.col())),
            _ => Err(CellsError::Several(cell.span)),
        };
        let ((top, left), (bottom, right)) = (corner(&self.from)?, corner(to)?);
        let one_line = top == bottom || left == right;
        let run = |a: u8, b: u8| -> Vec<u8> {
            let run = a.min(b)..=a.max(b);
            if one_line && a > b { run.rev().collect() } else { run.collect() }
        };
        let cols = run(left, right);
        Ok(run(top, bottom)
            .into_iter()
            .flat_map(|row| cols.iter().map(move |&col| Cell::new(row, col)))
            .collect())
    }
}

/// The claim that a line of a `known` block is. `span` is the line from its first word on, and may end in a comment.
///
/// # Errors
/// One, at the first place that cannot be read.
pub fn read_claim_line(text: &str, span: Span) -> Result<Claim, Fault> {
    let end = expect("nothing more, as `known` holds one claim a line", eof);
    all(text, content(span.of(text)), terminated(expect(CLAIM, claim(text)), end))
}

/// Cells, one or several, and nothing else; commas may part them.
pub fn read_cells(text: &str, span: Span) -> Option<Vec<CellRange>> {
    read(text, span, cells(text))
}

/// Houses, one or several, and nothing else.
pub fn read_houses(text: &str, span: Span) -> Option<Vec<HouseRef>> {
    read(text, span, houses(text))
}

/// One house and nothing else.
pub fn read_house(text: &str, span: Span) -> Option<HouseRef> {
    read(text, span, house(text))
}

/// Digits and nothing else.
pub fn read_digits(text: &str, span: Span) -> Option<Digits> {
    read(text, span, digits(text))
}

/// A claim and nothing else.
pub(super) fn read_claim(text: &str, span: Span) -> Option<Claim> {
    read(text, span, claim(text))
}

fn read<'a, T>(text: &'a str, span: Span, parser: impl Piece<'a, T>) -> Option<T> {
    all(text, trimmed(text, span).of(text), parser).ok()
}

/// What a claim begins with, for people.
const CLAIM: &str = "a claim, which begins with cells, digits or houses";

/// Claims, parted by commas.
pub(super) fn claims(text: &str) -> impl Piece<'_, Vec<Claim>> {
    (claim(text), many0(preceded(comma, expect("a claim, after the comma", claim(text)))))
        .map(|(first, others)| once(first).chain(others).collect())
}

/// What a claim begins with tells which kind it is.
pub(super) fn claim(text: &str) -> impl Piece<'_, Claim> {
    consumed(alt((about_cells(text), about_houses(text), about_digits(text))))
        .map(move |(whole, says)| Claim { span: place(text, whole), says })
}

/// `CELLS = DIGITS`, `CELLS not DIGITS`, `CELLS open`
fn about_cells(text: &str) -> impl Piece<'_, Says> {
    #[derive(Clone)]
    enum Said {
        Is(Digits),
        Not(Digits),
        Open,
    }
    let is = preceded((blanks0, tag("="), blanks0), expect("digits, after `=`", digits(text))).map(Said::Is);
    let not =
        preceded((blanks, key("not"), blanks0), expect("digits, after `not`", digits(text))).map(Said::Not);
    let open = preceded(blanks, key("open")).map(|_| Said::Open);
    (cells(text), expect("`=`, `not` or `open`, after the cells", alt((is, not, open)))).map(
        |(cells, said)| match said {
            Said::Is(digits) => Says::Is(cells, digits),
            Said::Not(digits) => Says::Not(cells, digits),
            Said::Open => Says::Open(cells),
        },
    )
}

/// `HOUSES misses DIGITS`
fn about_houses(text: &str) -> impl Piece<'_, Says> {
    let misses = expect("`misses`, after the houses", (blanks, key("misses"), blanks0));
    let digits = expect("digits, after `misses`", digits(text));
    (houses(text), preceded(misses, digits)).map(|(houses, digits)| Says::Misses(houses, digits))
}

/// `DIGITS of HOUSES [not] in PLACE`
fn about_digits(text: &str) -> impl Piece<'_, Says> {
    let of = expect("`of` and a house, after the digits", (blanks, key("of"), blanks0));
    let not = opt((blanks, key("not"))).map(|not| not.is_some());
    let inside = expect("`in` and the cells or houses that hold them", (blanks, key("in"), blanks0));
    (
        digits(text),
        preceded(of, expect("a house, after `of`", houses(text))),
        not,
        preceded(inside, expect("cells or houses, after `in`", places(text))),
    )
        .map(|(digits, houses, elsewhere, place)| Says::Within { digits, houses, elsewhere, place })
}

/// Cells, parted by blanks or commas.
fn cells(text: &str) -> impl Piece<'_, Vec<CellRange>> {
    let next =
        alt((preceded(comma, expect("a cell, after the comma", range(text))), preceded(blanks, range(text))));
    (range(text), many0(next)).map(|(first, others)| once(first).chain(others).collect())
}

/// Cells, parted by blanks alone.
pub(super) fn ranges(text: &str) -> impl Piece<'_, Vec<CellRange>> {
    separated_list1(blanks, range(text))
}

/// Cells and houses, parted by blanks.
pub(super) fn places(text: &str) -> impl Piece<'_, Vec<Place>> {
    let cells = range(text).map(|range| vec![Place::Cells(range)]);
    let houses = same_houses(text).map(|houses| houses.into_iter().map(Place::House).collect());
    separated_list1(blanks, alt((cells, houses))).map(|groups: Vec<Vec<Place>>| groups.concat())
}

/// A cell, or a range of them.
pub(super) fn range(text: &str) -> impl Piece<'_, CellRange> {
    let to = preceded(
        (blanks0, tag(".."), blanks0),
        expect("the cell that ends the range, after `..`", cell(text)),
    );
    (cell(text), opt(to)).map(|(from, to)| CellRange { from, to })
}

fn cell(text: &str) -> impl Piece<'_, CellRef> {
    consumed((one_of("rR"), digit1, one_of("cC"), digit1)).map(move |(whole, (_, row, _, col))| CellRef {
        span: place(text, whole),
        row: place(text, row),
        col: place(text, col),
    })
}

/// Houses, parted by blanks.
pub(super) fn houses(text: &str) -> impl Piece<'_, Vec<HouseRef>> {
    separated_list1(blanks, same_houses(text)).map(|groups: Vec<Vec<HouseRef>>| groups.concat())
}

/// Houses that share one word: `col 1 2`.
pub(super) fn same_houses<'a>(text: &'a str) -> impl Piece<'a, Vec<HouseRef>> {
    move |rest: &'a str| {
        let (mut rest, first) = house(text).parse(rest)?;
        let mut houses = vec![first];
        while first.kind != HouseWord::House
            && let Ok((after, name)) = preceded(blanks, house_name(first.kind)).parse(rest)
        {
            houses.push(HouseRef { name: place(text, name), ..first });
            rest = after;
        }
        Ok((rest, houses))
    }
}

/// One house.
pub(super) fn house(text: &str) -> impl Piece<'_, HouseRef> {
    alt(HOUSE_WORDS.map(|(word, kind, name)| {
        (key(word), expect(name, preceded(blanks, house_name(kind)))).map(move |(word, name)| HouseRef {
            kind,
            word: place(text, word),
            name: place(text, name),
        })
    }))
}

/// The words for houses, what they mean, and what must follow them, for people.
const HOUSE_WORDS: [(&str, HouseWord, &str); 6] = [
    ("row", HouseWord::Row, "the number of the row"),
    ("col", HouseWord::Col, "the number of the column"),
    ("box", HouseWord::Box, "the number of the box"),
    ("region", HouseWord::Region, "the letter of the region"),
    ("diagonal", HouseWord::Diagonal, "the number of the diagonal"),
    ("house", HouseWord::House, "the name of the house"),
];

/// The word for a house.
pub(super) fn house_word<'a>() -> impl Piece<'a, &'a str> {
    alt(HOUSE_WORDS.map(|(word, ..)| key(word)))
}

/// What stands after a house's word.
fn house_name<'a>(kind: HouseWord) -> impl Piece<'a, &'a str> {
    move |rest: &'a str| match kind {
        HouseWord::House => own_name(rest),
        HouseWord::Region => recognize(one_of("123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")).parse(rest),
        _ => digit1.parse(rest),
    }
}

/// The name that a `house` statement gives to a house.
fn own_name(rest: &str) -> Read<'_, &str> {
    let letters = take_while_m_n(2, usize::MAX, |c: char| c.is_ascii_lowercase());
    // Not `digit0`: what it leaves at the end of a text lies at its beginning (nom 8.0.0).
    let figures = take_while(|c: char| c.is_ascii_digit());
    verify(recognize((letters, figures)), |name: &str| !is_reserved(name)).parse(rest)
}

/// Whether `name` can be that of a house which a `house` statement adds: two small letters or more, then figures or none,
/// and no word that claims and reasons are made of.
pub fn is_house_name(name: &str) -> bool {
    matches!(own_name(name), Ok(("", _)))
}

/// Whether it is a word that stands between the parts of a claim or a reason, so that nothing can have it as its name.
pub(super) fn is_reserved(word: &str) -> bool {
    matches!(word, "in" | "at" | "of" | "with" | "not" | "by" | "misses")
        || HOUSE_WORDS.iter().any(|(house, ..)| *house == word)
}

/// Digits, in one piece or parted by blanks or `/`.
pub(super) fn digits(text: &str) -> impl Piece<'_, Digits> {
    let next = alt((preceded(tag("/"), expect("a digit, after `/`", digit)), preceded(blanks0, digit)));
    consumed((digit, many0(next))).map(move |(whole, (first, others))| Digits {
        span: place(text, whole),
        symbols: once(first).chain(others).map(|(c, piece)| (c, place(text, piece))).collect(),
    })
}

/// A digit: `A` stands for 10, and so on up to `P` for 25, beyond which no size goes.
fn digit(rest: &str) -> Read<'_, (char, &str)> {
    consumed(satisfy(|c| matches!(c, '1'..='9' | 'A'..='P'))).map(|(piece, c)| (c, piece)).parse(rest)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::notation::FaultKind;
    use insta::assert_snapshot;
    use proptest::prelude::*;

    /// What was read, in brackets where the notation leaves them out.
    pub fn told(text: &str, claim: &Claim) -> String {
        match &claim.says {
            Says::Is(cells, digits) => {
                format!("is({}; {})", told_cells(text, cells), told_digits(text, digits))
            }
            Says::Not(cells, digits) => {
                format!("not({}; {})", told_cells(text, cells), told_digits(text, digits))
            }
            Says::Within { digits, houses, elsewhere, place } => format!(
                "{}({}; {}; {})",
                if *elsewhere { "not-within" } else { "within" },
                told_digits(text, digits),
                told_houses(text, houses),
                told_places(text, place)
            ),
            Says::Misses(houses, digits) => {
                format!("misses({}; {})", told_houses(text, houses), told_digits(text, digits))
            }
            Says::Open(cells) => format!("open({})", told_cells(text, cells)),
        }
    }

    fn joined<T>(parts: &[T], told: impl Fn(&T) -> String) -> String {
        parts.iter().map(told).collect::<Vec<_>>().join(" ")
    }

    pub fn told_cells(text: &str, cells: &[CellRange]) -> String {
        let cell = |cell: &CellRef| format!("{},{}", cell.row.of(text), cell.col.of(text));
        joined(cells, |range| match &range.to {
            None => cell(&range.from),
            Some(to) => format!("{}..{}", cell(&range.from), cell(to)),
        })
    }

    pub fn told_houses(text: &str, houses: &[HouseRef]) -> String {
        joined(houses, |house| {
            assert_eq!(house.word.of(text), format!("{:?}", house.kind).to_lowercase());
            format!("{}:{}", house.word.of(text), house.name.of(text))
        })
    }

    pub fn told_places(text: &str, places: &[Place]) -> String {
        joined(places, |place| match place {
            Place::Cells(range) => told_cells(text, &[*range]),
            Place::House(house) => told_houses(text, &[*house]),
        })
    }

    pub fn told_digits(text: &str, digits: &Digits) -> String {
        for (c, span) in &digits.symbols {
            assert_eq!(span.of(text), c.to_string());
        }
        digits.symbols.iter().map(|(c, _)| c).collect()
    }

    /// The line with its fault in brackets, and what is wrong.
    pub fn told_fault(text: &str, fault: &Fault) -> String {
        let (before, after) = (&text[..fault.span.start as usize], &text[fault.span.end as usize..]);
        let what = match fault.kind {
            FaultKind::StepUnreadable(what) => format!("unreadable: {what}"),
            FaultKind::StepIncomplete(what) => format!("incomplete: {what}"),
            FaultKind::ReasonUnreadable(what) => format!("reason: {what}"),
            FaultKind::ShowUnreadable(what) => format!("show: {what}"),
            ref other => format!("{other:?}"),
        };
        format!("{before}[{}]{after} -- {what}", fault.span.of(text))
    }

    fn reads(lines: &str) -> String {
        let read = |line: &str| {
            // Something stands before the line, as in a file.
            let text = format!("> \u{fc}\n{line}");
            match read_claim_line(&text, Span::new(5, text.len())) {
                Ok(claim) => format!("{} | {}", claim.span.of(&text), told(&text, &claim)),
                Err(fault) => told_fault(&text, &fault)[5..].to_owned(),
            }
        };
        lines.lines().map(read).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn claims_are_read() {
        assert_snapshot!(reads(
            "r4c1 = 5
r4c1=46   # a comment
r4c1, r6c1 , r5c5..r5c1 = 4 6
R46C1 not 4/6/B
r10c1 .. r12c16 open
49 of box 2 in r1c6 r2c5
7 of col 1 col 5 in row 2 row 6
7 of col 1 5 not in row 2 6 r1c1..r2c2
7 of region K 3 in diagonal 1 house window12
row 6 misses 1347
row\u{a0}6\tmisses\u{2003}1279ABDEF"
        ), @r"
        r4c1 = 5 | is(4,1; 5)
        r4c1=46 | is(4,1; 46)
        r4c1, r6c1 , r5c5..r5c1 = 4 6 | is(4,1 6,1 5,5..5,1; 46)
        R46C1 not 4/6/B | not(46,1; 46B)
        r10c1 .. r12c16 open | open(10,1..12,16)
        49 of box 2 in r1c6 r2c5 | within(49; box:2; 1,6 2,5)
        7 of col 1 col 5 in row 2 row 6 | within(7; col:1 col:5; row:2 row:6)
        7 of col 1 5 not in row 2 6 r1c1..r2c2 | not-within(7; col:1 col:5; row:2 row:6 1,1..2,2)
        7 of region K 3 in diagonal 1 house window12 | within(7; region:K region:3; diagonal:1 house:window12)
        row 6 misses 1347 | misses(row:6; 1347)
        row 6	misses 1279ABDEF | misses(row:6; 1279ABDEF)
        ");
    }

    #[test]
    fn what_cannot_be_read_is_marked() {
        assert_snapshot!(reads(
            "r7c2
r7c2 =
r7c2 = # later
r7c2 4
= 4
r7c2 = x
r7c2 = 0
r7c2 = 4x
r7c2 = 4 r7c3 = 5
r7c2 = 4, r7c3 = 5
r7c2 not7
r7c2 opened
r7c2,
r7c2, = 4
r7c2r7c3 = 4
r7c2.. = 4
rc2 = 4
r = 4
8 box 6 in r4c7
8 of
8 of box
8 of box in r4c7
8 of box6 in r4c7
8 of boxes 6 in r4c7
8 of box 6
8 of box 6 not
8 of box 6 not in
8 of box 6 in r4c7,
8 of box 6 in 4
8 of house in row 1
8/ of box 6 in r1c1
row 6
row 6 misses
row 6 miss 4
row 6 box misses 4
hidden pair
r1c1 = 4#5

#"
        ), @r"
        r7c2[] -- incomplete: `=`, `not` or `open`, after the cells
        r7c2 =[] -- incomplete: digits, after `=`
        r7c2 =[] # later -- incomplete: digits, after `=`
        r7c2 [4] -- unreadable: `=`, `not` or `open`, after the cells
        [=] 4 -- unreadable: a claim, which begins with cells, digits or houses
        r7c2 = [x] -- unreadable: digits, after `=`
        r7c2 = [0] -- unreadable: digits, after `=`
        r7c2 = 4[x] -- unreadable: nothing more, as `known` holds one claim a line
        r7c2 = 4 [r7c3] = 5 -- unreadable: nothing more, as `known` holds one claim a line
        r7c2 = 4[,] r7c3 = 5 -- unreadable: nothing more, as `known` holds one claim a line
        r7c2 [not7] -- unreadable: `=`, `not` or `open`, after the cells
        r7c2 [opened] -- unreadable: `=`, `not` or `open`, after the cells
        r7c2,[] -- incomplete: a cell, after the comma
        r7c2, [=] 4 -- unreadable: a cell, after the comma
        r7c2[r7c3] = 4 -- unreadable: `=`, `not` or `open`, after the cells
        r7c2.. [=] 4 -- unreadable: the cell that ends the range, after `..`
        [rc2] = 4 -- unreadable: a claim, which begins with cells, digits or houses
        [r] = 4 -- unreadable: a claim, which begins with cells, digits or houses
        8 [box] 6 in r4c7 -- unreadable: `of` and a house, after the digits
        8 of[] -- incomplete: a house, after `of`
        8 of box[] -- incomplete: the number of the box
        8 of box [in] r4c7 -- unreadable: the number of the box
        8 of [box6] in r4c7 -- unreadable: a house, after `of`
        8 of [boxes] 6 in r4c7 -- unreadable: a house, after `of`
        8 of box 6[] -- incomplete: `in` and the cells or houses that hold them
        8 of box 6 not[] -- incomplete: `in` and the cells or houses that hold them
        8 of box 6 not in[] -- incomplete: cells or houses, after `in`
        8 of box 6 in r4c7[,] -- unreadable: nothing more, as `known` holds one claim a line
        8 of box 6 in [4] -- unreadable: cells or houses, after `in`
        8 of house [in] row 1 -- unreadable: the name of the house
        8/ [of] box 6 in r1c1 -- unreadable: a digit, after `/`
        row 6[] -- incomplete: `misses`, after the houses
        row 6 misses[] -- incomplete: digits, after `misses`
        row 6 [miss] 4 -- unreadable: `misses`, after the houses
        row 6 box [misses] 4 -- unreadable: the number of the box
        [hidden] pair -- unreadable: a claim, which begins with cells, digits or houses
        r1c1 = 4[#5] -- unreadable: nothing more, as `known` holds one claim a line
        [] -- incomplete: a claim, which begins with cells, digits or houses
        []# -- incomplete: a claim, which begins with cells, digits or houses
        ");
    }

    fn cells(range: &str, side: u8) -> String {
        let read = read_cells(range, Span::new(0, range.len())).unwrap();
        match read[0].cells(range, side) {
            Ok(cells) => cells.iter().map(Cell::to_string).collect::<Vec<_>>().join(" "),
            Err(error) => format!("{error:?}"),
        }
    }

    #[test]
    fn ranges_name_cells_in_their_order() {
        for (range, side, expect) in [
            ("r4c1", 9, "r4c1"),
            ("r46c1", 9, "r4c1 r6c1"),
            ("r46c13", 9, "r4c1 r4c3 r6c1 r6c3"),
            ("r64c1", 9, "r6c1 r4c1"),
            ("r44c1", 9, "r4c1"),
            ("r12c3", 16, "r12c3"),
            ("r04c1", 16, "r4c1"),
            ("r1c1..r2c3", 9, "r1c1 r1c2 r1c3 r2c1 r2c2 r2c3"),
            ("r2c3..r1c1", 9, "r1c1 r1c2 r1c3 r2c1 r2c2 r2c3"),
            ("r2c1..r1c3", 9, "r1c1 r1c2 r1c3 r2c1 r2c2 r2c3"),
            ("r1c4..r1c2", 9, "r1c4 r1c3 r1c2"),
            ("r5c1..r3c1", 9, "r5c1 r4c1 r3c1"),
            ("r5c1..r5c1", 9, "r5c1"),
            ("r9c10..r11c10", 12, "r9c10 r10c10 r11c10"),
            ("r7c1", 6, "Outside(Span { start: 0, end: 4 })"),
            ("r0c1", 9, "Outside(Span { start: 0, end: 4 })"),
            ("r10c1", 9, "Outside(Span { start: 0, end: 5 })"),
            ("r17c1", 16, "Outside(Span { start: 0, end: 5 })"),
            ("r999999999999999999999c1", 25, "Outside(Span { start: 0, end: 24 })"),
            ("r1c1..r1c10", 9, "Outside(Span { start: 6, end: 11 })"),
            ("r1c1..r12c1", 9, "Several(Span { start: 6, end: 11 })"),
        ] {
            assert_eq!(cells(range, side), expect, "{range} on a board of {side}");
        }
    }

    #[test]
    fn cells_houses_and_digits_stand_alone() {
        let all = |text: &str| Span::new(0, text.len());
        let cells = |text: &str| read_cells(text, all(text)).map(|cells| told_cells(text, &cells));
        let houses = |text: &str| read_houses(text, all(text)).map(|houses| told_houses(text, &houses));
        let house = |text: &str| read_house(text, all(text)).map(|house| told_houses(text, &[house]));
        let digits = |text: &str| read_digits(text, all(text)).map(|digits| told_digits(text, &digits));
        assert_eq!(cells(" r1c1, r2c2..r2c4 r5c5 ").as_deref(), Some("1,1 2,2..2,4 5,5"));
        assert_eq!(houses("row 4 5 box 1").as_deref(), Some("row:4 row:5 box:1"));
        assert_eq!(house(" house window1").as_deref(), Some("house:window1"));
        assert_eq!(digits("1 2/3P").as_deref(), Some("123P"));
        for text in ["", " ", "r1c1,", "r1c1 x", "row", "row 4 x", "Row 4", "46 Q", "0", "r1c1 = 4"] {
            assert_eq!((cells(text), houses(text), digits(text)), (None, None, None), "{text}");
        }
        assert_eq!(house("row 4 5"), None);
    }

    /// A word of the notation, or anything.
    pub fn any_word() -> impl Strategy<Value = String> {
        prop_oneof![
            6 => prop::sample::select(vec![
                "r4c1", "r46c1", "R1C1", "r1c1..r2c3", "46", "4", "B", "row 4", "col 1 2", "box 6", "region K", "diagonal 1",
                "house window1", "=", "not", "of", "in", "at", "misses", "open", ",", "by", "hidden", "pair", "crossing",
                "with", "show", "why", "only", "shade", "ring", "marks", "all", "none", "known", "ask", "point", "finish",
                "allow", "step-early", "\"why\"", "\u{201e}so\u{201d}", ":", "#", "{", "}", ">", "row", "house", "..", "/",
            ]).prop_map(str::to_owned),
            1 => "\\PC{0,3}",
        ]
    }

    /// A line of such words, mostly with blanks between them.
    pub fn any_line() -> impl Strategy<Value = String> {
        let gap = prop::sample::select(vec![" ", " ", " ", "  ", "", "\t", "\u{a0}"]);
        prop::collection::vec((any_word(), gap), 0..12)
            .prop_map(|words| words.into_iter().map(|(word, gap)| word + gap).collect::<String>())
    }

    pub fn lies_in(text: &str, line: Span, span: Span) {
        assert!(
            line.start <= span.start && span.start <= span.end && span.end <= line.end,
            "{span:?} in {line:?}"
        );
        assert!(text.is_char_boundary(span.start as usize) && text.is_char_boundary(span.end as usize));
    }

    proptest! {
        #[test]
        fn any_line_is_read_or_marked(line in any_line(), before in "\\PC{0,4}", after in "\\PC{0,4}") {
            let text = format!("{before}{line}{after}");
            let span = Span::new(before.len(), before.len() + line.len());
            match read_claim_line(&text, span) {
                Ok(claim) => lies_in(&text, span, claim.span),
                Err(fault) => lies_in(&text, span, fault.span),
            }
        }
    }

    #[test]
    fn long_lines_are_read_in_one_go() {
        for piece in
            ["r1c1 ", "r1c1,", "4 ", "4/", "row 1 ", "4 of row 1 in r1c1 ", "r", "r1", "\"", "#", " ", ".."]
        {
            let text = piece.repeat(1 << 18);
            let _ = read_claim_line(&text, Span::new(0, text.len()));
        }
        let text = format!("r{}c{}", "123456789".repeat(1 << 18), "123456789".repeat(1 << 18));
        let cells = read_cells(&text, Span::new(0, text.len())).unwrap();
        assert_eq!(cells[0].cells(&text, 9).unwrap().len(), 81);
        assert_eq!(cells[0].cells(&text, 25), Err(CellsError::Outside(Span::new(0, text.len()))));
        let open = read_claim_line("r1c1 = \"", Span::new(0, 8)).unwrap_err();
        assert!(matches!(open.kind, FaultKind::StepUnreadable(_)));
    }
}
