//! The branches of a chain: in which order its links are told, what each is called, and how its sentence begins.

use super::retold::{From, Joint};
use std::fmt;

/// The name of a link: `2`, or `b2` for the second of branch `b` where a chain has branches.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct LinkName {
    /// Its branch, counted from 0; `None` where there is but one.
    branch: Option<usize>,
    /// Its place within the branch, from 1.
    number: usize,
}

impl LinkName {
    /// The branch alone.
    pub(super) fn branch(self) -> String {
        self.branch.map_or_else(String::new, letters)
    }
}

impl fmt::Display for LinkName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.branch(), self.number)
    }
}

/// `a` to `z`, then `aa` and so on.
fn letters(at: usize) -> String {
    let last = char::from(b'a' + (at % 26).to_le_bytes()[0]);
    if at < 26 { last.to_string() } else { format!("{}{last}", letters(at / 26 - 1)) }
}

/// How the sentence of a link begins.
pub(in crate::words) enum Opening {
    /// It follows from what is supposed or from the sentence before it.
    Then,
    /// It follows from the sentence before it together with these.
    With(Vec<LinkName>),
    /// A branch begins with it, at what is supposed.
    Branch(String),
    /// A branch begins with it, at a link of another.
    Off(String, LinkName),
    /// A branch begins with it, where these meet.
    Meet(String, Vec<LinkName>),
    /// All ends where these meet.
    End(Vec<LinkName>),
}

impl Opening {
    /// The links that it names.
    pub(super) fn named(&self) -> &[LinkName] {
        match self {
            Opening::Then | Opening::Branch(_) => &[],
            Opening::Off(_, link) => std::slice::from_ref(link),
            Opening::With(links) | Opening::Meet(_, links) | Opening::End(links) => links,
        }
    }
}

/// A link in its place.
pub(super) struct Placed {
    /// Which of the joints it is.
    pub(super) at: usize,
    pub(super) name: LinkName,
    pub(super) opening: Opening,
}

/// The links as they come, told one after the other.
pub(super) fn in_order(joints: &[Joint]) -> Vec<Placed> {
    let place = |at| {
        let name = LinkName { branch: None, number: at + 1 };
        Placed { at, name, opening: Opening::Then }
    };
    (0..joints.len()).map(place).collect()
}

/// The links of a chain in the order in which they are told, and how the sentence of its end begins. A branch is told as
/// far as it goes before the next.
pub(super) fn in_branches(joints: &[Joint], end: &From) -> (Vec<Placed>, Opening) {
    let mut names: Vec<Option<LinkName>> = vec![None; joints.len()];
    let mut placed: Vec<Placed> = Vec::new();
    let mut branches = 0;
    while placed.len() < joints.len() {
        let is_ready = |at: &usize| {
            names[*at].is_none() && joints[*at].from.joints.iter().all(|&from| names[from].is_some())
        };
        let last = placed.last().map(|placed| (placed.at, placed.name));
        let ready = || (0..joints.len()).filter(is_ready);
        let goes_on = |at: &usize| last.is_some_and(|(last, _)| joints[*at].from.joints.contains(&last));
        let next = ready().filter(goes_on).min_by_key(|&at| joints[at].from.joints.len());
        // What is needed is told before, so that something is always ready.
        let Some(at) = next.or_else(|| ready().next()) else { break };
        let mut needs: Vec<LinkName> =
            joints[at].from.joints.iter().filter_map(|&from| names[from]).collect();
        needs.sort_unstable();
        let (name, opening) = match last {
            Some((_, last)) if next.is_some() => {
                needs.retain(|name| name.branch != last.branch);
                let name = LinkName { number: last.number + 1, ..last };
                (name, if needs.is_empty() { Opening::Then } else { Opening::With(needs) })
            }
            _ => {
                let name = LinkName { branch: Some(branches), number: 1 };
                branches += 1;
                let opening = match needs[..] {
                    [] => Opening::Branch(name.branch()),
                    [from] => Opening::Off(name.branch(), from),
                    _ => Opening::Meet(name.branch(), needs),
                };
                (name, opening)
            }
        };
        names[at] = Some(name);
        placed.push(Placed { at, name, opening });
    }
    if branches < 2 {
        return (in_order(joints), Opening::Then);
    }
    let mut ends: Vec<LinkName> = end.joints.iter().filter_map(|&from| names[from]).collect();
    ends.sort_unstable();
    let last = placed.last().map(|placed| placed.name);
    let goes_on = ends.iter().all(|end| last.is_some_and(|last| last.branch == end.branch));
    (placed, if goes_on { Opening::Then } else { Opening::End(ends) })
}
