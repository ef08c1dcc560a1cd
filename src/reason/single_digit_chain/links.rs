//! The links of a digit: houses in which it has two places.

use std::cell::OnceCell;

use super::Net;
use crate::board::{Cell, CellSet, Digit, HouseId};
use crate::reason::numbers::Bits;
use crate::reason::tables::Tables;
use crate::step::Position;

/// In a house with more places nobody sees two groups.
const MOST_PLACES: usize = 10;

/// A house in which a digit has two places. It can be gone through in either way, which are numbered.
pub(super) struct Link<const WORDS: usize> {
    pub(super) house: HouseId,
    pub(super) ends: [Bits<WORDS>; 2],
    /// For each end, the places that see all of it.
    pub(super) seeing: [Bits<WORDS>; 2],
}

/// What the links of a digit are made with; places have numbers in reading order.
#[derive(Default)]
pub(super) struct Desk<const WORDS: usize> {
    /// For each house the places in it.
    in_house: Vec<Bits<WORDS>>,
    /// For each place those that see it.
    sights: Vec<Bits<WORDS>>,
    pub(super) links: Vec<Link<WORDS>>,
}

impl<const WORDS: usize> Desk<WORDS> {
    /// Finds the links of a digit that has these places; tells whether they are few enough for the words.
    pub(super) fn find_links(&mut self, places: &[Cell], tables: &Tables, position: &Position) -> bool {
        if places.len() > Bits::<WORDS>::MOST {
            return false;
        }
        let layout = position.layout();
        self.in_house.clear();
        self.in_house.resize(layout.houses().len(), Bits::EMPTY);
        for (&cell, at) in places.iter().zip(0..) {
            for slot in layout.slots(cell) {
                self.in_house[slot.house.place()].insert(at);
            }
        }
        self.sights.clear();
        self.sights.reserve(places.len());
        for (&cell, at) in places.iter().zip(0..) {
            let houses = layout.slots(cell).iter().map(|slot| self.in_house[slot.house.place()]);
            self.sights.push(houses.fold(Bits::EMPTY, |all, house| all | house) - Bits::single(at));
        }
        self.links = Vec::with_capacity(32);
        for house in layout.house_ids() {
            self.find_links_in(house, tables);
        }
        self.links.len() * 2 <= Bits::<WORDS>::MOST
    }

    /// Finds the ways to part the places of a house in two, each a cell or inside another house. Places that all lie in
    /// another house are parted only where they are two.
    fn find_links_in(&mut self, house: HouseId, tables: &Tables) {
        let own = self.in_house[house.place()];
        let count = own.len();
        if count == 2 {
            self.part(house, own, own.iter().next().map_or(Bits::EMPTY, Bits::single));
        }
        let widest = usize::from(tables.widest_crossing);
        if count <= 2 || count > MOST_PLACES.min(widest * 2) {
            return;
        }
        let crossings = tables.crossings_of(house);
        if crossings.iter().any(|crossing| own.is_subset(&self.in_house[crossing.second.place()])) {
            return;
        }
        for crossing in crossings {
            let here = own & self.in_house[crossing.second.place()];
            let rest = own - here;
            if here.is_empty() {
                continue;
            }
            if rest.len() == 1 {
                self.part(house, own, here);
            }
            for second in crossings {
                let second = self.in_house[second.second.place()];
                if rest.is_subset(&second) {
                    self.part_each_way(house, own, here, here & second);
                }
            }
        }
    }

    /// Parts the places of a house: those of `both` can be on either side.
    fn part_each_way(&mut self, house: HouseId, own: Bits<WORDS>, here: Bits<WORDS>, both: Bits<WORDS>) {
        for choice in 0..1_u32 << both.len() {
            let moved = both.iter().zip(0..).filter(|(_, bit)| choice & (1 << bit) != 0);
            let one = here - moved.fold(Bits::EMPTY, |all, (at, _)| all | Bits::single(at));
            if !one.is_empty() {
                self.part(house, own, one);
            }
        }
    }

    /// A link between some places of a house and its others, if it is new.
    fn part(&mut self, house: HouseId, own: Bits<WORDS>, one: Bits<WORDS>) {
        let ends = [one, own - one];
        let mut before = self.links.iter().rev().take_while(|link| link.house == house);
        if before.all(|link| !link.ends.contains(&one)) {
            let seeing = |end: Bits<WORDS>| {
                end.iter().map(|at| self.sights[at]).reduce(|a, b| a & b).unwrap_or(Bits::EMPTY)
            };
            self.links.push(Link { house, ends, seeing: [seeing(ends[0]), seeing(ends[1])] });
        }
    }

    /// The net of the links that were found last; chains begin only where they may strike a stray.
    pub(super) fn net(&mut self, digit: Digit, places: &[Cell], strays: &CellSet) -> Net<WORDS> {
        let strays = places.iter().zip(0..).filter(|(cell, _)| strays.contains(**cell));
        let strays = strays.fold(Bits::EMPTY, |all, (_, at)| all | Bits::single(at));
        let ways = Ways::new(std::mem::take(&mut self.links), places.len());
        let reached = |way: usize| {
            let strikes = !(ways.seeing_first(way) & strays).is_empty();
            let first = if strikes { Bits::single(way) } else { Bits::EMPTY };
            (first, first)
        };
        let reached = (0..ways.next.len()).map(reached).collect();
        Net { digit, places: places.to_vec(), reached, ways }
    }
}

/// The ways of the links of a digit. A way is a link with its direction: twice its number, and one more from its second end
/// to its first.
pub(super) struct Ways<const WORDS: usize> {
    pub(super) links: Vec<Link<WORDS>>,
    /// For each place the ways that begin with it alone.
    beginning_at: Vec<Bits<WORDS>>,
    /// The places at which some way begins alone.
    beginnings: Bits<WORDS>,
    beginning_with_several: Vec<(Bits<WORDS>, usize)>,
    /// For each link the ways of its house.
    of_house: Vec<Bits<WORDS>>,
    /// For each way, those that can come next, worked out when it is asked for them: most are not.
    next: Vec<OnceCell<Bits<WORDS>>>,
}

impl<const WORDS: usize> Ways<WORDS> {
    /// Sorts ways by what they begin with, of so many places, and by their house.
    fn new(links: Vec<Link<WORDS>>, places: usize) -> Ways<WORDS> {
        let mut beginning_at = vec![Bits::EMPTY; places];
        let mut beginnings = Bits::EMPTY;
        let mut beginning_with_several = Vec::with_capacity(links.len());
        let mut of_house = Vec::with_capacity(links.len());
        for (link, number) in links.iter().zip(0..) {
            let both = Bits::single(number * 2) | Bits::single(number * 2 + 1);
            let is_same = number > 0 && links[number - 1].house == link.house;
            of_house.push(if is_same { of_house[number - 1] | both } else { both });
            for (end, way) in link.ends.iter().zip(number * 2..) {
                match end.only() {
                    Some(at) => {
                        beginnings.insert(at);
                        beginning_at[at].insert(way);
                    }
                    None => beginning_with_several.push((*end, way)),
                }
            }
        }
        for number in (1..links.len()).rev() {
            if links[number].house == links[number - 1].house {
                of_house[number - 1] = of_house[number];
            }
        }
        let next = vec![OnceCell::new(); links.len() * 2];
        Ways { links, beginning_at, beginnings, beginning_with_several, of_house, next }
    }

    /// The places that see all of the first place of a way.
    pub(super) fn seeing_first(&self, way: usize) -> Bits<WORDS> {
        self.links[way / 2].seeing[way % 2]
    }

    /// The places that see all of the last place of a way.
    pub(super) fn seeing_last(&self, way: usize) -> Bits<WORDS> {
        self.links[way / 2].seeing[1 - way % 2]
    }

    /// The ways that can come next: their first place sees the last one of this.
    pub(super) fn next(&self, way: usize) -> Bits<WORDS> {
        *self.next[way].get_or_init(|| {
            let seeing = self.seeing_last(way);
            let begin = |at: usize| self.beginning_at[at];
            let mut after = (seeing & self.beginnings).iter().fold(Bits::EMPTY, |all, at| all | begin(at));
            for (end, way) in &self.beginning_with_several {
                if end.is_subset(&seeing) {
                    after.insert(*way);
                }
            }
            after - self.of_house[way / 2]
        })
    }
}
