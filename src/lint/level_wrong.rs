//! The puzzle has another level than is said of it.
//!
//! ## Why
//! A reader who bought easy puzzles wants easy puzzles. The level is that of the hardest pattern that the puzzle takes:
//! the last one of the shortest beginning of the ladder that finishes it. `level 2` is said of one puzzle, `levels 1-2` of
//! each for which it holds. Trial, carried far enough, finishes every puzzle with one solution; a puzzle that a ladder
//! without it does not finish has a level above all. The `[ladder]` of a `gridsetter.toml` says which patterns there are,
//! and where each level begins.
//!
//! ## Found
//! ```gset
//! puzzle ht-40 "First Bell"
//! size       4
//! level      3
//! #<^^^^^^^^^^ level-wrong: the level is 1 and not 3: the hardest it takes is a box hidden single
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-40 "First Bell"
//! size       4
//! level      1
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```

use super::wording::one;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::book::Fact;
use crate::notation::Keyword;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "level-wrong",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("level_wrong.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    level(scene).into_iter().chain(levels(scene)).collect()
}

fn level(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, _) = scene.claim(|facts| facts.level.as_ref())?;
    let (what, found) = wrong(scene, fact.value, fact.value)?;
    let draft = draft(scene, fact, &format!("{what} and not {}", fact.value), found);
    Some(match (found, scene.claim_value(fact, Keyword::Level)) {
        (Some((level, _)), Some(value)) => {
            draft.propose(format!("write `level {level}`"), vec![(value, level.to_string())])
        }
        _ => draft,
    })
}

fn levels(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, _) = scene.claim(|facts| facts.levels.as_ref())?;
    let (least, most) = fact.value;
    let (what, found) = wrong(scene, least, most)?;
    Some(draft(scene, fact, &format!("{what} and not from {least} to {most}"), found))
}

fn draft<T>(scene: &PuzzleScene, fact: &Fact<T>, what: &str, found: Option<Found>) -> Draft {
    let message = match found {
        Some((_, hardest)) => format!("{what}: the hardest it takes is {}", one(hardest)),
        None => format!("{what}: the patterns up to there do not finish the puzzle"),
    };
    Draft::new(
        scene.claim_span(fact),
        message,
        "change the level or the puzzle; `gridsetter grade` tells more",
    )
}

/// The level that the puzzle has, and its hardest pattern.
type Found = (u8, &'static str);

/// That the puzzle's level lies outside this range, if it surely does, and which it has, if that is known.
fn wrong(scene: &PuzzleScene, least: u16, most: u16) -> Option<(String, Option<Found>)> {
    let Some(hardest) = scene.hardest()? else {
        return Some((format!("the level is above {most}"), None));
    };
    let level = scene.ladder.level(hardest)?;
    let outside = !(least..=most).contains(&u16::from(level));
    outside.then(|| (format!("the level is {level}"), Some((level, hardest))))
}
