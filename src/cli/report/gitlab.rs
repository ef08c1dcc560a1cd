//! Findings for the code quality report of GitLab: one JSON array.
//!
//! The form is that of "Code Quality report format" in GitLab's documentation: `description`, `check_name`,
//! `fingerprint`, `severity` and `location` with a path and a line.

use super::{Found, Identities, path, said};
use crate::cli::json;
use crate::lint::Severity;
use serde::Serialize;

#[derive(Serialize)]
struct Issue<'a> {
    description: String,
    check_name: &'static str,
    fingerprint: String,
    severity: &'static str,
    location: Location<'a>,
}

#[derive(Serialize)]
struct Location<'a> {
    path: &'a str,
    lines: Lines,
}

#[derive(Serialize)]
struct Lines {
    begin: usize,
    end: usize,
}

/// All findings.
pub fn list(found: &Found) -> String {
    let mut seen = Identities::default();
    let issues = found.reports.iter().map(|report| {
        let path = path(report.spot, found.places);
        let range = found.places.range(report.spot);
        let puzzle = report.puzzle.as_ref().map_or_else(String::new, |id| format!("{id}: "));
        Issue {
            description: puzzle + &said(report),
            check_name: report.finding.name,
            fingerprint: seen.mark(report, path),
            severity: match report.severity {
                Severity::Error => "major",
                Severity::Warning => "minor",
                Severity::Info => "info",
            },
            location: Location { path, lines: Lines { begin: range.start.line, end: range.end.line } },
        }
    });
    json::line(&issues.collect::<Vec<_>>())
}
