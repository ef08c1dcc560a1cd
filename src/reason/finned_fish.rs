//! Finned fish: in some lines a digit has its places in as many lines of the other direction, but for some places, the
//! fins. Either a fin holds the digit or the fish is there, so that a place in a line of the other direction which sees
//! all fins does not hold it.

use super::nearest::Offers;
use super::strays::Strays;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, MAX_SIDE, bits};
use crate::ladder::Pattern;
use crate::proof::needs_all;
use crate::step::{Base, Claim, Deduction, Position};

/// How many lines a fish has.
const SIZES: std::ops::RangeInclusive<u32> = 2..=4;

/// A word for each line: a bit for each line of the other direction.
type Lines = [u32; MAX_SIDE as usize];

/// The finned fish of the fewest lines.
pub(super) fn find(
    tables: &Tables,
    position: &Position,
    strays: &mut Strays,
    offers: &mut impl Offers<Deduction>,
) {
    let mut places: Vec<(Digit, Cell)> = Vec::new();
    for (digit, strays) in strays.each(tables, position) {
        let rows = places_in(&tables.rows, digit, position);
        let places_of_fins = strays.iter().filter(|&cell| leaves_too_few(&rows, cell, digit, position));
        places.extend(places_of_fins.map(|cell| (digit, cell)));
    }
    for size in SIZES {
        let mut found = false;
        for own in places.chunk_by(|a, b| a.0 == b.0) {
            for (lines, covers) in [(&tables.rows, &tables.columns), (&tables.columns, &tables.rows)] {
                let digit = own[0].0;
                let shoal =
                    Shoal { size, digit, lines, covers, places: places_in(lines, digit, position), position };
                found |= shoal.find(own, offers);
            }
        }
        if found {
            return;
        }
    }
}

fn places_in(lines: &[HouseId], digit: Digit, position: &Position) -> Lines {
    let mut places = [0; MAX_SIDE as usize];
    for (&line, places) in lines.iter().zip(&mut places) {
        *places = position.places(line, digit);
    }
    places
}

/// What is left of places in rows if the digit is in this cell; `None` if nothing goes but what is in its row and column.
fn left(rows: &Lines, cell: Cell, digit: Digit, position: &Position) -> Option<Lines> {
    let layout = position.layout();
    let (row, column) = (usize::from(cell.row()), usize::from(cell.col()));
    let mut left = *rows;
    let mut any = false;
    // After its row and its column the others.
    for slot in &layout.slots(cell)[2..] {
        for at in ones(position.places(slot.house, digit)) {
            let place = layout.at(slot.house).cells[at];
            if place.row() != cell.row() && place.col() != cell.col() {
                left[usize::from(place.row())] &= !(1 << place.col());
                any = true;
            }
        }
    }
    if !any {
        return None;
    }
    left[row] = 0;
    for places in &mut left {
        *places &= !(1 << column);
    }
    Some(left)
}

/// Whether the digit in this cell leaves so few places, and not only in its row and column, that the rows with places
/// cannot have one each in columns of their own. Then some rows have too few columns, and some columns too few rows.
fn leaves_too_few(rows: &Lines, cell: Cell, digit: Digit, position: &Position) -> bool {
    let Some(left) = left(rows, cell, digit, position) else { return false };
    let mut owners = [None; MAX_SIDE as usize];
    let mut open = (0..rows.len()).filter(|&row| rows[row] != 0);
    // Only where nothing fits any more they are not as many.
    let columns = rows.iter().fold(0, |all: u32, row| all | row);
    columns.count_ones() as usize != open.clone().count()
        || open.any(|row| row != usize::from(cell.row()) && !takes_column(row, &left, &mut owners, &mut 0))
}

/// Finds a column for a row, if need be by moving others.
fn takes_column(row: usize, left: &Lines, owners: &mut [Option<usize>], tried: &mut u32) -> bool {
    for column in ones(left[row]) {
        if *tried & (1 << column) == 0 {
            *tried |= 1 << column;
            if owners[column].is_none_or(|other| takes_column(other, left, owners, tried)) {
                owners[column] = Some(row);
                return true;
            }
        }
    }
    false
}

/// The lines of one direction in which a digit is looked for, and those of the other.
struct Shoal<'a> {
    size: u32,
    digit: Digit,
    lines: &'a [HouseId],
    covers: &'a [HouseId],
    places: Lines,
    position: &'a Position,
}

impl Shoal<'_> {
    /// Supposes the digit in each of these places: lines that then have, together, one place too few are a fish.
    fn find(&self, supposed: &[(Digit, Cell)], offers: &mut impl Offers<Deduction>) -> bool {
        let mut known: Vec<(u32, u32)> = Vec::new();
        let mut found = false;
        for &(_, cell) in supposed {
            let peers = self.position.layout().peers(cell);
            let seen = |line: usize| {
                let seen = ones(self.places[line]).filter(|&at| peers.contains(self.cell(line, at)));
                seen.fold(0, |seen, at| seen | 1 << at)
            };
            let mut left = [0; MAX_SIDE as usize];
            for line in (0..self.lines.len()).filter(|&line| !self.set(line).contains(cell)) {
                let beside = self.places[line] & !seen(line);
                left[line] = if beside.count_ones() < self.size { beside } else { 0 };
            }
            let own = (0..self.covers.len())
                .find(|&at| self.position.layout().at(self.covers[at]).set().contains(cell))
                .unwrap_or(0);
            self.choose(&left, 0, 0, 0, &mut |lines, union| {
                let covers = union | 1 << own;
                let has_body = ones(lines).any(|line| self.places[line] & (1 << own) != 0);
                let has_fin = ones(lines).any(|line| self.places[line] & !covers != 0);
                if has_body && has_fin && takes_all(&left, lines) && !known.contains(&(lines, covers)) {
                    known.push((lines, covers));
                    found |= self.offer(lines, covers, offers);
                }
            });
        }
        found
    }

    fn set(&self, line: usize) -> &CellSet {
        self.position.layout().at(self.lines[line]).set()
    }

    fn cell(&self, line: usize, place: usize) -> Cell {
        self.position.layout().at(self.lines[line]).cells[place]
    }

    /// Calls `found` with each choice of as many lines as a fish has that have just one place fewer left.
    fn choose(&self, left: &Lines, first: usize, lines: u32, union: u32, found: &mut impl FnMut(u32, u32)) {
        if lines.count_ones() == self.size {
            if union.count_ones() == self.size - 1 {
                found(lines, union);
            }
            return;
        }
        for line in first..self.lines.len() {
            let with = union | left[line];
            if left[line] != 0 && with.count_ones() < self.size {
                self.choose(left, line + 1, lines | 1 << line, with, found);
            }
        }
    }

    fn offer(&self, lines: u32, covers: u32, offers: &mut impl Offers<Deduction>) -> bool {
        let cells = |lines: u32, places: u32| -> CellSet {
            let both =
                ones(lines).flat_map(|line| ones(self.places[line] & places).map(move |at| (line, at)));
            both.map(|(line, at)| self.cell(line, at)).collect()
        };
        let all_lines = (1 << self.lines.len()) - 1;
        let (fins, others) = (cells(lines, !covers), cells(!lines & all_lines, covers));
        let struck = others & self.position.layout().common_peers(fins);
        let Some(about) = fins.iter().next() else { return false };
        let digits = DigitSet::single(self.digit);
        let mut found = false;
        offers.offer_if(about, digits, || {
            let of =
                |houses: &[HouseId], bits: u32| -> Vec<HouseId> { ones(bits).map(|at| houses[at]).collect() };
            let (lines, covers) = (of(self.lines, lines), of(self.covers, covers));
            let bases = lines.iter().map(|&line| Base::Place(line, self.digit));
            let (houses, claim) =
                (lines.iter().chain(&covers).copied(), Claim::IsNot { cells: struck, digits });
            let step = Deduction::with_marks(Pattern::FinnedFish, houses, [claim], bases);
            found = needs_all(self.position, &step);
            found.then_some(step)
        });
        found
    }
}

/// Whether no fewer of these lines have too few places left.
fn takes_all(left: &Lines, lines: u32) -> bool {
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
fn ones(mask: u32) -> impl Iterator<Item = usize> {
    bits(mask).map(usize::from)
}
