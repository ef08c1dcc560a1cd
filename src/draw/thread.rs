//! A chain, link by link: what its links are called, where that is written, and what leads to what.

use super::Picture;
use crate::board::{Cell, Digit};
use crate::words::{LinkName, Thread, ThreadLink};

/// What is supposed is called so.
pub(super) const START: &str = "0";
/// The end in nothing is called so.
pub(super) const END: &str = "x";

/// An arrow from a candidate to a candidate.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Arrow {
    pub(super) from: (Cell, Digit),
    pub(super) to: (Cell, Digit),
}

impl Picture {
    /// The chain that is drawn link by link: of several at once none is, and none of which a cell is left out.
    pub(super) fn thread(&self) -> Option<&Thread> {
        let [thread] = &self.threads[..] else { return None };
        let out = thread.end.iter().flat_map(|end| &end.out);
        let all = thread.links.iter().flat_map(|link| &link.leaves).chain(&thread.supposed).chain(out);
        all.into_iter().all(|&(cell, _)| self.shows(cell)).then_some(thread)
    }

    /// What is called something in a cell, in the order of the chain; `not` goes before what is supposed to be out.
    pub(super) fn links_at(&self, cell: Cell, not: &str) -> Vec<String> {
        let Some(thread) = self.thread() else { return Vec::new() };
        let here = |all: &[(Cell, Digit)]| all.iter().any(|(at, _)| *at == cell);
        let start = if thread.is_so { START.to_owned() } else { format!("{not}{START}") };
        let links = thread.links.iter().filter(|link| here(&link.leaves)).map(|link| link.name.to_string());
        let end = thread.end.iter().filter(|end| here(&end.out)).map(|_| END.to_owned());
        here(&thread.supposed).then_some(start).into_iter().chain(links).chain(end).collect()
    }

    /// The candidates that a chain supposes, or comes to.
    pub(super) fn on_thread(&self) -> Vec<(Cell, Digit)> {
        let Some(thread) = self.thread() else { return Vec::new() };
        let mut all: Vec<(Cell, Digit)> = thread.links.iter().flat_map(|link| link.leaves.clone()).collect();
        if thread.is_so {
            all.extend(&thread.supposed);
        }
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The arrows of a chain: to each link from each that it needs, and to the end.
    pub(super) fn arrows(&self) -> Vec<Arrow> {
        let Some(thread) = self.thread() else { return Vec::new() };
        let mut arrows = Vec::new();
        let mut lead = |from_start: bool, from: &[LinkName], to: &[(Cell, Digit)]| {
            let start = from_start.then_some(&thread.supposed[..]);
            let links = from.iter().filter_map(|&name| link(thread, name)).map(|link| &link.leaves[..]);
            arrows.extend(start.into_iter().chain(links).filter_map(|from| nearest(from, to)));
        };
        for link in &thread.links {
            lead(link.from_start, &link.from, &link.leaves);
        }
        if let Some(end) = &thread.end {
            lead(end.from_start, &end.from, &end.out);
        }
        arrows
    }
}

fn link(thread: &Thread, name: LinkName) -> Option<&ThreadLink> {
    thread.links.iter().find(|link| link.name == name)
}

/// An arrow between those of these candidates that are nearest to each other, at the end to one that it puts out: of the
/// same cell or the same digit.
fn nearest(from: &[(Cell, Digit)], to: &[(Cell, Digit)]) -> Option<Arrow> {
    let far = |a: Cell, b: Cell| {
        let (down, across) = (a.row().abs_diff(b.row()), a.col().abs_diff(b.col()));
        u16::from(down) * u16::from(down) + u16::from(across) * u16::from(across)
    };
    let pairs = from.iter().flat_map(|&from| to.iter().map(move |&to| Arrow { from, to }));
    pairs.min_by_key(|Arrow { from, to }| (from.0 != to.0 && from.1 != to.1, far(from.0, to.0)))
}
