//! What stands after a statement's keyword does not belong there.
//!
//! ## Why
//! Each statement takes values of its own kind: `size` a number, `symmetry` one of six words. Any other value says nothing,
//! and what would lean on it is not judged.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! symmetry   sideways
//! #~         ^^^^^^^^ value-unreadable: `symmetry` cannot be `sideways`
//! givens
//! ```
//!
//! ## Fixed
//! By hand: write one of the values that the statement takes.

use super::allow::allows;
use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book;
use crate::notation::{self, Keyword, Span, is_blank};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "value-unreadable",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Each(&[Check::Syntax(misplaced), Check::Meaning(senseless), Check::Section(accepting)]),
    source: include_str!("value_unreadable.rs"),
};

/// A value where none can stand, or grown together with what stands before it.
fn misplaced(scene: &Scene, fault: &notation::Fault) -> Option<Draft> {
    let notation::FaultKind::ValueUnreadable(keyword, why) = fault.kind else { return None };
    let (word, span) = (keyword.word(), fault.span);
    let message = format!("`{word}` cannot be followed by `{}`: {why}", shown(scene.at(span)));
    let before = Span { start: 0, end: span.start };
    if !scene.at(before).ends_with(is_blank) {
        let place = Span { end: span.start, ..span };
        let draft = Draft::new(span, message, "put a blank before it");
        return Some(draft.mend("put a blank before it", vec![(place, " ".to_owned())]));
    }
    Some(match keyword.shape().wants {
        notation::Wants::Nothing => {
            let blank = scene.at(before).len() - scene.at(before).trim_end_matches(is_blank).len();
            let place = Span::new(span.start as usize - blank, span.end as usize);
            let draft = Draft::new(
                span,
                message,
                format!("take it out, or move it to where it belongs; `{word}` stands alone"),
            );
            draft.propose("take it out", vec![(place, String::new())])
        }
        _ => Draft::new(span, message, format!("write `{word}` with the values that it takes")),
    })
}

/// A value that the statement cannot have.
fn senseless(scene: &Scene, fault: &book::Fault) -> Option<Draft> {
    let book::FaultKind::ValueUnreadable(keyword, can_be) = &fault.kind else { return None };
    let word = keyword.word();
    let value = scene.at(fault.span).trim_start_matches(word).trim_start_matches(is_blank);
    let message = format!("`{word}` cannot be `{}`: it can be {can_be}", shown(value));
    let help = match keyword {
        Keyword::Notation => "write `notation 1`".to_owned(),
        _ => format!("write {can_be}"),
    };
    Some(Draft::new(fault.span, message, help))
}

/// An `allow` that does not say what it accepts.
fn accepting(scene: &Scene) -> Vec<Draft> {
    allows(scene.section).1
}
