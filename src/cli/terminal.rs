//! What is written to standard output and standard error, and the exit code that goes with it.

use super::visible;
use anstream::{AutoStream, ColorChoice};
use std::borrow::Cow;
use std::fmt;
use std::io::{self, Stderr, Stdout, Write};
use std::process::ExitCode;

/// How much is said beside the results.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Talk {
    /// Troubles only.
    Quiet,
    /// A summary too.
    Normal,
    /// And each file as it is read.
    Verbose,
}

/// Standard output and standard error, and what the exit code will be.
pub struct Terminal {
    out: AutoStream<Stdout>,
    err: AutoStream<Stderr>,
    styled: bool,
    talk: Talk,
    found: bool,
    troubled: bool,
}

/// Standard output takes nothing more: there is no use in going on.
#[derive(Clone, Copy, Debug)]
pub struct Closed;

/// Something that could not be done: about what, why, and what to do.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Trouble {
    /// A file, an option or a name.
    pub about: String,
    /// What is wrong, as half a sentence.
    pub what: Cow<'static, str>,
    /// What to do, in the imperative.
    pub advice: Cow<'static, str>,
}

impl Trouble {
    /// A trouble with `about`.
    pub fn new(
        about: impl Into<String>,
        what: impl Into<Cow<'static, str>>,
        advice: impl Into<Cow<'static, str>>,
    ) -> Trouble {
        Trouble { about: about.into(), what: what.into(), advice: advice.into() }
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Trouble { about, what, advice } = self;
        write!(f, "{about}: {what}; {advice}")
    }
}

impl Terminal {
    /// The terminal of this process.
    pub fn new(color: ColorChoice, talk: Talk) -> Terminal {
        let choice = match color {
            ColorChoice::Auto => AutoStream::choice(&io::stdout()),
            said => said,
        };
        Terminal {
            out: AutoStream::new(io::stdout(), choice),
            err: AutoStream::new(io::stderr(), color),
            styled: choice != ColorChoice::Never,
            talk,
            found: false,
            troubled: false,
        }
    }

    /// Whether results may be coloured.
    pub fn styled(&self) -> bool {
        self.styled
    }

    /// Writes a result to standard output, at once.
    ///
    /// # Errors
    /// [`Closed`] if nobody reads on (which is no trouble), or if it cannot be written (which is said).
    pub fn print(&mut self, text: &str) -> Result<(), Closed> {
        let written = self.out.write_all(text.as_bytes()).and_then(|()| self.out.flush());
        written.map_err(|error| {
            if error.kind() != io::ErrorKind::BrokenPipe {
                self.trouble(&Trouble::new("standard output", words(&error), "make room or write elsewhere"));
            }
            Closed
        })
    }

    /// Says what could not be done; the exit code will be 2.
    pub fn trouble(&mut self, trouble: &Trouble) {
        self.troubled = true;
        self.say(&format!("gridsetter: {trouble}"));
    }

    /// Says something in passing: nothing failed.
    pub fn remark(&mut self, text: &str) {
        if self.talk >= Talk::Normal {
            self.say(text);
        }
    }

    /// Says something that few want to know.
    pub fn detail(&mut self, text: &str) {
        if self.talk >= Talk::Verbose {
            self.say(text);
        }
    }

    /// There is something to act on: the exit code will be at least 1.
    pub fn found(&mut self) {
        self.found = true;
    }

    /// Whether something could not be done so far.
    pub fn is_troubled(&self) -> bool {
        self.troubled
    }

    /// The exit code so far.
    pub fn exit_code(&self) -> ExitCode {
        match (self.troubled, self.found) {
            (true, _) => ExitCode::from(2),
            (false, true) => ExitCode::from(1),
            (false, false) => ExitCode::SUCCESS,
        }
    }

    /// One line on standard error; that nobody reads it is no trouble.
    fn say(&mut self, text: &str) {
        let _ = writeln!(self.err, "{}", visible::line(text));
    }
}

/// What the system says of a failure, in plain words.
pub fn words(error: &io::Error) -> Cow<'static, str> {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder".into(),
        io::ErrorKind::PermissionDenied => "permission is denied".into(),
        io::ErrorKind::StorageFull => "the disk is full".into(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only".into(),
        _ => {
            let said = error.to_string();
            let plain = said.split(" (os error").next().unwrap_or(&said);
            let mut letters = plain.chars();
            let first = letters.next().map(|c| c.to_ascii_lowercase());
            first.into_iter().chain(letters).collect::<String>().into()
        }
    }
}
