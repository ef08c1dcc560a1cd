//! Findings for what collects test results: `JUnit` XML. A suite a file; a test for each finding, and one that passes for
//! each puzzle of which nothing was found. What is nothing to act on passes, and stands in the test's output.

use super::{Found, Judged, said};
use crate::cli::visible;
use crate::draw::escaped;
use crate::lint::Report;
use std::collections::HashSet;
use std::fmt::{self, Write};

/// All files with their tests.
pub fn suites(found: &Found) -> String {
    let mut text =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"gridsetter\">\n".to_owned();
    for file in &found.files {
        suite(&mut text, found, file).expect("a String takes all that is written to it");
    }
    text + "</testsuites>\n"
}

fn suite(text: &mut String, found: &Found, file: &Judged) -> fmt::Result {
    let name = attribute(found.places.file(file.book));
    let reports: Vec<&Report> =
        found.reports.iter().filter(|report| report.spot.section.book == file.book).collect();
    let hit: HashSet<&str> = reports.iter().filter_map(|report| report.puzzle.as_deref()).collect();
    let clean: Vec<&str> = file.ids.iter().copied().filter(|id| !hit.contains(id)).collect();
    let failures = reports.iter().filter(|report| (found.fails)(report)).count();
    let tests = reports.len() + clean.len();
    writeln!(text, "  <testsuite name=\"{name}\" tests=\"{tests}\" failures=\"{failures}\" errors=\"0\">")?;
    for report in reports {
        case(text, found, report)?;
    }
    for id in clean {
        let id = attribute(id);
        writeln!(text, "    <testcase name=\"{id}\" classname=\"{id}\"/>")?;
    }
    text.write_str("  </testsuite>\n")
}

fn case(text: &mut String, found: &Found, report: &Report) -> fmt::Result {
    let file = found.places.file(report.spot.section.book);
    let place = found.places.range(report.spot).start;
    let class = attribute(report.puzzle.as_deref().unwrap_or(file));
    let (name, severity) = (report.finding.name, report.severity);
    writeln!(text, "    <testcase name=\"{name} at line {}\" classname=\"{class}\">", place.line)?;
    let whole = format!("{file}:{}:{}: {severity}: {}", place.line, place.column, said(report));
    let whole = escaped(&visible::line(&whole));
    if (found.fails)(report) {
        let message = attribute(&report.message);
        writeln!(text, "      <failure type=\"{name}\" message=\"{message}\">{whole}</failure>")?;
    } else {
        writeln!(text, "      <system-out>{whole}</system-out>")?;
    }
    text.write_str("    </testcase>\n")
}

fn attribute(text: &str) -> String {
    escaped(&visible::line(text))
}
