//! A walkthrough ends before the grid is full.
//!
//! ## Why
//! A reader is left alone in the middle of the puzzle. A walk either fills the grid, or says with `finish` that from there on
//! some patterns are enough, which is then checked. A lesson need not end.
//!
//! ## Found
//! ```gset
//! puzzle ws-06 "Last Round"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3
//! #~^^^^^^^^ steps-unfinished: the walk ends with 10 cells open
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ws-06 "Last Round"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3
//!   finish
//! ```

use super::wording::counted;
use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::notation::Ending;
use crate::replay::TroubleKind;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "steps-unfinished",
    group: Group::Walks,
    severity: Severity::Warning,
    check: Check::Walk(check),
    source: include_str!("steps_unfinished.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    fn unfinished(kind: &TroubleKind) -> Option<(usize, &Option<String>)> {
        match kind {
            TroubleKind::Unfinished(open, mend) => Some((*open, mend)),
            _ => None,
        }
    }
    // A last line that has no end yet is being typed.
    let typed = |number: usize| scene.section.lines[number].ending == Ending::None;
    let ended = scene.troubles(unfinished).filter(|(trouble, _)| !typed(trouble.line));
    let drafts = ended.map(|(trouble, (open, mend))| {
        let message = format!("the walk ends with {} open", counted(open, "cell"));
        let help = "go on to the end, or write `finish` where the rest is easy";
        let draft = Draft::new(trouble.span, message, help);
        match mend.as_ref().and_then(|line| Some((line, scene.put_last(line)?))) {
            Some((line, edit)) => draft.propose(format!("write `{line}`"), vec![edit]),
            None => draft,
        }
    });
    drafts.collect()
}
