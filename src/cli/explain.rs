//! `gridsetter explain`: the page of a finding, or the list of them.

use super::terminal::{Closed, Terminal};
use super::words::finding_named;
use crate::lint::{FINDINGS, Group, Severity};
use clap::Args;
use std::fmt::Write as _;

const EXAMPLES: &str = "\
Examples:
  gridsetter explain              every finding, in one line each
  gridsetter explain row-length   what it is, why it matters, an example, the same mended";

/// Tell what a finding means; without a name, list them
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// A finding, as it is named in the output of `check`
    #[arg(value_name = "NAME")]
    name: Option<String>,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, terminal: &mut Terminal) -> Result<(), Closed> {
    match arguments.name.as_deref().map(finding_named) {
        None => terminal.print(&list()),
        Some(Ok(finding)) => terminal.print(&format!("# {}\n\n{}", finding.name, finding.page())),
        Some(Err(trouble)) => {
            terminal.trouble(&trouble);
            Ok(())
        }
    }
}

/// Every finding: by group, and within it the gravest first.
fn list() -> String {
    let mut findings = FINDINGS.to_vec();
    findings.sort_by_key(|finding| (finding.group, std::cmp::Reverse(finding.severity)));
    let width = findings.iter().map(|finding| finding.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for group in findings.chunk_by(|one, next| one.group == next.group) {
        if !text.is_empty() {
            text.push('\n');
        }
        let _ = writeln!(text, "{}", title(group[0].group));
        for finding in group {
            let severity = match finding.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                Severity::Info => "info",
            };
            let _ = writeln!(text, "  {:width$}  {severity:7}  {}", finding.name, finding.summary());
        }
    }
    text
}

fn title(group: Group) -> &'static str {
    match group {
        Group::Lines => "Lines",
        Group::Items => "Items",
        Group::Grids => "Grids",
        Group::Puzzles => "Puzzles",
        Group::Sheets => "Sheets",
        Group::Walks => "Walks",
        Group::Books => "Books",
    }
}
