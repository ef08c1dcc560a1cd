//! Reading a file: sections, then line by line, with what is half typed or slipped read as what it must have been.
//!
//! The state between two lines is small on purpose: the open block, the item, and whether the item has shown a grid. A
//! statement in column 1 always ends the block before it, so a slip in one block cannot spoil the next; and a section
//! begins at each head in column 1, so what one section reads as never depends on another.

use super::claim::read_claim_line;
use super::line::{bad_symbol, first_word, is_frame, is_token, pieces, trimmed, values, without_comment};
use super::prose::open_brace;
use super::step::read_step_line;
use super::{
    BadText, Block, Ending, Fault, FaultKind, Item, ItemKind, Keyword, Line, LineKind, Once, Section, Span,
    Statement, StepLine, Tree, Value, Wants, is_blank, is_cell, is_gap, is_open,
};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Reads the text of a file. Never fails: what cannot be read is in the tree too, with a fault.
pub fn read(text: &str) -> Tree {
    Tree { sections: sections(text).map(Section::read).map(Arc::new).collect() }
}

/// The text of each section of a file: at least one, together the whole text.
pub fn sections(text: &str) -> impl Iterator<Item = &str> {
    let mut heads = lines(text)
        .map(|(line, _)| line)
        .filter(|line| line.start > 0 && is_section_head(line.of(text)))
        .map(|line| line.start as usize);
    let mut next = Some(0);
    std::iter::from_fn(move || {
        let start = next?;
        next = heads.next();
        Some(&text[start..next.unwrap_or(text.len())])
    })
}

/// Reads a list: one puzzle a line, one symbol a cell, and behind a blank its id. Each line is a section of its own, with
/// a puzzle that has `givens` and nothing else; blank lines and comments are sections with no statement.
pub fn read_list(text: &str) -> Tree {
    let whole =
        |(span, ending): (Span, Ending)| &text[span.start as usize..span.end as usize + ending.text().len()];
    let mut sections: Vec<Arc<Section>> = lines(text).map(whole).map(read_listed).map(Arc::new).collect();
    if sections.is_empty() {
        sections.push(Arc::new(Section::read("")));
    }
    Tree { sections }
}

impl Tree {
    /// With a fault at the first of `bytes` that is not UTF-8, if one is; the tree was read from all of them, with U+FFFD
    /// where they are not.
    pub fn with_bad_bytes(mut self, bytes: &[u8]) -> Tree {
        let Err(error) = std::str::from_utf8(bytes) else { return self };
        let mut at = error.valid_up_to();
        let bad = '\u{fffd}'.len_utf8();
        for section in &mut self.sections {
            if at < section.text.len() {
                let fault =
                    Fault { span: Span::new(at, at + bad), kind: FaultKind::Encoding(BadText::NotUtf8) };
                let place = section.faults.partition_point(|other| other.span.start < fault.span.start);
                Arc::make_mut(section).faults.insert(place, fault);
                break;
            }
            at -= section.text.len();
        }
        self
    }
}

impl Section {
    /// Reads a section by itself: the text of a file from one head in column 1 to before the next.
    pub fn read(text: &str) -> Section {
        let mut reader = Reader::new(text);
        for (span, ending) in lines(text) {
            reader.line(span, ending);
        }
        reader.finish()
    }
}

/// The lines of `text`: each without its end, and how it ends. They tile the text; an empty text has none.
fn lines(text: &str) -> impl Iterator<Item = (Span, Ending)> {
    let bytes = text.as_bytes();
    let mut at = 0;
    std::iter::from_fn(move || {
        if at == bytes.len() {
            return None;
        }
        let start = at;
        let end = memchr::memchr2(b'\n', b'\r', &bytes[at..]).map_or(bytes.len(), |n| at + n);
        let ending = match &bytes[end..] {
            [b'\n', ..] => Ending::Lf,
            [b'\r', b'\n', ..] => Ending::CrLf,
            [_, ..] => Ending::Cr,
            [] => Ending::None,
        };
        at = end + ending.text().len();
        Some((Span::new(start, end), ending))
    })
}

fn is_section_head(line: &str) -> bool {
    // Nearly every line begins with a blank: look no further at those.
    line.starts_with(['p', 'l', 'a'])
        && first_word(line).and_then(Keyword::named).is_some_and(Keyword::is_head)
}

fn read_listed(text: &str) -> Section {
    let (line, ending) = lines(text).next().unwrap_or((Span::default(), Ending::None));
    let content = after_mark(text, line);
    let inner = trimmed(text, content);
    if inner.is_empty() || inner.of(text).starts_with('#') {
        let kind = if inner.is_empty() { LineKind::Blank } else { LineKind::Comment };
        let mut reader = Reader::new(text);
        reader.keep(line, ending, kind);
        return reader.finish();
    }
    let mut reader = Reader::new(text);
    let symbols = inner.of(text).split(is_blank).next().unwrap_or_default();
    let end = inner.start as usize + symbols.len();
    let id = trimmed(text, Span::new(end, inner.end as usize));
    reader.section.items[0].kind = ItemKind::Puzzle;
    reader.section.statements.push(Statement {
        keyword: Some(Keyword::Givens),
        word: inner.first(0),
        values: if id.is_empty() { Vec::new() } else { vec![Value { span: id, quoted: false }] },
        line: 0,
        block: 0..1,
        broken: false,
    });
    if let Some((at, c)) = symbols.char_indices().find(|&(_, c)| !is_cell(c)) {
        let at = inner.start as usize + at;
        reader.fault(Span::new(at, at + c.len_utf8()), FaultKind::RowUnreadable(c));
        reader.section.statements[0].broken = true;
    }
    reader.keep(Span::new(0, line.end as usize), ending, LineKind::Listed);
    reader.finish()
}

/// `line` without a byte order mark at the beginning of the text.
fn after_mark(text: &str, line: Span) -> Span {
    let mark = if line.start == 0 && text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    Span::new(line.start as usize + mark, line.end as usize)
}

/// What a line looks like, where the open block says that it cannot be what it must be.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Look {
    Row,
    Sheet,
    Walk,
}

impl Look {
    fn of(line: &str) -> Option<Look> {
        if looks_like_walk(line) {
            return Some(Look::Walk);
        }
        let row = without_comment(line);
        if is_frame(row) {
            return Some(Look::Row);
        }
        let tokens = || pieces(row).map(|(_, piece)| piece);
        if tokens().any(|piece| is_house_word(piece) || is_cell_name(piece)) {
            return None;
        }
        if bad_symbol(row).is_none() {
            // Prose is letters too; a row has figures or open cells and no word before them, or its symbols stand alone.
            let figures =
                row.contains(|c: char| c.is_ascii_digit() || is_open(c)) && first_word(row).is_none();
            let single = tokens().all(|piece| piece.len() == 1) && tokens().count() > 1;
            return (figures || single).then_some(Look::Row);
        }
        (tokens().all(is_token) && tokens().count() > 1).then_some(Look::Sheet)
    }

    /// The statement whose block such lines are.
    fn keyword(self) -> Keyword {
        match self {
            Look::Row => Keyword::Givens,
            Look::Sheet => Keyword::Work,
            Look::Walk => Keyword::Steps,
        }
    }
}

/// Whether a line can only be a claim or a line of a walk.
fn looks_like_walk(line: &str) -> bool {
    let mut words = line.split(|c: char| is_blank(c) || c == ',').filter(|word| !word.is_empty());
    let first = words.next().unwrap_or_default();
    let second = words.next().unwrap_or_default();
    let house = || is_house_word(first) && second.chars().next().is_some_and(char::is_alphanumeric);
    let verb = || match first {
        "show" => second.chars().next().is_none_or(|c| c.is_ascii_lowercase() || c == '"'),
        "ask" => second.starts_with('"'),
        "point" => !second.is_empty(),
        "finish" => second.is_empty() || second == "by",
        _ => false,
    };
    first.starts_with('>') || second == "of" || is_cell_name(first) || house() || verb()
}

fn is_house_word(word: &str) -> bool {
    matches!(word, "row" | "col" | "box" | "region" | "diagonal" | "house")
}

/// Whether a word is a cell, such as `r4c1`, or a range of them.
fn is_cell_name(word: &str) -> bool {
    let figures = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let (cell, _) = word.split_once("..").unwrap_or((word, ""));
    cell.strip_prefix('r')
        .and_then(|rest| rest.split_once('c'))
        .is_some_and(|(row, col)| figures(row) && figures(col))
}

/// The block that lines belong to just now.
#[derive(Clone, Copy)]
struct Open {
    /// Its statement, as an index.
    statement: usize,
    keyword: Keyword,
    block: Block,
    /// A line of it stood in column 1, and that has been said.
    outdented: bool,
}

struct Reader<'t> {
    text: &'t str,
    section: Section,
    open: Option<Open>,
    /// The item has shown a grid with a row in it.
    grid_seen: bool,
    /// The first statement of the item, as an index, for each that may stand only once.
    seen: BTreeMap<(Keyword, Option<&'t str>), usize>,
    /// What the run of statements that were said before says again: each is reported once in such a run.
    again: BTreeSet<(Keyword, Option<&'t str>)>,
    /// The last fault of a line in a block, and its line: its neighbours are not reported again.
    run: Option<(std::mem::Discriminant<FaultKind>, u32)>,
}

impl<'t> Reader<'t> {
    fn new(text: &'t str) -> Self {
        let preface = Item { kind: ItemKind::Preface, statements: 0..0, unsure: false };
        let section = Section {
            text: text.into(),
            lines: Vec::new(),
            statements: Vec::new(),
            items: vec![preface],
            faults: Vec::new(),
        };
        Reader {
            text,
            section,
            open: None,
            grid_seen: false,
            seen: BTreeMap::new(),
            again: BTreeSet::new(),
            run: None,
        }
    }

    fn finish(mut self) -> Section {
        self.close_item();
        // A section that begins with a head has nothing before it.
        if self.section.items.len() > 1 && self.section.items[0].statements.is_empty() {
            self.section.items.remove(0);
        }
        self.section.faults.sort_by_key(|fault| fault.span);
        self.section
    }

    fn line(&mut self, span: Span, ending: Ending) {
        let content = after_mark(self.text, span);
        self.check_characters(content, ending);
        let kind = self.read_line(content);
        self.keep(span, ending, kind);
    }

    fn keep(&mut self, span: Span, ending: Ending, kind: LineKind) {
        // What parts the rows of a grid does not part a run.
        let here = self.here();
        let in_grid = self.open.is_some_and(|open| matches!(open.block, Block::Grid | Block::Work));
        if in_grid
            && matches!(kind, LineKind::Blank | LineKind::Comment | LineKind::Frame)
            && let Some((_, last)) = self.run.as_mut().filter(|(_, last)| last + 1 == here)
        {
            *last = here;
        }
        self.section.lines.push(Line { span, ending, kind });
    }

    /// The index of the line that is being read.
    fn here(&self) -> u32 {
        u32::try_from(self.section.lines.len()).unwrap_or(u32::MAX)
    }

    fn fault(&mut self, span: Span, kind: FaultKind) {
        self.section.faults.push(Fault { span, kind });
    }

    /// Reports a fault of a line, unless the line before it was wrong in the same way.
    fn run_fault(&mut self, span: Span, kind: FaultKind) {
        let same = std::mem::discriminant(&kind);
        let here = self.here();
        if self.run.replace((same, here)).is_none_or(|(last, line)| last != same || line + 1 < here) {
            self.fault(span, kind);
        }
    }

    fn check_characters(&mut self, content: Span, ending: Ending) {
        let line = content.of(self.text);
        // Controls are the bytes below the blank, DEL, and two bytes that begin with C2.
        if line.bytes().any(|b| (b < b' ' && b != b'\t') || b == 0x7f || b == 0xc2)
            && let Some((at, c)) = line.char_indices().find(|&(_, c)| c.is_control() && c != '\t')
        {
            let span = Span::new(at, at + c.len_utf8()).shifted(content.start as usize);
            self.bad_text(span, BadText::Control(c));
        }
        if ending == Ending::Cr {
            self.bad_text(Span::new(content.end as usize, content.end as usize + 1), BadText::LoneReturn);
        }
    }

    fn bad_text(&mut self, span: Span, what: BadText) {
        let kind = FaultKind::Encoding(what);
        if !self.section.faults.iter().any(|fault| fault.kind == kind) {
            self.fault(span, kind);
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

    // Lines in column 1.

    fn outer(&mut self, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        let word = first_word(line);
        if let Some(keyword) = word.and_then(Keyword::named) {
            // `house NAME` begins a claim too.
            let claim = keyword == Keyword::House && self.reads_as_walk(inner);
            return if claim { self.outdented(inner) } else { self.statement(keyword, inner, false) };
        }
        // So does `region K`, which is nearly `regions`.
        let walk = self.open.is_some_and(|open| matches!(open.block, Block::Known | Block::Steps));
        if let Some((word, keyword)) = word.filter(|_| !(walk && looks_like_walk(line))).and_then(near) {
            return self.near_statement(word, keyword, inner);
        }
        if self.looks_at_home(inner) {
            return self.outdented(inner);
        }
        if let Some(look) = Look::of(line) {
            return self.lost_block(inner, look);
        }
        self.unknown_statement(inner)
    }

    /// A line of the open block that stands in column 1.
    fn outdented(&mut self, inner: Span) -> LineKind {
        if let Some(open) = self.open.as_mut().filter(|open| !open.outdented) {
            open.outdented = true;
            let keyword = open.keyword;
            self.fault(inner, FaultKind::NotIndented(keyword));
        }
        self.inner(inner)
    }

    /// Whether a line in column 1 looks like a line of the open block.
    fn looks_at_home(&self, inner: Span) -> bool {
        let line = inner.of(self.text);
        let Some(open) = self.open else { return false };
        match open.block {
            Block::None | Block::Kept => false,
            Block::Prose => true,
            Block::Known | Block::Steps => looks_like_walk(line),
            Block::Grid if open.keyword == Keyword::Regions => bad_symbol(without_comment(line)).is_none(),
            Block::Grid | Block::Work => matches!(Look::of(line), Some(Look::Row | Look::Sheet)),
        }
    }

    fn reads_as_walk(&self, inner: Span) -> bool {
        match self.open.map(|open| open.block) {
            Some(Block::Known) => read_claim_line(self.text, inner).is_ok(),
            Some(Block::Steps) => read_step_line(self.text, inner).is_ok(),
            _ => false,
        }
    }

    fn unknown_statement(&mut self, inner: Span) -> LineKind {
        let word = inner.of(self.text).split(is_blank).next().unwrap_or_default();
        let span = inner.first(word.len());
        self.run_fault(span, FaultKind::UnknownStatement(None));
        let statement = self.push_statement(
            None,
            span,
            values(self.text, Span::new(span.end as usize, inner.end as usize)).values,
        );
        self.section.statements[statement].broken = true;
        // Its indented lines are kept with it: nobody can say what they are.
        self.open = Some(Open { statement, keyword: Keyword::Plan, block: Block::Kept, outdented: false });
        LineKind::Statement(index(statement))
    }

    // Statements.

    fn push_statement(&mut self, keyword: Option<Keyword>, word: Span, values: Vec<Value>) -> usize {
        let line = self.here();
        if let Some(once) = keyword.and_then(|keyword| self.once(keyword, &values)) {
            self.seen.entry(once).or_insert(self.section.statements.len());
        }
        let statement = Statement { keyword, word, values, line, block: line + 1..line + 1, broken: false };
        self.section.statements.push(statement);
        self.section.statements.len() - 1
    }

    /// Where the keyword of a line stands; nowhere, at its beginning, if it has none.
    fn keyword_span(&self, inner: Span) -> Span {
        inner.first(first_word(inner.of(self.text)).map_or(0, str::len))
    }

    /// Reads a line whose `word` is nearly that of a statement as that statement.
    fn near_statement(&mut self, word: &str, keyword: Keyword, inner: Span) -> LineKind {
        self.fault(inner.first(word.len()), FaultKind::UnknownStatement(Some(keyword)));
        self.statement(keyword, inner, true)
    }

    /// Reads a statement. `faulty`: something has been said of this line already.
    fn statement(&mut self, keyword: Keyword, inner: Span, faulty: bool) -> LineKind {
        let shape = keyword.shape();
        let word = self.keyword_span(inner);
        let read = values(self.text, Span::new(word.end as usize, inner.end as usize));
        self.place(keyword, word, &read.values);

        let wrong = if let Some(span) = read.open_quote {
            Some((span, FaultKind::QuoteOpen))
        } else if let Some(span) = read.unparted {
            Some((
                span,
                FaultKind::ValueUnreadable(keyword, "a blank must part it from what stands before it"),
            ))
        } else {
            self.wrong_values(keyword, shape.wants, word, &read.values)
        };
        let statement = self.push_statement(Some(keyword), word, read.values);
        if let Some((span, kind)) = wrong {
            // A title whose quote is open is still a title.
            self.section.statements[statement].broken = !(kind == FaultKind::QuoteOpen && keyword.is_head());
            if !faulty {
                self.fault(span, kind);
            }
        }
        self.run = None;
        self.open = (shape.block != Block::None).then_some(Open {
            statement,
            keyword,
            block: shape.block,
            outdented: false,
        });
        LineKind::Statement(index(statement))
    }

    fn wrong_values(
        &self,
        keyword: Keyword,
        wants: Wants,
        word: Span,
        values: &[Value],
    ) -> Option<(Span, FaultKind)> {
        let all = || values[0].span.to(values[values.len() - 1].span);
        let is_id = matches!(keyword, Keyword::Puzzle | Keyword::Lesson | Keyword::Answer);
        match wants {
            Wants::AtLeast(_) if is_id && values.first().is_none_or(|value| value.quoted) => {
                Some((word, FaultKind::IdMissing(keyword)))
            }
            Wants::AtLeast(least) if values.len() < usize::from(least) => {
                Some((word, FaultKind::ValueMissing(keyword)))
            }
            Wants::Nothing if !values.is_empty() => {
                let why = match keyword.shape().block {
                    Block::None => "nothing can stand behind it",
                    Block::Prose => "the text stands below it, indented",
                    _ => "its lines stand below it, indented",
                };
                Some((all(), FaultKind::ValueUnreadable(keyword, why)))
            }
            Wants::Maybe if matches!(keyword, Keyword::Work | Keyword::Steps) => {
                let named = values.first().is_some_and(|value| !value.quoted);
                let good_name = !named || is_name(values[0].span.of(self.text));
                let rest = &values[usize::from(named)..];
                let why = "it can have a name of small letters, figures and hyphens, and a title in quotes";
                (!good_name || rest.iter().any(|value| !value.quoted))
                    .then(|| (all(), FaultKind::ValueUnreadable(keyword, why)))
            }
            _ => None,
        }
    }

    /// Decides which item the statement belongs to, and whether it may stand there.
    fn place(&mut self, keyword: Keyword, word: Span, values: &[Value]) {
        let kind = match keyword {
            Keyword::Part => Some(ItemKind::Part),
            Keyword::Puzzle => Some(ItemKind::Puzzle),
            Keyword::Lesson => Some(ItemKind::Lesson),
            Keyword::Answer => Some(ItemKind::Answer),
            _ => None,
        };
        if let Some(kind) = kind {
            return self.begin_item(kind, false);
        }
        let key = self.once(keyword, values);
        let item = self.section.items[self.section.items.len() - 1].kind;
        let once = keyword.shape().once;
        let homeless = match item {
            ItemKind::Preface | ItemKind::Part => begins_puzzle(keyword),
            ItemKind::Answer => begins_puzzle(keyword) || once == Once::Item,
            ItemKind::Puzzle | ItemKind::Lesson => false,
        };
        let earlier = key.and_then(|key| self.seen.get(&key).copied());
        let adjacent =
            earlier.is_some_and(|at| at + 1 == self.section.statements.len() && self.is_empty_block(at));
        let again = once == Once::Item
            && matches!(item, ItemKind::Puzzle | ItemKind::Lesson)
            && self.grid_seen
            && earlier.is_some()
            && !adjacent;
        if homeless || again {
            self.fault(word, FaultKind::PuzzleMissing(keyword));
            self.begin_item(ItemKind::Puzzle, true);
        } else if let Some((key, at)) = key.zip(earlier) {
            let first = self.section.statements[at].word;
            if self.again.insert(key) {
                self.fault(word, FaultKind::RepeatedStatement(keyword, first));
            }
        } else {
            self.again.clear();
        }
    }

    /// What a statement can stand only once for: itself in an item, or its name; `None` if it may stand as often as wished.
    fn once(&self, keyword: Keyword, values: &[Value]) -> Option<(Keyword, Option<&'t str>)> {
        let name = || values.first().filter(|value| !value.quoted).map(|value| value.span.of(self.text));
        match keyword.shape().once {
            Once::Free => None,
            Once::File | Once::Item => Some((keyword, None)),
            Once::Name => Some((keyword, name())),
        }
    }

    fn is_empty_block(&self, statement: usize) -> bool {
        self.section.statements[statement].block.is_empty()
    }

    fn begin_item(&mut self, kind: ItemKind, unsure: bool) {
        self.close_item();
        let next = index(self.section.statements.len());
        self.section.items.push(Item { kind, statements: next..next, unsure });
        self.grid_seen = false;
        self.seen.clear();
        self.again.clear();
    }

    fn close_item(&mut self) {
        let end = index(self.section.statements.len());
        if let Some(item) = self.section.items.last_mut() {
            item.statements.end = end;
        }
    }

    // Lines of a block.

    fn inner(&mut self, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        let block = self.open.map_or(Block::None, |open| open.block);
        if line.starts_with('#') && block != Block::Prose {
            return LineKind::Comment;
        }
        let kind = match block {
            Block::Prose => self.prose(inner),
            Block::Kept => LineKind::Kept,
            Block::Known => self.claim(inner),
            Block::Steps => self.step(inner),
            Block::Grid | Block::Work | Block::None => match first_word(line).and_then(Keyword::named) {
                Some(keyword) => return self.indented_statement(keyword, inner),
                None if block == Block::None => return self.homeless(inner),
                None => self.row_of(block, inner),
            },
        };
        if !matches!(kind, LineKind::Statement(_)) {
            self.extend_block();
        }
        kind
    }

    /// Makes the open block reach to the line that is being read.
    fn extend_block(&mut self) {
        let end = self.here() + 1;
        if let Some(open) = self.open {
            self.section.statements[open.statement].block.end = end;
        }
    }

    fn breaks_block(&mut self) {
        if let Some(open) = self.open {
            self.section.statements[open.statement].broken = true;
        }
    }

    fn indented_statement(&mut self, keyword: Keyword, inner: Span) -> LineKind {
        let word = self.keyword_span(inner);
        self.run_fault(word, FaultKind::StatementIndented(keyword));
        let run = self.run;
        let kind = self.statement(keyword, inner, true);
        self.run = run;
        kind
    }

    /// An indented line where no block is open.
    fn homeless(&mut self, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        if let Some(look) = Look::of(line) {
            return self.lost_block(inner, look);
        }
        if let Some((word, keyword)) = first_word(line).and_then(near) {
            return self.near_statement(word, keyword, inner);
        }
        self.run_fault(inner, FaultKind::BlockWithoutStart(None));
        LineKind::Kept
    }

    /// Rows, claims or lines of a walk where they cannot be: the block that they look like begins here.
    fn lost_block(&mut self, inner: Span, look: Look) -> LineKind {
        let keyword = look.keyword();
        self.run_fault(inner, FaultKind::BlockWithoutStart(Some(keyword)));
        let statement = self.push_statement(Some(keyword), inner.first(0), Vec::new());
        let here = self.here();
        self.section.statements[statement].broken = true;
        self.section.statements[statement].block = here..here;
        if let Some(item) = self.section.items.last_mut() {
            item.unsure = true;
        }
        // Its lines may stand in column 1 as the first does; that is not worth a word of its own.
        self.open = Some(Open { statement, keyword, block: keyword.shape().block, outdented: true });
        self.inner(inner)
    }

    /// A line of a grid or a sheet.
    fn row_of(&mut self, block: Block, inner: Span) -> LineKind {
        let line = inner.of(self.text);
        if looks_like_walk(line) {
            return self.lost_block(inner, Look::Walk);
        }
        let row = without_comment(line);
        if is_frame(row) {
            return LineKind::Frame;
        }
        if block == Block::Work { self.sheet_row(row, inner) } else { self.grid_row(row, inner) }
    }

    fn grid_row(&mut self, row: &str, inner: Span) -> LineKind {
        let bar = || row.char_indices().next().filter(|_| row.chars().all(is_gap));
        if let Some((at, c)) = bad_symbol(row).or_else(bar) {
            let span = Span::new(at, at + c.len_utf8()).shifted(inner.start as usize);
            self.run_fault(span, FaultKind::RowUnreadable(c));
            self.breaks_block();
            return LineKind::Kept;
        }
        self.grid_seen |=
            self.open.is_some_and(|open| matches!(open.keyword, Keyword::Givens | Keyword::Position));
        LineKind::Row
    }

    fn sheet_row(&mut self, row: &str, inner: Span) -> LineKind {
        let bars = || row.chars().all(is_gap).then_some((0, row.trim_end_matches(is_blank)));
        if let Some((at, piece)) = pieces(row).find(|(_, piece)| !is_token(piece)).or_else(bars) {
            let span = Span::new(at, at + piece.len()).shifted(inner.start as usize);
            self.run_fault(span, FaultKind::MarkUnreadable);
            self.breaks_block();
            return LineKind::Kept;
        }
        LineKind::Tokens
    }

    fn prose(&mut self, inner: Span) -> LineKind {
        self.check_braces(inner);
        LineKind::Prose
    }

    fn check_braces(&mut self, span: Span) {
        self.section.faults.extend(open_brace(self.text, span));
    }

    fn claim(&mut self, inner: Span) -> LineKind {
        match read_claim_line(self.text, inner) {
            Ok(claim) => LineKind::Claim(Box::new(claim)),
            Err(fault) => self.strayed(inner, fault),
        }
    }

    fn step(&mut self, inner: Span) -> LineKind {
        match read_step_line(self.text, inner) {
            Ok(step) => {
                match &step {
                    StepLine::Say(prose) => self.check_braces(*prose),
                    StepLine::Ask(question, _) => self.check_braces(*question),
                    StepLine::Show(show) => {
                        show.caption.into_iter().for_each(|caption| self.check_braces(caption))
                    }
                    _ => {}
                }
                LineKind::Step(Box::new(step))
            }
            Err(fault) => self.strayed(inner, fault),
        }
    }

    /// A line of a walk or of remembered facts that cannot be read as one.
    fn strayed(&mut self, inner: Span, fault: Fault) -> LineKind {
        let line = inner.of(self.text);
        if !looks_like_walk(line) {
            if let Some(keyword) = first_word(line).and_then(Keyword::named) {
                return self.indented_statement(keyword, inner);
            }
            if let Some(look @ (Look::Row | Look::Sheet)) = Look::of(line).filter(|_| line.contains(is_gap)) {
                return self.lost_block(inner, look);
            }
        }
        self.run_fault(fault.span, fault.kind);
        self.breaks_block();
        LineKind::Kept
    }
}

/// A word with the statement that it nearly is.
fn near(word: &str) -> Option<(&str, Keyword)> {
    Some((word, Keyword::near(word)?))
}

/// Whether a statement can only stand in a puzzle or a lesson.
fn begins_puzzle(keyword: Keyword) -> bool {
    matches!(
        keyword,
        Keyword::Givens
            | Keyword::Solution
            | Keyword::Position
            | Keyword::From
            | Keyword::Work
            | Keyword::Known
            | Keyword::Steps
            | Keyword::Number
    )
}

/// Whether `word` can name a sheet or a walk.
fn is_name(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_lowercase())
        && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '.'))
}

/// An index as the tree keeps it: texts are far below four thousand million lines.
fn index(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
