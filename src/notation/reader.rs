//! Reading a section: what stands between two lines, and which way a line goes.
//!
//! The state between two lines is small on purpose: the open block, the item, and whether the item has shown a grid. A
//! statement in column 1 always ends the block before it, so a slip in one block cannot spoil the next. Lines in column 1
//! are read in `outer`, what they state in `statement`, and the lines of a block in `block`.

use super::line::{is_plain_indented_row, trimmed};
use super::read::after_mark;
use super::{
    BadText, Block, Claim, Ending, Fault, FaultKind, Item, ItemKind, Keyword, Line, LineKind, Section, Span,
    Statement, StepLine, Text, is_blank,
};
use std::collections::{BTreeMap, BTreeSet};

/// Few sections have more statements.
const USUAL: usize = 8;

/// The block that lines belong to just now.
#[derive(Clone, Copy)]
pub(super) struct Open {
    /// Its statement, as an index.
    pub(super) statement: usize,
    pub(super) keyword: Keyword,
    pub(super) block: Block,
    /// A line of it stood in column 1, and that has been said.
    pub(super) outdented: bool,
}

/// What is read of a section so far.
pub(super) struct Growing {
    pub(super) text: Text,
    pub(super) lines: Vec<Line>,
    pub(super) statements: Vec<Statement>,
    pub(super) items: Vec<Item>,
    pub(super) claims: Vec<(u32, Claim)>,
    pub(super) steps: Vec<(u32, StepLine)>,
    pub(super) faults: Vec<Fault>,
}

/// Reads the lines of a section, one after the other.
pub(super) struct Reader<'t> {
    pub(super) text: &'t str,
    /// Whether the lines must be looked through for what has no place in a text.
    may_be_bad: bool,
    /// What has no place in a text and was reported: each is once.
    bad: Vec<BadText>,
    pub(super) section: Growing,
    pub(super) open: Option<Open>,
    /// The item has shown a grid with a row in it.
    pub(super) grid_seen: bool,
    /// The first statement of the item, as an index, for each that may stand only once.
    pub(super) seen: BTreeMap<(Keyword, Option<&'t str>), usize>,
    /// What the run of statements that were said before says again: each is reported once in such a run.
    pub(super) again: BTreeSet<(Keyword, Option<&'t str>)>,
    /// The last fault of a line in a block, and its line: its neighbours are not reported again.
    pub(super) run: Option<(std::mem::Discriminant<FaultKind>, u32)>,
}

impl<'t> Reader<'t> {
    pub(super) fn new(text: &'t Text) -> Self {
        // Most sections have one item more.
        let mut items = Vec::with_capacity(2);
        items.push(Item { kind: ItemKind::Preface, statements: 0..0, unsure: false });
        let lines = memchr::memchr_iter(b'\n', text.as_bytes()).count() + usize::from(!text.ends_with('\n'));
        let section = Growing {
            text: text.clone(),
            lines: Vec::with_capacity(lines),
            statements: Vec::with_capacity(USUAL),
            items,
            claims: Vec::new(),
            steps: Vec::new(),
            faults: Vec::new(),
        };
        Reader {
            text,
            bad: Vec::new(),
            may_be_bad: text.bytes().fold(false, |any, byte| any | may_be_bad(byte)),
            section,
            open: None,
            grid_seen: false,
            seen: BTreeMap::new(),
            again: BTreeSet::new(),
            run: None,
        }
    }

    pub(super) fn finish(mut self) -> Section {
        self.close_item();
        // A section that begins with a head has nothing before it.
        if self.section.items.len() > 1 && self.section.items[0].statements.is_empty() {
            self.section.items.remove(0);
        }
        self.section.faults.sort_by_key(|fault| fault.span);
        let Growing { text, lines, statements, items, claims, steps, faults } = self.section;
        Section {
            text,
            lines: lines.into(),
            statements: statements.into(),
            items: items.into(),
            claims: claims.into(),
            steps: steps.into(),
            faults: faults.into(),
        }
    }

    pub(super) fn line(&mut self, span: Span, ending: Ending) {
        let kind = if self.is_plain_row(span, ending) {
            self.plain_row()
        } else {
            let content = after_mark(self.text, span);
            self.check_characters(content, ending);
            self.read_line(content)
        };
        self.keep(span, ending, kind);
    }

    /// Whether a line is a row of the open grid and nothing else, as most lines are.
    fn is_plain_row(&self, span: Span, ending: Ending) -> bool {
        let in_grid = self.open.is_some_and(|open| open.block == Block::Grid);
        in_grid && ending != Ending::Cr && is_plain_indented_row(&self.text.as_bytes()[span.range()])
    }

    /// Takes up a line as what it was read as.
    pub(super) fn keep(&mut self, span: Span, ending: Ending, kind: LineKind) {
        // What parts the rows of a grid does not part a run.
        let here = self.here();
        let in_grid = self.open.is_some_and(|open| matches!(open.block, Block::Grid | Block::Work));
        if matches!(kind, LineKind::Blank | LineKind::Comment | LineKind::Frame)
            && in_grid
            && let Some((_, last)) = self.run.as_mut().filter(|(_, last)| last + 1 == here)
        {
            *last = here;
        }
        self.section.lines.push(Line { span, ending, kind });
    }

    /// The index of the line that is being read.
    pub(super) fn here(&self) -> u32 {
        u32::try_from(self.section.lines.len()).unwrap_or(u32::MAX)
    }

    pub(super) fn fault(&mut self, span: Span, kind: FaultKind) {
        self.section.faults.push(Fault { span, kind });
    }

    /// Reports a fault of a line, unless the line before it was wrong in the same way.
    pub(super) fn run_fault(&mut self, span: Span, kind: FaultKind) {
        let same = std::mem::discriminant(&kind);
        let here = self.here();
        if self.run.replace((same, here)).is_none_or(|(last, line)| last != same || line + 1 < here) {
            self.fault(span, kind);
        }
    }

    fn check_characters(&mut self, content: Span, ending: Ending) {
        if self.may_be_bad
            && let Some((at, c, bad)) =
                content.of(self.text).char_indices().find_map(|(at, c)| Some((at, c, bad_character(c)?)))
        {
            let span = Span::new(at, at + c.len_utf8()).shifted(content.start as usize);
            self.bad_text(span, bad);
        }
        if ending == Ending::Cr {
            self.bad_text(Span::new(content.end as usize, content.end as usize + 1), BadText::LoneReturn);
        }
    }

    fn bad_text(&mut self, span: Span, what: BadText) {
        if !self.bad.contains(&what) {
            self.bad.push(what);
            self.fault(span, FaultKind::Encoding(what));
        }
    }

    fn read_line(&mut self, content: Span) -> LineKind {
        let line = content.of(self.text);
        let inner = trimmed(self.text, content);
        if inner.is_empty() {
            return LineKind::Blank;
        }
        if line.starts_with('#') {
            return LineKind::Comment;
        }
        if line.starts_with(is_blank) { self.inner(inner) } else { self.outer(inner) }
    }
}

/// An index as the tree keeps it: texts are far below four thousand million lines.
pub(super) fn index(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Whether a byte is a [`bad_character`], or begins one: the bytes below the blank, DEL, C2 and E2. Those of line ends and
/// tabs are not meant.
fn may_be_bad(byte: u8) -> bool {
    (byte < b' ' && !matches!(byte, b'\t' | b'\n' | b'\r')) || matches!(byte, 0x7f | 0xc2 | 0xe2)
}

/// What is wrong with a character that has no place in a text.
fn bad_character(c: char) -> Option<BadText> {
    match c {
        '\t' => None,
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => Some(BadText::Turning(c)),
        _ => c.is_control().then_some(BadText::Control(c)),
    }
}
