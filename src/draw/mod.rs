//! Pictures of grids: one model, drawn as text, as SVG and as HTML, and said in words. Black on white, and nothing is
//! told by colour: a picture that is copied, dimmed or halved says the same.

mod html;
mod look;
mod picture;
mod said;
mod svg;
mod text;
mod thread;
mod why;

pub use html::figure;
pub use look::{Length, LengthError, Look, Ring, Shade};
pub use picture::{Content, Picture, Stands};
pub use svg::escaped;
