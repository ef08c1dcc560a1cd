//! Text in, meaning out.

use super::*;
use crate::board::Cell;
use std::fmt::Write as _;

/// The meaning of each file, an item a line, and below each section what has no meaning, with its place.
fn meaning_of_all(files: &[(&str, &str)]) -> String {
    let read = |&(name, text): &(&str, &str)| {
        if name == "list" { Book::read_list(name, text) } else { Book::read(name, text) }
    };
    let workspace = Workspace::new(files.iter().map(read).collect());
    let mut shown = String::new();
    for (id, section, meaning) in workspace.sections() {
        for entry in &meaning.entries {
            let _ = match entry {
                Entry::Preface => Ok(()),
                Entry::Part => writeln!(shown, "part"),
                Entry::Puzzle(puzzle) => writeln!(shown, "{}", show_puzzle(puzzle)),
                Entry::Answer(answer) => {
                    let id = answer.id.as_ref().map_or("?", |id| &id.text);
                    let layout = workspace.find(id).and_then(|(_, puzzle)| puzzle.layout.clone());
                    let board = layout.and_then(|layout| answer.board(section, &layout).ok().flatten());
                    let grid = board.map_or("no grid".to_owned(), |board| board.grid.to_string());
                    writeln!(shown, "answer {id}: {grid}")
                }
            };
        }
        let of_answers = workspace.answer_faults().iter().filter(|(section, _)| *section == id);
        for fault in meaning.faults.iter().chain(of_answers.map(|(_, fault)| fault)) {
            let before = &section.text[..fault.span.start as usize];
            let base: usize =
                workspace.books[id.book].tree.placed().nth(id.section).map_or(0, |(base, _)| base);
            let above = &workspace.books[id.book].tree.to_string()[..base];
            let line = above.matches('\n').count() + before.matches('\n').count() + 1;
            let kind = format!("{:?}", fault.kind);
            let _ = writeln!(shown, "  line {line} `{}` {kind}", section.at(fault.span));
        }
    }
    shown
}

fn meaning_of(text: &str) -> String {
    meaning_of_all(&[("test.gset", text)])
}

fn show_puzzle(puzzle: &Puzzle) -> String {
    let mut shown = if puzzle.lesson { "lesson".to_owned() } else { "puzzle".to_owned() };
    let mut add = |part: &str| {
        shown.push(' ');
        shown.push_str(part);
    };
    add(puzzle.id.as_ref().map_or("-", |id| &id.text));
    puzzle.title.iter().for_each(|line| add(&format!("{line:?}")));
    if puzzle.unsure {
        add("unsure");
    }
    if let Some(layout) = &puzzle.layout {
        let blocks = layout.boxes().map_or("regions".to_owned(), |boxes| boxes.to_string());
        add(&format!("{} {blocks}", layout.size()));
        if layout.diagonals() {
            add("diagonals");
        }
        for house in &puzzle.facts.houses {
            add(&format!("house {}", house.value.name));
        }
    } else {
        add("no layout");
    }
    let facts = &puzzle.facts;
    let own = |own: bool| if own { "" } else { " by default" };
    if let Some(marks) = &facts.marks {
        add(&format!("marks {:?}{}", marks.value, own(marks.own)));
    }
    if let Some(clues) = &facts.clues {
        add(&format!("clues {}-{}{}", clues.value.0, clues.value.1, own(clues.own)));
    }
    if let Some(symmetry) = &facts.symmetry {
        add(&format!("{}{}", symmetry.value.word(), own(symmetry.own)));
    }
    if let Some(minimal) = &facts.minimal {
        add(&format!("minimal{}", own(minimal.own)));
    }
    if let Some(number) = &facts.number {
        add(&format!("number {}{}", number.value, own(number.own)));
    }
    for (name, board) in
        [("givens", &puzzle.givens), ("position", &puzzle.position), ("solution", &puzzle.solution)]
    {
        if let Some(board) = board {
            add(&format!("{name} {}", board.grid));
        }
    }
    for sheet in &puzzle.sheets {
        add("work");
        add(sheet.name.as_deref().unwrap_or("-"));
        let tokens: Vec<String> = sheet.tokens.iter().map(Token::to_string).collect();
        add(&tokens.join(" "));
    }
    puzzle.points.iter().for_each(|point| add(&format!("point {}", point.text)));
    match puzzle.facts.constraints {
        Constraints::None => {}
        Constraints::Unreadable => add("unreadable constraints"),
        Constraints::Unused => add(&format!("{} unused constraints", puzzle.unused_constraints.len())),
    }
    shown
}

const FOUR: &str = "givens\n  1 .  . 4\n  . .  . .\n  . .  . .\n  2 .  . 3\n";

#[test]
fn layouts_of_a_grid_are_read_alike() {
    let rows = ["1 .  . 4", "1__4", "10 | 04", "1. .4 # rows may be commented"];
    for row in rows {
        let text = format!("size 4\npuzzle a\ngivens\n  {row}\n  +--+--+\n  ....\n\n  . . . .\n\n  2..3\n");
        assert_eq!(meaning_of(&text), "puzzle a 4 2x2 givens 1..4........2..3\n", "{row}");
    }
}

#[test]
fn defaults_flow_from_the_preface_and_from_each_part() {
    let text = format!(
        "size 4\nclues 1-9\nmarks by-box\n\npart one\nclues 4\nminimal\npuzzle a\n{FOUR}puzzle b\nclues 2\n{FOUR}\
         part two\nsymmetry half-turn\npuzzle c\nnumber 3\n{FOUR}"
    );
    let expected = "\
part
puzzle a 4 2x2 marks ByBox by default clues 4-4 by default minimal by default givens 1..4........2..3
puzzle b 4 2x2 marks ByBox by default clues 2-2 minimal by default givens 1..4........2..3
part
puzzle c 4 2x2 marks ByBox by default clues 1-9 by default half-turn by default number 3 givens 1..4........2..3
";
    assert_eq!(meaning_of(&text), expected);
}

#[test]
fn a_complete_grid_tells_its_size() {
    let text = format!("puzzle a\n{FOUR}puzzle b\n{FOUR}");
    let expected = "\
puzzle a 4 2x2 givens 1..4........2..3
  line 2 `givens` SizeUnsaid(4)
puzzle b 4 2x2 givens 1..4........2..3
  line 8 `givens` SizeUnsaid(4)
";
    assert_eq!(meaning_of(&text), expected);
    let one_row_short = FOUR.replace("  . .  . .\n  . .  . .\n", "  . .  . .\n");
    assert_eq!(
        meaning_of(&format!("puzzle a\n{one_row_short}")),
        "puzzle a 9 3x3\n  line 3 `1 .  . 4` RowLength { found: 4, needed: 9, sheet: false }\n"
    );
}

#[test]
fn shape_comes_before_all_else_and_a_run_is_one_fault() {
    let faults = |rows: &[&str]| {
        let rows: String = rows.iter().flat_map(|row| ["  ", row, "\n"]).collect();
        let shown = meaning_of(&format!("size 4\npuzzle a\ngivens\n{rows}"));
        shown.strip_prefix("puzzle a 4 2x2\n").map(str::to_owned).unwrap_or(shown)
    };
    let length = |line, row, found| {
        format!("  line {line} `{row}` RowLength {{ found: {found}, needed: 4, sheet: false }}\n")
    };
    assert_eq!(faults(&["1..4", "...", "..", "2..3"]), length(5, "...", 3));
    assert_eq!(faults(&["1..4", "...", ".....", "2..3"]), length(5, "...", 3) + &length(6, ".....", 5));
    assert_eq!(faults(&["1..", "....", "2.."]), length(4, "1..", 3) + &length(6, "2..", 3));
    assert_eq!(faults(&["1..4", "...9"]), "  line 5 `...9` RowsMissing { found: 2, needed: 4 }\n");
    assert_eq!(
        faults(&["1..4", "....", "....", "...9", "2..3", "...."]),
        "  line 8 `2..3` RowsExtra { found: 6, needed: 4 }\n"
    );
    assert_eq!(
        faults(&["5.64", "...9", "....", "..Z."]),
        "  line 4 `5` SymbolOutside('5', 4)\n  line 7 `Z` SymbolOutside('Z', 4)\n"
    );
    assert_eq!(faults(&["1..4", "..?.", "....", "...."]), "", "what cannot be read is said by reading alone");
}

#[test]
fn a_puzzle_still_to_come_is_no_fault() {
    assert_eq!(meaning_of("puzzle a\n"), "puzzle a 9 3x3\n");
    assert_eq!(meaning_of("size 7\npuzzle a\nlevel 2\ngivens\n"), "puzzle a no layout\n");
    assert_eq!(
        meaning_of("puzzle a \"T\"\nlevel 2\n"),
        "puzzle a \"T\" 9 3x3\n  line 1 `puzzle a \"T\"` GridMissing\n"
    );
    assert_eq!(
        meaning_of("puzzle a\ngivens\nlevel 2\n"),
        "puzzle a 9 3x3\n  line 2 `givens` RowsMissing { found: 0, needed: 9 }\n"
    );
    assert_eq!(meaning_of("lesson a\nteaches counting\nnote\n  Look.\n"), "lesson a 9 3x3\n");
}

#[test]
fn sheets() {
    let work = |rows: &str| {
        let shown = meaning_of(&format!("size 4\npuzzle a\n{FOUR}work half \"T\"\n{rows}"));
        shown.strip_prefix("puzzle a 4 2x2 givens 1..4........2..3").map(str::to_owned).unwrap_or(shown)
    };
    let read = " work half 1 23 2? 4 34! . . . . . . . 2 . . 3\n";
    assert_eq!(work("  1 32 2? 4\n  3! . . .\n  . . . .\n  2 . . 3\n"), read.replace("34!", "3!"));
    assert_eq!(work("  1 23 2? 4\n  3! . . .\n  ....\n  2. .3\n"), read.replace("34!", "3!"));
    let fault = |rows: &str| work(rows).trim().to_owned();
    let rest = "  . . . .\n  . . . .\n  2 . . 3\n";
    assert_eq!(
        fault(&format!("  1 34! 2? 4\n{rest}")),
        "line 9 `34!` MarkUnreadable(\"`!` says that a cell's digit is known, and here are 2\")"
    );
    assert_eq!(fault(&format!("  1 33 2? 4\n{rest}")), "line 9 `33` MarkUnreadable(\"it names 3 twice\")");
    assert_eq!(fault(&format!("  1 35 2? 4\n{rest}")), "line 9 `5` SymbolOutside('5', 4)");
    assert_eq!(fault(&format!("  1 3 2?4\n{rest}")), "", "what is no token is said by reading alone");
    assert_eq!(
        fault(&format!("  1 3 24\n{rest}")),
        "line 9 `1 3 24` RowLength { found: 3, needed: 4, sheet: true }"
    );
}

#[test]
fn boxes_regions_and_extra_houses() {
    let regions = "regions\n  A A B B\n  A A B B\n  C C D D\n  C C D D\n";
    let puzzle = |facts: &str| meaning_of(&format!("puzzle a\nsize 4\n{facts}{FOUR}"));
    let grid = "givens 1..4........2..3";
    assert_eq!(puzzle(regions), format!("puzzle a 4 regions {grid}\n"));
    assert_eq!(
        puzzle("rules diagonals\nhouse middle r2c2..r3c3\n"),
        format!("puzzle a 4 2x2 diagonals house middle {grid}\n")
    );
    for (facts, fault) in [
        (
            "boxes 2x3\n",
            "line 3 `boxes 2x3` ValueUnreadable(Boxes, \"rows x columns of one box, which holds 4 cells at size 4, such as `2x2`\")",
        ),
        (
            "boxes 2by2\n",
            "line 3 `2by2` ValueUnreadable(Boxes, \"rows x columns of one box, such as `2x3`\")",
        ),
        ("rules knights\n", "line 3 `knights` ValueUnreadable(Rules, \"`diagonals` or `none`\")"),
        (
            "house middle r2c2..r3c4\n",
            "line 3 `house middle r2c2..r3c4` ConstraintUnreadable(House, \"house middle has 6 different cells, but at size 4 it needs 4\")",
        ),
        ("house middle r2c2..r3c5\n", "line 3 `r3c5` CellOutside(4)"),
        (
            "house Middle r2c2..r3c3\n",
            "line 3 `Middle` ConstraintUnreadable(House, \"its name must be two small letters or more and figures behind them at most, and no word of claims\")",
        ),
        (
            "house box r2c2..r3c3\n",
            "line 3 `box` ConstraintUnreadable(House, \"its name must be two small letters or more and figures behind them at most, and no word of claims\")",
        ),
        ("size 1 0\n", "line 3 `1 0` ValueUnreadable(Size, \"a whole number from 4 to 25\")"),
        (
            &regions.replace("D D\n", "D .\n"),
            "line 6 `.` RegionsShape(\"this cell belongs to no region: each needs a letter\")",
        ),
        (
            &regions.replace("A A B B\n  A A", "A A B A\n  A B"),
            "line 4 `A` RegionsShape(\"region A is in 2 pieces: r1c4 is cut off from the rest\")",
        ),
        (
            &regions.replace("A A B B\n", "A A A B\n"),
            "line 3 `regions` RegionsShape(\"region A has 6 cells, but should have 4; region B has 2 cells, but should have 4\")",
        ),
        (
            &format!("boxes 2x2\n{regions}"),
            "line 3 `boxes 2x2` ValueUnreadable(Boxes, \"left out, because `regions` take the place of boxes\")",
        ),
    ] {
        assert_eq!(puzzle(facts), format!("puzzle a no layout\n  {fault}\n"));
    }
    assert_eq!(
        meaning_of("puzzle a\nsize 7\ngivens\n  .......\n"),
        "puzzle a no layout\n  line 2 `size 7` BoxesUnsaid(7)\n"
    );
}

#[test]
fn extra_houses_without_end_are_one_fault() {
    let mut houses = String::new();
    for number in 1..=300 {
        let _ = writeln!(houses, "house window{number} r1c1..r1c4");
    }
    let expected = "puzzle a no layout\n  line 103 `house window101 r1c1..r1c4` \
                    ConstraintUnreadable(House, \"a puzzle can have a hundred extra houses, and has them already\")\n";
    assert_eq!(meaning_of(&format!("puzzle a\nsize 4\n{houses}{FOUR}")), expected);
}

#[test]
fn default_geometry_holds_for_the_boards_that_it_fits() {
    let six = ". . . . . .\n  ".repeat(6);
    let text = format!(
        "boxes 3x2\nhouse middle r2c2..r3c4\n\npuzzle a\nsize 6\ngivens\n  {six}\npuzzle b\nsize 4\n{FOUR}"
    );
    let expected = format!(
        "puzzle a 6 3x2 house middle givens {}\npuzzle b 4 2x2 givens 1..4........2..3\n",
        ".".repeat(36)
    );
    assert_eq!(meaning_of(&text), expected);
    assert_eq!(
        meaning_of("house middle r2c2..r3c3\n"),
        "  line 1 `house middle r2c2..r3c3` ConstraintUnreadable(House, \"house middle has 4 different cells, but at size 9 it needs 9\")\n"
    );
}

#[test]
fn values_are_held_to_what_they_can_be() {
    let good = "notation 1\nvolume 41\nedition 2\nstatus printed 2024-02-29\nids lk-001\nnumbers from 1\n\
                language de-CH\nnaming D1\npage 2x3\nanswers facing\nladder evening\nmarks free\nlevels 1-2\n\
                series Lantern Street\nsetter Nour Hadley\n";
    assert_eq!(meaning_of(good), "");
    for bad in [
        "notation 2",
        "volume one",
        "edition -1",
        "status finished",
        "status printed 2023-02-29",
        "ids lk",
        "ids lk-1 lk-2",
        "numbers 1",
        "language 12",
        "naming rows",
        "page 2",
        "answers later",
        "ladder two words",
        "marks none",
        "levels 4-2",
        "levels 0-2",
        "level three",
        "level 0",
        "symmetry sideways",
        "clues many",
        "clues 30-20",
        "scanning held many",
        "scanning 3",
        "date 2025-13-01",
        "tested yesterday \"Ida\"",
        "revised 2025-1-1 \"x\"",
        "size 26",
        "size 3",
        "size nine",
        "from",
        "number one",
        "needs crossing",
    ] {
        let shown = meaning_of(&format!("puzzle a\n{bad}\n{FOUR}"));
        let expected = usize::from(bad != "from");
        assert_eq!(shown.matches("ValueUnreadable").count(), expected, "{bad}: {shown}");
    }
}

#[test]
fn names_of_patterns_are_looked_up() {
    let text = format!("size 4\npuzzle a\nneeds Naked Pairs, hidden pears, magic\nteaches crossing\n{FOUR}");
    let expected = "\
puzzle a 4 2x2 givens 1..4........2..3
  line 3 `hidden pears` PatternUnknown(\"hidden pears\", Some(\"hidden pair\"))
  line 3 `magic` PatternUnknown(\"magic\", None)
";
    assert_eq!(meaning_of(&text), expected);
}

#[test]
fn constraints_are_understood_and_not_used() {
    let good = "cage 15 r1c1 r1c2 r2c1\ncage r1c1..r2c2\nsum 5 r1c1 r1c2\nthermometer r3c1..r3c4 r4c4\n\
                arrow r1c1 : r1c2 r1c3\nodd r1c4 r2c2\nless r1c1 r1c2\ndiffer 2 r1c1 r1c2\n";
    let puzzle = |facts: &str| {
        let shown = meaning_of(&format!("size 4\npuzzle a\n{facts}{FOUR}"));
        shown.strip_prefix("puzzle a 4 2x2 givens 1..4........2..3 ").map(str::to_owned).unwrap_or(shown)
    };
    assert_eq!(puzzle(good), "8 unused constraints\n");
    for (bad, fault) in [
        (
            "cage 15",
            "line 3 `15` ConstraintUnreadable(Cage, \"it needs a sum, which may be left out, and its cells\")",
        ),
        ("sum r1c1 r1c2", "line 3 `r1c1 r1c2` ConstraintUnreadable(Sum, \"it needs a sum and its cells\")"),
        ("odd 3 r1c1", "line 3 `3` ConstraintUnreadable(Odd, \"no number belongs here: it needs cells\")"),
        (
            "less r1c1 r1c2 r1c3",
            "line 3 `less r1c1 r1c2 r1c3` ConstraintUnreadable(Less, \"it needs two cells, the one with the smaller digit first\")",
        ),
        (
            "arrow r1c1 r1c2",
            "line 3 `r1c1 r1c2` ConstraintUnreadable(Arrow, \"it needs the cells of the circle, a colon, and the cells of the shaft\")",
        ),
        ("even here", "line 3 `here` ConstraintUnreadable(Even, \"it needs cells\")"),
        ("odd r1c5", "line 3 `r1c5` CellOutside(4)"),
    ] {
        assert_eq!(puzzle(&format!("{bad}\n")), format!("unreadable constraints\n  {fault}\n"));
    }
    for (preface, shown) in [
        ("less r1c1 r1c2", "1 unused constraints"),
        ("size 4\nless r1c1 r1c2 r1c3", "unreadable constraints"),
    ] {
        let text = format!("{preface}\npuzzle a\n{FOUR}");
        assert!(meaning_of(&text).contains(shown), "what holds by default holds here too");
    }
}

#[test]
fn claims_name_what_the_board_has() {
    let text = format!(
        "size 4\npuzzle a\n{FOUR}known\n  row 5 misses 1\n  row 6 misses 1\n  r1c2 = 7\nsteps\n  \
         > See {{r1c5}}, {{box 9}}, {{magic trick}}.\n  r1c2 = 2 by crossing in col 7\n  r1c3 = 3 by hidden pears\n  \
         show shade diagonal 1\n  point here\nnote\n  Go to {{b}} or {{hidden pair}}.\n"
    );
    let expected = "\
puzzle a 4 2x2 givens 1..4........2..3 point here
  line 9 `5` HouseUnknown(Row(5))
  line 11 `7` DigitOutside('7', 4)
  line 13 `r1c5` CellOutside(4)
  line 14 `7` HouseUnknown(Column(7))
  line 15 `hidden pears` PatternUnknown(\"hidden pears\", Some(\"hidden pair\"))
  line 16 `1` HouseUnknown(Diagonal(1))
";
    assert_eq!(meaning_of(&text), expected);
    let words = meaning_of("text\n  See {magic trick}.\n");
    assert_eq!(words, "  line 2 `magic trick` ReferenceUnknown(\"magic trick\")\n");
}

#[test]
fn answers_are_read_by_the_size_of_their_puzzle() {
    let puzzle = format!("puzzle a\nsize 4\n{FOUR}");
    let answers =
        "answer a\n  1234\n  3412\n  4321\n  2143\nanswer a\n  123\n  3412\n  4321\n  2143\nanswer b\n  1\n";
    let expected = "\
answer a: 1234341243212143
answer a: no grid
  line 7 `123` RowLength { found: 3, needed: 4, sheet: false }
answer b: no grid
puzzle a 4 2x2 givens 1..4........2..3
";
    assert_eq!(meaning_of_all(&[("answers.gset", answers), ("puzzles.gset", &puzzle)]), expected);
}

#[test]
fn lists_tell_their_size_by_their_symbols() {
    let list = "# by hand\n1..4........2..3 one\n\n...............\n1..5............ x\n................................................. seven\n";
    let expected = "\
puzzle one 4 2x2 givens 1..4........2..3
puzzle - no layout
  line 4 `...............` ListLength(15)
puzzle x 4 2x2
  line 5 `5` SymbolOutside('5', 4)
puzzle seven no layout
  line 6 `.................................................` ListLength(49)
";
    assert_eq!(meaning_of_all(&[("list", list)]), expected);
}

#[test]
fn places_of_cells() {
    let text = format!("size 4\npuzzle a\n{FOUR}work\n  1 23 2? 4\n  ....\n  .. 3.\n  2 . . 3\n");
    let workspace =
        Workspace::new(vec![Book::read("a.gset", &text), Book::read_list("l", "1..4........2..3 b\n")]);
    let (id, puzzle) = workspace.find("a").unwrap();
    let section = workspace.section(id);
    let (board, sheet) = (puzzle.givens.as_ref().unwrap(), &puzzle.sheets[0]);
    let size = board.grid.size();
    let shown: String = size.all_cells().map(|cell| section.at(board.place(section, cell))).collect();
    assert_eq!(shown, board.grid.to_string());
    let tokens: Vec<&str> = size.all_cells().map(|cell| section.at(sheet.place(section, cell))).collect();
    assert_eq!(tokens.join(" "), "1 23 2? 4 . . . . . . 3 . 2 . . 3");
    assert_eq!(sheet.token(Cell::new(0, 1)).to_string(), "23");
    let (id, puzzle) = workspace.find("b").unwrap();
    let section = workspace.section(id);
    let place = puzzle.givens.as_ref().unwrap().place(section, Cell::new(3, 3));
    assert_eq!((section.at(place), place.start), ("3", 15));
}

#[test]
fn puzzles_of_one_geometry_share_a_layout() {
    let text = format!("size 4\npuzzle a\n{FOUR}puzzle b\n{FOUR}puzzle c\nrules diagonals\n{FOUR}");
    let workspace = Workspace::new(vec![Book::read("a.gset", &text)]);
    let layout = |id: &str| workspace.find(id).unwrap().1.layout.clone().unwrap();
    assert!(std::sync::Arc::ptr_eq(&layout("a"), &layout("b")));
    assert_ne!(layout("a"), layout("c"));
}

#[test]
fn verdicts() {
    let verdict = |facts: &str, givens: &str| {
        let rows: String = givens.split('/').flat_map(|row| ["  ", row, "\n"]).collect();
        let workspace =
            Workspace::new(vec![Book::read("a.gset", &format!("puzzle a\nsize 4\n{facts}givens\n{rows}"))]);
        match workspace.find("a").unwrap().1.verdict() {
            Verdict::NotJudged => "not judged".to_owned(),
            Verdict::Clash(clashes) => format!("{} clashes", clashes.len()),
            Verdict::NoSolution(None) => "no solution".to_owned(),
            Verdict::NoSolution(Some(_)) => "no solution, plainly".to_owned(),
            Verdict::One(grid) => grid.to_string(),
            Verdict::Several(outcome) => format!("{} solutions", outcome.count),
            Verdict::Undecided(_) => "undecided".to_owned(),
        }
    };
    assert_eq!(verdict("", "1234/3412/43../...."), "1234341243212143");
    assert_eq!(verdict("", "1.1./..../..../...."), "1 clashes");
    assert_eq!(verdict("", "123./...4/..../...."), "no solution, plainly");
    // 288 grids of this size: the published count, see `tests/` for its source.
    assert_eq!(verdict("", "..../..../..../...."), "288 solutions");
    assert_eq!(verdict("less r1c1 r1c2\n", "1234/3412/43../...."), "not judged");
    assert_eq!(verdict("", "1234/3412/43../..."), "not judged");
}

#[test]
fn a_puzzle_is_searched_once() {
    let workspace = Workspace::new(vec![Book::read("a.gset", &format!("size 4\npuzzle a\n{FOUR}"))]);
    let (_, puzzle) = workspace.find("a").unwrap();
    assert!(matches!(puzzle.verdict(), Verdict::Several(_)));
    assert!(std::ptr::eq(puzzle.verdict(), puzzle.verdict()));
}

#[test]
fn references_by_id() {
    let text =
        "lesson a\nfrom b at here\nnote\n  Try {b}, {c at there}, {hidden pair} or {row 1}.\nanswer b\n  1\n";
    let workspace = Workspace::new(vec![Book::read("a.gset", text)]);
    let shown: Vec<String> = workspace
        .references()
        .map(|it| {
            let section = workspace.section(it.spot.section);
            assert_eq!(section.at(it.spot.span), it.id);
            format!("{:?} {} {}", it.by, it.id, it.point.map_or("-", |(point, _)| point))
        })
        .collect();
    assert_eq!(shown, ["From b here", "Brace b -", "Brace c there", "Answer b -"]);
}

/// Where the texts of the property below come from: lines that make and break sections, defaults and what leans on them.
const PIECES: &[&str] = &[
    "puzzle a-1 \"One\"",
    "puzzle a-2",
    "lesson l-1",
    "part \"Two\"",
    "answer a-1",
    "size 4",
    "size 6",
    "boxes 2x3",
    "clues 4-6",
    "givens",
    "  1 . . 4",
    "  1.4.",
    "work",
    "allow not-minimal \"so\"",
    "note",
    "  see {a-1} é 🂡",
    "# puzzle",
    "p",
    "uzzle x",
    "\r",
    "\n",
    "\r\n",
    "\n",
    " ",
    "",
];

fn pieces(most: usize) -> impl proptest::strategy::Strategy<Value = String> {
    use proptest::prelude::*;
    prop::collection::vec(prop::sample::select(PIECES), 0..most).prop_map(|pieces| pieces.join("\n"))
}

proptest::proptest! {
    /// A change costs what it touches, and comes to the same as reading everything again.
    #[test]
    fn an_edited_book_is_the_book_of_the_edited_text(
        before in pieces(20), edits in proptest::collection::vec((0_usize..500, 0_usize..60, pieces(5)), 1..5),
    ) {
        let mut text = before;
        let mut book = Book::read("test.gset", &text);
        for (start, len, new) in edits {
            let start = text.floor_char_boundary(start.min(text.len()));
            let end = text.floor_char_boundary((start + len).min(text.len())).max(start);
            text.replace_range(start..end, &new);
            let old = book.clone();
            let touched = book.edit(start..end, &new);
            let whole = Book::read("test.gset", &text);
            let known = |book: &Book| {
                let parts: Vec<_> = (0..book.meanings.len()).map(|at| (book.begin(at), book.part_of(at))).collect();
                format!("{:?} {:?} {parts:?}", book.tree, book.meanings)
            };
            proptest::prop_assert_eq!(known(&book), known(&whole));
            for at in 0..book.meanings.len() {
                let before = text[..book.begin(at)].replace("\r\n", "\n").replace('\r', "\n");
                let lines = before.matches('\n').count();
                proptest::prop_assert_eq!(book.lines_before(at) as usize, lines);
                // There may be nothing before the first head; then both begin at once.
                let beside = at + usize::from(book.tree.sections[at].text.is_empty() && at + 1 < book.meanings.len());
                proptest::prop_assert_eq!(book.section_with(book.lines_before(at)), beside);
            }
            proptest::prop_assert_eq!(touched.old.start, touched.new.start);
            if !touched.parts_moved {
                // The parts within the change count as one: what is accepted in them is told anew in any case.
                let part = |of: &Book, at: usize, range: &std::ops::Range<usize>| match of.part_of(at) {
                    Some(part) if range.contains(&part) => Some(None),
                    Some(part) => Some(Some(if part < range.start { part } else { part - range.end + range.start })),
                    None => None,
                };
                for at in 0..old.meanings.len() - touched.old.end {
                    let (before, now) = (touched.old.end + at, touched.new.end + at);
                    proptest::prop_assert_eq!(
                        part(&old, before, &touched.old), part(&book, now, &touched.new)
                    );
                }
            }
            let behind = old.tree.sections.len() - touched.old.end;
            proptest::prop_assert_eq!(behind, book.tree.sections.len() - touched.new.end);
            proptest::prop_assert_eq!(
                &old.tree.sections[touched.old.end..], &book.tree.sections[touched.new.end..]
            );
        }
    }
}

#[test]
fn what_is_put_behind_a_last_line_without_an_end_goes_on_with_that_line() {
    let mut text = "size 4\npuzzle a-2\npuzzle".to_owned();
    let mut book = Book::read("test.gset", &text);
    let new = "puzzle a-1 \"One\"\n";
    book.edit(text.len()..text.len(), new);
    text.push_str(new);
    assert_eq!(book.tree, Book::read("test.gset", &text).tree);
}

#[test]
fn a_change_within_a_puzzle_touches_no_other() {
    let mut book = Book::read("test.gset", "size 4\n\npuzzle a\ngivens\n\npuzzle b\ngivens\n\npuzzle c\n");
    let at = "size 4\n\npuzzle a\ngivens\n\npuzzle b\ngivens\n".len();
    let touched = |old, new| Touched { old, new, parts_moved: false };
    assert_eq!(book.edit(at..at, "  1 . . .\n"), touched(2..3, 2..3));
    assert_eq!(book.edit(at..at, "puzzle d\n"), touched(2..3, 2..4));
    assert_eq!(book.edit(5..6, "6"), touched(0..5, 0..5), "what holds by default has changed");
    assert_eq!(book.edit(0..0, "# of six\n"), touched(0..1, 0..1), "and now it has not");
    assert_eq!(book.tree.to_string(), Book::read("", &book.tree.to_string()).tree.to_string());
}
