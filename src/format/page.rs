//! Lines on their way out: one empty line before each head, and each line with its own end.

use crate::notation::Ending;

/// What a line is, as far as the lines around it care.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Blank,
    /// In column 1: belongs to what follows.
    Comment,
    /// `puzzle`, `lesson`, `part` or `answer`.
    Head,
    Other,
}

struct Out {
    role: Role,
    text: String,
    ending: Ending,
}

/// The lines so far.
#[derive(Default)]
pub(super) struct Page {
    lines: Vec<Out>,
}

impl Page {
    pub fn push(&mut self, role: Role, text: String, ending: Ending) {
        if role == Role::Head {
            self.part();
        }
        self.lines.push(Out { role, text, ending });
    }

    /// Makes one empty line stand before a head, or before the comments right above it.
    fn part(&mut self) {
        let comments = self.lines.iter().rev().take_while(|line| line.role == Role::Comment).count();
        let at = self.lines.len() - comments;
        let blanks = self.lines[..at].iter().rev().take_while(|line| line.role == Role::Blank).count();
        let first = at == blanks;
        if first && self.lines[..at].iter().all(|line| line.text.is_empty()) {
            self.lines.drain(..blanks);
            return;
        }
        let ending = self.lines[at - 1].ending;
        let wanted = Out { role: Role::Blank, text: String::new(), ending };
        if !first {
            self.lines.splice(at - blanks..at, [wanted]);
        }
    }

    /// The text. A last line that is not ended gets the `usual` end.
    pub fn text(self, usual: Ending) -> String {
        let mut text = String::with_capacity(self.lines.iter().map(|line| line.text.len() + 2).sum());
        for line in &self.lines {
            // An empty line behind a CR would lose itself with its LF: the two are one end.
            let is_lost = line.text.is_empty() && text.ends_with('\r');
            text.push_str(&line.text);
            let ending = if line.ending == Ending::None { usual } else { line.ending };
            text.push_str(if is_lost && ending == Ending::Lf { Ending::CrLf } else { ending }.text());
        }
        text
    }
}
