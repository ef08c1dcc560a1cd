//! The parts of a page in Markdown.

/// The fences of a Markdown text: what stands behind the three signs, and the text.
pub fn fences(markdown: &str) -> Vec<(&str, String)> {
    let mut fences: Vec<(&str, String)> = Vec::new();
    let mut open = false;
    for line in markdown.lines() {
        match (line.strip_prefix("```"), open) {
            (Some(info), false) => fences.push((info, String::new())),
            (None, true) => {
                let text = &mut fences.last_mut().expect("one is open").1;
                text.push_str(line);
                text.push('\n');
            }
            _ => {}
        }
        open ^= line.starts_with("```");
    }
    assert!(!open, "a fence is not closed");
    fences
}

/// The part of a page below `heading`.
pub fn part<'a>(page: &'a str, heading: &str) -> Option<&'a str> {
    let (_, below) = page.split_once(&format!("\n## {heading}\n"))?;
    Some(below.split("\n## ").next().unwrap_or(below))
}
