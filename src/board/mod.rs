//! Geometry and state: sizes, cells, digits, houses, layouts and grids. Knows no search and no text format.

mod candidates;
mod cell;
mod digit;
mod grid;
mod house;
mod layout;
mod size;

pub use candidates::Candidates;
pub use cell::{Cell, CellSet};
pub use digit::{Digit, DigitSet};
pub use grid::{Clash, Grid, GridLineError};
pub(crate) use house::bits;
pub use house::{House, HouseId, HouseName, Slot};
pub use layout::{Layout, LayoutError, RegionFault};
pub use size::{BoxShape, BoxShapeError, MAX_SIDE, MIN_SIDE, Size};
