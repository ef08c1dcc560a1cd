//! What follows from candidates that are supposed, by looking: a cell with one candidate left, a digit with one place left
//! in a house, and in a closure that crosses a digit that is locked where two houses cross. Others are quicker without.

use std::cell::OnceCell;

use super::crossings::Crossings;
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
    /// Worked out when they are first asked for.
    crossings: OnceCell<Crossings<W>>,
}

/// What is left of a base: how many candidates, and below that the sum of their numbers. Of a last one that is its number.
type Left = u32;

/// What a candidate adds to what is left, beside its number: more than all numbers of a base together.
const ONE: Left = 1 << 20;

/// What a candidate adds to what is left of its bases.
fn share(candidate: usize) -> Left {
    ONE + Left::from(number_of(candidate))
}

/// What puts out others.
#[derive(Clone, Copy)]
enum Node {
    Supposed(u16),
    /// The last candidate of a base.
    Last {
        base: u16,
        candidate: u16,
    },
    Crossing(u32),
}

/// What follows from candidates that are supposed; where it `CROSSES`, by crossings too.
#[derive(Clone)]
pub(super) struct Closure<const W: usize, const CROSSES: bool = false> {
    nodes: Vec<Node>,
    /// The first node that was not followed yet.
    next: usize,
    is_on: Bits<W>,
    pub(super) out: Bits<W>,
    /// For each candidate that is out, by which node.
    out_by: Vec<u16>,
    left: Vec<Left>,
    /// Bases that have lost something since their crossings were looked at.
    less: Vec<u16>,
    /// A base of which nothing is left.
    empty: Option<u16>,
}

impl<const W: usize, const CROSSES: bool> Closure<W, CROSSES> {
    /// The same as another of the same bases.
    pub(super) fn become_like(&mut self, other: &Closure<W, CROSSES>) {
        self.nodes.clone_from(&other.nodes);
        self.out_by.copy_from_slice(&other.out_by);
        self.left.copy_from_slice(&other.left);
        self.less.clone_from(&other.less);
        (self.next, self.empty) = (other.next, other.empty);
        (self.is_on, self.out) = (other.is_on, other.out);
    }

    /// How many nodes there are.
    pub(super) fn len(&self) -> usize {
        self.nodes.len()
    }

    /// What is on.
    pub(super) fn is_on(&self) -> &Bits<W> {
        &self.is_on
    }

    /// Which node puts out a candidate that is out.
    pub(super) fn out_by(&self, out: usize) -> usize {
        self.out_by[out].into()
    }

    /// Whether a base has nothing left.
    pub(super) fn is_empty(&self) -> bool {
        self.empty.is_some()
    }

    /// How many candidates of a base are left.
    pub(super) fn count(&self, base: usize) -> usize {
        (self.left[base] / ONE) as usize
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
            self.nodes.push(Node::Last { base, candidate: number_of(last) });
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
        Bases { links, all, of, whole, crossings: OnceCell::new() }
    }

    fn crossings(&self) -> &Crossings<W> {
        self.crossings.get_or_init(|| Crossings::of(self))
    }

    /// What follows from nothing.
    pub(super) fn nothing<const CROSSES: bool>(&self) -> Closure<W, CROSSES> {
        Closure {
            nodes: Vec::with_capacity(64),
            next: 0,
            is_on: Bits::EMPTY,
            out: Bits::EMPTY,
            out_by: vec![0; self.links.len()],
            left: self.whole.clone(),
            less: Vec::new(),
            empty: None,
        }
    }

    /// What follows from one candidate, see [`Bases::suppose`].
    pub(super) fn closure(&self, supposed: usize) -> Closure<W> {
        let mut closure = self.nothing();
        self.suppose(&mut closure, supposed);
        closure
    }

    /// The same with one more candidate, see [`Bases::suppose`].
    pub(super) fn and<const CROSSES: bool>(
        &self,
        so_far: &Closure<W, CROSSES>,
        supposed: usize,
    ) -> Closure<W, CROSSES> {
        let mut more = so_far.clone();
        self.suppose(&mut more, supposed);
        more
    }

    /// Supposes one more candidate, and follows that as far as it goes or until a base has nothing left.
    pub(super) fn suppose<const CROSSES: bool>(&self, so_far: &mut Closure<W, CROSSES>, supposed: usize) {
        so_far.is_on.insert(supposed);
        so_far.nodes.push(Node::Supposed(number_of(supposed)));
        while so_far.empty.is_none() && (so_far.next < so_far.nodes.len() || self.cross(so_far)) {
            let by = so_far.next;
            so_far.next += 1;
            let against = match so_far.nodes[by] {
                Node::Supposed(candidate) | Node::Last { candidate, .. } => {
                    self.links.conflicts(candidate.into())
                }
                Node::Crossing(at) => &self.crossings().at(at).targets,
            };
            let new = *against - so_far.out;
            so_far.out |= new;
            new.iter().for_each(|out| self.put_out(so_far, out, number_of(by)));
        }
    }

    fn put_out<const CROSSES: bool>(&self, so_far: &mut Closure<W, CROSSES>, out: usize, by: u16) {
        so_far.out_by[out] = by;
        let share = share(out);
        for &base in self.of.at(out) {
            let left = &mut so_far.left[usize::from(base)];
            *left -= share;
            let left = *left;
            if left < 2 * ONE {
                so_far.take_last(left, base);
            } else if CROSSES {
                so_far.less.push(base);
            }
        }
    }

    /// Looks for a base of which all that is left lies where two houses cross.
    fn cross<const CROSSES: bool>(&self, so_far: &mut Closure<W, CROSSES>) -> bool {
        while let Some(base) = so_far.less.pop() {
            let left = so_far.count(base.into());
            if left > 1
                && let Some(crossing) = self.crossings().locked(base.into(), left, &so_far.out)
            {
                so_far.nodes.push(Node::Crossing(crossing));
                // It may cross another house.
                so_far.less.push(base);
                return true;
            }
        }
        false
    }

    /// The bases through which all of these candidates were put out, in the order in which they are followed.
    pub(super) fn reasons<const CROSSES: bool>(
        &self,
        closure: &Closure<W, CROSSES>,
        out: &Bits<W>,
    ) -> Vec<usize> {
        let mut needed = vec![false; closure.len()];
        out.iter().for_each(|number| needed[closure.out_by(number)] = true);
        let mut reasons = Vec::with_capacity(closure.len());
        for node in (0..closure.len()).rev() {
            if needed[node]
                && let Some((base, before)) = self.read(closure, node)
            {
                before.iter().for_each(|number| needed[closure.out_by(number)] = true);
                reasons.push(base);
            }
        }
        reasons.reverse();
        reasons
    }

    /// The bases that show that what is supposed leaves one with nothing, that one last.
    pub(super) fn contradiction<const CROSSES: bool>(
        &self,
        closure: &Closure<W, CROSSES>,
    ) -> Option<Vec<usize>> {
        let empty = usize::from(closure.empty?);
        let mut reasons = self.reasons(closure, &self.all[empty].1);
        reasons.push(empty);
        Some(reasons)
    }

    /// The base that a node reads, and its candidates that were out before. `None` of what was supposed.
    pub(super) fn read<const CROSSES: bool>(
        &self,
        closure: &Closure<W, CROSSES>,
        node: usize,
    ) -> Option<(usize, Bits<W>)> {
        match closure.nodes[node] {
            Node::Supposed(_) => None,
            Node::Last { base, candidate } => {
                let base = usize::from(base);
                Some((base, self.all[base].1 - Bits::single(candidate.into())))
            }
            Node::Crossing(at) => {
                let crossing = self.crossings().at(at);
                Some((crossing.base.into(), crossing.others))
            }
        }
    }

    /// The candidates of a base that are left.
    pub(super) fn left<const CROSSES: bool>(&self, closure: &Closure<W, CROSSES>, base: usize) -> Bits<W> {
        self.all[base].1 - closure.out
    }
}
