//! A character has no place in a text file.
//!
//! ## Why
//! Control characters are seen by nobody, and some of them make terminals and editors do things. Characters that turn the
//! direction of writing for what follows show a line in another order than it has, so that whoever reads it over is
//! deceived; text from right to left needs none of them. A carriage return without a line feed is taken for the end of a
//! line by some programs and not by others. Of each kind the first one of a file is reported.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! tags       evening␍setter     "Nour Hadley"
//! #~                ^ encoding: a carriage return without a line feed
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! tags       evening
//! setter     "Nour Hadley"
//! givens
//! ```

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{BadText, Ending, Fault, FaultKind, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "encoding",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("encoding.rs"),
};

/// More control characters than this are no slips: the file is something else than a text, and is not mended.
const MOST_SLIPS: usize = 100;

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::Encoding(bad) = fault.kind else { return None };
    let lines = &scene.section.lines;
    Some(match bad {
        BadText::NotUtf8 => {
            Draft::new(fault.span, "these bytes are not UTF-8 text", "save the file as UTF-8")
        }
        BadText::LoneReturn => {
            let lone = lines.iter().filter(|line| line.ending == Ending::Cr);
            let edits =
                lone.map(|line| (Span { start: line.span.end, end: line.span.end + 1 }, "\n".to_owned()));
            Draft::new(
                fault.span,
                "a carriage return without a line feed, which is read as the end of a line",
                "end lines with a line feed, or with both",
            )
            .mend("write a line feed", edits.collect())
        }
        BadText::Control(c) => {
            let message = format!("the control character U+{:04X} has no place in a text", u32::from(c));
            without(scene, fault, c, message)
        }
        BadText::Turning(c) => {
            let code = u32::from(c);
            let message = format!(
                "U+{code:04X} turns the direction of writing, so that this is not what it looks like"
            );
            without(scene, fault, c, message)
        }
    })
}

/// Says that a character has no place here, and how to be rid of it.
fn without(scene: &Scene, fault: &Fault, c: char, message: String) -> Draft {
    let places = scene.section.text.match_indices(c);
    let edits: Vec<_> = places
        .map(|(at, found)| (Span::new(at, at + found.len()), String::new()))
        .take(MOST_SLIPS + 1)
        .collect();
    if edits.len() > MOST_SLIPS {
        Draft::new(fault.span, message, "see whether this file is a text: it has many of them")
    } else {
        Draft::new(fault.span, message, "take it out").propose("take it out", edits)
    }
}
