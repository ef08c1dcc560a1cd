//! Lists, grids of several lines and tables: from elsewhere into the notation, and back.
//!
//! What comes from elsewhere is dirty, so [`import()`] keeps one law: each row comes out as a puzzle or stands in its
//! place as a comment, and whatever is not as it was is named by a [`Trouble`]. It repairs only what cannot be meant
//! otherwise.

mod column;
mod export;
mod form;
mod grids;
mod import;
mod list;
mod record;
mod symbols;
mod table;
mod text;
mod trouble;
mod write;

pub use column::*;
pub use export::*;
pub use form::*;
pub use import::*;
pub use symbols::Look;
pub use trouble::*;
