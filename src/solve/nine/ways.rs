//! Which registers there are to search with.

#[cfg(target_arch = "x86_64")]
use super::avx2;
use super::places::Places;
use super::portable;
use crate::solve::Way;

/// Draws every plain conclusion of a position, see `rounds.rs`.
pub(in crate::solve) type Settle = fn(&mut Places) -> bool;

/// How the conclusions are drawn in this way; `None` if the machine cannot, or if it is not a way of this search.
#[cfg_attr(
    target_arch = "x86_64",
    allow(unsafe_code, reason = "only who asks the machine knows what it can")
)]
pub(in crate::solve) fn settle_by(way: Way) -> Option<Settle> {
    match way {
        Way::Portable => Some(portable::settle),
        #[cfg(target_arch = "x86_64")]
        Way::Avx2 if is_x86_feature_detected!("avx2") => {
            // SAFETY: the machine has just been found to have what the function is compiled for.
            Some(|places| unsafe { avx2::settle(places) })
        }
        _ => None,
    }
}
