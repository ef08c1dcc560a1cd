//! Messages on the wire: a header that says how long the body is, an empty line, the body.

use std::io::{self, BufRead, BufReader, Read};

/// No message may be longer, in bytes: files above 64 MiB are not read, and as JSON a text grows.
const MOST_BYTES: usize = 600 << 20;

/// A header line may be no longer, in bytes; of what is, the end is kept, for a header may begin there.
const MOST_HEADER: usize = 8 << 10;

const LENGTH: &[u8] = b"content-length:";

/// What comes from a client.
#[derive(PartialEq, Eq, Debug)]
pub enum Frame {
    /// A message.
    Body(Vec<u8>),
    /// Something that is none; what is wrong with it. Reading goes on behind it.
    Malformed(&'static str),
    /// Nothing more will come.
    End,
}

/// Reads what a client sends.
pub struct Frames<R> {
    input: BufReader<R>,
}

impl<R: Read> Frames<R> {
    /// Reads from `input`.
    pub fn new(input: R) -> Frames<R> {
        Frames { input: BufReader::with_capacity(64 << 10, input) }
    }

    /// The next message, waited for.
    ///
    /// # Errors
    /// If the input cannot be read.
    pub fn next(&mut self) -> io::Result<Frame> {
        let mut length = None;
        let mut lines = 0;
        loop {
            let Some(line) = self.header_line()? else { return Ok(Frame::End) };
            match header(&line) {
                Header::Empty if lines == 0 => continue,
                Header::Empty => break,
                Header::Length(said) => length = Some(said),
                Header::Other => {}
            }
            lines += 1;
        }
        match length.flatten() {
            None => Ok(Frame::Malformed("the header does not say how long the message is")),
            Some(length) if length > MOST_BYTES => {
                io::copy(&mut self.input.by_ref().take(length as u64), &mut io::sink())?;
                Ok(Frame::Malformed("the message is too long"))
            }
            Some(length) => {
                let mut body = Vec::with_capacity(length.min(1 << 20));
                self.input.by_ref().take(length as u64).read_to_end(&mut body)?;
                Ok(if body.len() == length { Frame::Body(body) } else { Frame::End })
            }
        }
    }

    /// One line with its end; `None` where nothing more comes.
    fn header_line(&mut self) -> io::Result<Option<Vec<u8>>> {
        let mut line = Vec::new();
        loop {
            let read = self.input.by_ref().take(MOST_HEADER as u64).read_until(b'\n', &mut line)?;
            if line.ends_with(b"\n") {
                return Ok(Some(line));
            }
            if read == 0 {
                return Ok(None);
            }
            line.drain(..line.len().saturating_sub(MOST_HEADER));
        }
    }
}

/// What a header line says.
enum Header {
    Empty,
    /// How long the message is, if that is a number.
    Length(Option<usize>),
    Other,
}

/// A length counts wherever it stands in its line: behind a body that was announced wrongly, the next header follows in
/// the same line.
fn header(line: &[u8]) -> Header {
    if line.trim_ascii().is_empty() {
        return Header::Empty;
    }
    let found = line.windows(LENGTH.len()).rposition(|window| window.eq_ignore_ascii_case(LENGTH));
    match found {
        None => Header::Other,
        Some(at) => {
            let number = std::str::from_utf8(line[at + LENGTH.len()..].trim_ascii());
            Header::Length(number.ok().and_then(|number| number.parse().ok()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frames(input: &str) -> Vec<Frame> {
        let mut frames = Frames::new(input.as_bytes());
        let mut all = Vec::new();
        loop {
            match frames.next().unwrap() {
                Frame::End => return all,
                frame => all.push(frame),
            }
        }
    }

    fn body(text: &str) -> Frame {
        Frame::Body(text.as_bytes().to_vec())
    }

    #[test]
    fn messages_are_told_apart_by_their_length() {
        let other = "Content-Type: application/vscode-jsonrpc; charset=utf-8\r\n";
        assert_eq!(
            frames(&format!("Content-Length: 2\r\n\r\n{{}}content-length:3\r\n{other}\r\n[1]")),
            [body("{}"), body("[1]")]
        );
        assert_eq!(frames("Content-Length: 0\n\n\r\nContent-Length: 1\n\n1"), [body(""), body("1")]);
        assert_eq!(frames("Content-Length: 9\r\n\r\n{}"), [], "the client died while it wrote");
        assert_eq!(frames("Content-Len"), []);
    }

    #[test]
    fn a_giant_is_passed_over() {
        let giant = MOST_BYTES as u64 + 1;
        let header = format!("Content-Length: {giant}\r\n\r\n");
        let next = "Content-Length: 2\r\n\r\n{}";
        let wire = header.as_bytes().chain(io::repeat(b' ').take(giant)).chain(next.as_bytes());
        let mut frames = Frames::new(wire);
        assert_eq!(frames.next().unwrap(), Frame::Malformed("the message is too long"));
        assert_eq!(frames.next().unwrap(), body("{}"));
        // One that is announced and does not come takes no room for it.
        let mut frames = Frames::new("Content-Length: 600000000\r\n\r\n{".as_bytes());
        assert_eq!(frames.next().unwrap(), Frame::End);
    }

    #[test]
    fn after_what_is_no_message_the_next_one_is_read() {
        let lost = || Frame::Malformed("the header does not say how long the message is");
        for bad in [
            "Nonsense\r\n\r\n",
            "Content-Length: two\r\n\r\n",
            "Content-Length: -2\r\n\r\n",
            "Content-Length: 99999999999999999999999\r\n\r\n",
            "\u{0}\u{7f}é\n\n",
        ] {
            assert_eq!(
                frames(&format!("{bad}Content-Length: 2\r\n\r\n{{}}")),
                [lost(), body("{}")],
                "{bad:?}"
            );
        }
        let unannounced = format!("X: 1\r\n\r\n{{\"a\":1}}{}", "Content-Length: 2\r\n\r\n{}");
        assert_eq!(frames(&unannounced), [lost(), body("{}")]);
        let long = format!("{}Content-Length: 2\r\n\r\n{{}}", "x".repeat(3 * MOST_HEADER));
        assert_eq!(frames(&long), [body("{}")]);
    }
}
