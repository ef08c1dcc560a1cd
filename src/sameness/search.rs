//! The least picture of a puzzle's graph among all orders of its lines that nothing tells apart beforehand.
//!
//! Where refinement leaves lines alike, each of them is singled out in turn, and so on down to an order of all lines:
//! a leaf. Of all leaves the least counts. Two that give one picture show a symmetry, and what a symmetry carries to
//! something that was looked at is passed over.

// McKay and Piperno as in `partition.rs`.

use std::cmp::Ordering;

use super::incidence::Incidence;
use super::partition::{Partition, Refiner};
use super::transformation::Transformation;
use super::{Budget, Undecided};

/// What a complete search finds.
pub struct Found {
    /// The puzzle in its least dress.
    pub picture: Vec<u8>,
    /// What carries the puzzle to it.
    pub dress: Transformation,
    /// How many ways there are to carry the puzzle to itself; `u128::MAX` if it is that many or more.
    pub symmetries: u128,
}

/// Finds the least picture.
pub fn search(incidence: &Incidence, budget: Budget) -> Result<Found, Undecided> {
    let mut partition = Partition::by_colour(&incidence.colours(), incidence.lines());
    let mut refiner = Refiner::new(incidence.graph());
    refiner.refine(&mut partition);
    let mut search = Search {
        incidence,
        refiner,
        budget: budget.nodes,
        path: Vec::new(),
        best: None,
        symmetries: Vec::new(),
    };
    search.explore(&partition)?;
    let symmetries = search.symmetry_count();
    let Some(Leaf { picture, dress, .. }) = search.best else { return Err(Undecided) };
    Ok(Found { picture, dress, symmetries })
}

struct Search<'a> {
    incidence: &'a Incidence<'a>,
    refiner: Refiner,
    /// How many nodes may still be made.
    budget: u64,
    /// The lines that are singled out, and what happened when they were.
    path: Vec<Choice>,
    best: Option<Leaf>,
    /// The symmetries that were found: for each line where it goes.
    symmetries: Vec<Vec<usize>>,
}

#[derive(Clone, Copy)]
struct Choice {
    line: usize,
    trace: u64,
}

/// A way to a complete order of the lines.
struct Leaf {
    path: Vec<Choice>,
    dress: Transformation,
    picture: Vec<u8>,
}

impl Search<'_> {
    /// Looks at everything below the node of `path`. Gives how much of the path still has something to be looked at.
    fn explore(&mut self, partition: &Partition) -> Result<usize, Undecided> {
        let depth = self.path.len();
        if let Some(lines) = partition.told_apart() {
            return Ok(self.arrive(lines));
        }
        let mut orbits = Orbits::new(self.incidence.lines());
        let mut seen: Vec<usize> = Vec::new();
        for &line in self.refiner.alike(partition) {
            orbits.join_by(&self.symmetries, &self.path);
            let orbit = orbits.of(line);
            if seen.iter().any(|&other| orbits.of(other) == orbit) {
                continue;
            }
            seen.push(line);
            self.budget = self.budget.checked_sub(1).ok_or(Undecided)?;
            let mut part = partition.clone();
            let trace = self.refiner.single_out(&mut part, line);
            self.path.push(Choice { line, trace });
            let back = if self.may_be_least() { self.explore(&part)? } else { depth };
            self.path.truncate(depth);
            if back < depth {
                return Ok(back);
            }
        }
        Ok(depth)
    }

    /// Whether what the path has come to can still be the least; what it beats is forgotten.
    fn may_be_least(&mut self) -> bool {
        let (Some(best), Some(last)) = (&self.best, self.path.last()) else { return true };
        match best.path.get(self.path.len() - 1).map(|choice| last.trace.cmp(&choice.trace)) {
            None | Some(Ordering::Greater) => false,
            Some(Ordering::Equal) => true,
            Some(Ordering::Less) => {
                self.best = None;
                true
            }
        }
    }

    /// Takes a leaf. Gives how much of the path still has something to be looked at.
    fn arrive(&mut self, lines: &[usize]) -> usize {
        let depth = self.path.len();
        let dress = self.incidence.in_order(lines);
        let picture = self.incidence.after(&dress);
        if let Some(best) = &self.best {
            match (depth, &picture).cmp(&(best.path.len(), &best.picture)) {
                Ordering::Less => {}
                Ordering::Greater => return depth,
                Ordering::Equal => {
                    let mut symmetry = vec![0; lines.len()];
                    for (from, to) in dress.lines().zip(best.dress.lines()) {
                        symmetry[from] = to;
                    }
                    self.symmetries.push(symmetry);
                    let both = self.path.iter().zip(&best.path);
                    return both.take_while(|(one, other)| one.line == other.line).count();
                }
            }
        }
        self.best = Some(Leaf { path: self.path.clone(), dress, picture });
        depth
    }

    /// How many symmetries those make that were found: at each choice of the best leaf, as many times more as there are
    /// lines to which a symmetry carries the chosen one that keeps the choices before it.
    fn symmetry_count(&self) -> u128 {
        let path = self.best.as_ref().map_or(&[][..], |best| &best.path);
        let alike = |at: usize| {
            let mut orbits = Orbits::new(self.incidence.lines());
            orbits.join_by(&self.symmetries, &path[..at]);
            let chosen = orbits.of(path[at].line);
            (0..self.incidence.lines()).filter(|&line| orbits.of(line) == chosen).count() as u128
        };
        (0..path.len()).map(alike).fold(1, u128::saturating_mul)
    }
}

/// Which lines symmetries carry to each other.
struct Orbits {
    /// For each line one of its orbit, itself or an earlier one.
    earlier: Vec<usize>,
    /// How many symmetries were taken into account.
    known: usize,
}

impl Orbits {
    fn new(lines: usize) -> Orbits {
        Orbits { earlier: (0..lines).collect(), known: 0 }
    }

    /// The line that stands for the orbit of this one.
    fn of(&self, mut line: usize) -> usize {
        while self.earlier[line] < line {
            line = self.earlier[line];
        }
        line
    }

    /// Takes further symmetries into account, as far as they keep the lines of a path.
    fn join_by(&mut self, symmetries: &[Vec<usize>], path: &[Choice]) {
        for symmetry in &symmetries[self.known..] {
            if path.iter().all(|choice| symmetry[choice.line] == choice.line) {
                for (from, &to) in symmetry.iter().enumerate() {
                    let (one, other) = (self.of(from), self.of(to));
                    self.earlier[one.max(other)] = one.min(other);
                }
            }
        }
        self.known = symmetries.len();
    }
}
