//! A line begins with a word that is no statement.
//!
//! ## Why
//! A line in column 1 is a statement, and its first word says which. A word that is nearly the name of just one
//! statement, by a letter or two, is read as that one, so that all that follows is still understood. Any other such line is
//! kept, with the block below it, and is not read.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! tagz       evening
//! #<^^ unknown-statement: no statement is called `tagz`, which is read as `tags`
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! tags       evening
//! givens
//! ```

use super::wording::{either, nearest, shown};
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, KEYWORDS, Keyword, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "unknown-statement",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("unknown_statement.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::UnknownStatement(read_as) = fault.kind else { return None };
    Some(match read_as {
        Some(keyword) => slip(scene, fault.span, keyword),
        None => unknown(scene, fault.span),
    })
}

fn slip(scene: &Scene, span: Span, keyword: Keyword) -> Draft {
    let (written, word) = (scene.at(span), keyword.word());
    // An indented statement that no block takes in is moved to column 1 as well.
    let start = scene.section.lines[scene.line_at(span) as usize].span.start;
    let place = Span { start, ..span };
    Draft::new(
        span,
        format!("no statement is called `{written}`, which is read as `{word}`"),
        format!("write `{word}`"),
    )
    .mend(format!("write `{word}`"), vec![(place, word.to_owned())])
}

fn unknown(scene: &Scene, span: Span) -> Draft {
    let written = scene.at(span);
    let near = nearest(&written.to_lowercase(), KEYWORDS.iter().map(|shape| shape.word));
    let message = format!("no statement is called `{}`, so this line is kept and not read", shown(written));
    if near.is_empty() {
        let help = "begin the line with a statement, indent it if it belongs to the block above, or begin it with `#` if \
                    it is a comment";
        return Draft::new(span, message, help);
    }
    let draft = Draft::new(span, message, format!("write {}, if that is meant", either(&near)));
    near.iter()
        .fold(draft, |draft, word| draft.propose(format!("write `{word}`"), vec![(span, (*word).to_owned())]))
}
