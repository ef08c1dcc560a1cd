//! The patterns of `finish` do not finish.
//!
//! ## Why
//! `finish` promises a reader that the rest comes by a few patterns. Here they get stuck: a step is missing before it, or a
//! pattern in its list. Without a list the patterns are those that the walk has used so far, and all of levels 1 and 2.
//!
//! ## Found
//! ```gset
//! puzzle ws-07 "Doorstep"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   finish  by last open cell
//! #~^^^^^^^^^^^^^^^^^^^^^^^^^ finish-stuck: this does not finish: 11 cells stay open
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ws-07 "Doorstep"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   finish  by last open cell, box hidden single
//! ```

use super::wording::counted;
use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::replay::TroubleKind;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "finish-stuck",
    group: Group::Walks,
    severity: Severity::Warning,
    check: Check::Walk(check),
    source: include_str!("finish_stuck.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    fn stuck(kind: &TroubleKind) -> Option<(usize, &Option<String>)> {
        match kind {
            TroubleKind::FinishStuck(open, mend) => Some((*open, mend)),
            _ => None,
        }
    }
    let drafts = scene.troubles(stuck).map(|(trouble, (open, mend))| {
        let stay = if open == 1 { "stays" } else { "stay" };
        let message = format!("this does not finish: {} {stay} open", counted(open, "cell"));
        let help = "name what else it takes, or go on before it";
        let draft = Draft::new(trouble.span, message, help);
        match mend {
            Some(line) => draft.propose(format!("write `{line}`"), vec![(trouble.span, line.clone())]),
            None => draft,
        }
    });
    drafts.collect()
}
