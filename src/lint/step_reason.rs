//! A step follows, and not by the reason that it gives.
//!
//! ## Why
//! A reader who looks as the reason says does not see it. A reason is a pattern or a way of seeing that gives the first claim of
//! its line. Every house that it names is the house to look at or a line that closes cells, every fact that it names with
//! `with` is needed, and where the reader has nothing but digits and stated facts the step leans on no fact that is not
//! named.
//!
//! ## Found
//! ```gset
//! puzzle ws-04 "Wrong Bell"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3  by last open cell in row 1
//! #~             ^^^^^^^^^^^^^^^^^^^^^^^ step-reason: no last open cell gives this here
//!   finish
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ws-04 "Wrong Bell"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! steps
//!   r1c3 = 3  by box hidden single in box 2
//!   finish
//! ```

use super::wording::{joined, one};
use super::{Check, Draft, Finding, Group, Severity, WalkScene};
use crate::ladder::NameKind;
use crate::notation::Span;
use crate::replay::{Misfit, Right, TroubleKind};
use crate::step::plainly;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "step-reason",
    group: Group::Walks,
    severity: Severity::Warning,
    check: Check::Walk(check),
    source: include_str!("step_reason.rs"),
};

fn check(scene: &WalkScene) -> Vec<Draft> {
    fn reason(kind: &TroubleKind) -> Option<(&Misfit, &Option<Right>, u8)> {
        match kind {
            TroubleKind::Reason { misfit, right, without } => Some((misfit, right, *without)),
            _ => None,
        }
    }
    let drafts = scene.troubles(reason).map(|(trouble, (misfit, right, without))| {
        let message = message(scene, misfit);
        let draft = Draft::new(trouble.span, message, "give the reason that fits, or leave it out");
        let Some(place) = scene.reason_with_by(trouble.line) else { return draft };
        let draft = match right {
            Some(Right::Instead(right)) => {
                draft.propose(format!("write `by {right}`"), vec![(place, format!("  by {right}"))])
            }
            Some(Right::Added(with)) => {
                let end = Span { start: place.end, end: place.end };
                draft.propose(format!("add `{}`", with.trim_start()), vec![(end, with.clone())])
            }
            None => draft,
        };
        // A reason may be all that makes a pattern count.
        if without < scene.replay.dearest {
            return draft;
        }
        draft.propose("take the reason out", vec![(place, String::new())])
    });
    drafts.collect()
}

fn message(scene: &WalkScene, misfit: &Misfit) -> String {
    match misfit {
        Misfit::Kind(name) => match name.kind {
            NameKind::Seeing => format!("this does not follow by {} here", name.name),
            _ => format!(
                "no {} gives this here",
                one(name.name).trim_start_matches("an ").trim_start_matches("a ")
            ),
        },
        Misfit::NoFact(span) => format!("no step before this says something of just {}", scene.words(*span)),
        Misfit::Leans(facts) => {
            let fact = |number: &usize| {
                let step = scene.replay.end.steps.get(number - 1)?;
                Some(format!("`{}`", plainly(&step.deduction.claims, scene.layout)))
            };
            let facts: Vec<String> = facts.iter().filter_map(fact).collect();
            format!("this leans on {} too", joined(&facts))
        }
        Misfit::IdleFact(span) => format!("this follows without {}", scene.words(*span)),
        Misfit::IdleHouse(span) => format!("`{}` is not a house that takes part", scene.words(*span)),
        Misfit::IdleNames => "cells or digits that the reason names take no part".to_owned(),
    }
}
