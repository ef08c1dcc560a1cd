//! A walk, written into the text of its puzzle.

use super::{Change, below, put_below, without_comment};
use crate::book::{Puzzle, WalkSays, Walkthrough};
use crate::notation::{Keyword, Section, Span, Statement};
use crate::reason::Walk;

/// What a walk that was found is called, where the puzzle has a walkthrough of its author's.
const FOUND: &str = "found";

/// The lines of a walk, without indent: each step with its reason. `narrate` gives prose to stand before a step, by its
/// place in the walk.
pub fn walk_lines(walk: &Walk, narrate: impl Fn(usize) -> Option<String>) -> Vec<String> {
    let layout = walk.start.layout();
    let mut lines = Vec::new();
    for (at, step) in walk.steps.iter().enumerate() {
        lines.extend(narrate(at).map(|prose| format!("> {prose}")));
        let step = &step.deduction;
        let reason = step.reason(layout, |number| walk.claims(number).unwrap_or_default());
        lines.push(format!("{}  by {reason}", step.written(layout)));
    }
    lines
}

/// A walkthrough of its own that comes to a point after so many steps, with its name, ready to stand in its puzzle: the
/// block with its indent. It ends with `finish` where patterns are named by which the puzzle finishes from there.
pub fn walk_to_point(walk: &Walk, steps: usize, point: &str, finish: Option<&[&str]>) -> Vec<String> {
    let before = walk_lines(walk, |_| None).into_iter().take(steps);
    let named = [format!("point {point}")];
    let finish = finish.map(|names| format!("finish  by {}", names.join(", ")));
    let lines = before.chain(named).chain(finish).map(|line| format!("  {line}"));
    [format!("steps {point}")].into_iter().chain(lines).collect()
}

/// What a lesson says that teaches something from a point of a puzzle's walk.
pub fn lesson_lines(teaches: &str, id: &str, point: &str) -> Vec<String> {
    vec![format!("teaches    {teaches}"), format!("from       {id} at {point}")]
}

/// Adds lines at the end of a walkthrough, before its `finish`; each without indent.
pub fn add_lines(section: &Section, walk: &Walkthrough, lines: &[String]) -> Change {
    let statement = &section.statements[walk.statement];
    let indented: Vec<String> = lines.iter().map(|line| format!("  {line}")).collect();
    let finish = walk.lines.iter().find(|line| matches!(line.says, WalkSays::Finish(_)));
    let Some(finish) = finish else { return below(section, statement, &indented) };
    let there = &section.lines[finish.number];
    let start = there.span.start as usize;
    let ending = if there.ending.text().is_empty() { "\n" } else { there.ending.text() };
    let text = indented.into_iter().map(|line| line + ending).collect();
    Change { span: Span::new(start, start), text }
}

/// Writes lines as the rest of a walkthrough: at its end, or in place of its `finish`; each without indent.
pub fn finish_walk(section: &Section, walk: &Walkthrough, lines: &[String]) -> Change {
    let Some(finish) = walk.lines.iter().find(|line| matches!(line.says, WalkSays::Finish(_))) else {
        return add_lines(section, walk, lines);
    };
    let there = &section.lines[finish.number];
    let ending = if there.ending.text().is_empty() { "\n" } else { there.ending.text() };
    let indented: Vec<String> = lines.iter().map(|line| format!("  {line}")).collect();
    Change { span: without_comment(section, there), text: indented.join(ending) }
}

/// That a walk that was found before stands there already.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Standing;

/// Writes lines as the walkthrough of a puzzle: below its grids as `steps` if it has none, else behind the last one as
/// `steps found`, or where `replace` is set in place of the `steps found` that is there.
///
/// # Errors
/// If there is a `steps found`, and it is not to be replaced.
pub fn write_walk(
    section: &Section,
    puzzle: &Puzzle,
    lines: &[String],
    replace: bool,
) -> Result<Vec<Change>, Standing> {
    let indented: Vec<String> = lines.iter().map(|line| format!("  {line}")).collect();
    let is_found =
        |statement: &Statement| statement.values.first().is_some_and(|value| section.at(value.span) == FOUND);
    let mut walks = puzzle.blocks(section, Keyword::Steps);
    if let Some((_, found)) = walks.find(|(_, statement)| is_found(statement)) {
        if !replace {
            return Err(Standing);
        }
        let head = Statement { block: found.line..found.line + 1, ..found.clone() };
        let mut changes = vec![below(section, &head, &indented)];
        if let (Some(first), Some(last)) = (section.block(found).first(), section.block(found).last()) {
            let end = last.span.end as usize + last.ending.text().len();
            let span = Span::new(first.span.start as usize, end);
            let text = std::mem::take(&mut changes[0].text);
            changes[0] = Change { span, text };
        }
        return Ok(changes);
    }
    if let Some((_, last)) = puzzle.blocks(section, Keyword::Steps).last() {
        return Ok(vec![put_below(section, last, &format!("steps {FOUND}"), &indented)]);
    }
    let grids = [Keyword::Givens, Keyword::Position, Keyword::Solution, Keyword::Work, Keyword::Known];
    let last = grids.into_iter().filter_map(|keyword| puzzle.blocks(section, keyword).last());
    let last = last.max_by_key(|(at, _)| *at);
    Ok(last.map(|(_, statement)| put_below(section, statement, "steps", &indented)).into_iter().collect())
}
