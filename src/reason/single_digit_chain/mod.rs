//! Single-digit chains: houses in each of which a digit has two places, each a cell or some cells that two houses have in
//! common, so that where it is not in one it is in the other. Of the two ends of a chain one holds the digit.

mod links;

use super::nearest::Offers;
use super::numbers::Bits;
use super::strays::Strays;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::proof::needs_all;
use crate::step::{Base, Claim, Deduction, MOST_BASES, Position};
use links::{Desk, Ways};

/// Words for the cells of the largest grid; a digit with more than 512 links is passed over.
const WIDE: usize = 16;

/// So many chains between the same two ways are looked at, of those that are shortest.
const MOST_TRIED: usize = 64;

/// The shortest chains of two links or more that strike something, of all digits.
pub(super) fn find(
    tables: &Tables,
    position: &Position,
    strays: &mut Strays,
    offers: &mut impl Offers<Deduction>,
) {
    let (mut narrow, mut middle, mut wide) =
        (Nets::<1>::default(), Nets::<4>::default(), Nets::<WIDE>::default());
    for (digit, strays) in strays.each(tables, position) {
        let places = places(digit, tables, position);
        // Two links have three places or more.
        if places.len() > 2
            && !narrow.take(digit, &places, strays, tables, position)
            && !middle.take(digit, &places, strays, tables, position)
        {
            wide.take(digit, &places, strays, tables, position);
        }
    }
    for length in 2..=MOST_BASES {
        let lengthened = [narrow.lengthen(), middle.lengthen(), wide.lengthen()];
        let found = [
            narrow.offer(length, position, offers),
            middle.offer(length, position, offers),
            wide.offer(length, position, offers),
        ];
        if found.contains(&true) || !lengthened.contains(&true) {
            return;
        }
    }
}

/// The cells that could hold a digit, in reading order.
fn places(digit: Digit, tables: &Tables, position: &Position) -> Vec<Cell> {
    let mut places = Vec::with_capacity(32);
    for &row in &tables.rows {
        let cells = &position.layout().at(row).cells;
        let mut rest = position.places(row, digit);
        while rest != 0 {
            places.push(cells[rest.trailing_zeros() as usize]);
            rest &= rest - 1;
        }
    }
    places
}

/// The digits whose places and links have room in so many words, and what is worked with.
#[derive(Default)]
struct Nets<const WORDS: usize> {
    nets: Vec<Net<WORDS>>,
    desk: Desk<WORDS>,
}

impl<const WORDS: usize> Nets<WORDS> {
    /// Takes a digit that has these places in, if there is room for it. Only strays can be struck.
    fn take(
        &mut self,
        digit: Digit,
        places: &[Cell],
        strays: &CellSet,
        tables: &Tables,
        position: &Position,
    ) -> bool {
        let fits = self.desk.find_links(places, tables, position);
        if fits && self.desk.links.len() > 1 {
            self.nets.push(self.desk.net(digit, places, strays));
        }
        fits
    }

    fn lengthen(&mut self) -> bool {
        self.nets.iter_mut().fold(false, |any, net| net.lengthen() | any)
    }

    fn offer(&self, length: usize, position: &Position, offers: &mut impl Offers<Deduction>) -> bool {
        self.nets.iter().fold(false, |any, net| net.offer(length, position, offers) | any)
    }
}

/// The ways of the links of a digit, and how far chains have come from each of them.
struct Net<const WORDS: usize> {
    digit: Digit,
    places: Vec<Cell>,
    ways: Ways<WORDS>,
    /// For each way, those that end a chain which begins with it: all, and those of the length that was looked at last.
    reached: Vec<(Bits<WORDS>, Bits<WORDS>)>,
}

impl<const WORDS: usize> Net<WORDS> {
    /// Makes all chains longer by a link; tells whether there are any then.
    fn lengthen(&mut self) -> bool {
        let mut any = false;
        for (all, last) in &mut self.reached {
            if !last.is_empty() {
                *last = last.iter().fold(Bits::EMPTY, |next, way| next | self.ways.next(way)) - *all;
                *all |= *last;
                any |= !last.is_empty();
            }
        }
        any
    }

    /// Offers each chain of so many links that strikes something, once in its two directions.
    fn offer(&self, length: usize, position: &Position, offers: &mut impl Offers<Deduction>) -> bool {
        let mut found = false;
        for (first, (_, reached)) in self.reached.iter().enumerate() {
            let seeing = self.ways.seeing_first(first);
            for last in reached.iter().filter(|last| first <= last ^ 1) {
                let struck = seeing & self.ways.seeing_last(last);
                if struck.is_empty() || (length == 2 && self.is_one_house(first, last, struck)) {
                    continue;
                }
                let begin = self.ways.links[first / 2].ends[first % 2];
                let Some(about) = begin.iter().next().map(|at| self.places[at]) else { continue };
                offers.offer_if(about, DigitSet::single(self.digit), || {
                    let step = self.step(first, last, length, struck, position);
                    found |= step.is_some();
                    step
                });
            }
        }
        found
    }

    /// Whether what two links strike sees all of one of the houses.
    fn is_one_house(&self, first: usize, last: usize, struck: Bits<WORDS>) -> bool {
        [first, last]
            .iter()
            .any(|way| struck.is_subset(&(self.ways.seeing_first(*way) & self.ways.seeing_last(*way))))
    }

    /// The step of a chain of so many links from one way to another, of which there is none that is shorter. One that
    /// could spare a house is no chain, but something else.
    fn step(
        &self,
        first: usize,
        last: usize,
        length: usize,
        struck: Bits<WORDS>,
        position: &Position,
    ) -> Option<Deduction> {
        let cells: CellSet = struck.iter().map(|at| self.places[at]).collect();
        self.chains(first, last, length).into_iter().find_map(|ways| {
            let houses: Vec<HouseId> = ways.into_iter().map(|way| self.ways.links[way / 2].house).collect();
            let bases = houses.iter().map(|&house| Base::Place(house, self.digit));
            let claim = Claim::IsNot { cells, digits: DigitSet::single(self.digit) };
            let step =
                Deduction::with_marks(Pattern::SingleDigitChain, houses.iter().copied(), [claim], bases);
            (length == 2 || needs_all(position, &step)).then_some(step)
        })
    }

    /// The ways of chains of so many links from one to another, of which there is none that is shorter.
    fn chains(&self, first: usize, last: usize, length: usize) -> Vec<Vec<usize>> {
        let mut all = Bits::single(first);
        let mut rounds = vec![all];
        while rounds.len() < length - 1 {
            let before = rounds[rounds.len() - 1];
            let round = before.iter().fold(Bits::EMPTY, |next, way| next | self.ways.next(way)) - all;
            all |= round;
            rounds.push(round);
        }
        let mut chains = vec![vec![last]];
        for round in rounds.iter().rev() {
            let before = |chain: &Vec<usize>| -> Vec<Vec<usize>> {
                let fitting = round.iter().filter(|&way| self.ways.next(way).contains(chain[0]));
                fitting.map(|way| [&[way], &chain[..]].concat()).collect()
            };
            chains = chains.iter().flat_map(before).take(MOST_TRIED).collect();
        }
        chains
    }
}
