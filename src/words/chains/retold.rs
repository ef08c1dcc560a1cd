//! A chain read off its bases, which stand in the order in which a person follows them.

use super::cases::Told;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, Layout};
use crate::step::{Base, Deduction, Position};

type Candidate = (Cell, Digit);

/// With more that is read nobody would follow it link by link.
pub(super) const MOST_FOLLOWED: usize = 100;

/// A digit in one of several cells.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) struct Node {
    pub(super) digit: Digit,
    pub(super) cells: CellSet,
}

/// What a link shows.
pub(super) enum Link {
    /// The cell does not hold these digits, and holds one of those.
    Cell { cell: Cell, out: DigitSet, left: DigitSet },
    /// The house has the digit in one of these cells.
    Place { house: HouseId, digit: Digit, left: CellSet },
    /// The cells have as many digits left as they are.
    Set { cells: CellSet, left: DigitSet },
}

/// A link, what it puts others out by, and what it needs.
pub(super) struct Joint {
    pub(super) link: Link,
    /// One of the candidates of each is true.
    pub(super) nodes: Vec<Vec<Candidate>>,
    pub(super) from: From,
}

/// What it takes to say something.
#[derive(Clone, Default)]
pub(super) struct From {
    /// What is supposed.
    pub(super) start: bool,
    /// These joints before it, rising.
    pub(super) joints: Vec<usize>,
}

/// What is left with nothing.
pub(super) enum Empty {
    Cell(Cell),
    Place(HouseId, Digit),
    /// More cells than digits that are left for them.
    Cells(CellSet, DigitSet),
    /// Nothing: all that the step strikes is out.
    Struck,
    /// All that is read, taken together.
    All,
}

/// What comes of candidates that are supposed.
pub(super) struct Branch {
    pub(super) supposed: Vec<Candidate>,
    pub(super) joints: Vec<Joint>,
    pub(super) empty: Empty,
    /// What it takes to see that.
    pub(super) from: From,
}

/// How a step is told.
pub(super) enum Retold {
    /// If the beginning is not true, link follows link up to the end: one of the two is true. In a loop also the other
    /// way round.
    Chain { begin: Node, joints: Vec<Joint>, end: Node, is_loop: bool },
    /// Each candidate that is struck leads to something that has nothing left.
    Branches(Vec<Branch>),
    /// Each case of a base leads to what is struck, or, by itself or together with that, to something that has nothing
    /// left.
    Cases(Base, Vec<Branch>),
    /// What is struck is supposed, and comes to nothing in so many cases.
    InCases { struck: Candidate, told: Told, cases: usize },
    /// The same in too many cases to tell: these bases are split.
    Many { struck: Candidate, split: Vec<Base>, cases: usize },
}

/// Reads a step off its bases.
pub(super) fn retell(before: &Position, step: &Deduction) -> Retold {
    let strikes = before.strikes(&step.claims).into_iter();
    let strikes: Vec<Candidate> =
        strikes.flat_map(|(cell, digits)| digits.iter().map(move |digit| (cell, digit))).collect();
    let reading = Reading { before, bases: &step.bases };
    let in_cases = || match strikes[..] {
        [struck] => reading.in_cases(struck, step.splits),
        _ => None,
    };
    if step.bases.len() > MOST_FOLLOWED {
        return in_cases().unwrap_or_else(|| all_together(&strikes));
    }
    let chain = match (step.splits, &strikes[..]) {
        (2.., &[struck]) => reading.in_cases(struck, step.splits),
        _ => strikes.iter().find_map(|&struck| reading.chain(struck, &strikes)),
    };
    chain.unwrap_or_else(|| {
        let each = strikes.iter().map(|&supposed| reading.branch(vec![supposed], &[], reading.bases));
        let each: Option<Vec<Branch>> = each.collect();
        let told = each.map(Retold::Branches).or_else(|| match reading.cases(&strikes) {
            // What most cases suppose is supposed once.
            Some((told, true)) => Some(in_cases().unwrap_or(told)),
            Some((told, false)) => Some(told),
            None => in_cases(),
        });
        told.unwrap_or_else(|| all_together(&strikes))
    })
}

/// That all that is read leaves no room for what is struck, taken together.
fn all_together(strikes: &[Candidate]) -> Retold {
    let from = From { start: true, joints: Vec::new() };
    let supposed = |&struck| Branch {
        supposed: vec![struck],
        joints: Vec::new(),
        empty: Empty::All,
        from: from.clone(),
    };
    Retold::Branches(strikes.iter().map(supposed).collect())
}

/// What follows from what is supposed.
pub(super) struct Followed {
    pub(super) joints: Vec<Joint>,
    pub(super) empty: Empty,
    /// What it takes to see that.
    pub(super) from: From,
    /// The bases that it reads.
    used: Vec<Base>,
}

/// What is read of a step, and before what.
pub(super) struct Reading<'a> {
    before: &'a Position,
    pub(super) bases: &'a [Base],
}

impl Reading<'_> {
    fn layout(&self) -> &Layout {
        self.before.layout()
    }

    pub(super) fn candidates(&self, base: &Base) -> Vec<Candidate> {
        match *base {
            Base::Cell(cell) => self.before.candidates(cell).iter().map(|digit| (cell, digit)).collect(),
            Base::Place(house, digit) => {
                self.before.cells(house, digit).iter().map(|cell| (cell, digit)).collect()
            }
            Base::Swap(ref swap) => swap.extras.clone(),
        }
    }

    /// How many bases say something together at most: a set lies in one house.
    fn most_in_set(&self, bases: &[Base]) -> usize {
        bases.len().min(self.layout().size().usize())
    }

    fn conflict(&self, a: Candidate, b: Candidate) -> bool {
        a != b && (a.0 == b.0 || a.1 == b.1 && self.layout().sees(a.0, b.0))
    }

    /// Whether a candidate conflicts with all of a node.
    pub(super) fn closes(&self, node: &[Candidate], at: Candidate) -> bool {
        !node.is_empty() && node.iter().all(|&one| self.conflict(one, at))
    }

    /// A chain that begins with what a struck candidate puts out, passes through all bases in their order and ends with
    /// what also puts out that candidate; `None` if the bases are no such chain, or not for all that is struck.
    fn chain(&self, struck: Candidate, strikes: &[Candidate]) -> Option<Retold> {
        let mut nodes: Vec<Vec<Candidate>> = vec![vec![struck]];
        let mut joints: Vec<Joint> = Vec::new();
        let (mut at, mut begin) = (0, None);
        while at < self.bases.len() {
            let wanted = |node: &[Candidate], next: usize| match self.bases.get(next) {
                Some(_) => self.bases[next..]
                    .iter()
                    .any(|later| self.candidates(later).into_iter().any(|one| self.closes(node, one))),
                None => self.closes(node, struck),
            };
            let (count, link, left) = (1..=self.most_in_set(&self.bases[at..])).find_map(|count| {
                let (link, left) = self.link(&self.bases[at..at + count], &nodes)?;
                left.iter().any(|node| wanted(node, at + count)).then_some((count, link, left))
            })?;
            let all = self.bases[at..at + count].iter().flat_map(|base| self.candidates(base));
            let from = if begin.is_none() {
                begin = Some(node_of(all.filter(|&one| self.closes(&nodes[0], one)))?);
                nodes.clear();
                From { start: true, joints: Vec::new() }
            } else {
                self.from(&out_of(all, &left), &[], &joints)
            };
            nodes.extend(left.iter().cloned());
            joints.push(Joint { link, nodes: left, from });
            at += count;
        }
        let begin = begin?;
        let begin_all: Vec<Candidate> = begin.cells.iter().map(|cell| (cell, begin.digit)).collect();
        let end_all = nodes.into_iter().rev().find(|node| self.closes(node, struck))?;
        let end = node_of(end_all.iter().copied())?;
        let is_loop = joints.len() > 1 && begin_all.iter().all(|&one| self.closes(&end_all, one));
        let by_both = |&at: &Candidate| self.closes(&begin_all, at) && self.closes(&end_all, at);
        (is_loop || strikes.iter().all(by_both)).then_some(Retold::Chain { begin, joints, end, is_loop })
    }

    /// What bases say once these nodes are known: one base, or the cells of a set; and what it puts out others by.
    /// `None` if they say nothing new.
    fn link(&self, bases: &[Base], nodes: &[Vec<Candidate>]) -> Option<(Link, Vec<Vec<Candidate>>)> {
        let is_out = |&at: &Candidate| nodes.iter().any(|node| self.closes(node, at));
        if let [base] = bases {
            let (out, left): (Vec<_>, Vec<_>) = self.candidates(base).into_iter().partition(is_out);
            if out.is_empty() || left.is_empty() {
                return None;
            }
            return Some((Self::leaves(base, &out, &left)?, vec![left]));
        }
        let own: CellSet = bases.iter().filter_map(cell_of).collect();
        let in_one_house = self.layout().houses().iter().any(|house| own.is_subset(house.set()));
        if own.len() < bases.len() || !in_one_house {
            return None;
        }
        let all = bases.iter().flat_map(|base| self.candidates(base));
        let (out, left): (Vec<_>, Vec<_>) = all.partition(is_out);
        let digits = digits(&left);
        if out.is_empty() || digits.len() != own.len() {
            return None;
        }
        let of = |digit| left.iter().copied().filter(|one| one.1 == digit).collect();
        Some((Link::Set { cells: own, left: digits }, digits.iter().map(of).collect()))
    }

    /// What is left of a base. `None` of a swap.
    pub(super) fn leaves(base: &Base, out: &[Candidate], left: &[Candidate]) -> Option<Link> {
        match *base {
            Base::Cell(cell) => Some(Link::Cell { cell, out: digits(out), left: digits(left) }),
            Base::Place(house, digit) => Some(Link::Place { house, digit, left: cells(left) }),
            Base::Swap(_) => None,
        }
    }

    /// The cases of a base, the first that will do; and whether some of them also suppose what is struck.
    fn cases(&self, strikes: &[Candidate]) -> Option<(Retold, bool)> {
        let by = |at: usize| {
            let mut rest = self.bases.to_vec();
            let base = rest.remove(at);
            let cases = self.candidates(&base).into_iter();
            let branches = cases.map(|case| {
                if let Some(alone) = self.branch(vec![case], strikes, &rest) {
                    return Some(vec![alone]);
                }
                let together = strikes.iter().filter(|&&struck| !self.conflict(struck, case));
                together.map(|&struck| self.branch(vec![struck, case], &[], &rest)).collect()
            });
            let branches = branches.collect::<Option<Vec<Vec<Branch>>>>()?;
            let branches: Vec<Branch> = branches.into_iter().flatten().collect();
            let is_supposed = branches.iter().any(|branch| branch.supposed.len() > 1);
            Some((Retold::Cases(base, branches), is_supposed))
        };
        (0..self.bases.len()).find_map(by)
    }

    /// What follows from candidates until something has nothing left, or these others are out.
    fn branch(&self, supposed: Vec<Candidate>, until: &[Candidate], bases: &[Base]) -> Option<Branch> {
        let nodes: Vec<Vec<Candidate>> = supposed.iter().map(|&one| vec![one]).collect();
        let Followed { joints, empty, from, .. } = self.to_the_end(&nodes, until, bases)?;
        Some(Branch { supposed, joints, empty, from })
    }

    /// What follows from nodes until something has nothing left, or these others are out, with no more than is needed.
    pub(super) fn to_the_end(
        &self,
        nodes: &[Vec<Candidate>],
        until: &[Candidate],
        bases: &[Base],
    ) -> Option<Followed> {
        let mut used = self.follow(nodes, until, bases)?.used;
        for at in (0..used.len()).rev() {
            let mut less = used.clone();
            less.remove(at);
            if let Some(followed) = self.follow(nodes, until, &less)
                && followed.used.len() <= less.len()
            {
                used = less;
            }
        }
        self.follow(nodes, until, &used)
    }

    /// What follows from nodes by some of the bases, in their order as far as that goes.
    fn follow(&self, start: &[Vec<Candidate>], until: &[Candidate], bases: &[Base]) -> Option<Followed> {
        let mut nodes = start.to_vec();
        let (mut rest, mut joints, mut used) = (bases.to_vec(), Vec::new(), Vec::new());
        loop {
            let is_out = |at: &Candidate| nodes.iter().any(|node| self.closes(node, *at));
            if !until.is_empty() && until.iter().all(is_out) {
                let from = self.from(until, start, &joints);
                return Some(Followed { joints, empty: Empty::Struck, from, used });
            }
            if let Some((empty, last)) = self.empty(&rest, &nodes) {
                let all = last.iter().flat_map(|base| self.candidates(base));
                let out: Vec<Candidate> = all.filter(is_out).collect();
                let from = self.from(&out, start, &joints);
                used.extend(last);
                return Some(Followed { joints, empty, from, used });
            }
            let (at, count, link, left) = self.next(&rest, &nodes, until)?;
            let read: Vec<Base> = rest.drain(at..at + count).collect();
            let all = read.iter().flat_map(|base| self.candidates(base));
            let from = self.from(&out_of(all, &left), start, &joints);
            used.extend(read);
            nodes.extend(left.iter().cloned());
            joints.push(Joint { link, nodes: left, from });
        }
    }

    /// What it takes to put out these candidates: what is supposed as far as that does, and then as few joints as a
    /// search for the one that puts out most finds, of equal ones the last.
    fn from(&self, out: &[Candidate], start: &[Vec<Candidate>], joints: &[Joint]) -> From {
        let by = |nodes: &[Vec<Candidate>], at: Candidate| nodes.iter().any(|node| self.closes(node, at));
        let (at_start, mut rest): (Vec<Candidate>, Vec<Candidate>) =
            out.iter().copied().partition(|&at| by(start, at));
        let mut needed = Vec::new();
        while !rest.is_empty() {
            let count = |joint: &Joint| rest.iter().filter(|&&at| by(&joint.nodes, at)).count();
            let Some((most, joint)) = joints
                .iter()
                .enumerate()
                .max_by_key(|(_, joint)| count(joint))
                .filter(|(_, joint)| count(joint) > 0)
            else {
                break;
            };
            rest.retain(|&at| !by(&joint.nodes, at));
            needed.push(most);
        }
        needed.sort_unstable();
        From { start: !at_start.is_empty(), joints: needed }
    }

    /// All that follows from nodes, which are then told of too.
    pub(super) fn all_links(&self, nodes: &mut Vec<Vec<Candidate>>) -> Vec<Link> {
        let mut links = Vec::new();
        while let Some((_, _, link, left)) = self.next(self.bases, nodes, &[]) {
            nodes.extend(left);
            links.push(link);
        }
        links
    }

    /// The first of the bases, or cells of a set, that put out something of the others, or of these candidates: where they
    /// begin, how many they are, and what they say.
    fn next(
        &self,
        bases: &[Base],
        nodes: &[Vec<Candidate>],
        until: &[Candidate],
    ) -> Option<(usize, usize, Link, Vec<Vec<Candidate>>)> {
        let spans = (1..=self.most_in_set(bases))
            .flat_map(|count| (0..=bases.len() - count).map(move |at| (at, count)));
        spans.into_iter().find_map(|(at, count)| {
            let (link, left) = self.link(&bases[at..at + count], nodes)?;
            let others = || bases[..at].iter().chain(&bases[at + count..]);
            let tells = |node: &Vec<Candidate>| {
                let mut all = others().flat_map(|base| self.candidates(base));
                let known = |at: Candidate| nodes.iter().any(|node| self.closes(node, at));
                all.any(|one| self.closes(node, one) && !known(one))
                    || until.iter().any(|&one| self.closes(node, one) && !known(one))
            };
            left.iter().any(tells).then_some((at, count, link, left))
        })
    }

    /// A base with nothing left, or cells of a house with fewer digits than they are; and the bases that show it.
    pub(super) fn empty(&self, bases: &[Base], nodes: &[Vec<Candidate>]) -> Option<(Empty, Vec<Base>)> {
        let left = |base: &Base| {
            let is_out = |at: &Candidate| nodes.iter().any(|node| self.closes(node, *at));
            self.candidates(base).into_iter().filter(|at| !is_out(at)).collect::<Vec<_>>()
        };
        for base in bases.iter().filter(|base| left(base).is_empty()) {
            let empty = match *base {
                Base::Cell(cell) => Empty::Cell(cell),
                Base::Place(house, digit) => Empty::Place(house, digit),
                Base::Swap(_) => continue,
            };
            return Some((empty, vec![base.clone()]));
        }
        for count in 2..=self.most_in_set(bases) {
            for span in bases.windows(count) {
                let own: CellSet = span.iter().filter_map(cell_of).collect();
                let left: Vec<Candidate> = span.iter().flat_map(left).collect();
                let in_one_house = || self.layout().houses().iter().any(|house| own.is_subset(house.set()));
                if own.len() == count && digits(&left).len() < count && in_one_house() {
                    return Some((Empty::Cells(own, digits(&left)), span.to_vec()));
                }
            }
        }
        None
    }
}

fn cell_of(base: &Base) -> Option<Cell> {
    match base {
        Base::Cell(cell) => Some(*cell),
        _ => None,
    }
}

/// The candidates that are not left.
fn out_of(all: impl Iterator<Item = Candidate>, left: &[Vec<Candidate>]) -> Vec<Candidate> {
    all.filter(|one| !left.iter().flatten().any(|other| other == one)).collect()
}

fn digits(candidates: &[Candidate]) -> DigitSet {
    candidates.iter().map(|(_, digit)| *digit).collect()
}

fn cells(candidates: &[Candidate]) -> CellSet {
    candidates.iter().map(|(cell, _)| *cell).collect()
}

/// Candidates of one digit as a node.
fn node_of(candidates: impl Iterator<Item = Candidate>) -> Option<Node> {
    let all: Vec<Candidate> = candidates.collect();
    Some(Node { digit: digits(&all).only()?, cells: cells(&all) })
}
