//! Basic fish: in some rows a digit has its places in as many columns, or the other way round.

use super::choose::{Masks, choose};
use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Method, Position};

/// In `size` lines of one direction a digit has its places in `size` lines of the other: these have it nowhere else.
pub(super) fn find(size: u8, tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let mut masks = Masks::default();
    for (lines, covers) in [(&tables.rows, &tables.columns), (&tables.columns, &tables.rows)] {
        for digit in position.layout().size().digits().iter() {
            let places = lines.iter().map(|&line| position.places(line, digit));
            masks.take((0..).zip(places), 1..=size.into());
            in_lines(size, digit, &masks, lines, covers, position, offers);
        }
    }
}

fn in_lines(
    size: u8,
    digit: Digit,
    masks: &Masks,
    lines: &[HouseId],
    covers: &[HouseId],
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    choose(masks, size, |labels, union| {
        let own = labels.iter().fold(0_u32, |bits, &label| bits | 1 << label);
        let covers: Vec<HouseId> = covers
            .iter()
            .zip(0..)
            .filter(|(_, at)| union & (1 << at) != 0)
            .map(|(cover, _)| *cover)
            .collect();
        // A line of one direction is a place in each line of the other.
        let place_of = |cover: HouseId| position.places(cover, digit) & own;
        let strikes = covers.iter().any(|&cover| position.places(cover, digit) & !own != 0);
        let Some(first) =
            covers.first().and_then(|&cover| position.cells_at(cover, place_of(cover)).iter().next())
        else {
            return;
        };
        if strikes {
            offers.offer(first, DigitSet::single(digit), || {
                let lines: Vec<HouseId> = labels.iter().map(|&label| lines[usize::from(label)]).collect();
                let within = |&house: &HouseId| Claim::Within {
                    house,
                    digits: DigitSet::single(digit),
                    cells: position.cells_at(house, place_of(house)),
                };
                Deduction {
                    pattern: Pattern::Fish(size),
                    method: Method::Marks,
                    seen: None,
                    claims: covers.iter().map(within).collect(),
                    bases: lines.iter().map(|&line| Base::Place(line, digit)).collect(),
                    houses: [lines, covers].concat(),
                    witnesses: Vec::new(),
                    splits: 0,
                }
            });
        }
    });
}
