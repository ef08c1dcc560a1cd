//! Choosing some of many sets so that together they have no more members than they are.

use crate::board::bits;

/// How many sets there are at most: a bit each.
const MOST: usize = u32::BITS as usize;

/// Calls `found` with each choice of `size` sets, 2 or more, whose union has just `size` members, in the order of their
/// places: with a bit for each place, and with the union. The sets, each with its place, have `size` members at most.
pub(super) fn choose(size: u8, few: impl Iterator<Item = (u8, u32)>, found: impl FnMut(u32, u32)) {
    choose_with(size, size, few, found);
}

/// The same, where the union has so many members, and each set so many at most.
pub(super) fn choose_with(
    size: u8,
    members: u8,
    few: impl Iterator<Item = (u8, u32)>,
    found: impl FnMut(u32, u32),
) {
    let (mut sets, mut places, mut count) = ([0; MOST], 0, 0);
    for (at, set) in few {
        sets[usize::from(at)] = set;
        places |= 1 << at;
        count += 1;
    }
    if count >= size {
        Choice { members: members.into(), sets, found }.go_on(size.into(), places, 0, 0);
    }
}

struct Choice<F> {
    /// How many members the union has.
    members: u32,
    sets: [u32; MOST],
    found: F,
}

impl<F: FnMut(u32, u32)> Choice<F> {
    /// Goes on with a choice that takes so many more, 2 or more, from places of which each fits in by itself.
    fn go_on(&mut self, more: u32, places: u32, own: u32, union: u32) {
        for at in bits(places) {
            // Those before it have had their turn.
            let rest = places & !1 << at;
            if has_at_most(rest, more - 2) {
                return;
            }
            let (own, union) = (own | 1 << at, union | self.sets[usize::from(at)]);
            let room = self.members - union.count_ones();
            let fitting = bits(rest).fold(0, |fitting, at| {
                fitting | u32::from(has_at_most(self.sets[usize::from(at)] & !union, room)) << at
            });
            if more > 2 {
                self.go_on(more - 1, fitting, own, union);
            } else {
                self.end(fitting, own, union);
            }
        }
    }

    /// Ends a choice with each of these places, of which each fits in.
    fn end(&mut self, places: u32, own: u32, union: u32) {
        for at in bits(places) {
            let union = union | self.sets[usize::from(at)];
            if union.count_ones() == self.members {
                (self.found)(own | 1 << at, union);
            }
        }
    }
}

/// Whether a set has so many members at most: to take them away one by one is quicker than to count them.
fn has_at_most(set: u32, count: u32) -> bool {
    (0..count).fold(set, |set, _| set & set.wrapping_sub(1)) == 0
}

#[cfg(test)]
mod tests {
    use super::choose;

    #[test]
    fn every_choice_is_found_once_and_in_order() {
        let all = [0b011, 0b101, 0b110, 0b011, 0b1000];
        let found = |size| {
            let mut found = Vec::new();
            choose(size, (0..).zip(all), |own, union| found.push((own, union)));
            found
        };
        assert_eq!(found(2), [(0b1001, 0b011)]);
        // With the one set apart, two more would have to share two members.
        let triples =
            [(0b00111, 0b111), (0b01011, 0b111), (0b01101, 0b111), (0b11001, 0b1011), (0b01110, 0b111)];
        assert_eq!(found(3), triples);
        // Four of them have three members: too few.
        let fours = [0b10111, 0b11011, 0b11101, 0b11110].map(|own| (own, 0b1111));
        assert_eq!(found(4), fours);
    }
}
