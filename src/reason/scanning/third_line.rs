//! Digits that two boxes of a band have in two lines: the third box has them in the third.

use super::Band;
use super::idea::Idea;
use crate::board::{Cell, CellSet, DigitSet, bits};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Position, Seen};

pub(super) const LEVEL: u8 = 3;

/// Every digit that two boxes of the band keep off a line, where the third box has one cell for it.
pub(super) fn placements(band: &Band, known: &Position, ideas: &mut Vec<Idea>) {
    each_kept(band, known, |third, line, digits| {
        let singles = digits.iter().map(DigitSet::single);
        let found = singles.filter_map(|digit| idea(band, third, line, digit, known));
        ideas.extend(found.filter(|idea| idea.claims.iter().all(Claim::places)));
    });
}

/// Every digit that two boxes of the band keep off a line, where the third box has several cells for it; and all such
/// digits together, where that box has just as many open cells on the line.
pub(super) fn facts(band: &Band, known: &Position, ideas: &mut Vec<Idea>) {
    each_kept(band, known, |third, line, digits| {
        let each = digits.iter().map(DigitSet::single);
        let sets = each.chain(Some(digits).filter(|digits| digits.len() > 1));
        let found = sets.filter_map(|digits| idea(band, third, line, digits, known));
        ideas.extend(found.filter(|idea| !idea.claims.iter().any(Claim::places)));
    });
}

/// Calls `found` with each box of the band and each line off which the two other boxes keep some digits that it misses,
/// by their places in the band, and with these digits.
fn each_kept(band: &Band, known: &Position, mut found: impl FnMut(usize, usize, DigitSet)) {
    let on_lines: [[DigitSet; 3]; 3] = std::array::from_fn(|at| {
        let candidates = known.candidates_in(band.boxes[at]);
        let on_line = |places| bits(places).fold(DigitSet::EMPTY, |on, at| on | candidates[usize::from(at)]);
        band.on_lines[at].map(on_line)
    });
    for third in 0..3 {
        for line in 0..3 {
            let off_line = |at: usize| {
                on_lines[at].into_iter().fold(DigitSet::EMPTY, DigitSet::union) - on_lines[at][line]
            };
            let others = (0..3).filter(|&at| at != third);
            let kept = others.fold(known.missing(band.boxes[third]), |kept, at| kept & off_line(at));
            if !kept.is_empty() {
                found(third, line, kept);
            }
        }
    }
}

/// That the third box has these digits in cells on the line; `None` if it has none for them, and for several digits in
/// more cells than they are.
fn idea(band: &Band, third: usize, line: usize, digits: DigitSet, known: &Position) -> Option<Idea> {
    let layout = known.layout();
    let own = band.boxes[third];
    let others = band.boxes.iter().copied().filter(|&house| house != own);
    let can = |cell: &Cell| !(known.candidates(*cell) & digits).is_empty();
    let open = |cell: &Cell| known.grid().get(*cell).is_none();
    let all: CellSet = known.cells_at(own, band.on_lines[third][line]).iter().filter(open).collect();
    let cells: CellSet = all.iter().filter(can).collect();
    let whole = all == cells;
    let line = band.lines[line];
    let fills = cells.len() == digits.len();
    let pattern = match digits.len() {
        1 if fills => Pattern::BoxHiddenSingle,
        1 => Pattern::LockedCandidates,
        size if fills => Pattern::HiddenSet(size.to_le_bytes()[0]),
        _ => return None,
    };
    // Where the digits fill their cells or a cell of the line is closed, it takes the box itself to say where they are.
    let boxes = others.clone().chain((fills || !whole).then_some(own));
    let bases = boxes.flat_map(|house| digits.iter().map(move |digit| Base::Place(house, digit))).collect();
    let houses = std::iter::once(own).chain(others).chain([line]).collect();
    let claims = vec![Claim::Within { house: own, digits, cells }];
    let boxes = band.boxes.iter().fold(CellSet::EMPTY, |all, &id| all | *layout.at(id).set());
    (!cells.is_empty()).then_some(Idea {
        pattern,
        seen: Seen::ThirdLine,
        level: LEVEL,
        houses,
        claims,
        bases,
        settles: None,
        // Where else than on the line the boxes can have the digits is one to them.
        untold: boxes - *layout.at(line).set(),
    })
}
