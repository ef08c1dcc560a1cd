//! A puzzle or a lesson, as far as it could be understood.

use super::board::{listed, row_span};
use super::meaning::{Reader, is_constraint, said};
use super::values::{line_of, title};
use super::{Board, Constraints, Facts, Fault, FaultKind, Sheet, Verdict};
use crate::board::Layout;
use crate::notation::{Item, ItemKind, Keyword, Section, Span, Statement, StepLine};
use crate::sameness::{self, Form, Formed, Undecided, canonical};
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// What an item of a section means.
#[derive(Clone, Debug)]
pub enum Entry {
    /// Before the first part, puzzle, lesson or answer; what holds for all that follow is in the [`Meaning`](super::Meaning).
    Preface,
    /// A chapter.
    Part,
    /// A puzzle or a lesson.
    Puzzle(Box<Puzzle>),
    /// A solution kept apart from its puzzle.
    Answer(Box<Answer>),
}

/// A name as written, and where.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Name {
    /// The name itself.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A puzzle or a lesson.
#[derive(Clone, Debug)]
pub struct Puzzle {
    /// Its `puzzle` or `lesson` line, keyword to last value; where that is lost, its first statement's keyword.
    pub head: Span,
    /// Its id, where it has one.
    pub id: Option<Name>,
    /// Its title's lines, where it has one.
    pub title: Vec<String>,
    /// A lesson need not be a puzzle: its position is not counted.
    pub lesson: bool,
    /// Something of it is lost (its `puzzle` line, or a block's first line): it is kept and not judged.
    pub unsure: bool,
    /// The constraints that can be understood, and are not used in solving yet. Where each stands; its head, where all of
    /// them hold by default.
    pub unused_constraints: Box<[Span]>,
    /// What is said of it: its own facts, then the defaults that hold here. Shared by all for which only these hold.
    pub facts: Arc<Facts>,
    /// Where its cells lie and which houses they have; `None` where that is unsaid or broken.
    pub layout: Option<Arc<Layout>>,
    /// Its printed digits; `None` where there are none or the block is broken.
    pub givens: Option<Board>,
    /// Where a lesson starts.
    pub position: Option<Board>,
    /// The answer, where it is given with the puzzle.
    pub solution: Option<Board>,
    /// Solvers' sheets, in order.
    pub sheets: Box<[Sheet]>,
    /// It has a walkthrough, remembered facts, or prose with braces, which speak of what a reader knows.
    pub telling: bool,
    /// Named positions of its walks.
    pub points: Box<[Name]>,
    /// Its statements, as indices into the section's.
    pub statements: Range<usize>,
    /// How many solutions it has, once somebody has asked.
    verdict: OnceLock<Verdict>,
    /// Its form, once somebody has asked.
    form: OnceLock<Result<Form, Undecided>>,
}

/// A solution kept apart from its puzzle.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Its `answer` line.
    pub head: Span,
    /// Which puzzle's.
    pub id: Option<Name>,
    /// The statement, as an index into the section's statements; its grid is read when the puzzle's size is known.
    pub statement: usize,
}

impl Puzzle {
    /// Whether its solutions can be counted: nothing that this leans on is broken, absent, or not understood yet. A
    /// lesson need not be a puzzle.
    pub fn judged(&self) -> bool {
        let sound = !self.unsure && self.layout.is_some() && self.givens.is_some();
        sound && !self.lesson && self.facts.constraints == Constraints::None
    }

    /// How many solutions it has: searched when first asked for, and kept.
    pub fn verdict(&self) -> &Verdict {
        self.verdict.get_or_init(|| Verdict::of(self))
    }

    /// The same where it takes next to no time to tell; `None` where it would take longer.
    pub fn verdict_at_once(&self) -> Option<&Verdict> {
        if self.verdict.get().is_none()
            && let Some(verdict) = Verdict::at_once(self)
        {
            let _known_by_now_all_the_same = self.verdict.set(verdict);
        }
        self.verdict.get()
    }

    /// What it is compared with others by: its layout, its givens and their form, which is worked out when first asked
    /// for, and kept. `None` unless it has exactly one solution.
    ///
    /// # Errors
    /// If so many of its lines look alike that it was not told within the usual budget.
    pub fn form(&self) -> Option<Result<Formed<'_>, Undecided>> {
        let (Verdict::One(_), Some(layout), Some(givens)) = (self.verdict(), &self.layout, &self.givens)
        else {
            return None;
        };
        let form = self.form.get_or_init(|| {
            canonical(layout, &givens.grid, sameness::Budget::default()).map(|canonical| canonical.form)
        });
        Some(form.as_ref().map(|form| (&**layout, &givens.grid, form)).map_err(|undecided| *undecided))
    }

    /// How it comes of another puzzle that it is in another dress, in words; `None` where it is not, or that is not known.
    pub fn comes_of(&self, other: &Puzzle) -> Option<String> {
        // Nearly all are told apart by a look at their givens, and need not be solved for that.
        let givens = self.givens.as_ref().zip(other.givens.as_ref());
        if !givens.is_some_and(|(own, other)| sameness::may_be_same(&own.grid, &other.grid)) {
            return None;
        }
        let (own, other) = (self.form()?.ok()?, other.form()?.ok()?);
        sameness::how(other, own).map(|how| how.told(other.1))
    }
}

impl Answer {
    /// Its grid, as a board of the puzzle's layout; `None` where it is still to come or could not be read.
    ///
    /// # Errors
    /// What is wrong with its shape or its symbols; [`Workspace::answer_faults`](super::Workspace::answer_faults) has them
    /// all.
    pub fn board(&self, section: &Section, layout: &Layout) -> Result<Option<Board>, Vec<Fault>> {
        if section.statements[self.statement].broken {
            return Ok(None);
        }
        Board::read(section, self.statement, layout.size())
    }
}

impl Reader<'_> {
    /// Understands a puzzle or a lesson, where `defaults` hold.
    pub(super) fn puzzle(&mut self, item: &Item, defaults: &Arc<Facts>) -> Puzzle {
        let mut facts = self.facts(self.section.statements_of(item), defaults);
        let mut puzzle = self.headed(item, Arc::clone(defaults));
        self.body(item, &mut puzzle, &mut facts);
        if facts != **defaults {
            puzzle.facts = Arc::new(facts);
        }
        puzzle
    }

    /// Understands what stands below the head of a puzzle.
    fn body(&mut self, item: &Item, puzzle: &mut Puzzle, facts: &mut Facts) {
        let statements = self.section.statements_of(item);
        puzzle.telling = statements.iter().any(|statement| self.tells(statement));
        puzzle.points = statements.iter().flat_map(|it| self.points(it)).collect();
        if puzzle.unsure {
            self.constraints(puzzle, facts, statements, None);
            self.check_lines(statements, None);
            return;
        }
        if self.lacks_grid(item) {
            self.fault(puzzle.head, FaultKind::GridMissing);
        }
        // The layout of a lesson that starts from another puzzle's walk is that puzzle's.
        let has = |keyword| statements.iter().any(|it| it.keyword == Some(keyword));
        let borrowed = has(Keyword::From) && !has(Keyword::Position) && !has(Keyword::Givens);
        puzzle.layout = if borrowed { None } else { self.layout(statements, facts) };
        let mut trusted = None;
        if let Some(layout) = puzzle.layout.clone() {
            let before = self.faults.len();
            puzzle.givens = self.board(item, Keyword::Givens, &layout);
            puzzle.position = self.board(item, Keyword::Position, &layout);
            puzzle.solution = self.board(item, Keyword::Solution, &layout);
            // A size that is only supposed is not held against what leans on it.
            let size_is_sure = facts.size.is_some() || self.faults.len() == before;
            puzzle.sheets = self.sheets(item, &layout);
            trusted = Some(layout).filter(|_| size_is_sure);
        }
        self.take_symbols(statements, trusted.as_deref(), facts);
        self.constraints(puzzle, facts, statements, trusted.as_deref());
        self.check_lines(statements, trusted.as_deref());
    }

    /// What the head of a puzzle says of it.
    fn headed(&self, item: &Item, facts: Arc<Facts>) -> Puzzle {
        let first = self.section.statements_of(item).first();
        let has_head = first.is_some_and(|it| matches!(it.keyword, Some(Keyword::Puzzle | Keyword::Lesson)));
        let line = first.and_then(|it| listed(self.section, it));
        let id = first.filter(|_| has_head || line.is_some()).and_then(|head| self.id(head));
        let head = match (first, line) {
            (Some(head), _) if has_head => line_of(head),
            (_, Some(line)) => row_span(self.section, line),
            (first, None) => first.map_or(Span::default(), |first| first.word),
        };
        let title = match first.filter(|_| has_head) {
            Some(head) => title(self.section, &head.values[usize::from(id.is_some())..]),
            None => Vec::new(),
        };
        Puzzle {
            head,
            id,
            title,
            lesson: item.kind == ItemKind::Lesson,
            unsure: item.unsure,
            unused_constraints: Box::default(),
            facts,
            layout: None,
            givens: None,
            position: None,
            solution: None,
            sheets: Box::default(),
            telling: false,
            points: Box::default(),
            statements: item.statements.start as usize..item.statements.end as usize,
            verdict: OnceLock::new(),
            form: OnceLock::new(),
        }
    }

    /// Whether a statement speaks of what a reader knows.
    fn tells(&self, statement: &Statement) -> bool {
        let braced =
            || self.section.block(statement).iter().any(|line| self.section.at(line.span).contains('{'));
        match statement.keyword {
            Some(Keyword::Steps | Keyword::Known) => true,
            Some(Keyword::Note | Keyword::Hint) => braced(),
            _ => false,
        }
    }

    /// Whether a puzzle says something about itself and has no grid. A puzzle that says nothing is still to come, and a
    /// statement that could not be read may be the grid.
    fn lacks_grid(&self, item: &Item) -> bool {
        use Keyword::{From, Givens, Position};
        let statements = self.section.statements_of(item);
        let may_be_grid = |it: &Statement| matches!(it.keyword, None | Some(Givens | Position | From));
        item.kind == ItemKind::Puzzle && statements.len() > 1 && !statements.iter().any(may_be_grid)
    }

    /// The grid under the first statement with this keyword.
    fn board(&mut self, item: &Item, keyword: Keyword, layout: &Layout) -> Option<Board> {
        let at = self.find(item, keyword).next()?;
        let read = Board::read(self.section, at, layout.size());
        self.block(item, at, layout, read)
    }

    /// The sheets, in order.
    fn sheets(&mut self, item: &Item, layout: &Layout) -> Box<[Sheet]> {
        let works: Vec<usize> = self.find(item, Keyword::Work).collect();
        let sheet = |at: usize| {
            let read = Sheet::read(self.section, at, layout);
            self.block(item, at, layout, read)
        };
        works.into_iter().filter_map(sheet).collect()
    }

    /// The statements of an item with this keyword that could be read, as indices into the section's.
    fn find(&self, item: &Item, keyword: Keyword) -> impl Iterator<Item = usize> + use<'_> {
        let range = item.statements.start as usize..item.statements.end as usize;
        let section = self.section;
        range.filter(move |&at| {
            let statement = &section.statements[at];
            statement.keyword == Some(keyword) && !statement.broken
        })
    }

    /// What was read of a block, or its faults. A block without a row is still to come, if nothing follows it.
    fn block<T>(
        &mut self,
        item: &Item,
        at: usize,
        layout: &Layout,
        read: Result<Option<T>, Vec<Fault>>,
    ) -> Option<T> {
        match read {
            Ok(None) if at + 1 < item.statements.end as usize => {
                let needed = layout.size().usize();
                self.fault(self.section.statements[at].word, FaultKind::RowsMissing { found: 0, needed });
                None
            }
            Ok(read) => read,
            Err(faults) => {
                self.faults.extend(faults);
                None
            }
        }
    }

    /// The points of a walk.
    fn points(&self, statement: &Statement) -> Vec<Name> {
        let point = |line| match self.section.step(line)? {
            StepLine::Point(span) => Some(Name { text: self.section.at(*span).to_owned(), span: *span }),
            _ => None,
        };
        match statement.keyword {
            Some(Keyword::Steps) => self.section.block(statement).iter().filter_map(point).collect(),
            _ => Vec::new(),
        }
    }

    /// Takes up the further constraints of a puzzle: its own, or else those that hold by default.
    fn constraints(
        &mut self,
        puzzle: &mut Puzzle,
        facts: &mut Facts,
        statements: &[Statement],
        layout: Option<&Layout>,
    ) {
        let own = self.unused_constraints(statements, layout);
        let by_default = !statements.iter().any(is_constraint) && facts.constraints == Constraints::Unused;
        facts.constraints = facts.constraints.max(said(statements, &own));
        puzzle.unused_constraints = if by_default { [puzzle.head].into() } else { own.into() };
    }

    /// The further constraints that can be understood on this layout, or by themselves if none is known.
    pub(super) fn unused_constraints(
        &mut self,
        statements: &[Statement],
        layout: Option<&Layout>,
    ) -> Vec<Span> {
        let mut unused = Vec::new();
        for statement in statements.iter().filter(|it| is_constraint(it) && !it.broken) {
            match layout.map_or(Ok(()), |layout| self.constraint(statement, layout.size())) {
                Ok(()) => unused.push(line_of(statement)),
                Err(fault) => self.faults.push(fault),
            }
        }
        unused
    }

    /// Takes up what is printed for the digits, as far as it can be understood on this layout.
    pub(super) fn take_symbols(
        &mut self,
        statements: &[Statement],
        layout: Option<&Layout>,
        facts: &mut Facts,
    ) {
        let Some(layout) = layout else { return };
        for statement in statements.iter().filter(|it| it.keyword == Some(Keyword::Symbols)) {
            facts.symbols = self.symbols(statement, layout.size()).map(Box::new).or(facts.symbols.take());
        }
    }
}
