//! `gridsetter explain`: the page of a finding, of a pattern or of a way of seeing, or the list of them.

use super::project::Projects;
use super::terminal::{Closed, Terminal, Trouble};
use super::words::proposal;
use crate::ladder::{self, Ladder, NAMES, NameKind, PatternName};
use crate::lint::{FINDINGS, Finding, Group, Severity};
use clap::Args;
use std::fmt::Write as _;
use std::path::Path;

const EXAMPLES: &str = "\
Examples:
  gridsetter explain              every finding, pattern and way of seeing, in one line each
  gridsetter explain row-length   what it is, why it matters, an example, the same mended
  gridsetter explain naked pair   what it is, an example, how to look for it, its source
  gridsetter explain levels       what each level asks of a reader, by the ladder of this folder";

/// The page about the levels, as it is asked for.
const LEVELS: [&str; 2] = ["levels", "level"];

/// Tell what a finding or a pattern means; without a name, list them
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// A finding, as it is named in the output of `check`, a pattern of reasoning, a way of seeing, or `levels`
    #[arg(value_name = "NAME")]
    name: Vec<String>,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, projects: &mut Projects, terminal: &mut Terminal) -> Result<(), Closed> {
    if arguments.name.is_empty() {
        return terminal.print(&list());
    }
    let name = arguments.name.join(" ");
    let told = if LEVELS.contains(&name.as_str()) { levels(projects) } else { page(&name) };
    match told {
        Ok(page) => terminal.print(&page),
        Err(trouble) => {
            terminal.trouble(&trouble);
            Ok(())
        }
    }
}

/// The page about the levels of the ladder that holds in the folder where one stands.
fn levels(projects: &mut Projects) -> Result<String, Trouble> {
    let project = projects.of_folder(Path::new(""))?;
    let page = project.map_or_else(|| Ladder::default().page(), |project| project.settings.ladder.page());
    Ok(format!("# Levels\n\n{page}"))
}

/// The page of this name, under the name that is written.
fn page(name: &str) -> Result<String, Trouble> {
    if let Some(finding) = Finding::named(name) {
        return Ok(format!("# {}\n\n{}", finding.name, finding.page()));
    }
    let Some(row) = ladder::named(name) else {
        let near = Finding::near(name).into_iter().chain(ladder::nearest(name));
        let near: Vec<&str> = near.collect();
        return Err(Trouble::new(name, "nothing has this name", proposal(&near)));
    };
    Ok(format!("# {}\n\n{}", row.name, row.page))
}

/// Every finding, by group and within it the gravest first; every pattern with its level; every way of seeing.
fn list() -> String {
    let mut findings = FINDINGS.to_vec();
    findings.sort_by_key(|finding| (finding.group, std::cmp::Reverse(finding.severity)));
    let groups = findings.chunk_by(|one, next| one.group == next.group);
    let mut parts: Vec<(&str, Vec<Line>)> = groups
        .map(|group| (title(group[0].group), group.iter().map(|one| finding_line(one)).collect()))
        .collect();
    let (seeing, patterns): (Vec<&PatternName>, _) =
        NAMES.iter().partition(|row| row.kind == NameKind::Seeing);
    let ladder = Ladder::default();
    let pattern_lines =
        |rows: Vec<&'static PatternName>| rows.into_iter().map(|row| pattern_line(row, &ladder));
    parts.push(("Patterns, with their levels on the default ladder", pattern_lines(patterns).collect()));
    parts.push(("Ways of seeing", pattern_lines(seeing).collect()));

    let width = parts.iter().flat_map(|(_, lines)| lines).map(|line| line.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for (title, lines) in &parts {
        let gap = if text.is_empty() { "" } else { "\n" };
        let _ = writeln!(text, "{gap}{title}");
        for Line { name, mark, summary } in lines {
            let _ = writeln!(text, "  {name:width$}  {mark:7}  {summary}");
        }
    }
    text
}

/// A line of the list.
struct Line {
    name: &'static str,
    /// How grave a finding is, or on which level a pattern stands.
    mark: String,
    summary: &'static str,
}

fn finding_line(finding: &Finding) -> Line {
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Info => "info",
    };
    Line { name: finding.name, mark: severity.to_owned(), summary: finding.summary() }
}

fn pattern_line(row: &PatternName, ladder: &Ladder) -> Line {
    let mark = ladder.level(row.name).map_or_else(String::new, |level| format!("level {level}"));
    Line { name: row.name, mark, summary: row.summary() }
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
