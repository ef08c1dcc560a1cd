//! The same questions put to a SAT solver that knows nothing of puzzles: a variable for each digit of each cell,
//! clauses for pairs.

use batsat::{BasicSolver, Lit, SolverInterface, lbool};
use gridsetter::board::{Cell, Digit, Grid, Layout, Size};

/// A layout as clauses, which can be asked about many grids.
pub struct Sat {
    solver: BasicSolver,
    size: Size,
    holds: Vec<Lit>,
}

impl Sat {
    /// The clauses of a layout: each cell holds one digit, and each house has each digit in one cell.
    pub fn new(layout: &Layout) -> Sat {
        let size = layout.size();
        let mut solver = BasicSolver::default();
        let holds =
            (0..size.cells() * size.usize()).map(|_| Lit::new(solver.new_var_default(), true)).collect();
        let mut sat = Sat { solver, size, holds };
        for cell in size.all_cells() {
            sat.exactly_one(size.digits().iter().map(|digit| sat.holds(cell, digit)).collect());
        }
        for house in layout.houses() {
            for digit in size.digits().iter() {
                sat.exactly_one(house.cells.iter().map(|&cell| sat.holds(cell, digit)).collect());
            }
        }
        sat
    }

    /// Solutions that have these digits, up to a limit.
    pub fn solutions(&mut self, givens: &Grid, limit: usize) -> Vec<Grid> {
        // What is learnt about one grid must not bind the next: clauses that rule solutions out hold only with `on`.
        let on = Lit::new(self.solver.new_var_default(), true);
        let mut assumptions = vec![on];
        assumptions.extend(givens.digits().map(|(cell, digit)| self.holds(cell, digit)));
        let mut found = Vec::new();
        while found.len() < limit && self.solver.solve_limited(&assumptions) == lbool::TRUE {
            let mut grid = Grid::empty(self.size);
            let mut another = vec![!on];
            for cell in self.size.all_cells() {
                for digit in self.size.digits().iter() {
                    let holds = self.holds(cell, digit);
                    if self.solver.value_lit(holds) == lbool::TRUE {
                        grid.set(cell, Some(digit));
                        another.push(!holds);
                    }
                }
            }
            self.solver.add_clause_reuse(&mut another);
            found.push(grid);
        }
        self.solver.add_clause_reuse(&mut vec![!on]);
        found
    }

    /// Whether there is a solution that has these digits, none of the closed candidates, and one or more of `some`.
    pub fn allows(&mut self, givens: &Grid, closed: &[(Cell, Digit)], some: &[(Cell, Digit)]) -> bool {
        let on = Lit::new(self.solver.new_var_default(), true);
        let mut one_of: Vec<Lit> = some.iter().map(|&(cell, digit)| self.holds(cell, digit)).collect();
        one_of.push(!on);
        self.solver.add_clause_reuse(&mut one_of);
        let mut assumptions = vec![on];
        assumptions.extend(givens.digits().map(|(cell, digit)| self.holds(cell, digit)));
        assumptions.extend(closed.iter().map(|&(cell, digit)| !self.holds(cell, digit)));
        let found = self.solver.solve_limited(&assumptions) == lbool::TRUE;
        self.solver.add_clause_reuse(&mut vec![!on]);
        found
    }

    fn holds(&self, cell: Cell, digit: Digit) -> Lit {
        let number = usize::from(cell.row()) * self.size.usize() + usize::from(cell.col());
        self.holds[number * self.size.usize() + usize::from(digit.value()) - 1]
    }

    fn exactly_one(&mut self, literals: Vec<Lit>) {
        for (at, &first) in literals.iter().enumerate() {
            for &second in &literals[at + 1..] {
                self.solver.add_clause_reuse(&mut vec![!first, !second]);
            }
        }
        self.solver.add_clause_reuse(&mut { literals });
    }
}
