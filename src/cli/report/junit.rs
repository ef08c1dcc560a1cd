//! Findings for what collects test results: `JUnit` XML. A suite a file; a test for each finding, and one that passes for
//! each puzzle of which nothing was found. What is nothing to act on passes, and stands in the test's output.

use super::{Document, Told, said};
use crate::cli::visible;
use crate::draw::escaped;
use std::fmt::Write;
use std::mem::take;

/// A suite says first how many tests it has, so it is gathered: no more than this, and a long file has several.
const MOST_IN_SUITE: usize = 10_000;

/// All files with their tests.
#[derive(Default)]
pub struct Suites {
    /// The file that is looked at; `None` before the first.
    name: Option<String>,
    /// Whether there is a suite of it already.
    begun: bool,
    /// The tests of the next suite.
    cases: String,
    tests: usize,
    failures: usize,
}

impl Suites {
    /// The suite that was gathered; nothing, where there is another of its file and nothing was.
    fn suite(&mut self) -> String {
        let (cases, tests, failures) =
            (take(&mut self.cases), take(&mut self.tests), take(&mut self.failures));
        let Some(name) = self.name.as_ref().filter(|_| tests > 0 || !self.begun) else { return cases };
        self.begun = true;
        let name = attribute(name);
        let counts = format!("tests=\"{tests}\" failures=\"{failures}\" errors=\"0\"");
        format!("  <testsuite name=\"{name}\" {counts}>\n{cases}  </testsuite>\n")
    }

    /// A further test was gathered; the suite, if it is full.
    fn gathered(&mut self) -> String {
        self.tests += 1;
        if self.tests < MOST_IN_SUITE { String::new() } else { self.suite() }
    }
}

impl Document for Suites {
    fn begin(&mut self) -> String {
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"gridsetter\">\n".to_owned()
    }

    fn file(&mut self, name: &str) -> String {
        let before = self.suite();
        (self.name, self.begun) = (Some(name.to_owned()), false);
        before
    }

    fn finding(&mut self, told: &Told) -> String {
        self.cases += &case(told);
        self.failures += usize::from(told.fails);
        self.gathered()
    }

    fn passes(&mut self, id: &str) -> String {
        let id = attribute(id);
        let _ = writeln!(self.cases, "    <testcase name=\"{id}\" classname=\"{id}\"/>");
        self.gathered()
    }

    fn end(&mut self) -> String {
        self.suite() + "</testsuites>\n"
    }
}

fn case(told: &Told) -> String {
    let Told { report, places, fails } = *told;
    let file = places.file(report.spot.section.book);
    let place = places.range(report.spot).start;
    let class = attribute(report.puzzle.as_deref().unwrap_or(file));
    let (name, severity) = (report.finding.name, report.severity);
    let whole = format!("{file}:{}:{}: {severity}: {}", place.line, place.column, said(report));
    let whole = escaped(&visible::line(&whole));
    let outcome = if fails {
        let message = attribute(&report.message);
        format!("<failure type=\"{name}\" message=\"{message}\">{whole}</failure>")
    } else {
        format!("<system-out>{whole}</system-out>")
    };
    format!(
        "    <testcase name=\"{name} at line {}\" classname=\"{class}\">\n      {outcome}\n    </testcase>\n",
        place.line
    )
}

fn attribute(text: &str) -> String {
    escaped(&visible::line(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_file_has_several_suites_and_each_has_its_tests() {
        let mut suites = Suites::default();
        let mut text = suites.begin() + &suites.file("a.txt");
        for number in 0..2 * MOST_IN_SUITE {
            text += &suites.passes(&number.to_string());
            assert!(suites.cases.len() < 100 * MOST_IN_SUITE, "no more than a suite is kept");
        }
        text += &(suites.file("b.txt") + &suites.passes("b") + &suites.end());
        let document = roxmltree::Document::parse(&text).unwrap();
        let told = document.descendants().filter(|node| node.has_tag_name("testsuite")).map(|suite| {
            let tests = suite.children().filter(|node| node.has_tag_name("testcase")).count();
            assert_eq!(suite.attribute("tests"), Some(tests.to_string().as_str()));
            (suite.attribute("name").unwrap(), tests)
        });
        assert_eq!(
            told.collect::<Vec<_>>(),
            [("a.txt", MOST_IN_SUITE), ("a.txt", MOST_IN_SUITE), ("b.txt", 1)]
        );
    }
}
