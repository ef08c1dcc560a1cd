//! A finding for programs: one JSON object a line.

use crate::book::Spot;
use crate::cli::json;
use crate::cli::place::{Places, Range};
use crate::lint::{Report, Severity};
use serde::Serialize;

/// A finding as `check` writes it.
#[derive(Serialize)]
struct FindingLine<'a> {
    file: &'a str,
    puzzle: Option<&'a str>,
    name: &'static str,
    severity: Severity,
    message: &'a str,
    range: Range,
    help: &'a str,
    related: Vec<RelatedPlace<'a>>,
    fixes: Vec<FixObject<'a>>,
}

#[derive(Serialize)]
struct RelatedPlace<'a> {
    file: &'a str,
    range: Range,
    message: &'a str,
}

#[derive(Serialize)]
struct FixObject<'a> {
    title: &'a str,
    safe: bool,
    edits: Vec<EditObject<'a>>,
}

#[derive(Serialize)]
struct EditObject<'a> {
    file: &'a str,
    range: Range,
    text: &'a str,
}

/// A finding, as one line.
pub fn finding<'a>(report: &'a Report, places: &'a Places) -> String {
    let file = |spot: &Spot| places.file(spot.section.book);
    let related = report.related.iter().map(|(spot, message)| RelatedPlace {
        file: file(spot),
        range: places.range(*spot),
        message,
    });
    let edit =
        |(spot, text): &'a (Spot, String)| EditObject { file: file(spot), range: places.range(*spot), text };
    let fixes = report.fixes.iter().map(|fix| FixObject {
        title: &fix.title,
        safe: fix.safe,
        edits: fix.edits.iter().map(edit).collect(),
    });
    json::line(&FindingLine {
        file: file(&report.spot),
        puzzle: report.puzzle.as_deref(),
        name: report.finding.name,
        severity: report.severity,
        message: &report.message,
        range: places.range(report.spot),
        help: &report.help,
        related: related.collect(),
        fixes: fixes.collect(),
    })
}
