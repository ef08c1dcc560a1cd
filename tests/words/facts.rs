//! Remembered facts: every form of a claim, recalled in words. The step that recalls them is made up and not proved.

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Grid, HouseName, Layout, Size};
use gridsetter::ladder::Pattern;
use gridsetter::step::{Base, By, Claim, Deduction, Method, Position, Seen, Witness};
use gridsetter::words::{Depth, Language, Voice, tell};

use crate::{check, voices};

fn digits(values: &[u8]) -> DigitSet {
    values.iter().filter_map(|&value| Digit::new(value)).collect()
}

/// Cells of row 1, by their columns.
fn in_row_1(columns: &[u8]) -> CellSet {
    columns.iter().map(|column| Cell::new(0, column - 1)).collect()
}

/// What is said of a fact that closes r1c4 to 7, in the sentence that recalls it.
fn recalled(language: Language, claim: &Claim, with: Option<Cell>) -> String {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let mut grid = Grid::from_line(&".".repeat(81)).unwrap();
    grid.set(Cell::new(8, 8), Digit::new(7));
    let before = Position::new(&layout, &grid);
    let row = layout.house_id(&HouseName::Row(1)).unwrap();
    let base = Base::Place(row, Digit::new(7).unwrap());
    let step = |claim, witnesses| Deduction {
        method: Method::Scanning,
        seen: Some(Seen::Crossing),
        witnesses,
        ..Deduction::with_marks(Pattern::LineHiddenSingle, [row], [claim], [base.clone()])
    };
    let by = with.map(By::Cell).into_iter().chain([By::Step(1)]).collect();
    let witness = Witness { cell: Cell::new(0, 3), digit: Digit::new(7).unwrap(), by };
    let earlier = [step(claim.clone(), Vec::new())];
    let placed = Claim::Is { cells: in_row_1(&[9]), digits: digits(&[7]) };
    let step = step(placed, vec![witness]);
    for voice in voices() {
        check(voice, &tell(&voice, Depth::Why, &before, &step, &earlier));
    }
    let told = tell(&Voice { language, ..Voice::default() }, Depth::Why, &before, &step, &earlier);
    let first = told.split_once(". ").expect("where to look comes first").1;
    let last = first.find(match language {
        Language::English => " Row 1 has one place",
        Language::German => " In Zeile 1 bleibt",
    });
    first[..last.expect("what follows comes last")].to_owned()
}

#[test]
fn every_form_of_a_fact_is_recalled() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let house = |name| layout.house_id(&name).unwrap();
    let (row, first_box) = (house(HouseName::Row(1)), house(HouseName::Box(1)));
    let scattered: CellSet = [Cell::new(0, 0), Cell::new(1, 1), Cell::new(2, 2)].into_iter().collect();
    for (claim, english, german) in [
        (
            Claim::Is { cells: in_row_1(&[4, 5]), digits: digits(&[1, 2]) },
            "You remember that 1 and 2 share r1c4 and r1c5.",
            "Du hast dir gemerkt: Die Ziffern 1 und 2 teilen sich r1c4 und r1c5.",
        ),
        (
            Claim::Is { cells: in_row_1(&[4, 5]), digits: digits(&[1, 2, 3]) },
            "You remember that each of these cells holds 1, 2 or 3: r1c4 and r1c5.",
            "Du hast dir gemerkt: In jede dieser Zellen gehört 1, 2 oder 3: r1c4 und r1c5.",
        ),
        (
            Claim::IsNot { cells: in_row_1(&[4]), digits: digits(&[7]) },
            "You remember that there is no 7 in r1c4.",
            "Du hast dir gemerkt: In r1c4 passt die 7 nicht.",
        ),
        (
            Claim::IsNot { cells: in_row_1(&[4, 5]), digits: digits(&[7, 8]) },
            "You remember that there is no 7 or 8 in r1c4 and r1c5.",
            "Du hast dir gemerkt: In r1c4 und r1c5 passen 7 und 8 nicht.",
        ),
        (
            Claim::Within { house: first_box, digits: digits(&[7]), cells: in_row_1(&[1, 2]) },
            "You remember that box 1 has its 7 in row 1.",
            "Du hast dir gemerkt: In Block 1 liegt die 7 in Zeile 1.",
        ),
        (
            Claim::Within { house: first_box, digits: digits(&[7, 8]), cells: in_row_1(&[1, 2, 3]) },
            "You remember that box 1 has its 7 and 8 in row 1.",
            "Du hast dir gemerkt: In Block 1 liegen 7 und 8 in Zeile 1.",
        ),
        (
            Claim::Within { house: first_box, digits: digits(&[7]), cells: scattered },
            "You remember that box 1 has its 7 within these cells: r1c1, r2c2 and r3c3.",
            "Du hast dir gemerkt: In Block 1 liegt die 7 in einer dieser Zellen: r1c1, r2c2 und r3c3.",
        ),
        (
            Claim::Within { house: row, digits: digits(&[7]), cells: in_row_1(&[1]) },
            "You remember that the digit 7 is in r1c1.",
            "Du hast dir gemerkt: In r1c1 steht die 7.",
        ),
    ] {
        assert_eq!(recalled(Language::English, &claim, None), english);
        assert_eq!(recalled(Language::German, &claim, None), german);
    }
}

#[test]
fn a_digit_that_works_together_with_a_fact_is_told() {
    let claim = Claim::Is { cells: in_row_1(&[4, 5]), digits: digits(&[1, 2]) };
    let with = Some(Cell::new(8, 8));
    assert_eq!(
        recalled(Language::English, &claim, with),
        "You remember that 1 and 2 share r1c4 and r1c5. The digit 7 is in r9c9."
    );
    assert_eq!(
        recalled(Language::German, &claim, with),
        "Du hast dir gemerkt: Die Ziffern 1 und 2 teilen sich r1c4 und r1c5. In r9c9 steht die 7."
    );
}
