//! Whether a claim says nothing new.

use super::State;
use crate::board::CellSet;
use crate::reason::scanning::says;
use crate::step::Claim;

impl State {
    /// Whether these claims were stated before, or hold by what is written or stated with no further look. That a set of
    /// digits is kept somewhere is new until it is stated, also where it strikes nothing.
    pub(super) fn holds_already(&self, claims: &[Claim]) -> bool {
        claims.iter().all(|claim| {
            let one = std::slice::from_ref(claim);
            let struck = matches!(claim, Claim::IsNot { .. }) && self.said.strikes(one).is_empty();
            let stated = || {
                let written = self.steps.iter().filter(|step| !step.supposed);
                written.map(|step| &step.deduction.claims).any(|told| says(&self.said, told, one))
            };
            let missed = || match *claim {
                Claim::Is { cells, digits } => self.looks.iter().any(|&(house, missed)| {
                    let all = self.said.layout().at(house).set().iter();
                    let open: CellSet = all.filter(|cell| self.said.grid().get(*cell).is_none()).collect();
                    open == cells && (missed & self.said.missing(house)) == digits
                }),
                _ => false,
            };
            !claim.places() && (struck || stated() || missed())
        })
    }
}
