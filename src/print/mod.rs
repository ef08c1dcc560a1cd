//! Pages: what is printed of a puzzle, as text, as HTML and as single pictures. One to a page, black on white, no book
//! yet.

mod diagram;
mod errata;
mod html;
mod name;
mod page;
mod prose;
mod subject;
#[cfg(test)]
mod tests;
mod text;
mod voice;
mod walkthrough;

pub use diagram::Moment;
pub use errata::errata;
pub use html::html;
pub use name::Names;
pub use page::{Block, Page, Press};
pub use prose::Running;
pub use subject::Subject;
pub use text::text;
pub use voice::voice_of;
pub use walkthrough::Written;
