//! A fault in the program itself, as a user meets it: a report beside the log that can be sent as it is, and one word about
//! it. It has a process of its own, since it changes what is done at a fault.

#![allow(clippy::unwrap_used, reason = "what is not there is a failed test")]

use gridsetter::server::{Level, Log, Output, serve};
use gridsetter::settings::Way;
use serde_json::json;
use std::io::{self, Cursor, Read, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex};
use std::{fs, thread, time};

/// A wire on which some messages come before it fails.
struct Faulty(Cursor<Vec<u8>>);

impl Read for Faulty {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.0.read(into)?;
        assert!(read > 0, "in `puzzle secret` of /home/me/secret.gset");
        Ok(read)
    }
}

#[derive(Clone, Default)]
struct Written(Arc<Mutex<Vec<u8>>>);

impl Write for Written {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Output for Written {}

#[test]
fn a_fault_is_reported_without_the_text() {
    let folder = tempfile::tempdir().unwrap();
    let log = Log::to(&folder.path().join("log"), Level::Error).unwrap();
    let item =
        json!({"uri": "file:///home/me/secret.gset", "languageId": "", "version": 0, "text": "secret\n"});
    let messages = [
        json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {"capabilities": {}}}),
        json!({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument": item}}),
    ];
    let wire =
        messages.map(|message| format!("Content-Length: {}\r\n\r\n{message}", message.to_string().len()));
    let written = Written::default();
    let input = Faulty(Cursor::new(wire.concat().into_bytes()));
    let session = || serve(input, written.clone(), || {}, Way::Nothing, &log);
    assert!(catch_unwind(AssertUnwindSafe(session)).is_err());

    let reports = || {
        let files = fs::read_dir(folder.path()).unwrap().map(|file| file.unwrap().path());
        files.filter(|file| file.extension().is_some_and(|it| it == "txt")).collect::<Vec<_>>()
    };
    let [report] = &reports()[..] else { panic!("{:?}", reports()) };
    let text = fs::read_to_string(report).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(
        lines[..2],
        [
            concat!("gridsetter ", env!("CARGO_PKG_VERSION"), ": a fault in the program itself"),
            &format!("system: {} {}", std::env::consts::OS, std::env::consts::ARCH),
        ]
    );
    assert!(lines[2].starts_with("place: tests/fault.rs:"), "{text}");
    assert_eq!(lines[3..5], ["what: in … of …", "while: textDocument/didOpen"]);
    assert!(
        lines[5..].iter().all(|line| line.starts_with("  in ") && line.contains("gridsetter::")),
        "{text}"
    );
    assert!(!text.contains("secret") && !text.contains("/home"), "{text}");
    assert!(fs::read_to_string(folder.path().join("log")).unwrap().contains(&text));

    // The word to the client is sent by another thread, for this one may hold what that takes.
    let told = || String::from_utf8(written.0.lock().unwrap().clone()).unwrap();
    let end = time::Instant::now() + time::Duration::from_mins(1);
    while !told().contains("window/showMessage") {
        assert!(time::Instant::now() < end, "{}", told());
        thread::sleep(time::Duration::from_millis(5));
    }
    assert_eq!(told().matches("window/showMessage").count(), 1);
    assert!(told().contains(report.file_name().unwrap().to_str().unwrap()), "{}", told());
}
