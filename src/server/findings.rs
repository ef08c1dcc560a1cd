//! Findings as they go over the wire: told to a client that is told of them, or given to one that asks. Nothing is copied for
//! that, for there may be thousands.

use super::convert::{Shown, down};
use crate::lint::Severity;
use serde::Serialize;
use serde::ser::Serializer;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hasher as _};
use std::io::{self, Write};
use tower_lsp::ls_types::{DiagnosticSeverity, Range, Uri};

/// Findings of a text, each with the lines that stand before its section.
pub type List<'a> = Vec<(&'a Shown, u32)>;

/// The notification that tells what was found in a text.
#[derive(Serialize)]
pub struct Publication<'a> {
    jsonrpc: &'static str,
    method: &'static str,
    params: Findings<'a>,
}

#[derive(Serialize)]
struct Findings<'a> {
    uri: &'a Uri,
    version: i32,
    diagnostics: Items<'a>,
}

impl<'a> Publication<'a> {
    /// What was found in a version of a text: each finding with the lines that stand before its section.
    pub fn new(uri: &'a Uri, version: i32, findings: List<'a>) -> Publication<'a> {
        Publication {
            jsonrpc: "2.0",
            method: "textDocument/publishDiagnostics",
            params: Findings { uri, version, diagnostics: Items(uri, findings) },
        }
    }
}

/// What a client that asks for the findings of a text is given.
#[derive(Serialize)]
pub struct Report<'a> {
    /// What is so in other texts by now, for a client that takes that.
    #[serde(rename = "relatedDocuments", skip_serializing_if = "Option::is_none")]
    pub related: Option<BTreeMap<&'a Uri, Kind<'a>>>,
    /// What is so in the text.
    #[serde(flatten)]
    pub kind: Kind<'a>,
}

/// What is so in a text.
#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "lowercase", rename_all_fields = "camelCase")]
pub enum Kind<'a> {
    /// These are its findings.
    Full {
        /// What tells them from others.
        #[serde(skip_serializing_if = "Option::is_none")]
        result_id: Option<String>,
        /// The findings.
        items: Items<'a>,
    },
    /// The client has its findings.
    Unchanged {
        /// What told them from others.
        result_id: String,
    },
}

/// What a client that asks for all findings is given of a text or file.
#[derive(Serialize)]
pub struct OfFile<'a> {
    /// Which.
    pub uri: &'a Uri,
    /// Its version, if it is open.
    pub version: Option<i32>,
    /// What is so in it.
    #[serde(flatten)]
    pub kind: Kind<'a>,
}

/// Findings of a text, as they are written out.
pub struct Items<'a>(pub &'a Uri, pub List<'a>);

/// What tells these findings from others: nothing but 0 if there are none.
pub fn mark(items: &Items) -> u64 {
    struct Into(DefaultHasher);
    impl Write for Into {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.write(bytes);
            Ok(bytes.len())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }
    if items.1.is_empty() {
        return 0;
    }
    let mut into = Into(DefaultHasher::new());
    // Writing there cannot fail.
    let _ = serde_json::to_writer(&mut into, items);
    into.0.finish().max(1)
}

/// A finding as it is written out.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Wire<'a> {
    range: Range,
    severity: DiagnosticSeverity,
    code: &'static str,
    code_description: Link,
    source: &'static str,
    message: &'a str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_information: Vec<Related<'a>>,
}

#[derive(Serialize)]
struct Link {
    href: String,
}

#[derive(Serialize)]
struct Related<'a> {
    location: Location<'a>,
    message: &'a str,
}

#[derive(Serialize)]
struct Location<'a> {
    uri: &'a Uri,
    range: Range,
}

impl Serialize for Items<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let wire = self.1.iter().map(|&(shown, lines)| {
            let related = shown.related.iter().map(|(place, message)| Related {
                location: match &place.file {
                    Some(uri) => Location { uri, range: place.range },
                    None => Location { uri: self.0, range: down(place.range, lines) },
                },
                message,
            });
            Wire {
                range: down(shown.range, lines),
                severity: severity(shown.report.severity),
                code: shown.report.finding.name,
                code_description: Link { href: page_of(shown.report.finding.name) },
                source: SOURCE,
                message: &shown.message,
                related_information: related.collect(),
            }
        });
        serializer.collect_seq(wire)
    }
}

/// Who found it, as a diagnostic says.
const SOURCE: &str = "gridsetter";

/// Where the page of a finding can be read: the library's documentation of the version that runs.
fn page_of(finding: &str) -> String {
    let version = env!("CARGO_PKG_VERSION");
    format!("https://docs.rs/gridsetter/{version}/gridsetter/lint/{}/index.html", finding.replace('-', "_"))
}

fn severity(severity: Severity) -> DiagnosticSeverity {
    match severity {
        Severity::Error => DiagnosticSeverity::ERROR,
        Severity::Warning => DiagnosticSeverity::WARNING,
        Severity::Info => DiagnosticSeverity::INFORMATION,
    }
}
