//! A step is not false, and does not follow yet.
//!
//! ## Why
//! A reader who knows what was said so far cannot see it: something is missing in between. A claim follows if one step of
//! a pattern gives it: of the patterns up to the level that the puzzle or a reason of the walk names, and else up to level
//! 4. The walk is read on as if what is missing had been said, so one gap is one finding. A question's answer is checked in the same
//! way.
//!
//! ## Found
//! ```gset
//! puzzle ws-03 "Short Change"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r2c2 = 4
//! #~^^^^^^^^ step-early: this does not follow yet: 3 steps must come first
//!   finish
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ws-03 "Short Change"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3
//!   r1c2 = 2
//!   r3c2 = 3
//!   r2c2 = 4
//!   finish
//! ```

use super::wording::{counted, joined};
use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::replay::{Bridge, TroubleKind};
use crate::step::Deduction;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "step-early",
    group: Group::Walks,
    severity: Severity::Warning,
    check: Check::Walk(check),
    source: include_str!("step_early.rs"),
};

/// So many missing steps are named in the message; more are counted.
const NAMED: usize = 2;

/// The longest line that is named with its reason, in characters; of a longer one the claims are.
const SHORT: usize = 40;

fn check(scene: &WalkScene) -> Vec<Draft> {
    fn early(kind: &TroubleKind) -> Option<&Option<Bridge>> {
        match kind {
            TroubleKind::Early(bridge) => Some(bridge),
            _ => None,
        }
    }
    let drafts = scene.troubles(early).map(|(trouble, bridge)| {
        let Some(bridge) = bridge else {
            let message = "this does not follow yet, and the patterns that count do not lead to it";
            return Draft::new(
                trouble.span,
                message,
                "say how it comes about, or name the pattern with `by`",
            );
        };
        if bridge.moved.contains(&trouble.line) {
            let help = "name the pattern with `by`, so that it counts";
            let message = format!(
                "this follows by a pattern that counts where it is named: {}",
                missing(scene, bridge)
            );
            let (place, _) = scene.take_out(trouble.line);
            let (_, text) = scene.put_before(trouble.line, &bridge.lines);
            return Draft::new(trouble.span, message, help).propose("name the pattern", vec![(place, text)]);
        }
        let missing = missing(scene, bridge);
        let message = format!("this does not follow yet: {missing} must come first");
        let help = "say what comes first, or `allow step-early` in the line before, with the reason why";
        let mut edits = vec![scene.put_before(trouble.line, &bridge.lines)];
        edits.extend(bridge.moved.iter().map(|&line| scene.take_out(line)));
        let own = bridge.reason.iter().map(|reason| (trouble.line, reason));
        for (line, reason) in own.chain(bridge.settled.iter().map(|(line, reason)| (*line, reason))) {
            let text = if reason.is_empty() { String::new() } else { format!("  by {reason}") };
            edits.extend(scene.reason_with_by(line).map(|place| (place, text)));
        }
        let title =
            if bridge.lines.len() == 1 { "write the missing step" } else { "write the missing steps" };
        Draft::new(trouble.span, message, help).propose(title, edits)
    });
    drafts.collect()
}

/// What is missing, in words.
fn missing(scene: &WalkScene, bridge: &Bridge) -> String {
    if bridge.lines.len() > NAMED {
        return counted(bridge.lines.len(), "step");
    }
    let named = |(step, line): (&Deduction, &String)| {
        if line.chars().count() > SHORT { step.written(scene.layout) } else { line.clone() }
    };
    let named = bridge.steps.iter().zip(&bridge.lines).map(named).map(|line| format!("`{line}`"));
    joined(&named.collect::<Vec<_>>())
}
