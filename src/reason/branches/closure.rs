//! What follows from a candidate by looking: a cell with one candidate left, a digit with one place left in a house.

use crate::reason::links::{Links, number_of};
use crate::reason::lists::Lists;
use crate::reason::numbers::Bits;
use crate::step::{Base, Position};

/// All bases of a position.
pub(super) struct Bases<'a, const W: usize> {
    pub(super) links: &'a Links<W>,
    pub(super) all: Vec<(Base, Bits<W>)>,
    /// For each candidate, the bases that it is of.
    pub(super) of: Lists,
    /// What is left of each base, while nothing is supposed.
    whole: Vec<Left>,
}

/// A candidate that is on, and the base that it was left in; none for what is supposed.
type On = (u16, Option<u16>);

/// What is left of a base: how many candidates, and below that the sum of their numbers. Of a last one that is its number.
type Left = u32;

/// What a candidate adds to what is left, beside its number: more than all numbers of a base together.
const ONE: Left = 1 << 20;

/// What a candidate adds to what is left of its bases.
fn share(candidate: usize) -> Left {
    ONE + Left::from(number_of(candidate))
}

/// What follows from candidates that are supposed.
#[derive(Clone)]
pub(super) struct Closure<const W: usize> {
    on: Vec<On>,
    is_on: Bits<W>,
    pub(super) out: Bits<W>,
    /// For each candidate that is out, which in `on` puts it out.
    out_by: Vec<u16>,
    left: Vec<Left>,
    /// A base of which nothing is left.
    pub(super) empty: Option<u16>,
    next: usize,
}

impl<const W: usize> Closure<W> {
    /// How many are on.
    pub(super) fn len(&self) -> usize {
        self.on.len()
    }

    /// What is on.
    pub(super) fn is_on(&self) -> &Bits<W> {
        &self.is_on
    }

    /// Which of those that are on puts out a candidate that is out.
    pub(super) fn out_by(&self, out: usize) -> usize {
        self.out_by[out].into()
    }

    /// Takes note that a base has one candidate left, or none.
    fn take_last(&mut self, left: Left, base: u16) {
        if left == 0 {
            self.empty = self.empty.or(Some(base));
            return;
        }
        let last = (left - ONE) as usize;
        if !self.is_on.contains(last) {
            self.is_on.insert(last);
            self.on.push((number_of(last), Some(base)));
        }
    }
}

impl<'a, const W: usize> Bases<'a, W> {
    pub(super) fn new(links: &'a Links<W>, position: &Position) -> Bases<'a, W> {
        let layout = position.layout();
        let cells = position.grid().empty_cells().map(Base::Cell);
        let places = layout
            .house_ids()
            .flat_map(|house| position.missing(house).iter().map(move |digit| Base::Place(house, digit)));
        let all: Vec<_> = cells
            .chain(places)
            .map(|base| {
                let candidates = links.candidates(position, &base);
                (base, candidates)
            })
            .collect();
        let mut of = Vec::new();
        for (at, (_, candidates)) in all.iter().enumerate() {
            candidates.iter().for_each(|number| of.push((number_of(number), number_of(at))));
        }
        let of = Lists::of_pairs(links.len(), of.iter().copied());
        let whole = all.iter().map(|(_, candidates)| candidates.iter().map(share).sum()).collect();
        Bases { links, all, of, whole }
    }

    /// What follows from nothing.
    pub(super) fn nothing(&self) -> Closure<W> {
        Closure {
            on: Vec::with_capacity(64),
            is_on: Bits::EMPTY,
            out: Bits::EMPTY,
            out_by: vec![0; self.links.len()],
            left: self.whole.clone(),
            empty: None,
            next: 0,
        }
    }

    /// What follows from one candidate, as far as it goes or until a base has nothing left.
    pub(super) fn closure(&self, supposed: usize) -> Closure<W> {
        self.and(self.nothing(), supposed)
    }

    /// The same, in place of what followed from others.
    pub(super) fn closure_in_place(&self, closure: &mut Closure<W>, supposed: usize) {
        closure.on.clear();
        closure.left.copy_from_slice(&self.whole);
        (closure.is_on, closure.out, closure.empty, closure.next) = (Bits::EMPTY, Bits::EMPTY, None, 0);
        self.suppose(closure, supposed);
    }

    /// The same with one more candidate.
    pub(super) fn and(&self, mut so_far: Closure<W>, supposed: usize) -> Closure<W> {
        self.suppose(&mut so_far, supposed);
        so_far
    }

    fn suppose(&self, so_far: &mut Closure<W>, supposed: usize) {
        so_far.is_on.insert(supposed);
        so_far.on.push((number_of(supposed), None));
        while so_far.empty.is_none() && so_far.next < so_far.on.len() {
            let by = so_far.next;
            so_far.next += 1;
            let new = *self.links.conflicts(so_far.on[by].0.into()) - so_far.out;
            so_far.out |= new;
            new.iter().for_each(|out| self.put_out(so_far, out, number_of(by)));
        }
    }

    fn put_out(&self, so_far: &mut Closure<W>, out: usize, by: u16) {
        so_far.out_by[out] = by;
        let share = share(out);
        for &base in self.of.at(out) {
            let left = &mut so_far.left[usize::from(base)];
            *left -= share;
            let left = *left;
            if left < 2 * ONE {
                so_far.take_last(left, base);
            }
        }
    }

    /// The bases through which all of these candidates were put out, in the order in which they are followed.
    pub(super) fn reasons(&self, closure: &Closure<W>, out: &Bits<W>) -> Vec<usize> {
        let mut needed: Bits<W> = Bits::EMPTY;
        out.iter().for_each(|number| needed.insert(closure.out_by(number)));
        for on in (0..closure.len()).rev() {
            if needed.contains(on)
                && let Some((_, before)) = self.brought_on(closure, on)
            {
                before.for_each(|before| needed.insert(before));
            }
        }
        needed.iter().filter_map(|on| closure.on[on].1.map(usize::from)).collect()
    }

    /// The bases that show that what is supposed leaves one with nothing, that one last.
    pub(super) fn contradiction(&self, closure: &Closure<W>) -> Option<Vec<usize>> {
        let empty = usize::from(closure.empty?);
        let mut reasons = self.reasons(closure, &self.all[empty].1);
        reasons.push(empty);
        Some(reasons)
    }

    /// The base that brought on what is at a place of the closure, and the places of what put out its other candidates.
    /// `None` of what was supposed.
    pub(super) fn brought_on(
        &self,
        closure: &Closure<W>,
        on: usize,
    ) -> Option<(usize, impl Iterator<Item = usize>)> {
        let (number, base) = closure.on[on];
        let base = usize::from(base?);
        let others = self.all[base].1.iter().filter(move |&other| other != usize::from(number));
        Some((base, others.map(|other| closure.out_by(other))))
    }

    /// The candidates of a base that are left.
    pub(super) fn left(&self, closure: &Closure<W>, base: usize) -> Bits<W> {
        self.all[base].1 - closure.out
    }
}
