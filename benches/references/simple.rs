//! A plain search for classic grids of size 9, as one writes it first: what rows, columns and boxes miss as masks of 16
//! bits, a cell with one candidate or a digit with one place in a house first, else a cell with the fewest candidates.

use gridsetter::board::Grid;

/// How many solutions there are, up to a limit.
pub fn count(givens: &Grid, limit: u64) -> u64 {
    let mut search = Search { cells: [0; 81], missing: [[0x1ff; 9]; 3], limit, found: 0 };
    for (cell, digit) in givens.digits() {
        let at = usize::from(cell.row()) * 9 + usize::from(cell.col());
        let bit = 1 << digit.place();
        if search.candidates(at) & bit == 0 {
            return 0;
        }
        search.toggle(at, bit);
    }
    search.go_on();
    search.found
}

struct Search {
    /// The digit of each cell as a bit, 0 if it is empty.
    cells: [u16; 81],
    /// What each row, each column and each box misses.
    missing: [[u16; 9]; 3],
    limit: u64,
    found: u64,
}

impl Search {
    fn go_on(&mut self) {
        let Some((at, mut bits)) = self.choose() else {
            self.found += 1;
            return;
        };
        while bits != 0 && self.found < self.limit {
            let bit = bits & bits.wrapping_neg();
            bits ^= bit;
            self.toggle(at, bit);
            self.go_on();
            self.toggle(at, bit);
        }
    }

    /// A cell and what to try in it; `None` if all are filled.
    fn choose(&self) -> Option<(usize, u16)> {
        let mut candidates = [0; 81];
        let mut fewest: Option<(usize, u16)> = None;
        let mut once = [[0; 9]; 3];
        let mut twice = [[0; 9]; 3];
        for at in (0..81).filter(|&at| self.cells[at] == 0) {
            let bits = self.candidates(at);
            if bits & bits.wrapping_sub(1) == 0 {
                return Some((at, bits));
            }
            candidates[at] = bits;
            if fewest.is_none_or(|(_, least)| bits.count_ones() < least.count_ones()) {
                fewest = Some((at, bits));
            }
            for (kind, house) in houses(at).into_iter().enumerate() {
                twice[kind][house] |= once[kind][house] & bits;
                once[kind][house] |= bits;
            }
        }
        let lone = (0..81).find_map(|at| {
            let lone = houses(at).into_iter().enumerate().map(|(kind, house)| !twice[kind][house]);
            let bits = candidates[at] & lone.fold(0, |any, bits| any | bits);
            (bits != 0).then_some((at, bits & bits.wrapping_neg()))
        });
        lone.or(fewest)
    }

    fn candidates(&self, at: usize) -> u16 {
        let [row, column, block] = houses(at);
        self.missing[0][row] & self.missing[1][column] & self.missing[2][block]
    }

    /// Fills a cell, or empties it.
    fn toggle(&mut self, at: usize, bit: u16) {
        self.cells[at] ^= bit;
        for (kind, house) in houses(at).into_iter().enumerate() {
            self.missing[kind][house] ^= bit;
        }
    }
}

fn houses(at: usize) -> [usize; 3] {
    [at / 9, at % 9, at / 27 * 3 + at % 9 / 3]
}
