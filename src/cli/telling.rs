//! What there is to tell, gathered where it is found out, and told in its turn.

use super::terminal::Trouble;

/// What a [`Terminal`](super::terminal::Terminal) is to write and to say, in order; each as its method of that name has it.
#[derive(Default)]
pub struct Telling {
    pub said: Vec<Said>,
    pub found: bool,
}

/// One thing of it.
pub enum Said {
    Result(String),
    Remark(String),
    Detail(String),
    Trouble(Trouble),
}

impl Telling {
    /// A result.
    pub fn print(&mut self, text: String) {
        self.said.push(Said::Result(text));
    }

    /// Something in passing.
    pub fn remark(&mut self, text: String) {
        self.said.push(Said::Remark(text));
    }

    /// Something that few want to know.
    pub fn detail(&mut self, text: String) {
        self.said.push(Said::Detail(text));
    }

    /// What could not be done.
    pub fn trouble(&mut self, trouble: Trouble) {
        self.said.push(Said::Trouble(trouble));
    }

    /// There is something to act on.
    pub fn found(&mut self) {
        self.found = true;
    }
}
