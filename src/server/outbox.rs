//! What is to be sent to the client. What its end takes at once is written at once, since waking another thread for it would
//! cost more than the keystroke that it answers. The rest waits in a bounded queue for a thread of its own that writes, so
//! that a client that does not read keeps nothing else from being done.

use super::output::Output;
use serde::Serialize;
use std::collections::VecDeque;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// So many bytes may wait; who has more to send waits for the client to read.
const MOST_WAITING: usize = 16 << 20;

/// A client that reads nothing for so long, while so much is waiting, is given up.
const PATIENCE: Duration = Duration::from_secs(10);

/// At the end, what is still waiting is written for so long at most.
const FAREWELL: Duration = Duration::from_secs(1);

/// What can be sent: whatever can be written out, and what writes itself.
pub trait Message {
    /// Writes it behind what is there.
    fn write(&self, to: &mut Vec<u8>);
}

/// Writes a message out as part of a larger one, behind what stands before it there.
pub fn put<T: Message + ?Sized>(to: &mut Vec<u8>, before: &str, message: &T) {
    to.extend_from_slice(before.as_bytes());
    message.write(to);
}

impl<T: Serialize + ?Sized> Message for T {
    fn write(&self, to: &mut Vec<u8>) {
        serde_json::to_writer(to, self).expect("a message can be written to memory");
    }
}

/// Where messages to the client are put. A clone is the same outbox.
#[derive(Clone)]
pub struct Outbox {
    shared: Arc<Shared>,
}

struct Shared {
    queue: Mutex<Queue>,
    /// Whoever writes has it. It is taken while the queue is held, or by the writer while it is at a message.
    output: Mutex<Box<dyn Output>>,
    /// Called once, when the client takes nothing any more.
    lost: Box<dyn Fn() + Send + Sync>,
    /// Something is waiting, or nothing more will come.
    filled: Condvar,
    /// Something was written, or nothing more can be.
    drained: Condvar,
}

#[derive(Default)]
struct Queue {
    waiting: VecDeque<Parcel>,
    bytes: usize,
    writer: Writer,
    closed: bool,
    /// The client takes nothing any more.
    lost: bool,
}

/// What becomes of what has to wait.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
enum Writer {
    /// Nothing had to wait yet, so there is no thread for it.
    #[default]
    None,
    /// It waits for something to write.
    Idle,
    /// It is at a message that is no longer waiting.
    Writing,
}

struct Parcel {
    /// Header and body begin at `start`.
    bytes: Vec<u8>,
    start: usize,
    /// What it is the newest word about: an older one that still waits is dropped for it.
    about: Option<String>,
}

impl Parcel {
    fn message(&self) -> &[u8] {
        &self.bytes[self.start..]
    }
}

impl Outbox {
    /// Sends to `output`; calls `lost` when the client takes nothing any more.
    pub fn new(output: impl Output, lost: impl Fn() + Send + Sync + 'static) -> Outbox {
        let shared = Shared {
            queue: Mutex::default(),
            output: Mutex::new(Box::new(output)),
            lost: Box::new(lost),
            filled: Condvar::new(),
            drained: Condvar::new(),
        };
        Outbox { shared: Arc::new(shared) }
    }

    /// Sends a message, after those that are waiting; waits itself while too much is.
    pub fn send(&self, message: &impl Message) {
        let (bytes, start) = framed(message);
        self.wait_for_room();
        self.put(Parcel { bytes, start, about: None });
    }

    /// Sends a message without waiting itself, however much is waiting.
    pub fn send_at_once(&self, message: &impl Message) {
        let (bytes, start) = framed(message);
        self.put(Parcel { bytes, start, about: None });
    }

    /// Whether no more is waiting than may.
    pub fn has_room(&self) -> bool {
        self.queue().bytes <= MOST_WAITING
    }

    /// Sends the newest word about something; an older one that still waits is dropped, so that these never grow.
    pub fn send_newest(&self, about: &str, message: &impl Message) {
        let (bytes, start) = framed(message);
        self.put(Parcel { bytes, start, about: Some(about.to_owned()) });
    }

    /// Whether the client takes nothing any more.
    pub fn is_lost(&self) -> bool {
        self.queue().lost
    }

    /// Writes what is waiting, for a moment at most. Nothing can be sent afterwards.
    pub fn close(&self) {
        let mut queue = self.queue();
        queue.closed = true;
        self.shared.filled.notify_all();
        let end = Instant::now() + FAREWELL;
        while !queue.lost && (queue.writer == Writer::Writing || !queue.waiting.is_empty()) {
            let left = end.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return;
            }
            queue = self.wait(queue, left);
        }
    }

    /// Waits while too much is waiting; gives the client up if it reads nothing for too long.
    pub fn wait_for_room(&self) {
        let mut queue = self.queue();
        let mut left = PATIENCE;
        while queue.bytes > MOST_WAITING && !queue.lost {
            let (before, start) = (queue.bytes, Instant::now());
            queue = self.wait(queue, left);
            left = if queue.bytes == before { left.saturating_sub(start.elapsed()) } else { PATIENCE };
            if left.is_zero() {
                self.lose(&mut queue);
            }
        }
    }

    fn put(&self, parcel: Parcel) {
        let mut queue = self.queue();
        if queue.lost || queue.closed {
            return;
        }
        if parcel.about.is_some()
            && let Some(old) = queue.waiting.iter().position(|old| old.about == parcel.about)
            && let Some(old) = queue.waiting.remove(old)
        {
            queue.bytes -= old.bytes.len();
        }
        if queue.waiting.is_empty()
            && queue.writer != Writer::Writing
            && self.output().takes_at_once(parcel.message().len())
        {
            if !self.write(&parcel) {
                self.lose(&mut queue);
                drop(queue);
                (self.shared.lost)();
            }
            return;
        }
        queue.bytes += parcel.bytes.len();
        queue.waiting.push_back(parcel);
        if queue.writer == Writer::None {
            queue.writer = Writer::Idle;
            let writer = self.clone();
            thread::spawn(move || {
                if !writer.write_what_waits() {
                    (writer.shared.lost)();
                }
            });
        }
        self.shared.filled.notify_one();
    }

    /// Writes what comes, until nothing more will; tells whether the client took it all.
    fn write_what_waits(&self) -> bool {
        loop {
            let mut queue = self.queue();
            queue.writer = Writer::Idle;
            self.shared.drained.notify_all();
            let parcel = loop {
                match queue.waiting.pop_front() {
                    _ if queue.lost => return false,
                    Some(parcel) => break parcel,
                    None if queue.closed => return true,
                    None => {
                        queue = self.shared.filled.wait(queue).unwrap_or_else(PoisonError::into_inner);
                    }
                }
            };
            queue.bytes -= parcel.bytes.len();
            queue.writer = Writer::Writing;
            drop(queue);
            if !self.write(&parcel) {
                self.lose(&mut self.queue());
                return false;
            }
        }
    }

    /// Writes a message; tells whether the client took it.
    fn write(&self, parcel: &Parcel) -> bool {
        let mut output = self.output();
        output.write_all(parcel.message()).and_then(|()| output.flush()).is_ok()
    }

    fn output(&self) -> MutexGuard<'_, Box<dyn Output>> {
        self.shared.output.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn lose(&self, queue: &mut Queue) {
        queue.lost = true;
        queue.waiting.clear();
        queue.bytes = 0;
        self.shared.filled.notify_all();
        self.shared.drained.notify_all();
    }

    fn queue(&self) -> MutexGuard<'_, Queue> {
        self.shared.queue.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait<'a>(&self, queue: MutexGuard<'a, Queue>, most: Duration) -> MutexGuard<'a, Queue> {
        self.shared.drained.wait_timeout(queue, most).unwrap_or_else(PoisonError::into_inner).0
    }
}

/// Room before a body for the longest header that there can be.
const HEADER: usize = 48;

/// `message` as it goes over the wire.
fn framed(message: &impl Message) -> (Vec<u8>, usize) {
    let mut bytes = vec![0; HEADER];
    message.write(&mut bytes);
    let header = format!("Content-Length: {}\r\n\r\n", bytes.len() - HEADER);
    let start = HEADER - header.len();
    bytes[start..HEADER].copy_from_slice(header.as_bytes());
    (bytes, start)
}
