//! What prose says in braces is not so.
//!
//! ## Why
//! A claim in braces is checked where it stands: in a walkthrough at that point of it, and in a note or a hint at the
//! givens. So the figures in a sentence stay true when the steps before it change.
//!
//! ## Found
//! ```gset
//! puzzle ws-02 "Empty Bottles"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   > {row 1 misses 234}.
//! #~   ^^^^^^^^^^^^^^^^ prose-false: row 1 misses 23 here
//!   r1c2 = 2
//!   finish
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ws-02 "Empty Bottles"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   > {row 1 misses 23}.
//!   r1c2 = 2
//!   finish
//! ```

use super::step_false::mended;
use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::replay::TroubleKind;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "prose-false",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Walk(check),
    source: include_str!("prose_false.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    let counter = |kind: &TroubleKind| match kind {
        TroubleKind::Prose(counter) => Some(*counter),
        _ => None,
    };
    let drafts = scene.troubles(counter).map(|(trouble, counter)| {
        let help = "mend what stands in the braces, or take the braces away: then it is text and not checked";
        let draft = Draft::new(trouble.span, scene.against(counter), help);
        match mended(scene, trouble.span, counter) {
            Some((span, digits)) => draft.propose(format!("write{digits}"), vec![(span, digits)]),
            None => draft,
        }
    });
    drafts.collect()
}
