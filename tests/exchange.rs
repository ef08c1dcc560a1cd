//! Foreign text in, notation out, and back: whatever comes in is in what comes out.

#![allow(clippy::unwrap_used, reason = "what cannot be had fails the test")]

use gridsetter::book::{Book, Workspace};
use gridsetter::exchange::{
    Effect, Foreign, Form, ImportOptions, Imported, Loss, Output, Row, Trouble, TroubleKind, exported,
    import, outgoing,
};
use gridsetter::format::format;
use proptest::prelude::*;
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};

const GIVENS: &str = "53..7....6..195....98....6.8...6...34..8.3..17...2...6.6....28....419..5....8..79";
const SOLUTION: &str = "534678912672195348198342567859761423426853791713924856961537284287419635345286179";

/// What stands in a text of the notation, in order.
#[derive(Debug)]
enum Stands {
    Comment(String),
    Puzzle { text: String, givens: String },
}

impl Stands {
    fn text(&self) -> &str {
        match self {
            Stands::Comment(text) | Stands::Puzzle { text, .. } => text,
        }
    }
}

/// A plain reading, apart from the program's own.
fn what_stands(text: &str) -> Vec<Stands> {
    let mut all = Vec::new();
    let mut in_givens = false;
    for line in text.lines().skip(1).filter(|line| !line.is_empty()) {
        if line.starts_with('#') {
            all.push(Stands::Comment(line.to_owned()));
            continue;
        }
        if line.starts_with("puzzle ") {
            all.push(Stands::Puzzle { text: String::new(), givens: String::new() });
        }
        let Some(Stands::Puzzle { text, givens }) = all.last_mut() else {
            panic!("{line:?} follows a comment");
        };
        in_givens = line == "givens" || in_givens && line.starts_with(' ');
        if in_givens && line != "givens" {
            givens.extend(line.split_whitespace());
        }
        text.push_str(line);
        text.push('\n');
    }
    all
}

/// Imports, and holds what comes out against what must always be so.
fn imported(text: &str, how: &ImportOptions) -> Imported {
    let imported = import(&[Foreign { name: "in", text }], how);
    let book = Book::read("out.gset", &imported.text);
    assert_eq!(format(&book), imported.text, "it is in the one written form");
    for section in &book.tree.sections {
        assert_eq!(*section.faults, [], "it can be read\n{}", section.text);
    }
    assert!(!imported.text.contains(|c: char| c.is_control() && !matches!(c, '\n' | '\t')));
    let left = imported.troubles.iter().filter(|trouble| trouble.effect() == Effect::Left).count();
    assert_eq!(left, imported.left);
    assert_eq!(Workspace::new(vec![book]).puzzles().count(), imported.puzzles);
    imported
}

fn plainly(text: &str) -> Imported {
    imported(text, &ImportOptions::default())
}

fn kinds(imported: &Imported) -> Vec<&TroubleKind> {
    imported.troubles.iter().map(|trouble| &trouble.kind).collect()
}

// A table of 2,000 rows, and what its makers did to it.

/// Numbers that are the same in every run.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % n as u64).unwrap()
    }
}

/// What must become of a row.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Fate {
    /// A puzzle, and nothing is said of it.
    Comes,
    /// A puzzle, and something is said of it.
    Named,
    /// A puzzle without a level: that is said if the row above has one.
    Perhaps,
    /// A comment, and why is said.
    Left,
    /// A comment, and nothing need be said.
    Comment,
    /// Nothing: it says nothing.
    Gone,
}

/// A row before and after something is done to it.
struct Dirty {
    /// A word that stands in this row alone.
    tag: String,
    /// id, givens, solution, title, level, number, remark
    fields: [String; 7],
    /// The whole row, where its fields do not say it.
    raw: Option<String>,
}

impl Dirty {
    fn set(&mut self, field: usize, text: impl Into<String>) {
        self.fields[field] = text.into();
    }

    fn zeros(&self) -> String {
        self.fields[1].replace('.', "0")
    }

    fn joined(&self, separator: char) -> String {
        self.fields.join(&separator.to_string())
    }
}

type Spoil = fn(&mut Dirty, char);

const DIRT: &[(&str, Fate, Spoil)] = &[
    ("clean", Fate::Comes, |_, _| {}),
    ("noughts for dots", Fate::Comes, |row, _| row.set(1, row.zeros())),
    ("zeros lost, and a solution shows how many", Fate::Named, |row, _| {
        row.set(1, row.zeros().trim_start_matches('0'));
    }),
    ("zeros lost, no solution", Fate::Left, |row, _| {
        row.set(1, row.zeros().trim_start_matches('0'));
        row.set(2, "");
    }),
    ("power of ten", Fate::Left, |row, _| row.set(1, "1.2E+80")),
    ("power of ten with a comma", Fate::Left, |row, _| row.set(1, "5,3007E+80")),
    ("digits in threes", Fate::Left, |row, _| {
        let digits = row.zeros();
        let threes: Vec<&str> = (0..27).map(|at| &digits[3 * at..3 * at + 3]).collect();
        row.set(1, threes.join(","));
    }),
    ("dots lost", Fate::Left, |row, _| row.set(1, row.fields[1].replace('.', ""))),
    ("dots become blanks", Fate::Left, |row, _| row.set(1, row.fields[1].replace('.', " "))),
    ("80 symbols", Fate::Left, |row, _| row.set(1, &row.fields[1].clone()[1..])),
    ("82 symbols", Fate::Left, |row, _| row.set(1, format!("{}.", row.fields[1]))),
    ("merged cells", Fate::Left, |row, _| row.set(1, "")),
    ("merged levels", Fate::Perhaps, |row, _| row.set(4, "")),
    ("heading again", Fate::Comment, |row, separator| {
        row.raw = Some("id;givens;solution;title;level;number;remark".replace(';', &separator.to_string()));
    }),
    ("blank row", Fate::Gone, |row, _| row.raw = Some(" \u{a0} ".into())),
    ("row of nothing but separators", Fate::Gone, |row, separator| {
        row.raw = Some(separator.to_string().repeat(6));
    }),
    ("separators at the end", Fate::Comes, |row, separator| {
        row.raw = Some(row.joined(separator) + &separator.to_string().repeat(4));
    }),
    ("ragged: ends behind the givens", Fate::Perhaps, |row, separator| {
        row.raw = Some(row.fields[..2].join(&separator.to_string()));
    }),
    ("no-break spaces", Fate::Comes, |row, _| {
        for at in [0, 1, 2, 4] {
            row.set(at, format!("\u{a0}{}\u{a0} ", row.fields[at]));
        }
    }),
    ("invisible characters", Fate::Comes, |row, _| row.set(1, format!("\u{200b}{}\u{feff}", row.fields[1]))),
    ("quotes around all", Fate::Comes, |row, separator| {
        row.raw = Some(row.fields.clone().map(|field| format!("\"{field}\"")).join(&separator.to_string()));
    }),
    ("typographic quotes", Fate::Comes, |row, _| {
        row.set(1, format!("\u{201c}{}\u{201d}", row.fields[1]));
    }),
    ("full-width digits", Fate::Comes, |row, _| {
        let wide = |c: char| char::from_u32(u32::from(c) - 0x21 + 0xff01).unwrap();
        row.set(1, row.fields[1].clone().chars().map(wide).collect::<String>());
    }),
    ("the letter O for nought", Fate::Left, |row, _| row.set(1, row.fields[1].replace('.', "O"))),
    ("the letter l for one", Fate::Left, |row, _| {
        row.set(1, format!("l{}", &row.fields[1].clone()[1..]));
    }),
    ("a digit beyond the size", Fate::Left, |row, _| {
        row.set(1, format!("{}A", &row.fields[1].clone()[..80]));
    }),
    ("a comment", Fate::Comment, |row, _| row.raw = Some(format!("# {} is not ready", row.tag))),
    ("an id that others have too", Fate::Named, |row, _| {
        row.set(3, row.tag.clone());
        row.set(0, "everybody");
    }),
    ("an id of several words", Fate::Named, |row, _| row.set(0, format!("no {}", row.tag))),
    ("no id", Fate::Named, |row, _| {
        row.set(3, row.tag.clone());
        row.set(0, "");
    }),
    ("a title with quotes, separators and lines", Fate::Comes, |row, separator| {
        row.set(3, format!("\"The \"\"big\"\"{separator} one\r\nfor \\ two\""));
    }),
    ("escape characters in the title", Fate::Named, |row, _| row.set(3, "\u{1b}[31mRed\u{7}")),
    ("text kept as a formula", Fate::Comes, |row, _| row.set(1, format!("=\"{}\"", row.fields[1]))),
    ("text kept by an apostrophe", Fate::Comes, |row, _| row.set(1, format!("'{}", row.fields[1]))),
    ("a formula", Fate::Left, |row, _| row.set(1, "=B7")),
    ("an error value", Fate::Left, |row, _| row.set(1, "#REF!")),
    ("a solution of 80 symbols", Fate::Named, |row, _| row.set(2, &row.fields[2].clone()[1..])),
    ("a solution as a power of ten", Fate::Named, |row, _| row.set(2, "5.34678912672195E+80")),
    ("a solution of another size", Fate::Left, |row, _| row.set(2, "1".repeat(64))),
    ("a level that is no number", Fate::Named, |row, _| row.set(4, "medium")),
    ("a level with a decimal", Fate::Comes, |row, _| row.set(4, "3.0")),
    ("a number that became a date", Fate::Named, |row, _| row.set(5, "1/2/2025")),
    ("a row of totals", Fate::Left, |row, separator| {
        row.raw = Some(format!("Total {}{separator}2000", row.tag));
    }),
    ("a quote that is not closed", Fate::Named, |row, _| row.set(3, "\"Open Door")),
    ("a separator in a title without quotes", Fate::Named, |row, separator| {
        row.set(3, format!("Door{separator} Open"));
    }),
    ("a line of text", Fate::Left, |row, _| row.raw = Some(format!("printed by {}", row.tag))),
    ("sixteen by sixteen, in small letters", Fate::Comes, |row, _| {
        row.set(1, ".".repeat(255) + "g");
        row.set(2, "");
    }),
];

/// Classic 9x9 puzzles with one solution whose first cell is empty: givens and solution. From `tests/data/cases.tsv`.
fn puzzles() -> Vec<(String, String)> {
    let cases = std::fs::read_to_string("tests/data/cases.tsv").unwrap();
    let rows = cases.lines().map(|line| line.split('\t').collect::<Vec<_>>());
    let good =
        rows.filter(|row| row[1] == "9" && row[3] == "classic" && row[4] == "1" && row[5].starts_with('.'));
    good.map(|row| (row[5].to_owned(), row[6].to_owned())).collect()
}

fn spoilt_table_comes_out(separator: char) {
    let puzzles = puzzles();
    let mut numbers = Numbers(20_261_125);
    let mut text =
        String::from("\u{feff}Our volume;;;;;;\r\nid;givens;solution;title;level;number;remark\r\n")
            .replace(';', &separator.to_string());
    let first = ["everybody", GIVENS, "", "", "3"].join(&separator.to_string());
    writeln!(text, "{first}").unwrap();
    let mut line = 4;
    let mut rows = Vec::new();
    for at in 0..2000 {
        // Each kind is in it, then all in any order.
        let (name, fate, spoil) = DIRT[if at < DIRT.len() { at } else { numbers.below(DIRT.len()) }];
        let (givens, solution) = &puzzles[numbers.below(puzzles.len())];
        let tag = format!("t-{at:04}");
        let plain = [tag.as_str(), givens, solution, "Door", "3", "7", "r"].map(str::to_owned);
        let mut row = Dirty { tag, fields: plain, raw: None };
        spoil(&mut row, separator);
        let raw = row.raw.clone().unwrap_or_else(|| row.joined(separator));
        text.push_str(&raw);
        text.push_str(if numbers.below(3) == 0 { "\n" } else { "\r\n" });
        let meant = if name.starts_with("sixteen") { ".".repeat(255) + "G" } else { givens.clone() };
        rows.push((name, fate, row.tag, meant, line, raw.clone()));
        line += 1 + raw.matches('\n').count();
    }

    let imported = plainly(&text);
    assert_eq!(imported.forms[..], [Form::Table]);
    let stand = what_stands(&imported.text);
    let said_of = |first: usize, end: usize| {
        imported.troubles.iter().filter(move |trouble| (first..end).contains(&trouble.line))
    };
    let mut next = 0;
    for (at, (name, fate, tag, givens, line, raw)) in rows.iter().enumerate() {
        let end = rows.get(at + 1).map_or(usize::MAX, |row| row.4);
        let worst = said_of(*line, end).map(Trouble::effect).max();
        let told = || format!("{name}: {raw:?}: {:?}", said_of(*line, end).collect::<Vec<_>>());
        match fate {
            Fate::Comes => assert!(worst.is_none(), "{}", told()),
            Fate::Named => assert!(worst.is_some_and(|worst| worst < Effect::Left), "{}", told()),
            Fate::Left => assert_eq!(worst, Some(Effect::Left), "{}", told()),
            Fate::Perhaps | Fate::Comment | Fate::Gone => {
                assert!(worst.is_none_or(|worst| worst == Effect::NothingLost), "{}", told());
            }
        }
        // In order: each is found behind the one before it.
        let word = if fate == &Fate::Comment && !raw.contains(tag.as_str()) { raw } else { tag };
        if *fate == Fate::Gone || *name == "merged cells" && !raw.contains(tag.as_str()) {
            continue;
        }
        let found = stand[next..].iter().position(|it| it.text().contains(word.as_str()));
        next += found.unwrap_or_else(|| panic!("lost: {}", told()));
        match (&stand[next], fate) {
            (Stands::Comment(comment), Fate::Left | Fate::Comment) => {
                assert!(comment.ends_with(raw.as_str()), "{comment} is not {raw}");
            }
            (Stands::Puzzle { givens: came, .. }, Fate::Comes | Fate::Named | Fate::Perhaps) => {
                assert_eq!(came, givens, "{name}");
            }
            (other, _) => panic!("{}\nbecame {other:?}", told()),
        }
        next += 1;
    }
    let expected =
        rows.iter().filter(|row| matches!(row.1, Fate::Comes | Fate::Named | Fate::Perhaps)).count();
    assert_eq!(imported.puzzles, expected + 1);
    assert_eq!(imported.left, rows.iter().filter(|row| row.1 == Fate::Left).count());
}

#[test]
fn each_row_of_a_spoilt_table_comes_out_or_is_named() {
    spoilt_table_comes_out(';');
}

#[test]
fn each_row_of_a_spoilt_table_with_tabs_comes_out_or_is_named() {
    spoilt_table_comes_out('\t');
}

// Single forms.

#[test]
fn a_list_becomes_puzzles_with_their_ids() {
    let text =
        format!("# mine\n{GIVENS} a-1\n{GIVENS}\n{GIVENS} two words # soft\n{GIVENS} {SOLUTION} a-2\n");
    let imported = plainly(&text);
    assert_eq!(imported.forms[..], [Form::List]);
    let heads: Vec<&str> = imported.text.lines().filter(|line| !line.starts_with([' ', 'g'])).collect();
    let expected = [
        "notation 1",
        "",
        "# mine",
        "",
        "puzzle a-1",
        "",
        "puzzle puzzle-001",
        "",
        "# soft",
        "puzzle puzzle-002",
        "extra      id \"two words\"",
        "",
        "puzzle a-2",
        "solution",
    ];
    assert_eq!(heads, expected);
    assert_eq!(kinds(&imported), [&TroubleKind::IdUnfit { new: "puzzle-002".into() }]);
}

#[test]
fn lists_of_every_size_come_in() {
    for entry in std::fs::read_to_string("tests/data/cases.tsv").unwrap().lines().skip(1) {
        let row: Vec<&str> = entry.split('\t').collect();
        let imported = plainly(&format!("{} {}\n", row[5], row[0]));
        assert_eq!((imported.puzzles, imported.troubles.len()), (1, 0), "{entry}");
        let stand = what_stands(&imported.text);
        assert!(matches!(&stand[..], [Stands::Puzzle { givens, .. }] if givens == row[5]), "{entry}");
    }
}

#[test]
fn a_made_id_is_none_that_stands_further_down() {
    let how = ImportOptions { prefix: "b".into(), ..ImportOptions::default() };
    let imported = imported(&format!("{GIVENS}\n{GIVENS} b-001\n{GIVENS} b-001\n{GIVENS} b-001-2\n"), &how);
    let ids: Vec<&str> = imported.text.lines().filter_map(|line| line.strip_prefix("puzzle ")).collect();
    assert_eq!(ids, ["b-002", "b-001", "b-001-3", "b-001-2"]);
}

#[test]
fn several_texts_become_one_book() {
    let texts =
        [Foreign { name: "a.txt", text: "?? x\n" }, Foreign { name: "b.csv", text: "id;givens\nx;1\n" }];
    let imported = import(&texts, &ImportOptions::default());
    assert_eq!(imported.forms, [Form::List, Form::Table]);
    let places: Vec<(usize, usize)> = imported.troubles.iter().map(|it| (it.source, it.line)).collect();
    assert_eq!(places, [(0, 1), (1, 2)]);
    insta::assert_snapshot!(imported.text, @r"
    notation 1

    # a.txt, line 1, column 1: character 1 is '?'; a cell is a digit `1` to `9`, a letter `A` to `P`, or `.` or `0` if empty
    # ?? x

    # id;givens

    # b.csv, line 2, column 3: 1 symbol makes no square grid; 16 would
    # x;1
    ");
    let texts = [format!("{GIVENS} x"), format!("id,givens\nx,{GIVENS}")];
    let texts = [Foreign { name: "a", text: &texts[0] }, Foreign { name: "b", text: &texts[1] }];
    let imported = import(&texts, &ImportOptions::default());
    assert_eq!(
        (imported.puzzles, kinds(&imported)),
        (2, vec![&TroubleKind::IdRepeated { new: "x-2".into() }])
    );
}

#[test]
fn a_table_without_a_heading_is_told_what_to_say() {
    let text = format!("a;{GIVENS};{SOLUTION}\nb;{GIVENS};{SOLUTION}\n");
    let asked = plainly(&text);
    assert_eq!((asked.forms.as_slice(), asked.puzzles), (&[Form::Table][..], 0));
    assert_eq!(kinds(&asked), [&TroubleKind::NoHeading { columns: "id,givens,solution".into() }]);
    assert!(asked.text.contains(&format!("\n# b;{GIVENS}")));
    let how =
        ImportOptions { columns: Some("id,givens,solution".parse().unwrap()), ..ImportOptions::default() };
    let told = imported(&text, &how);
    assert_eq!((told.puzzles, told.troubles.len()), (2, 0));
}

#[test]
fn a_heading_further_down_may_name_other_columns() {
    let text = format!("id,givens\na,{GIVENS}\nTitle,Puzzle,Key\nDoor,{GIVENS},b\n");
    let imported = plainly(&text);
    assert_eq!(imported.puzzles, 2);
    assert!(imported.text.contains("\npuzzle b \"Door\"\n"));
    assert_eq!(kinds(&imported), [&TroubleKind::HeadingAgain]);
}

#[test]
fn lost_zeros_that_leave_another_size_are_named() {
    // 17 zeros lost at the front leave 64 symbols, which make an 8x8 grid.
    let short = format!("1{}", "0".repeat(63));
    let full = "0".repeat(17) + &short;
    let text = format!("id;givens\na;{full}\nb;{full}\nc;{short}\n");
    let imported = plainly(&text);
    assert_eq!(imported.puzzles, 3);
    assert!(matches!(kinds(&imported)[..], [TroubleKind::PerhapsShortened { .. }]));
}

#[test]
fn nothing_makes_an_empty_book() {
    for text in ["", "\u{feff}", "\n \r\n\t\n"] {
        let imported = plainly(text);
        assert_eq!((imported.text.as_str(), imported.puzzles, imported.left), ("notation 1\n", 0, 0));
    }
}

/// What is said of a text, as people read it.
fn said(text: &str) -> String {
    let mut said = String::new();
    for trouble in plainly(text).troubles {
        writeln!(said, "{}:{} {}", trouble.line, trouble.column, trouble.what()).unwrap();
        writeln!(said, "    {}", trouble.help()).unwrap();
    }
    said
}

#[test]
fn troubles_say_what_and_what_to_do() {
    let table = format!(
        "id;givens;solution;title\n\
         a;{GIVENS};;\n\
         b;{GIVENS};;\n\
         c;{};;\n\
         d;1.2E+80;;\n\
         e;{};;\n\
         a;{GIVENS};{};Again\n",
        &GIVENS.replace('.', "0")[..80],
        GIVENS.replacen('.', "O", 1),
        &SOLUTION[1..],
    );
    insta::assert_snapshot!(said(&table), @r"
    4:3 80 symbols make no square grid; 64 or 81 would
        most rows here have 81: if a spreadsheet dropped the zeros at its front, export again with the column set to text
    5:3 a spreadsheet took the grid for a number and kept only its first digits
        the rest is lost: take the grid from where it came from, into a column set to text
    6:5 character 3 is `O`, which stands for 24; a grid of size 9 holds 1 to 9
        if the letter was typed for a nought, write `0`; a letter is never taken for a digit unasked
    7:1 this id stands further up too; the puzzle is now `a-2`
        give one of the two puzzles another id
    7:85 the solution cannot be read and is kept as `extra solution`: 80 symbols make no square grid; 64 or 81 would
        write the whole solution, or leave the field empty
    ");
}

#[test]
fn a_level_that_is_left_out_once_is_told_of_its_row_alone() {
    let table = format!("id;givens;level\na;{GIVENS};3\nb;{GIVENS};\nc;{GIVENS};2\n");
    insta::assert_snapshot!(said(&table), @r"
    3:3 this row has no level, and the row above has one
        if these cells were merged, write the level into each row
    ");
}

#[test]
fn what_a_list_cannot_tell_is_told() {
    let four = "givens\n  1 . . .\n  . . . .\n  . . . .\n  . . . 2\n";
    let book = format!(
        "notation 1\nsize 4\nlevel 2\n\npuzzle a \"A\" \"B\"\nnumber 7\n{four}\npuzzle b\nrules diagonals\nlevel 3\n{four}\n\
         puzzle c\nsize 7\n{four}\npuzzle d\nregions\n  a a b b\n  a a b b\n  c c d d\n  c c d d\n{four}\n\
         puzzle e\ncage 5 r1c1 r1c2\n{four}\n\
         lesson l\n{four}\npart \"P\"\nlevel 5\n\npuzzle f\n{four}\n\
         answer a\n  1 2 3 4\n  3 4 1 2\n  2 1 4 3\n  4 3 2 1\n"
    );
    let workspace = Workspace::new(vec![Book::read("a.gset", &book)]);
    let outgoing = outgoing(&workspace);
    let lost: Vec<Vec<Loss>> = outgoing.iter().map(|it| it.lost.clone()).collect();
    let expected: [&[Loss]; 6] =
        [&[], &[Loss::Diagonals], &[Loss::Givens], &[Loss::Regions], &[Loss::Constraints], &[]];
    assert_eq!(lost, expected);
    let table = exported(outgoing.into_iter().filter_map(|it| it.row), Output::Csv);
    insta::assert_snapshot!(table, @r#"
    id,givens,solution,title,level,number
    a,1..............2,1234341221434321,"A
    B",2,7
    b,1..............2,,,3,
    d,1..............2,,,2,
    e,1..............2,,,2,
    f,1..............2,,,5,
    "#);
}

// The commands.

/// Runs the program on what stands on standard input: exit code, standard output, standard error.
fn ran(arguments: &[&str], input: &[u8]) -> (i32, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input).unwrap();
    let output = child.wait_with_output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn import_says_what_stays_a_comment() {
    let (code, out, err) =
        ran(&["import", "-", "--stdin-name", "cards"], format!("{GIVENS} a\n?\n").as_bytes());
    assert_eq!(code, 1);
    assert!(out.starts_with("notation 1\n\npuzzle a\ngivens\n  5 3 .  . 7"));
    assert!(out.ends_with("\n# ?\n"));
    assert!(err.starts_with("cards:2:1: error: character 1 is '?'"), "{err}");
    assert!(err.ends_with("1 puzzle from 1 file, 1 row kept as comments\n"), "{err}");
    let (code, out, err) = ran(&["import", "-"], b"a\nb\xff\n");
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.starts_with("gridsetter: <stdin>: line 2 is not UTF-8 text; "), "{err}");
    let (code, ..) = ran(&["import", "--columns", "id,title", "-"], b"");
    assert_eq!(code, 2);
}

#[test]
fn what_import_writes_export_reads() {
    let list = format!("{GIVENS} a\n{GIVENS} b\n");
    let (code, book, _) = ran(&["import", "-q", "-"], list.as_bytes());
    assert_eq!(code, 0);
    assert_eq!(ran(&["export", "-q", "-"], book.as_bytes()), (0, list, String::new()));
    let table = format!("id\tgivens\tsolution\ttitle\tlevel\tnumber\na\t{GIVENS}\t\t\t\t\n");
    assert_eq!(
        ran(&["export", "-q", "--to", "tsv", "--id", "a", "-"], book.as_bytes()),
        (0, table, String::new())
    );
}

// Laws.

/// Lines that look like all that may stand in such files.
fn foreign_line() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(GIVENS.to_owned()),
        Just(format!("{GIVENS} x-1")),
        Just(format!("x;{GIVENS};{SOLUTION}")),
        Just("id;givens;solution;title".to_owned()),
        Just("53..7....".to_owned()),
        Just("|5 3 .|. 7 .|. . .|".to_owned()),
        Just("+---+---+---+".to_owned()),
        Just(String::new()),
        "[0-9.]{9}",
        "[0-9A-Pa-p._*-]{0,90}",
        "[a-z0-9;,\t\"#'= .|]{0,30}",
        any::<String>().prop_map(|text| text.replace(['\n', '\r'], "")),
    ]
}

/// A line as it is compared: of what a comment cannot show, only that something stands there.
fn comparable(line: &str) -> String {
    let blank = |c: char| {
        c.is_whitespace()
            || c.is_control()
            || "\u{ad}\u{200b}\u{200c}\u{200d}\u{200e}\u{200f}\u{2060}\u{feff}\u{fffd}".contains(c)
    };
    let picture = |c: char| ('\u{2400}'..='\u{2421}').contains(&c);
    line.chars().filter(|&c| !blank(c) && !picture(c)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn of_any_text_each_line_is_a_puzzle_or_a_comment(
        lines in prop::collection::vec(foreign_line(), 0..30),
        form in prop::option::of(prop_oneof![Just(Form::List), Just(Form::Grids), Just(Form::Table)]),
    ) {
        let text = lines.join("\n");
        let imported = imported(&text, &ImportOptions { form, ..ImportOptions::default() });
        let stand = what_stands(&imported.text);
        let mut next = 0;
        for line in lines.iter().map(|line| comparable(line)).filter(|line| !line.is_empty() && !is_drawing(line)) {
            // What a line says stands in a comment, or has become a puzzle (whose symbols are written apart).
            let holds = |it: &Stands| match it {
                Stands::Comment(comment) => comparable(comment).ends_with(&line),
                Stands::Puzzle { .. } => false,
            };
            match stand[next..].iter().position(holds) {
                Some(at) => next += at + 1,
                None => prop_assert!(imported.puzzles > 0, "{:?} is lost:\n{}", line, imported.text),
            }
        }
    }

    #[test]
    fn of_a_list_each_line_is_a_puzzle_or_a_named_comment(
        lines in prop::collection::vec("[1-9.]{81}|[1-9.]{80}|[a-z]{1,20}|[1-9.]{81} [a-z]{1,5}", 1..30),
    ) {
        let imported = imported(&lines.join("\n"), &ImportOptions { form: Some(Form::List), ..ImportOptions::default() });
        let mut stand = what_stands(&imported.text).into_iter();
        for (line, number) in lines.iter().zip(1..) {
            let left = imported.troubles.iter().any(|it| it.line == number && it.effect() == Effect::Left);
            if left {
                prop_assert!(matches!(stand.next(), Some(Stands::Comment(_))), "the reason");
                let Some(Stands::Comment(comment)) = stand.next() else { panic!("{line} is lost") };
                prop_assert_eq!(comment, format!("# {line}"));
            } else {
                let Some(Stands::Puzzle { givens, .. }) = stand.next() else { panic!("{line} is lost") };
                prop_assert_eq!(givens, &line[..81]);
            }
        }
        prop_assert!(stand.next().is_none());
    }

    #[test]
    fn what_is_exported_comes_back(
        titles in prop::collection::vec("([A-Za-z\";,\\\\#'é]( ?[A-Za-z\";,\\\\#'é]){0,8}(\nx)?)?", 1..8),
        output in prop_oneof![Just(Output::List), Just(Output::Csv), Just(Output::Tsv)],
    ) {
        let rows: Vec<Row> = titles.iter().zip(1..).map(|(title, n)| Row {
            id: format!("x-{n}"),
            title: title.clone(),
            givens: GIVENS.into(),
            solution: if n % 2 == 0 { SOLUTION.into() } else { String::new() },
            level: if n % 3 == 0 { "4".into() } else { String::new() },
            number: n.to_string(),
        }).collect();
        let imported = plainly(&exported(rows.clone(), output));
        prop_assert_eq!((imported.puzzles, imported.left), (rows.len(), 0));
        let workspace = Workspace::new(vec![Book::read("out.gset", &imported.text)]);
        for ((_, _, puzzle), row) in workspace.puzzles().zip(&rows) {
            prop_assert_eq!(&puzzle.id.as_ref().unwrap().text, &row.id);
            prop_assert_eq!(puzzle.givens.as_ref().unwrap().grid.to_string(), row.givens.clone());
            if output != Output::List {
                prop_assert_eq!(puzzle.title.join("\n"), row.title.clone());
                prop_assert_eq!(puzzle.solution.as_ref().map_or(String::new(), |it| it.grid.to_string()), row.solution.clone());
                prop_assert_eq!(puzzle.facts.number.as_ref().unwrap().value.to_string(), row.number.clone());
            }
        }
    }
}

/// Whether a line only draws, in a grid or in a table: it says nothing that could be lost.
fn is_drawing(line: &str) -> bool {
    line.chars().all(|c| "+-=|;,\t\"'".contains(c) || ('\u{2500}'..='\u{257f}').contains(&c))
}

// Much at once.

#[test]
fn absurd_texts_are_read_too() {
    let texts = [
        "1".repeat(2_000_000),
        ";".repeat(2_000_000),
        "\"".repeat(2_000_000),
        "id;givens\n\"".to_owned() + &"1;\n".repeat(100_000),
        "53..7....\n\n".repeat(50_000),
        "x\n".repeat(50_000),
        "id;givens\n".repeat(50_000),
        format!("{GIVENS} a\n").repeat(5_000),
    ];
    for text in texts {
        for form in [None, Some(Form::List), Some(Form::Grids), Some(Form::Table)] {
            let imported = import(
                &[Foreign { name: "in", text: &text }],
                &ImportOptions { form, ..ImportOptions::default() },
            );
            assert!(imported.puzzles + imported.left > 0 || imported.text.len() > text.len());
        }
    }
}
