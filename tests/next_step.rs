//! The next step, taken on a solver's sheet: text in, text out.

use gridsetter::book::{Book, Entry, Workspace, known};
use gridsetter::edit::take_step;
use gridsetter::ladder::Ladder;
use gridsetter::lint::check;
use gridsetter::step::Method;
use gridsetter::study::{Next, Start};

/// The text once the next step is taken in its first puzzle, from its first sheet.
fn stepped(text: &str, method: Option<Method>) -> String {
    let book = Book::read("test.gset", text);
    let section = &book.tree.sections[0];
    let puzzle = book.meanings[0].entries.iter().find_map(|entry| match entry {
        Entry::Puzzle(puzzle) => Some(puzzle),
        _ => None,
    });
    let puzzle = puzzle.expect("there is a puzzle");
    let start = Start::of(puzzle).expect("it can be reasoned about");
    let sheet = puzzle.sheets.first();
    let known = known(section, puzzle, sheet, &start.layout);
    let next = Next::of(&start, &Ladder::default(), sheet, &known, method).expect("the work is sound");
    let changes =
        next.step.map_or_else(Vec::new, |step| take_step(section, puzzle, sheet, &next.position, &step));
    let mut new = text.to_owned();
    for change in changes.into_iter().rev() {
        new.replace_range(change.span.range(), &change.text);
    }
    new
}

#[test]
fn a_digit_is_written_on_a_sheet_that_is_made_for_it() {
    let text = "puzzle a\nsize 4\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\nnote\n  Mine.\n";
    let once = stepped(text, None);
    assert_eq!(
        once,
        text.replace(
            "note\n",
            "work\n  1   .   3   4\n  .   .   1   .\n  2   .   .   .\n  .   .   .   3\nnote\n"
        )
    );
    let twice = stepped(&once, None);
    assert_eq!(twice, once.replace("1   .\n  2", "1   2\n  2"));
}

/// With this sheet the next step under scanning is a fact, and by marks a pair.
const STUCK: &str = "puzzle two-kettles\ngivens\n  . . 8  . 2 .  . 7 5\n  . . .  . . 8  . 3 1\n  . 2 .  6 . .  . 8 .\n  \
    2 . .  . . 6  8 1 9\n  . . .  . . .  . . .\n  8 5 6  9 . .  . . 2\n  . 1 .  . . 5  . 9 .\n  7 8 .  4 . .  . . .\n  \
    4 9 .  . 6 .  1 . .\n";

#[test]
fn a_fact_is_remembered_below_the_sheet_until_a_digit_comes_of_it() {
    let mut text = STUCK.to_owned();
    let mut facts = 0;
    loop {
        let next = stepped(&text, Some(Method::Scanning));
        if next == text {
            break;
        }
        facts += usize::from(next.lines().count() > text.lines().count());
        text = next;
    }
    assert!(facts > 2, "{text}");
    assert_eq!(text.matches("known\n").count(), 1, "all in one block: {text}");
    let reports = check(&Workspace::new(vec![Book::read("test.gset", &text)]));
    assert!(reports.is_empty(), "{:?}\n{text}", reports.iter().map(|it| &it.message).collect::<Vec<_>>());
    let sheet = &text[text.find("work\n").expect("a sheet was made")..text.find("known\n").unwrap()];
    assert!(!sheet.contains(" ."), "every cell is filled: {text}");
}

#[test]
fn with_marks_a_step_shortens_them_and_a_single_is_written_in() {
    let filled = "puzzle a\nsize 4\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\nwork\n  \
        1   23  23  4\n  34  234 1   2!\n  2   134 4!  1!\n  4!  14  24  3\n";
    let mut text = filled.to_owned();
    let mut steps = 0;
    while stepped(&text, None) != text {
        text = stepped(&text, None);
        steps += 1;
        assert!(steps < 40, "{text}");
    }
    assert!(!text.contains("known"), "all cells have marks: {text}");
    assert!(check(&Workspace::new(vec![Book::read("test.gset", &text)])).is_empty(), "{text}");
}
