//! A finding as a client has it. All of it but its lines is kept as it is written out: what is found in a text is told again
//! with each change of it, mostly further up or down and otherwise as before, and it may be thousands.

use super::convert::down;
use super::outbox::{Message, put};
use crate::book::Spot;
use crate::lint::{FINDINGS, Finding, Fix, Report, Severity};
use serde::Serialize;
use serde_json::json;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::LazyLock;
use tower_lsp::ls_types::{DiagnosticSeverity, Location, Range, Uri};

/// A finding as the protocol has it.
pub struct Shown {
    /// Which.
    pub finding: &'static Finding,
    /// Only the solution shows it.
    pub spoils: bool,
    /// Where. As in all ranges here without a file, its lines count from the beginning of its section.
    pub range: Range,
    /// What is the same for all of this finding, written out.
    constant: &'static str,
    /// What is wrong, and what to do, written out.
    pub message: Box<str>,
    /// Other places that belong to it, and what each is.
    related: Box<[(Place, Box<str>)]>,
    /// Changes that mend it.
    pub fixes: Box<[Mend]>,
    /// What tells what is written out of it from anything else.
    pub sign: u64,
}

/// A range of a file: of the same one, with lines counted from the beginning of the finding's section, or of another.
#[derive(Clone, PartialEq, Debug)]
pub struct Place {
    /// The file, where lines count from its beginning.
    pub file: Option<Box<Uri>>,
    /// Where in it.
    pub range: Range,
}

/// A change that mends a finding.
pub struct Mend {
    /// What it does.
    pub title: Box<str>,
    /// Whether it cannot change what the author meant.
    pub safe: bool,
    /// The new text of each place.
    pub edits: Box<[(Place, Box<str>)]>,
}

impl Place {
    /// The place as a file and a range of it, for a finding in a section of `uri` with so many lines before it.
    pub fn found(&self, uri: &Uri, lines: u32) -> Location {
        match &self.file {
            Some(file) => Location { uri: Uri::clone(file), range: self.range },
            None => Location { uri: uri.clone(), range: down(self.range, lines) },
        }
    }
}

/// What is said beside the place.
#[derive(Serialize)]
struct Related<'a> {
    location: Location,
    message: &'a str,
}

impl Shown {
    /// A finding, with its places as `place` has them.
    pub fn new(report: Report, place: impl Fn(Spot) -> Place) -> Shown {
        let of = |list: Vec<(Spot, String)>| -> Box<[(Place, Box<str>)]> {
            list.into_iter().map(|(spot, text)| (place(spot), text.into())).collect()
        };
        let mend = |fix: Fix<Spot>| Mend { title: fix.title.into(), safe: fix.safe, edits: of(fix.edits) };
        let mut shown = Shown {
            finding: report.finding,
            spoils: report.spoils,
            range: place(report.spot).range,
            constant: constant(report.finding),
            message: json!(format!("{}\n{}", report.message, report.help)).to_string().into(),
            related: of(report.related),
            fixes: report.fixes.into_iter().map(mend).collect(),
            sign: 0,
        };
        shown.sign = shown.sign();
        shown
    }

    fn sign(&self) -> u64 {
        let numbers = |range: Range| {
            let Range { start, end } = range;
            [start.line, start.character, end.line, end.character]
        };
        let mut sign = DefaultHasher::new();
        (self.finding.name, &self.message, numbers(self.range)).hash(&mut sign);
        for (place, message) in &self.related {
            (place.file.as_ref().map(|file| file.as_str()), numbers(place.range), message).hash(&mut sign);
        }
        sign.finish()
    }

    /// Whether who sees it sees the same.
    pub fn looks_like(&self, other: &Shown) -> bool {
        let of = |it: &Shown| (it.finding.name, it.range, it.spoils);
        of(self) == of(other) && self.message == other.message && self.related == other.related
    }

    /// What is wrong, in words.
    pub fn what(&self) -> String {
        let said: String = serde_json::from_str(&self.message).unwrap_or_default();
        said.split_once('\n').map_or(said.as_str(), |(what, _)| what).to_owned()
    }

    /// Writes it out, in a section of `uri` with so many lines before it.
    pub fn write(&self, uri: &Uri, lines: u32, to: &mut Vec<u8>) {
        let Range { start, end } = down(self.range, lines);
        put(to, r#"{"range":{"start":{"line":"#, &start.line);
        put(to, r#","character":"#, &start.character);
        put(to, r#"},"end":{"line":"#, &end.line);
        put(to, r#","character":"#, &end.character);
        to.extend_from_slice(b"}},");
        to.extend_from_slice(self.constant.as_bytes());
        to.extend_from_slice(b",\"message\":");
        to.extend_from_slice(self.message.as_bytes());
        if !self.related.is_empty() {
            let related = self.related.iter();
            let related =
                related.map(|(place, message)| Related { location: place.found(uri, lines), message });
            to.extend_from_slice(b",\"relatedInformation\":");
            related.collect::<Vec<_>>().write(to);
        }
        to.push(b'}');
    }
}

/// What is written out of each finding of this name, without its braces.
fn constant(finding: &Finding) -> &'static str {
    static ALL: LazyLock<BTreeMap<&str, String>> =
        LazyLock::new(|| FINDINGS.iter().map(|finding| (finding.name, written(finding))).collect());
    &ALL[finding.name]
}

fn written(finding: &Finding) -> String {
    let severity = match finding.severity {
        Severity::Error => DiagnosticSeverity::ERROR,
        Severity::Warning => DiagnosticSeverity::WARNING,
        Severity::Info => DiagnosticSeverity::INFORMATION,
    };
    let (severity, code, page) = (json!(severity), json!(finding.name), json!(page_of(finding.name)));
    format!(
        "\"severity\":{severity},\"code\":{code},\"codeDescription\":{{\"href\":{page}}},\"source\":\"{SOURCE}\""
    )
}

/// Who found it, as a diagnostic says.
const SOURCE: &str = "gridsetter";

/// Where the page of a finding can be read: the library's documentation of the version that runs.
fn page_of(finding: &str) -> String {
    let version = env!("CARGO_PKG_VERSION");
    format!("https://docs.rs/gridsetter/{version}/gridsetter/lint/{}/index.html", finding.replace('-', "_"))
}

#[cfg(test)]
mod tests {
    use super::super::convert::Encoding;
    use super::super::document::Document;
    use super::super::together::{Member, Together};
    use super::*;
    use std::str::FromStr;
    use std::sync::Arc;
    use tower_lsp::ls_types::{CodeDescription, Diagnostic, DiagnosticRelatedInformation, NumberOrString};

    /// A puzzle behind another one, and a wide character in what is said.
    const TEXT: &str = "# \"one\"\n\npuzzle b\nsize 4\ngivens\n  🂡 . . .\n\npuzzle a \"A \\\"quote\\\" 🂡\"\nsize 4\n\
        givens\n  1 . . 1\n  . . . .\n  . . . .\n  . . . .\n";

    /// What is kept written out is what the protocol's own types write of it.
    #[test]
    fn it_is_written_as_the_protocol_has_it() {
        let opened = |uri| {
            let uri = Uri::from_str(uri).unwrap();
            Document::open(uri, 0, TEXT.into(), Arc::default(), Encoding::Utf16, 0)
        };
        let documents = ["untitled:a%22b", "untitled:c"].map(opened);
        let members = documents.iter().map(|document| Member {
            uri: document.uri.clone(),
            closed: None,
            book: Arc::clone(&document.book),
            said: document.said(),
        });
        let members = members.collect();
        let found = Together { stamp: 0, encoding: Encoding::Utf16, members }.look();
        let beyond = found[1].shown.iter().map(|shown| (shown, 0));
        let all: Vec<(&Shown, u32)> = documents[1].shown(true).into_iter().chain(beyond).collect();
        let names: Vec<&str> = all.iter().map(|(shown, _)| shown.finding.name).collect();
        assert_eq!(names, ["row-unreadable", "givens-clash", "id-repeated", "id-repeated"]);
        assert!(all[0].0.message.contains('🂡') && all[1].1 > 0);
        assert!(all[2].0.related.iter().any(|(place, _)| place.file.is_some()), "it is in another file");
        for (shown, lines) in all {
            let mut written = Vec::new();
            shown.write(&documents[1].uri, lines, &mut written);
            let expected = of_the_protocol(shown, &documents[1].uri, lines);
            assert_eq!(String::from_utf8(written).unwrap(), serde_json::to_string(&expected).unwrap());
        }
    }

    fn of_the_protocol(shown: &Shown, uri: &Uri, lines: u32) -> Diagnostic {
        let related = shown.related.iter().map(|(place, message)| DiagnosticRelatedInformation {
            location: place.found(uri, lines),
            message: message.to_string(),
        });
        let related: Vec<_> = related.collect();
        Diagnostic {
            range: down(shown.range, lines),
            severity: Some(DiagnosticSeverity::ERROR),
            code: Some(NumberOrString::String(shown.finding.name.into())),
            code_description: Some(CodeDescription {
                href: Uri::from_str(&page_of(shown.finding.name)).unwrap(),
            }),
            source: Some("gridsetter".into()),
            message: serde_json::from_str(&shown.message).unwrap(),
            related_information: (!related.is_empty()).then_some(related),
            ..Diagnostic::default()
        }
    }
}
