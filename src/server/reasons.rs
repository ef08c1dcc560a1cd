//! The reason of each step that names none, behind it; for who wants to see them.

use super::place::Place;
use super::settings::Spoiler;
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::{WalkLine, WalkSays};
use crate::notation::{Keyword, Span};
use crate::words::{Depth, tell};
use serde::{Deserialize, Serialize};
use tower_lsp::ls_types::{InlayHint, InlayHintLabel, InlayHintTooltip, Position, Range, TextEdit, Uri};

/// Which step is meant: why it follows is told when somebody points at it.
#[derive(Clone, Serialize, Deserialize)]
pub struct Pointed {
    /// The text.
    pub uri: Uri,
    /// Its version.
    pub version: i32,
}

/// The reasons of the steps in a range.
pub fn answer(snapshot: &Snapshot, range: Range) -> Vec<InlayHint> {
    if snapshot.settings.reasons == Spoiler::Ask {
        return Vec::new();
    }
    let mut hints = Vec::new();
    for at in snapshot.sections_in(&(range.start.line..range.end.line.saturating_add(1))) {
        let section = &snapshot.book.tree.sections[at];
        for steps in section.statements.iter().filter(|it| it.keyword == Some(Keyword::Steps)) {
            let meaning = &snapshot.book.meanings[at];
            let place = Place { at, section, meaning, byte: steps.word.start };
            hints.extend(
                WalkAt::of(snapshot, &place).into_iter().flat_map(|walk| of_walk(snapshot, at, &walk, range)),
            );
        }
    }
    hints
}

fn of_walk(snapshot: &Snapshot, section: usize, at: &WalkAt, range: Range) -> Vec<InlayHint> {
    let lines = at.walk.lines.iter().filter_map(|line| {
        let end = unreasoned(line)?.end as usize;
        let place = snapshot.range(section, Span::new(end, end)).start;
        (range.start <= place && place <= range.end).then_some((line, place))
    });
    let lines: Vec<(&WalkLine, Position)> = lines.collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let (ground, replay) = (at.ground(), at.replay());
    let hint = |(line, place): (&WalkLine, Position)| {
        let reason = replay.reason(&ground, line.number)?;
        Some(hint(snapshot, place, &format!("by {reason}")))
    };
    lines.into_iter().filter_map(hint).collect()
}

/// The claims of a step that names no reason.
fn unreasoned(line: &WalkLine) -> Option<Span> {
    match &line.says {
        WalkSays::Step(claims, None) => Some(claims.first()?.span.to(claims.last()?.span)),
        _ => None,
    }
}

fn hint(snapshot: &Snapshot, position: Position, reason: &str) -> InlayHint {
    let pointed = Pointed { uri: snapshot.uri.clone(), version: snapshot.version };
    InlayHint {
        position,
        label: InlayHintLabel::String(reason.to_owned()),
        kind: None,
        text_edits: Some(vec![TextEdit::new(Range::new(position, position), format!("  {reason}"))]),
        tooltip: None,
        padding_left: Some(true),
        padding_right: None,
        data: serde_json::to_value(pointed).ok(),
    }
}

/// The hint with why the step follows.
pub fn resolve(snapshot: &Snapshot, hint: InlayHint) -> InlayHint {
    let told = told(snapshot, hint.position).map(InlayHintTooltip::String);
    InlayHint { tooltip: told, ..hint }
}

fn told(snapshot: &Snapshot, position: Position) -> Option<String> {
    let place = Place::of(snapshot, position);
    let at = WalkAt::of(snapshot, &place)?;
    let number = at.line(&place)?.number;
    let replay = at.replay();
    let replayed = replay.lines.iter().find(|line| line.number == number)?;
    let all = replay.end.deductions();
    let mut known = (*replayed.before).clone();
    let mut words = Vec::new();
    for number in replayed.steps.clone() {
        if !replay.end.steps[number].supposed {
            words.push(tell(&at.voice(), Depth::Why, &known, &all[number], &all[..number]));
        }
        known.apply(&all[number].claims);
    }
    Some(words.join("\n\n"))
}
