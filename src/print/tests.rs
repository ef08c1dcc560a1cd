//! Pages and diagrams as plain text.

use super::{Moment, Page, Press, Subject, text};
use crate::board::{Cell, DigitSet};
use crate::book::{Book, Workspace};
use crate::draw::Look;
use crate::ladder::Ladder;
use crate::notation::{Show, StepLine};
use crate::reason::{Reasoner, Walk};
use crate::step::{Claim, Deduction, Position};
use crate::words::{Language, Naming, Voice};

fn workspace(text: &str) -> Workspace {
    Workspace::new(vec![Book::read("it.gset", text)])
}

/// The last puzzle or lesson.
fn subject<'a>(workspace: &'a Workspace, voice: Voice<'a>) -> Subject<'a> {
    let (id, at, puzzle) = workspace.puzzles().last().unwrap();
    Subject::of(workspace, id, &workspace.section(id).items[at], puzzle, voice)
}

fn printed(source: &str, voice: Voice<'static>) -> String {
    let workspace = workspace(source);
    text(&subject(&workspace, voice).page().unwrap(), &press(voice, false))
}

fn press(voice: Voice<'static>, words: bool) -> Press {
    Press { voice, look: Look::default(), width: "90mm".parse().unwrap(), words }
}

const GIVENS: &str = "givens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

#[test]
fn references_are_printed_in_the_way_of_naming() {
    let source = format!(
        "puzzle a-1\nnumber 7\n{GIVENS}puzzle a-2\n{GIVENS}note\n  {{row 1 misses 23}}. So {{r1c2 r1c3 = 23}},\n  \
         {{r2c1, r2c2 not 1}}, {{3 of box 1 in row 2 r1c2}};\n  {{row 2 col 1}}, {{r3c2 open}}, {{a-1}}, {{a-1 at b}}, \
         {{x-wing}}, {{{{.\n\n  {{r1c2}} first.\n"
    );
    let words = |naming| Voice { naming, ..Voice::default() };
    let notes = |voice| printed(&source, voice).split("\n\n").skip(2).collect::<Vec<_>>().join("\n\n");
    insta::assert_snapshot!(notes(words(Naming::Short)), @"
    Row 1 misses 23. So r1c2 and r1c3 = 23, r2c1 and r2c2 not 1, 3 of box 1 in row
    2 and r1c2; row 2 and column 1, r3c2 open, No. 7, No. 7, x-wing, {.

    r1c2 first.
    ");
    insta::assert_snapshot!(notes(words(Naming::Words)), @"
    Row 1 misses 23. So row 1, columns 2 and 3 = 23, row 2, columns 1 and 2 not 1,
    3 of box 1 in row 2 and row 1, column 2; row 2 and column 1, row 3, column 2
    open, No. 7, No. 7, x-wing, {.

    Row 1, column 2 first.
    ");
    insta::assert_snapshot!(notes(Voice { language: Language::German, ..words(Naming::Letters) }), @"
    Zeile A ohne 23. So A2 und A3 = 23, B1 und B2 nicht 1, 3 von Block 1 in Zeile
    B und A2; Zeile B und Spalte 1, C2 offen, Nr. 7, Nr. 7, x-wing, {.

    A2 first.
    ");
}

#[test]
fn what_a_lesson_shares_with_its_givens_is_given() {
    let source = format!("lesson a-1\n{GIVENS}position\n  1 2  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n");
    let workspace = workspace(&source);
    let page = subject(&workspace, Voice::default()).page().unwrap();
    let (picture, _) = page.pictures().next().unwrap();
    let stands = |col| format!("{:?}", picture.content(Cell::new(0, col)).stands);
    assert!(stands(0).starts_with("Given") && stands(1).starts_with("Entered"));
}

/// The diagrams of a puzzle, each where the step of this number comes next.
fn diagrams(shows: &str, before_step: usize) -> Vec<String> {
    let source = format!("puzzle a-1 \"Last Tram\"\n{GIVENS}steps\n{shows}");
    let workspace = workspace(&source);
    let subject = subject(&workspace, Voice::default());
    let layout = subject.puzzle.layout.as_deref().unwrap();
    let givens = &subject.puzzle.givens.as_ref().unwrap().grid;
    let reasoner = Reasoner::new(layout, &Ladder::default());
    let walk = Walk::by_scanning(&reasoner, givens);
    let steps: Vec<Deduction> = walk.steps.iter().map(|step| step.deduction.clone()).collect();
    let positions: Vec<Position> = walk.positions().map(|(before, _)| before).collect();
    let cells = [Cell::new(0, 1), Cell::new(0, 2)].into_iter().collect();
    let facts = [Claim::Is { cells, digits: layout.size().digits() & DigitSet::from_bits(0b0110) }];
    let at = before_step - 1;
    let moment = Moment {
        givens,
        before: &positions[at],
        next: &steps[at..(at + 2).min(steps.len())],
        earlier: &steps[..at],
        facts: &facts,
    };
    let labels = Voice::default().labels();
    let draw = |show: &Show| {
        let picture = subject.diagram(show, &moment);
        format!("{}{}", picture.text(&labels), picture.caption().unwrap_or_default())
    };
    let line = |line| match subject.section.step(line)? {
        StepLine::Show(show) => Some(draw(show)),
        _ => None,
    };
    subject.section.lines.iter().filter_map(line).collect()
}

#[test]
fn a_diagram_has_the_parts_that_it_asks_for() {
    let drawn = diagrams(
        "  show only box 1 r1c3 shade row 1 ring r1c2 marks all \"A \\\"pair\\\" in {r1c2 r1c3}\"\n  \
         show marks known\n  show marks 34 marks none\n",
        1,
    );
    insta::assert_snapshot!(drawn.join("\n"), @r#"
    +-----------+------+
    | 1    (23) | 23   |
    |           +------+
    | 34   234  |
    +-----------+
    Shaded: r1c1, r1c2 and r1c3.
    Ringed: r1c2.
    A "pair" in r1c2 and r1c3
    +-----------+-----------+
    | 1    [23] | [23] 4    |
    | .    .    | 1    .    |
    +-----------+-----------+
    | 2    .    | .    .    |
    | .    .    | .    3    |
    +-----------+-----------+
    You remember that 2 and 3 share r1c2 and r1c3.

    +-------+-------+
    | 1  3  | 3  4  |
    | 34 34 | 1  .  |
    +-------+-------+
    | 2  34 | 4  .  |
    | 4  4  | 4  3  |
    +-------+-------+
    "#);
}

/// The digit that the first of two steps places is known where the second leans on it.
#[test]
fn a_line_of_several_steps_is_drawn_in_one_diagram() {
    insta::assert_snapshot!(diagrams("  show why\n", 2).join("\n"), @r"
    +-------+-------+
    | 1  x  | 3  4  |
    | .  x  | 1  .  |
    +-------+-------+
    | 2  3! | .  .  |
    | x  x  | .  3  |
    +-------+-------+
    Written in: r1c3.
    The 3 in r3c2 closes r1c2 and r2c2.
    The 3 in r4c4 closes r4c1 and r4c2.
    ");
}

#[test]
fn text_is_printed_where_it_stands_and_hints_and_memory_where_they_are_asked_for() {
    let source = format!(
        "puzzle a-1\ntext \"First\"\n  Before {{r1c1}}.\n{GIVENS}text\n  Behind.\nnote\n  A note.\nhint\n  Look at {{row 1}}.\n\n  \
         Twice.\nhint\n  {{r1c2 r1c3 = 23}}.\nknown\n  r1c2 r1c3 = 23\nwork\n  1 2 . 4\n  . . 1 .\n  2 . . .\n  . . . 3\nknown\n  \
         3 of box 1 in row 2\n"
    );
    let workspace = workspace(&source);
    let subject = subject(&workspace, Voice::default());
    let press = press(Voice::default(), false);
    let pages = [subject.page(), subject.hints()].into_iter().flatten().chain(subject.sheets());
    insta::assert_snapshot!(pages.map(|page| text(&page, &press)).collect::<Vec<_>>().join("\n----\n"), @r"
    a-1

    First

    Before r1c1.

    +-----+-----+
    | 1 . | . 4 |
    | . . | 1 . |
    +-----+-----+
    | 2 . | . . |
    | . . | . 3 |
    +-----+-----+

    Behind.

    A note.

    ----
    a-1
    Hints

    1. Look at row 1. Twice.

    2. r1c2 and r1c3 = 23.

    ----
    a-1
    Work so far

    +-----------+-----------+
    | 1    [23] | [23] 4    |
    | .    .    | 1    .    |
    +-----------+-----------+
    | 2    .    | .    .    |
    | .    .    | .    3    |
    +-----------+-----------+
    You remember that 2 and 3 share r1c2 and r1c3.

    ----
    a-1
    Work so far

    +---------+---------+
    | 1   2   | .   4   |
    | [3] [3] | 1   .   |
    +---------+---------+
    | 2   .   | .   .   |
    | .   .   | .   3   |
    +---------+---------+
    Written in: r1c2.
    You remember that box 1 has its 3 in row 2.
    ");
}

#[test]
fn numbers_run_from_the_first_on() {
    let puzzle = |id: &str, facts: &str| format!("puzzle {id}\n{facts}{GIVENS}");
    let all = [
        puzzle("a-1", ""),
        puzzle("a-2", "number 30\n"),
        puzzle("a-3", ""),
        "lesson l-1\n".to_owned() + GIVENS,
    ];
    let source = format!("numbers from 7\n{}note\n  {{a-1}}, {{a-3}}.\n", all.concat());
    let book = Book::read("it.gset", &source);
    assert_eq!(book.numbers(), [None, Some(7), Some(30), Some(31), None]);
    assert!(printed(&source, Voice::default()).ends_with("\nNo. 7, No. 31.\n"));
}

#[test]
fn a_puzzle_of_another_collection_is_named_with_it() {
    let file = |title: &str, more: &str| Book::read("it.gset", &format!("{title}\nnumbers from 7\n{more}"));
    let there = |title: &str, id: &str| file(title, &format!("puzzle {id}\n{GIVENS}"));
    let note = "note\n  {t-1}; {u-1}; {v-1}.\n\n  {h-1}; {w-1}.\n";
    let workspace = Workspace::new(vec![
        there("collection There and back", "t-1"),
        there("collection \"Up\" \"and down\"\nvolume 2", "u-1"),
        there("collection \"Late lamps\"\nseries \"Lantern Street\"\nvolume 41", "v-1"),
        there("collection \"Here\"", "w-1"),
        file("collection \"Here\"", &format!("puzzle h-1\n{GIVENS}{note}")),
    ]);
    let noted =
        |voice: Voice<'static>| text(&subject(&workspace, voice).page().unwrap(), &press(voice, false));
    let english = noted(Voice::default());
    let german = noted(Voice { language: Language::German, ..Voice::default() });
    assert!(english.ends_with(
        "\nThere and back, No. 7; Up and down 2, No. 7; Lantern Street 41, No. 7.\n\nNo. 7; No. 7.\n"
    ));
    assert!(german.ends_with(
        "\nThere and back, Nr. 7; Up and down 2, Nr. 7; Lantern Street 41, Nr. 7.\n\nNr. 7; Nr. 7.\n"
    ));
}

#[test]
fn steps_are_told_with_the_signs_of_the_puzzle() {
    let workspace = workspace(&format!("puzzle a-1\nsymbols K L M N\n{GIVENS}steps\n  r1c3 = 3\n"));
    let subject = subject(&workspace, Voice::default());
    let layout = subject.puzzle.layout.as_deref().unwrap();
    let reasoner = Reasoner::new(layout, &Ladder::default());
    let walk = Walk::by_scanning(&reasoner, &subject.puzzle.givens.as_ref().unwrap().grid);
    let page = subject.walk(&walk, false, None).unwrap();
    let first_two = |page: &Page| -> String {
        let page = text(page, &press(Voice::default(), true));
        let steps = page.lines().filter(|line| line.starts_with("1. ") || line.starts_with("2. "));
        steps.collect::<Vec<_>>().join("\n")
    };
    insta::assert_snapshot!(first_two(&page), @r"
    1. Look for M in box 2. Column 4 holds M. Box 2 has one place left for M:
    2. Look for M in box 3. Row 4 holds M. Box 3 has one place left for M: r3c2.
    ");
    let german = Voice { language: Language::German, ..Voice::default() };
    let page = Subject { voice: german, ..subject }.walk(&walk, false, None).unwrap();
    insta::assert_snapshot!(first_two(&page), @r"
    1. Suche in Block 2 den Platz für das M. Spalte 4 enthält das M. In Block 2
    2. Suche in Block 3 den Platz für das M. Zeile 4 enthält das M. In Block 3
    ");
}
