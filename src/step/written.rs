//! A step's claims, as the notation writes them.

use super::{Claim, Deduction, Seen};
use crate::board::{CellSet, HouseId, Layout};
use crate::ladder::Pattern;

impl Deduction {
    /// Its claims as a line of `steps` has them, such as `7 of box 1 in col 3` or `r1c6 r2c5 = 49`.
    pub fn written(&self, layout: &Layout) -> String {
        if let Pattern::Fish(_) = self.pattern {
            return self.fish(layout);
        }
        stated(&self.claims, &self.houses, layout)
    }

    /// Its reason as a line of `steps` has it after `by`: how it is seen or what it is, the house to look at, and the facts
    /// that it leans on. `told` are the claims of the steps before, by their numbers.
    pub fn reason<'a>(&self, layout: &Layout, told: impl Fn(usize) -> &'a [Claim]) -> String {
        let mut reason = self.seen.map_or(self.pattern.name(), Seen::name).to_owned();
        let named = match self.pattern {
            Pattern::Fish(_) | Pattern::FinnedFish => self.bases.len(),
            Pattern::SingleDigitChain | Pattern::UniqueRectangle | Pattern::UniqueLoop => self.houses.len(),
            _ => 1,
        };
        let houses: Vec<String> =
            self.houses.iter().take(named).map(|&id| layout.at(id).name.to_string()).collect();
        if !houses.is_empty() && self.seen != Some(Seen::Settling) {
            reason = format!("{reason} in {}", houses.join(" "));
        }
        for number in self.facts_used() {
            reason = format!("{reason} with {}", recalled(told(number), layout));
        }
        reason
    }

    /// A fish: the lines that are cleared have the digit in the lines that are read.
    fn fish(&self, layout: &Layout) -> String {
        let (lines, covers) = self.houses.split_at(self.bases.len());
        let names = |houses: &[HouseId]| -> Vec<String> {
            houses.iter().map(|&house| layout.at(house).name.to_string()).collect()
        };
        format!("{} of {} in {}", self.digits(), names(covers).join(" "), names(lines).join(" "))
    }
}

/// Claims as the notation writes them, where nobody asks how a reader came upon them: `7 of box 1 in col 3`, wherever one
/// house has all the cells.
pub fn plainly(claims: &[Claim], layout: &Layout) -> String {
    stated(claims, &layout.house_ids().collect::<Vec<_>>(), layout)
}

/// Claims with commas between; the place of a digit is the first of these houses that has all its cells.
fn stated(claims: &[Claim], houses: &[HouseId], layout: &Layout) -> String {
    let state = |claim: &Claim| {
        let digits = claim.digits();
        match *claim {
            Claim::Is { cells, .. } => format!("{} = {digits}", listed(cells)),
            Claim::IsNot { cells, .. } => format!("{} not {digits}", listed(cells)),
            Claim::Within { cells, .. } if cells.len() == digits.len() => {
                format!("{} = {digits}", listed(cells))
            }
            Claim::Within { house, cells, .. } => {
                let holds_all = |id: &&HouseId| **id != house && cells.is_subset(layout.at(**id).set());
                let place = match houses.iter().find(holds_all) {
                    Some(&second) => layout.at(second).name.to_string(),
                    None => listed(cells),
                };
                format!("{digits} of {} in {place}", layout.at(house).name)
            }
        }
    };
    claims.iter().map(state).collect::<Vec<_>>().join(", ")
}

fn listed(cells: CellSet) -> String {
    cells.iter().map(|cell| cell.to_string()).collect::<Vec<_>>().join(" ")
}

/// How a reason names an earlier fact after `with`: a digit and its house, or else just the cells.
pub fn recalled(claims: &[Claim], layout: &Layout) -> String {
    match claims {
        [Claim::Within { house, digits, .. }] if digits.len() == 1 => {
            format!("{digits} of {}", layout.at(*house).name)
        }
        claims => listed(claims.iter().fold(CellSet::EMPTY, |all, claim| all | claim.cells())),
    }
}
