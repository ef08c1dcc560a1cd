//! A picture as part of a page of HTML.

use super::svg::{Within, escaped};
use super::{Length, Look, Picture};
use crate::words::Labels;
use std::fmt::Write as _;

/// The picture as a figure: drawn, with its caption, and where `words` is set also said in words, a row a line. `name`
/// is the figure's own on its page: letters, figures and hyphens.
pub fn figure(
    picture: &Picture,
    name: &str,
    look: Look,
    width: &Length,
    labels: &Labels,
    words: bool,
) -> String {
    let drawn = picture.svg_within(look, width, labels, Within::Page(name));
    let mut text = format!("<figure id=\"{name}\">\n{drawn}");
    if words || picture.caption.is_some() {
        text.push_str("<figcaption>\n");
        if let Some(caption) = &picture.caption {
            let _ = writeln!(text, "<p>{}</p>", escaped(caption));
        }
        if words {
            let lines: Vec<String> = picture.said(labels).iter().map(|line| escaped(line)).collect();
            let _ = writeln!(text, "<p class=\"words\">{}</p>", lines.join("<br/>\n"));
        }
        text.push_str("</figcaption>\n");
    }
    text.push_str("</figure>\n");
    text
}
