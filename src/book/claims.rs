//! What can be said of claims, reasons, diagrams and prose with no reasoning: whether the cells, digits, houses and
//! patterns that they name exist. At most one fault a line.

use super::meaning::Reader;
use super::values::unknown_pattern;
use super::{Fault, FaultKind};
use crate::board::{Cell, CellSet, Digit, HouseName, Layout, Size};
use crate::ladder::named;
use crate::notation::{
    Block, BraceReads, CellRange, CellsError, Claim, Digits, HouseRef, HouseWord, Keyword, Line, LineKind,
    Named, Place, Reason, Says, Section, Show, ShowPart, Span, Statement, StepLine, braces,
};

impl Reader<'_> {
    /// The cells of a range on a board of this size.
    pub(super) fn cells(&self, range: &CellRange, size: Size, keyword: Keyword) -> Result<Vec<Cell>, Fault> {
        cells_of(self.section, range, size, keyword)
    }

    /// Looks through the blocks of `statements`: names are looked up everywhere, cells, digits and houses where there is
    /// a layout. Neighbouring lines that are wrong in the same way are one fault.
    pub(super) fn check_lines(&mut self, statements: &[Statement], layout: Option<&Layout>) {
        for statement in statements.iter().filter(|it| !it.broken) {
            let Some(keyword) = statement.keyword else { continue };
            // In the other blocks nothing is named.
            if !matches!(keyword.shape().block, Block::Prose | Block::Known | Block::Steps) {
                continue;
            }
            let ground = Ground { section: self.section, layout, keyword };
            let mut run = None;
            for line in self.section.block(statement) {
                let fault = ground.line(line).err();
                let kind = fault.as_ref().map(|fault| std::mem::discriminant(&fault.kind));
                let again = kind == run && matches!(line.kind, LineKind::Claim | LineKind::Step);
                self.faults.extend(fault.filter(|_| !again));
                run = kind;
            }
        }
    }
}

pub(super) fn cells_of(
    section: &Section,
    range: &CellRange,
    size: Size,
    keyword: Keyword,
) -> Result<Vec<Cell>, Fault> {
    range.cells(&section.text, size.side()).map_err(|error| match error {
        CellsError::Outside(span) => Fault { span, kind: FaultKind::CellOutside(size.side()) },
        CellsError::Several(span) => {
            let can_be = "ranges that begin and end with one cell each, such as `r4c1..r6c3`".to_owned();
            Fault { span, kind: FaultKind::ValueUnreadable(keyword, can_be) }
        }
    })
}

/// What names are looked up in.
#[derive(Clone, Copy)]
struct Ground<'a> {
    section: &'a Section,
    layout: Option<&'a Layout>,
    keyword: Keyword,
}

impl Ground<'_> {
    fn line(self, line: &Line) -> Result<(), Fault> {
        match line.kind {
            LineKind::Prose => self.prose(line.span),
            LineKind::Claim => self.section.claim(line).map_or(Ok(()), |claim| self.claim(claim)),
            LineKind::Step => self.section.step(line).map_or(Ok(()), |step| self.step(step)),
            _ => Ok(()),
        }
    }

    fn step(self, step: &StepLine) -> Result<(), Fault> {
        match step {
            StepLine::Say(prose) => self.prose(*prose),
            StepLine::Step(claims, reason) => {
                self.claims(claims)?;
                reason.as_ref().map_or(Ok(()), |reason| self.reason(reason))
            }
            StepLine::Show(show) => self.show(show),
            StepLine::Ask(question, claims) => {
                self.prose(*question)?;
                self.claims(claims)
            }
            StepLine::Finish(patterns) => patterns.iter().try_for_each(|pattern| self.pattern(*pattern)),
            StepLine::Point(_) | StepLine::Allow(..) => Ok(()),
        }
    }

    fn claims(self, claims: &[Claim]) -> Result<(), Fault> {
        claims.iter().try_for_each(|claim| self.claim(claim))
    }

    fn claim(self, claim: &Claim) -> Result<(), Fault> {
        match &claim.says {
            Says::Is(cells, digits) | Says::Not(cells, digits) => {
                self.ranges(cells)?;
                self.digits(digits)
            }
            Says::Within { digits, houses, place, .. } => {
                self.digits(digits)?;
                self.houses(houses)?;
                self.places(place)
            }
            Says::Misses(houses, digits) => {
                self.houses(houses)?;
                self.digits(digits)
            }
            Says::Open(cells) => self.ranges(cells),
        }
    }

    fn reason(self, reason: &Reason) -> Result<(), Fault> {
        self.pattern(reason.pattern)?;
        reason.names.iter().try_for_each(|name| match name {
            Named::House(house) => self.house(house),
            Named::Cells(range) => self.range(range),
            Named::Digits(digits) => self.digits(digits),
            Named::WithCells(ranges) => self.ranges(ranges),
            Named::WithDigit(digits, house) => {
                self.digits(digits)?;
                self.house(house)
            }
        })
    }

    fn show(self, show: &Show) -> Result<(), Fault> {
        for part in &show.parts {
            match part {
                ShowPart::Only(places) | ShowPart::Shade(places) | ShowPart::Ring(places) => {
                    self.places(places)?;
                }
                ShowPart::MarksOf(digits) => self.digits(digits)?,
                ShowPart::MarksAll | ShowPart::MarksNone | ShowPart::MarksKnown => {}
            }
        }
        show.caption.map_or(Ok(()), |caption| self.prose(caption))
    }

    fn prose(self, span: Span) -> Result<(), Fault> {
        braces(&self.section.text, span).try_for_each(|brace| match &brace.reads {
            BraceReads::Claim(claim) => self.claim(claim),
            BraceReads::Cells(cells) => self.ranges(cells),
            BraceReads::Houses(houses) => self.houses(houses),
            BraceReads::IdAt(..) => Ok(()),
            BraceReads::Words => {
                let words = self.section.at(brace.inner);
                if named(words).is_some() || is_id(words) {
                    return Ok(());
                }
                Err(Fault { span: brace.inner, kind: FaultKind::ReferenceUnknown(words.to_owned()) })
            }
        })
    }

    fn pattern(self, span: Span) -> Result<(), Fault> {
        match named(self.section.at(span)) {
            Some(_) => Ok(()),
            None => Err(unknown_pattern(self.section, span)),
        }
    }

    fn places(self, places: &[Place]) -> Result<(), Fault> {
        places.iter().try_for_each(|place| match place {
            Place::Cells(range) => self.range(range),
            Place::House(house) => self.house(house),
        })
    }

    fn ranges(self, ranges: &[CellRange]) -> Result<(), Fault> {
        ranges.iter().try_for_each(|range| self.range(range))
    }

    fn range(self, range: &CellRange) -> Result<(), Fault> {
        let Some(layout) = self.layout else { return Ok(()) };
        cells_of(self.section, range, layout.size(), self.keyword).map(|_| ())
    }

    fn houses(self, houses: &[HouseRef]) -> Result<(), Fault> {
        houses.iter().try_for_each(|house| self.house(house))
    }

    fn house(self, house: &HouseRef) -> Result<(), Fault> {
        let Some(layout) = self.layout else { return Ok(()) };
        let name = house_name(self.section, house);
        if layout.house(&name).is_some() {
            return Ok(());
        }
        Err(Fault { span: house.name, kind: FaultKind::HouseUnknown(name) })
    }

    fn digits(self, digits: &Digits) -> Result<(), Fault> {
        let Some(layout) = self.layout else { return Ok(()) };
        let side = layout.size().side();
        let exists = |symbol| Digit::from_symbol(symbol).is_some_and(|digit| digit.value() <= side);
        match digits.symbols.iter().find(|(symbol, _)| !exists(*symbol)) {
            None => Ok(()),
            Some(&(symbol, span)) => Err(Fault { span, kind: FaultKind::DigitOutside(symbol, side) }),
        }
    }
}

/// The cells of these ranges; what this layout does not have is left out.
pub fn cells_in(section: &Section, layout: &Layout, ranges: &[CellRange]) -> CellSet {
    let cells = |range: &CellRange| range.cells(&section.text, layout.size().side()).unwrap_or_default();
    ranges.iter().flat_map(cells).collect()
}

/// The cells of these places, and those of their houses; what this layout does not have is left out.
pub fn cells_at(section: &Section, layout: &Layout, places: &[Place]) -> CellSet {
    let cells = |place: &Place| match place {
        Place::Cells(range) => cells_in(section, layout, &[*range]),
        Place::House(house) => {
            layout.house(&house_name(section, house)).map_or(CellSet::EMPTY, |house| *house.set())
        }
    };
    places.iter().fold(CellSet::EMPTY, |all, place| all | cells(place))
}

/// What a house as written is called. A number that no board has is 255.
pub fn house_name(section: &Section, house: &HouseRef) -> HouseName {
    let text = section.at(house.name);
    let number = || text.parse().unwrap_or(u8::MAX);
    match house.kind {
        HouseWord::Row => HouseName::Row(number()),
        HouseWord::Col => HouseName::Column(number()),
        HouseWord::Box => HouseName::Box(number()),
        HouseWord::Diagonal => HouseName::Diagonal(number()),
        HouseWord::Region => HouseName::Region(text.chars().next().unwrap_or(' ').to_ascii_uppercase()),
        HouseWord::House => HouseName::Named(text.into()),
    }
}

/// Whether `text` has the shape of an id: one word of letters, figures, hyphens and full stops.
pub fn is_id(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '.' | '_'))
}
