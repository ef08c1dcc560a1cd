//! What would change, as a unified diff.

use super::visible;
use anstyle::{AnsiColor, Style};
use similar::TextDiff;
use std::fmt::Write as _;
use std::time::Duration;

/// How long to look for the shortest diff; after that, one that is right and longer will do.
const PATIENCE: Duration = Duration::from_secs(1);

/// The changes from `old` to `new`, or nothing if there are none. Lines that go begin with `-` and lines that come with
/// `+`, whether `styled` with colours or not.
pub fn unified(name: &str, old: &str, new: &str, styled: bool) -> String {
    let changes = TextDiff::configure().timeout(PATIENCE).diff_lines(old, new);
    let name = visible::line(name);
    let plain = changes.unified_diff().context_radius(2).header(&name, &name).to_string();
    let mut shown = String::with_capacity(plain.len());
    for line in plain.split_inclusive('\n') {
        let text = line.strip_suffix('\n').unwrap_or(line);
        let (text, end) = text.strip_suffix('\r').map_or((text, "\n"), |text| (text, "\r\n"));
        let style = if styled { style(text) } else { Style::new() };
        let text = visible::lines(text);
        write!(shown, "{style}{text}{style:#}{end}").expect("a String takes all that is written to it");
    }
    shown
}

fn style(line: &str) -> Style {
    match line.as_bytes() {
        [b'-', b'-', b'-', b' ', ..] | [b'+', b'+', b'+', b' ', ..] => Style::new().bold(),
        [b'@', ..] => AnsiColor::Cyan.on_default(),
        [b'-', ..] => AnsiColor::Red.on_default(),
        [b'+', ..] => AnsiColor::Green.on_default(),
        _ => Style::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_is_shown_with_its_neighbours() {
        let (old, new) = ("1\n2\n3\n4\n5\n", "1\n2\nthree\n4\n5\n");
        let expected = "--- a.gset\n+++ a.gset\n@@ -1,5 +1,5 @@\n 1\n 2\n-3\n+three\n 4\n 5\n";
        assert_eq!(unified("a.gset", old, new, false), expected);
        assert_eq!(unified("a.gset", old, old, true), "");
    }

    #[test]
    fn line_ends_stay_and_escapes_do_not() {
        let shown = unified("a\u{1b}", "x\r\n", "y\u{1b}\r\n", true);
        assert!(shown.contains("-x") && shown.contains("+y\\u{1b}") && shown.contains("\r\n"), "{shown:?}");
        assert!(shown.starts_with("\u{1b}[1m--- a\\u{1b}"), "{shown:?}");
    }
}
