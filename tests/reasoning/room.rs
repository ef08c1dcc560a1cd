//! What follows from bases, by trying every choice: one candidate of each, no two of them in one cell, nor with one
//! digit in one house.

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Layout};
use gridsetter::step::{Claim, Position, Swap};

pub type Candidate = (Cell, Digit);

/// Whether one candidate of each base can be true together with the supposed one.
pub fn leaves_room(layout: &Layout, bases: &[Vec<Candidate>], supposed: Candidate) -> bool {
    let open = |base: &Vec<Candidate>| -> Vec<Candidate> {
        base.iter().copied().filter(|&one| fit(layout, one, supposed)).collect()
    };
    let mut rest: Vec<Vec<Candidate>> = bases.iter().map(open).collect();
    let Some(fewest) = (0..rest.len()).min_by_key(|&at| rest[at].len()) else { return true };
    let base = rest.swap_remove(fewest);
    base.into_iter().any(|one| leaves_room(layout, &rest, one))
}

fn fit(layout: &Layout, one: Candidate, other: Candidate) -> bool {
    let share_a_house =
        || layout.houses().iter().any(|house| house.cells.contains(&one.0) && house.cells.contains(&other.0));
    one == other || (one.0 != other.0 && (one.1 != other.1 || !share_a_house()))
}

/// What a claim says outright that is not so: not what follows from it.
pub fn denied(layout: &Layout, claim: &Claim) -> Vec<Candidate> {
    let all = layout.size().digits();
    let (cells, digits) = match claim {
        Claim::Is { cells, digits } => (*cells, all - *digits),
        Claim::IsNot { cells, digits } => (*cells, *digits),
        Claim::Within { house, digits, cells } => (*layout.at(*house).set() - *cells, *digits),
    };
    cells.iter().flat_map(|cell| digits.iter().map(move |digit| (cell, digit))).collect()
}

/// What a claim says as bases.
pub fn stated(claim: &Claim) -> Vec<Vec<Candidate>> {
    match claim {
        Claim::Is { cells, digits } => {
            cells.iter().map(|cell| digits.iter().map(|digit| (cell, digit)).collect()).collect()
        }
        Claim::Within { cells, digits, .. } => {
            digits.iter().map(|digit| cells.iter().map(|cell| (cell, digit)).collect()).collect()
        }
        Claim::IsNot { .. } => Vec::new(),
    }
}

/// Every candidate of a position that a reader strikes after a claim, by the contract: what it denies; a digit placed
/// leaves the cells that see it; as many digits as cells that all see each other leave every cell that sees all of
/// these; and so does a digit that is within some cells of a house.
pub fn struck(position: &Position, claim: &Claim) -> Vec<Candidate> {
    let layout = position.layout();
    let sees_all = |cells: CellSet, cell: Cell| cells.iter().all(|one| layout.sees(one, cell));
    let all_see = |cells: CellSet| cells.iter().all(|a| cells.iter().all(|b| a == b || layout.sees(a, b)));
    let can_hold = |cells: CellSet, digit: Digit| -> CellSet {
        cells.iter().filter(|&cell| position.candidates(cell).contains(digit)).collect()
    };
    let mut found = denied(layout, claim);
    let mut leave = |digits: DigitSet, cells: CellSet| {
        let seeing = layout.size().all_cells().filter(|&cell| !cells.is_empty() && sees_all(cells, cell));
        found.extend(seeing.flat_map(|cell| digits.iter().map(move |digit| (cell, digit))));
    };
    let (cells, digits) = (claim.cells(), claim.digits());
    match claim {
        Claim::Is { .. } if digits.len() == 1 => {
            cells.iter().for_each(|one| leave(digits, CellSet::single(one)));
        }
        Claim::Is { .. } if cells.len() == digits.len() && all_see(cells) => leave(digits, cells),
        Claim::Within { .. } => {
            digits.iter().for_each(|digit| leave(DigitSet::single(digit), can_hold(cells, digit)));
            if cells.len() == digits.len() {
                found.extend(struck(position, &Claim::Is { cells, digits }));
            }
        }
        Claim::Is { .. } | Claim::IsNot { .. } => {}
    }
    found.retain(|&(cell, digit)| position.candidates(cell).contains(digit));
    found.sort_unstable();
    found.dedup();
    found
}

/// So many ways to fill the cells of a swap are looked at; of one with more it is not known what it says.
const MOST_FILLINGS: usize = 4096;

/// Whether a swap says that one of its extras is true, where there is one solution: each way to fill its cells without
/// these has another with the same digits in each house.
pub fn says(position: &Position, swap: &Swap) -> bool {
    let layout = position.layout();
    let mut fillings: Vec<Vec<Candidate>> = vec![Vec::new()];
    for &cell in &swap.cells {
        let left = position.candidates(cell).iter().filter(|&digit| !swap.extras.contains(&(cell, digit)));
        let left: Vec<Digit> = left.collect();
        let with = |filling: &Vec<Candidate>| -> Vec<Vec<Candidate>> {
            let fits = |&digit: &Digit| filling.iter().all(|&one| fit(layout, one, (cell, digit)));
            let more = left.iter().copied().filter(fits);
            more.map(|digit| [&filling[..], &[(cell, digit)]].concat()).collect()
        };
        fillings = fillings.iter().flat_map(with).take(MOST_FILLINGS).collect();
    }
    let digits_of = |filling: &Vec<Candidate>| -> Vec<DigitSet> {
        let in_house = |cells: &CellSet| {
            filling.iter().filter(|(cell, _)| cells.contains(*cell)).map(|(_, d)| *d).collect()
        };
        layout.houses().iter().map(|house| in_house(house.set())).collect()
    };
    let open = swap.cells.iter().all(|&cell| position.grid().get(cell).is_none());
    let all: Vec<Vec<DigitSet>> = fillings.iter().map(digits_of).collect();
    let has_another = |one: &Vec<DigitSet>| all.iter().filter(|other| *other == one).count() > 1;
    position.has_one_solution() && open && all.len() < MOST_FILLINGS && all.iter().all(has_another)
}
