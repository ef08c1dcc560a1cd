//! What follows from a candidate by looking: a cell with one candidate left, a digit with one place left in a house.

use crate::reason::links::Links;
use crate::reason::numbers::Bits;
use crate::step::{Base, Position};

/// All bases of a position.
pub(super) struct Bases<'a, const W: usize> {
    pub(super) links: &'a Links<W>,
    pub(super) all: Vec<(Base, Bits<W>)>,
    /// For each candidate, the bases that it is of.
    of: Vec<Vec<usize>>,
    /// How many candidates each has.
    counts: Vec<usize>,
}

/// A candidate that is on, and the base that it was left in; none for what is supposed.
type On = (usize, Option<usize>);

/// What follows from candidates that are supposed.
#[derive(Clone)]
pub(super) struct Closure<const W: usize> {
    on: Vec<On>,
    is_on: Bits<W>,
    pub(super) out: Bits<W>,
    /// For each candidate that is out, which in `on` puts it out.
    out_by: Vec<usize>,
    left: Vec<usize>,
    /// A base of which nothing is left.
    pub(super) empty: Option<usize>,
    next: usize,
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
        let mut of = vec![Vec::new(); links.len()];
        for (at, (_, candidates)) in all.iter().enumerate() {
            candidates.iter().for_each(|number| of[number].push(at));
        }
        let counts = all.iter().map(|(_, candidates)| candidates.len()).collect();
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
        so_far.on.push((supposed, None));
        while so_far.empty.is_none() && so_far.next < so_far.on.len() {
            let by = so_far.next;
            so_far.next += 1;
            for out in (*self.links.conflicts(so_far.on[by].0) - so_far.out).iter() {
                self.put_out(&mut so_far, out, by);
            }
        }
        so_far
    }

    fn put_out(&self, so_far: &mut Closure<W>, out: usize, by: usize) {
        so_far.out.insert(out);
        so_far.out_by[out] = by;
        for &base in &self.of[out] {
            so_far.left[base] -= 1;
            match so_far.left[base] {
                0 if so_far.empty.is_none() => so_far.empty = Some(base),
                1 => {
                    let last =
                        (self.all[base].1 - so_far.out).iter().find(|&number| !so_far.is_on.contains(number));
                    if let Some(last) = last {
                        so_far.is_on.insert(last);
                        so_far.on.push((last, Some(base)));
                    }
                }
                _ => {}
            }
        }
    }

    /// The bases through which all of these candidates were put out, in the order in which they are followed.
    pub(super) fn reasons(&self, closure: &Closure<W>, out: &Bits<W>) -> Vec<usize> {
        let mut wanted: Vec<usize> = out.iter().map(|number| closure.out_by[number]).collect();
        let mut needed = vec![false; closure.on.len()];
        while let Some(on) = wanted.pop() {
            if !std::mem::replace(&mut needed[on], true)
                && let (number, Some(base)) = closure.on[on]
            {
                let others = self.all[base].1.iter().filter(|&other| other != number);
                wanted.extend(others.map(|other| closure.out_by[other]));
            }
        }
        let all = closure.on.iter().zip(needed).filter(|(_, needed)| *needed);
        all.filter_map(|((_, base), _)| *base).collect()
    }

    /// The bases that show that what is supposed leaves one with nothing, that one last.
    pub(super) fn contradiction(&self, closure: &Closure<W>) -> Option<Vec<usize>> {
        let empty = closure.empty?;
        let mut reasons = self.reasons(closure, &self.all[empty].1);
        reasons.push(empty);
        Some(reasons)
    }

    /// How many candidates of a base are left.
    pub(super) fn left(&self, closure: &Closure<W>, base: usize) -> Bits<W> {
        self.all[base].1 - closure.out
    }
}
