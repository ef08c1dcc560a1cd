//! What uniqueness gives, by trying every four cells, every way around, every choice of further candidates: for each, the
//! swap. What follows from it is looked for as a person would, but in no clever order.

use std::collections::BTreeSet;

use gridsetter::board::{Cell, Digit, DigitSet, HouseId};
use gridsetter::ladder::Pattern;
use gridsetter::proof;
use gridsetter::step::{Base, Claim, Deduction, Swap};

use super::wings::only;
use super::{Look, choices};

type Candidate = (Cell, Digit);

pub fn rectangles(look: &Look) -> BTreeSet<Vec<Base>> {
    let side = look.0.layout().size().side();
    let mut found = Vec::new();
    for (upper, lower) in (0..side).flat_map(|a| (a + 1..side).map(move |b| (a, b))) {
        for (left, right) in (0..side).flat_map(|a| (a + 1..side).map(move |b| (a, b))) {
            let corners = [(upper, left), (upper, right), (lower, right), (lower, left)];
            found.push(corners.map(|(row, col)| Cell::new(row, col)).to_vec());
        }
    }
    of_two_digits(look, &found)
}

/// Loops of at least six cells, two of them at most with further candidates.
pub fn loops(look: &Look) -> BTreeSet<Vec<Base>> {
    let mut found = BTreeSet::new();
    for pair in choices(&look.digits().iter().collect::<Vec<_>>(), 2) {
        let pair: DigitSet = pair.into_iter().collect();
        let fitting: Vec<Cell> =
            look.0.grid().empty_cells().filter(|&cell| pair.is_subset(look.0.candidates(cell))).collect();
        let mut around = Vec::new();
        for &cell in fitting.iter().filter(|&&cell| look.0.candidates(cell) == pair) {
            go_round(look, pair, &fitting, &mut vec![cell], &mut around);
        }
        found.extend(with_pair(look, &around, pair));
    }
    found
}

fn go_round(look: &Look, pair: DigitSet, fitting: &[Cell], path: &mut Vec<Cell>, found: &mut Vec<Vec<Cell>>) {
    let open = path.iter().filter(|&&cell| look.0.candidates(cell) != pair).count();
    let sees = |a: Cell, b: Cell| look.0.layout().sees(a, b);
    if open > 2
        || (2..path.len())
            .any(|at| (0..at - 1).any(|before| at % 2 == before % 2 && sees(path[at], path[before])))
    {
        return;
    }
    if path.len() >= 6 && sees(path[0], path[path.len() - 1]) {
        found.push(path.clone());
    }
    for &next in fitting {
        if !path.contains(&next) && sees(path[path.len() - 1], next) {
            path.push(next);
            go_round(look, pair, fitting, path, found);
            path.pop();
        }
    }
}

fn of_two_digits(look: &Look, around: &[Vec<Cell>]) -> BTreeSet<Vec<Base>> {
    let pairs = choices(&look.digits().iter().collect::<Vec<_>>(), 2);
    pairs.into_iter().flat_map(|pair| with_pair(look, around, pair.into_iter().collect())).collect()
}

/// The swaps of cells that are given in their order around, for two digits, from which something follows; only those
/// from which it follows at once, if there are such.
fn with_pair(look: &Look, around: &[Vec<Cell>], pair: DigitSet) -> BTreeSet<Vec<Base>> {
    let mut found = BTreeSet::new();
    for cells in around {
        let extras: Vec<Candidate> = cells
            .iter()
            .flat_map(|&cell| (look.0.candidates(cell) - pair).iter().map(move |digit| (cell, digit)))
            .collect();
        if cells.iter().all(|&cell| pair.is_subset(look.0.candidates(cell)))
            && !extras.is_empty()
            && alternates(look, cells)
            && look.0.has_one_solution()
            && (at_once(look, cells, &extras)
                || tied(look, cells, pair, &extras)
                || in_a_set(look, cells, &extras))
        {
            found.insert(vec![swap(cells, &extras)]);
        }
    }
    found
}

fn swap(cells: &[Cell], extras: &[Candidate]) -> Base {
    let (mut cells, mut extras) = (cells.to_vec(), extras.to_vec());
    cells.sort_unstable();
    extras.sort_unstable();
    Base::Swap(Swap { cells, extras })
}

/// Whether each house has none of the cells, or one at an odd and one at an even place.
fn alternates(look: &Look, cells: &[Cell]) -> bool {
    look.houses().all(|house| {
        let inside: Vec<usize> =
            (0..cells.len()).filter(|&at| look.cells(house).contains(&cells[at])).collect();
        inside.is_empty() || (inside.len() == 2 && inside[0] % 2 != inside[1] % 2)
    })
}

fn conflict(look: &Look, a: Candidate, b: Candidate) -> bool {
    if a.0 == b.0 { a.1 != b.1 } else { a.1 == b.1 && look.0.layout().sees(a.0, b.0) }
}

/// Whether some candidate is against every one of the extras.
fn at_once(look: &Look, _: &[Cell], extras: &[Candidate]) -> bool {
    candidates(look).iter().any(|&one| extras.iter().all(|&extra| conflict(look, one, extra)))
}

fn candidates(look: &Look) -> Vec<Candidate> {
    let cells = look.0.grid().empty_cells();
    cells.flat_map(|cell| look.0.candidates(cell).iter().map(move |digit| (cell, digit))).collect()
}

/// Whether one of the two digits in one of the cells leads round the others, by cells with no third candidate and by
/// houses with no other place, until no extra is left.
fn tied(look: &Look, cells: &[Cell], pair: DigitSet, extras: &[Candidate]) -> bool {
    let supposed = cells.iter().flat_map(|&cell| pair.iter().map(move |digit| (cell, digit)));
    supposed.into_iter().any(|supposed| {
        let mut so = vec![supposed];
        loop {
            let out = |one: Candidate| so.iter().any(|&other| conflict(look, one, other));
            let alone = |cell: Cell, digit: Digit| {
                let is_last =
                    look.0.candidates(cell) == pair && pair.iter().all(|d| d == digit || out((cell, d)));
                let houses = look.houses().filter(|&house| look.cells(house).contains(&cell));
                let mut places = houses.map(|house| look.places(house, digit));
                is_last
                    || places.any(|places| {
                        let tied = places.len() == 2 && places.iter().all(|place| cells.contains(place));
                        tied && places.iter().all(|&place| place == cell || out((place, digit)))
                    })
            };
            let next = cells
                .iter()
                .flat_map(|&cell| pair.iter().map(move |digit| (cell, digit)))
                .find(|&one| !so.iter().any(|(cell, _)| *cell == one.0) && !out(one) && alone(one.0, one.1));
            match next {
                Some(next) => so.push(next),
                None => return extras.iter().all(|&extra| out(extra)),
            }
        }
    })
}

/// Whether the extras are in one house, where they and up to three cells share as many digits, and some other candidate
/// is against all that they have of a digit, and is not out by these cells alone.
fn in_a_set(look: &Look, _: &[Cell], extras: &[Candidate]) -> bool {
    let inside = |house: &HouseId| extras.iter().all(|(cell, _)| look.cells(*house).contains(cell));
    look.houses().filter(inside).any(|house| {
        let others: Vec<Cell> = look
            .open(house)
            .into_iter()
            .filter(|cell| extras.iter().all(|(own, _)| own != cell) && !look.0.candidates(*cell).is_empty())
            .collect();
        (1..=3).any(|count| {
            choices(&others, count).into_iter().any(|chosen| {
                let own: Vec<Candidate> = chosen
                    .iter()
                    .flat_map(|&cell| look.0.candidates(cell).iter().map(move |digit| (cell, digit)))
                    .chain(extras.iter().copied())
                    .collect();
                let digits: DigitSet = own.iter().map(|(_, digit)| *digit).collect();
                let strikes = |&one: &Candidate| {
                    let group: Vec<Candidate> =
                        own.iter().copied().filter(|(_, digit)| *digit == one.1).collect();
                    !group.is_empty()
                        && group.iter().all(|&other| other.0 != one.0 && conflict(look, one, other))
                        && !follows(look, &chosen, one)
                };
                digits.len() == count + 1 && candidates(look).iter().any(strikes)
            })
        })
    })
}

/// Whether it follows from these cells alone that a candidate is out.
fn follows(look: &Look, cells: &[Cell], (cell, digit): Candidate) -> bool {
    let claims = vec![Claim::IsNot { cells: [cell].into_iter().collect(), digits: only(digit) }];
    let bases = cells.iter().copied().map(Base::Cell);
    let step = Deduction::with_marks(Pattern::UniqueRectangle, Vec::new(), claims, bases);
    proof::with_marks(look.0, &step).is_ok()
}

/// Traps with up to three cells that have more than two candidates, from which something follows at once.
pub fn traps(look: &Look) -> BTreeSet<Vec<Base>> {
    let cells: Vec<Cell> = look.0.grid().empty_cells().collect();
    let several: Vec<Cell> =
        cells.iter().copied().filter(|&cell| look.0.candidates(cell).len() > 2).collect();
    let mut found = BTreeSet::new();
    if several.is_empty()
        || several.len() > 3
        || !look.0.has_one_solution()
        || cells.iter().any(|&cell| look.0.candidates(cell).len() < 2)
    {
        return found;
    }
    let mut all: Vec<Vec<Candidate>> = vec![Vec::new()];
    for &cell in &several {
        let digits: Vec<Digit> = look.0.candidates(cell).iter().collect();
        let extras = choices(&digits, digits.len() - 2);
        all = all
            .iter()
            .flat_map(|before| {
                extras.iter().map(move |extra| {
                    before.iter().copied().chain(extra.iter().map(|&digit| (cell, digit))).collect()
                })
            })
            .collect();
    }
    for extras in all {
        let holds_two = look.houses().all(|house| {
            look.digits().iter().filter(|&digit| look.0.missing(house).contains(digit)).all(|digit| {
                let places = look.places(house, digit);
                places.iter().filter(|&&cell| !extras.contains(&(cell, digit))).count() == 2
            })
        });
        if holds_two && at_once(look, &cells, &extras) {
            found.insert(vec![swap(&cells, &extras)]);
        }
    }
    found
}
