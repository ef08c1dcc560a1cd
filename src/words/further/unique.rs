//! Uniqueness: what would change places, and why it does not.

use super::Corners;
use crate::board::{Cell, CellSet, Digit, DigitSet};
use crate::ladder::Pattern;
use crate::step::{Base, Swap};
use crate::words::tell::Teller;
use crate::words::tongue::Cells;

impl Teller<'_> {
    pub(super) fn is_unique(&self) -> bool {
        matches!(self.step.pattern, Pattern::UniqueRectangle | Pattern::UniqueLoop | Pattern::LastBivalueTrap)
    }

    fn swap(&self) -> Option<&Swap> {
        self.step.bases.iter().find_map(|base| match base {
            Base::Swap(swap) => Some(swap),
            Base::Cell(_) | Base::Place(..) => None,
        })
    }

    /// The cells that could hold a further digit.
    pub(super) fn further_cells(&self) -> CellSet {
        self.swap().into_iter().flat_map(|swap| &swap.extras).map(|(cell, _)| *cell).collect()
    }

    /// What would change places, and what follows.
    pub(super) fn unique(&self) -> Vec<String> {
        let Some(swap) = self.swap() else { return Vec::new() };
        let further: DigitSet = swap.extras.iter().map(|(_, digit)| *digit).collect();
        let cells = self.further_cells();
        if self.step.pattern == Pattern::LastBivalueTrap {
            let mut sentences = vec![self.tongue.two_each_without(further, cells.len())];
            sentences.push(self.tongue.all_could_change());
            match (cells.iter().next().filter(|_| cells.len() == 1), further.only()) {
                (Some(cell), _) => sentences.extend(self.one_of_several(further, cell)),
                (None, Some(_)) => sentences.extend(self.one_of_these(further, cells.len())),
                (None, None) => sentences.push(self.tongue.so_one_is_there(&swap.extras)),
            }
            return [sentences, self.name_pattern(), self.concluded(further, cells)].concat();
        }
        let pair = self.pair(swap);
        let count = swap.cells.len();
        let mut sentences = vec![
            self.tongue.could_hold(pair, count),
            self.tongue.could_change_places(pair),
            self.tongue.one_is_another(),
        ];
        let read: CellSet = self.cells_beside();
        match (cells.iter().next().filter(|_| cells.len() == 1), self.step.bases.len()) {
            (Some(cell), 1) => {
                sentences.push(self.tongue.another_only_in(further, cell));
                sentences.extend(self.one_of_several(further, cell));
            }
            (None, 1) => {
                sentences.extend(self.about(cells, |cells| self.tongue.others_are(further, cells)));
                sentences.extend(self.one_of_these(further, cells.len()));
            }
            _ => match self.set_house(read) {
                Some(house) => {
                    sentences.extend(self.about(cells, |cells| self.tongue.others_are(further, cells)));
                    let digits = read.iter().fold(further, |all, cell| all | self.before.candidates(cell));
                    sentences.push(self.tongue.so_in_these_and_one(digits, read, self.name(house)));
                }
                None => sentences.extend(self.tied(pair, count)),
            },
        }
        [sentences, self.name_kind(swap, cells), self.concluded(further, cells)].concat()
    }

    /// That one of the cells just named holds the digit, of further ones that are just one.
    fn one_of_these(&self, further: DigitSet, count: usize) -> Option<String> {
        further.only().map(|digit| self.tongue.one_holds(digit, Cells::These(count)))
    }

    /// That the cell holds one of the further digits, of which there are several.
    fn one_of_several(&self, further: DigitSet, cell: Cell) -> Option<String> {
        (further.len() > 1).then(|| self.tongue.so_one_of(further, cell))
    }

    /// The two digits of a rectangle or a loop.
    fn pair(&self, swap: &Swap) -> DigitSet {
        let all = self.before.layout().size().digits();
        swap.cells.iter().fold(all, |common, &cell| {
            let further = swap.extras.iter().filter(|(at, _)| *at == cell).map(|(_, digit)| *digit);
            common & (self.before.candidates(cell) - further.collect())
        })
    }

    /// The cells that are read beside the swap, where it reads cells outside of it.
    fn cells_beside(&self) -> CellSet {
        let swapped = self.cells_read();
        let cells = self.step.bases.iter().filter_map(|base| match base {
            Base::Cell(cell) if !swapped.contains(*cell) => Some(*cell),
            _ => None,
        });
        cells.collect()
    }

    /// The house in which these cells are a set with the further candidates; `None` without such cells.
    fn set_house(&self, read: CellSet) -> Option<crate::board::HouseId> {
        let all = read | self.further_cells();
        self.houses_of_all(all).into_iter().next().filter(|_| !read.is_empty())
    }

    /// What one of the two digits would lead to, in one of the cells, step by step.
    fn tied(&self, pair: DigitSet, count: usize) -> Vec<String> {
        let struck: Vec<(Cell, Digit)> = self.struck();
        let Some(&supposed) = struck.first() else { return Vec::new() };
        let mut sentences = vec![self.tongue.suppose_it(supposed.1, supposed.0)];
        let mut so = vec![supposed];
        let mut left: Vec<&Base> =
            self.step.bases.iter().filter(|base| !matches!(base, Base::Swap(_))).collect();
        while let Some((at, one)) =
            left.iter().enumerate().find_map(|(at, base)| Some((at, self.forced(base, &so)?)))
        {
            sentences.push(match left.remove(at) {
                Base::Place(house, digit) => {
                    let cells = Cells::Named(CellSet::single(one.0));
                    self.tongue.then_in(self.name(*house), *digit, cells)
                }
                _ => self.tongue.then_left(one.1, one.0),
            });
            so.push(one);
        }
        sentences.push(self.tongue.then_only(pair, count));
        for digit in pair.iter() {
            let others = struck.iter().skip(1).filter(|(_, other)| *other == digit);
            let others: CellSet = others.map(|(cell, _)| *cell).collect();
            if !others.is_empty() {
                sentences.push(self.tongue.likewise_not(digit, others));
            }
        }
        sentences
    }

    fn struck(&self) -> Vec<(Cell, Digit)> {
        let strikes = self.before.strikes(&self.step.claims).into_iter();
        strikes.flat_map(|(cell, digits)| digits.iter().map(move |digit| (cell, digit))).collect()
    }

    /// The one candidate of a base that these leave.
    fn forced(&self, base: &Base, so: &[(Cell, Digit)]) -> Option<(Cell, Digit)> {
        let layout = self.before.layout();
        let all: Vec<(Cell, Digit)> = match *base {
            Base::Cell(cell) => self.before.candidates(cell).iter().map(|digit| (cell, digit)).collect(),
            Base::Place(house, digit) => {
                self.before.cells(house, digit).iter().map(|cell| (cell, digit)).collect()
            }
            Base::Swap(_) => return None,
        };
        let is_out =
            |&(cell, digit): &(Cell, Digit)| {
                so.iter().any(|&(at, other)| {
                    if at == cell { other != digit } else { other == digit && layout.sees(at, cell) }
                })
            };
        let mut left = all.into_iter().filter(|one| !is_out(one));
        left.next().filter(|_| left.next().is_none())
    }

    fn name_kind(&self, swap: &Swap, open: CellSet) -> Vec<String> {
        if !self.full {
            return Vec::new();
        }
        let layout = self.before.layout();
        let corners = match (self.step.pattern, open.len()) {
            (Pattern::UniqueRectangle, 1) => Corners::One,
            (Pattern::UniqueRectangle, 2) => {
                let mut two = open.iter();
                let sees = two.next().zip(two.next()).is_some_and(|(a, b)| layout.sees(a, b));
                if sees { Corners::Side } else { Corners::Opposite }
            }
            (Pattern::UniqueRectangle, 3) => Corners::Three,
            (Pattern::UniqueRectangle, _) if open.len() == swap.cells.len() => Corners::All,
            _ => return self.name_pattern(),
        };
        vec![self.tongue.that_is_rectangle(corners)]
    }

    /// What is written or struck.
    fn concluded(&self, further: DigitSet, cells: CellSet) -> Vec<String> {
        if let Some((digit, cell)) = self.places_one() {
            return vec![self.tongue.so_put(digit, Cells::Named(CellSet::single(cell)))];
        }
        let in_sight = self.step.bases.len() == 1 && cells.len() > 1 && further.len() == 1;
        let mut sentences = Vec::new();
        if in_sight {
            sentences.push(self.tongue.no_cell_in_sight(self.step.digits(), cells.len()));
        }
        sentences.extend(self.strike(self.before.strikes(&self.step.claims)));
        sentences
    }
}
