//! Wings, by trying every three cells, and every two with every house.

use std::collections::BTreeSet;

use gridsetter::board::{Cell, Digit, DigitSet};
use gridsetter::step::Base;

use super::Look;

fn with_candidates(look: &Look, count: usize) -> Vec<Cell> {
    look.0.grid().empty_cells().filter(|&cell| look.0.candidates(cell).len() == count).collect()
}

/// A pivot of two candidates (xy) or of three (xyz), and two cells of two that it sees. Each digit that the pivot can
/// hold leaves some end with the one digit that all ends could hold.
pub fn xy(look: &Look, pivot_has: usize) -> BTreeSet<Vec<Base>> {
    let pairs = with_candidates(look, 2);
    let mut found = BTreeSet::new();
    for pivot in with_candidates(look, pivot_has) {
        for &one in &pairs {
            for &other in pairs.iter().filter(|&&other| other != one && one != pivot && other != pivot) {
                let sees = |wing| look.0.layout().sees(pivot, wing);
                let set = |cell| look.0.candidates(cell);
                let (both, own) = (set(one) & set(other), set(pivot));
                let rest = (set(one) | set(other)) - both;
                let fits = if pivot_has == 2 { own == rest } else { own == rest | both };
                let mut ends = vec![one, other];
                ends.extend((pivot_has == 3).then_some(pivot));
                if sees(one) && sees(other) && both.len() == 1 && fits && look.seen_from_outside(&ends, both)
                {
                    let mut bases: Vec<Base> = [pivot, one, other].map(Base::Cell).into();
                    bases.sort_unstable();
                    found.insert(bases);
                }
            }
        }
    }
    found
}

pub fn w(look: &Look) -> BTreeSet<Vec<Base>> {
    let pairs = with_candidates(look, 2);
    let mut found = BTreeSet::new();
    for &one in &pairs {
        for &other in pairs.iter().filter(|&&other| other > one) {
            let sees = |a, b| look.0.layout().sees(a, b);
            let digits = look.0.candidates(one);
            if digits != look.0.candidates(other) || sees(one, other) {
                continue;
            }
            for (tie, end) in
                digits.iter().flat_map(|a| digits.iter().map(move |b| (a, b))).filter(|(a, b)| a != b)
            {
                for house in look.houses() {
                    let places = look.places(house, tie);
                    let all = |by: &dyn Fn(Cell) -> bool| places.iter().all(|&place| by(place));
                    if !all(&|place| sees(place, one))
                        && !all(&|place| sees(place, other))
                        && all(&|place| sees(place, one) || sees(place, other))
                        && look.seen_from_outside(&[one, other], only(end))
                    {
                        let mut bases = vec![Base::Cell(one), Base::Cell(other), Base::Place(house, tie)];
                        bases.sort_unstable();
                        found.insert(bases);
                    }
                }
            }
        }
    }
    found
}

pub fn only(digit: Digit) -> DigitSet {
    [digit].into_iter().collect()
}
