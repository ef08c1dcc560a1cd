//! Text in, text out.

use super::*;
use crate::book::{Book, Entry, Puzzle};

/// The text once `change` is made in its first puzzle.
fn changed(text: &str, change: impl Fn(&Section, &Puzzle) -> Vec<Change>) -> String {
    let book = Book::read("test.gset", text);
    let section = &book.tree.sections[0];
    let puzzle = book.meanings[0].entries.iter().find_map(|entry| match entry {
        Entry::Puzzle(puzzle) => Some(puzzle),
        _ => None,
    });
    let mut new = text.to_owned();
    for change in change(section, puzzle.unwrap()).into_iter().rev() {
        new.replace_range(change.span.range(), &change.text);
    }
    new
}

fn marked(text: &str, marking: Marking) -> String {
    changed(text, |section, puzzle| mark(section, puzzle, puzzle.sheets.first(), marking))
}

const GIVENS: &str = "size 4\npuzzle a\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

#[test]
fn a_sheet_is_made_below_the_givens_and_filled() {
    let filled =
        marked(&GIVENS["size 4\n".len()..].replace("puzzle a\n", "puzzle a\nsize 4\n"), Marking::Fill);
    assert_eq!(
        filled,
        "puzzle a\nsize 4\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\nwork\n\
         \x20 1   23  23  4\n  34  234 1   2!\n  2   134 4!  1!\n  4!  14  24  3\n"
    );
}

#[test]
fn marks_are_tidied_and_cleared_and_comments_stay() {
    let sheet = "work\n  1   23  2?  4  # mine\n  34  24  1   12\n  2   13? .   1\n  .   .   .   3\n";
    let text = format!("puzzle a\nsize 4\n{}{sheet}", &GIVENS["size 4\npuzzle a\n".len()..]);
    let tidy = marked(&text, Marking::Tidy);
    assert_eq!(
        tidy[tidy.find("work").unwrap()..],
        *"work\n  1   23  2?  4  # mine\n  34  24  1   2!\n  2   3?  .   1\n  .   .   .   3\n"
    );
    let clear = marked(&text, Marking::Clear);
    assert_eq!(
        clear[clear.find("work").unwrap()..],
        *"work\n  1   .   .   4  # mine\n  .   .   1   .\n  2   .   .   1\n  .   .   .   3\n"
    );
}

#[test]
fn the_solution_is_written_below_the_givens_or_over_the_one_that_is_there() {
    let text = format!("puzzle a\nsize 4\n{}", &GIVENS["size 4\npuzzle a\n".len()..]);
    let solved = changed(&text, write_solution);
    let rows = "  1 2  3 4\n  3 4  1 2\n  2 3  4 1\n  4 1  2 3\n";
    assert_eq!(solved, format!("{text}solution\n{rows}"));
    assert_eq!(changed(&solved, write_solution), solved);
    assert_eq!(changed(&solved.replace("4 1  2 3", "4 1  3 2"), write_solution), solved);
    let open_ended = text.trim_end();
    assert_eq!(changed(open_ended, write_solution), solved.trim_end());
    let two = text.replace("  2 .  . .", "  . .  . .");
    assert_eq!(changed(&two, write_solution), two, "there are several");
}
