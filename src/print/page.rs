//! What a page holds.

use crate::draw::{Length, Look, Picture};
use crate::words::Voice;

/// A page.
#[derive(Clone, PartialEq, Debug)]
pub struct Page {
    /// A name for a file of it, without an ending. It tells nothing of what the page holds but its id and its kind.
    pub name: String,
    /// Its heading, a printed line each; the printed number first, where there is one. Empty where nothing is said.
    pub heading: Vec<String>,
    /// What stands on it, in order.
    pub body: Vec<Block>,
}

/// A part of a page.
#[derive(Clone, PartialEq, Debug)]
pub enum Block {
    /// A picture.
    Picture(Box<Picture>),
    /// A paragraph.
    Prose(String),
    /// A step of a walk, told, and drawn where pictures are asked for.
    Step {
        /// Its number, from 1.
        n: usize,
        /// Its picture.
        picture: Option<Box<Picture>>,
        /// Its words, with cases in lines of their own, see [`outline`](crate::words::outline()).
        words: String,
    },
}

/// How pages are printed.
#[derive(Clone, PartialEq, Debug)]
pub struct Press {
    /// In which words.
    pub voice: Voice<'static>,
    /// How shading and rings look.
    pub look: Look,
    /// How wide a picture is.
    pub width: Length,
    /// Whether each grid is also said in words, where everyone sees them.
    pub words: bool,
}

impl Page {
    /// The pictures in order, each with the number and the words of its step, if it is one of a step.
    pub fn pictures(&self) -> impl Iterator<Item = (&Picture, Option<(usize, &str)>)> {
        self.body.iter().filter_map(|block| match block {
            Block::Picture(picture) => Some((&**picture, None)),
            Block::Step { n, picture, words } => Some((picture.as_deref()?, Some((*n, words.as_str())))),
            Block::Prose(_) => None,
        })
    }

    /// Whether it has no picture.
    pub fn is_text(&self) -> bool {
        self.pictures().next().is_none()
    }

    /// The heading in one line.
    pub fn title(&self) -> String {
        self.heading.join(" \u{b7} ")
    }
}
