//! An editor that measures how long it waits, and the processes that it is measured against.

use super::file::{File, URI};
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Who says nothing for so long is at rest.
const REST: Duration = Duration::from_millis(600);

/// The times of something that is done so often.
pub fn times_of<T: Into<Taken>>(count: usize, mut job: impl FnMut() -> T) -> Vec<Duration> {
    let times = (0..count).map(|_| {
        let start = Instant::now();
        match job().into() {
            Taken(Some(time)) => time,
            Taken(None) => start.elapsed(),
        }
    });
    times.collect()
}

/// A time that was taken; `None` for all that a job took.
pub struct Taken(Option<Duration>);

impl From<()> for Taken {
    fn from((): ()) -> Taken {
        Taken(None)
    }
}

impl From<Duration> for Taken {
    fn from(time: Duration) -> Taken {
        Taken(Some(time))
    }
}

/// Sends back each byte that comes.
pub fn echo() {
    let mut byte = [0];
    let (mut input, mut output) = (std::io::stdin().lock(), std::io::stdout());
    while input.read_exact(&mut byte).is_ok() {
        output.write_all(&byte).and_then(|()| output.flush()).unwrap();
    }
}

pub fn round_trips(count: usize) -> Vec<Duration> {
    let mut command = Command::new(std::env::current_exe().unwrap());
    let (mut child, mut input, mut output) = spawn(command.arg("echo"));
    let mut byte = [b'x'];
    let times = times_of(count, || {
        input.write_all(&byte).unwrap();
        output.read_exact(&mut byte).unwrap();
    });
    drop(input);
    child.wait().unwrap();
    times
}

fn spawn(command: &mut Command) -> (Child, ChildStdin, BufReader<ChildStdout>) {
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let (input, output) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
    (child, input, BufReader::new(output))
}

/// Starts a process that does nothing, and waits for its end.
pub fn nothing() {
    Command::new("true").status().unwrap();
}

/// Whether an editor asks for findings.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Asks {
    /// It is told of them.
    Never,
    /// It asks when it wants.
    Once,
    /// It also asks again when it is told to.
    Again,
}

/// An editor with a server of its own, which was greeted.
pub struct Editor {
    server: Child,
    input: Option<ChildStdin>,
    output: BufReader<ChildStdout>,
    version: i64,
    last_id: i64,
    pulls: bool,
    /// The result id of the findings that were asked for last.
    result_id: Value,
    /// The answer to the last question, where something else was waited for when it came.
    early: Option<Vec<u8>>,
}

impl Editor {
    /// An editor that asks for findings in this way.
    pub fn new(asks: Asks) -> Editor {
        Editor::started(asks).0
    }

    /// The same, and how long it took from the start to the first answer.
    pub fn started(asks: Asks) -> (Editor, Duration) {
        let start = Instant::now();
        let (server, input, output) = spawn(Command::new(env!("CARGO_BIN_EXE_gridsetter")).arg("serve"));
        let (version, last_id, result_id, early) = (0, 0, Value::Null, None);
        let (input, pulls) = (Some(input), asks != Asks::Never);
        let mut editor = Editor { server, input, output, version, last_id, pulls, result_id, early };
        let mut text = json!({"codeAction": {"resolveSupport": {"properties": ["edit"]}}});
        let mut workspace = json!({"workspaceEdit": {"documentChanges": true}});
        if asks != Asks::Never {
            text["diagnostic"] = json!({});
            workspace["diagnostics"] = json!({"refreshSupport": asks == Asks::Again});
        }
        let capabilities = json!({"textDocument": text, "workspace": workspace});
        let params = json!({"processId": std::process::id(), "rootUri": null, "capabilities": capabilities});
        let (promised, _) = editor.answer("initialize", &params);
        let taken = start.elapsed();
        assert!(promised["capabilities"].get("diagnosticProvider").is_some(), "{promised}");
        editor.tell("initialized", &json!({}));
        (editor, taken)
    }

    fn send(&mut self, message: &Value) {
        send(self.input.as_mut().unwrap(), message);
    }

    fn tell(&mut self, method: &str, params: &Value) {
        self.send(&json!({"jsonrpc": "2.0", "method": method, "params": params}));
    }

    /// The next message, not read any further than it takes to answer what the server asks.
    fn next(&mut self) -> Vec<u8> {
        let message = next(&mut self.output).unwrap();
        self.input.iter_mut().for_each(|input| answer_question(&message, input));
        message
    }

    /// The answer to a question, and how long it took.
    pub fn answer(&mut self, method: &str, params: &Value) -> (Value, Duration) {
        let start = Instant::now();
        self.ask_unheard(method, params);
        let message = self.hear();
        let taken = start.elapsed();
        let answer: Value = serde_json::from_slice(&message).unwrap();
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        (answer["result"].clone(), taken)
    }

    /// Asks, and does not wait for the answer.
    pub fn ask_unheard(&mut self, method: &str, params: &Value) {
        self.last_id += 1;
        self.send(&json!({"jsonrpc": "2.0", "id": self.last_id, "method": method, "params": params}));
    }

    /// Waits for the answer to the last question, if that was not heard yet.
    pub fn hear(&mut self) -> Vec<u8> {
        loop {
            let message = self.early.take().unwrap_or_else(|| self.next());
            if self.is_answer(&message) {
                return message;
            }
        }
    }

    /// Whether it is the answer to the last question.
    fn is_answer(&self, message: &[u8]) -> bool {
        let sign = format!("\"id\":{}", self.last_id);
        // The id stands first or last.
        let ends = [&message[..message.len().min(60)], &message[message.len().saturating_sub(60)..]];
        ends.iter().any(|end| holds(end, sign.as_bytes()))
    }

    /// How long an answer takes.
    pub fn ask(&mut self, method: &str, params: &Value) -> Duration {
        let (answer, taken) = self.answer(method, params);
        assert!(!answer.is_null(), "{method}: nothing");
        taken
    }

    /// Opens a file; until the first findings are there, if it is told of them.
    pub fn open(&mut self, file: &File) {
        let item = json!({"uri": URI, "languageId": "gridsetter", "version": 0, "text": file.text});
        self.tell("textDocument/didOpen", &json!({"textDocument": item}));
        if !self.pulls {
            self.until(0);
        }
    }

    fn until(&mut self, version: i64) {
        let sign = format!("\"version\":{version},");
        loop {
            let message = self.next();
            if holds(&message[..message.len().min(160)], sign.as_bytes()) {
                return;
            }
            if self.is_answer(&message) {
                self.early = Some(message);
            }
        }
    }

    /// Writes a character over another; how long it takes until there are findings of the text with it.
    pub fn write(&mut self, place: (usize, usize), new: char) -> Duration {
        let message = self.change(place, new);
        let start = Instant::now();
        self.send(&message);
        self.until(self.version);
        start.elapsed()
    }

    fn change(&mut self, (line, column): (usize, usize), new: char) -> Value {
        self.version += 1;
        let place = |column: usize| json!({"line": line, "character": column});
        let change =
            json!({"range": {"start": place(column), "end": place(column + 1)}, "text": new.to_string()});
        let params =
            json!({"textDocument": {"uri": URI, "version": self.version}, "contentChanges": [change]});
        json!({"jsonrpc": "2.0", "method": "textDocument/didChange", "params": params})
    }

    /// Asks for the findings, as one who has those of before.
    pub fn pull(&mut self) -> Duration {
        let mut params = json!({"textDocument": {"uri": URI}});
        if !self.result_id.is_null() {
            params["previousResultId"] = self.result_id.clone();
        }
        let start = Instant::now();
        self.ask_unheard("textDocument/diagnostic", &params);
        let message = self.hear();
        let taken = start.elapsed();
        // Megabytes that were read here would have to be brought back into the caches for the next answer.
        self.result_id = result_id(&message);
        taken
    }

    /// Writes a character over another and asks for the findings.
    pub fn write_and_pull(&mut self, place: (usize, usize), new: char) -> Duration {
        let message = self.change(place, new);
        let start = Instant::now();
        self.send(&message);
        let before = start.elapsed();
        before + self.pull()
    }

    /// Waits until nothing more is told and nothing more is done; when the last thing was told.
    pub fn rest(&mut self) -> Instant {
        let (sender, heard): (_, Receiver<(Instant, Vec<u8>)>) = channel();
        let mut last = Instant::now();
        // A thread reads, as reading cannot be waited for with an end; a question that is answered ends it.
        thread::scope(|scope| {
            let output = &mut self.output;
            scope.spawn(move || {
                while let Some(message) = next(output) {
                    if holds(&message, b"\"at rest\"") || sender.send((Instant::now(), message)).is_err() {
                        return;
                    }
                }
            });
            let mut before = processor_of(self.server.id());
            loop {
                match heard.recv_timeout(REST) {
                    Ok((at, message)) => {
                        last = at;
                        self.input.iter_mut().for_each(|input| answer_question(&message, input));
                    }
                    Err(_) if processor_of(self.server.id()) == before => break,
                    Err(_) => {}
                }
                before = processor_of(self.server.id());
            }
            let message = json!({"jsonrpc": "2.0", "id": "at rest", "method": "none"});
            send(self.input.as_mut().unwrap(), &message);
        });
        last
    }

    /// How many ticks of the processor it took so far, where the system tells.
    pub fn processor(&self) -> u64 {
        processor_of(self.server.id())
    }

    /// What it takes of memory now, and took at most, in kB, where the system tells.
    pub fn memory_kb(&self) -> (u64, u64) {
        let status =
            std::fs::read_to_string(format!("/proc/{}/status", self.server.id())).unwrap_or_default();
        let kb = |name: &str| {
            let line = status.lines().find_map(|line| line.strip_prefix(name));
            line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok()).unwrap_or(0)
        };
        (kb("VmRSS:"), kb("VmHWM:"))
    }
}

impl Drop for Editor {
    fn drop(&mut self) {
        self.input = None;
        self.server.wait().unwrap();
    }
}

/// The fields 14 and 15 of `/proc/PID/stat` (proc(5)): time in the program and in the system.
fn processor_of(process: u32) -> u64 {
    let stat = std::fs::read_to_string(format!("/proc/{process}/stat")).unwrap_or_default();
    let behind_name = stat.rsplit(')').next().unwrap_or_default();
    behind_name.split_whitespace().skip(11).take(2).filter_map(|ticks| ticks.parse::<u64>().ok()).sum()
}

fn send(input: &mut ChildStdin, message: &Value) {
    let body = message.to_string();
    let message = format!("Content-Length: {}\r\n\r\n{body}", body.len());
    input.write_all(message.as_bytes()).unwrap();
}

/// The result id of an answer, which stands before what was found.
fn result_id(answer: &[u8]) -> Value {
    let name = b"\"resultId\":";
    let at = memchr::memmem::find(answer, name).unwrap() + name.len();
    serde_json::Deserializer::from_slice(&answer[at..]).into_iter().next().unwrap().unwrap()
}

/// Answers that findings will be asked for again, if that is what the server asks.
fn answer_question(message: &[u8], input: &mut ChildStdin) {
    if holds(&message[..message.len().min(160)], b"\"workspace/diagnostic/refresh\"") {
        let question: Value = serde_json::from_slice(message).unwrap();
        send(input, &json!({"jsonrpc": "2.0", "id": question["id"], "result": null}));
    }
}

fn next(output: &mut BufReader<ChildStdout>) -> Option<Vec<u8>> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if output.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match line.strip_prefix("Content-Length: ") {
            Some(said) => length = said.trim_end().parse().unwrap(),
            None if line == "\r\n" => break,
            None => {}
        }
    }
    let mut body = vec![0; length];
    output.read_exact(&mut body).ok()?;
    Some(body)
}

fn holds(message: &[u8], sign: &[u8]) -> bool {
    memchr::memmem::find(message, sign).is_some()
}
