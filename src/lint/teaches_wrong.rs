//! A lesson does not show what it says that it teaches.
//!
//! ## Why
//! A reader looks a pattern up and finds a page without it. What a lesson `teaches` is the reason of one of its steps, or the
//! pattern that gives one.
//!
//! ## Found
//! ```gset
//! lesson wl-01 "Corner Shop"
//! size       4
//! teaches    naked pair
//! #<^^^^^^^^^^^^^^^^^^^ teaches-wrong: no step here is a naked pair
//! position
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3
//! ```
//!
//! ## Fixed
//! By hand: teach what is said, or say what is taught.

use super::wording::{counted, joined, one};
use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::book::WalkSays;
use crate::ladder::Pattern;
use crate::step::Seen;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "teaches-wrong",
    group: Group::Walks,
    severity: Severity::Warning,
    check: Check::Walk(check),
    source: include_str!("teaches_wrong.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    let Some(fact) = scene.puzzle.facts.teaches.as_ref().filter(|fact| fact.own) else { return Vec::new() };
    let steps = || scene.walk.lines.iter().filter(|line| matches!(line.says, WalkSays::Step(..)));
    let missing: Vec<String> =
        fact.value.iter().map(|(name, _)| *name).filter(|name| !shows(scene, name)).map(one).collect();
    let unread = scene.walk.lines.iter().any(|line| matches!(line.says, WalkSays::Unread));
    if missing.is_empty() || unread || steps().count() == 0 {
        return Vec::new();
    }
    let message = format!("no step here is {}", joined(&missing));
    let help = format!("show it in one of the {}, or say what is taught", counted(steps().count(), "step"));
    vec![Draft::new(fact.span, message, help)]
}

/// Whether a step has this name as its reason, or is one.
fn shows(scene: &WalkScene, name: &str) -> bool {
    let given = scene.walk.lines.iter().any(|line| match &line.says {
        WalkSays::Step(_, Some(because)) => because.name.name == name,
        _ => false,
    });
    let single = |pattern| matches!(pattern, Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle);
    given
        || scene.replay.end.steps.iter().filter(|step| !step.supposed).map(|step| &step.deduction).any(|it| {
            it.pattern.name() == name
                || it.seen.map(Seen::name) == Some(name)
                || (name == "hidden single" && single(it.pattern))
        })
}
