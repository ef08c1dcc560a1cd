//! Whether a claim says nothing new.

use super::State;
use crate::board::CellSet;
use crate::reason::scanning::says;
use crate::step::Claim;

impl State {
    /// Whether these claims were stated before, or hold by what is written or stated with no further look. That a set of
    /// digits is kept somewhere is new until it is stated, also where it strikes nothing. What was supposed counts only
    /// where that is asked.
    pub(super) fn holds_already(&self, claims: &[Claim], supposed: bool) -> bool {
        let known = if supposed { &self.known } else { &self.said };
        claims.iter().all(|claim| {
            let one = std::slice::from_ref(claim);
            let struck = matches!(claim, Claim::IsNot { .. }) && known.strikes(one).is_empty();
            let stated = || {
                let counts = self.steps.iter().filter(|step| supposed || !step.supposed);
                counts.map(|step| &step.deduction.claims).any(|told| says(known, told, one))
            };
            let missed = || match *claim {
                Claim::Is { cells, digits } => self.looks.iter().any(|&(house, missed)| {
                    let all = known.layout().at(house).set().iter();
                    let open: CellSet = all.filter(|cell| known.grid().get(*cell).is_none()).collect();
                    open == cells && (missed & known.missing(house)) == digits
                }),
                _ => false,
            };
            !claim.places() && (struck || stated() || missed())
        })
    }
}
