//! Pages as a file of HTML: one to a printed page, no script, nothing beside it.

use super::{Block, Page, Press};
use crate::draw::{escaped, figure};
use crate::words::{Language, lines};
use std::fmt::Write as _;

const STYLE: &str = "\
html { color-scheme: light; background: #fff; color: #000; font: 1.1rem/1.5 'Iowan Old Style', 'Palatino Linotype', 'DejaVu Serif', serif; }
body { max-width: 46rem; margin: 0 auto; padding: 2rem 1rem; }
h1, h2 { font-weight: normal; line-height: 1.25; margin: 0 0 1rem; }
h1 { font-size: 1.6rem; }
h2 { font-size: 1.15rem; font-style: italic; }
figure { margin: 0 0 1.2rem; break-inside: avoid; }
figcaption p { margin: 0.6rem 0 0; }
svg { display: block; max-width: 100%; height: auto; }
.page + .page { margin-top: 3rem; border-top: 1px solid #000; padding-top: 3rem; }
.step { display: flex; flex-wrap: wrap; gap: 0 1.6rem; margin-top: 2rem; break-inside: avoid; }
.step h2 { flex-basis: 100%; margin-bottom: 0.4rem; }
.step figure { max-width: 100%; }
.step > p, .step > div { flex: 1 1 14rem; margin: 0; }
ol { padding-left: 2rem; }
ul { padding-left: 1.2rem; list-style: none; }
@page { margin: 18mm; }
@media print {
  body { max-width: none; padding: 0; }
  .page + .page { margin-top: 0; border: 0; padding: 0; break-before: page; }
}
";

/// Pages as one file of HTML, which is well-formed XML too; each with its press.
pub fn html(pages: &[(Page, Press)]) -> String {
    let title = pages.first().map(|(page, _)| page.title()).filter(|title| !title.is_empty());
    let mut text = format!(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>{}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n",
        pages.first().map_or("en", |(_, press)| tag(press)),
        escaped(title.as_deref().unwrap_or("gridsetter"))
    );
    for ((page, press), number) in pages.iter().zip(1..) {
        text.push_str(&section(page, number, press));
    }
    text.push_str("</body>\n</html>\n");
    text
}

/// The language of a page, as HTML has it.
fn tag(press: &Press) -> &'static str {
    match press.voice.language {
        Language::English => "en",
        Language::German => "de",
    }
}

fn section(page: &Page, number: usize, press: &Press) -> String {
    let labels = press.voice.labels();
    let mut text = format!("<div class=\"page\" lang=\"{}\">\n", tag(press));
    if !page.heading.is_empty() {
        let lines: Vec<String> = page.heading.iter().map(|line| escaped(line)).collect();
        let _ = writeln!(text, "<h1>{}</h1>", lines.join("<br/>\n"));
    }
    let mut pictures = 0;
    let mut drawn = |picture| {
        pictures += 1;
        let name = format!("page-{number}-picture-{pictures}");
        figure(picture, &name, press.look, &press.width, &labels, press.words)
    };
    let mut in_list = false;
    for block in &page.body {
        let listed = matches!(block, Block::Step { picture: None, .. });
        match (in_list, listed) {
            (false, true) => text.push_str("<ol>\n"),
            (true, false) => text.push_str("</ol>\n"),
            _ => {}
        }
        in_list = listed;
        match block {
            Block::Picture(picture) => text.push_str(&drawn(picture)),
            Block::Prose(prose) => _ = writeln!(text, "<p>{}</p>", escaped(prose)),
            Block::Step { n, picture: None, words } => {
                let _ = writeln!(text, "<li value=\"{n}\">{}</li>", told(words));
            }
            Block::Step { n, picture: Some(picture), words } => {
                let (heading, drawing) = (escaped(&labels.step(*n)), drawn(picture));
                // A paragraph holds no list.
                let tag = if words.contains('\n') { "div" } else { "p" };
                let told = told(words);
                let _ = writeln!(
                    text,
                    "<div class=\"step\">\n<h2>{heading}</h2>\n{drawing}<{tag}>{told}</{tag}>\n</div>"
                );
            }
        }
    }
    text.push_str(if in_list { "</ol>\n</div>\n" } else { "</div>\n" });
    text
}

/// The words of a step; its cases are lists within lists.
fn told(words: &str) -> String {
    let mut text = String::new();
    let mut open = 0;
    for (depth, line) in lines(words) {
        if depth == open && depth > 0 {
            text.push_str("</li>\n<li>");
        }
        while open < depth {
            text.push_str("\n<ul>\n<li>");
            open += 1;
        }
        if open > depth {
            text.push_str(&"</li>\n</ul>\n".repeat(open - depth));
            text.push_str(if depth > 0 { "</li>\n<li>" } else { "" });
            open = depth;
        }
        text.push_str(&escaped(line));
    }
    text + &"</li>\n</ul>\n".repeat(open)
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn cases_are_lists_within_lists() {
        let words = "Two.\n  Case 1: a.\n    Case 1.1: b.\n    Case 1.2: c.\n  Case 2: d < e.\nNo.";
        insta::assert_snapshot!(told(words), @r"
        Two.
        <ul>
        <li>Case 1: a.
        <ul>
        <li>Case 1.1: b.</li>
        <li>Case 1.2: c.</li>
        </ul>
        </li>
        <li>Case 2: d &lt; e.</li>
        </ul>
        No.
        ");
        assert_eq!(told("One."), "One.");
    }
}
