//! Every sentence of real walks, on boxes and regions, with and without diagonals, sizes 4 to 25.

use gridsetter::board::{BoxShape, CellSet, Digit, DigitSet, Grid, HouseName, Layout, Size};
use gridsetter::ladder::{Ladder, Rung};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::{Base, Deduction, Position};
use gridsetter::words::{Depth, Voice, tell};

use crate::{DEPTHS, check, sentences, voices};

/// The uniquely solvable puzzles of the table of real puzzles, with their layouts.
fn puzzles() -> impl Iterator<Item = (Layout, Grid)> {
    let mut lines = include_str!("../data/cases.tsv").lines();
    let heading: Vec<&str> = lines.next().unwrap().split('\t').collect();
    lines.filter_map(move |line| {
        let fields: Vec<&str> = line.split('\t').collect();
        let field = |name: &str| fields[heading.iter().position(|column| *column == name).unwrap()];
        let size = Size::new(field("size").parse().unwrap()).unwrap();
        let layout = match field("regions") {
            "-" => Layout::with_boxes(size, field("boxes").parse::<BoxShape>().unwrap()),
            regions => Layout::with_regions(size, &regions.chars().collect::<Vec<_>>()),
        };
        let diagonals = field("kind").contains("diagonals");
        let layout = layout.map(|layout| if diagonals { layout.and_diagonals() } else { layout }).unwrap();
        let grid = Grid::from_line_of(size, field("puzzle")).unwrap();
        (field("solutions") == "1").then_some((layout, grid))
    })
}

/// The whole ladder; on large grids without trial, on the largest without chains, which take seconds there.
fn ladder(size: Size) -> Ladder {
    let all = Ladder::default();
    let takes = |rung: &&Rung| match size.side() {
        ..=12 => true,
        13..=16 => rung.name.name != "trial",
        _ => rung.level < 6,
    };
    let rungs = all.rungs().iter().filter(takes);
    Ladder::new(rungs.copied().collect(), [].into())
}

/// Calls `read` with every step of the walks of every `nth` puzzle: with marks, and by scanning.
pub fn each_step(nth: usize, mut read: impl FnMut(&Position, &Deduction, &[Deduction])) {
    for (layout, grid) in puzzles().step_by(nth) {
        let reasoner = Reasoner::new(&layout, &ladder(layout.size()));
        let marks = Walk::with_marks(&reasoner, Position::new(&layout, &grid).with_one_solution());
        let mut scanning = Walk::by_scanning(&reasoner, &grid).with_one_solution();
        scanning.go_on_with_marks(&reasoner);
        for walk in [marks, scanning] {
            let steps: Vec<Deduction> = walk.steps.iter().map(|step| step.deduction.clone()).collect();
            for ((before, step), n) in walk.positions().zip(0..) {
                read(&before, &step.deduction, &steps[..n]);
            }
        }
    }
}

#[test]
fn every_sentence_is_short_and_plain_where_it_should_be() {
    let mut read = 0;
    each_step(20, |before, step, earlier| {
        for voice in voices() {
            for depth in DEPTHS {
                check(voice, &tell(&voice, depth, before, step, earlier));
                read += 1;
            }
        }
    });
    assert!(read > 10_000, "{read} texts are enough to judge by");
}

/// The houses that "rows 1 and 2 and column 9" names, lower case.
fn houses(layout: &Layout, text: &str) -> Vec<HouseName> {
    let mut kind = "";
    let mut found = Vec::new();
    for word in text.split([' ', ',']).filter(|word| !word.is_empty() && *word != "and") {
        let number = || word.parse().unwrap_or_else(|_| panic!("{word} in {text}"));
        match word {
            "row" | "rows" | "column" | "columns" | "box" | "boxes" | "region" | "regions" | "diagonal"
            | "diagonals" => kind = word.trim_end_matches("es").trim_end_matches('s'),
            _ => found.push(match kind {
                "row" => HouseName::Row(number()),
                "column" | "columns" => HouseName::Column(number()),
                "box" => HouseName::Box(number()),
                "region" => HouseName::Region(word.to_uppercase().chars().next().unwrap()),
                "diagonal" => HouseName::Diagonal(number()),
                other => panic!("{other} in {text}"),
            }),
        }
    }
    assert!(found.iter().all(|name| layout.house_id(name).is_some()), "{text}");
    found
}

/// The digits of "4, 6 and 9", in either case.
fn digits(text: &str) -> DigitSet {
    let symbols = text.split([' ', ',']).filter(|word| !matches!(*word, "" | "and" | "or"));
    let digit = |word: &str| match word.chars().collect::<Vec<_>>()[..] {
        [symbol] => Digit::from_symbol(symbol).unwrap_or_else(|| panic!("{text}")),
        _ => panic!("{text}"),
    };
    symbols.map(digit).collect()
}

/// Reads back what can be read of an English sentence, and says whether it is true.
fn is_true(before: &Position, step: &Deduction, sentence: &str) -> Option<bool> {
    let layout = before.layout();
    let text = sentence.trim_end_matches('.').to_lowercase();
    let missing = |name: &HouseName| before.missing(layout.house_id(name).unwrap());
    if let Some((house, lacks)) =
        text.strip_prefix("of these, ").and_then(|rest| rest.split_once(" but lacks "))
    {
        let (house, has) = house.split_once(" has ")?;
        let house = houses(layout, house);
        let (lacks, has) = (digits(lacks), digits(has));
        return Some(lacks.is_subset(missing(&house[0])) && (has & missing(&house[0])).is_empty());
    }
    if let Some((_, pair)) = text.split_once(" can hold ").filter(|(all, _)| all.starts_with("all ")) {
        let pair = digits(pair);
        let swap = step.bases.iter().find_map(|base| match base {
            Base::Swap(swap) => Some(swap),
            Base::Cell(_) | Base::Place(..) => None,
        });
        return Some(swap?.cells.iter().all(|&cell| pair.is_subset(before.candidates(cell))));
    }
    let verbs = [" both hold ", " each hold ", " also hold ", " also holds ", " hold ", " holds "];
    let held = verbs.iter().find_map(|verb| text.split_once(verb));
    if let Some((subject, object)) =
        held.filter(|(_, object)| !text.starts_with("so ") && !object.starts_with("only"))
    {
        let held = digits(object);
        return Some(houses(layout, subject).iter().all(|house| (held & missing(house)).is_empty()));
    }
    let named = digits(text.strip_prefix("it is missing ").filter(|rest| !rest.contains("only"))?);
    let all = missing(&layout.at(step.houses[0]).name);
    // On the largest grids a list runs over into a second sentence.
    Some(if layout.size().side() <= 16 { named == all } else { named.is_subset(all) })
}

#[test]
fn what_is_said_of_houses_is_true() {
    let mut judged = 0;
    each_step(6, |before, step, earlier| {
        for sentence in sentences(&tell(&Voice::default(), Depth::Why, before, step, earlier)) {
            if let Some(is_so) = is_true(before, step, sentence) {
                assert!(is_so, "{sentence} {step:?}");
                judged += 1;
            }
        }
    });
    assert!(judged > 1_000, "{judged} sentences are enough to judge by");
}

#[test]
fn just_what_is_struck_is_told() {
    let mut struck = 0;
    each_step(6, |before, step, earlier| {
        if step.places() || !step.witnesses.is_empty() || step.seen.is_some() {
            return;
        }
        let text = tell(&Voice::default(), Depth::Why, before, step, earlier);
        let mut told: Vec<(String, DigitSet)> = Vec::new();
        let mut emptied = CellSet::EMPTY;
        for sentence in sentences(&text).map(|sentence| sentence.trim_end_matches('.')) {
            let strike = sentence.strip_prefix("Strike ").or(sentence.strip_prefix("Also strike "));
            if let Some((what, cells)) = strike.and_then(|rest| rest.split_once(" from ")) {
                let cells = cells.split([' ', ',']).filter(|word| word.starts_with('r'));
                told.extend(cells.map(|cell| (cell.to_owned(), digits(what))));
            }
            if let Some((_, cells)) = sentence.split_once("strike every other candidate from ") {
                let named = |cell: &gridsetter::board::Cell| {
                    cells.split([' ', ',']).any(|word| word == cell.to_string())
                };
                emptied |= before.layout().size().all_cells().filter(named).collect();
            }
        }
        for (cell, digits) in before.strikes(&step.claims) {
            let told: DigitSet = told
                .iter()
                .filter(|(name, _)| *name == cell.to_string())
                .fold(DigitSet::EMPTY, |all, (_, digits)| all | *digits);
            let rest = before.candidates(cell) - step.digits();
            assert_eq!(if emptied.contains(cell) { rest } else { told }, digits, "{cell}: {text}");
            struck += 1;
        }
        assert!(told.iter().all(|(name, _)| {
            before.strikes(&step.claims).iter().any(|(cell, _)| cell.to_string() == *name)
        }));
    });
    assert!(struck > 500, "{struck} strikes are enough to judge by");
}
