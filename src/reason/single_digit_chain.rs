//! Single-digit chains: houses in each of which a digit has two places, each a cell or some cells that two houses have in
//! common, so that where it is not in one it is in the other. Of the two ends of a chain one holds the digit.

use super::bits::Bits;
use super::nearest::Offers;
use super::needs_all;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::proof::MOST_BASES;
use crate::step::{Base, Claim, Deduction, Position};

/// Words for a digit with the places and links of a usual grid.
const NARROW: usize = 2;
/// Words for the cells of the largest grid; a digit with more than 512 links is passed over.
const WIDE: usize = 16;

/// So many chains between the same two ways are looked at, of those that are shortest.
const MOST_TRIED: usize = 64;
/// In a house with more places nobody sees two groups.
const MOST_PLACES: u32 = 10;

/// The shortest chains of two links or more that strike something, of all digits.
pub(super) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let mut narrow: Vec<Net<NARROW>> = Vec::new();
    let mut wide: Vec<Net<WIDE>> = Vec::new();
    for digit in position.layout().size().digits().iter() {
        let places = places(digit, tables, position);
        match Net::new(digit, &places, tables, position) {
            Some(net) => narrow.push(net),
            None => wide.extend(Net::new(digit, &places, tables, position)),
        }
    }
    for length in 2..=MOST_BASES {
        let lengthened = narrow.iter_mut().fold(false, |any, net| net.lengthen() | any);
        let lengthened = wide.iter_mut().fold(lengthened, |any, net| net.lengthen() | any);
        let found = narrow.iter().fold(false, |any, net| net.offer(length, position, offers) | any);
        let found = wide.iter().fold(found, |any, net| net.offer(length, position, offers) | any);
        if found || !lengthened {
            return;
        }
    }
}

/// The cells that could hold a digit, in reading order.
fn places(digit: Digit, tables: &Tables, position: &Position) -> Vec<Cell> {
    let layout = position.layout();
    let in_row = |&row: &HouseId| {
        let mut rest = position.places(row, digit);
        std::iter::from_fn(move || {
            let at = rest.trailing_zeros() as usize;
            (rest != 0).then(|| {
                rest &= rest - 1;
                layout.at(row).cells[at]
            })
        })
    };
    tables.rows.iter().flat_map(in_row).collect()
}

/// A house in which a digit has two places. It can be gone through in either way, which are numbered.
struct Link<const WORDS: usize> {
    house: HouseId,
    ends: [Bits<WORDS>; 2],
    /// For each end, the places that see all of it.
    seeing: [Bits<WORDS>; 2],
}

/// The links of a digit, and how far chains have come from each of them. Places have numbers in reading order; a way is
/// a link with its direction: twice its number, and one more from its second end to its first.
struct Net<const WORDS: usize> {
    digit: Digit,
    places: Vec<Cell>,
    links: Vec<Link<WORDS>>,
    /// For each way, those that can come next: their first place sees the last one of this.
    next: Vec<Bits<WORDS>>,
    /// For each way, those that end a chain which begins with it: all, and those of the length that was looked at last.
    reached: Vec<(Bits<WORDS>, Bits<WORDS>)>,
}

impl<const WORDS: usize> Net<WORDS> {
    /// The links of a digit that has these places; `None` if they are too many for the words.
    fn new(digit: Digit, places: &[Cell], tables: &Tables, position: &Position) -> Option<Net<WORDS>> {
        if places.len() > Bits::<WORDS>::MOST {
            return None;
        }
        let layout = position.layout();
        let mut in_house = vec![Bits::EMPTY; layout.houses().len()];
        for (&cell, at) in places.iter().zip(0..) {
            for slot in layout.slots(cell) {
                let house = &mut in_house[slot.house.place()];
                *house = *house | Bits::single(at);
            }
        }
        let see = |(cell, at): (&Cell, usize)| {
            let houses = layout.slots(*cell).iter();
            houses.fold(Bits::EMPTY, |all, slot| all | in_house[slot.house.place()]) - Bits::single(at)
        };
        let sights: Vec<Bits<WORDS>> = places.iter().zip(0..).map(see).collect();
        let seeing = |end: Bits<WORDS>| end.iter().map(|at| sights[at]).reduce(|a, b| a & b).unwrap_or(Bits::EMPTY);
        let mut links = Vec::new();
        for house in layout.house_ids() {
            for_each_link(house, &in_house, tables, |ends| {
                links.push(Link { house, ends, seeing: ends.map(seeing) });
            });
        }
        if links.len() * 2 > Bits::<WORDS>::MOST {
            return None;
        }
        let mut net = Net { digit, places: places.to_vec(), links, next: Vec::new(), reached: Vec::new() };
        net.next = (0..net.links.len() * 2).map(|way| net.ways_after(way)).collect();
        net.reached = (0..net.links.len() * 2).map(|way| (Bits::single(way), Bits::single(way))).collect();
        Some(net)
    }

    fn ways_after(&self, way: usize) -> Bits<WORDS> {
        let (seeing, house) = (self.seeing_last(way), self.links[way / 2].house);
        let mut after = Bits::EMPTY;
        for (link, number) in self.links.iter().zip(0..).filter(|(link, _)| link.house != house) {
            for (end, direction) in link.ends.iter().zip(0..) {
                if end.is_subset(seeing) {
                    after = after | Bits::single(number * 2 + direction);
                }
            }
        }
        after
    }

    /// The places that see all of the first place of a way.
    fn seeing_first(&self, way: usize) -> Bits<WORDS> {
        self.links[way / 2].seeing[way % 2]
    }

    /// The places that see all of the last place of a way.
    fn seeing_last(&self, way: usize) -> Bits<WORDS> {
        self.links[way / 2].seeing[1 - way % 2]
    }

    /// Makes all chains longer by a link; tells whether there are any then.
    fn lengthen(&mut self) -> bool {
        let mut any = false;
        for (all, last) in &mut self.reached {
            if !last.is_empty() {
                *last = last.iter().fold(Bits::EMPTY, |next, way| next | self.next[way]) - *all;
                *all = *all | *last;
                any |= !last.is_empty();
            }
        }
        any
    }

    /// Offers each chain of so many links that strikes something, once in its two directions.
    fn offer(&self, length: usize, position: &Position, offers: &mut impl Offers<Deduction>) -> bool {
        let mut found = false;
        for (first, (_, reached)) in self.reached.iter().enumerate() {
            let seeing = self.seeing_first(first);
            for last in reached.iter().filter(|last| first <= last ^ 1) {
                let struck = seeing & self.seeing_last(last);
                if struck.is_empty() || (length == 2 && self.is_one_house(first, last, struck)) {
                    continue;
                }
                let begin = self.links[first / 2].ends[first % 2];
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
        [first, last].iter().any(|way| struck.is_subset(self.seeing_first(*way) & self.seeing_last(*way)))
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
            let houses: Vec<HouseId> = ways.into_iter().map(|way| self.links[way / 2].house).collect();
            let bases = houses.iter().map(|&house| Base::Place(house, self.digit)).collect();
            let claim = Claim::IsNot { cells, digits: DigitSet::single(self.digit) };
            let step = Deduction::with_marks(Pattern::SingleDigitChain, houses, vec![claim], bases);
            (length == 2 || needs_all(position, &step)).then_some(step)
        })
    }

    /// The ways of chains of so many links from one to another, of which there is none that is shorter.
    fn chains(&self, first: usize, last: usize, length: usize) -> Vec<Vec<usize>> {
        let mut all = Bits::single(first);
        let mut rounds = vec![all];
        while rounds.len() < length - 1 {
            let before = rounds[rounds.len() - 1];
            let round = before.iter().fold(Bits::EMPTY, |next, way| next | self.next[way]) - all;
            all = all | round;
            rounds.push(round);
        }
        let mut chains = vec![vec![last]];
        for round in rounds.iter().rev() {
            let before = |chain: &Vec<usize>| -> Vec<Vec<usize>> {
                let to = Bits::single(chain[0]);
                let fitting = round.iter().filter(|&way| to.is_subset(self.next[way]));
                fitting.map(|way| [&[way], &chain[..]].concat()).collect()
            };
            chains = chains.iter().flat_map(before).take(MOST_TRIED).collect();
        }
        chains
    }
}

/// Calls `link` with each way to part the places of a house in two, each a cell or inside another house. Places that all
/// lie in another house are parted only where they are two.
fn for_each_link<const WORDS: usize>(
    house: HouseId,
    in_house: &[Bits<WORDS>],
    tables: &Tables,
    mut link: impl FnMut([Bits<WORDS>; 2]),
) {
    let own = in_house[house.place()];
    if own.len() == 2 {
        let mut ends = own.iter().map(Bits::single);
        if let (Some(one), Some(other)) = (ends.next(), ends.next()) {
            link([one, other]);
        }
        return;
    }
    if !(2..=MOST_PLACES).contains(&own.len()) {
        return;
    }
    let crossings = tables.crossings_of(house);
    let inside = |crossing: &super::tables::Crossing| own & in_house[crossing.second.place()];
    if crossings.iter().any(|crossing| inside(crossing) == own) {
        return;
    }
    let mut found: Vec<Bits<WORDS>> = Vec::new();
    let mut part = |one: Bits<WORDS>| {
        let other = own - one;
        if !found.contains(&one) && !found.contains(&other) {
            found.push(one);
            link([one, other]);
        }
    };
    for crossing in crossings {
        let here = inside(crossing);
        let rest = own - here;
        if here.is_empty() {
            continue;
        }
        if rest.len() == 1 {
            part(here);
        }
        for second in crossings.iter().map(inside).filter(|second| rest.is_subset(*second)) {
            // What lies in both can be on either side.
            let both: Vec<usize> = (here & second).iter().collect();
            for choice in 0..1_u32 << both.len() {
                let moved = both.iter().zip(0..).filter(|(_, bit)| choice & (1 << bit) != 0);
                let one = here - moved.fold(Bits::EMPTY, |all, (&at, _)| all | Bits::single(at));
                if !one.is_empty() {
                    part(one);
                }
            }
        }
    }
}
