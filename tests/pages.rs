//! The pages of patterns and of ways of seeing: the step that each shows is the one that its example gives.

#[path = "findings/markdown.rs"]
mod markdown;

use gridsetter::board::{Layout, Size};
use gridsetter::book::{Book, Workspace};
use gridsetter::format::format;
use gridsetter::ladder::{Ladder, NAMES, NameKind, PatternName};
use gridsetter::lint;
use gridsetter::reason::{Focus, Reasoner, Scanner};
use gridsetter::step::{Deduction, Position, Seen};
use gridsetter::study::{Start, Work};
use gridsetter::words::{self, Depth, Voice};
use markdown::{fences, part};

/// As many steps of a reader who scans are looked through for the one that a page shows.
const NEAR: usize = 4;

/// A step as a page shows it: its claims in a line, and what is said of it.
type Told = (String, String);

fn told(before: &Position, step: &Deduction, earlier: &[Deduction]) -> Told {
    let said = words::tell(&Voice::default(), Depth::Why, before, step, earlier);
    (step.written(before.layout()), said)
}

/// The steps that a page shows: paragraphs of a fence, each with the claims in its first line.
fn shown(fence: &str) -> Vec<Told> {
    let paragraphs =
        fence.trim().split("\n\n").map(|paragraph| paragraph.split_once('\n').unwrap_or((paragraph, "")));
    paragraphs.map(|(claims, said)| (claims.to_owned(), said.replace('\n', " "))).collect()
}

/// Steps, as a page would show them.
fn page_of(steps: &[Told]) -> String {
    steps.iter().map(|(claims, said)| format!("{claims}\n{said}")).collect::<Vec<String>>().join("\n\n")
}

/// The one fence of this kind in a part of a page.
fn fence(page: &str, heading: &str, kind: &str) -> Result<String, String> {
    let part = part(page, heading).ok_or_else(|| format!("no `## {heading}`"))?;
    match fences(part).as_slice() {
        [(info, text)] if *info == kind => Ok(text.clone()),
        _ => Err(format!("`## {heading}` is not one `{kind}` fence")),
    }
}

/// What is known from the sheet of an example; the example itself must have no finding and stand as `fmt` writes it.
fn position(name: &str, example: &str) -> Result<Position, String> {
    let book = Book::read(name, example);
    let written = format(&book);
    if written != example {
        return Err(format!("formatting makes of the example\n\n{written}"));
    }
    let workspace = Workspace::new(vec![book]);
    let found: Vec<String> = lint::check(&workspace).into_iter().map(|report| report.message).collect();
    if !found.is_empty() {
        return Err(format!("in the example is found: {}", found.join("; ")));
    }
    let (_, _, puzzle) = workspace.puzzles().next().ok_or("the example has no puzzle")?;
    let start = Start::of(puzzle).map_err(|why| why.to_string())?;
    let sheet = puzzle.sheets.first().ok_or("the example has no `work`")?;
    match start.work(sheet) {
        Work::Sound { marked } => Ok(marked),
        Work::Mistaken(cells) => Err(format!("the sheet is wrong in {cells:?}")),
    }
}

/// The step that comes next with marks: by this pattern, so that no cheaper one gives any.
fn with_marks(name: &str, position: &Position) -> Result<Vec<Told>, String> {
    let step = Reasoner::new(position.layout(), &Ladder::default())
        .next(position, None)
        .ok_or("no step is found")?;
    if step.pattern.name() != name {
        return Err(format!("{} comes first: {}", step.pattern.name(), step.written(position.layout())));
    }
    Ok(vec![told(position, &step, &[])])
}

/// The steps by scanning, up to the first that is seen in this way.
fn by_scanning(seen: Seen, position: &Position) -> Result<Vec<Told>, String> {
    let mut scanner = Scanner::new(position.layout(), position.grid());
    let mut steps: Vec<Deduction> = Vec::new();
    let mut all = Vec::new();
    while all.len() < NEAR {
        let before = scanner.known().clone();
        let focus = steps.last().and_then(Focus::of);
        let step = scanner.next(focus.as_ref()).ok_or("scanning is stuck")?.step;
        all.push(told(&before, &step, &steps));
        if step.seen == Some(seen) {
            return Ok(all);
        }
        steps.push(step);
    }
    Err(format!("other steps come first:\n{}", page_of(&all)))
}

fn holds(row: &PatternName, page: &str) -> Result<(), String> {
    let summary = row.summary();
    if !(summary.ends_with('.') && summary.matches(". ").count() == 0) {
        return Err(format!("its first line is not one sentence: {summary}"));
    }
    for heading in ["What it is", "How to look for it", "Source"] {
        let text = part(page, heading).unwrap_or_default();
        if text.trim().is_empty() {
            return Err(format!("`## {heading}` says nothing"));
        }
    }
    if row.kind == NameKind::Group {
        return Ok(());
    }
    let position = position(row.name, &fence(page, "Example", "gset")?)?;
    let steps = match Seen::ALL.into_iter().find(|seen| seen.name() == row.name) {
        Some(seen) => by_scanning(seen, &position)?,
        None => with_marks(row.name, &position)?,
    };
    if shown(&fence(page, "Step", "text")?) != steps {
        return Err(format!("the example gives\n\n{}", page_of(&steps)));
    }
    Ok(())
}

#[test]
fn every_example_gives_the_step_that_its_page_shows() {
    let pages = NAMES.iter().map(|row| (row, row.page));
    let failures: Vec<String> =
        pages.filter_map(|(row, page)| Some(format!("{}: {}", row.name, holds(row, page).err()?))).collect();
    assert!(failures.is_empty(), "{} pages do not hold\n\n{}", failures.len(), failures.join("\n\n"));
}

#[test]
fn what_has_a_page_is_found() {
    // On a large layout sets of every size are looked for.
    let layout = Layout::classic(Size::new(12).expect("it is a size")).expect("it has usual boxes");
    let reasoner = Reasoner::new(&layout, &Ladder::default());
    for row in NAMES {
        let is_found = match row.kind {
            NameKind::Pattern => reasoner.patterns().iter().any(|pattern| pattern.name() == row.name),
            NameKind::Group => true,
            NameKind::Seeing => Seen::ALL.iter().any(|seen| seen.name() == row.name),
        };
        assert!(is_found, "{}", row.name);
    }
}

#[test]
fn a_group_names_its_patterns() {
    for row in NAMES.iter().filter(|row| row.kind == NameKind::Group) {
        for member in
            NAMES.iter().filter(|member| member.kind == NameKind::Pattern && member.name.ends_with(row.name))
        {
            assert!(row.page.contains(member.name), "{} in {}", member.name, row.name);
        }
    }
}
