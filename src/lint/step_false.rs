//! A step claims what is not so.
//!
//! ## Why
//! The solution contradicts it: a reader who follows goes astray. Of a lesson that need not be a puzzle, some solution
//! does. Of several false steps the first is reported, and the others beside it. The walk is read on without the claim. A
//! look is false where the house misses other digits than it says, or where a cell that it calls open is settled.
//!
//! ## Found
//! ```gset
//! puzzle ws-01 "Milk Float"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   row 1 misses 23
//!   r1c2 = 3
//! #~^^^^^^^^ step-false: r1c2 holds 2 in the solution
//!   finish
//! ```
//!
//! ## Fixed
//! By hand: another cell or another digit may be meant.

use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::book::Assertion;
use crate::notation::Span;
use crate::replay::{Counter, TroubleKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "step-false",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Walk(check),
    source: include_str!("step_false.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    let counter = |kind: &TroubleKind| match kind {
        TroubleKind::False(counter) => Some(*counter),
        _ => None,
    };
    let mut all = scene.troubles(counter);
    let Some((first, counter)) = all.next() else { return Vec::new() };
    let draft = Draft::new(first.span, scene.against(counter), "mend the claim, or take it out");
    let draft = match mended(scene, first.span, counter) {
        Some((span, digits)) => draft.propose(format!("write{digits}"), vec![(span, digits)]),
        None => draft,
    };
    vec![all.fold(draft, |draft, (other, counter)| {
        draft.beside(other.span, format!("this is false too: {}", scene.against(counter)))
    })]
}

/// What a look must say.
pub(super) fn mended(scene: &WalkScene, span: Span, counter: Counter) -> Option<(Span, String)> {
    let Counter::Misses(_, digits) = counter else { return None };
    let claims = scene.walk.lines.iter().flat_map(|line| line.says.claims());
    let look = claims.into_iter().find(|asserted| asserted.span == span)?;
    let one = matches!(&look.says, Assertion::Misses { houses, .. } if houses.len() == 1);
    let words = scene.section.at(span);
    let at = words.rfind("misses")? + "misses".len();
    let place = Span { start: span.start + u32::try_from(at).ok()?, end: span.end };
    (one && !digits.is_empty()).then(|| (place, format!(" {digits}")))
}
