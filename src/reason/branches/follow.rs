//! What follows from candidates by looking at one base at a time: what conflicts with all that is left of it is out. That is
//! a single, and beside it a digit that is locked where two houses cross, which a closure knows nothing of and is quicker
//! for that.

use super::closure::Bases;
use crate::reason::links::number_of;
use crate::reason::numbers::Bits;

/// Where two houses cross in a digit.
struct Crossing<const W: usize> {
    base: u16,
    /// How many candidates of the base lie in the other house.
    inside: u8,
    /// The others of the base: once they are out, the targets are.
    others: Bits<W>,
    targets: Bits<W>,
}

/// The bases of a position, and how they meet.
pub(super) struct Net<'a, const W: usize> {
    pub(super) bases: &'a Bases<'a, W>,
    /// By their bases.
    crossings: Vec<Crossing<W>>,
    /// For each base, where its crossings end.
    ends: Vec<usize>,
}

impl<'a, const W: usize> Net<'a, W> {
    pub(super) fn new(bases: &'a Bases<'a, W>) -> Net<'a, W> {
        let (mut crossings, mut ends) = (Vec::new(), Vec::new());
        for (at, (_, candidates)) in bases.all.iter().enumerate() {
            let meeting = candidates.iter().flat_map(|number| bases.of.at(number)).copied();
            let mut meeting: Vec<u16> = meeting.filter(|&other| usize::from(other) != at).collect();
            meeting.sort_unstable();
            for several in meeting.chunk_by(|one, other| one == other).filter(|same| same.len() > 1) {
                let other = bases.all[usize::from(several[0])].1;
                let (others, targets) = (*candidates - other, other - *candidates);
                if !targets.is_empty() {
                    let inside = several.len().to_le_bytes()[0];
                    crossings.push(Crossing { base: number_of(at), inside, others, targets });
                }
            }
            ends.push(crossings.len());
        }
        Net { bases, crossings, ends }
    }

    /// The candidates of a base.
    pub(super) fn candidates(&self, base: usize) -> &Bits<W> {
        &self.bases.all[base].1
    }

    /// The numbers of a base's crossings.
    fn crossings_of(&self, base: usize) -> std::ops::Range<usize> {
        base.checked_sub(1).map_or(0, |before| self.ends[before])..self.ends[base]
    }
}

/// What puts out others.
#[derive(Clone, Copy)]
enum Node {
    Supposed(u16),
    /// The last candidate of a base.
    Last(u16, u16),
    Crossing(u32),
}

/// What follows.
#[derive(Clone)]
pub(super) struct Followed<const W: usize> {
    nodes: Vec<Node>,
    looked_at: usize,
    is_on: Bits<W>,
    pub(super) out: Bits<W>,
    /// For each candidate that is out, by which node.
    out_by: Vec<u16>,
    /// How many candidates each base has left.
    left: Vec<u8>,
    /// Bases that have lost something since their crossings were looked at.
    less: Vec<u16>,
    /// A base of which nothing is left.
    empty: Option<u16>,
}

impl<const W: usize> Followed<W> {
    /// What follows from nothing.
    pub(super) fn nothing(net: &Net<W>) -> Followed<W> {
        Followed {
            nodes: Vec::new(),
            looked_at: 0,
            is_on: Bits::EMPTY,
            out: Bits::EMPTY,
            out_by: vec![0; net.bases.links.len()],
            left: net.bases.all.iter().map(|(_, candidates)| candidates.len().to_le_bytes()[0]).collect(),
            less: Vec::new(),
            empty: None,
        }
    }

    /// The same as another.
    pub(super) fn become_like(&mut self, other: &Followed<W>) {
        self.nodes.clone_from(&other.nodes);
        self.out_by.copy_from_slice(&other.out_by);
        self.left.copy_from_slice(&other.left);
        self.less.clone_from(&other.less);
        (self.looked_at, self.empty) = (other.looked_at, other.empty);
        (self.is_on, self.out) = (other.is_on, other.out);
    }

    /// The same with one more candidate, see [`Followed::suppose`].
    pub(super) fn and(&self, net: &Net<W>, supposed: usize) -> Followed<W> {
        let mut more = self.clone();
        more.suppose(net, supposed);
        more
    }

    /// Supposes one more candidate, and follows that as far as it goes or until a base has nothing left.
    pub(super) fn suppose(&mut self, net: &Net<W>, supposed: usize) {
        self.is_on.insert(supposed);
        self.nodes.push(Node::Supposed(number_of(supposed)));
        while self.empty.is_none() && (self.looked_at < self.nodes.len() || self.cross(net)) {
            let new = match self.nodes[self.looked_at] {
                Node::Supposed(one) | Node::Last(_, one) => *net.bases.links.conflicts(one.into()),
                Node::Crossing(at) => net.crossings[at as usize].targets,
            };
            self.put_out(net, new - self.out);
            self.looked_at += 1;
        }
    }

    /// Whether a base has nothing left.
    pub(super) fn is_empty(&self) -> bool {
        self.empty.is_some()
    }

    /// How many candidates of a base are left.
    pub(super) fn count(&self, base: usize) -> usize {
        self.left[base].into()
    }

    fn put_out(&mut self, net: &Net<W>, new: Bits<W>) {
        self.out |= new;
        for number in new.iter() {
            self.out_by[number] = number_of(self.looked_at);
            for &base in net.bases.of.at(number) {
                let left = &mut self.left[usize::from(base)];
                *left -= 1;
                match *left {
                    0 => self.empty = self.empty.or(Some(base)),
                    1 => {
                        let last = *net.candidates(base.into()) - self.out - self.is_on;
                        if let Some(last) = last.iter().next() {
                            self.is_on.insert(last);
                            self.nodes.push(Node::Last(base, number_of(last)));
                        }
                    }
                    _ => self.less.push(base),
                }
            }
        }
    }

    /// Looks for a base of which all that is left lies where two houses cross.
    fn cross(&mut self, net: &Net<W>) -> bool {
        while let Some(base) = self.less.pop() {
            let left = self.left[usize::from(base)];
            let tells = |at: &usize| {
                let crossing = &net.crossings[*at];
                left <= crossing.inside
                    && crossing.others.is_subset(&self.out)
                    && !crossing.targets.is_subset(&self.out)
            };
            if let Some(at) = net.crossings_of(base.into()).filter(|_| left > 1).find(tells) {
                self.nodes.push(Node::Crossing(u32::try_from(at).unwrap_or(u32::MAX)));
                // It may cross another house.
                self.less.push(base);
                return true;
            }
        }
        false
    }

    /// The bases through which all of these candidates were put out, in the order in which they are followed.
    pub(super) fn reasons(&self, net: &Net<W>, out: &Bits<W>) -> Vec<usize> {
        let mut wanted: Vec<u16> = out.iter().map(|number| self.out_by[number]).collect();
        let mut needed: Vec<Option<u16>> = vec![None; self.nodes.len()];
        let mut seen = vec![false; self.nodes.len()];
        while let Some(by) = wanted.pop() {
            let by = usize::from(by);
            if std::mem::replace(&mut seen[by], true) {
                continue;
            }
            let (base, others) = match self.nodes[by] {
                Node::Supposed(_) => continue,
                Node::Last(base, one) => (base, *net.candidates(base.into()) - Bits::single(one.into())),
                Node::Crossing(at) => {
                    let crossing = &net.crossings[at as usize];
                    (crossing.base, crossing.others)
                }
            };
            needed[by] = Some(base);
            wanted.extend(others.iter().map(|other| self.out_by[other]));
        }
        needed.into_iter().flatten().map(usize::from).collect()
    }

    /// The bases that show that a base has nothing left, that one last.
    pub(super) fn contradiction(&self, net: &Net<W>) -> Option<Vec<usize>> {
        let empty = usize::from(self.empty?);
        let mut reasons = self.reasons(net, net.candidates(empty));
        reasons.push(empty);
        Some(reasons)
    }
}
