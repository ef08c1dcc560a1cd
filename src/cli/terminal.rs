//! What is written to standard output and standard error, and the exit code that goes with it.

use super::progress::{Extent, Progress, WIPE};
use super::stop::{self, Stop};
use super::telling::{Said, Telling};
use super::visible;
use anstream::{AutoStream, ColorChoice};
use std::borrow::Cow;
use std::fmt;
use std::io::{self, IsTerminal as _, Stderr, Stdout, Write};
use std::process::ExitCode;
use std::time::Instant;

/// Results are gathered up to so many bytes before they are written.
const MOST_GATHERED: usize = 64 << 10;

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
    /// Results that are not written yet: whole lines.
    gathered: String,
    styled: bool,
    /// Whether results come to a terminal, where the line of a job may stand in their way.
    shown: bool,
    talk: Talk,
    worst: Worst,
    stop: Stop,
    /// The job at hand, where somebody watches it.
    progress: Option<Progress>,
}

/// The worst that happened so far.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Worst {
    Nothing,
    /// There is something to act on.
    Found,
    /// Something could not be done.
    Troubled,
    /// The user wanted no more.
    Stopped,
}

/// There is no use in going on: standard output takes nothing more, or the user wants no more.
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
            gathered: String::new(),
            styled: choice != ColorChoice::Never,
            shown: io::stdout().is_terminal(),
            talk,
            worst: Worst::Nothing,
            stop: Stop::default(),
            progress: None,
        }
    }

    /// What ends a job before its end.
    pub fn stop(&self) -> &Stop {
        &self.stop
    }

    /// Whether results may be coloured.
    pub fn styled(&self) -> bool {
        self.styled
    }

    /// Writes a result to standard output, soon: before anything is said on standard error, when much has gathered, and
    /// at the latest when the process ends.
    ///
    /// # Errors
    /// As [`flush`](Terminal::flush) has them.
    pub fn print(&mut self, text: &str) -> Result<(), Closed> {
        self.gathered.push_str(text);
        if self.gathered.len() < MOST_GATHERED { Ok(()) } else { self.flush() }
    }

    /// Writes the results that have gathered.
    ///
    /// # Errors
    /// [`Closed`] if nobody reads on (which is no trouble), or if it cannot be written (which is said).
    pub fn flush(&mut self) -> Result<(), Closed> {
        if self.gathered.is_empty() {
            return Ok(());
        }
        if self.shown {
            self.wipe_progress();
        }
        let text = std::mem::take(&mut self.gathered);
        let written = {
            let _whole_lines = self.stop.output();
            self.out.write_all(text.as_bytes()).and_then(|()| self.out.flush())
        };
        written.map_err(|error| {
            if error.kind() != io::ErrorKind::BrokenPipe {
                self.trouble(&Trouble::new("standard output", words(&error), "make room or write elsewhere"));
            }
            Closed
        })
    }

    /// Writes and says what was found out elsewhere.
    ///
    /// # Errors
    /// As [`print`](Terminal::print) has them.
    pub fn tell(&mut self, telling: Telling) -> Result<(), Closed> {
        if telling.found {
            self.found();
        }
        for said in telling.said {
            match said {
                Said::Result(text) => self.print(&text)?,
                Said::Remark(text) => self.remark(&text),
                Said::Detail(text) => self.detail(&text),
                Said::Trouble(trouble) => self.trouble(&trouble),
            }
        }
        Ok(())
    }

    /// A job begins that may take long. Who watches a terminal sees how far it is.
    pub fn begin(&mut self) {
        let watched = self.talk >= Talk::Normal && io::stderr().is_terminal();
        self.progress = watched.then(|| Progress::new(Instant::now()));
    }

    /// Whether somebody watches how far the job is.
    pub fn is_watched(&self) -> bool {
        self.progress.is_some()
    }

    /// The job has come so far.
    pub fn advance(&mut self, puzzles: usize, extent: Extent) {
        if let Some(line) = self.progress.as_mut().and_then(|it| it.line(Instant::now(), puzzles, extent)) {
            on_terminal(&format!("{WIPE}{line}"));
        }
    }

    /// The user wants no more of the job at hand, and what is known of it is told.
    pub fn leave_off(&mut self) -> Closed {
        self.worst = Worst::Stopped;
        self.say(&self.stop.how_far());
        Closed
    }

    /// The job is over.
    pub fn end(&mut self) {
        self.wipe_progress();
        self.progress = None;
    }

    fn wipe_progress(&mut self) {
        if self.progress.as_mut().is_some_and(Progress::wipe) {
            on_terminal(WIPE);
        }
    }

    /// Says what could not be done; the exit code will be 2.
    pub fn trouble(&mut self, trouble: &Trouble) {
        self.worst = self.worst.max(Worst::Troubled);
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
        self.worst = self.worst.max(Worst::Found);
    }

    /// Whether something could not be done so far.
    pub fn is_troubled(&self) -> bool {
        self.worst >= Worst::Troubled
    }

    /// Writes what has gathered; the exit code of it all.
    pub fn exit_code(&mut self) -> ExitCode {
        // Where nobody reads on, the exit code is that of what was found so far.
        let _ = self.flush();
        match self.worst {
            Worst::Nothing => ExitCode::SUCCESS,
            Worst::Found => ExitCode::from(1),
            Worst::Troubled => ExitCode::from(2),
            Worst::Stopped => ExitCode::from(stop::EXIT_CODE),
        }
    }

    /// One line on standard error, behind all results; that nobody reads it is no trouble.
    fn say(&mut self, text: &str) {
        // What cannot be written is noticed when the next result is.
        let _ = self.flush();
        self.wipe_progress();
        let _ = writeln!(self.err, "{}", visible::line(text));
    }
}

/// Writes to standard error what only a terminal obeys, coloured or not.
fn on_terminal(text: &str) {
    let _ = io::stderr().write_all(text.as_bytes());
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
