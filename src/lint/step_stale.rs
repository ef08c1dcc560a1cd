//! A step says nothing new.
//!
//! ## Why
//! Each of its claims was stated before, or holds by what is written or stated with no further look. A reader waits for
//! news at a step. What is only called to mind stands in prose, in braces, where it is checked too.
//!
//! ## Found
//! ```gset
//! puzzle ws-05 "Old News"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3
//!   r1c2 not 3
//! #~^^^^^^^^^^ step-stale: this says nothing new
//!   r1c2 = 2
//!   finish
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ws-05 "Old News"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3
//!   r1c2 = 2
//!   finish
//! ```

use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::book::WalkSays;
use crate::notation::Span;
use crate::replay::TroubleKind;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "step-stale",
    group: Group::Walks,
    severity: Severity::Info,
    check: Check::Walk(check),
    source: include_str!("step_stale.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    fn stale(kind: &TroubleKind) -> Option<u8> {
        match kind {
            TroubleKind::Stale(without) => Some(*without),
            _ => None,
        }
    }
    let drafts = scene.troubles(stale).map(|(trouble, without)| {
        let draft = Draft::new(
            trouble.span,
            "this says nothing new",
            "take it out, or call it to mind in prose: `>` and the claim in braces",
        );
        // Its reason may be all that makes a pattern count.
        if without < scene.replay.dearest {
            return draft;
        }
        let draft = draft.propose("take the step out", vec![scene.take_out(trouble.line)]);
        match reminder(scene, trouble.line) {
            Some(edit) => draft.propose("turn it into a reminder", vec![edit]),
            None => draft,
        }
    });
    drafts.collect()
}

/// The step as prose.
fn reminder(scene: &WalkScene, number: usize) -> Option<(Span, String)> {
    let WalkSays::Step(claims, because) = &scene.line(number)?.says else { return None };
    let braces: Vec<String> = claims.iter().map(|it| format!("{{{}}}", scene.section.at(it.span))).collect();
    let last = because.as_ref().map_or(claims.last()?.span, |because| because.span);
    Some((claims.first()?.span.to(last), format!("> Recall {}.", braces.join(", "))))
}
