//! An open text, what it means, and what is known of it so far.

use super::alone::{Alone, Pending};
use super::convert::{Encoding, bytes_in};
use super::findings::{List, mark};
use super::shown::Shown;
use super::uris::{file_of, place_of};
use crate::book::Book;
use crate::lint::Said;
use crate::settings::Settings;
use std::collections::BTreeSet;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Arc;
use tower_lsp::ls_types::{TextDocumentContentChangeEvent, Uri};

/// An open text.
pub struct Document {
    /// Its name.
    pub uri: Uri,
    /// Its file, if it is one, as the client calls it.
    pub path: Option<PathBuf>,
    /// The one name of that file.
    pub place: Option<PathBuf>,
    /// As the client counts its changes.
    pub version: i32,
    /// Its text, read. What is handed out for longer work stays as it is; then a change copies the lists in it.
    pub book: Arc<Book>,
    /// What its project says.
    pub settings: Arc<Settings>,
    /// What each section of the book shows by itself.
    alone: Alone,
    /// What takes more than one section to find, with lines counted from the beginning of the file; `None` while it is
    /// not known for the texts as they are.
    pub beyond: Option<Vec<Shown>>,
    /// What tells what was last found of this kind from anything else; 0 if that was nothing.
    beyond_mark: u64,
    /// When it was opened, as no other text was.
    opened: u64,
    /// Which edition was given last to a client that asks, and with what beyond.
    pub given: Option<(u64, u64)>,
}

impl Document {
    /// A text that was opened just now; `opened` was said of none before.
    pub fn open(
        uri: Uri,
        version: i32,
        text: String,
        settings: Arc<Settings>,
        encoding: Encoding,
        opened: u64,
    ) -> Document {
        let path = file_of(&uri);
        let place = path.as_deref().map(place_of);
        let book = Book::read_shared(uri.as_str(), &Arc::new(text)).with_ladder(Arc::clone(&settings.ladder));
        let sections = book.tree.sections.len();
        let mut document = Document {
            uri,
            path,
            place,
            version,
            book: Arc::new(book),
            settings,
            alone: Alone::unknown(sections),
            beyond: None,
            beyond_mark: 0,
            opened,
            given: None,
        };
        document.alone.look_at_once(&document.book, 0..sections, encoding);
        document
    }

    /// Makes changes, one after the other, and looks at what they touch. Whatever fails in reading it, a fault in the program
    /// itself, costs another reading of it all and never a change.
    pub fn change(&mut self, version: i32, changes: Vec<TextDocumentContentChangeEvent>, encoding: Encoding) {
        self.version = version;
        self.beyond = None;
        self.alone.edition += 1;
        for TextDocumentContentChangeEvent { range, text, .. } in changes {
            let range = match range {
                Some(range) => bytes_in(&self.book, range, encoding),
                None => 0..self.book.end(),
            };
            if catch_unwind(AssertUnwindSafe(|| self.read_again(range, &text, encoding))).is_err() {
                self.read_anew(encoding);
            }
        }
    }

    /// Reads all of it anew.
    fn read_anew(&mut self, encoding: Encoding) {
        let text = self.book.tree.to_string();
        let (beyond_mark, edition, given) = (self.beyond_mark, self.alone.edition, self.given);
        let (uri, settings) = (self.uri.clone(), Arc::clone(&self.settings));
        let mut anew = Document::open(uri, self.version, text, settings, encoding, self.opened);
        anew.alone.edition += edition + 1;
        *self = Document { beyond_mark, given, ..anew };
    }

    /// Takes up the settings of its project; tells whether they are others than before.
    pub fn heed(&mut self, settings: Arc<Settings>, encoding: Encoding) -> bool {
        if self.settings == settings {
            return false;
        }
        if self.book.ladder != settings.ladder {
            Arc::make_mut(&mut self.book).ladder = Arc::clone(&settings.ladder);
            self.alone.look_again(&self.book, encoding);
        }
        self.settings = settings;
        self.alone.edition += 1;
        true
    }

    /// What is shown of it is chosen anew.
    pub fn choose_anew(&mut self) {
        self.alone.edition += 1;
    }

    /// Reads again what a change of the text touches.
    fn read_again(&mut self, range: Range<usize>, text: &str, encoding: Encoding) {
        let touched = Arc::make_mut(&mut self.book).edit(range, text);
        self.alone.edit(&self.book, &touched, encoding);
    }

    /// Sections that are not looked at in full yet, the first `most` of them.
    pub fn pending(&self, most: usize) -> Vec<Pending> {
        self.alone.pending(&self.book, most)
    }

    /// Takes up what was found for a section, if it still stands where it stood and means what it meant.
    pub fn take(&mut self, pending: &Pending, said: Said, encoding: Encoding) {
        self.alone.take(&self.book, pending, said, encoding);
    }

    /// What there is to say of each section by itself, once all are looked at.
    pub fn said(&self) -> Option<Vec<Arc<Said>>> {
        self.alone.said()
    }

    /// Whether all its sections are looked at in full.
    pub fn is_looked_at(&self) -> bool {
        self.alone.is_looked_at()
    }

    /// Whether all is known that there is to find.
    pub fn is_known(&self) -> bool {
        self.beyond.is_some() && self.is_looked_at()
    }

    /// All that is shown, each with the lines before it.
    pub fn shown(&self, spoil: bool) -> List<'_> {
        let beyond = self.beyond.iter().flatten().map(|shown| (shown, 0));
        chosen(self.alone.shown(&self.book).chain(beyond), &self.settings, spoil)
    }

    /// Takes up what was found by looking at more than one section; tells whether the client may have been shown anything
    /// else of this kind.
    pub fn find_beyond(&mut self, shown: Vec<Shown>) -> bool {
        let before = self.beyond_mark;
        self.beyond_mark = mark(&shown);
        self.beyond = Some(shown);
        before != 0 || self.beyond_mark != 0
    }

    /// The edition that a client is given that has `previous`, with what beyond, and what tells these from anything that was
    /// ever shown. As long as what takes more than one section is looked for again, who has what was found before keeps it.
    pub fn edition_for(&self, previous: Option<&String>) -> ((u64, u64), String) {
        let with = |beyond: u64| {
            let id = format!("{:x}-{}-{beyond:x}", self.opened, self.alone.edition);
            ((self.alone.edition, beyond), id)
        };
        let before = with(self.beyond_mark);
        if self.beyond.is_some() || previous == Some(&before.1) { before } else { with(0) }
    }

    /// Whether a client that asks was given something that is no more so.
    pub fn is_outdated(&self) -> bool {
        self.given.is_some_and(|(edition, beyond)| {
            edition != self.alone.edition || (self.beyond.is_some() && beyond != self.beyond_mark)
        })
    }
}

/// What of all that was found is shown: by the project's settings, and only with `spoil` what the solution reveals.
pub fn chosen<'a>(
    found: impl Iterator<Item = (&'a Shown, u32)>,
    settings: &Settings,
    spoil: bool,
) -> List<'a> {
    let mut once = BTreeSet::new();
    found
        .filter(|(shown, _)| spoil || !shown.spoils)
        .filter(|(shown, _)| settings.check.reports(shown.finding))
        .filter(|(shown, _)| {
            let finding = shown.finding;
            !finding.once_a_file() || once.insert((finding.name, &shown.message))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;
    use tower_lsp::ls_types::Position;

    fn opened(text: &str) -> Document {
        Document::open(
            Uri::from_str("untitled:a").unwrap(),
            0,
            text.into(),
            Arc::default(),
            Encoding::Utf8,
            0,
        )
    }

    fn replaced(document: &mut Document, text: &str) {
        let change =
            TextDocumentContentChangeEvent { range: None, range_length: None, text: text.to_owned() };
        document.change(document.version + 1, vec![change], Encoding::Utf8);
    }

    fn names(document: &Document) -> Vec<&'static str> {
        document.shown(true).iter().map(|(shown, _)| shown.finding.name).collect()
    }

    #[test]
    fn what_is_accepted_goes_with_the_section_that_says_so() {
        let puzzle = "puzzle a\nsize 4\nclues 3\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";
        let accepts = "allow clues-wrong \"so\"\n";
        let mut document = opened(puzzle);
        assert_eq!(names(&document), ["clues-wrong"]);
        replaced(&mut document, &format!("{accepts}\n{puzzle}"));
        assert_eq!(names(&document), [""; 0]);
        replaced(&mut document, &format!("# none\n\n{puzzle}"));
        assert_eq!(names(&document), ["clues-wrong"]);
        // The item that accepted something is no more, nor are as many items.
        replaced(&mut document, &format!("clues 3\ngivens\n  1 .\n{accepts}"));
        replaced(&mut document, "gibberish\n");
        assert_eq!(names(&document), ["unknown-statement"]);
    }

    /// As a client tells it: the text between two bytes, which stand at the beginning of a line.
    fn edited(document: &mut Document, range: Range<usize>, text: &str) {
        let lines = |byte| document.book.tree.to_string()[..byte].matches('\n').count();
        let place = |byte| Position::new(u32::try_from(lines(byte)).unwrap(), 0);
        let range = Some(tower_lsp::ls_types::Range::new(place(range.start), place(range.end)));
        let change = TextDocumentContentChangeEvent { range, range_length: None, text: text.to_owned() };
        document.change(document.version + 1, vec![change], Encoding::Utf8);
    }

    #[test]
    fn what_a_part_accepts_goes_with_its_puzzles() {
        let puzzle =
            |id| format!("puzzle {id}\nsize 4\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n");
        let wrong = puzzle('c').replace("givens", "clues 3\ngivens");
        let [a, b] = ['a', 'b'].map(puzzle);
        let part = "size 4\npart \"P\"\nallow clues-wrong \"so\"\n";
        let mut document = opened(&format!("{part}{a}{b}{wrong}"));
        assert_eq!(names(&document), [""; 0]);
        let (at, other) = (part.len() + a.len(), "part \"Q\"\n");
        edited(&mut document, at..at, other);
        assert_eq!(names(&document), ["clues-wrong"], "it belongs to another part");
        edited(&mut document, at..at + other.len(), "");
        assert_eq!(names(&document), [""; 0]);
    }

    const PIECES: [&str; 9] = [
        "",
        "# a comment\n",
        "part \"P\"\n",
        "part \"Q\"\nallow clues-wrong \"so\"\n",
        "allow clues-wrong \"so\"\n",
        "clues 3\n",
        "size 4\n",
        "givens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n",
        "puzzle d\nclues 3\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n",
    ];

    proptest::proptest! {
        /// Whatever was changed: what is shown is of the text as it is.
        #[test]
        fn what_is_shown_after_changes_is_what_a_fresh_text_shows(
            edits in proptest::collection::vec((0_usize..40, 0_usize..4, 0..PIECES.len(), 0..PIECES.len()), 1..8),
        ) {
            let puzzle = PIECES[8];
            let mut document = opened(&format!("size 4\n{puzzle}{}{puzzle}{puzzle}{puzzle}", PIECES[3]));
            for (from, lines, one, other) in edits {
                let text = document.book.tree.to_string();
                let line = |at: usize| text.split_inclusive('\n').take(at).map(str::len).sum();
                let range = line(from)..line(from + lines);
                edited(&mut document, range, &[PIECES[one], PIECES[other]].concat());
                let text = document.book.tree.to_string();
                let mut fresh = opened(&text);
                let shown = |document: &Document| -> Vec<String> {
                    let shown = document.shown(true);
                    shown.iter().map(|(it, lines)| format!("{} {} {:?}", it.message, lines, it.range)).collect()
                };
                look_on(&mut fresh);
                look_on(&mut document);
                proptest::prop_assert_eq!(shown(&document), shown(&fresh), "{}", text);
            }
        }
    }

    /// Looks at all that was left for later.
    fn look_on(document: &mut Document) {
        for pending in document.pending(usize::MAX) {
            document.take(&pending, pending.look(), Encoding::Utf8);
        }
    }

    #[test]
    fn what_takes_long_is_left_for_later_and_taken_up_only_for_the_same_text() {
        let open = "puzzle a\nsize 4\ngivens\n  1 .  . 4\n  . .  . .\n  . .  . .\n  . .  . .\n";
        let mut document = opened(open);
        assert_eq!(names(&document), [""; 0], "to count many solutions takes long");
        let pending = document.pending(9);
        let found = pending.iter().map(Pending::look).collect::<Vec<_>>();
        assert_eq!(pending.len(), 1);
        let (pending, said) = (&pending[0], found.into_iter().next().unwrap());
        let mut changed = opened(open);
        replaced(&mut changed, &format!("{open}# more\n"));
        changed.take(pending, said, Encoding::Utf8);
        assert_eq!(names(&changed), [""; 0], "it was found in another text");
        document.take(pending, pending.look(), Encoding::Utf8);
        assert_eq!(names(&document), ["many-solutions"]);
        assert!(document.pending(9).is_empty());
    }
}
