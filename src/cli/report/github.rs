//! A finding for the log of a GitHub workflow: a line that becomes a note at its place in the change.
//!
//! The form is that of GitHub's "Workflow commands for GitHub Actions": `::error file=F,line=L,col=C::MESSAGE`.

use super::{path, said};
use crate::cli::place::Places;
use crate::cli::visible;
use crate::lint::{Report, Severity};

/// The finding as one line.
pub fn annotation(report: &Report, places: &Places) -> String {
    let command = match report.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Info => "notice",
    };
    let range = places.range(report.spot);
    let mut properties = vec![
        ("file", path(report.spot, places).to_owned()),
        ("line", range.start.line.to_string()),
        ("endLine", range.end.line.to_string()),
    ];
    if range.start.line == range.end.line {
        // Columns are looked at within one line only.
        properties.push(("col", range.start.column.to_string()));
        properties.push(("endColumn", range.end.column.to_string()));
    }
    properties.push(("title", format!("gridsetter {}", report.finding.name)));
    let properties: Vec<String> =
        properties.into_iter().map(|(key, value)| format!("{key}={}", property(&value))).collect();
    let puzzle = report.puzzle.as_ref().map_or_else(String::new, |id| format!("{id}: "));
    format!("::{command} {}::{}\n", properties.join(","), message(&(puzzle + &said(report))))
}

/// A message as it stands behind the second `::`; nothing hidden, and no line of its own.
fn message(text: &str) -> String {
    visible::line(text).replace('%', "%25")
}

/// A value as it stands between commas.
fn property(text: &str) -> String {
    message(text).replace(':', "%3A").replace(',', "%2C")
}
