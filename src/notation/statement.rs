//! Statements: their values, and the item that they belong to.

use super::line::{first_word, values};
use super::reader::{Open, Reader, index};
use super::{Block, FaultKind, Item, ItemKind, Keyword, LineKind, Once, Span, Statement, Value, Wants};

impl<'t> Reader<'t> {
    pub(super) fn push_statement(
        &mut self,
        keyword: Option<Keyword>,
        word: Span,
        values: Vec<Value>,
    ) -> usize {
        let line = self.here();
        if let Some(once) = keyword.and_then(|keyword| self.once(keyword, &values)) {
            self.seen.entry(once).or_insert(self.section.statements.len());
        }
        let (values, block) = (values.into(), line + 1..line + 1);
        let statement = Statement { keyword, word, values, line, block, broken: false };
        self.section.statements.push(statement);
        self.section.statements.len() - 1
    }

    /// Where the keyword of a line stands; nowhere, at its beginning, if it has none.
    pub(super) fn keyword_span(&self, inner: Span) -> Span {
        inner.first(first_word(inner.of(self.text)).map_or(0, str::len))
    }

    /// Reads a line whose `word` is nearly that of a statement as that statement.
    pub(super) fn near_statement(&mut self, word: &str, keyword: Keyword, inner: Span) -> LineKind {
        self.fault(inner.first(word.len()), FaultKind::UnknownStatement(Some(keyword)));
        self.statement(keyword, inner, true)
    }

    /// Reads a statement. `faulty`: something has been said of this line already.
    pub(super) fn statement(&mut self, keyword: Keyword, inner: Span, faulty: bool) -> LineKind {
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
        LineKind::Statement
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

    pub(super) fn close_item(&mut self) {
        let end = index(self.section.statements.len());
        if let Some(item) = self.section.items.last_mut() {
            item.statements.end = end;
        }
    }
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
