//! Running text as it is printed: its braces as references, in the way of naming of the page.

use super::Subject;
use crate::board::{Digit, HouseName};
use crate::book::{cells_in, house_name};
use crate::ladder::named;
use crate::notation::{
    Brace, BraceReads, CellRange, Claim, Digits, HouseRef, Line, LineKind, Place, Says, Span, braces,
    is_blank, is_quote,
};
use crate::words::Signs;

/// The paragraphs of a block of prose: blank lines part them.
pub(super) fn paragraphs(subject: &Subject, lines: &[Line]) -> Vec<String> {
    let is_prose = |line: &Line| matches!(line.kind, LineKind::Prose);
    let printed = |paragraph: &[Line]| {
        let mut text = String::new();
        for line in paragraph {
            text.push_str(if text.is_empty() { "" } else { " " });
            subject.print(line.span, &mut text);
        }
        text.trim_matches(is_blank).to_owned()
    };
    lines
        .chunk_by(|a, b| is_prose(a) == is_prose(b))
        .filter(|chunk| chunk.iter().all(is_prose))
        .map(printed)
        .collect()
}

impl Subject<'_> {
    /// A line of prose, or what stands between the quotes of a caption, as it is printed.
    pub fn prose(&self, span: Span) -> String {
        let mut printed = String::new();
        self.print(span, &mut printed);
        printed.trim_matches(is_blank).to_owned()
    }

    /// Prints a line of prose behind what is printed.
    fn print(&self, span: Span, printed: &mut String) {
        let text = &self.section.text;
        let mut at = span.start;
        for brace in braces(text, span) {
            printed.push_str(&plain(Span { start: at, end: brace.span.start }.of(text)));
            let reference = self.reference(&brace);
            let before = printed.trim_end_matches(|c| is_blank(c) || is_quote(c));
            let begins = before.is_empty() || before.ends_with(['.', '!', '?']);
            let is_name = matches!(brace.reads, BraceReads::IdAt(..) | BraceReads::Words);
            let capital = begins && !is_name;
            printed.push_str(&if capital { self.voice.labels().capital(&reference) } else { reference });
            at = brace.span.end;
        }
        printed.push_str(&plain(Span { start: at, end: span.end }.of(text)));
    }

    fn reference(&self, brace: &Brace) -> String {
        match &brace.reads {
            BraceReads::Claim(claim) => self.claim(claim),
            BraceReads::Cells(cells) => self.cells(cells),
            BraceReads::Houses(houses) => self.houses(houses),
            BraceReads::IdAt(id, _) => self.id(self.section.at(*id)),
            BraceReads::Words => {
                let words = self.section.at(brace.inner);
                if named(words).is_some() { words.to_owned() } else { self.id(words) }
            }
        }
    }

    /// A puzzle by its printed number, with the title of its collection if that is another; or else by its id.
    fn id(&self, id: &str) -> String {
        let numbered = || {
            let (at, _) = self.workspace.find(id)?;
            Some((self.workspace.number(at)?, &self.workspace.books[at.book]))
        };
        let Some((number, book)) = numbered() else { return id.to_owned() };
        let labels = self.voice.labels();
        let is_here =
            book.tree.sections.iter().any(|section| std::ptr::eq(&raw const **section, self.section));
        match book.title().filter(|_| !is_here) {
            Some(title) => labels.number_in(number, &title),
            None => labels.number(number),
        }
    }

    fn claim(&self, claim: &Claim) -> String {
        let labels = self.voice.labels();
        match &claim.says {
            Says::Is(cells, digits) => format!("{} = {}", self.cells(cells), self.digits(digits)),
            Says::Not(cells, digits) => labels.reference_not(&self.cells(cells), &self.digits(digits)),
            Says::Within { digits, houses, elsewhere, place } => {
                let place: Vec<String> = place
                    .iter()
                    .map(|place| match place {
                        Place::Cells(range) => self.cells(&[*range]),
                        Place::House(house) => self.houses(&[*house]),
                    })
                    .collect();
                let (houses, place) = (self.houses(houses), labels.list(&place));
                labels.reference_within(&self.digits(digits), &houses, &place, *elsewhere)
            }
            Says::Misses(houses, digits) => {
                labels.reference_misses(&self.houses(houses), &self.digits(digits))
            }
            Says::Open(cells) => labels.reference_open(&self.cells(cells)),
        }
    }

    /// Cells by their names; as they are written, where the layout is not known.
    fn cells(&self, ranges: &[CellRange]) -> String {
        if let Some(layout) = self.puzzle.layout.as_deref() {
            return self.voice.labels().cells(cells_in(self.section, layout, ranges));
        }
        let written: Vec<&str> = ranges.iter().map(|range| self.section.at(range.span())).collect();
        written.join(" ")
    }

    fn houses(&self, houses: &[HouseRef]) -> String {
        let labels = self.voice.labels();
        let names: Vec<HouseName> = houses.iter().map(|house| house_name(self.section, house)).collect();
        labels.list(&names.iter().map(|name| labels.house(name)).collect::<Vec<_>>())
    }

    /// Digits as they are printed.
    fn digits(&self, digits: &Digits) -> String {
        let signs = Signs(self.puzzle.facts.signs());
        let printed = |&(symbol, _): &(char, Span)| {
            Digit::from_symbol(symbol).map_or_else(|| symbol.to_string(), |digit| signs.of(digit))
        };
        let printed: Vec<String> = digits.symbols.iter().map(printed).collect();
        let part = if printed.iter().any(|sign| sign.chars().count() > 1) { " " } else { "" };
        printed.join(part)
    }
}

/// Text outside of references: a brace that is written twice is printed once.
fn plain(text: &str) -> String {
    text.replace("{{", "{").replace("}}", "}")
}
