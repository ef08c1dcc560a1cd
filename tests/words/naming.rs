//! Cells and houses by every way of naming, one cell's digits, and what is said where nothing goes on.

use gridsetter::board::{Cell, CellSet, DigitSet, Grid, HouseId, HouseName, Layout, Size};
use gridsetter::ladder::Pattern;
use gridsetter::step::{Base, Claim, Deduction, Method, Position};
use gridsetter::words::{Depth, Language, Naming, Voice, candidates_out, stuck, tell};

use crate::{DEPTHS, check, voices};

fn house(layout: &Layout, name: &HouseName) -> HouseId {
    layout.house_id(name).expect("the layout has it")
}

/// The last open cell of a house in a 4x4 grid in which only that house is filled but for one cell.
fn last_open_cell(layout: &Layout, name: &HouseName) -> (Position, Deduction) {
    let house = house(layout, name);
    let mut grid = Grid::from_line(&".".repeat(16)).unwrap();
    let cells = &layout.at(house).cells;
    for (cell, digit) in cells.iter().skip(1).zip(layout.size().digits().iter()) {
        grid.set(*cell, Some(digit));
    }
    let digits = layout.size().digits().iter().last().map(DigitSet::single).unwrap();
    let claim = Claim::Is { cells: CellSet::single(cells[0]), digits };
    let step = Deduction::with_marks(Pattern::LastOpenCell, [house], [claim], [Base::Cell(cells[0])]);
    (Position::new(layout, &grid), step)
}

#[test]
fn houses_have_their_names() {
    let size = Size::new(4).unwrap();
    let window = (1..3).flat_map(|row| (1..3).map(move |col| Cell::new(row, col))).collect();
    let layout = Layout::classic(size).unwrap().and_diagonals().and_house("window1", window).unwrap();
    let regions = Layout::with_regions(size, &"AABBAABBCCDDCCDD".chars().collect::<Vec<_>>()).unwrap();
    let told = |layout: &Layout, name: HouseName, language, naming| {
        let (before, step) = last_open_cell(layout, &name);
        tell(&Voice { language, naming, ..Voice::default() }, Depth::What, &before, &step, &[])
    };
    let (english, german) = (Language::English, Language::German);
    let named = || HouseName::Named("window1".into());
    for (text, expected) in [
        (
            told(&layout, named(), english, Naming::Short),
            "Put 4 in r2c2, the last open cell of house window1.",
        ),
        (
            told(&layout, HouseName::Diagonal(2), english, Naming::Letters),
            "Put 4 in A4, the last open cell of diagonal 2.",
        ),
        (
            told(&layout, HouseName::Row(3), english, Naming::Letters),
            "Put 4 in C1, the last open cell of row C.",
        ),
        (
            told(&layout, HouseName::Row(3), english, Naming::Words),
            "Put 4 in row 3, column 1, the last open cell of row 3.",
        ),
        (
            told(&regions, HouseName::Region('D'), english, Naming::Short),
            "Put 4 in r3c3, the last open cell of region D.",
        ),
        (
            told(&layout, named(), german, Naming::Short),
            "Die 4 gehört in r2c2, die letzte offene Zelle von Haus window1.",
        ),
        (
            told(&layout, HouseName::Box(3), german, Naming::Words),
            "Die 4 gehört in die Zelle in Zeile 3, Spalte 1, die letzte offene Zelle von Block 3.",
        ),
        (
            told(&regions, HouseName::Region('D'), german, Naming::Letters),
            "Die 4 gehört in C3, die letzte offene Zelle von Region D.",
        ),
    ] {
        assert_eq!(text, expected);
    }
}

/// A hidden set of twelve in a box of a 25x25 grid, the largest that a walk can have.
#[test]
fn the_largest_sets_are_told_in_short_sentences() {
    let layout = Layout::classic(Size::new(25).unwrap()).unwrap();
    let house = house(&layout, &HouseName::Box(1));
    let before = Position::unmarked(&layout, &Grid::from_line(&".".repeat(625)).unwrap());
    let cells: CellSet = layout.at(house).cells.iter().copied().step_by(2).take(12).collect();
    let digits: DigitSet = layout.size().digits().iter().take(12).collect();
    for (pattern, method) in [
        (Pattern::HiddenSet(12), Method::Marks),
        (Pattern::NakedSet(12), Method::Marks),
        (Pattern::HiddenSet(12), Method::Scanning),
    ] {
        let bases = digits.iter().map(|digit| Base::Place(house, digit));
        let step = Deduction::with_marks(pattern, [house], [Claim::Is { cells, digits }], bases);
        let step = Deduction { method, ..step };
        for voice in voices() {
            for depth in DEPTHS {
                check(voice, &tell(&voice, depth, &before, &step, &[]));
            }
        }
    }
}

#[test]
fn every_digit_that_is_out_of_a_cell_has_its_reason() {
    let layout = Layout::classic(Size::new(4).unwrap()).unwrap();
    let grid = Grid::from_line("1...............").unwrap();
    let mut position = Position::new(&layout, &grid);
    let cell = Cell::new(0, 1);
    position.strike(cell, layout.size().digits().iter().nth(2).map(DigitSet::single).unwrap());
    let out = |language| candidates_out(&Voice { language, ..Voice::default() }, &position, cell, |_| None);
    assert_eq!(
        out(Language::English),
        ["No 1 here: row 1 has it in r1c1.", "No 3 here: the marks or an earlier step rule it out."]
    );
    assert_eq!(
        out(Language::German),
        [
            "Hier steht die 1 nicht: Zeile 1 hat sie in r1c1.",
            "Hier steht die 3 nicht: Die Notizen oder ein früherer Schritt schließen sie aus.",
        ]
    );
    assert!(
        candidates_out(&Voice::default(), &position, Cell::new(0, 0), |_| None).is_empty(),
        "the cell is filled"
    );
}

#[test]
fn where_nothing_goes_on_that_is_said() {
    for voice in voices() {
        for method in [Method::Marks, Method::Scanning] {
            check(voice, &stuck(&voice, method));
        }
    }
    assert_eq!(
        stuck(&Voice::default(), Method::Marks),
        "No pattern on the ladder is found to lead on from here."
    );
    assert_eq!(
        stuck(&Voice::default(), Method::Scanning),
        "Scanning leads no further from here without marks."
    );
}
