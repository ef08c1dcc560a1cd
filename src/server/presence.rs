//! Whether the client's process is still there: a pipe stays open as long as anybody holds it, another child of the client,
//! say.

use std::thread;
use std::time::Duration;

/// It is looked for this often.
const EVERY: Duration = Duration::from_secs(2);

/// Calls `gone` when the process is there no more. One that cannot be seen from the first, as from within a container, is
/// not watched.
pub fn watch(process: u32, gone: impl FnOnce() + Send + 'static) {
    let is_there = presence(process);
    if !is_there() {
        return;
    }
    thread::spawn(move || {
        while is_there() {
            thread::sleep(EVERY);
        }
        gone();
    });
}

/// The way to see whether a process is there.
#[cfg(unix)]
fn presence(process: u32) -> impl Fn() -> bool {
    use rustix::io::Errno;
    use rustix::process::{Pid, getppid, test_kill_process};
    let process = i32::try_from(process).ok().and_then(Pid::from_raw);
    // A parent that has ended can be seen until somebody takes note of that, but is nobody's parent any more.
    let is_parent = process.is_some() && getppid() == process;
    move || {
        // Whoever may not be signalled is there, too.
        let is_seen = process.is_some_and(|process| test_kill_process(process) != Err(Errno::SRCH));
        is_seen && (!is_parent || getppid() == process)
    }
}

/// The way to see whether a process is there: here, only its pipes tell.
#[cfg(not(unix))]
fn presence(_: u32) -> impl Fn() -> bool {
    || false
}
