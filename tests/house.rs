//! What the pages about the code promise: rooms use only what the map in DEVELOPERS.md allows, since in one crate no compiler
//! guards these walls; and what SECURITY.md says is held by a test.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// From the table "The rooms": each room, and what it may use.
fn map() -> BTreeMap<String, BTreeSet<String>> {
    let text = fs::read_to_string("DEVELOPERS.md").expect("the map is there");
    let rows = text.lines().filter_map(|line| {
        let mut cells = line.strip_prefix("| `")?.split('|');
        let room = cells.next()?.trim().trim_end_matches('`').to_owned();
        let uses = cells.nth(1)?.split_whitespace().map(str::to_owned).collect();
        Some((room, uses))
    });
    rows.collect()
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder)
        .expect("the folder can be read")
        .map(|entry| entry.expect("so can its entries").path());
    let (folders, files): (Vec<_>, Vec<_>) = entries.partition(|path| path.is_dir());
    let rust = files.into_iter().filter(|path| path.extension().is_some_and(|ext| ext == "rs"));
    rust.chain(folders.iter().flat_map(|folder| sources(folder))).collect()
}

/// The rooms that a source file speaks of: after `crate::`, or in the braces of `use crate::{…}`.
fn uses(text: &str) -> BTreeSet<String> {
    let word = |rest: &str| {
        rest.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or_default().to_owned()
    };
    let mut found = BTreeSet::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            Some(list) => found
                .extend(list.split('}').next().unwrap_or_default().split(',').map(|one| word(one.trim()))),
            None => _ = found.insert(word(rest)),
        }
    }
    found
}

#[test]
fn rooms_use_only_what_the_map_allows() {
    let map = map();
    let rooms: BTreeSet<String> = fs::read_dir("src")
        .expect("src can be read")
        .map(|entry| entry.expect("so can its entries").path())
        .filter(|path| path.is_dir())
        .map(|path| path.file_name().unwrap_or_default().to_string_lossy().into_owned())
        .collect();
    assert_eq!(rooms, map.keys().cloned().collect(), "the map names every room and no other");
    for (room, allowed) in &map {
        for file in sources(&Path::new("src").join(room)) {
            let text = fs::read_to_string(&file).expect("a source file can be read");
            for used in uses(&text) {
                let known = map.contains_key(&used) && used != *room;
                assert!(!known || allowed.contains(&used), "{}: {room} may not use {used}", file.display());
            }
        }
    }
}

#[test]
fn the_map_has_no_circles() {
    let map = map();
    let mut below: Vec<&String> = Vec::new();
    while below.len() < map.len() {
        let next = map
            .iter()
            .find(|(room, uses)| !below.contains(room) && uses.iter().all(|used| below.contains(&used)));
        below.push(next.expect("some room uses only rooms below it").0);
    }
}

/// Each row of the table in SECURITY.md names the test that holds it.
#[test]
fn each_promise_about_hostile_files_has_its_test() {
    let text = fs::read_to_string("SECURITY.md").expect("the page is there");
    let rows: Vec<&str> = text.lines().filter(|line| line.ends_with("` |")).collect();
    assert!(rows.len() > 15, "{} rows", rows.len());
    for row in rows {
        let mut names = row.trim_end_matches("` |").rsplitn(4, '`');
        let (test, _, file) = (names.next(), names.next(), names.next());
        let file = Path::new("tests").join(file.expect("each row names a file"));
        let source = fs::read_to_string(&file).expect("the file is there");
        let test = format!("#[test]\nfn {}()", test.expect("and a test in it"));
        let outdented = source.replace("\n    ", "\n");
        assert!(outdented.contains(&test), "{}: {test}", file.display());
    }
}
