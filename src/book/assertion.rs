//! Claims and reasons as they are meant on a layout.

use super::claims::{cells_of, house_name};
use crate::board::{CellSet, Digit, DigitSet, HouseId, Layout};
use crate::ladder::{PatternName, named};
use crate::notation::{
    CellRange, Claim, Digits, HouseRef, Keyword, Named, Place, Reason, Says, Section, Span,
};

/// What a claim says of a layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Assertion {
    /// Each of these cells holds one of these digits.
    Is {
        /// One cell or more.
        cells: CellSet,
        /// One digit or more.
        digits: DigitSet,
    },
    /// None of these cells holds any of these digits.
    IsNot {
        /// One cell or more.
        cells: CellSet,
        /// One digit or more.
        digits: DigitSet,
    },
    /// Each of these houses has each of these digits in the part of the place that lies in the house.
    Within {
        /// One house or more.
        houses: Vec<HouseId>,
        /// One digit or more.
        digits: DigitSet,
        /// Where; for `not in`, the cells that are not named.
        place: CellSet,
    },
    /// These digits, and only these, are not yet written in each of the houses: a look.
    Misses {
        /// One house or more.
        houses: Vec<HouseId>,
        /// One digit or more.
        digits: DigitSet,
    },
    /// Nothing known settles any of these cells yet: a look.
    Open {
        /// One cell or more.
        cells: CellSet,
    },
}

/// An assertion, and where it is written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Asserted {
    /// The claim's words.
    pub span: Span,
    /// What they mean.
    pub says: Assertion,
}

/// The reason that a step gives.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Because {
    /// The whole reason, without `by`.
    pub span: Span,
    /// The pattern or the way of seeing.
    pub name: &'static PatternName,
    /// Its words.
    pub name_span: Span,
    /// The houses that it names, each with its words.
    pub houses: Vec<(HouseId, Span)>,
    /// The cells that it names.
    pub cells: CellSet,
    /// The digits that it names.
    pub digits: DigitSet,
    /// The earlier facts that it names, each with its words.
    pub with: Vec<(Recalled, Span)>,
}

/// How a reason names an earlier fact.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Recalled {
    /// By just its cells.
    Cells(CellSet),
    /// By digits and the house that has them there.
    Digits(DigitSet, HouseId),
}

/// What words mean on a layout.
#[derive(Clone, Copy)]
pub(super) struct Meant<'a> {
    pub section: &'a Section,
    pub layout: &'a Layout,
}

impl Meant<'_> {
    /// `None` if it names a cell, a digit or a house that the layout has not.
    pub fn claim(self, claim: &Claim) -> Option<Asserted> {
        let says = match &claim.says {
            Says::Is(cells, digits) => {
                Assertion::Is { cells: self.cells(cells)?, digits: self.digits(digits)? }
            }
            Says::Not(cells, digits) => {
                Assertion::IsNot { cells: self.cells(cells)?, digits: self.digits(digits)? }
            }
            Says::Within { digits, houses, elsewhere, place } => {
                let place = self.place(place)?;
                let all: CellSet = self.layout.size().all_cells().collect();
                Assertion::Within {
                    houses: self.houses(houses)?,
                    digits: self.digits(digits)?,
                    place: if *elsewhere { all - place } else { place },
                }
            }
            Says::Misses(houses, digits) => {
                Assertion::Misses { houses: self.houses(houses)?, digits: self.digits(digits)? }
            }
            Says::Open(cells) => Assertion::Open { cells: self.cells(cells)? },
        };
        Some(Asserted { span: claim.span, says })
    }

    /// Each of several claims; `None` if one of them has no meaning.
    pub fn claims(self, claims: &[Claim]) -> Option<Vec<Asserted>> {
        claims.iter().map(|claim| self.claim(claim)).collect()
    }

    /// `None` if a name has no meaning here.
    pub fn reason(self, reason: &Reason) -> Option<Because> {
        let mut because = Because {
            span: reason.span,
            name: named(self.section.at(reason.pattern))?,
            name_span: reason.pattern,
            houses: Vec::new(),
            cells: CellSet::EMPTY,
            digits: DigitSet::EMPTY,
            with: Vec::new(),
        };
        for name in &reason.names {
            match name {
                Named::House(house) => because.houses.push((self.house(house)?, house.word.to(house.name))),
                Named::Cells(range) => because.cells |= self.range(range)?,
                Named::Digits(digits) => because.digits |= self.digits(digits)?,
                Named::WithCells(ranges) => {
                    let first = ranges.first()?.span();
                    let span = ranges.iter().fold(first, |all, range| all.to(range.span()));
                    because.with.push((Recalled::Cells(self.cells(ranges)?), span));
                }
                Named::WithDigit(digits, house) => {
                    let recalled = Recalled::Digits(self.digits(digits)?, self.house(house)?);
                    because.with.push((recalled, digits.span.to(house.name)));
                }
            }
        }
        Some(because)
    }

    /// The cells of a place, those of its houses among them.
    pub fn place(self, places: &[Place]) -> Option<CellSet> {
        let part = |place: &Place| match place {
            Place::Cells(range) => self.range(range),
            Place::House(house) => Some(*self.layout.at(self.house(house)?).set()),
        };
        places.iter().try_fold(CellSet::EMPTY, |all, place| Some(all | part(place)?))
    }

    pub fn digits(self, digits: &Digits) -> Option<DigitSet> {
        let all = self.layout.size().digits();
        let digit = |(symbol, _): &(char, Span)| Digit::from_symbol(*symbol).filter(|&it| all.contains(it));
        digits.symbols.iter().map(digit).collect()
    }

    fn cells(self, ranges: &[CellRange]) -> Option<CellSet> {
        ranges.iter().try_fold(CellSet::EMPTY, |all, range| Some(all | self.range(range)?))
    }

    fn range(self, range: &CellRange) -> Option<CellSet> {
        let cells = cells_of(self.section, range, self.layout.size(), Keyword::Steps).ok()?;
        Some(cells.into_iter().collect())
    }

    fn houses(self, houses: &[HouseRef]) -> Option<Vec<HouseId>> {
        houses.iter().map(|house| self.house(house)).collect()
    }

    fn house(self, house: &HouseRef) -> Option<HouseId> {
        self.layout.house_id(&house_name(self.section, house))
    }
}
