//! The table `[print]`: how things look that the notation leaves to the printer.

use crate::draw::{Look, Ring, Shade};
use serde::Deserialize;

/// `[print]`
#[derive(Deserialize, Clone, Copy, PartialEq, Eq, Default, Debug)]
#[serde(default, deny_unknown_fields, expecting = "a table")]
pub struct Print {
    /// `shade = "lines"` or `"grey"`.
    pub shade: Shade,
    /// `ring = "circle"` or `"square"`.
    pub ring: Ring,
}

impl Print {
    /// The look that it comes to.
    pub fn look(self) -> Look {
        Look { shade: self.shade, ring: self.ring }
    }
}
