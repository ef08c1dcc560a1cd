//! Pages as plain text.

use super::{Block, Page, Press};
use crate::draw::Picture;
use crate::words::Labels;
use unicode_width::UnicodeWidthStr as _;

/// How wide running text is.
const WIDE: usize = 78;

/// A page as plain text, which ends in a line's end. Grids are drawn with plain characters, or said in words if the
/// press is to.
pub fn text(page: &Page, press: &Press) -> String {
    let labels = press.voice.labels();
    let mut blocks: Vec<String> = Vec::new();
    if !page.heading.is_empty() {
        blocks.push(page.heading.join("\n"));
    }
    for block in &page.body {
        match block {
            Block::Picture(picture) => blocks.push(grid(picture, press, &labels)),
            Block::Prose(prose) => blocks.push(wrapped(prose)),
            Block::Step { n, picture, words } => {
                blocks.extend(picture.as_deref().map(|picture| grid(picture, press, &labels)));
                blocks.push(wrapped(&format!("{n}. {words}")));
            }
        }
    }
    blocks.iter().map(|block| block.trim_end().to_owned() + "\n").collect::<Vec<_>>().join("\n")
}

fn grid(picture: &Picture, press: &Press, labels: &Labels) -> String {
    let lines: Vec<String> = if press.words {
        picture.said(labels).iter().map(|line| wrapped(line)).collect()
    } else {
        let notes = picture.notes(labels);
        std::iter::once(picture.drawing().trim_end().to_owned())
            .chain(notes.iter().map(|note| wrapped(note)))
            .collect()
    };
    let caption = picture.caption().map(|caption| format!("\n\n{}", wrapped(caption)));
    lines.join("\n") + &caption.unwrap_or_default()
}

/// A paragraph in lines that are not too wide, as far as its words allow.
fn wrapped(paragraph: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    for word in paragraph.split_whitespace() {
        match lines.last_mut().filter(|line| line.width() + 1 + word.width() <= WIDE) {
            Some(line) => {
                line.push(' ');
                line.push_str(word);
            }
            None => lines.push(word.to_owned()),
        }
    }
    lines.join("\n")
}
