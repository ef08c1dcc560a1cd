//! Faults in the program itself: each is reported in a file that a user can send as it is. It says where in the program it was
//! and what was asked for, and holds nothing of a puzzle and no name of a file.

use super::log::{Level, Log};
use super::outbox::Outbox;
use serde_json::json;
use std::backtrace::Backtrace;
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs::File;
use std::future::{Future, poll_fn};
use std::io::Write as _;
use std::panic::{self, PanicHookInfo};
use std::path::{Path, PathBuf};
use std::pin::pin;
use std::sync::{Arc, Mutex};
use std::{env, process, thread};
use tower_lsp::jsonrpc::Request;
use tower_lsp::ls_types::MessageType;

thread_local! {
    /// What this thread works off.
    static AT_WORK: RefCell<Option<Arc<str>>> = const { RefCell::new(None) };
}

/// So many functions are named that were under way.
const MOST_FUNCTIONS: usize = 12;

/// What is said of a fault is cut here.
const MOST_CHARACTERS: usize = 200;

/// What this thread works off, if it is known.
pub fn at_work() -> Option<Arc<str>> {
    AT_WORK.with_borrow(Clone::clone)
}

/// Does something for a message of this method, within what is worked off already.
pub fn working_off<T>(method: Option<Arc<str>>, work: impl FnOnce() -> T) -> T {
    /// What was worked off before, and is again: also where the work ends in a fault, for its thread goes on.
    struct Before(Option<Arc<str>>);
    impl Drop for Before {
        fn drop(&mut self) {
            AT_WORK.set(self.0.take());
        }
    }
    let _before = Before(AT_WORK.replace(method));
    work()
}

/// The same for what is done bit by bit.
pub async fn working_off_later<T>(method: Arc<str>, work: impl Future<Output = T>) -> T {
    let mut work = pin!(work);
    poll_fn(|context| {
        AT_WORK.set(Some(Arc::clone(&method)));
        work.as_mut().poll(context)
    })
    .await
}

/// From now on, each fault is noted; that of a place in the program is reported when it comes first, and the client is told
/// of the first report.
pub fn report_from_now_on(log: Log, outbox: Outbox) {
    let known = Mutex::new(BTreeSet::new());
    panic::set_hook(Box::new(move |fault| {
        let report = report(fault, at_work().as_deref(), &Backtrace::force_capture().to_string());
        log.note(Level::Error, report.trim_end());
        let place = fault.location().map(ToString::to_string);
        let Ok(mut known) = known.lock() else { return };
        let is_first = known.is_empty();
        if !known.insert(place) {
            return;
        }
        let folder = log.folder().map_or_else(env::temp_dir, Path::to_owned);
        let written = write(&folder, known.len(), &report);
        if is_first {
            // Whoever has the outbox just now may be the one with the fault.
            let outbox = outbox.clone();
            thread::spawn(move || outbox.send_at_once(&message(written.as_deref())));
        }
    }));
}

/// Writes a report beside others; gives its name.
fn write(folder: &Path, number: usize, report: &str) -> Option<PathBuf> {
    let name = folder.join(format!("gridsetter-fault-{}-{number}.txt", process::id()));
    // It must be new: in a folder that everybody can write to, a name may lead elsewhere.
    let mut file = File::options().write(true).create_new(true).open(&name).ok()?;
    file.write_all(report.as_bytes()).ok()?;
    Some(name)
}

fn message(report: Option<&Path>) -> Request {
    let what =
        "A fault in the program itself: one answer is missing, your text is as it was, and work can go on.";
    let advice = report.map_or_else(
        || "No report of it could be written; `gridsetter serve --log FILE` notes the next one.".to_owned(),
        |name| {
            let name = name.display();
            format!("Please send its authors the report {name}: it holds nothing of your text.")
        },
    );
    let params = json!({"type": MessageType::ERROR, "message": format!("{what} {advice}")});
    Request::build("window/showMessage").params(params).finish()
}

/// What is reported of a fault.
fn report(fault: &PanicHookInfo, method: Option<&str>, way: &str) -> String {
    let place = fault
        .location()
        .map_or_else(String::new, |at| format!("{}:{}:{}", in_program(at.file()), at.line(), at.column()));
    let mut report = format!(
        "gridsetter {}: a fault in the program itself\nsystem: {} {}\nplace: {place}\nwhat: {}\nwhile: {}\n",
        env!("CARGO_PKG_VERSION"),
        env::consts::OS,
        env::consts::ARCH,
        without_texts(fault.payload_as_str().unwrap_or_default()),
        method.unwrap_or("not known"),
    );
    for function in functions(way) {
        let _ = writeln!(report, "  in {function}");
    }
    report
}

/// A file of a program, without the folders of who built it.
fn in_program(file: &str) -> &str {
    let folders = file.rmatch_indices(['/', '\\']).map(|(at, _)| at);
    let source = file.rfind("/src/").or_else(|| file.rfind("\\src\\"));
    // The folder around `src` bears the name of the library.
    let start = source.and_then(|source| folders.into_iter().find(|at| *at < source));
    start.map_or(file, |start| &file[start + 1..])
}

/// The functions of ours that were under way, the innermost first.
fn functions(way: &str) -> impl Iterator<Item = &str> {
    let names = way.lines().filter_map(|line| line.trim_start().split_once(": ").map(|(_, name)| name));
    names.filter(|name| name.contains("gridsetter::") && !name.contains("server::fault")).take(MOST_FUNCTIONS)
}

/// What is said of a fault, without what may be quoted there.
fn without_texts(what: &str) -> String {
    let mut line = what.lines().next().unwrap_or_default().to_owned();
    for quote in ['"', '`', '\''] {
        if let Some(first) = line.find(quote) {
            let last = line.rfind(quote).filter(|last| *last > first).map_or(line.len(), |last| last + 1);
            line.replace_range(first..last, "…");
        }
    }
    let is_name = |word: &&str| word.contains(['/', '\\']) || word.contains(".gset");
    let words = line.split(' ').map(|word| if is_name(&word) { "…" } else { word });
    words.collect::<Vec<_>>().join(" ").chars().take(MOST_CHARACTERS).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_a_text_is_in_what_is_said() {
        // What the standard library says, by its own words.
        let said = |work: fn()| {
            let fault = panic::catch_unwind(work).unwrap_err();
            without_texts(panic_text(&*fault))
        };
        let text = "puzzle ä \"secret `one`\"";
        assert_eq!(
            without_texts(&format!(
                "byte index 8 is not a char boundary; it is inside 'ä' (bytes 7..9) of `{text}`"
            )),
            "byte index 8 is not a char boundary; it is inside … (bytes 7..9) of …"
        );
        assert_eq!(said(|| _ = &"secret ä"[..8]).find("secret"), None);
        assert_eq!(said(|| _ = "secret".parse::<u8>().unwrap()).find("secret"), None);
        assert_eq!(
            said(|| _ = [1, 2][std::hint::black_box(2)]),
            "index out of bounds: the len is 2 but the index is 2"
        );
        assert_eq!(without_texts("no file /home/me/a.gset or b.gset: \"unended"), "no file … or … …");
    }

    fn panic_text(fault: &(dyn std::any::Any + Send)) -> &str {
        fault.downcast_ref::<String>().map(String::as_str).or(fault.downcast_ref().copied()).unwrap()
    }

    #[test]
    fn a_thread_goes_on_with_what_it_was_at_before_a_fault() {
        working_off(Some("outer".into()), || {
            let fault =
                panic::catch_unwind(|| working_off(Some("inner".into()), || panic!("{:?}", at_work())));
            assert_eq!(panic_text(&*fault.unwrap_err()), "Some(\"inner\")");
            assert_eq!(at_work().as_deref(), Some("outer"));
        });
        assert_eq!(at_work(), None);
    }

    #[test]
    fn the_place_is_in_the_program_and_not_on_a_disk() {
        assert_eq!(in_program("src/server/hover.rs"), "src/server/hover.rs");
        assert_eq!(in_program("/home/me/registry/rope-1.0.0/src/rope.rs"), "rope-1.0.0/src/rope.rs");
        assert_eq!(in_program("C:\\me\\rope-1.0.0\\src\\rope.rs"), "rope-1.0.0\\src\\rope.rs");
    }
}
