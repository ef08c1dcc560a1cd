//! An `allow` accepts nothing: what it names is not found.
//!
//! ## Why
//! An `allow` says that something is wanted as it is. Where the finding is no longer there, it says so of nothing, and would
//! hide the next one. It is not reported while the puzzle has an error, for then not everything is looked at.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! allow size-unsaid "the shape shows it"
//! #<^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ allow-unused: no `size-unsaid` is found here
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! givens
//! ```

use super::allow::Allow;
use super::finding::line_at;
use super::{Check, Draft, Finding, Group, Severity};
use crate::notation::{Section, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "allow-unused",
    group: Group::Books,
    severity: Severity::Info,
    check: Check::Afterwards,
    source: include_str!("allow_unused.rs"),
};

pub(super) fn draft(section: &Section, allow: &Allow) -> Draft {
    let message = format!("no `{}` is found here, so this accepts nothing", section.at(allow.name));
    let line = &section.lines[line_at(section, allow.line.start) as usize];
    let whole = Span::new(line.span.start as usize, line.span.end as usize + line.ending.text().len());
    Draft::new(allow.line, message, "take the line out")
        .propose("take the line out", vec![(whole, String::new())])
}
