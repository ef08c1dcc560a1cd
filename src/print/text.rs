//! Pages as plain text.

use super::{Block, Page, Press};
use crate::draw::Picture;
use crate::words::{Labels, lines};
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
                blocks.push(told(*n, words));
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

/// A step with its number. Each case is a paragraph that stands further in than what it is a case of.
fn told(n: usize, words: &str) -> String {
    let lines = lines(words).zip(0_usize..).map(|((depth, line), at)| match at {
        0 => wrapped(&format!("{n}. {line}")),
        _ => within(line, 2 * depth),
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// A paragraph in lines that are not too wide, as far as its words allow.
fn wrapped(paragraph: &str) -> String {
    within(paragraph, 0)
}

/// The same with so many blanks before each line.
fn within(paragraph: &str, blanks: usize) -> String {
    let mut lines: Vec<String> = Vec::new();
    for word in paragraph.split_whitespace() {
        match lines.last_mut().filter(|line| line.width() + 1 + word.width() <= WIDE) {
            Some(line) => {
                line.push(' ');
                line.push_str(word);
            }
            None => lines.push(format!("{}{word}", " ".repeat(blanks))),
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn cases_stand_further_in() {
        let words = format!("Two.\n  Case 1: {}\n    Case 1.1: b.\nNo.", "a ".repeat(40).trim());
        insta::assert_snapshot!(told(7, &words), @r"
        7. Two.
          Case 1: a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a a
          a a a a a a
            Case 1.1: b.
        No.
        ");
    }
}
