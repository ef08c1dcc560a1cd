//! A finding for people: what and why, its name, the lines with marks under them, what to do, and what can be mended.

use crate::cli::place::Places;
use crate::cli::visible;
use crate::cli::words::counted;
use crate::lint::{Report, Severity};
use annotate_snippets::renderer::Renderer;
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Snippet};
use std::ops::Range;

/// Places that are at most this many lines apart are shown in one piece.
const NEAR: usize = 4;

/// A line with more bytes than this is shown only around its mark.
const LONG_LINE: usize = 500;

/// How many bytes of a long line are shown on each side of where its mark begins.
const AROUND: usize = 60;

/// So many other places are shown at most: as many as a board has cells.
const MOST_BESIDE: usize = 625;

/// A finding as text, with an empty line behind it.
pub fn finding(report: &Report, places: &Places, styled: bool) -> String {
    let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
    let title = level(report.severity).primary_title(visible::line(&report.message)).id(report.finding.name);
    let mut group = Group::with_title(title);
    let mut columns = Vec::new();
    for piece in pieces(report, places) {
        let (snippet, column) = piece.snippet(places);
        group = group.element(snippet);
        columns.push(column);
    }
    if let Some(more @ 1..) = report.related.len().checked_sub(MOST_BESIDE) {
        let more = format!("{} not shown", counted(more, "other place"));
        group = group.element(Level::NOTE.message(more));
    }
    group = group.element(Level::HELP.message(visible::line(&report.help)));
    for fix in &report.fixes {
        let option = if fix.safe { "--fix" } else { "--fix-unsafe" };
        let text = format!("{} ({option})", visible::line(&fix.title));
        group = group.element(Level::NOTE.with_name("fix").message(text));
    }
    let mut text = renderer.render(&[group]);
    for Column { shown, exact } in columns.iter().filter(|column| column.shown != column.exact) {
        text = text.replacen(shown, exact, 1);
    }
    text.push_str("\n\n");
    text
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Info => Level::INFO,
    }
}

/// A stretch of a line that is marked.
struct Mark<'a> {
    book: usize,
    /// The line's number, from 1.
    line: usize,
    /// Where the mark begins, in characters from 1.
    column: usize,
    /// Which of the line's bytes.
    bytes: Range<usize>,
    /// What is said of it; `None` for the place that the finding is about.
    label: Option<&'a str>,
}

/// Neighbouring lines of a file, and the marks on them; never empty.
struct Piece<'a>(Vec<Mark<'a>>);

/// The lines to show: around the finding's own place first, then those of other places, in order.
fn pieces<'a>(report: &'a Report, places: &Places) -> Vec<Piece<'a>> {
    let mark = |spot, label| {
        let (line, span) = places.on_first_line(spot);
        let column = places.range(spot).start.column;
        Mark { book: spot.section.book, line, column, bytes: span.range(), label }
    };
    let mut marks = vec![mark(report.spot, None)];
    marks
        .extend(report.related.iter().take(MOST_BESIDE).map(|(spot, what)| mark(*spot, Some(what.as_str()))));
    marks.sort_by_key(|mark| (mark.book, mark.line, mark.bytes.start));
    let mut pieces: Vec<Piece> = Vec::new();
    for mark in marks {
        match pieces.last_mut() {
            Some(Piece(near)) if near.last().is_some_and(|last| is_near(last, &mark, places)) => {
                near.push(mark);
            }
            _ => pieces.push(Piece(vec![mark])),
        }
    }
    let own = pieces.iter().position(|Piece(marks)| marks.iter().any(|mark| mark.label.is_none()));
    pieces[..=own.unwrap_or(0)].rotate_right(1);
    pieces
}

fn is_near(last: &Mark, next: &Mark, places: &Places) -> bool {
    last.book == next.book
        && next.line - last.line <= NEAR
        && (last.line..=next.line).all(|line| text(places, last.book, line).len() <= LONG_LINE)
}

fn text<'a>(places: &Places<'a>, book: usize, line: usize) -> &'a str {
    places.line(book, line).map_or("", |(section, line)| section.at(line.span))
}

/// Where a piece is, as the renderer counts, which knows only the text that is shown; and as it is.
struct Column {
    shown: String,
    exact: String,
}

impl Piece<'_> {
    fn snippet(&self, places: &Places) -> (Snippet<'static, Annotation<'static>>, Column) {
        let Piece(marks) = self;
        let (first, last) = (&marks[0], &marks[marks.len() - 1]);
        // The renderer tells the place of the finding itself, or else of the first mark.
        let told = marks.iter().find(|mark| mark.label.is_none()).unwrap_or(first);
        let file = visible::line(places.file(first.book)).into_owned();
        let place = |column: usize| format!("{file}:{}:{column}", told.line);
        let mut column = Column { shown: String::new(), exact: place(told.column) };
        let mut source = String::new();
        let mut annotations: Vec<Annotation> = Vec::new();
        for number in first.line..=last.line {
            let text = text(places, first.book, number);
            let here = marks.iter().filter(|mark| mark.line == number);
            let excerpt = Excerpt::around(here.clone().next().map_or(0, |mark| mark.bytes.start), text);
            for mark in here {
                let (before, with) = (excerpt.shown(mark.bytes.start), excerpt.shown(mark.bytes.end));
                let span = source.len() + before.len()..source.len() + with.len();
                if std::ptr::eq(mark, told) {
                    column.shown = place(before.chars().count() + 1);
                }
                annotations.push(match mark.label {
                    None => AnnotationKind::Primary.span(span),
                    Some(label) => {
                        AnnotationKind::Context.span(span).label(visible::line(label).into_owned())
                    }
                });
            }
            source += &excerpt.shown(text.len());
            source.push_str(if excerpt.end < text.len() { "…\n" } else { "\n" });
        }
        (Snippet::source(source).path(file).line_start(first.line).annotations(annotations), column)
    }
}

/// The part of a line that is shown: all of it, unless it is very long.
struct Excerpt<'a> {
    text: &'a str,
    start: usize,
    end: usize,
}

impl<'a> Excerpt<'a> {
    fn around(byte: usize, text: &'a str) -> Excerpt<'a> {
        if text.len() <= LONG_LINE {
            return Excerpt { text, start: 0, end: text.len() };
        }
        let start = text.floor_char_boundary(byte.saturating_sub(AROUND));
        Excerpt { text, start, end: text.ceil_char_boundary(byte + AROUND) }
    }

    /// What is shown before `byte` of the line.
    fn shown(&self, byte: usize) -> String {
        let cut = if self.start > 0 { "…" } else { "" };
        let text = &self.text[self.start..byte.clamp(self.start, self.end)];
        // Line feeds end lines and cannot stand here; a tab is drawn as blanks.
        format!("{cut}{}", visible::lines(text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, SectionId, Spot, Workspace};
    use crate::lint::{Check, Finding, Fix, Group as Kind};
    use crate::notation::Span;

    static FINDING: Finding = Finding {
        name: "row-length",
        group: Kind::Grids,
        severity: Severity::Error,
        check: Check::Afterwards,
        source: "",
    };

    fn spot(book: usize, text: &str, part: &str) -> Spot {
        let start = text.find(part).unwrap();
        Spot { section: SectionId { book, section: 0 }, span: Span::new(start, start + part.len()) }
    }

    fn report(spot: Spot, related: Vec<(Spot, String)>) -> Report {
        Report {
            finding: &FINDING,
            severity: Severity::Error,
            puzzle: None,
            spot,
            message: "this row has 3 cells\u{7}".to_owned(),
            help: "write 4".to_owned(),
            related,
            fixes: vec![Fix { title: "write 4".to_owned(), safe: true, edits: Vec::new() }],
            alone: true,
            spoils: false,
        }
    }

    #[test]
    fn marks_stand_under_their_text_whatever_stands_before_it() {
        let text = "# one\n# \u{1b}[31m数独\tab\n# 1 2 3\n#\n#\n#\n#\n# end\n";
        let other = "# elsewhere\n";
        let books = vec![Book::read("a\u{1b}.gset", text), Book::read("b.gset", other)];
        let workspace = Workspace::new(books);
        let related = vec![
            (spot(0, text, "1 2 3"), "and here".to_owned()),
            (spot(0, text, "end"), "far".to_owned()),
            (spot(1, other, "else"), "in another file".to_owned()),
        ];
        let shown = finding(&report(spot(0, text, "ab"), related), &Places::new(&workspace), false);
        insta::assert_snapshot!(shown, @r"
        error[row-length]: this row has 3 cells\u{7}
         --> a\u{1b}.gset:2:11
          |
        2 | # \u{1b}[31m数独    ab
          |                     ^^
        3 | # 1 2 3
          |   ----- and here
          |
         ::: a\u{1b}.gset:8:3
          |
        8 | # end
          |   --- far
          |
         ::: b.gset:1:3
          |
        1 | # elsewhere
          |   ---- in another file
          |
          = help: write 4
          = fix: write 4 (--fix)
        ");
    }

    #[test]
    fn a_very_long_line_is_cut() {
        let text = format!("# {}x{}\n", "ä".repeat(5_000_000), "ö".repeat(5_000_000));
        let workspace = Workspace::new(vec![Book::read("a.gset", &text)]);
        let shown = finding(&report(spot(0, &text, "x"), Vec::new()), &Places::new(&workspace), false);
        insta::assert_snapshot!(shown, @r"
        error[row-length]: this row has 3 cells\u{7}
         --> a.gset:1:5000003
          |
        1 | …ääääääääääääääääääääääääääääääxöööööööööööööööööööööööööööööö…
          |                                ^
          |
          = help: write 4
          = fix: write 4 (--fix)
        ");
    }
}
