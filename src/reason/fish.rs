//! Basic fish: in some rows a digit has its places in as many columns, or the other way round.

use super::choose::choose;
use super::nearest::Offers;
use super::strays::Strays;
use super::tables::Tables;
use crate::board::{Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

/// In `size` lines of one direction a digit has its places in `size` lines of the other: these have it nowhere else.
pub(super) fn find(
    size: u8,
    tables: &Tables,
    position: &Position,
    strays: &mut Strays,
    offers: &mut impl Offers<Deduction>,
) {
    for (lines, covers) in [(&tables.rows, &tables.columns), (&tables.columns, &tables.rows)] {
        for (digit, _) in strays.each(tables, position) {
            let few = lines.iter().zip(0..).map(|(&line, at)| (at, position.places(line, digit)));
            let few = few.filter(|(_, places)| (1..=u32::from(size)).contains(&places.count_ones()));
            choose(size, few, |own, union| {
                Fish { size, digit, own, union, lines, covers, position }.offer(offers);
            });
        }
    }
}

/// A digit in lines of one direction, and in lines of the other, a bit for each.
struct Fish<'a> {
    size: u8,
    digit: Digit,
    own: u32,
    union: u32,
    lines: &'a [HouseId],
    covers: &'a [HouseId],
    position: &'a Position,
}

impl Fish<'_> {
    fn offer(&self, offers: &mut impl Offers<Deduction>) {
        let Fish { digit, own, position, .. } = *self;
        let covers = || chosen(self.covers, self.union);
        // A line of one direction is a place in each line of the other.
        let places = |cover: HouseId| position.places(cover, digit);
        if !covers().any(|cover| places(cover) & !own != 0) {
            return;
        }
        let cells = |cover| position.cells_at(cover, places(cover) & own);
        let Some(first) = covers().next().and_then(|cover| cells(cover).first()) else { return };
        offers.offer(first, DigitSet::single(digit), || {
            let lines: Vec<HouseId> = chosen(self.lines, own).collect();
            let within =
                |house| Claim::Within { house, digits: DigitSet::single(digit), cells: cells(house) };
            let claims = covers().map(within);
            let bases = lines.iter().map(|&line| Base::Place(line, digit));
            let houses = lines.iter().copied().chain(covers());
            Deduction::with_marks(Pattern::Fish(self.size), houses, claims, bases)
        });
    }
}

/// The lines whose bits are set.
fn chosen(lines: &[HouseId], bits: u32) -> impl Iterator<Item = HouseId> {
    lines.iter().zip(0..).filter(move |(_, at)| bits & 1 << at != 0).map(|(&line, _)| line)
}
