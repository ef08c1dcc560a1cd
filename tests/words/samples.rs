//! One step of each kind, proved, and told in every language and register. The pages beside this file are what a reader
//! of proofs should read; the grids are made up for them.

use std::fmt::Write as _;

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Grid, HouseId, Layout, Size};
use gridsetter::ladder::Pattern;
use gridsetter::proof;
use gridsetter::step::{Base, By, Claim, Deduction, Method, Position, Seen, Witness};
use gridsetter::words::{Language, Voice, tell};

use crate::{DEPTHS, REGISTERS, check, voices};

/// A step, with what was known before it.
struct Sample {
    title: &'static str,
    before: Position,
    earlier: Vec<Deduction>,
    step: Deduction,
}

fn cell(name: &str) -> Cell {
    let (row, col) = name.strip_prefix('r').and_then(|rest| rest.split_once('c')).expect("a cell");
    Cell::new(row.parse::<u8>().unwrap() - 1, col.parse::<u8>().unwrap() - 1)
}

fn cells(names: &str) -> CellSet {
    names.split(' ').map(cell).collect()
}

fn digits(symbols: &str) -> DigitSet {
    symbols.chars().filter_map(Digit::from_symbol).collect()
}

/// "row 4", "col 1" or "box 6".
fn house(layout: &Layout, name: &str) -> HouseId {
    layout.house_ids().find(|&id| layout.at(id).name.to_string() == name).expect("a house")
}

/// The pieces of a step; houses by their names, commas between them.
struct Parts {
    pattern: Pattern,
    seen: Option<Seen>,
    houses: &'static str,
    claims: Vec<Claim>,
    bases: Vec<Base>,
}

/// What is known of a grid.
struct Known {
    before: Position,
    earlier: Vec<Deduction>,
}

impl Known {
    /// A 9x9 grid, row by row with a stroke between, an empty row as nothing.
    fn grid(rows: &str) -> Known {
        Known::on(&Layout::classic(Size::new(9).unwrap()).unwrap(), rows)
    }

    fn on(layout: &Layout, rows: &str) -> Known {
        let line: String = rows.split('/').map(|row| format!("{row:.<9}")).collect::<Vec<_>>().concat();
        let grid = Grid::from_line(&format!("{line:.<81}")).expect("a grid");
        assert!(grid.clashes(layout).is_empty(), "{rows}");
        Known { before: Position::new(layout, &grid), earlier: Vec::new() }
    }

    fn layout(&self) -> &Layout {
        self.before.layout()
    }

    fn house(&self, name: &str) -> HouseId {
        house(self.layout(), name)
    }

    fn is(names: &str, symbols: &str) -> Claim {
        Claim::Is { cells: cells(names), digits: digits(symbols) }
    }

    fn within(&self, name: &str, symbols: &str, names: &str) -> Claim {
        Claim::Within { house: self.house(name), digits: digits(symbols), cells: cells(names) }
    }

    fn places(&self, name: &str, symbols: &str) -> Vec<Base> {
        digits(symbols).iter().map(|digit| Base::Place(self.house(name), digit)).collect()
    }

    fn step(&self, parts: Parts) -> Deduction {
        let houses = parts.houses.split(", ").filter(|name| !name.is_empty());
        let witnesses = if parts.seen.is_some() { self.witnesses(&parts.bases) } else { Vec::new() };
        Deduction {
            pattern: parts.pattern,
            method: if parts.seen.is_some() { Method::Scanning } else { Method::Marks },
            seen: parts.seen,
            houses: houses.map(|name| self.house(name)).collect(),
            claims: parts.claims.into(),
            bases: parts.bases.into(),
            witnesses,
            splits: 0,
        }
    }

    /// A witness for everything that the bases pass over: a digit in sight, else the last fact.
    fn witnesses(&self, bases: &[Base]) -> Vec<Witness> {
        let layout = self.layout();
        let all = |base: &Base| -> Vec<(Cell, Digit)> {
            match *base {
                Base::Cell(cell) => layout.size().digits().iter().map(|digit| (cell, digit)).collect(),
                Base::Place(house, digit) => {
                    layout.at(house).cells.iter().map(|cell| (*cell, digit)).collect()
                }
                Base::Swap(_) => Vec::new(),
            }
        };
        let closed = bases.iter().flat_map(all).filter(|(cell, digit)| {
            self.before.grid().get(*cell).is_none() && !self.before.candidates(*cell).contains(*digit)
        });
        closed
            .map(|(cell, digit)| {
                let peers = layout.peers(cell).iter();
                let holder = peers.into_iter().find(|peer| self.before.grid().get(*peer) == Some(digit));
                let by = holder.map_or(By::Step(self.earlier.len()), By::Cell);
                Witness { cell, digit, by: vec![by] }
            })
            .collect()
    }

    /// Writes a digit, as some step may have done.
    fn written(mut self, place: &str, symbol: &str) -> Known {
        self.before.place(cell(place), digits(symbol).only().unwrap());
        self
    }

    /// Takes note of a fact, for the steps after it.
    fn then(mut self, parts: impl FnOnce(&Known) -> Parts) -> Known {
        let step = self.step(parts(&self));
        self.before.apply(&step.claims);
        self.earlier.push(step);
        self
    }

    fn sample(self, title: &'static str, parts: impl FnOnce(&Known) -> Parts) -> Sample {
        let step = self.step(parts(&self));
        let claims = |n: usize| self.earlier.get(n - 1).map(|step| step.claims.as_slice());
        let verdict = match step.method {
            Method::Marks => proof::with_marks(&self.before, &step),
            Method::Scanning => proof::by_scanning(self.layout(), self.before.grid(), claims, &step),
        };
        assert_eq!(verdict, Ok(()), "{title}");
        Sample { title, before: self.before, earlier: self.earlier, step }
    }
}

fn single(pattern: Pattern, houses: &'static str, place: &str, symbol: &str, base: Base) -> Parts {
    Parts { pattern, seen: None, houses, claims: vec![Known::is(place, symbol)], bases: vec![base] }
}

fn scanned(seen: Seen, parts: Parts) -> Parts {
    Parts { seen: Some(seen), ..parts }
}

fn last_open_cell(_: &Known) -> Parts {
    single(Pattern::LastOpenCell, "row 6", "r6c6", "6", Base::Cell(cell("r6c6")))
}

fn hidden_single_of_box(known: &Known) -> Parts {
    single(Pattern::BoxHiddenSingle, "box 4", "r6c2", "7", known.places("box 4", "7").remove(0))
}

fn hidden_single_of_row(known: &Known) -> Parts {
    single(Pattern::LineHiddenSingle, "row 1", "r1c6", "9", known.places("row 1", "9").remove(0))
}

fn naked_single(houses: &'static str) -> Parts {
    single(Pattern::NakedSingle, houses, "r1c7", "6", Base::Cell(cell("r1c7")))
}

fn locked(known: &Known, houses: &'static str, symbol: &str, places: &str) -> Parts {
    let house = houses.split(", ").next().unwrap();
    Parts {
        pattern: Pattern::LockedCandidates,
        seen: None,
        houses,
        claims: vec![known.within(house, symbol, places)],
        bases: known.places(house, symbol),
    }
}

fn seven_of_box_1(known: &Known) -> Parts {
    locked(known, "box 1, col 1", "7", "r1c1 r2c1 r3c1")
}

fn naked_set(houses: &'static str, places: &str, symbols: &str) -> Parts {
    let cells = cells(places);
    Parts {
        pattern: Pattern::NakedSet(u8::try_from(cells.len()).unwrap()),
        seen: None,
        houses,
        claims: vec![Known::is(places, symbols)],
        bases: cells.iter().map(Base::Cell).collect(),
    }
}

fn hidden_pair(known: &Known, house: &'static str, places: &str, symbols: &str) -> Parts {
    Parts {
        pattern: Pattern::HiddenSet(2),
        seen: None,
        houses: house,
        claims: vec![Known::is(places, symbols)],
        bases: known.places(house, symbols),
    }
}

fn pair_of_box_2(known: &Known) -> Parts {
    hidden_pair(known, "box 2", "r1c6 r2c5", "49")
}

fn x_wing(known: &Known) -> Parts {
    Parts {
        pattern: Pattern::Fish(2),
        seen: None,
        houses: "row 2, row 5, col 3, col 8",
        claims: vec![known.within("col 3", "7", "r2c3 r5c3"), known.within("col 8", "7", "r2c8 r5c8")],
        bases: [known.places("row 2", "7"), known.places("row 5", "7")].concat(),
    }
}

fn third_line(known: &Known, pattern: Pattern, symbols: &str, places: &str, boxes: &[&str]) -> Parts {
    Parts {
        pattern,
        seen: Some(Seen::ThirdLine),
        houses: "box 3, box 1, box 2, row 1",
        claims: vec![known.within("box 3", symbols, places)],
        bases: boxes.iter().flat_map(|house| known.places(house, symbols)).collect(),
    }
}

const PLACE_IN_BOX_4: &str = "7///...7/......7///..7";
const ROW_1_AND_COLUMN_7: &str = "12345/.......7///......8/......9";
const BOX_1_BUT_A_COLUMN: &str = ".12/.34/.56";
const PAIR_IN_ROW_1: &str = "12..5678.////..9/...9";
const PAIR_IN_BOX_2: &str = "....2/.....8/49.6///...9//...4";
const TWO_CORNERS: &str = ".2345681.";

fn with_marks() -> Vec<Sample> {
    let diagonals = Layout::classic(Size::new(9).unwrap()).unwrap().and_diagonals();
    vec![
        Known::grid("/////12345.789").sample("last open cell", last_open_cell),
        Known::grid(PLACE_IN_BOX_4).sample("hidden single of a box", hidden_single_of_box),
        Known::grid(ROW_1_AND_COLUMN_7).sample("naked single", |_| naked_single("")),
        Known::grid(BOX_1_BUT_A_COLUMN).sample("locked candidates", seven_of_box_1),
        Known::on(&diagonals, TWO_CORNERS).sample("locked candidates, seen along the diagonals", |known| {
            Parts {
                pattern: Pattern::LockedCandidates,
                seen: None,
                houses: "row 1",
                claims: vec![Claim::IsNot { cells: cells("r5c5"), digits: digits("7") }],
                bases: known.places("row 1", "7"),
            }
        }),
        Known::grid(PAIR_IN_ROW_1).sample("naked pair", |_| naked_set("row 1", "r1c3 r1c4", "34")),
        Known::on(&diagonals, TWO_CORNERS)
            .sample("naked pair, seen along the diagonals", |_| naked_set("row 1", "r1c1 r1c9", "79")),
        Known::grid("123...789").sample("naked triple", |_| naked_set("row 1", "r1c4 r1c5 r1c6", "456")),
        Known::grid(PAIR_IN_BOX_2).sample("hidden pair", pair_of_box_2),
        Known::grid("/12.3456.8///21.4365.9").sample("x-wing", x_wing),
    ]
}

fn by_scanning() -> Vec<Sample> {
    use Seen::{Counting, Crossing, Settling};
    vec![
        Known::grid("/////12345.789")
            .sample("last open cell", |known| scanned(Counting, last_open_cell(known))),
        Known::grid(PLACE_IN_BOX_4)
            .sample("a digit crossed in a box", |known| scanned(Crossing, hidden_single_of_box(known))),
        Known::grid("123.5/.......9///...9")
            .sample("a digit crossed in a row", |known| scanned(Crossing, hidden_single_of_row(known))),
        Known::grid(ROW_1_AND_COLUMN_7)
            .sample("a cell counted out", |_| scanned(Counting, naked_single("row 1"))),
        Known::grid("/....7/........7").sample("a digit kept in a row", |known| {
            scanned(Crossing, locked(known, "box 1, row 1", "7", "r1c1 r1c2 r1c3"))
        }),
        Known::grid(".12/.34/.56//.......7/.8///..7")
            .then(|known| scanned(Crossing, seven_of_box_1(known)))
            .sample("a digit crossed with a fact", |known| {
                let base = known.places("box 4", "7").remove(0);
                scanned(Crossing, single(Pattern::BoxHiddenSingle, "box 4", "r4c2", "7", base))
            }),
        Known::grid(".12/.34/.56/..3456.89////2")
            .then(|known| scanned(Crossing, seven_of_box_1(known)))
            .sample("a cell counted out with a fact", |_| {
                let base = Base::Cell(cell("r4c1"));
                scanned(Counting, single(Pattern::NakedSingle, "row 4", "r4c1", "1", base))
            }),
        Known::grid(PAIR_IN_BOX_2)
            .sample("a pair told from the lines", |known| scanned(Crossing, pair_of_box_2(known))),
        Known::grid(".9/8/....1..2////34/561/78")
            .then(|known| scanned(Crossing, locked(known, "box 7, col 3", "2", "r7c3 r9c3")))
            .sample("a pair crossed with a fact", |known| {
                scanned(Crossing, hidden_pair(known, "box 1", "r1c1 r2c2", "12"))
            }),
        Known::grid(PAIR_IN_ROW_1)
            .sample("a pair counted out", |_| scanned(Counting, naked_set("row 1", "r1c3 r1c4", "34"))),
        Known::grid(PAIR_IN_BOX_2)
            .then(|known| scanned(Crossing, pair_of_box_2(known)))
            .written("r1c9", "4")
            .sample("a pair that settles", |_| {
                let base = Base::Cell(cell("r1c6"));
                scanned(Settling, single(Pattern::NakedSingle, "", "r1c6", "9", base))
            }),
        Known::grid("12.563//////..4").sample("a third line", |known| {
            third_line(known, Pattern::LockedCandidates, "4", "r1c7 r1c8 r1c9", &["box 1", "box 2"])
        }),
        Known::grid("123456..7").sample("a third line with a pair", |known| {
            let boxes = ["box 1", "box 2", "box 3"];
            third_line(known, Pattern::HiddenSet(2), "89", "r1c7 r1c8", &boxes)
        }),
    ]
}

/// The page of a language.
fn page(language: Language) -> String {
    let mut page = String::new();
    for (method, samples) in [("with marks", with_marks()), ("by scanning", by_scanning())] {
        for Sample { title, before, earlier, step } in samples {
            let _ = writeln!(page, "## {title}, {method}");
            for register in REGISTERS {
                let voice = Voice { language, register, ..Voice::default() };
                let [place, what, why] = DEPTHS.map(|depth| tell(&voice, depth, &before, &step, &earlier));
                let _ = writeln!(page, "{register:?}\n- {place}\n- {what}\n- {why}");
            }
            page.push('\n');
        }
    }
    page
}

#[test]
fn the_page_of_each_language() {
    // Read a page that has changed as an editor would before it is kept.
    same(&page(Language::English), include_str!("english.md"), "english.md");
    same(&page(Language::German), include_str!("german.md"), "german.md");
}

/// Whether a page is as it was kept.
pub fn same(told: &str, kept: &str, file: &str) {
    let differ = told.lines().zip(kept.lines()).find(|(told, kept)| told != kept);
    assert!(told == kept, "{file} has {differ:?} first; the whole page is now:\n{told}");
}

#[test]
fn samples_hold_in_every_voice() {
    for sample in with_marks().into_iter().chain(by_scanning()) {
        for voice in voices() {
            for depth in DEPTHS {
                check(voice, &tell(&voice, depth, &sample.before, &sample.step, &sample.earlier));
            }
        }
    }
}
