//! Chains: what is supposed of one candidate passes from base to base until it comes back to strike the candidate.

mod almost;
mod chain;
mod groups;
mod net;
mod nodes;
mod way;

use std::cell::Cell;

use super::links::{Linked, Links, Wide};
use super::nearest::Offers;
use super::numbers::Bits;
use super::tables::Tables;
use crate::board::DigitSet;
use crate::ladder::Pattern;
use crate::step::{Deduction, MOST_BASES, Position};
use chain::Chain;
pub(super) use chain::not;
use nodes::Nodes;

/// Longer chains are not looked for.
const LONGEST: usize = MOST_BASES;
/// Larger almost locked sets are not looked for.
const LARGEST_SET: u8 = 4;
/// On boards with a side above this they are no larger than [`SMALLER_SET`].
const LARGE: u8 = 12;
const SMALLER_SET: u8 = 3;
/// So many almost locked sets make a pattern of their own.
const MOST_SETS: usize = 3;

/// The steps of a pattern that is a chain: of those that strike the same, one of the shortest.
pub(super) fn find(
    pattern: Pattern,
    tables: &Tables,
    position: &Position,
    linked: &Linked,
    offers: &mut impl Offers<Deduction>,
) {
    match linked.of(position) {
        None => {}
        Some(Wide::Narrow(links)) => search(pattern, tables, position, links, offers),
        Some(Wide::Middle(links)) => search(pattern, tables, position, links, offers),
        Some(Wide::Broad(links)) => search(pattern, tables, position, links, offers),
    }
}

fn search<const W: usize>(
    pattern: Pattern,
    tables: &Tables,
    position: &Position,
    links: &Links<W>,
    offers: &mut impl Offers<Deduction>,
) {
    let all = offers.takes_all();
    let mut told: Vec<Bits<W>> = Vec::new();
    let mut offer = |chain: Chain<W>| {
        let struck = chain.strikes();
        // A set may lose one digit to another and one to what is struck.
        let is_tangled = pattern != Pattern::AlmostLockedSets && chain.repeats();
        if is_tangled || chain.reads() > LONGEST {
            return false;
        }
        if told.contains(&struck) {
            return true;
        }
        told.push(struck);
        let Some((cell, digit)) = chain.about() else { return false };
        offers.offer(cell, DigitSet::single(digit), || chain.into_step(pattern, &struck));
        true
    };
    let layout = position.layout();
    let largest = if layout.size().side() > LARGE { SMALLER_SET } else { LARGEST_SET };
    match pattern {
        Pattern::XyChain => {
            Nodes::of_pairs(layout, links, links.cells_of_two()).each(LONGEST, |chain| offer(chain) && !all);
        }
        Pattern::AlternatingChain => {
            Nodes::of_pairs(layout, links, links.pairs()).each(LONGEST, |chain| offer(chain) && !all);
        }
        Pattern::GroupedChain => {
            let any = Cell::new(false);
            let mut offer = |chain: Chain<W>| {
                let offered = chain.is_grouped(MOST_SETS) && offer(chain);
                any.set(any.get() | offered);
                offered && !all
            };
            let nodes = Nodes::of_pairs(layout, links, links.pairs()).and_groups(tables, position);
            nodes.each(LONGEST, &mut offer);
            if all || !any.get() {
                nodes.and_sets(2, largest, tables, position).each(LONGEST, offer);
            }
        }
        _ => {
            let nodes = Nodes::of_pairs(layout, links, &[]).and_sets(1, largest, tables, position);
            nodes.each(MOST_SETS, |chain| offer(chain) && !all);
        }
    }
}
