//! Small wordings that several commands share.

use super::terminal::Trouble;
use crate::lint::{FINDINGS, Finding};

/// `1 puzzle`, `2 puzzles`.
pub fn counted(count: usize, thing: &str) -> String {
    if count == 1 { format!("1 {thing}") } else { format!("{count} {thing}s") }
}

/// The finding called `name`.
///
/// # Errors
/// If there is none; the trouble says which names are near.
pub fn finding_named(name: &str) -> Result<&'static Finding, Trouble> {
    Finding::named(name).ok_or_else(|| {
        let advice = match nearest(name, FINDINGS.iter().map(|finding| finding.name)).as_slice() {
            [] => "`gridsetter explain` lists the names".to_owned(),
            near => format!("did you mean {}?", near.join(" or ")),
        };
        Trouble::new(name, "no finding has this name", advice)
    })
}

/// At most three of `names` that `name` may have been meant for, the nearest first.
fn nearest<'a>(name: &str, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let wanted = name.to_lowercase();
    let mut near: Vec<(usize, &str)> = names
        .map(|known| {
            let distance = strsim::osa_distance(&wanted, known);
            let part = wanted.len() > 2 && (known.contains(&wanted) || wanted.contains(known));
            (if part { distance.min(2) } else { distance }, known)
        })
        .filter(|(distance, known)| *distance <= (known.len() / 3).max(2))
        .collect();
    near.sort_unstable();
    near.into_iter().take(3).map(|(_, known)| known).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names_are_offered() {
        let names = || ["row-length", "rows-missing", "rows-extra", "undecided"].into_iter();
        assert_eq!(nearest("rowlength", names()), ["row-length"]);
        assert_eq!(nearest("rows", names()), ["rows-extra", "rows-missing"]);
        assert_eq!(nearest("Undecidde", names()), ["undecided"]);
        assert!(nearest("zebra", names()).is_empty());
    }
}
