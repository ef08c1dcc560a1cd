//! The picture of a step has what the step rests on, and nothing else.

use super::reader::{Drawn, Texts, pictures};
use super::{each_subject, width};
use gridsetter::board::{Cell, Digit, Grid};
use gridsetter::draw::{Look, Picture};
use gridsetter::ladder::Ladder;
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::{Base, By, Claim, Deduction, Position};
use gridsetter::study::Start;
use gridsetter::words::{Voice, thread};
use std::collections::{BTreeMap, BTreeSet};

fn drawn(before: &Position, step: &Deduction, earlier: &[Deduction], givens: &Grid) -> Drawn {
    let mut picture = Picture::new(before.layout(), givens, before.grid());
    picture.why(before, step, earlier);
    let file = picture.svg(Look::default(), &width(), &Voice::default().labels());
    pictures(&file).remove(0)
}

/// Calls `take` with each step of the walks of small and middling puzzles.
fn each_step(scanning: bool, mut take: impl FnMut(&Position, &Deduction, &[Deduction], &Grid)) {
    let mut count = 0;
    each_subject(|subject| {
        let Ok(start) = Start::of(subject.puzzle) else { return };
        let reasoner = Reasoner::new(&start.layout, &Ladder::default());
        if start.layout.size().side() > 9 {
            return;
        }
        let walk = if scanning {
            Walk::by_scanning(&reasoner, &start.givens)
        } else {
            Walk::with_marks(&reasoner, start.position())
        };
        let steps: Vec<Deduction> = walk.steps.iter().map(|step| step.deduction.clone()).collect();
        for ((before, step), n) in walk.positions().zip(0..) {
            count += 1;
            take(&before, &step.deduction, &steps[..n], &start.givens);
        }
    });
    assert!(count > 300, "{count} steps");
}

/// The digits that stand are drawn, those of the puzzle as given.
fn check_digits(before: &Position, givens: &Grid, read: &Drawn) {
    let texts = |given: bool| -> Texts {
        let digits = before.grid().digits().filter(|(cell, _)| givens.get(*cell).is_some() == given);
        digits.map(|(cell, digit)| (cell, digit.to_string())).collect()
    };
    assert_eq!((&read.givens, &read.entries), (&texts(true), &texts(false)));
    assert!(read.known.is_empty() && read.open.is_empty() && read.rings.is_empty());
}

#[test]
fn under_scanning_the_witnesses() {
    let mut with_facts = 0;
    each_step(true, |before, step, earlier, givens| {
        let read = drawn(before, step, earlier, givens);
        check_digits(before, givens, &read);
        let mut sights: BTreeSet<(Cell, Cell)> = BTreeSet::new();
        let mut facts: BTreeSet<usize> = BTreeSet::new();
        for witness in &step.witnesses {
            for by in &witness.by {
                match *by {
                    By::Cell(from) => _ = sights.insert((from, witness.cell)),
                    By::Step(n) => _ = facts.insert(n),
                }
            }
        }
        assert_eq!(read.sights, sights, "a line for each digit that closes a cell");
        let closed: Texts = step.witnesses.iter().map(|it| (it.cell, it.digit.to_string())).collect();
        let digits: BTreeSet<&String> = closed.iter().map(|(_, digit)| digit).collect();
        if digits.len() == 1 {
            assert_eq!(read.crosses, closed.iter().map(|(cell, _)| *cell).collect());
            assert!(read.marks.is_empty() && read.strokes == 0);
        } else {
            assert_eq!(read.marks, closed);
            assert_eq!((read.strokes, read.crosses.len()), (closed.len(), 0));
        }
        let recalled = facts.iter().flat_map(|n| &earlier[n - 1].claims);
        let noted: Texts = recalled
            .flat_map(|claim| {
                let not = if matches!(claim, Claim::IsNot { .. }) { "≠" } else { "" };
                let open = claim.cells().iter().filter(|cell| before.grid().get(*cell).is_none());
                open.map(|cell| (cell, format!("{not}{}", claim.digits()))).collect::<Vec<_>>()
            })
            .collect();
        assert_eq!(read.facts, noted, "the facts that are recalled, in their open cells");
        with_facts += usize::from(!noted.is_empty());
        assert_eq!(read.outlines, 0);
    });
    assert!(with_facts > 10, "{with_facts} steps lean on facts");
}

#[test]
fn with_marks_the_bases_and_the_links_of_chains() {
    let mut with_links = 0;
    each_step(false, |before, step, earlier, givens| {
        let read = drawn(before, step, earlier, givens);
        check_digits(before, givens, &read);
        let mut marks = Texts::new();
        let mut houses = BTreeSet::new();
        for base in &step.bases {
            match *base {
                Base::Cell(cell) => {
                    marks.extend(before.candidates(cell).iter().map(|digit| (cell, digit.to_string())));
                }
                Base::Swap(ref swap) => {
                    let all = swap.cells.iter().map(|&cell| (cell, before.candidates(cell)));
                    let each = all.flat_map(|(cell, digits)| digits.iter().map(move |digit| (cell, digit)));
                    marks.extend(each.map(|(cell, digit)| (cell, digit.to_string())));
                }
                Base::Place(house, digit) => {
                    houses.insert(house);
                    marks.extend(before.cells(house, digit).iter().map(|cell| (cell, digit.to_string())));
                }
            }
        }
        let thread = thread(before, step);
        let (mut links, mut arrows) = (BTreeMap::<Cell, Vec<String>>::new(), 0);
        if let Some(thread) = &thread {
            marks.extend(thread.supposed.iter().map(|(cell, digit)| (*cell, digit.to_string())));
            let mut name = |name: &str, of: &[(Cell, Digit)]| {
                let cells: BTreeSet<Cell> = of.iter().map(|(cell, _)| *cell).collect();
                for cell in cells {
                    links.entry(cell).or_default().push(name.to_owned());
                }
            };
            name(if thread.is_so { "0" } else { "\u{2260}0" }, &thread.supposed);
            for link in &thread.links {
                name(&link.name.to_string(), &link.leaves);
                arrows += link.from.len() + usize::from(link.from_start);
            }
            if let Some(end) = &thread.end {
                name("x", &end.out);
                arrows += end.from.len() + usize::from(end.from_start);
            }
            with_links += 1;
            let said = read.words.iter().filter(|line| line.starts_with("Link ") || line.starts_with("End "));
            assert_eq!(said.count(), 1 + thread.links.len() + usize::from(thread.end.is_some()));
        }
        assert_eq!(read.marks, marks);
        assert_eq!(read.links, links.into_iter().map(|(cell, names)| (cell, names.join(" "))).collect());
        assert_eq!(read.arrows, arrows);
        assert_eq!((read.outlines, read.strokes), (houses.len(), 0));
        assert!(read.sights.is_empty() && read.crosses.is_empty() && read.facts.is_empty());
    });
    assert!(with_links > 5, "{with_links} chains");
}
