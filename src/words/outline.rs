//! Text in lines, of which some stand deeper than others: cases, and cases within cases.

/// Sentences that stand in a line, so deep within cases.
pub(super) struct Line {
    pub(super) depth: usize,
    pub(super) sentences: Vec<String>,
}

impl Line {
    /// A line that is in no case.
    pub(super) fn of(sentences: Vec<String>) -> Line {
        Line { depth: 0, sentences }
    }
}

/// The lines as text: two blanks before a line for each case that it stands in.
pub(super) fn written(lines: &[Line]) -> String {
    let line = |line: &Line| format!("{}{}", "  ".repeat(line.depth), line.sentences.join(" "));
    lines.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The lines of an outline without what they are indented by, and how deep each stands.
pub fn lines(outline: &str) -> impl Iterator<Item = (usize, &str)> {
    outline.lines().map(|line| {
        let text = line.trim_start_matches(' ');
        ((line.len() - text.len()) / 2, text)
    })
}

/// An outline as Markdown: what stands deeper is a list. Each line but the first begins with so many blanks, for an
/// outline that is part of a list itself.
pub fn markdown(outline: &str, indent: usize) -> String {
    let blanks = " ".repeat(indent);
    let line = |(at, (depth, line)): (usize, (usize, &str))| match (at, depth.checked_sub(1)) {
        (0, _) => line.to_owned(),
        // An empty line ends the list before it.
        (_, None) => format!("\n{blanks}{line}"),
        (_, Some(within)) => format!("{blanks}{}- {line}", "  ".repeat(within)),
    };
    lines(outline).enumerate().map(line).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cases_within_cases_are_lists_within_lists() {
        let line = |depth, text: &str| Line { depth, sentences: vec![text.to_owned(), "So.".to_owned()] };
        let all =
            [line(0, "Two."), line(1, "1."), line(2, "1.1."), line(2, "1.2."), line(1, "2."), line(0, "No.")];
        let outline = written(&all);
        assert_eq!(outline, "Two. So.\n  1. So.\n    1.1. So.\n    1.2. So.\n  2. So.\nNo. So.");
        let read: Vec<usize> = lines(&outline).map(|(depth, _)| depth).collect();
        assert_eq!(read, [0, 1, 2, 2, 1, 0]);
        insta::assert_snapshot!(markdown(&outline, 3), @r"
        Two. So.
           - 1. So.
             - 1.1. So.
             - 1.2. So.
           - 2. So.

           No. So.
        ");
        assert_eq!(markdown("One. So.", 3), "One. So.");
    }
}
