//! The statements that the notation knows.

/// What the indented lines below a statement are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Block {
    /// None: the statement stands alone.
    None,
    /// One symbol a cell.
    Grid,
    /// A solver's sheet: one token a cell.
    Work,
    /// One claim a line.
    Known,
    /// A walk.
    Steps,
    /// Running text; braces are checked references.
    Prose,
    /// Lines that this edition keeps and does not read.
    Kept,
}

/// How often a statement may stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Once {
    /// Once in a file.
    File,
    /// Once in a puzzle (or lesson, or before the first puzzle of a file or part).
    Item,
    /// Once in a puzzle for each name.
    Name,
    /// As often as wished.
    Free,
}

/// What must follow a keyword on its line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Wants {
    /// Nothing: what stands there is a mistake.
    Nothing,
    /// Something or nothing.
    Maybe,
    /// At least this many values.
    AtLeast(u8),
}

/// One row of [`KEYWORDS`].
#[derive(Clone, Copy, Debug)]
pub struct Shape {
    /// The statement.
    pub keyword: Keyword,
    /// As it is written.
    pub word: &'static str,
    /// What stands below it.
    pub block: Block,
    /// How often it may stand.
    pub once: Once,
    /// What stands after it.
    pub wants: Wants,
}

macro_rules! keywords {
    ($($name:ident $word:literal $block:ident $once:ident $wants:expr;)*) => {
        /// A statement's keyword.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub enum Keyword { $(#[doc = concat!("`", $word, "`")] $name,)* }

        /// Every statement, in the order of [`Keyword`].
        pub const KEYWORDS: &[Shape] = &[$(Shape {
            keyword: Keyword::$name, word: $word, block: Block::$block, once: Once::$once, wants: $wants,
        },)*];

        fn named(word: &str) -> Option<Keyword> {
            match word {
                $($word => Some(Keyword::$name),)*
                _ => None,
            }
        }
    };
}

use Wants::{AtLeast, Maybe, Nothing};

keywords! {
    // The file.
    Notation   "notation"   None  File AtLeast(1);
    Collection "collection" None  File AtLeast(1);
    Series     "series"     None  File AtLeast(1);
    Volume     "volume"     None  File AtLeast(1);
    Edition    "edition"    None  File AtLeast(1);
    Status     "status"     None  File AtLeast(1);
    Ids        "ids"        None  File AtLeast(1);
    Numbers    "numbers"    None  File AtLeast(1);
    Language   "language"   None  File AtLeast(1);
    Naming     "naming"     None  File AtLeast(1);
    Page       "page"       None  File AtLeast(1);
    Answers    "answers"    None  File AtLeast(1);
    Ladder     "ladder"     None  File AtLeast(1);
    Marks      "marks"      None  File AtLeast(1);
    // What a file is made of.
    Part       "part"       None  Free AtLeast(1);
    Puzzle     "puzzle"     None  Free AtLeast(1);
    Lesson     "lesson"     None  Free AtLeast(1);
    Answer     "answer"     Grid  Free AtLeast(1);
    Text       "text"       Prose Free Maybe;
    Plan       "plan"       Kept  Free Maybe;
    Take       "take"       None  Free AtLeast(1);
    // Grids, sheets and walks.
    Givens     "givens"     Grid  Item Nothing;
    Solution   "solution"   Grid  Item Nothing;
    Regions    "regions"    Grid  Item Nothing;
    Position   "position"   Grid  Item Nothing;
    From       "from"       None  Item AtLeast(1);
    Work       "work"       Work  Name Maybe;
    Known      "known"      Known Free Nothing;
    Steps      "steps"      Steps Name Maybe;
    Note       "note"       Prose Free Nothing;
    Hint       "hint"       Prose Free Nothing;
    // Geometry.
    Symbols    "symbols"    None  Item AtLeast(1);
    Size       "size"       None  Item AtLeast(1);
    Boxes      "boxes"      None  Item AtLeast(1);
    Rules      "rules"      None  Item AtLeast(1);
    House      "house"      None  Name AtLeast(2);
    // What is claimed of a puzzle.
    Scanning   "scanning"   None  Item Maybe;
    Level      "level"      None  Item AtLeast(1);
    Levels     "levels"     None  Item AtLeast(1);
    Needs      "needs"      None  Item AtLeast(1);
    Avoids     "avoids"     None  Item AtLeast(1);
    Teaches    "teaches"    None  Item AtLeast(1);
    Clues      "clues"      None  Item AtLeast(1);
    Symmetry   "symmetry"   None  Item AtLeast(1);
    Minimal    "minimal"    None  Item Nothing;
    // Further constraints, read and kept.
    Cage        "cage"        None Free AtLeast(1);
    Sum         "sum"         None Free AtLeast(2);
    Thermometer "thermometer" None Free AtLeast(1);
    Arrow       "arrow"       None Free AtLeast(1);
    Odd         "odd"         None Free AtLeast(1);
    Even        "even"        None Free AtLeast(1);
    Less        "less"        None Free AtLeast(2);
    Differ      "differ"      None Free AtLeast(3);
    // For people, and for the book's history.
    Number     "number"     None  Item AtLeast(1);
    Setter     "setter"     None  Item AtLeast(1);
    Source     "source"     None  Item AtLeast(1);
    Date       "date"       None  Item AtLeast(1);
    Tags       "tags"       None  Item AtLeast(1);
    Tested     "tested"     None  Free AtLeast(1);
    Extra      "extra"      None  Free AtLeast(2);
    Made       "made"       None  Item AtLeast(1);
    Repeats    "repeats"    None  Free AtLeast(1);
    Revised    "revised"    None  Free AtLeast(1);
    Erratum    "erratum"    None  Free AtLeast(1);
    Printed    "printed"    None  Free AtLeast(1);
    Allow      "allow"      None  Free AtLeast(2);
}

impl Keyword {
    /// Its row of [`KEYWORDS`].
    pub fn shape(self) -> &'static Shape {
        &KEYWORDS[self as usize]
    }

    /// As it is written.
    pub fn word(self) -> &'static str {
        self.shape().word
    }

    /// The statement written so, exactly.
    pub fn named(word: &str) -> Option<Keyword> {
        named(word)
    }

    /// The one statement that `word` is a slip of the pen for: within one letter (of five or fewer) or two (of more),
    /// and no other statement is. What is half of another statement is not read as this one: `sym` is no `sum`.
    pub fn near(word: &str) -> Option<Keyword> {
        let reach = if word.chars().count() <= 5 { 1 } else { 2 };
        // A whole file may come as one word: lengths are compared before letters are.
        let long = |shape: &&Shape| shape.word.len().abs_diff(word.len()) <= reach;
        let mut near =
            KEYWORDS.iter().filter(long).filter(|shape| strsim::osa_distance(shape.word, word) <= reach);
        let first = near.next()?;
        let half_typed = |of: &str| of.starts_with(word);
        let other = !half_typed(first.word) && KEYWORDS.iter().any(|shape| half_typed(shape.word));
        (near.next().is_none() && !other).then_some(first.keyword)
    }

    /// Whether it begins an item of the file: a part, a puzzle, a lesson or an answer.
    pub fn is_head(self) -> bool {
        matches!(self, Keyword::Part | Keyword::Puzzle | Keyword::Lesson | Keyword::Answer)
    }

    /// Whether it is a further constraint, which this edition keeps and does not use.
    pub fn is_constraint(self) -> bool {
        (Keyword::Cage..=Keyword::Differ).contains(&self)
    }
}
