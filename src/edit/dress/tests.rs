//! Text in, text out.

use super::*;
use crate::board::Digit;
use crate::book::{Book, Entry};
use crate::format::format;
use crate::sameness::Turn;

/// The last puzzle of a text in another dress.
fn dressed(text: &str, how: impl Fn(crate::board::Size) -> Transformation) -> Result<String, Tied> {
    let book = Book::read("test.gset", text);
    let at = book.meanings.len() - 1;
    let section = &book.tree.sections[at];
    let puzzle = book.meanings[at].entries.iter().find_map(|entry| match entry {
        Entry::Puzzle(puzzle) => Some(puzzle),
        _ => None,
    });
    let puzzle = puzzle.unwrap();
    let dress = Dress::of(section, puzzle, how(puzzle.layout.as_ref().unwrap().size()))?;
    let mut new = text.to_owned();
    for change in dress.puzzle(section, puzzle).into_iter().rev() {
        let span = change.span.range();
        new.replace_range(book.begin(at) + span.start..book.begin(at) + span.end, &change.text);
    }
    Ok(new)
}

fn turned(text: &str, turn: Turn) -> Result<String, Tied> {
    dressed(text, |size| turn.of(size))
}

fn swapped(text: &str) -> Result<String, Tied> {
    let digit = |value| Digit::new(value).unwrap();
    dressed(text, |size| Transformation::swapping(size, digit(1), digit(4)))
}

const ROWS: &str = "givens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

#[test]
fn what_speaks_of_cells_moves_with_them() {
    let text = format!(
        "puzzle a\nsize       4\nsymmetry   mirror-across\nhouse      window1 r1c1 r1c2 r2c1 r2c2\n\
         thermometer r1c1..r1c3\nsum        7 r12c1\narrow      r1c1 : r2c1 r3c1\n\
         allow work-wrong at r1c2 r1c3 \"r1c2 is said in words\"\n{ROWS}"
    );
    let right = turned(&text, Turn::Right).unwrap();
    assert_eq!(
        right,
        "puzzle a\nsize       4\nsymmetry   mirror-down\nhouse      window1 r1c3 r1c4 r2c3 r2c4\n\
         thermometer r1c4..r3c4\nsum        7 r1c34\narrow      r1c4 : r1c3 r1c2\n\
         allow work-wrong at r2c4 r3c4 \"r1c2 is said in words\"\n\
         givens\n  . 2  . 1\n  . .  . .\n  . .  1 .\n  3 .  . 4\n"
    );
    assert_eq!(turned(&right, Turn::Left).as_deref(), Ok(&*text));
    assert_eq!(swapped(&text), Err(Tied::Numbers));
}

#[test]
fn what_has_an_order_keeps_it() {
    let text = format!(
        "puzzle a\nsize       4\nthermometer r12c1\narrow      r1c1 : r12c34\n\
         thermometer r1c1..r2c2\nthermometer r1c1..r1c3\nsum        7 r12c1\n{ROWS}"
    );
    let told = |turn| turned(&text, turn).unwrap().split("givens").next().unwrap().to_owned();
    assert_eq!(
        told(Turn::Half),
        "puzzle a\nsize       4\nthermometer r43c4\narrow      r4c4 : r43c21\n\
         thermometer r4c4 r4c3 r3c4 r3c3\nthermometer r4c4..r4c2\nsum        7 r34c4\n"
    );
    // No range runs down columns, one after the other.
    assert_eq!(
        told(Turn::Diagonal),
        "puzzle a\nsize       4\nthermometer r1c12\narrow      r1c1 : r3c1 r4c1 r3c2 r4c2\n\
         thermometer r1c1 r2c1 r1c2 r2c2\nthermometer r1c1..r3c1\nsum        7 r1c12\n"
    );
}

#[test]
fn houses_of_the_same_cells_keep_their_names() {
    let text = format!(
        "puzzle a\nsize 4\nhouse window1 r1c1 r1c2 r2c1 r2c2\nhouse window2 r1c1 r1c2 r2c1 r2c2\n{ROWS}\
         known\n  house window2 misses 2\n"
    );
    assert!(turned(&text, Turn::Half).unwrap().ends_with("  house window2 misses 2\n"));
}

#[test]
fn only_turns_and_names_make_a_dress() {
    let text = format!("puzzle a\nsize 4\n{ROWS}");
    let crossed = |size| Transformation::new(size, false, &[1, 0, 2, 3], &[0, 1, 2, 3], &[0, 1, 2, 3]);
    assert_eq!(dressed(&text, |size| crossed(size).unwrap()), Err(Tied::Neighbours));
}

#[test]
fn an_answer_in_another_file_is_spaced_as_it_was() {
    let rows =
        "  1 2 3  4 5 6\n  4 5 6  1 2 3\n  2 3 1  5 6 4\n  5 6 4  2 3 1\n  3 1 2  6 4 5\n  6 4 5  3 1 2\n";
    let puzzle = Book::read("a.gset", &format!("puzzle a\nsize 6\ngivens\n{rows}"));
    let answers = format!("size       6\n\nanswer a\n{rows}");
    let book = Book::read("b.gset", &answers);
    let (section, own) = (&puzzle.tree.sections[0], puzzle.puzzles().next().unwrap());
    let right = Turn::Right.of(own.layout.as_ref().unwrap().size());
    let dress = Dress::of(section, own, right).unwrap();
    let at = book.meanings.len() - 1;
    let answer = book.meanings[at].entries.iter().find_map(|entry| match entry {
        Entry::Answer(answer) => Some(answer),
        _ => None,
    });
    let mut new = answers.clone();
    for change in dress.answer(&book, at, answer.unwrap()).unwrap().into_iter().rev() {
        let span = change.span.range();
        new.replace_range(book.begin(at) + span.start..book.begin(at) + span.end, &change.text);
    }
    assert_ne!(new, answers);
    assert_eq!(new, format(&Book::read("b.gset", &new)));
}

#[test]
fn text_before_a_puzzle_moves_with_it() {
    let text = format!(
        "text\n  Begin at {{r1c2}}, in {{box 1}}.\n\npuzzle a\nsize 4\n{ROWS}\npuzzle b\nsize 4\n{ROWS}"
    );
    let book = Book::read("a.gset", &text);
    let (section, own) = book.spoken_of(0).unwrap();
    assert_eq!(own.id.as_ref().unwrap().text, "a");
    let how = Turn::Right.of(own.layout.as_ref().unwrap().size());
    let dress = Dress::of(&book.tree.sections[section], own, how).unwrap();
    let preface = &book.tree.sections[0];
    let changes: Vec<String> =
        dress.text(preface, &preface.items[0]).into_iter().map(|change| change.text).collect();
    assert_eq!(changes, ["r2c4}, in {box 2"]);
}

#[test]
fn signs_stay_as_they_were_written() {
    let text = "puzzle a # mine\nsize 4\ngivens\n  +---+---+\n  |1_|_4|  # first\n  |..|1.|\n  +---+---+\n  |20|..|\n  |..|.3|\n\
                work\n 1 23? 23! 4 # odd\n  4  12 1 .\n 2 . . .\n . . . 3\nknown\n  r12c2 not 14  # so\n  row 1 2 misses 1 4\n";
    let text = &text.replace("23!", "3!");
    let swapped_once = swapped(text).unwrap();
    assert_eq!(
        swapped_once,
        "puzzle a # mine\nsize 4\ngivens\n  +---+---+\n  |4_|_1|  # first\n  |..|4.|\n  +---+---+\n  |20|..|\n  |..|.3|\n\
         work\n 4 23? 3! 1 # odd\n  1  24 4 .\n 2 . . .\n . . . 3\nknown\n  r12c2 not 14  # so\n  row 1 2 misses 1 4\n"
    );
    assert_eq!(swapped(&swapped_once).as_deref(), Ok(&**text));
    let mirrored = turned(text, Turn::Across).unwrap();
    assert!(mirrored.contains("  |4_|_1|  # first\n  |.1|..|\n  +---+---+\n  |..|02|\n"), "{mirrored}");
    assert!(mirrored.contains("  4   3!  23? 1 # odd\n"), "{mirrored}");
    assert!(mirrored.contains("  r12c3 not 14  # so\n  row 1 2 misses 1 4\n"), "{mirrored}");
}

#[test]
fn what_is_said_for_several_is_said_again_or_keeps_the_puzzle_as_it_is() {
    let symmetry = format!("symmetry mirror-across\n\npuzzle a\nsize       4\n{ROWS}");
    let with =
        symmetry.replace("puzzle a\nsize       4\n", "puzzle a\nsize       4\nsymmetry   mirror-down\n");
    assert!(turned(&symmetry, Turn::Right).unwrap().starts_with(&with[..with.find("givens").unwrap()]));
    let regions = "size 4\nregions\n  A A A B\n  C A B B\n  C C D B\n  C D D D\n\npuzzle a\n";
    assert_eq!(turned(&format!("{regions}{ROWS}"), Turn::Right), Err(Tied::Shared(Keyword::Regions)));
    let own = format!("puzzle a\n{}{ROWS}", &regions[..regions.find("\npuzzle").unwrap()]);
    let own = turned(&own, Turn::Right).unwrap();
    assert!(own.contains("regions\n  C C C A\n  D C A A\n  D D B A\n  D B B B\n"), "{own}");
    let house = format!("size 4\nhouse window1 r1c1 r1c2 r2c1 r2c2\n\npuzzle a\n{ROWS}");
    assert_eq!(turned(&house, Turn::Right), Err(Tied::Shared(Keyword::House)));
    assert!(turned(&house, Turn::Diagonal).is_ok(), "it stays where it is");
    let odd = format!("size 4\nodd r1c1\n\npuzzle a\n{ROWS}");
    assert_eq!(turned(&odd, Turn::Right), Err(Tied::SharedConstraints));
    for (line, tied) in [
        ("made seed 1 \"--size 4\"\n", Tied::Fixed(Keyword::Made)),
        ("printed 2026-05-31 7c1e40\n", Tied::Fixed(Keyword::Printed)),
        ("erratum 2026-05-31 \"r4c1 was 5\"\n", Tied::Fixed(Keyword::Erratum)),
        ("nonsense\n", Tied::Unread),
        ("known\n  r1c1 = \n", Tied::Unread),
        ("solution\n  1 2\n", Tied::Unread),
    ] {
        assert_eq!(swapped(&format!("puzzle a\nsize 4\n{ROWS}{line}")), Err(tied), "{line}");
    }
}
