//! Where a cell of a rectangle or a loop held one of the two digits, the others would follow, so that none of the further
//! candidates were left: houses that have one of the digits only in these cells, and cells with no further candidate,
//! see to that.

use super::Deadly;
use super::follows::Idea;
use crate::board::{Digit, HouseId};
use crate::step::{Base, Position};

/// A house that has one of the two digits only in two of the cells.
struct Tie {
    house: HouseId,
    digit: Digit,
    cells: [usize; 2],
}

/// The cells and what ties them.
struct Net<'a> {
    deadly: &'a Deadly,
    digits: [Digit; 2],
    /// The cells with further candidates, a bit for each.
    open: u64,
    /// For each cell those that see it.
    sights: Vec<u64>,
    ties: Vec<Tie>,
}

/// What says that a cell must hold a digit.
#[derive(Clone, Copy)]
enum Because {
    /// It is supposed.
    Supposed,
    /// A house has no other place for the digit: the tie of this number.
    Tie(usize),
    /// The cell has no other candidate left.
    Left,
}

/// A cell that must hold a digit, what says so, and what came before it: its place among these.
struct So {
    cell: usize,
    digit: Digit,
    because: Because,
    after: usize,
}

/// Adds what strikes one of the two digits from a cell; what reads the same is one.
pub(super) fn find<'a>(deadly: &'a Deadly, position: &Position, ideas: &mut Vec<Idea<'a>>) {
    let Some(net) = Net::new(deadly, position) else { return };
    let (own, reached) = (ideas.len(), net.reached());
    let mut so = Vec::with_capacity(deadly.cells.len());
    for cell in 0..deadly.cells.len() {
        for (digit, at) in net.digits.into_iter().zip(2 * cell..) {
            // Mostly some open cell does not follow: then nothing is told of the others.
            if net.open & !reached[at] != 0 || !net.refutes(cell, digit, &mut so) {
                continue;
            }
            let (struck, beside) = ((deadly.cells[cell], digit), net.read(&so));
            match ideas[own..].iter_mut().find(|idea| idea.beside == beside) {
                Some(idea) => idea.struck.push(struck),
                None => ideas.push(Idea { deadly, struck: vec![struck], beside }),
            }
        }
    }
}

impl Net<'_> {
    /// The ties; `None` if there is none, or none at two of the cells with further candidates: then nothing follows that
    /// does not follow at once.
    fn new<'a>(deadly: &'a Deadly, position: &Position) -> Option<Net<'a>> {
        let layout = position.layout();
        let mut digits = deadly.pair.iter();
        let digits = [digits.next()?, digits.next()?];
        let mut sights = vec![0; deadly.cells.len()];
        let mut ties = Vec::new();
        for (first, &cell) in deadly.cells.iter().enumerate() {
            for slot in layout.slots(cell) {
                let house = layout.at(slot.house).set();
                let partner = (first + 1..deadly.cells.len()).find(|&at| house.contains(deadly.cells[at]));
                let Some(second) = partner else { continue };
                sights[first] |= 1 << second;
                sights[second] |= 1 << first;
                let two = digits.into_iter().filter(|&d| position.places(slot.house, d).count_ones() == 2);
                ties.extend(two.map(|digit| Tie { house: slot.house, digit, cells: [first, second] }));
            }
        }
        let open =
            deadly.cells.iter().zip(0..).filter(|(cell, _)| deadly.extras.iter().any(|(at, _)| at == *cell));
        let open = open.fold(0, |open, (_, at)| open | 1 << at);
        let tied = ties.iter().flat_map(|tie: &Tie| tie.cells).fold(0_u64, |tied, at| tied | 1 << at);
        let loose = open & !tied;
        let is_in_reach = !ties.is_empty() && loose & loose.wrapping_sub(1) == 0;
        is_in_reach.then_some(Net { deadly, digits, open, sights, ties })
    }

    fn other(&self, digit: Digit) -> Digit {
        if digit == self.digits[0] { self.digits[1] } else { self.digits[0] }
    }

    /// For each cell, and for each of the two digits in it, the cells that follow from it: a bit for each, and behind these
    /// bits of no meaning.
    fn reached(&self) -> Vec<u64> {
        let cells = self.deadly.cells.len();
        // A bit for each cell with the first digit, and behind them one for each with the second.
        let bit = |cell: usize, digit: usize| 1_u64 << (cell + digit * cells);
        let mut reached: Vec<u64> = (0..2 * cells).map(|at| bit(at / 2, at % 2)).collect();
        for tie in &self.ties {
            let digit = usize::from(tie.digit == self.digits[1]);
            for [one, other] in [tie.cells, [tie.cells[1], tie.cells[0]]] {
                let follows = bit(other, digit);
                reached[2 * one + 1 - digit] |= follows;
                for (cell, sights) in self.sights.iter().enumerate() {
                    let is_out = cell != other && sights & 1 << one != 0;
                    reached[2 * cell + digit] |= if is_out { follows } else { 0 };
                }
            }
        }
        for (cell, sights) in self.sights.iter().enumerate() {
            let clean = sights & !self.open;
            reached[2 * cell] |= clean << cells;
            reached[2 * cell + 1] |= clean;
        }
        for by in 0..2 * cells {
            let (bit, further) = (bit(by / 2, by % 2), reached[by]);
            for reached in &mut reached {
                *reached |= if *reached & bit != 0 { further } else { 0 };
            }
        }
        for reached in &mut reached {
            *reached |= *reached >> cells;
        }
        reached
    }

    /// Whether with this digit in this cell no further candidate is left; what follows from it is put into `so`.
    fn refutes(&self, cell: usize, digit: Digit, so: &mut Vec<So>) -> bool {
        so.clear();
        so.push(So { cell, digit, because: Because::Supposed, after: 0 });
        let mut known: u64 = 1 << cell;
        let mut at = 0;
        while at < so.len() && self.open & !known != 0 {
            let (cell, digit) = (so[at].cell, so[at].digit);
            let mut follow = |cell: usize, digit: Digit, because: Because| {
                if known & (1 << cell) == 0 {
                    known |= 1 << cell;
                    so.push(So { cell, digit, because, after: at });
                }
            };
            for (tie, number) in self.ties.iter().zip(0..) {
                for [one, other] in [tie.cells, [tie.cells[1], tie.cells[0]]] {
                    let is_out = if one == cell {
                        tie.digit != digit
                    } else {
                        tie.digit == digit && other != cell && self.sights[cell] & (1 << one) != 0
                    };
                    if is_out {
                        follow(other, tie.digit, Because::Tie(number));
                    }
                }
            }
            let clean = self.sights[cell] & !self.open;
            for clean in (0..self.deadly.cells.len()).filter(|at| clean & (1 << at) != 0) {
                follow(clean, self.other(digit), Because::Left);
            }
            at += 1;
        }
        self.open & !known == 0
    }

    /// What is read of this, so that each cell with further candidates is known.
    fn read(&self, so: &[So]) -> Vec<Base> {
        let mut needed: Vec<bool> = so.iter().map(|one| self.open & (1 << one.cell) != 0).collect();
        for at in (1..so.len()).rev() {
            if needed[at] {
                needed[so[at].after] = true;
            }
        }
        let base = |one: &So| match one.because {
            Because::Supposed => None,
            Because::Tie(number) => Some(Base::Place(self.ties[number].house, self.ties[number].digit)),
            Because::Left => Some(Base::Cell(self.deadly.cells[one.cell])),
        };
        let mut bases: Vec<Base> =
            so.iter().zip(needed).filter(|(_, needed)| *needed).filter_map(|(one, _)| base(one)).collect();
        bases.sort_unstable();
        bases
    }
}
