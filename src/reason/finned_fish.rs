//! Finned fish: in some lines a digit has its places in as many lines of the other direction, but for some places, the
//! fins. Either a fin holds the digit or the fish is there, so that a place in a line of the other direction which sees
//! all fins does not hold it.

use super::nearest::Offers;
use super::needs_all;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, MAX_SIDE};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

/// Finned fish of `size` lines.
pub(super) fn find(size: u8, tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    for (lines, covers) in [(&tables.rows, &tables.columns), (&tables.columns, &tables.rows)] {
        for digit in position.layout().size().digits().iter() {
            let mut places = [0; MAX_SIDE as usize];
            for (&line, places) in lines.iter().zip(&mut places) {
                *places = position.places(line, digit);
            }
            let shoal = Shoal { size: size.into(), digit, lines, covers, places, position };
            shoal.find(offers);
        }
    }
}

/// The lines of one direction in which a digit is looked for, and those of the other.
struct Shoal<'a> {
    size: u32,
    digit: Digit,
    lines: &'a [HouseId],
    covers: &'a [HouseId],
    /// The places in each line: a bit for each line of the other direction.
    places: [u32; MAX_SIDE as usize],
    position: &'a Position,
}

impl Shoal<'_> {
    /// Supposes the digit in each of its places: lines that then have, together, one place too few are a fish.
    fn find(&self, offers: &mut impl Offers<Deduction>) {
        let mut found: Vec<(u32, u32)> = Vec::new();
        for own in 0..self.lines.len() {
            for column in ones(self.places[own]) {
                let mut left = [0; MAX_SIDE as usize];
                let mut finned = 0;
                for line in (0..self.lines.len()).filter(|&line| line != own) {
                    let beside = self.places[line] & !(1 << column);
                    left[line] = beside & !self.seen(own, column, line, beside);
                    let several = left[line].count_ones();
                    if several == 0 || several >= self.size {
                        left[line] = 0;
                    } else if left[line] != beside {
                        finned |= 1_u32 << line;
                    }
                }
                if finned != 0 {
                    self.choose(&left, finned, 0, 0, 0, &mut |lines, union| {
                        let covers = union | 1 << column;
                        let has_body = ones(lines).any(|line| self.places[line] & (1 << column) != 0);
                        if has_body && takes_all(&left, lines) && !found.contains(&(lines, covers)) {
                            found.push((lines, covers));
                            self.offer(lines, covers, offers);
                        }
                    });
                }
            }
        }
    }

    fn cell(&self, line: usize, column: usize) -> Cell {
        self.position.layout().at(self.lines[line]).cells[column]
    }

    /// Which of these places in a line are seen from another place.
    fn seen(&self, own: usize, column: usize, line: usize, places: u32) -> u32 {
        let peers = self.position.layout().peers(self.cell(own, column));
        ones(places).filter(|&at| peers.contains(self.cell(line, at))).fold(0, |seen, at| seen | 1 << at)
    }

    /// Calls `found` with each choice of as many lines as a fish has, one of `finned` or more among them, that have just
    /// one place fewer left.
    fn choose(&self, left: &[u32], finned: u32, first: usize, lines: u32, union: u32, found: &mut impl FnMut(u32, u32)) {
        if lines.count_ones() == self.size {
            if lines & finned != 0 && union.count_ones() == self.size - 1 {
                found(lines, union);
            }
            return;
        }
        for line in first..self.lines.len() {
            let with = union | left[line];
            if left[line] != 0 && with.count_ones() < self.size {
                self.choose(left, finned, line + 1, lines | 1 << line, with, found);
            }
        }
    }

    fn offer(&self, lines: u32, covers: u32, offers: &mut impl Offers<Deduction>) {
        let layout = self.position.layout();
        let cells = |lines: u32, places: u32| -> CellSet {
            ones(lines)
                .flat_map(|line| ones(self.places[line] & places).map(move |at| (line, at)))
                .map(|(line, at)| self.cell(line, at))
                .collect()
        };
        let (fins, others) = (cells(lines, !covers), cells(!lines & self.all_lines(), covers));
        let struck = others & layout.common_peers(fins);
        let Some(about) = fins.iter().next() else { return };
        let digits = DigitSet::single(self.digit);
        offers.offer_if(about, digits, || {
            let of = |houses: &[HouseId], bits: u32| -> Vec<HouseId> { ones(bits).map(|at| houses[at]).collect() };
            let (lines, covers) = (of(self.lines, lines), of(self.covers, covers));
            let bases = lines.iter().map(|&line| Base::Place(line, self.digit)).collect();
            let claims = vec![Claim::IsNot { cells: struck, digits }];
            let pattern = Pattern::FinnedFish(u8::try_from(self.size).unwrap_or(u8::MAX));
            let step = Deduction::with_marks(pattern, [lines, covers].concat(), claims, bases);
            needs_all(self.position, &step).then_some(step)
        });
    }

    fn all_lines(&self) -> u32 {
        (1 << self.lines.len()) - 1
    }
}

/// Whether no fewer of these lines have too few places left.
fn takes_all(left: &[u32], lines: u32) -> bool {
    let mut fewer = (lines - 1) & lines;
    while fewer != 0 {
        let union = ones(fewer).fold(0, |union: u32, line| union | left[line]);
        if union.count_ones() < fewer.count_ones() {
            return false;
        }
        fewer = (fewer - 1) & lines;
    }
    true
}

/// The places of the bits that are set, rising.
fn ones(mut bits: u32) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let at = bits.trailing_zeros() as usize;
        (bits != 0).then(|| {
            bits &= bits - 1;
            at
        })
    })
}
