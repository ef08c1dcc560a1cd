//! Findings for the code quality report of GitLab: one JSON array.
//!
//! The form is that of "Code Quality report format" in GitLab's documentation: `description`, `check_name`,
//! `fingerprint`, `severity` and `location` with a path and a line.

use super::{Comma, Document, Marks, Told, path, said};
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
#[derive(Default)]
pub struct List {
    marks: Marks,
    comma: Comma,
}

impl Document for List {
    fn begin(&mut self) -> String {
        "[".to_owned()
    }

    fn finding(&mut self, told: &Told) -> String {
        let Told { report, places, .. } = *told;
        let path = path(report.spot, places);
        let range = places.range(report.spot);
        let puzzle = report.puzzle.as_ref().map_or_else(String::new, |id| format!("{id}: "));
        let issue = Issue {
            description: puzzle + &said(report),
            check_name: report.finding.name,
            fingerprint: self.marks.next(report, path),
            severity: match report.severity {
                Severity::Error => "major",
                Severity::Warning => "minor",
                Severity::Info => "info",
            },
            location: Location { path, lines: Lines { begin: range.start.line, end: range.end.line } },
        };
        format!("{}{}", self.comma.next(), json::value(&issue))
    }

    fn end(&mut self) -> String {
        "]\n".to_owned()
    }
}
