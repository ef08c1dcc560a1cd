//! Walkthroughs and remembered facts as they are meant on a layout.

use super::assertion::{Asserted, Because, Meant};
use super::{Puzzle, Sheet};
use crate::board::{CellSet, DigitSet, Layout};
use crate::ladder::{PatternName, named};
use crate::notation::{
    BraceReads, Keyword, Line, LineKind, Section, Show, ShowPart, Span, Statement, StepLine, braces,
    read_step_line,
};

/// A `steps` block.
#[derive(Clone, Debug)]
pub struct Walkthrough {
    /// Its name, where it has one.
    pub name: Option<String>,
    /// The statement, as an index into the section's statements.
    pub statement: usize,
    /// Its lines but for blank ones and comments, in order.
    pub lines: Vec<WalkLine>,
}

/// A line of a walkthrough.
#[derive(Clone, Debug)]
pub struct WalkLine {
    /// Which of the section's lines it is.
    pub number: usize,
    /// What it says, from its first word on, a comment behind it too.
    pub span: Span,
    /// What it means.
    pub says: WalkSays,
}

/// What a line of a walkthrough means.
#[derive(Clone, Debug)]
pub enum WalkSays {
    /// Prose, and the claims in its braces.
    Prose(Vec<Asserted>),
    /// A step.
    Step(Vec<Asserted>, Option<Because>),
    /// A diagram, and the claims in the braces of its caption.
    Show(Diagram, Vec<Asserted>),
    /// A question: the claims in its braces, and those that answer it.
    Ask(Vec<Asserted>, Vec<Asserted>),
    /// A name for the position here.
    Point(String),
    /// From here these patterns finish.
    Finish(Vec<&'static PatternName>),
    /// A finding is accepted in the next step.
    Allow,
    /// It could not be read, or names what the layout has not.
    Unread,
}

/// What a diagram shows.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Diagram {
    /// The witnesses of the next step.
    pub why: bool,
    /// Nothing but these cells; `None`: all.
    pub only: Option<CellSet>,
    /// Cells that are shaded.
    pub shade: CellSet,
    /// Cells with a ring.
    pub ring: CellSet,
    /// Which marks.
    pub marks: DiagramMarks,
    /// The caption, with its quotes.
    pub caption: Option<Span>,
}

/// Which marks a diagram shows.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum DiagramMarks {
    /// None.
    #[default]
    None,
    /// All candidates.
    All,
    /// The facts remembered so far.
    Known,
    /// The candidates among these digits.
    Of(DigitSet),
}

impl WalkSays {
    /// The claims that it makes, in prose too, in order of place.
    pub fn claims(&self) -> Vec<&Asserted> {
        match self {
            WalkSays::Prose(braces) | WalkSays::Show(_, braces) => braces.iter().collect(),
            WalkSays::Step(claims, _) => claims.iter().collect(),
            WalkSays::Ask(braces, answer) => braces.iter().chain(answer).collect(),
            WalkSays::Point(_) | WalkSays::Finish(_) | WalkSays::Allow | WalkSays::Unread => Vec::new(),
        }
    }
}

impl Walkthrough {
    /// The walkthroughs of a puzzle as they are meant on this layout, which is its own or that of the puzzle from which it
    /// starts.
    pub fn all<'a>(
        section: &'a Section,
        puzzle: &Puzzle,
        layout: &'a Layout,
    ) -> impl Iterator<Item = Walkthrough> + use<'a> {
        puzzle.blocks(section, Keyword::Steps).map(move |(statement, block)| {
            let meant = Meant { section, layout };
            let name = block.values.first().filter(|value| !value.quoted).map(|&value| section.value(value));
            let begin = block.block.start as usize;
            let lines = section.block(block).iter().zip(begin..);
            let lines = lines.filter_map(|(line, number)| meant.walk_line(line, number)).collect();
            Walkthrough { name, statement, lines }
        })
    }

    /// The prose that stands beside a puzzle's walks, its notes and hints, as a walk that takes no step.
    pub fn beside(section: &Section, puzzle: &Puzzle, layout: &Layout) -> Walkthrough {
        let meant = Meant { section, layout };
        let blocks = [Keyword::Note, Keyword::Hint].into_iter().flat_map(|it| puzzle.blocks(section, it));
        let lines =
            blocks.flat_map(|(_, block)| section.block(block).iter().zip(block.block.start as usize..));
        let prose = lines.filter(|(line, _)| line.kind == LineKind::Prose).map(|(line, number)| WalkLine {
            number,
            span: line.span,
            says: WalkSays::Prose(meant.braces(line.span)),
        });
        let statement = puzzle.statements.start;
        Walkthrough { name: None, statement, lines: prose.collect() }
    }
}

/// The claims of a step that is still being written, which stand at `span` with no reason. `None` if they cannot be read,
/// or name what the layout has not.
pub fn step_claims(section: &Section, span: Span, layout: &Layout) -> Option<Vec<Asserted>> {
    match read_step_line(&section.text, span).ok()? {
        StepLine::Step(claims, None) => Meant { section, layout }.claims(&claims),
        _ => None,
    }
}

/// A fact that a reader remembers beside the sheet or the givens.
#[derive(Clone, Debug)]
pub struct Known {
    /// Which of the section's lines it is.
    pub number: usize,
    /// What it says; `None` if it could not be read, or names what the layout has not.
    pub says: Option<Asserted>,
}

/// What stands in the `known` block that belongs to a sheet, or to the givens.
pub fn known(section: &Section, puzzle: &Puzzle, sheet: Option<&Sheet>, layout: &Layout) -> Vec<Known> {
    let meant = Meant { section, layout };
    let begins = sheet.map(|sheet| sheet.statement);
    let of = |number: usize| puzzle.sheets.iter().map(|it| it.statement).rfind(|at| *at < number);
    let mut facts = Vec::new();
    for (number, block) in puzzle.blocks(section, Keyword::Known) {
        if of(number) == begins {
            let lines = section.block(block).iter().zip(block.block.start as usize..);
            facts.extend(lines.filter_map(|(line, number)| match line.kind {
                LineKind::Claim => {
                    Some(Known { number, says: section.claim(line).and_then(|claim| meant.claim(claim)) })
                }
                LineKind::Kept => Some(Known { number, says: None }),
                _ => None,
            }));
        }
    }
    facts
}

impl Puzzle {
    /// The puzzle that it starts from in place of a grid of its own, and the point of its walks, where one is named.
    pub fn borrows<'a>(&self, section: &'a Section) -> Option<(&'a str, Option<&'a str>)> {
        let (_, from) = self.blocks(section, Keyword::From).next().filter(|_| self.layout.is_none())?;
        let words: Vec<&str> = from.values.iter().map(|value| section.at(value.span)).collect();
        match words[..] {
            [id] => Some((id, None)),
            [id, "at", point] => Some((id, Some(point))),
            _ => None,
        }
    }

    /// Its statements with this keyword, each with its index in the section's.
    pub fn blocks<'a>(
        &self,
        section: &'a Section,
        keyword: Keyword,
    ) -> impl Iterator<Item = (usize, &'a Statement)> + use<'a> {
        let statements = section.statements.iter().enumerate();
        let own = self.statements.clone();
        statements
            .skip(own.start)
            .take(own.len())
            .filter(move |(_, statement)| statement.keyword == Some(keyword))
    }
}

impl Meant<'_> {
    fn walk_line(self, line: &Line, number: usize) -> Option<WalkLine> {
        let says = match line.kind {
            LineKind::Step => {
                let said = self.section.step(line).and_then(|step| self.step_line(step));
                said.unwrap_or(WalkSays::Unread)
            }
            LineKind::Kept => WalkSays::Unread,
            _ => return None,
        };
        let indent = self.section.at(line.span).len()
            - self.section.at(line.span).trim_start_matches(crate::notation::is_blank).len();
        let start = line.span.start as usize + indent;
        Some(WalkLine { number, span: Span::new(start, line.span.end as usize), says })
    }

    fn step_line(self, step: &StepLine) -> Option<WalkSays> {
        Some(match step {
            StepLine::Say(prose) => WalkSays::Prose(self.braces(*prose)),
            StepLine::Step(claims, reason) => {
                let reason = match reason {
                    Some(reason) => Some(self.reason(reason)?),
                    None => None,
                };
                WalkSays::Step(self.claims(claims)?, reason)
            }
            StepLine::Show(show) => {
                let braces = show.caption.map_or(Vec::new(), |caption| self.braces(caption));
                WalkSays::Show(self.diagram(show)?, braces)
            }
            StepLine::Ask(question, claims) => WalkSays::Ask(self.braces(*question), self.claims(claims)?),
            StepLine::Point(name) => WalkSays::Point(self.section.at(*name).to_owned()),
            StepLine::Finish(names) => {
                let names = names.iter().map(|name| named(self.section.at(*name)));
                WalkSays::Finish(names.collect::<Option<_>>()?)
            }
            StepLine::Allow(..) => WalkSays::Allow,
        })
    }

    fn diagram(self, show: &Show) -> Option<Diagram> {
        let mut diagram = Diagram { why: show.why, caption: show.caption, ..Diagram::default() };
        for part in &show.parts {
            match part {
                ShowPart::Only(places) => {
                    diagram.only = Some(diagram.only.unwrap_or_default() | self.place(places)?);
                }
                ShowPart::Shade(places) => diagram.shade |= self.place(places)?,
                ShowPart::Ring(places) => diagram.ring |= self.place(places)?,
                ShowPart::MarksAll => diagram.marks = DiagramMarks::All,
                ShowPart::MarksNone => diagram.marks = DiagramMarks::None,
                ShowPart::MarksKnown => diagram.marks = DiagramMarks::Known,
                ShowPart::MarksOf(digits) => diagram.marks = DiagramMarks::Of(self.digits(digits)?),
            }
        }
        Some(diagram)
    }

    /// The claims in the braces of some prose that have a meaning.
    pub(super) fn braces(self, prose: Span) -> Vec<Asserted> {
        let claims = braces(&self.section.text, prose).filter_map(|brace| match &brace.reads {
            BraceReads::Claim(claim) => self.claim(claim),
            _ => None,
        });
        claims.collect()
    }
}
