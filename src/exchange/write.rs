//! What was read, as text of the notation.

use super::column::key;
use super::import::{Draft, Piece, Place};
use super::symbols::Look;
use super::text::{Lines, is_blank, trim};
use super::{Effect, Form, Imported, Trouble, TroubleKind};
use crate::board::{Grid, MAX_SIDE, Size};
use crate::book::{Book, is_id};
use crate::format::format;
use std::collections::{HashMap, HashSet};
use std::fmt::Write;

/// No id is longer, in characters.
const LONGEST_ID: usize = 60;

/// What must be known of the whole text before its first row is written.
#[derive(Default)]
pub(super) struct Survey {
    ids: HashSet<String>,
    sizes: [usize; MAX_SIDE as usize + 1],
}

impl Survey {
    pub(super) fn look_at(&mut self, piece: &Piece) {
        if let Piece::Puzzle(draft) = piece {
            self.sizes[draft.givens.size().usize()] += 1;
            if let Some(id) = draft.id.as_ref().filter(|id| fits(&id.text)) {
                self.ids.insert(id.text.clone());
            }
        }
    }

    /// The size that most puzzles have, if that is more than one puzzle.
    fn usual(&self) -> Option<Size> {
        let (side, &count) = self.sizes.iter().enumerate().max_by_key(|(_, count)| **count)?;
        Size::new(u8::try_from(side).ok()?).filter(|_| count > 1)
    }
}

/// Whether a text can be an id, and be named in prose and in a range of ids too.
fn fits(id: &str) -> bool {
    is_id(id) && !id.contains("..") && id.chars().count() <= LONGEST_ID
}

/// Writes piece after piece.
pub(super) struct Writer<'a> {
    hand_on: &'a mut dyn FnMut(&str),
    /// What was written and not handed on yet.
    out: String,
    /// Whether something was handed on.
    handed_on: bool,
    troubles: Vec<Trouble>,
    /// What the text at hand is called, where there are several.
    name: String,
    /// How many texts were begun.
    begun: usize,
    puzzles: usize,
    left: usize,
    prefix: String,
    usual: Option<Size>,
    /// The ids that stand somewhere in the text, and those that were made.
    reserved: HashSet<String>,
    used: HashSet<String>,
    /// The last number that was put behind an id or prefix.
    numbers: HashMap<String, usize>,
    /// What was written last is a comment without a reason of its own; another may follow at once.
    after_comment: bool,
}

impl<'a> Writer<'a> {
    pub(super) fn new(survey: Survey, prefix: &str, hand_on: &'a mut dyn FnMut(&str)) -> Writer<'a> {
        Writer {
            hand_on,
            out: "notation 1\n".into(),
            handed_on: false,
            troubles: Vec::new(),
            name: String::new(),
            begun: 0,
            puzzles: 0,
            left: 0,
            prefix: Some(key(prefix)).filter(|word| !word.is_empty()).unwrap_or_else(|| "puzzle".into()),
            usual: survey.usual(),
            reserved: survey.ids,
            used: HashSet::new(),
            numbers: HashMap::new(),
            after_comment: false,
        }
    }

    /// Another text begins; `name` is told where one of its lines is named.
    pub(super) fn begin(&mut self, name: &str) {
        self.name = if name.is_empty() { String::new() } else { format!("{name}, ") };
        self.begun += 1;
    }

    pub(super) fn write(&mut self, piece: Piece) {
        match piece {
            Piece::Kept { raw, trouble } => self.kept(raw, trouble),
            Piece::Puzzle(draft) => self.puzzle(*draft),
        }
    }

    pub(super) fn finish(mut self, forms: Vec<Form>) -> Imported {
        self.hand_over();
        self.troubles.sort_by_key(|trouble| (trouble.source, trouble.line, trouble.column));
        let (text, troubles) = (String::new(), self.troubles);
        Imported { forms, text, puzzles: self.puzzles, left: self.left, troubles }
    }

    /// Hands on what was written, in the one written form: the parts of a text are in it where the whole is.
    fn hand_over(&mut self) {
        if std::mem::replace(&mut self.handed_on, true) {
            (self.hand_on)("\n");
        }
        (self.hand_on)(&format(&Book::read("import", &self.out)));
        self.out.clear();
    }

    fn trouble(&mut self, place: Place, kind: TroubleKind) {
        let Place { line, column } = place;
        let source = self.begun.saturating_sub(1);
        self.troubles.push(Trouble { source, line, column, kind, usual: self.usual });
    }

    fn kept(&mut self, raw: &str, trouble: Option<(Place, TroubleKind)>) {
        let reason = trouble.map(|(place, kind)| {
            self.trouble(place, kind);
            let trouble = &self.troubles[self.troubles.len() - 1];
            self.left += usize::from(trouble.effect() == Effect::Left);
            format!("{}line {}, column {}: {}", self.name, trouble.line, trouble.column, trouble.what())
        });
        if reason.is_some() || !self.after_comment {
            self.out.push('\n');
        }
        self.after_comment = reason.is_none();
        if let Some(reason) = reason {
            self.comment(&reason);
        }
        for line in Lines::of(raw) {
            self.comment(line.text);
        }
    }

    fn comment(&mut self, line: &str) {
        if !line.starts_with('#') {
            self.out.push_str("# ");
        }
        self.out
            .extend(line.trim_end_matches(is_blank).chars().map(|c| if c == '\t' { c } else { picture(c) }));
        self.out.push('\n');
    }

    fn puzzle(&mut self, mut draft: Draft) {
        self.puzzles += 1;
        let id = self.id(&mut draft);
        if let Some(character) = first_control(&draft) {
            draft.troubles.push((draft.place, TroubleKind::Control { character }));
        }
        self.hand_over();
        let size = draft.givens.size();
        let smaller = self.usual.is_some_and(|usual| size < usual);
        if smaller && draft.look == Look::Number && draft.solution.is_none() {
            draft.troubles.push((draft.place, TroubleKind::PerhapsShortened { size }));
        }
        for (place, kind) in std::mem::take(&mut draft.troubles) {
            self.trouble(place, kind);
        }
        self.out.push('\n');
        for remark in &draft.remarks {
            self.comment(remark);
        }
        self.out.push_str("puzzle ");
        self.out.push_str(&id);
        self.strings(&draft.title);
        self.out.push('\n');
        if size.side() != 9 {
            self.fact("size", size.side());
        }
        for (keyword, value) in [("number", draft.number), ("level", draft.level)] {
            if let Some(value) = value {
                self.fact(keyword, value);
            }
        }
        for (key, value) in &draft.extras {
            let _ = write!(self.out, "{:<10} {key}", "extra");
            self.strings(value);
            self.out.push('\n');
        }
        self.grid("givens", &draft.givens);
        if let Some(solution) = &draft.solution {
            self.grid("solution", solution);
        }
        self.after_comment = false;
    }

    fn fact(&mut self, keyword: &str, value: impl std::fmt::Display) {
        let _ = writeln!(self.out, "{keyword:<10} {value}");
    }

    /// A string for each line of a text.
    fn strings(&mut self, text: &str) {
        for line in Lines::of(text).map(|line| trim(line.text)).filter(|line| !line.is_empty()) {
            self.out.push_str(" \"");
            for c in line.chars() {
                if matches!(c, '"' | '\\') {
                    self.out.push('\\');
                }
                self.out.push(if c == '\t' { ' ' } else { picture(c) });
            }
            self.out.push('"');
        }
    }

    fn grid(&mut self, keyword: &str, grid: &Grid) {
        self.out.push_str(keyword);
        let side = grid.size().usize();
        for (at, symbol) in grid.to_string().chars().enumerate() {
            self.out.push_str(if at % side == 0 { "\n  " } else { " " });
            self.out.push(symbol);
        }
        self.out.push('\n');
    }

    /// The id that a puzzle has in the notation. What was written instead is kept as `extra id`.
    fn id(&mut self, draft: &mut Draft) -> String {
        let Some(written) = draft.id.take() else {
            let prefix = self.prefix.clone();
            return self.numbered(&prefix, 3);
        };
        let fits = fits(&written.text);
        if fits && self.used.insert(written.text.clone()) {
            return written.text;
        }
        let new = if fits {
            self.numbers.entry(written.text.clone()).or_insert(1);
            self.numbered(&written.text, 1)
        } else {
            let prefix = self.prefix.clone();
            self.numbered(&prefix, 3)
        };
        let kind = match (fits, written.text.is_empty()) {
            (_, true) => TroubleKind::IdBlank { new: new.clone() },
            (true, _) => TroubleKind::IdRepeated { new: new.clone() },
            (false, _) => TroubleKind::IdUnfit { new: new.clone() },
        };
        draft.troubles.push((written.place, kind));
        if !written.text.is_empty() {
            draft.extras.insert(0, ("id".into(), written.text));
        }
        new
    }

    /// The next id of the form `stem-007` that nothing else has.
    fn numbered(&mut self, stem: &str, width: usize) -> String {
        let number = self.numbers.entry(stem.to_owned()).or_insert(0);
        loop {
            *number += 1;
            let id = format!("{stem}-{number:0width$}");
            if !self.reserved.contains(&id) && self.used.insert(id.clone()) {
                return id;
            }
        }
    }
}

/// What is written for a character: itself, or the picture of a control character, which no terminal obeys.
fn picture(c: char) -> char {
    match c {
        '\u{0}'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        c if c.is_control() => '\u{fffd}',
        c => c,
    }
}

/// The first control character that stands in what a puzzle says, line ends and tabs aside.
fn first_control(draft: &Draft) -> Option<char> {
    let extras = draft.extras.iter().flat_map(|(_, value)| value.chars());
    let remarks = draft.remarks.iter().flat_map(|remark| remark.chars());
    let all = draft.title.chars().chain(extras).chain(remarks);
    all.into_iter().find(|&c| c.is_control() && !matches!(c, '\n' | '\r' | '\t'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_is_a_word_that_can_be_named_anywhere() {
        for good in ["gen9-001", "7", "lk-001", "été", "a.b", "a_b"] {
            assert!(fits(good), "{good}");
        }
        for bad in
            ["", "a b", "#1", "a..b", "a,b", "\"a\"", "a{b}", "a/b", "a\u{1b}b", "a\u{a0}b", &"a".repeat(61)]
        {
            assert!(!fits(bad), "{bad}");
        }
    }

    #[test]
    fn a_control_character_becomes_its_picture() {
        assert_eq!(
            ['\u{1b}', '\u{0}', '\u{7f}', '\u{9b}', 'a', 'é'].map(picture),
            ['␛', '␀', '␡', '\u{fffd}', 'a', 'é']
        );
    }
}
