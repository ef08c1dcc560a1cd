//! Findings for code scanning: a log of SARIF 2.1.0 (OASIS Standard, 2020), one run.

use super::{Comma, Document, Marks, Told, path, said};
use crate::book::Spot;
use crate::cli::json;
use crate::cli::place::{Places, Range};
use crate::lint::{Finding, Fix, Report, Severity};
use serde::Serialize;

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
struct Driver {
    name: &'static str,
    version: &'static str,
    rules: Vec<Rule>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: &'static str,
    short_description: Text,
    help: Help,
    default_configuration: Configuration,
}

#[derive(Serialize)]
struct Help {
    text: String,
    markdown: String,
}

#[derive(Serialize)]
struct Configuration {
    level: Level,
}

#[derive(Serialize)]
struct Text {
    text: String,
}

/// A severity, as the standard calls it.
#[derive(Serialize, Clone, Copy)]
#[serde(rename_all = "lowercase")]
enum Level {
    Error,
    Warning,
    Note,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct SarifResult<'a> {
    rule_id: &'static str,
    rule_index: usize,
    level: Level,
    message: Text,
    locations: [Place<'a>; 1],
    related_locations: Vec<Place<'a>>,
    partial_fingerprints: Fingerprints,
    fixes: Vec<SarifFix<'a>>,
}

#[derive(Serialize)]
struct Fingerprints {
    #[serde(rename = "wordsInPuzzle/v1")]
    words_in_puzzle: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Place<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<usize>,
    physical_location: Physical,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    logical_locations: Vec<Logical<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    region: Region,
}

#[derive(Serialize)]
struct Logical<'a> {
    name: &'a str,
    kind: &'static str,
}

#[derive(Serialize)]
struct Artifact {
    uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct SarifFix<'a> {
    description: Text,
    artifact_changes: Vec<Change<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Change<'a> {
    artifact_location: Artifact,
    replacements: Vec<Replacement<'a>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement<'a> {
    deleted_region: Region,
    inserted_content: Inserted<'a>,
}

#[derive(Serialize)]
struct Inserted<'a> {
    text: &'a str,
}

/// What stands before the first finding of the only run.
const BEGIN: &str = "{\"$schema\":\"https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json\",\
    \"version\":\"2.1.0\",\"runs\":[{\"columnKind\":\"unicodeCodePoints\",\"results\":[";

/// All findings, and behind them the rules that they are of.
#[derive(Default)]
pub struct Log {
    rules: Vec<&'static Finding>,
    marks: Marks,
    comma: Comma,
}

impl Document for Log {
    fn begin(&mut self) -> String {
        BEGIN.to_owned()
    }

    fn finding(&mut self, told: &Told) -> String {
        let finding = told.report.finding;
        let known = self.rules.iter().position(|rule| rule.name == finding.name);
        let rule_index = known.unwrap_or_else(|| {
            self.rules.push(finding);
            self.rules.len() - 1
        });
        let mark = self.marks.next(told.report, path(told.report.spot, told.places));
        let result = result(told.report, rule_index, told.places, mark);
        format!("{}{}", self.comma.next(), json::value(&result))
    }

    fn end(&mut self) -> String {
        let driver = Driver {
            name: "gridsetter",
            version: env!("CARGO_PKG_VERSION"),
            rules: self.rules.iter().map(|finding| rule(finding)).collect(),
        };
        format!("],\"tool\":{}}}]}}\n", json::value(&Tool { driver }))
    }
}

fn rule(finding: &'static Finding) -> Rule {
    Rule {
        id: finding.name,
        short_description: Text { text: finding.summary().to_owned() },
        help: Help { text: finding.page(), markdown: finding.page() },
        default_configuration: Configuration { level: finding.severity.into() },
    }
}

fn result<'a>(report: &'a Report, rule_index: usize, places: &'a Places, mark: String) -> SarifResult<'a> {
    let related = report.related.iter().enumerate().map(|(at, (spot, what))| Place {
        id: Some(at),
        physical_location: physical(*spot, places),
        logical_locations: Vec::new(),
        message: Some(Text { text: what.clone() }),
    });
    let puzzle = report.puzzle.iter().map(|id| Logical { name: id, kind: "puzzle" });
    SarifResult {
        rule_id: report.finding.name,
        rule_index,
        level: report.severity.into(),
        message: Text { text: said(report) },
        locations: [Place {
            id: None,
            physical_location: physical(report.spot, places),
            logical_locations: puzzle.collect(),
            message: None,
        }],
        related_locations: related.collect(),
        partial_fingerprints: Fingerprints { words_in_puzzle: mark },
        fixes: report.fixes.iter().map(|one| fix(one, places)).collect(),
    }
}

fn physical(spot: Spot, places: &Places) -> Physical {
    Physical { artifact_location: artifact(spot, places), region: region(places.range(spot)) }
}

fn region(range: Range) -> Region {
    Region {
        start_line: range.start.line,
        start_column: range.start.column,
        end_line: range.end.line,
        end_column: range.end.column,
    }
}

fn fix<'a>(fix: &'a Fix<Spot>, places: &Places) -> SarifFix<'a> {
    let how = if fix.safe { "" } else { " (a guess)" };
    let replacement = |(spot, text): &'a (Spot, String)| Replacement {
        deleted_region: region(places.range(*spot)),
        inserted_content: Inserted { text },
    };
    // One change a file.
    let files = fix.edits.chunk_by(|(one, _), (next, _)| one.section.book == next.section.book);
    let change = |edits: &'a [(Spot, String)]| Change {
        artifact_location: artifact(edits[0].0, places),
        replacements: edits.iter().map(replacement).collect(),
    };
    SarifFix {
        description: Text { text: format!("{}{how}", fix.title) },
        artifact_changes: files.map(change).collect(),
    }
}

fn artifact(spot: Spot, places: &Places) -> Artifact {
    Artifact { uri: uri(path(spot, places)) }
}

/// A path as a reference of RFC 3986: what is not plain is written as bytes.
fn uri(path: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte);
    let start = if path.starts_with('/') { "file://" } else { "" };
    path.bytes().fold(start.to_owned(), |uri, byte| {
        if plain(byte) {
            uri + char::from(byte).encode_utf8(&mut [0; 4])
        } else {
            format!("{uri}%{byte:02X}")
        }
    })
}

impl From<Severity> for Level {
    fn from(severity: Severity) -> Level {
        match severity {
            Severity::Error => Level::Error,
            Severity::Warning => Level::Warning,
            Severity::Info => Level::Note,
        }
    }
}
