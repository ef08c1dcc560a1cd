//! Finned fish, by trying every choice of lines and of lines across.

use std::collections::BTreeSet;

use gridsetter::board::{Cell, CellSet, Digit, HouseId, HouseName};
use gridsetter::ladder::Pattern;
use gridsetter::proof;
use gridsetter::step::{Base, Claim, Deduction};

use super::wings::only;
use super::{Look, choices};

/// The finned fish of the fewest lines.
pub fn all(look: &Look) -> BTreeSet<Vec<Base>> {
    (2..=4).map(|size| of_size(look, size)).find(|found| !found.is_empty()).unwrap_or_default()
}

fn of_size(look: &Look, size: usize) -> BTreeSet<Vec<Base>> {
    let layout = look.0.layout();
    let of = |wanted: &dyn Fn(&HouseName) -> bool| -> Vec<HouseId> {
        look.houses().filter(|&house| wanted(&layout.at(house).name)).collect()
    };
    let rows = of(&|house| matches!(house, HouseName::Row(_)));
    let columns = of(&|house| matches!(house, HouseName::Column(_)));
    let mut found = BTreeSet::new();
    for (lines, others) in [(&rows, &columns), (&columns, &rows)] {
        for digit in look.digits().iter() {
            let open: Vec<HouseId> =
                lines.iter().copied().filter(|&line| !look.places(line, digit).is_empty()).collect();
            for chosen in choices(&open, size) {
                let inside: Vec<Cell> = chosen.iter().flat_map(|&line| look.places(line, digit)).collect();
                let mut met = others.clone();
                met.retain(|&other| look.cells(other).iter().any(|cell| inside.contains(cell)));
                for covers in choices(&met, size) {
                    if let Some(step) = fish(look, digit, &chosen, &covers, &inside) {
                        found.insert(super::essence(&step));
                    }
                }
            }
        }
    }
    found
}

fn fish(
    look: &Look,
    digit: Digit,
    lines: &[HouseId],
    covers: &[HouseId],
    inside: &[Cell],
) -> Option<Deduction> {
    let layout = look.0.layout();
    let covered = |cell: &Cell| covers.iter().any(|&cover| look.cells(cover).contains(cell));
    let fins: Vec<Cell> = inside.iter().copied().filter(|cell| !covered(cell)).collect();
    let struck: Vec<Cell> = layout
        .size()
        .all_cells()
        .filter(|cell| look.can_hold(*cell, digit) && covered(cell) && !inside.contains(cell))
        .filter(|&cell| fins.iter().all(|&fin| layout.sees(fin, cell)))
        .collect();
    // Some place that is struck takes all of the lines: no fewer would have too few lines across without it.
    let takes_all = |&cell: &Cell| {
        (1..lines.len()).all(|fewer| {
            choices(lines, fewer).iter().all(|some| {
                let left = some.iter().flat_map(|&line| look.places(line, digit));
                let left: Vec<Cell> = left.filter(|&place| !layout.sees(place, cell)).collect();
                let met = |cover: &&HouseId| look.cells(**cover).iter().any(|at| left.contains(at));
                let is_empty = some.iter().any(|&line| look.cells(line).iter().all(|at| !left.contains(at)));
                !is_empty && covers.iter().filter(met).count() >= fewer
            })
        })
    };
    if fins.is_empty() || !struck.iter().any(takes_all) {
        return None;
    }
    let cells: CellSet = struck.into_iter().collect();
    let bases = lines.iter().map(|&line| Base::Place(line, digit));
    let claims = vec![Claim::IsNot { cells, digits: only(digit) }];
    let step = Deduction::with_marks(Pattern::FinnedFish, Vec::new(), claims, bases);
    proof::superfluous(look.0, &step).is_empty().then_some(step)
}
