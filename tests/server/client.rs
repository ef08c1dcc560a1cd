//! A scripted client. Whatever it says and hears is held against the protocol.

use super::protocol::PROTOCOL;
use serde_json::{Value, json};
use std::borrow::Borrow;
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Whoever waits longer has found a server that hangs.
const PATIENCE: Duration = Duration::from_mins(1);

/// A client, and the server that it started.
pub struct Client {
    server: Child,
    input: Option<ChildStdin>,
    messages: Receiver<Value>,
    /// Messages that came while another was waited for.
    kept: Vec<Value>,
    last_id: i64,
    /// The methods of what it asked and was not answered yet.
    asked: BTreeMap<i64, String>,
    /// The methods of what it was asked, by the ids as they were written.
    questions: BTreeMap<String, String>,
    careless: bool,
}

/// A server with nobody at its output yet.
pub fn start() -> (Child, ChildStdin, ChildStdout) {
    start_with(&["serve", "--stdio"])
}

fn start_with(words: &[&str]) -> (Child, ChildStdin, ChildStdout) {
    let mut server = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
        .args(words)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let (input, output) = (server.stdin.take().unwrap(), server.stdout.take().unwrap());
    (server, input, output)
}

/// A message as it goes over the wire.
pub fn framed(body: &str) -> String {
    format!("Content-Length: {}\r\n\r\n{body}", body.len())
}

impl Client {
    /// A client that has said nothing yet.
    pub fn new() -> Client {
        Client::started(&["serve", "--stdio"])
    }

    /// The same, with a server that was started with these words.
    pub fn started(words: &[&str]) -> Client {
        let (server, input, output) = start_with(words);
        let (sender, messages) = channel();
        thread::spawn(move || {
            let mut output = BufReader::new(output);
            while let Some(message) = next(&mut output) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        Client {
            server,
            input: Some(input),
            messages,
            kept: Vec::new(),
            last_id: 0,
            asked: BTreeMap::new(),
            questions: BTreeMap::new(),
            careless: false,
        }
    }

    /// A client that has greeted the server, with these parameters of `initialize`.
    pub fn greeted(params: impl Borrow<Value>) -> Client {
        let mut client = Client::new();
        client.ask("initialize", params).unwrap();
        client.tell("initialized", json!({}));
        client
    }

    /// Sends bytes as they are.
    pub fn send(&mut self, bytes: &str) {
        self.input.as_mut().unwrap().write_all(bytes.as_bytes()).unwrap();
    }

    /// A client that says from now on what the protocol does not allow.
    pub fn careless(mut self) -> Client {
        self.careless = true;
        self
    }

    pub fn tell(&mut self, method: &str, params: impl Borrow<Value>) {
        let params = self.minded(method, params.borrow(), false);
        self.send(&framed(&json!({"jsonrpc": "2.0", "method": method, "params": params}).to_string()));
    }

    /// Sends a request and does not wait; gives its id.
    pub fn begin(&mut self, method: &str, params: impl Borrow<Value>) -> i64 {
        let params = self.minded(method, params.borrow(), true);
        self.last_id += 1;
        let id = self.last_id;
        self.asked.insert(id, method.to_owned());
        self.send(&framed(
            &json!({"jsonrpc": "2.0", "id": id, "method": method, "params": params}).to_string(),
        ));
        id
    }

    /// What it says, seen to be of the protocol. Of a text with a place in it, a method is told what it takes.
    fn minded(&self, method: &str, params: &Value, asks: bool) -> Value {
        let mut params = params.clone();
        if !self.careless {
            if let Some(params) = params.as_object_mut() {
                let of_a_place = ["textDocument", "position", "range", "context", "options"];
                params.retain(|name, _| !of_a_place.contains(&&**name) || PROTOCOL.takes(method, name));
            }
            let said = PROTOCOL.is_message(false, method, Some(&params), asks);
            assert!(said.is_ok(), "the client is wrong: {}", said.unwrap_err());
        }
        params
    }

    /// Holds a message of the server against the protocol: it is a notification, a question, or the one reply to a request.
    fn check(&mut self, message: &Value) {
        assert_eq!(message["jsonrpc"], "2.0");
        let has = |name: &str| message.get(name).is_some();
        let fits = if let Some(method) = message["method"].as_str() {
            if has("id") {
                self.questions.insert(message["id"].to_string(), method.to_owned());
            }
            PROTOCOL.is_message(true, method, message.get("params"), has("id"))
        } else {
            let method = message["id"].as_i64().and_then(|id| self.asked.remove(&id));
            assert!(self.careless || method.is_some(), "nobody asked: {message}");
            assert!(has("result") != has("error"), "{message}");
            match (message.get("error"), method) {
                (Some(error), _) => {
                    assert!(error["code"].is_i64() && error["message"].is_string(), "{message}");
                    Ok(())
                }
                (None, Some(method)) => PROTOCOL.is_result(&method, &message["result"]),
                (None, None) => Ok(()),
            }
        };
        assert!(fits.is_ok(), "{}\nin {message}", fits.unwrap_err());
    }

    /// Answers a question of the server.
    pub fn reply(&mut self, id: &Value, result: &Value) {
        let method = self.questions.remove(&id.to_string()).unwrap();
        let fits = PROTOCOL.is_result(&method, result);
        assert!(fits.is_ok(), "the client is wrong: {}", fits.unwrap_err());
        self.send(&framed(&json!({"jsonrpc": "2.0", "id": id, "result": result}).to_string()));
    }

    /// What the server answers: the result, or the error's code.
    pub fn ask(&mut self, method: &str, params: impl Borrow<Value>) -> Result<Value, i64> {
        let id = self.begin(method, params);
        self.answer(&json!(id))
    }

    /// The answer to an id.
    pub fn answer(&mut self, id: &Value) -> Result<Value, i64> {
        let answer = self.wait(|message| message.get("method").is_none() && message["id"] == *id);
        match answer.get("error") {
            Some(error) => Err(error["code"].as_i64().unwrap()),
            None => Ok(answer["result"].clone()),
        }
    }

    /// The first message that fits, waited for; the others are kept.
    pub fn wait(&mut self, fits: impl Fn(&Value) -> bool) -> Value {
        if let Some(at) = self.kept.iter().position(&fits) {
            return self.kept.remove(at);
        }
        let end = Instant::now() + PATIENCE;
        loop {
            match self.hear(end.saturating_duration_since(Instant::now())) {
                Ok(message) if fits(&message) => return message,
                Ok(message) => self.kept.push(message),
                Err(why) => {
                    let mut came = format!("{:?}", self.kept);
                    came.truncate(came.floor_char_boundary(5000));
                    panic!("no answer: {why}; there came {came}")
                }
            }
        }
    }

    /// The next message, if it comes so soon.
    pub fn hear(&mut self, within: Duration) -> Result<Value, RecvTimeoutError> {
        let message = self.messages.recv_timeout(within)?;
        self.check(&message);
        Ok(message)
    }

    /// Whether such a message came that was not waited for.
    pub fn came(&self, fits: impl Fn(&Value) -> bool) -> bool {
        self.kept.iter().any(fits)
    }

    /// What was found in a version of a text, as soon as it `fits`. What is published of an older version meanwhile is
    /// dropped; that what is published of a newer one comes later is checked.
    pub fn findings(&mut self, version: i64, fits: impl Fn(&[Value]) -> bool) -> Vec<Value> {
        loop {
            let message = self.wait(|message| message["method"] == "textDocument/publishDiagnostics");
            let params = &message["params"];
            assert!(params["version"].as_i64().unwrap() <= version, "{params}");
            let found = params["diagnostics"].as_array().unwrap();
            if params["version"] == version && fits(found) {
                return found.clone();
            }
        }
    }

    /// The names of all that was found in a version of a text, as soon as they are these.
    pub fn finds(&mut self, version: i64, names: &[&str]) -> Vec<Value> {
        self.findings(version, |found| {
            let found: Vec<&str> = found.iter().map(|finding| finding["code"].as_str().unwrap()).collect();
            found == names
        })
    }

    pub fn open(&mut self, uri: &str, text: &str) {
        let item = json!({"uri": uri, "languageId": "gridsetter", "version": 0, "text": text});
        self.tell("textDocument/didOpen", json!({"textDocument": item}));
    }

    /// Changes of a text, each a range (`None` for all of it) and what comes there.
    pub fn change(&mut self, uri: &str, version: i64, changes: &[(Option<Value>, &str)]) {
        let changes: Vec<Value> = changes
            .iter()
            .map(|(range, text)| match range {
                Some(range) => json!({"range": range, "text": text}),
                None => json!({"text": text}),
            })
            .collect();
        let text = json!({"uri": uri, "version": version});
        self.tell("textDocument/didChange", json!({"textDocument": text, "contentChanges": changes}));
    }

    /// Takes its leave as the protocol wants it; gives the exit code. The server must have answered everything, and had no
    /// trouble with itself.
    pub fn leave(mut self) -> Option<i32> {
        self.ask("shutdown", Value::Null).unwrap();
        while !self.asked.is_empty() {
            self.hear(PATIENCE).unwrap();
        }
        self.tell("exit", Value::Null);
        let code = self.code();
        while self.hear(PATIENCE).is_ok() {}
        let mut troubles = String::new();
        self.server.stderr.take().unwrap().read_to_string(&mut troubles).unwrap();
        assert_eq!(troubles, "");
        code
    }

    /// Ends the input without a word; gives the exit code.
    pub fn vanish(mut self) -> Option<i32> {
        self.input = None;
        self.code()
    }

    /// The exit code, waited for.
    pub fn code(&mut self) -> Option<i32> {
        exit_code(&mut self.server)
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

/// The exit code of a server that ends by itself, waited for.
pub fn exit_code(server: &mut Child) -> Option<i32> {
    let end = Instant::now() + PATIENCE;
    loop {
        if let Some(status) = server.try_wait().unwrap() {
            return status.code();
        }
        assert!(Instant::now() < end, "the server does not end");
        thread::sleep(Duration::from_millis(5));
    }
}

fn next(output: &mut impl BufRead) -> Option<Value> {
    let mut length = None;
    loop {
        let mut line = String::new();
        if output.read_line(&mut line).ok()? == 0 {
            return None;
        }
        if line == "\r\n" {
            break;
        }
        if let Some(said) = line.strip_prefix("Content-Length: ") {
            length = said.trim_end().parse().ok();
        }
    }
    let mut body = vec![0; length.unwrap()];
    output.read_exact(&mut body).ok()?;
    Some(serde_json::from_slice(&body).unwrap())
}

/// A range of the protocol.
pub fn range(start: (u32, u32), end: (u32, u32)) -> Value {
    let place = |(line, character): (u32, u32)| json!({"line": line, "character": character});
    json!({"start": place(start), "end": place(end)})
}
