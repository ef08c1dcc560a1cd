//! What is said of one place.

use super::{Finding, Severity};
use crate::book::Spot;
use crate::notation::Span;

/// What a check says; [`check`](super::check()) makes a [`Report`] of it.
///
/// Its place is within the section that was checked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Draft {
    /// Where.
    pub span: Span,
    /// What is wrong, and why: one or two sentences, the first without a capital and without a full stop at the end.
    pub message: String,
    /// What to do: one sentence in the imperative, in the same style.
    pub help: String,
    /// Other places that belong to it, and what each is.
    pub related: Vec<(Elsewhere, String)>,
    /// Changes that mend it, the best first.
    pub fixes: Vec<Fix<Elsewhere>>,
    /// Only the solution shows it: who is solving may not want to be told.
    pub spoils: bool,
}

/// A place, as a draft gives it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Elsewhere {
    /// In the same section.
    Here(Span),
    /// In another section or file.
    There(Spot),
}

impl From<Span> for Elsewhere {
    fn from(span: Span) -> Elsewhere {
        Elsewhere::Here(span)
    }
}

impl From<Spot> for Elsewhere {
    fn from(spot: Spot) -> Elsewhere {
        Elsewhere::There(spot)
    }
}

/// A change that mends a finding. `P` tells how places are given: [`Elsewhere`] in a draft, [`Spot`] in a report.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fix<P> {
    /// What it does, in the imperative: "write 9".
    pub title: String,
    /// Whether it cannot change what the author meant: only such are made without being asked for.
    pub safe: bool,
    /// The new text of each place. They do not overlap.
    pub edits: Vec<(P, String)>,
}

impl Draft {
    /// A draft with no related places and no fixes.
    ///
    /// It may be kept for long, and is often alone: nothing of it has room to spare.
    pub fn new(span: Span, message: impl Into<String>, help: impl Into<String>) -> Draft {
        let (mut message, mut help): (String, String) = (message.into(), help.into());
        message.shrink_to_fit();
        help.shrink_to_fit();
        Draft { span, message, help, related: Vec::new(), fixes: Vec::new(), spoils: false }
    }

    /// … which only the solution shows.
    #[must_use]
    pub fn spoiling(mut self) -> Draft {
        self.spoils = true;
        self
    }

    /// … with another place in the same section.
    #[must_use]
    pub fn beside(mut self, span: Span, what: impl Into<String>) -> Draft {
        self.related.push((Elsewhere::Here(span), what.into()));
        self
    }

    /// … with a place in another section or file.
    #[must_use]
    pub fn elsewhere(mut self, spot: Spot, what: impl Into<String>) -> Draft {
        self.related.push((Elsewhere::There(spot), what.into()));
        self
    }

    /// … with a fix that cannot change what the author meant.
    #[must_use]
    pub fn mend(self, title: impl Into<String>, edits: Vec<(impl Into<Elsewhere>, String)>) -> Draft {
        self.fix(title.into(), true, edits)
    }

    /// … with a fix that is one of several things the author may have meant.
    #[must_use]
    pub fn propose(self, title: impl Into<String>, edits: Vec<(impl Into<Elsewhere>, String)>) -> Draft {
        self.fix(title.into(), false, edits)
    }

    fn fix(mut self, title: String, safe: bool, edits: Vec<(impl Into<Elsewhere>, String)>) -> Draft {
        let edits = edits.into_iter().map(|(place, text)| (place.into(), text)).collect();
        self.fixes.reserve_exact(1);
        self.fixes.push(Fix { title, safe, edits });
        self
    }
}

/// A finding at its place in a workspace.
#[derive(Clone)]
pub struct Report {
    /// Which finding.
    pub finding: &'static Finding,
    /// How grave it is here.
    pub severity: Severity,
    /// The id of the puzzle, lesson or answer that it stands in, where that has one.
    pub puzzle: Option<String>,
    /// Where.
    pub spot: Spot,
    /// What is wrong, and why.
    pub message: String,
    /// What to do.
    pub help: String,
    /// Other places that belong to it.
    pub related: Vec<(Spot, String)>,
    /// Changes that mend it.
    pub fixes: Vec<Fix<Spot>>,
    /// It was found by looking at its section alone; otherwise it may come and go with what stands elsewhere.
    pub alone: bool,
    /// Only the solution shows it, and it is about a solver's work: who is solving may not want to be told.
    pub spoils: bool,
}
