//! What is told: Markdown to clients that show it, plain text to others.

use tower_lsp::ls_types::{MarkupContent, MarkupKind};

/// What begins and ends lines that are shown as they are.
const FENCE: &str = "```";

/// Words of a file within Markdown: none of them is taken for a sign of it, and none for HTML.
pub fn words(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        if c.is_ascii_punctuation() {
            escaped.push('\\');
        }
        escaped.push(c);
    }
    escaped
}

/// What is told in Markdown, as a client can show it.
pub fn shown(value: String, markdown: bool) -> MarkupContent {
    if markdown {
        MarkupContent { kind: MarkupKind::Markdown, value }
    } else {
        MarkupContent { kind: MarkupKind::PlainText, value: plain(&value) }
    }
}

/// Markdown of ours without its signs.
pub fn plain(markdown: &str) -> String {
    let mut text = String::with_capacity(markdown.len());
    let mut as_it_is = false;
    for line in markdown.split_inclusive('\n') {
        if line.starts_with(FENCE) {
            as_it_is = !as_it_is;
        } else if as_it_is {
            text.push_str(line);
        } else {
            let mut rest = line.chars();
            while let Some(c) = rest.next() {
                match c {
                    '*' | '`' => {}
                    '\\' => text.extend(rest.next()),
                    c => text.push(c),
                }
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::{plain, words};

    #[test]
    fn without_markdown_only_its_signs_are_missing() {
        let told = "**r1c3**: 1 2 can stand here.\n\n- 3 is `out`\n\n```text\n1 * | `\n```\n";
        assert_eq!(plain(told), "r1c3: 1 2 can stand here.\n\n- 3 is out\n\n1 * | `\n");
    }

    #[test]
    fn words_of_a_file_are_no_signs() {
        let title = "2 * 3 <img src=x onerror=alert(1)> `a` [b](c) \\ 🚋";
        assert_eq!(plain(&words(title)), title);
        assert!(!words(title).contains(" <"), "{}", words(title));
    }
}
