//! Text in, outline out: what each line was read as, and the faults under the place.

use super::*;
use proptest::prelude::*;
use std::fmt::Write as _;
use std::sync::Arc;

/// One letter for what a line was read as, then the line; below it the faults that begin on it.
fn outline(tree: &Tree) -> String {
    let mut out = String::new();
    for section in &tree.sections {
        for line in &section.lines {
            let kind = match &line.kind {
                LineKind::Blank => ' ',
                LineKind::Comment => '#',
                LineKind::Statement => '=',
                LineKind::Frame => '-',
                LineKind::Row => 'R',
                LineKind::Listed => 'L',
                LineKind::Tokens => 'T',
                LineKind::Claim => 'C',
                LineKind::Step => 'S',
                LineKind::Prose => 'P',
                LineKind::Kept => '?',
            };
            out += format!("{kind}|{}", section.at(line.span)).trim_end();
            out.push('\n');
            let inside = |fault: &&Fault| (line.span.start..=line.span.end).contains(&fault.span.start);
            let ends = section.lines.len() == 1;
            for fault in section
                .faults
                .iter()
                .filter(inside)
                .filter(|fault| ends || !line.span.is_empty() || fault.span == line.span)
            {
                let before =
                    section.text[line.span.start as usize..fault.span.start as usize].chars().count();
                let marks = section.at(fault.span).chars().count().max(1);
                writeln!(out, " |{}{} {:?}", " ".repeat(before), "^".repeat(marks), fault.kind).unwrap();
            }
        }
        for item in &section.items {
            let unsure = if item.unsure { " unsure" } else { "" };
            let statements = section.statements_of(item).iter().map(|it| {
                let broken = if it.broken { "!" } else { "" };
                format!(" {}{broken}:{}", it.keyword.map_or("?", Keyword::word), it.block.len())
            });
            writeln!(out, "({:?}{unsure}{})", item.kind, statements.collect::<String>()).unwrap();
        }
    }
    out
}

#[track_caller]
fn reads(text: &str, expected: &str) {
    let tree = read(text);
    assert_eq!(tree.to_string(), text, "printing the tree gives the file back");
    let outline = outline(&tree);
    assert_eq!(outline.trim(), expected.trim(), "\n--- read as\n{outline}");
}

#[test]
fn a_small_file() {
    reads(
        "notation 1\n\n# ours\npuzzle a-1 \"Quay\" # first\nsize 4\ngivens\n  1 . | . 4\n  ----+----\n  ..2.  # row\n\npuzzle a-2\n",
        r#"
=|notation 1
 |
#|# ours
(Preface notation:0)
=|puzzle a-1 "Quay" # first
=|size 4
=|givens
R|  1 . | . 4
-|  ----+----
R|  ..2.  # row
 |
(Puzzle puzzle:0 size:0 givens:3)
=|puzzle a-2
(Puzzle puzzle:0)
"#,
    );
}

#[test]
fn near_words_are_read_as_what_they_nearly_are() {
    reads(
        "notaton 1\npuzzle a\ngiviens\n  12\nfrobnicate 3\n  kept\n",
        r"
=|notaton 1
 |^^^^^^^ UnknownStatement(Some(Notation))
(Preface notation:0)
=|puzzle a
=|giviens
 |^^^^^^^ UnknownStatement(Some(Givens))
R|  12
=|frobnicate 3
 |^^^^^^^^^^ UnknownStatement(None)
?|  kept
(Puzzle puzzle:0 givens:1 ?!:1)
",
    );
}

#[test]
fn values_that_are_missing_open_or_too_many() {
    reads(
        "collection \"Lantern\nlevel\npuzzle \"T\"\ngivens 12\npuzzle a\"T\"\nsetter \u{201c}A\u{201d}\n",
        "
=|collection \"Lantern
 |           ^^^^^^^^ QuoteOpen
=|level
 |^^^^^ ValueMissing(Level)
(Preface collection!:0 level!:0)
=|puzzle \"T\"
 |^^^^^^ IdMissing(Puzzle)
=|givens 12
 |       ^^ ValueUnreadable(Givens, \"its lines stand below it, indented\")
(Puzzle puzzle!:0 givens!:0)
=|puzzle a\"T\"
 |        ^^^ ValueUnreadable(Puzzle, \"a blank must part it from what stands before it\")
=|setter \u{201c}A\u{201d}
(Puzzle puzzle!:0 setter:0)
",
    );
}

#[test]
fn a_block_that_lost_its_first_line() {
    reads(
        "puzzle a\n  . . 1 .\n  1 . . .\nlevel 1\n",
        r"
=|puzzle a
R|  . . 1 .
 |  ^^^^^^^ BlockWithoutStart(Some(Givens))
R|  1 . . .
=|level 1
(Puzzle unsure puzzle:0 givens!:2 level:0)
",
    );
}

#[test]
fn lines_pushed_to_column_1_and_statements_pushed_in() {
    reads(
        "puzzle a\ngivens\n. . 1 .\n1 . . .\n  level 1\n  symmetry half-turn\nnote\nPrint it.\nlarge.\n",
        r"
=|puzzle a
=|givens
R|. . 1 .
 |^^^^^^^ NotIndented(Givens)
R|1 . . .
=|  level 1
 |  ^^^^^ StatementIndented(Level)
=|  symmetry half-turn
=|note
P|Print it.
 |^^^^^^^^^ NotIndented(Note)
P|large.
(Puzzle puzzle:0 givens:2 level:0 symmetry:0 note:2)
",
    );
}

#[test]
fn a_lost_puzzle_line() {
    reads(
        "size 4\nlevel 1\ngivens\n  1...\npuzzle b\nlevel 1\nlevel 1\ngivens\n  1...\nlevel 2\ngivens\n  2...\n",
        r"
=|size 4
=|level 1
=|givens
 |^^^^^^ PuzzleMissing(Givens)
R|  1...
(Preface size:0 level:0)
(Puzzle unsure givens:1)
=|puzzle b
=|level 1
=|level 1
 |^^^^^ RepeatedStatement(Level, Span { start: 9, end: 14 })
=|givens
R|  1...
=|level 2
 |^^^^^ PuzzleMissing(Level)
=|givens
R|  2...
(Puzzle puzzle:0 level:0 level:0 givens:1)
(Puzzle unsure level:0 givens:1)
",
    );
}

#[test]
fn characters_that_have_no_place_in_a_text() {
    reads(
        "\u{feff}notation 1\rpuzzle a\u{7}\r\ngivens\u{1b}[31m\r\n",
        "
=|\u{feff}notation 1
 |           ^ Encoding(LoneReturn)
(Preface notation:0)
=|puzzle a\u{7}
 |        ^ Encoding(Control('\\u{7}'))
=|givens\u{1b}[31m
 |^^^^^^^^^^^ UnknownStatement(None)
 |      ^ Encoding(Control('\\u{1b}'))
(Puzzle puzzle:0 ?!:0)
",
    );
}

#[test]
fn a_list() {
    let tree = read_list("1..4 x-1\n\n# ours\n12x.\u{2026}\n");
    let expected = "
L|1..4 x-1
(Puzzle givens:1)
 |
(Preface)
#|# ours
(Preface)
L|12x.\u{2026}
 |    ^ RowUnreadable('\u{2026}')
(Puzzle givens!:1)
";
    assert_eq!(outline(&tree).trim(), expected.trim());
}

/// Lines as people write and break them.
fn lines() -> impl Strategy<Value = String> {
    let line = prop_oneof![
        Just("puzzle a-1 \"T\"".to_owned()),
        Just("part \"P\"".to_owned()),
        Just("answer a-1".to_owned()),
        Just("lesson l".to_owned()),
        Just("givens".to_owned()),
        Just("steps".to_owned()),
        Just("known".to_owned()),
        Just("work".to_owned()),
        Just("note".to_owned()),
        Just("size 6".to_owned()),
        Just("  . 1 2 | 4".to_owned()),
        Just("  46? 5! . 1".to_owned()),
        Just("  r1c1 = 4  by crossing".to_owned()),
        Just("> say {row 1}".to_owned()),
        Just("  ---+---".to_owned()),
        "[ \t]{0,3}[a-z]{1,9}[ ]{0,2}[\"a-z0-9.#]{0,6}",
        "\\PC{0,12}",
        any::<String>(),
    ];
    let ending = prop_oneof![4 => Just("\n"), 1 => Just("\r\n"), 1 => Just("\r")];
    prop::collection::vec((line, ending), 0..24)
        .prop_map(|lines| lines.into_iter().flat_map(|(line, ending)| [line, ending.to_owned()]).collect())
}

proptest! {
    #[test]
    fn printing_the_tree_gives_the_file_back(text in lines()) {
        prop_assert_eq!(read(&text).to_string(), text.clone());
        prop_assert_eq!(read_list(&text).to_string(), text);
    }

    #[test]
    fn every_byte_is_in_one_line_and_every_statement_in_one_item(text in lines()) {
        for section in read(&text).sections {
            let mut at = 0;
            for line in &section.lines {
                prop_assert_eq!(line.span.start, at);
                at = line.span.end + u32::try_from(line.ending.text().len()).unwrap();
            }
            prop_assert_eq!(at as usize, section.text.len());
            let mut next = 0;
            for item in &section.items {
                prop_assert_eq!(item.statements.start, next);
                next = item.statements.end;
            }
            prop_assert_eq!(next as usize, section.statements.len());
            for statement in &section.statements {
                prop_assert!(statement.block.start <= statement.block.end);
                prop_assert!(statement.block.end as usize <= section.lines.len());
            }
            for fault in &section.faults {
                prop_assert!(section.text.get(fault.span.range()).is_some());
            }
        }
    }

    /// A long text is read some sections at a time.
    #[test]
    fn a_long_text_has_the_sections_that_it_is_split_into(text in lines()) {
        let text = text.repeat(40_000 / text.len().max(1));
        let of_tree = read(&text).sections.iter().map(|section| section.text.clone()).collect::<Vec<_>>();
        prop_assert_eq!(of_tree, sections(&Arc::new(text.clone())).collect::<Vec<_>>());
    }

    /// What a section reads as does not depend on the others: so an edit costs the section that it touches.
    #[test]
    fn a_section_reads_the_same_by_itself(text in lines()) {
        for section in read(&text).sections {
            prop_assert_eq!(&Section::read(&section.text), &*section);
            prop_assert_eq!(Section::unread(&section.text).to_string(), &*section.text);
        }
    }
}
