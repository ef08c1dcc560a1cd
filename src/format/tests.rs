//! Text in, text out; and the laws of formatting, on the samples and on what slips of the pen make of them.

use super::{format, format_sections};
use crate::book::{Book, Entry, Token};
use crate::notation::{FaultKind, LineKind, is_blank, read};
use proptest::prelude::*;
use proptest::sample::Index;
use std::fmt::Write as _;
use std::fs;

fn formatted(text: &str) -> String {
    format(&Book::read("test.gset", text))
}

#[track_caller]
fn formats(before: &str, after: &str) {
    let written = formatted(before);
    assert_eq!(written, after, "\n--- written\n{written}");
    assert_eq!(formatted(after), after, "the written form is final");
}

#[test]
fn statements_stand_in_two_columns() {
    formats(
        "notation    1\nsetter Nour   Hadley#1 # ours\nlevels\t1-2\npuzzle  a-1   \u{201c}Old \\\\ \u{201d}\nthermometer   r1c1..r1c4\n",
        "notation 1\nsetter     Nour Hadley#1  # ours\nlevels     1-2\n\npuzzle a-1 \"Old \\\\ \"\nthermometer r1c1..r1c4\n",
    );
}

#[test]
fn grids_in_boxes_bands_and_regions() {
    formats(
        "puzzle a\ngivens\n1..4  # first\n# a word\n--+--\n__12\n3|4|0|0\n  . . . .\nsolution\n1 2\n",
        "puzzle a\ngivens\n  1 .  . 4  # first\n# a word\n  . .  1 2\n  3 4  . .\n  . .  . .\nsolution\n1 2\n",
    );
    formats(
        "puzzle b\nsize 4\nregions\naabb\naabb\nccdd\nccdd\ngivens\n1...\n....\n....\n....\n",
        "puzzle b\nsize       4\nregions\n  A A B B\n  A A B B\n  C C D D\n  C C D D\ngivens\n  1 . . .\n  . . . .\n  . . . .\n  . . . .\n",
    );
}

#[test]
fn bands_of_large_boards_are_parted() {
    let row = ".".repeat(12);
    let before = format!("puzzle a\ngivens\n{}", format!("{row}\n").repeat(12));
    let written = formatted(&before);
    let blank = written.lines().skip(2).map(str::is_empty).collect::<Vec<_>>();
    assert_eq!(blank.len(), 15);
    assert_eq!(
        blank.iter().enumerate().filter(|(_, blank)| **blank).map(|(at, _)| at).collect::<Vec<_>>(),
        [3, 7, 11]
    );
    assert_eq!(formatted(&written), written);
}

#[test]
fn sheets_are_as_wide_as_their_widest_mark() {
    formats(
        "puzzle a\ngivens\n1...\n....\n....\n....\nwork\n1 42? 3! .\n....\n. . . .\n12 34 . .\n",
        "puzzle a\ngivens\n  1 .  . .\n  . .  . .\n  . .  . .\n  . .  . .\nwork\n  1   24? 3!  .\n  .   .   .   .\n  .   .   .   .\n  12  34  .   .\n",
    );
    let wide = formatted("puzzle a\ngivens\n1...\n....\n....\n....\nwork\n1 234? . .\n....\n....\n....\n");
    assert!(wide.contains("\n  1      234?   .      .\n"), "{wide}");
}

#[test]
fn claims_and_steps() {
    let board = "puzzle a\nsize 9\ngivens\n".to_owned() + &"  .........\n".repeat(9);
    let start = formatted(&board);
    let formats =
        |before: &str, after: &str| formats(&format!("{board}{before}"), &format!("{start}{after}"));
    formats(
        "known\n  r46c1=6 4 # why\n r4c1..r6c1   r1c1 not 7\n",
        "known\n  r4c1 r6c1 = 46  # why\n  r1c1 r4c1..r6c1 not 7\n",
    );
    formats(
        "steps\n>Say  it {row 1}  so\n  r2c2,r1c1 = 9/4 , r8c5=9 by  pointing pairs in  box 1 with r5c1\n>\n show  ring r1c1 \"a  b\"\n finish by hidden   single,naked singles\n",
        "steps\n  > Say  it {row 1}  so\n  r1c1 r2c2 = 49, r8c5 = 9  by locked candidates in box 1 with r5c1\n  >\n  show ring r1c1 \"a  b\"\n  finish  by hidden single, naked single\n",
    );
}

#[test]
fn heads_have_one_empty_line_before_them_and_their_comments() {
    formats(
        "\n\npuzzle a\n# about b\n# too\npuzzle b\n\n\n\npart \"P\"\nanswer a\n\n",
        "puzzle a\n\n# about b\n# too\npuzzle b\n\npart \"P\"\n\nanswer a\n\n",
    );
}

#[test]
fn line_ends_stay() {
    formats(
        "\u{feff}notation  1\r\npuzzle a\r\nnote\n Hello,  you. \r\n",
        "\u{feff}notation 1\r\n\r\npuzzle a\r\nnote\n  Hello,  you.\r\n",
    );
    formats("notation 1", "notation 1\n");
}

#[test]
fn what_cannot_be_read_stays_as_it_is() {
    let text = "levle   3\nfoo    bar\n  baz   1\npuzzle \"T\n\npuzzle  \"T\"\ngivens\n 1 ; 2\n  3   4\nsteps\n  r1c1   =\n";
    let written = formatted(text);
    for line in [
        "levle   3",
        "foo    bar",
        "  baz   1",
        "puzzle \"T",
        "puzzle  \"T\"",
        " 1 ; 2",
        "  3   4",
        "  r1c1   =",
    ] {
        assert!(written.lines().any(|own| own == line), "{line:?} is not in\n{written}");
    }
    assert_eq!(formatted(&written), written);
}

/// What a file says, without its places: what formatting must keep.
fn said(text: &str) -> String {
    let book = Book::read("test.gset", text);
    let mut said = String::new();
    for (section, meaning) in book.tree.sections.iter().zip(&book.meanings) {
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            writeln!(said, "{:?} {}", item.kind, item.unsure).unwrap();
            if let Entry::Puzzle(puzzle) = entry {
                writeln!(said, "{:?} {:?}", puzzle.id.as_ref().map(|id| &id.text), puzzle.title).unwrap();
                let layout = puzzle.layout.as_ref();
                writeln!(said, "{:?} {:?}", layout.map(|it| it.size()), layout.map(|it| it.houses().len()))
                    .unwrap();
                for board in [&puzzle.givens, &puzzle.position, &puzzle.solution].into_iter().flatten() {
                    writeln!(said, "{}", board.grid).unwrap();
                }
                for sheet in &puzzle.sheets {
                    let tokens: &[Token] = &sheet.tokens;
                    writeln!(said, "{:?} {tokens:?}", sheet.name).unwrap();
                }
            }
        }
        for statement in &section.statements {
            let values: Vec<String> = statement.values.iter().map(|&value| section.value(value)).collect();
            writeln!(said, "{:?} {values:?} {}", statement.keyword, statement.broken).unwrap();
        }
        for line in &section.lines {
            let text = section.at(line.span).trim_matches(is_blank);
            match &line.kind {
                LineKind::Comment | LineKind::Prose => writeln!(said, "{text}").unwrap(),
                LineKind::Claim | LineKind::Step => {
                    writeln!(said, "{}", text.starts_with('>')).unwrap();
                }
                _ => {}
            }
        }
        for fault in section.faults.iter().filter(|fault| !matches!(fault.kind, FaultKind::NotIndented(_))) {
            // Where a repeated statement stood first is a place.
            let kind = match &fault.kind {
                FaultKind::RepeatedStatement(keyword, _) => format!("repeated {keyword:?}"),
                kind => format!("{kind:?}"),
            };
            writeln!(said, "{kind}").unwrap();
        }
    }
    said
}

fn holds_the_laws(text: &str) -> Result<(), TestCaseError> {
    let once = formatted(text);
    prop_assert_eq!(formatted(&once), once.clone(), "twice is once");
    prop_assert_eq!(said(&once), said(text), "meaning is kept");
    let book = Book::read("test.gset", text);
    let whole = read(&once).sections;
    let count = book.tree.sections.len();
    for at in (0..count).filter(|_| whole.len() == count) {
        let part = read(&format_sections(&book, at..count.min(at + 2))).sections;
        prop_assert_eq!(&*part[0].text, &*whole[at].text, "a section is written as within the whole");
    }
    Ok(())
}

fn samples() -> Vec<String> {
    let files = fs::read_dir("tests/samples").unwrap().map(|file| file.unwrap().path());
    let mut files: Vec<_> = files.filter(|path| path.extension().is_some_and(|ext| ext == "gset")).collect();
    files.sort();
    files.iter().map(|path| fs::read_to_string(path).unwrap()).collect()
}

#[test]
fn the_samples_hold_the_laws() {
    for text in samples() {
        holds_the_laws(&text).unwrap_or_else(|why| panic!("{why}\n{text}"));
    }
}

#[test]
fn an_empty_line_behind_a_cr_stays_one() {
    let text = "# a comment\r \npuzzle a-1\n";
    holds_the_laws(text).unwrap();
    assert_eq!(formatted(text), "# a comment\r\r\npuzzle a-1\n");
}

/// A sample after a few slips of the pen.
fn slipped() -> impl Strategy<Value = String> {
    let slip = (
        any::<Index>(),
        0..5u8,
        prop::sample::select(vec!["\n", " ", "\"", "#", "{", "r1c1", "12", "\r\n", "  ", "=", ","]),
    );
    (prop::sample::select(samples()), prop::collection::vec(slip, 0..4)).prop_map(|(text, slips)| {
        let mut chars: Vec<char> = text.chars().collect();
        for (at, kind, piece) in slips {
            let at = at.index(chars.len());
            let line = chars[at..].iter().position(|&c| c == '\n').map_or(chars.len(), |n| at + n + 1);
            match kind {
                0 => drop(chars.remove(at)),
                1 => drop(chars.splice(at..at, piece.chars())),
                2 => drop(chars.drain(at..line)),
                3 => {
                    let again = chars[at..line].to_vec();
                    drop(chars.splice(at..at, again));
                }
                _ => chars.truncate(chars.len().min(line)),
            }
            if chars.is_empty() {
                break;
            }
        }
        chars.into_iter().collect()
    })
}

proptest! {
    #[test]
    fn slips_hold_the_laws(text in slipped()) {
        holds_the_laws(&text)?;
    }

    #[test]
    fn every_line_keeps_its_end(text in slipped()) {
        let lf = text.replace("\r\n", "\n");
        prop_assume!(lf.contains('\n'));
        let crlf = lf.replace('\n', "\r\n");
        prop_assert_eq!(formatted(&crlf), formatted(&lf).replace('\n', "\r\n"));
    }
}
