//! A walk, line by line.

use super::because::Given;
use super::follow::read_off;
use super::ground::patterns_of;
use super::{Bridge, Ground, Misfit, Right, State, Trouble, TroubleKind, truth};
use crate::book::{Asserted, Assertion, Because, Recalled, WalkLine, WalkSays, Walkthrough};
use crate::ladder::{Pattern, PatternName};
use crate::notation::Span;
use crate::reason::scanning::says;
use crate::reason::{Climb, Reasoner};
use crate::step::{Claim, Deduction, Method, Position, recalled};
use crate::study::claims;
use std::collections::BTreeSet;
use std::ops::ControlFlow;
use std::sync::Arc;

/// A reader on the way.
pub(super) struct Reader<'a> {
    ground: &'a Ground<'a>,
    pub state: State,
    pub troubles: Vec<Trouble>,
    pub points: Vec<(String, Arc<State>)>,
    pub finished: bool,
    gaps: Gaps,
    /// Facts that are settled where the missing steps are written: step numbers.
    settled: BTreeSet<usize>,
    /// The patterns that the walk named so far.
    named: BTreeSet<Pattern>,
    line: usize,
}

impl<'a> Reader<'a> {
    pub fn new(ground: &'a Ground<'a>, state: State) -> Reader<'a> {
        Reader {
            ground,
            state,
            troubles: Vec::new(),
            points: Vec::new(),
            finished: false,
            gaps: Gaps::None,
            settled: BTreeSet::new(),
            named: BTreeSet::new(),
            line: 0,
        }
    }

    /// Takes a line.
    pub fn take(&mut self, line: &WalkLine) {
        self.line = line.number;
        match &line.says {
            WalkSays::Prose(braces) | WalkSays::Show(_, braces) => self.prose(braces),
            WalkSays::Ask(braces, answer) => {
                self.prose(braces);
                self.ask(answer);
            }
            WalkSays::Step(asserted, because) => self.step(asserted, because.as_ref()),
            WalkSays::Point(name) => self.point(name),
            WalkSays::Finish(names) => self.finish(line.span, names),
            WalkSays::Allow => {}
            WalkSays::Unread => self.gaps = Gaps::Unread,
        }
    }

    /// Names the position here. Points with nothing new between them share it: there may be as many as a file has lines.
    fn point(&mut self, name: &str) {
        let shared =
            self.points.last().map(|(_, state)| state).filter(|state| state.is_as_far_as(&self.state));
        let state = shared.map_or_else(|| Arc::new(self.state.clone()), Arc::clone);
        self.points.push((name.to_owned(), state));
    }

    /// Ends the walk.
    pub fn close(&mut self, walk: &Walkthrough) {
        self.finished |= self.state.known.is_finished();
        let walks = walk.lines.iter().any(|line| matches!(line.says, WalkSays::Step(..)));
        let may_end = self.ground.may_end || self.finished || self.gaps != Gaps::None || !walks;
        let Some(last) = walk.lines.last().filter(|_| !may_end) else { return };
        self.line = last.number;
        let open = self.state.known.open();
        let usual = self.usual();
        let mend = if self.is_finished_by(&usual) {
            Some("finish".to_owned())
        } else {
            self.patterns_to_the_end().map(|names| format!("finish  by {names}"))
        };
        self.trouble(last.span, TroubleKind::Unfinished(open, mend));
    }

    /// Notes a trouble. After a line that could not be read nobody knows what a reader has: then only what is false is
    /// said.
    fn trouble(&mut self, span: Span, kind: TroubleKind) {
        if self.gaps == Gaps::Unread && !matches!(kind, TroubleKind::False(_)) {
            return;
        }
        self.troubles.push(Trouble { line: self.line, span, kind });
    }

    /// Notes that a reason does not fit.
    fn reason(&mut self, span: Span, because: &Because, misfit: Misfit, right: Option<Right>) {
        let without = self.ground.level_without(because.name);
        self.trouble(span, TroubleKind::Reason { misfit, right, without });
    }

    fn prose(&mut self, braces: &[Asserted]) {
        for asserted in braces.iter().filter(|_| self.gaps == Gaps::None) {
            if let Some(counter) = self.counter(asserted) {
                self.troubles.push(Trouble {
                    line: self.line,
                    span: asserted.span,
                    kind: TroubleKind::Prose(counter),
                });
            }
        }
    }

    /// What shows that a claim is false, by search where nothing known settles it.
    fn counter(&self, asserted: &Asserted) -> Option<super::Counter> {
        truth::counter(self.ground, &self.state, &asserted.says).or_else(|| {
            let todo = claims(&asserted.says, &self.state.known);
            let open = self.ground.solution().is_none() && self.state.known.strikes_any(&todo);
            if open { truth::searched(self.ground, &asserted.says) } else { None }
        })
    }

    /// An answer is checked, and not taken.
    fn ask(&mut self, answer: &[Asserted]) {
        let (state, gaps) = (self.state.clone(), self.gaps);
        for asserted in answer {
            self.claim(asserted, None, true, self.state.steps.len());
        }
        (self.state, self.gaps) = (state, gaps);
    }

    fn step(&mut self, asserted: &[Asserted], because: Option<&Because>) {
        let before = self.state.steps.len();
        let troubles = self.troubles.len();
        let mut taken: Vec<(State, Vec<Claim>, bool)> = Vec::new();
        let mut news = false;
        let mut supposed: Vec<Claim> = Vec::new();
        for asserted in asserted {
            match self.claim(asserted, because, taken.is_empty(), before) {
                Taken::Old => {}
                Taken::Supposed(claims) => supposed.extend(claims),
                Taken::New => news = true,
                Taken::Claims(judged, claims) => {
                    news = true;
                    taken.push((*judged, claims, taken.is_empty()));
                }
            }
        }
        if let (1, [Trouble { kind: TroubleKind::Early(Some(bridge)), line, .. }]) =
            (asserted.len(), &mut self.troubles[troubles..])
            && bridge.steps.iter().any(|step| *step.claims == bridge.claims[..])
        {
            bridge.moved.push(*line);
        }
        match (asserted.first(), asserted.last()) {
            _ if news => {}
            _ if !supposed.is_empty() => self.is_moved(&supposed, before),
            (Some(first), Some(last)) => {
                let without = because.map_or(u8::MAX, |because| self.ground.level_without(because.name));
                self.trouble(first.span.to(last.span), TroubleKind::Stale(without));
            }
            _ => {}
        }
        let Some(because) = because else { return };
        let side = self.ground.layout().size().side();
        self.named.extend(patterns_of(because.name, side));
        self.check_facts(because, before, &taken, troubles);
    }

    /// Whether every fact that the reason names takes part, where nothing else is wrong with it.
    fn check_facts(
        &mut self,
        because: &Because,
        before: usize,
        taken: &[(State, Vec<Claim>, bool)],
        troubles: usize,
    ) {
        let early = |kind: &TroubleKind| matches!(kind, TroubleKind::Early(Some(it)) if it.reason.is_none());
        let Some((first, ..)) = taken.first() else { return };
        if !self.troubles[troubles..].iter().all(|trouble| early(&trouble.kind)) {
            return;
        }
        let given = Given::new(first, because, before);
        let Some(misfit) = self.ground.idle_fact(first, &given, taken) else { return };
        if given.facts.iter().any(|fact| self.settled.contains(fact)) {
            return self.is_settled(first, &taken[0].1);
        }
        let right = self.right_reason(taken);
        let first = self.troubles[troubles..].first_mut();
        if let Some(Trouble { kind: TroubleKind::Early(Some(bridge)), .. }) = first {
            bridge.reason = Some(right.unwrap_or_default());
        } else {
            self.reason(because.span, because, misfit, right.map(Right::Instead));
        }
    }

    /// The line says only what had to be supposed before: it would be stale where the missing steps are written.
    fn is_moved(&mut self, claims: &[Claim], before: usize) {
        let line = self.line;
        self.settled.extend(before + 1..=self.state.steps.len());
        for trouble in &mut self.troubles {
            if let TroubleKind::Early(Some(bridge)) = &mut trouble.kind {
                let steps = bridge.steps.iter().flat_map(|step| &step.claims);
                let told: Vec<Claim> = steps.chain(&bridge.claims).cloned().collect();
                if says(&self.state.said, &told, claims) {
                    bridge.moved.push(line);
                }
            }
        }
    }

    /// The reason of the line names a fact that is settled where the missing steps are written.
    fn is_settled(&mut self, before: &State, claims: &[Claim]) {
        let (ground, line) = (self.ground, self.line);
        let facts = before.facts().filter(|fact| !self.settled.contains(fact));
        let reason = ground.seen(before, facts, claims);
        let reason = reason.map(|step| step.reason(ground.layout(), |number| before.claims(number)));
        let mut bridges = self.troubles.iter_mut().rev().filter_map(|trouble| match &mut trouble.kind {
            TroubleKind::Early(Some(bridge)) => Some(bridge),
            _ => None,
        });
        if let Some(bridge) = bridges.find(|bridge| !bridge.moved.is_empty()) {
            bridge.settled.push((line, reason.unwrap_or_default()));
        }
    }

    /// The reason that fits the first claim of a line.
    fn right_reason(&self, taken: &[(State, Vec<Claim>, bool)]) -> Option<String> {
        let (before, claims, _) = taken.first()?;
        self.reason_for(before, claims)
    }

    /// What fits in place of a reason that does not.
    fn right(&self, misfit: &Misfit, todo: &[Claim]) -> Option<Right> {
        if let Misfit::Leans(facts) = misfit {
            let layout = self.ground.layout();
            let with =
                facts.iter().map(|&fact| format!(" with {}", recalled(self.state.claims(fact), layout)));
            return Some(Right::Added(with.collect()));
        }
        self.reason_for(&self.state, todo).map(Right::Instead)
    }

    fn reason_for(&self, before: &State, claims: &[Claim]) -> Option<String> {
        // What takes marks is no reason for one who has none.
        let step = self
            .ground
            .follows(before, claims)
            .filter(|step| !self.ground.scanning || step.method == Method::Scanning)?;
        Some(step.reason(self.ground.layout(), |number| before.claims(number)))
    }

    /// Takes a claim of a line before which there were so many steps.
    fn claim(&mut self, asserted: &Asserted, because: Option<&Because>, first: bool, before: usize) -> Taken {
        if let Some(counter) = truth::counter(self.ground, &self.state, &asserted.says) {
            return self.is_false(asserted, counter);
        }
        match &asserted.says {
            Assertion::Misses { houses, digits } => {
                let looks = houses.iter().map(|house| (*house, *digits));
                let new: Vec<_> = looks.filter(|look| !self.state.looks.contains(look)).collect();
                let old = new.is_empty();
                self.state.looks.extend(new);
                return if old { Taken::Old } else { Taken::New };
            }
            Assertion::Open { .. } => return Taken::New,
            _ => {}
        }
        let todo = claims(&asserted.says, &self.state.known);
        let unsaid = claims(&asserted.says, &self.state.said);
        if unsaid.is_empty() || self.state.holds_already(&unsaid, false) {
            return Taken::Old;
        }
        if todo.is_empty() || self.state.holds_already(&todo, true) {
            self.state.take(read_off(&unsaid), false);
            return Taken::Supposed(unsaid);
        }
        let fit = because.map(|because| {
            let given = Given::new(&self.state, because, before);
            self.ground.by_reason(&self.state, &given, &todo, first)
        });
        let misfit = match fit {
            Some(Ok(step)) => {
                let judged = self.state.clone();
                self.state.take(step, false);
                return Taken::Claims(Box::new(judged), todo);
            }
            Some(Err(misfit)) => Some(misfit),
            None => None,
        };
        let Some(step) = self.ground.follows(&self.state, &todo) else {
            return self.early(asserted, because.zip(misfit), first, before, todo);
        };
        if let (Some(misfit), Some(because)) = (misfit, because) {
            match self.unstated(because, &todo, first, before) {
                Some(facts) if self.gaps != Gaps::New => {
                    return self.bridged(asserted, because, facts, todo, first, before);
                }
                _ => {
                    let right = self.right(&misfit, &todo);
                    let span = misfit.span().unwrap_or(because.span);
                    self.reason(span, because, misfit, right);
                }
            }
        }
        let judged = self.state.clone();
        self.state.take(step, false);
        Taken::Claims(Box::new(judged), todo)
    }

    fn is_false(&mut self, asserted: &Asserted, counter: super::Counter) -> Taken {
        self.trouble(asserted.span, TroubleKind::False(counter));
        if self.gaps != Gaps::Unread {
            self.gaps = Gaps::New;
        }
        Taken::New
    }

    /// A claim that does not follow yet.
    fn early(
        &mut self,
        asserted: &Asserted,
        reason: Option<(&Because, Misfit)>,
        first: bool,
        before: usize,
        todo: Vec<Claim>,
    ) -> Taken {
        let because = reason.as_ref().map(|(because, _)| *because);
        if self.ground.solution().is_none()
            && let Some(counter) = truth::searched(self.ground, &asserted.says)
        {
            return self.is_false(asserted, counter);
        }
        let excused = self.gaps == Gaps::New;
        if excused {
            self.gaps = Gaps::Old;
        }
        if let Some((because, misfit)) = reason.filter(|_| !excused) {
            if let Some(step) = self.missing_one(asserted, because, &todo, first, before) {
                return self.bridged(asserted, because, vec![step], todo, first, before);
            }
            if !self.ground.scanning
                && let Some(step) = self.ground.unnamed_step(&self.state, &todo)
            {
                let right = step.reason(self.ground.layout(), |_| &[]);
                self.reason(because.span, because, misfit, Some(Right::Instead(right)));
                let judged = self.state.clone();
                self.state.take(step, false);
                return Taken::Claims(Box::new(judged), todo);
            }
        }
        let Some(steps) = self.ground.bridge(&self.state, &todo) else {
            if !excused {
                self.trouble(asserted.span, TroubleKind::Early(None));
            }
            if self.gaps == Gaps::None {
                self.gaps = Gaps::Old;
            }
            let judged = self.state.clone();
            self.state.take(read_off(&todo), false);
            return Taken::Claims(Box::new(judged), todo);
        };
        let lines = if excused { Vec::new() } else { self.lines(&self.state, &steps) };
        let (said, todo) = self.suppose(&steps, asserted, todo);
        let fits = because.is_none_or(|because| {
            let given = Given::new(&self.state, because, before);
            self.ground.by_reason(&self.state, &given, &todo, first).is_ok()
        });
        let reason = (!fits).then(|| self.reason_for(&self.state, &todo).unwrap_or_default());
        if !excused {
            let bridge = Bridge { reason, ..Bridge::new(steps, lines, todo.clone()) };
            self.trouble(asserted.span, TroubleKind::Early(Some(bridge)));
        }
        let step = self.ground.follows(&self.state, &todo).unwrap_or_else(|| read_off(&todo));
        let judged = self.state.clone();
        self.state.take_as_said(step, &said);
        Taken::Claims(Box::new(judged), todo)
    }

    /// Supposes missing steps: what a line then says that nobody said yet, and what is left of its claims.
    fn suppose(
        &mut self,
        steps: &[Deduction],
        asserted: &Asserted,
        todo: Vec<Claim>,
    ) -> (Vec<Claim>, Vec<Claim>) {
        for step in steps {
            self.state.take(step.clone(), true);
        }
        (claims(&asserted.says, &self.state.said), left(asserted, &self.state.known, todo))
    }

    /// The one step behind which claims follow by the reason that is given.
    fn missing_one(
        &self,
        asserted: &Asserted,
        because: &Because,
        todo: &[Claim],
        first: bool,
        before: usize,
    ) -> Option<Deduction> {
        let found = self.state.each_open(self.ground, Method::Marks, |step| {
            let mut state = self.state.clone();
            state.take(step.clone(), true);
            let todo = left(asserted, &state.known, todo.to_vec());
            let given = Given::new(&state, because, before);
            match self.ground.by_reason(&state, &given, &todo, first) {
                Ok(_) => ControlFlow::Break(step),
                Err(_) => ControlFlow::Continue(()),
            }
        });
        found.break_value()
    }

    /// A claim that follows, and whose reason leans on facts that were never stated: these come first.
    fn bridged(
        &mut self,
        asserted: &Asserted,
        because: &Because,
        facts: Vec<Deduction>,
        todo: Vec<Claim>,
        first: bool,
        before: usize,
    ) -> Taken {
        let lines = self.lines(&self.state, &facts);
        let (said, todo) = self.suppose(&facts, asserted, todo);
        let given = Given::new(&self.state, because, before);
        let step = self.ground.by_reason(&self.state, &given, &todo, first);
        let bridge = Bridge::new(facts, lines, todo.clone());
        self.trouble(asserted.span, TroubleKind::Early(Some(bridge)));
        let judged = self.state.clone();
        self.state.take_as_said(step.unwrap_or_else(|_| read_off(&todo)), &said);
        Taken::Claims(Box::new(judged), todo)
    }

    /// The facts that a reason names and that nobody stated, where each can be stated at once and the reason then fits.
    fn unstated(
        &self,
        because: &Because,
        todo: &[Claim],
        first: bool,
        before: usize,
    ) -> Option<Vec<Deduction>> {
        let mut state = self.state.clone();
        let missing = Given::new(&state, because, before).missing;
        let mut facts = Vec::new();
        for at in missing {
            let fact = self.fact(&state, because.with[at].0)?;
            state.take(fact.clone(), true);
            facts.push(fact);
        }
        let given = Given::new(&state, because, before);
        let fits = !facts.is_empty() && self.ground.by_reason(&state, &given, todo, first).is_ok();
        fits.then_some(facts)
    }

    /// The fact of this description, if it can be stated at once.
    fn fact(&self, state: &State, recalled: Recalled) -> Option<Deduction> {
        match recalled {
            Recalled::Cells(cells) => {
                let facts = self.ground.scanner(state, state.facts()).facts_at(cells);
                let easiest = facts.into_iter().min_by_key(|fact| (fact.level, fact.looks))?;
                Some(easiest.step)
            }
            Recalled::Digits(digits, house) => {
                let known = &state.known;
                let cells =
                    digits.iter().map(|digit| known.cells(house, digit)).reduce(|all, more| all | more);
                let claim = Claim::Within { house, digits, cells: cells.filter(|cells| !cells.is_empty())? };
                let counts = |pattern| self.ground.level_of(pattern) <= self.ground.level;
                let shared = |cells: crate::board::CellSet| {
                    let layout = known.layout();
                    layout.house_ids().any(|id| id != house && cells.is_subset(layout.at(id).set()))
                };
                (!claim.places() && shared(claim.cells()))
                    .then(|| self.ground.by_marks(known, &[claim], &counts))
                    .flatten()
            }
        }
    }

    /// Missing steps as lines of the walk, from this state.
    fn lines(&self, start: &State, steps: &[Deduction]) -> Vec<String> {
        let (mut state, first) = (start.clone(), start.steps.len());
        let line = |step: &Deduction| {
            let reason = self.reason_of_missing(&state, first, step);
            state.take(step.clone(), true);
            let by = reason.map_or_else(String::new, |reason| format!("  by {reason}"));
            step.written(self.ground.layout()) + &by
        };
        steps.iter().map(line).collect()
    }

    /// The reason with which a missing step is written, if it is: where most steps of the walk give theirs, and that of a
    /// pattern which counts by its name alone, for the step that names it may be taken out. It leans on no fact that is
    /// missing elsewhere, before so many steps.
    fn reason_of_missing(&self, state: &State, first: usize, step: &Deduction) -> Option<String> {
        let ground = self.ground;
        let level = ground.level_of(step.pattern);
        if level > ground.level {
            return Some(step.reason(ground.layout(), |_| &[]));
        }
        if !ground.reasons && !ground.counts_by_name(level) {
            return None;
        }
        let told = |fact: &usize| *fact > first || !state.steps[*fact - 1].supposed;
        let found = if ground.scanning {
            ground.seen(state, state.facts().filter(told), &step.claims)
        } else {
            ground.by_marks(&state.known, &step.claims, &|it| ground.level_of(it) <= ground.level)
        };
        found.map(|found| found.reason(ground.layout(), |number| state.claims(number)))
    }

    fn finish(&mut self, span: Span, names: &[&'static PatternName]) {
        let side = self.ground.layout().size().side();
        let patterns: BTreeSet<Pattern> = if names.is_empty() {
            self.usual()
        } else {
            names.iter().flat_map(|name| patterns_of(name, side)).collect()
        };
        if self.is_finished_by(&patterns) {
            self.finished = true;
            return;
        }
        if self.gaps == Gaps::None {
            let open = self.end_by(&patterns).open();
            let mend = self.patterns_to_the_end().map(|names| format!("finish  by {names}"));
            self.trouble(span, TroubleKind::FinishStuck(open, mend));
        }
        self.finished = true;
    }

    /// The patterns that the walk used so far, and all of levels 1 and 2.
    fn usual(&self) -> BTreeSet<Pattern> {
        let used = self.state.steps.iter().filter(|step| !step.supposed).map(|step| step.deduction.pattern);
        let low = self.ground.reasoner().patterns().iter().copied();
        let low = low.filter(|pattern| self.ground.level_of(*pattern) <= 2);
        used.chain(low).chain(self.named.iter().copied()).collect()
    }

    fn is_finished_by(&self, patterns: &BTreeSet<Pattern>) -> bool {
        self.end_by(patterns).is_finished()
    }

    /// How far these patterns come from here.
    fn end_by(&self, patterns: &BTreeSet<Pattern>) -> Position {
        let all = self.ground.reasoner().patterns().iter().copied();
        let reasoner = Reasoner::with(self.ground.layout(), all.filter(|it| patterns.contains(it)).collect());
        let mut known = self.state.known.clone();
        let mut climb = Climb::new(&reasoner);
        while climb.advance(&mut known, None).is_some() {}
        known
    }

    /// The patterns that finish from here, as the ladder takes them; `None` if it does not finish.
    fn patterns_to_the_end(&self) -> Option<String> {
        let mut known = self.state.known.clone();
        let mut used: BTreeSet<Pattern> = BTreeSet::new();
        let mut climb = Climb::new(self.ground.reasoner());
        while let Some((pattern, _)) = climb.advance(&mut known, None) {
            used.insert(pattern);
        }
        let mut names: Vec<&str> = Vec::new();
        for pattern in self.ground.reasoner().patterns().iter().filter(|pattern| used.contains(pattern)) {
            if !names.contains(&pattern.name()) {
                names.push(pattern.name());
            }
        }
        known.is_finished().then(|| names.join(", "))
    }
}

/// What is left to claim where this is known, of what was left before.
fn left(asserted: &Asserted, known: &Position, before: Vec<Claim>) -> Vec<Claim> {
    let left = claims(&asserted.says, known);
    if left.is_empty() { before } else { left }
}

/// What a reader may lack because something was left out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Gaps {
    /// Nothing was.
    None,
    /// Something was just now: what is missing next is no news.
    New,
    /// Something was at some time: what does not come about may be owed to it.
    Old,
    /// A line could not be read.
    Unread,
}

/// What became of a claim.
enum Taken {
    /// It says nothing new.
    Old,
    /// It is a look, or was left out.
    New,
    /// It had to be supposed before, and is said now.
    Supposed(Vec<Claim>),
    /// These claims were taken, from this state.
    Claims(Box<State>, Vec<Claim>),
}
