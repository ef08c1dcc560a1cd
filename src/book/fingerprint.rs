//! A short mark of what is printed of a puzzle: another grid has another.

use crate::board::{Grid, Layout};
use siphasher::sip::SipHasher13;
use std::hash::Hasher;

/// How many hexadecimal digits a mark has.
pub(super) const DIGITS: usize = 6;

/// The mark of these givens in this layout: six hexadecimal digits, so that of sixteen million changes one goes unseen.
/// Written into files when they go to print, so it never changes: neither what is taken into it nor how.
pub fn fingerprint(layout: &Layout, givens: &Grid) -> String {
    let mut hasher = SipHasher13::new_with_keys(0, 0);
    hasher.write(givens.to_string().as_bytes());
    for house in layout.houses() {
        hasher.write(b" ");
        // The name tells a region from an extra house; their order says nothing, and follows from the name.
        hasher.write(house.name.to_string().as_bytes());
        for cell in &house.cells {
            hasher.write(&[cell.row(), cell.col()]);
        }
    }
    format!("{:06x}", hasher.finish() & 0x00ff_ffff)
}
