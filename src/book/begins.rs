//! Where the sections of a file begin: known of each, so that a place of one is a place of the file without a look at the
//! others.

use crate::notation::{Ending, Section};
use std::ops::Range;
use std::sync::Arc;

/// Where each section of a file begins.
#[derive(Clone, Default, Debug)]
pub(super) struct Begins(Vec<Begin>);

/// A place of a file. 32 bits are enough: files above 64 MiB are refused before they are read.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
struct Begin {
    byte: u32,
    line: u32,
}

impl Begin {
    /// Where the next section begins, if `section` begins here.
    fn behind(self, section: &Section) -> Begin {
        let open = section.lines.last().is_some_and(|line| line.ending == Ending::None);
        let lines = section.lines.len() - usize::from(open);
        let narrow = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Begin {
            byte: self.byte.saturating_add(narrow(section.text.len())),
            line: self.line.saturating_add(narrow(lines)),
        }
    }
}

impl Begins {
    /// Where these sections begin, which together are a file.
    pub fn of(sections: &[Arc<Section>]) -> Begins {
        Begins(from(&mut Begin::default(), sections))
    }

    /// The `new` ones of `sections` came in the place of the `old` ones.
    pub fn edit(&mut self, old: Range<usize>, new: Range<usize>, sections: &[Arc<Section>]) {
        let mut end = self.0[old.start];
        let new = from(&mut end, &sections[new]);
        if let Some(before) = self.0.get(old.end).copied().filter(|before| *before != end) {
            for begin in &mut self.0[old.end..] {
                begin.byte = begin.byte - before.byte + end.byte;
                begin.line = begin.line - before.line + end.line;
            }
        }
        self.0.splice(old, new);
    }

    /// The byte at which a section begins.
    pub fn byte(&self, section: usize) -> usize {
        self.0[section].byte as usize
    }

    /// How many lines stand before a section.
    pub fn line(&self, section: usize) -> u32 {
        self.0[section].line
    }

    /// The last section that begins at this byte or before.
    pub fn at_byte(&self, byte: usize) -> usize {
        self.0.partition_point(|begin| begin.byte as usize <= byte).saturating_sub(1)
    }

    /// The last section that begins on this line or before.
    pub fn at_line(&self, line: u32) -> usize {
        self.0.partition_point(|begin| begin.line <= line).saturating_sub(1)
    }
}

/// Where these sections begin, the first at `next`, which is where they end then.
fn from(next: &mut Begin, sections: &[Arc<Section>]) -> Vec<Begin> {
    let begin = |section: &Arc<Section>| {
        let here = *next;
        *next = here.behind(section);
        here
    };
    sections.iter().map(begin).collect()
}
