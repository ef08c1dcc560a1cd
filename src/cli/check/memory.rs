//! What a check of lists keeps of the lines that it has told.

use crate::book::{Book, Name};
use crate::cli::firsts::Firsts;
use crate::cli::puzzles::Together;
use crate::lint::{Finding, id_repeated, repeated_puzzle, repeats_undecided};
use crate::sameness::{Form, Undecided};

/// What two puzzles may have in common, as far as that is to be reported.
pub struct Traits {
    pub id: Option<String>,
    /// Its form, as far as that could be told.
    pub form: Option<Result<Form, Undecided>>,
}

/// A line of a list, and what stands before it.
pub struct Own<'a> {
    pub file: &'a str,
    pub ahead: usize,
    pub text: &'a str,
}

/// The lines that others can be the same as: of each about 110 bytes beside its text.
#[derive(Default)]
pub struct Memory {
    ids: Firsts<u32>,
    forms: Firsts<u32>,
    files: Vec<String>,
    lines: Vec<Kept>,
    /// The texts of the lines, one behind the other.
    text: String,
}

/// A line that is kept.
struct Kept {
    file: u32,
    ahead: usize,
    /// Where its text begins.
    begin: usize,
}

impl Memory {
    /// What `own` is to be looked at for, together with the earlier line that has a trait in common with it; by itself, if
    /// it could not be compared. What is new about it is kept.
    pub fn meet(&mut self, traits: &Traits, own: &Own) -> Vec<(&'static Finding, Together)> {
        let bears = |line: &u32, id: &String| {
            let name: Option<Name> = self.book(*line).puzzles().next().and_then(|puzzle| puzzle.id.clone());
            name.is_some_and(|name| name.text == *id)
        };
        let has = |line: &u32, form: &Form| {
            let book = self.book(*line);
            let its = book.puzzles().next().and_then(|puzzle| puzzle.form()?.ok());
            its.is_some_and(|its| its.2 == form)
        };
        let of_id = traits.id.as_ref().map(|id| self.ids.find(id, |line| bears(line, id)).copied());
        let form = traits.form.as_ref().and_then(|form| form.as_ref().ok());
        let of_form = form.map(|form| self.forms.find(form, |line| has(line, form)).copied());
        let its_book = || (Book::read_list(own.file, own.text), own.ahead, None);
        let pairs = [(&id_repeated::FINDING, of_id), (&repeated_puzzle::FINDING, of_form)];
        let pairs = pairs.into_iter().filter_map(|(finding, first)| {
            let first = first??;
            Some((
                finding,
                Together::new([(self.book(first), self.lines[first as usize].ahead, None), its_book()]),
            ))
        });
        let mut pairs: Vec<(&'static Finding, Together)> = pairs.collect();
        if let Some(Err(Undecided)) = traits.form {
            pairs.push((&repeats_undecided::FINDING, Together::new([its_book()])));
        }
        if of_id == Some(None) || of_form == Some(None) {
            let Some(line) = self.keep(own) else { return pairs };
            if let (Some(id), Some(None)) = (&traits.id, of_id) {
                self.ids.add(id, line);
            }
            if let (Some(form), Some(None)) = (form, of_form) {
                self.forms.add(form, line);
            }
        }
        pairs
    }

    /// Keeps a line; where there is no more room to count it, nothing is kept.
    fn keep(&mut self, own: &Own) -> Option<u32> {
        if self.files.last().is_none_or(|file| file != own.file) {
            self.files.push(own.file.to_owned());
        }
        let (line, file) = (u32::try_from(self.lines.len()).ok()?, u32::try_from(self.files.len() - 1).ok()?);
        self.lines.push(Kept { file, ahead: own.ahead, begin: self.text.len() });
        self.text.push_str(own.text);
        Some(line)
    }

    /// A line that was kept, read again.
    fn book(&self, line: u32) -> Book {
        let at = line as usize;
        let end = self.lines.get(at + 1).map_or(self.text.len(), |next| next.begin);
        let kept = &self.lines[at];
        Book::read_list(&self.files[kept.file as usize], &self.text[kept.begin..end])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_could_not_be_compared_is_looked_at_by_itself() {
        let mut memory = Memory::default();
        let own = Own { file: "a.txt", ahead: 7, text: "12...4.....3..2. a\n" };
        let looked_at = memory.meet(&Traits { id: Some("a".into()), form: Some(Err(Undecided)) }, &own);
        let [(finding, lines)] = &looked_at[..] else { panic!("it is looked at once") };
        assert_eq!(
            (finding.name, lines.workspace().books.len(), lines.ahead(0)),
            ("repeats-undecided", 1, 7)
        );
        // Its id is known all the same.
        let again = memory.meet(&Traits { id: Some("a".into()), form: None }, &own);
        assert_eq!(again.iter().map(|(finding, _)| finding.name).collect::<Vec<_>>(), ["id-repeated"]);
    }
}
