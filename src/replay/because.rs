//! Whether a claim follows by the reason that is given for it.

use super::ground::patterns_of;
use super::{Ground, Misfit, State};
use crate::board::{CellSet, Digit, DigitSet, HouseId};
use crate::book::{Because, Recalled};
use crate::ladder::{NameKind, PatternName, named};
use crate::reason::scanning::FEW;
use crate::reason::{Climb, Scanned, Scanner};
use crate::step::{Base, Claim, Deduction, Position, Seen};

/// A reason, and what it names of the steps before.
#[derive(Clone)]
pub(super) struct Given<'a> {
    pub because: &'a Because,
    /// The facts that it names: step numbers.
    pub facts: Vec<usize>,
    /// What it names and no step states, as places in its list.
    pub missing: Vec<usize>,
    /// Facts that stand before the claim in its own line.
    pub beside: Vec<usize>,
}

impl<'a> Given<'a> {
    pub fn new(state: &State, because: &'a Because, first: usize) -> Given<'a> {
        let mut given = Given { because, facts: Vec::new(), missing: Vec::new(), beside: Vec::new() };
        for (at, (recalled, _)) in because.with.iter().enumerate() {
            let found: Vec<usize> = state.facts().filter(|&fact| is_named(state, fact, *recalled)).collect();
            if found.is_empty() {
                given.missing.push(at);
            }
            given.facts.extend(found);
        }
        let own = |fact: &usize| *fact > first && !state.steps[*fact - 1].supposed;
        given.beside.extend(state.facts().filter(own));
        given
    }

    fn all(&self) -> Vec<usize> {
        [&self.facts[..], &self.beside].concat()
    }
}

/// Whether a fact is named so: by just the cells that it speaks of, all or those still open; or by digits that it keeps
/// somewhere in the house.
fn is_named(state: &State, fact: usize, recalled: Recalled) -> bool {
    let claims = state.claims(fact);
    let open = |cells: CellSet| -> CellSet {
        cells.iter().filter(|cell| state.known.grid().get(*cell).is_none()).collect()
    };
    match recalled {
        Recalled::Cells(cells) => {
            let spoken = claims.iter().fold(CellSet::EMPTY, |all, claim| all | claim.cells());
            spoken == cells || (!open(cells).is_empty() && open(spoken) == cells)
        }
        Recalled::Digits(digits, house) => claims.iter().any(|claim| {
            let keeps = match *claim {
                Claim::Within { house: own, cells, digits: all } => {
                    own == house || (cells.len() == all.len() && lies_in(state, cells, house))
                }
                Claim::Is { cells, digits: all } => cells.len() == all.len() && lies_in(state, cells, house),
                Claim::IsNot { .. } => false,
            };
            keeps && digits.is_subset(claim.digits())
        }),
    }
}

fn lies_in(state: &State, cells: CellSet, house: HouseId) -> bool {
    cells.is_subset(state.known.layout().at(house).set())
}

impl Ground<'_> {
    /// The step that gives these claims by this reason. For a claim that is not the first of its line, what the reason
    /// names need not take part, and `counting` and `settling` count too.
    ///
    /// # Errors
    /// Why there is none.
    pub(super) fn by_reason(
        &self,
        state: &State,
        given: &Given,
        claims: &[Claim],
        first: bool,
    ) -> Result<Deduction, Misfit> {
        let fitting = self.fitting(state, given, claims, first)?.into_iter().next();
        let step = fitting.map(|way| Deduction { claims: claims.into(), ..way.step });
        step.ok_or(Misfit::Kind(given.because.name))
    }

    /// Every way in which these claims follow by this reason, easiest first; one at least.
    fn fitting(
        &self,
        state: &State,
        given: &Given,
        claims: &[Claim],
        first: bool,
    ) -> Result<Vec<Scanned>, Misfit> {
        let because = given.because;
        if let Some(&at) = given.missing.first() {
            return Err(Misfit::NoFact(because.with[at].1));
        }
        let reader = self.reader(state, given.all());
        let mut found = self.giving(&reader, because.name, claims);
        if !self.scanning && !self.can_be_seen(state, because.name, claims) {
            found.clear();
        }
        if !first {
            for name in ["counting", "settling"].into_iter().filter_map(named) {
                found.extend(self.giving(&reader, name, claims));
            }
        }
        let fits =
            |way: &&Scanned| !first || parts(state, reader.known(), &way.step, because, &given.all()).is_ok();
        let fitting: Vec<Scanned> = found.iter().filter(fits).cloned().collect();
        if !fitting.is_empty() {
            return Ok(fitting);
        }
        if let Some(facts) = self.unnamed(state, given, claims) {
            return Err(Misfit::Leans(facts));
        }
        let misfit = |way: &Scanned| parts(state, reader.known(), &way.step, because, &given.all()).err();
        Err(found.iter().find_map(misfit).unwrap_or(Misfit::Kind(because.name)))
    }

    /// A named fact that takes no part in any claim of a line: each follows without it, no look as easy takes it in, and none
    /// of them settles it.
    pub(super) fn idle_fact(
        &self,
        state: &State,
        given: &Given,
        line: &[(State, Vec<Claim>, bool)],
    ) -> Option<Misfit> {
        if !self.scanning {
            return None;
        }
        given.because.with.iter().find_map(|(recalled, span)| {
            let own: Vec<usize> = state.facts().filter(|&fact| is_named(state, fact, *recalled)).collect();
            let settles = |claims: &[Claim]| {
                own.iter().flat_map(|&fact| state.claims(fact)).any(|fact| {
                    claims.iter().any(|claim| {
                        claim.places()
                            && claim.cells().is_subset(&fact.cells())
                            && claim.digits().is_subset(fact.digits())
                    })
                })
            };
            let idle = line.iter().all(|(before, claims, first)| {
                let with = Given {
                    missing: Vec::new(),
                    beside: before.facts().filter(|fact| *fact > state.steps.len()).collect(),
                    ..given.clone()
                };
                let mut less = with.clone();
                less.facts.retain(|fact| !own.contains(fact));
                let ways = |given: &Given| self.fitting(before, given, claims, *first).unwrap_or_default();
                let uses = |way: &Scanned| way.step.facts_used().iter().any(|fact| own.contains(fact));
                let spares =
                    |least: &Scanned| !ways(&with).iter().any(|way| way.level <= least.level && uses(way));
                !settles(claims) && ways(&less).first().is_some_and(spares)
            });
            idle.then_some(Misfit::IdleFact(*span))
        })
    }

    /// A reader who has what a reason may lean on: digits and these facts, or in a walk with marks all that is known.
    fn reader(&self, state: &State, facts: impl IntoIterator<Item = usize>) -> Scanner {
        if self.scanning { self.scanner(state, facts) } else { Scanner::with_marks(&state.known) }
    }

    /// Every step of this name that gives the claims to a reader.
    fn giving(&self, reader: &Scanner, name: &PatternName, claims: &[Claim]) -> Vec<Scanned> {
        let known = reader.known();
        let patterns = patterns_of(name, self.layout().size().side());
        let mut steps = Vec::new();
        if self.scanning {
            let mut ways: Vec<Scanned> = reader.ways(claims);
            let counted = |way: &Scanned| name.name == "counting" && is_short(known, &way.step);
            ways.retain(|way| (patterns.contains(&way.step.pattern) && is_seen(way, name)) || counted(way));
            ways.sort_by_key(|way| (way.level, way.looks));
            steps.extend(ways);
        } else if !known.strikes_any(claims) {
            let instances = reader.instances(claims).into_iter();
            steps.extend(instances.filter(|step| patterns.contains(&step.pattern)).map(of_no_cost));
        }
        if steps.is_empty() && (name.kind != NameKind::Seeing || !self.scanning) {
            let mut climb = Climb::new(self.reasoner());
            let mut look = climb.look_at(known);
            let all = patterns.into_iter().flat_map(|pattern| look.giving(pattern, claims));
            steps.extend(all.map(of_no_cost));
        }
        steps
    }

    /// Whether claims can be seen in this way by one who remembers all that was stated, where it is a way that is more than
    /// some pattern.
    fn can_be_seen(&self, state: &State, name: &PatternName, claims: &[Claim]) -> bool {
        let special = matches!(name.name, "third line" | "settling");
        !special || self.scanner(state, state.facts()).ways(claims).iter().any(|way| is_seen(way, name))
    }

    /// The fewest facts that must be named too, so that the reason fits.
    fn unnamed(&self, state: &State, given: &Given, claims: &[Claim]) -> Option<Vec<usize>> {
        if !self.scanning {
            return None;
        }
        let all: Vec<usize> = state.facts().collect();
        let reader = self.scanner(state, all.iter().copied());
        let steps = self.giving(&reader, given.because.name, claims);
        let fitting =
            steps.iter().filter(|way| parts(state, reader.known(), &way.step, given.because, &all).is_ok());
        let unnamed = |way: &Scanned| -> Vec<usize> {
            let used = way.step.facts_used().into_iter();
            used.filter(|fact| !given.all().contains(fact)).collect()
        };
        fitting.map(unnamed).filter(|facts| !facts.is_empty()).min_by_key(Vec::len)
    }
}

/// A step that is found by marks, where all are alike to a reader.
fn of_no_cost(step: Deduction) -> Scanned {
    Scanned { step, level: 0, looks: 0, held: 0 }
}

/// Whether a step places a digit in a house that misses so few that one counts them at a glance.
fn is_short(known: &Position, step: &Deduction) -> bool {
    let short = |base: &Base| matches!(base, Base::Place(house, _) if known.missing(*house).len() <= FEW);
    step.places() && step.bases.iter().all(short)
}

fn is_seen(way: &Scanned, name: &PatternName) -> bool {
    match name.name {
        "third line" => way.step.seen == Some(Seen::ThirdLine),
        "crossing" => way.step.seen != Some(Seen::ThirdLine),
        "settling" => way.step.seen == Some(Seen::Settling),
        _ => true,
    }
}

/// Whether everything that a reason names takes part in a step, which a reader sees who has these facts.
fn parts(
    state: &State,
    known: &Position,
    step: &Deduction,
    because: &Because,
    facts: &[usize],
) -> Result<(), Misfit> {
    let layout = known.layout();
    let closed = closed(known, step);
    let facts: Vec<&Claim> = facts.iter().flat_map(|&fact| state.claims(fact)).collect();
    for &(house, span) in &because.houses {
        let cells = layout.at(house).set();
        let worked = step.houses.contains(&house)
            || step.bases.iter().any(|base| matches!(base, Base::Place(own, _) if *own == house))
            || step
                .claims
                .iter()
                .any(|claim| matches!(claim, Claim::Within { house: own, .. } if *own == house));
        let holds =
            |digit: Digit| layout.at(house).cells.iter().any(|cell| known.grid().get(*cell) == Some(digit));
        let keeps = |digit: Digit| {
            facts.iter().any(|fact| fact.digits().contains(digit) && fact.cells().is_subset(cells))
        };
        let closes =
            closed.iter().any(|&(cell, digit)| cells.contains(cell) && (holds(digit) || keeps(digit)));
        let counted = step.bases.iter().any(|base| matches!(base, Base::Cell(cell) if cells.contains(*cell)));
        if !(worked || closes || counted) {
            return Err(Misfit::IdleHouse(span));
        }
    }
    let mut digits = step.digits();
    let mut cells: CellSet = step.claims.iter().fold(CellSet::EMPTY, |all, claim| all | claim.cells());
    for base in &step.bases {
        match *base {
            Base::Cell(cell) => {
                cells.insert(cell);
            }
            Base::Place(house, digit) => {
                cells |= known.cells(house, digit);
                digits |= DigitSet::single(digit);
            }
            Base::Swap(ref swap) => {
                cells |= swap.cells.iter().copied().collect();
                digits = swap.cells.iter().fold(digits, |all, cell| all | known.candidates(*cell));
            }
        }
    }
    for &(cell, digit) in &closed {
        cells.insert(cell);
        digits |= DigitSet::single(digit);
        let holders = layout.peers(cell).iter().filter(|holder| known.grid().get(*holder) == Some(digit));
        cells |= holders.collect();
    }
    cells = facts.iter().fold(cells, |all, fact| all | fact.cells());
    if because.cells.is_subset(&cells) && because.digits.is_subset(digits) {
        Ok(())
    } else {
        Err(Misfit::IdleNames)
    }
}

/// The candidates that the bases of a step pass over.
fn closed(known: &Position, step: &Deduction) -> Vec<(crate::board::Cell, Digit)> {
    let layout = known.layout();
    let mut closed = Vec::new();
    for base in &step.bases {
        match *base {
            Base::Cell(cell) => {
                let out = layout.size().digits() - known.candidates(cell);
                closed.extend(out.iter().map(|digit| (cell, digit)));
            }
            Base::Place(house, digit) => {
                let cells = layout.at(house).cells.iter().copied();
                let open = cells.filter(|cell| known.grid().get(*cell).is_none());
                closed.extend(
                    open.filter(|cell| !known.candidates(*cell).contains(digit)).map(|cell| (cell, digit)),
                );
            }
            Base::Swap(_) => {}
        }
    }
    closed
}
