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
    of: Lists,
    /// How many candidates each has.
    counts: Vec<u8>,
}

/// A candidate that is on, and the base that it was left in; none for what is supposed.
type On = (u16, Option<u16>);

/// What follows from candidates that are supposed.
#[derive(Clone)]
pub(super) struct Closure<const W: usize> {
    on: Vec<On>,
    is_on: Bits<W>,
    pub(super) out: Bits<W>,
    /// For each candidate that is out, which in `on` puts it out.
    out_by: Vec<u16>,
    left: Vec<u8>,
    /// A base of which nothing is left.
    pub(super) empty: Option<u16>,
    next: usize,
}

impl<const W: usize> Closure<W> {
    /// How many are on.
    pub(super) fn len(&self) -> usize {
        self.on.len()
    }

    /// Which of those that are on puts out a candidate that is out.
    pub(super) fn out_by(&self, out: usize) -> usize {
        self.out_by[out].into()
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
        let counts = all.iter().map(|(_, candidates)| candidates.len().to_le_bytes()[0]).collect();
        Bases { links, all, of, counts }
    }

    /// What follows from one candidate, as far as it goes or until a base has nothing left.
    pub(super) fn closure(&self, supposed: usize) -> Closure<W> {
        let none = Closure {
            on: Vec::new(),
            is_on: Bits::EMPTY,
            out: Bits::EMPTY,
            out_by: vec![0; self.links.len()],
            left: self.counts.clone(),
            empty: None,
            next: 0,
        };
        self.and(none, supposed)
    }

    /// The same with one more candidate.
    pub(super) fn and(&self, mut so_far: Closure<W>, supposed: usize) -> Closure<W> {
        so_far.is_on.insert(supposed);
        so_far.on.push((number_of(supposed), None));
        while so_far.empty.is_none() && so_far.next < so_far.on.len() {
            let by = so_far.next;
            so_far.next += 1;
            let new = *self.links.conflicts(so_far.on[by].0.into()) - so_far.out;
            new.iter().for_each(|out| self.put_out(&mut so_far, out, number_of(by)));
        }
        so_far
    }

    fn put_out(&self, so_far: &mut Closure<W>, out: usize, by: u16) {
        so_far.out.insert(out);
        so_far.out_by[out] = by;
        for &base in self.of.at(out) {
            let left = &mut so_far.left[usize::from(base)];
            *left -= 1;
            match *left {
                0 if so_far.empty.is_none() => so_far.empty = Some(base),
                1 => {
                    let last = self.all[usize::from(base)].1 - so_far.out - so_far.is_on;
                    if let Some(last) = last.iter().next() {
                        so_far.is_on.insert(last);
                        so_far.on.push((number_of(last), Some(base)));
                    }
                }
                _ => {}
            }
        }
    }

    /// The bases through which all of these candidates were put out, in the order in which they are followed.
    pub(super) fn reasons(&self, closure: &Closure<W>, out: &Bits<W>) -> Vec<usize> {
        let mut wanted: Vec<u16> = out.iter().map(|number| closure.out_by[number]).collect();
        let mut needed = vec![false; closure.on.len()];
        while let Some(on) = wanted.pop() {
            if !std::mem::replace(&mut needed[usize::from(on)], true)
                && let (number, Some(base)) = closure.on[usize::from(on)]
            {
                let others =
                    self.all[usize::from(base)].1.iter().filter(|&other| other != usize::from(number));
                wanted.extend(others.map(|other| closure.out_by[other]));
            }
        }
        let all = closure.on.iter().zip(needed).filter(|(_, needed)| *needed);
        all.filter_map(|((_, base), _)| base.map(usize::from)).collect()
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
