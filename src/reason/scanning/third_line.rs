//! Digits that two boxes of a band have in two lines: the third box has them in the third.

use super::Band;
use super::idea::Idea;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, Layout};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Position, Seen};

pub(super) const LEVEL: u8 = 3;

/// Every digit that two boxes of the band keep off a line, for the third box; and all such digits together, where that
/// box has just as many open cells on the line.
pub(super) fn find(band: &Band, known: &Position, ideas: &mut Vec<Idea>) {
    let layout = known.layout();
    for third in 0..3 {
        let own = band.boxes[third];
        let mut others: Vec<HouseId> = band.boxes.iter().copied().filter(|&house| house != own).collect();
        others.sort_unstable();
        for line in band.lines {
            let off_line = |house: HouseId, digit: Digit| {
                let cells = known.cells(house, digit);
                !cells.is_empty() && (cells & crossing(layout, house, line)).is_empty()
            };
            let kept = |digit: &Digit| others.iter().all(|&house| off_line(house, *digit));
            let digits: DigitSet = known.missing(own).iter().filter(kept).collect();
            let each = digits.iter().map(DigitSet::single);
            for digits in each.chain(Some(digits).filter(|digits| digits.len() > 1)) {
                let can = |cell: &Cell| !(known.candidates(*cell) & digits).is_empty();
                let open = |cell: &Cell| known.grid().get(*cell).is_none();
                let all: CellSet = crossing(layout, own, line).iter().filter(open).collect();
                let cells: CellSet = all.iter().filter(can).collect();
                ideas.extend(idea(own, &others, line, digits, cells, all == cells));
            }
        }
    }
}

fn crossing(layout: &Layout, house: HouseId, line: HouseId) -> CellSet {
    *layout.at(house).set() & *layout.at(line).set()
}

/// That `own` has these digits in these cells on the line, which may be all its open cells there; `None` for several
/// digits in more cells than they are.
fn idea(
    own: HouseId,
    others: &[HouseId],
    line: HouseId,
    digits: DigitSet,
    cells: CellSet,
    whole: bool,
) -> Option<Idea> {
    let fills = cells.len() == digits.len();
    let pattern = match digits.len() {
        1 if fills => Pattern::BoxHiddenSingle,
        1 => Pattern::LockedCandidates,
        size if fills => Pattern::HiddenSet(size.to_le_bytes()[0]),
        _ => return None,
    };
    // Where the digits fill their cells or a cell of the line is closed, it takes the box itself to say where they are.
    let boxes = others.iter().copied().chain((fills || !whole).then_some(own));
    let bases = boxes.flat_map(|house| digits.iter().map(move |digit| Base::Place(house, digit))).collect();
    let houses = [&[own], others, &[line]].concat();
    let claims = vec![Claim::Within { house: own, digits, cells }];
    (!cells.is_empty()).then_some(Idea {
        pattern,
        seen: Seen::ThirdLine,
        level: LEVEL,
        houses,
        claims,
        bases,
        settles: None,
    })
}
