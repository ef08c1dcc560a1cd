//! Running text as it is printed: its braces as references, in the way of naming of the page.

use super::{Block, Page};
use crate::board::{Digit, HouseName};
use crate::book::{Book, Puzzle, SectionId, Workspace, cells_in, house_name};
use crate::ladder::named;
use crate::notation::{
    Brace, BraceReads, CellRange, Claim, Digits, HouseRef, Item, Keyword, Line, LineKind, Place, Says,
    Section, Span, Statement, braces, is_blank, is_quote,
};
use crate::words::{Signs, Voice};

/// Running text, and what its references mean where it stands.
#[derive(Clone, Copy)]
pub struct Running<'a> {
    /// The files in which references are looked up.
    pub workspace: &'a Workspace,
    /// The file that it stands in.
    pub book: &'a Book,
    /// The section that it stands in.
    pub section: &'a Section,
    /// The puzzle that it speaks of, if there is one.
    pub puzzle: Option<&'a Puzzle>,
    /// In which words.
    pub voice: Voice<'a>,
}

impl<'a> Running<'a> {
    /// The text of a preface or a part.
    pub fn between(workspace: &'a Workspace, at: SectionId, voice: Voice<'a>) -> Running<'a> {
        let book = &workspace.books[at.book];
        let puzzle = book.spoken_of(at.section).map(|(_, puzzle)| puzzle);
        Running { workspace, book, section: workspace.section(at), puzzle, voice }
    }

    /// A page for each `text` of a preface or a part.
    pub fn pages(&self, item: &Item) -> Vec<Page> {
        let texts = self.section.statements_of(item).iter();
        let texts = texts.filter(|it| it.keyword == Some(Keyword::Text) && !it.broken);
        let page = |text: &Statement| {
            let body = self.paragraphs(self.section.block(text)).into_iter().map(Block::Prose).collect();
            Page { name: "text".to_owned(), heading: self.titles(text), body }
        };
        texts.map(page).filter(|page| !page.body.is_empty()).collect()
    }

    /// The titles that a statement gives its block.
    pub(super) fn titles(&self, statement: &Statement) -> Vec<String> {
        let titles = statement.values.iter().filter(|value| value.quoted);
        titles.map(|value| self.section.value(*value)).collect()
    }

    /// The paragraphs of a block of prose: blank lines part them.
    pub(super) fn paragraphs(&self, lines: &[Line]) -> Vec<String> {
        let is_prose = |line: &Line| matches!(line.kind, LineKind::Prose);
        let printed = |paragraph: &[Line]| {
            let mut text = String::new();
            for line in paragraph {
                text.push_str(if text.is_empty() { "" } else { " " });
                self.print(line.span, &mut text);
            }
            text.trim_matches(is_blank).to_owned()
        };
        lines
            .chunk_by(|a, b| is_prose(a) == is_prose(b))
            .filter(|chunk| chunk.iter().all(is_prose))
            .map(printed)
            .collect()
    }

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

    /// A puzzle by its printed number, with its collection where that is another one, or else by its id.
    fn id(&self, id: &str) -> String {
        let found = self.workspace.find(id).and_then(|(at, _)| Some((at.book, self.workspace.number(at)?)));
        let Some((book, number)) = found else { return id.to_owned() };
        let labels = self.voice.labels();
        match self.workspace.books[book].title() {
            Some(other) if self.book.title().as_ref() != Some(&other) => labels.number_in(number, &other),
            _ => labels.number(number),
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
        if let Some(layout) = self.puzzle.and_then(|puzzle| puzzle.layout.as_deref()) {
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
        let signs = Signs(self.puzzle.map_or(&[], |puzzle| puzzle.facts.signs()));
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
