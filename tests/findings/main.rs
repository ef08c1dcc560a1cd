//! Findings, held against texts in which they are marked.
//!
//! The cases are the examples on the findings' own pages, and the Markdown files beside this one. In those, each fence
//! is a case; `README.md` among them tells how to write one.

mod markdown;
mod marks;

use gridsetter::book::{Book, Spot, Workspace};
use gridsetter::format::format;
use gridsetter::lint::{self, FINDINGS, Finding, Fix, Report};
use markdown::{fences, part};
use marks::{Mark, Marked, drawn};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Checks that `text` gives just the findings that are marked in it.
#[track_caller]
fn finds(text: &str) {
    if let Err(difference) = found(&Marked::read(text)) {
        panic!("{difference}");
    }
}

/// Checks that the first fix of each finding of `before` makes `after` of it, and that `after` has just the findings
/// that are marked in it.
#[track_caller]
fn fixes(before: &str, after: &str) {
    if let Err(difference) = fixed(&Marked::read(before), &Marked::read(after)) {
        panic!("{difference}");
    }
}

/// A file by its name: lists are those that are not called `.gset`.
fn book(name: &str, text: &str) -> Book {
    if Path::new(name).extension().is_some_and(|extension| extension == "gset") {
        Book::read(name, text)
    } else {
        Book::read_list(name, text)
    }
}

fn checked(files: &[(String, String)]) -> (Workspace, Vec<Report>) {
    let workspace = Workspace::new(files.iter().map(|(name, text)| book(name, text)).collect());
    let reports = lint::check(&workspace);
    (workspace, reports)
}

fn found(text: &Marked) -> Result<Vec<Report>, String> {
    let (workspace, reports) = checked(&text.files);
    let found: Vec<Mark> = reports.iter().map(|report| Mark::of(report, &workspace)).collect();
    let mut sorted: Vec<&Mark> = found.iter().collect();
    sorted.sort();
    let same = sorted.len() == text.marks.len()
        && text.marks.iter().zip(sorted).all(|(mark, found)| mark.marks(found));
    if same {
        return Ok(reports);
    }
    let (wanted, found) = (drawn(&text.files, &text.marks), drawn(&text.files, &found));
    Err(format!("{found}\nis what is found; marked is\n\n{wanted}"))
}

fn fixed(before: &Marked, after: &Marked) -> Result<(), String> {
    let reports = found(before)?;
    let (workspace, _) = checked(&before.files);
    let fixes: Vec<_> = reports.iter().filter_map(|report| report.fixes.first()).collect();
    if fixes.is_empty() {
        return Err(format!("{}\nhas no fix", drawn(&before.files, &before.marks)));
    }
    let mended = lint::mended(&workspace, &fixes);
    for ((_, wanted), mended) in after.files.iter().zip(&mended) {
        if wanted != mended {
            return Err(format!("{mended}\nis what the fix makes; wanted is\n\n{wanted}"));
        }
    }
    found(after).map(|_| ())
}

#[test]
fn every_case_beside_this_file_holds() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/findings");
    let mut failures = Vec::new();
    let mut cases = 0;
    let mut pages: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    pages.sort();
    for page in pages.iter().filter(|path| path.extension().is_some_and(|extension| extension == "md")) {
        let text = fs::read_to_string(page).unwrap();
        let fences = fences(&text);
        for (number, (info, fence)) in fences.iter().enumerate() {
            let outcome = match *info {
                "gset" => found(&Marked::read(fence)).map(|_| ()),
                "gset fixed" => fixed(&Marked::read(&fences[number - 1].1), &Marked::read(fence)),
                _ => continue,
            };
            cases += 1;
            if let Err(difference) = outcome {
                let name = page.file_name().unwrap().to_string_lossy();
                failures.push(format!("{name}, fence {}:\n{difference}", number + 1));
            }
        }
    }
    assert!(cases > 0, "no cases were found");
    assert!(failures.is_empty(), "{} of {cases} cases fail\n\n{}", failures.len(), failures.join("\n\n"));
}

#[test]
fn every_page_tells_what_is_found_and_how_it_is_mended() {
    let mut failures = Vec::new();
    for finding in FINDINGS {
        if let Err(failure) = page_holds(finding) {
            failures.push(format!("{}: {failure}", finding.name));
        }
    }
    assert!(failures.is_empty(), "{} pages do not hold\n\n{}", failures.len(), failures.join("\n\n"));
}

fn page_holds(finding: &Finding) -> Result<(), String> {
    let page = finding.page();
    let summary = page.lines().next().unwrap_or_default();
    if !(summary.ends_with('.') && summary.matches(". ").count() == 0) {
        return Err(format!("its first line is not one sentence: {summary}"));
    }
    part(&page, "Why").ok_or("no `## Why`")?;
    let example = part(&page, "Found").ok_or("no `## Found`")?;
    let fences_found = fences(example);
    let [("gset", before)] = fences_found.as_slice() else {
        return Err("`## Found` is not one `gset` fence".into());
    };
    let before = Marked::read(before);
    let reports = found(&before)?;
    let own: Vec<&Report> = reports.iter().filter(|report| report.finding.name == finding.name).collect();
    let first = own.first().ok_or("its example does not give it")?;
    if own.len() != reports.len() {
        return Err("its example gives other findings too".into());
    }
    let mend = part(&page, "Fixed").ok_or("no `## Fixed`")?;
    let fences_fixed = fences(mend);
    match (first.fixes.first(), fences_fixed.as_slice()) {
        (Some(_), [("gset", after)]) => {
            let after = Marked::read(after);
            fixed(&before, &after)?;
            if !after.marks.is_empty() {
                return Err("something is still found in its mended example".into());
            }
            for (name, text) in &after.files {
                let formatted = format(&book(name, text));
                if formatted != *text {
                    return Err(format!(
                        "{formatted}\nis what formatting makes of the mended example, which should stay\n\n{text}"
                    ));
                }
            }
            Ok(())
        }
        (None, []) if mend.trim_start().starts_with("By hand: ") => Ok(()),
        (Some(_), _) => Err("it offers a fix, which `## Fixed` does not show".into()),
        (None, _) => Err("it offers no fix, so `## Fixed` must say what to do by hand".into()),
    }
}

#[test]
fn names_are_unique_and_say_where_the_finding_lives() {
    let mut names = BTreeSet::new();
    for finding in FINDINGS {
        let name = finding.name;
        assert!(names.insert(name), "{name} stands twice in the table");
        assert!(name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{name}");
        let file =
            Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("src/lint/{}.rs", name.replace('-', "_")));
        assert_eq!(fs::read_to_string(&file).ok().as_deref(), Some(finding.source), "{}", file.display());
    }
}

#[test]
fn the_table_is_ordered_by_group() {
    assert!(FINDINGS.is_sorted_by_key(|finding| finding.group));
}

/// Whether the edits of a fix lie in the text, apart from each other, and change something.
fn is_sound(fix: &Fix<Spot>, workspace: &Workspace) -> bool {
    let mut edits: Vec<_> = fix.edits.iter().collect();
    edits.sort();
    let apart = edits
        .windows(2)
        .all(|pair| pair[0].0.section != pair[1].0.section || pair[0].0.span.end <= pair[1].0.span.start);
    apart
        && !edits.is_empty()
        && edits.iter().all(|(spot, text)| {
            workspace.section(spot.section).text.get(spot.span.range()).is_some_and(|old| old != text)
        })
}

#[test]
fn every_fix_of_every_example_changes_something_and_nothing_twice() {
    for finding in FINDINGS {
        let page = finding.page();
        for (_, text) in fences(part(&page, "Found").unwrap_or_default()) {
            let (workspace, reports) = checked(&Marked::read(&text).files);
            for fix in reports.iter().flat_map(|report| &report.fixes) {
                assert!(is_sound(fix, &workspace), "{}: {}", finding.name, fix.title);
            }
        }
    }
}

#[test]
fn messages_are_of_one_style() {
    for finding in FINDINGS {
        let page = finding.page();
        for (_, text) in fences(part(&page, "Found").unwrap_or_default()) {
            for report in checked(&Marked::read(&text).files).1 {
                for said in [&report.message, &report.help] {
                    let first = said.chars().next();
                    assert!(first.is_some_and(|c| !c.is_uppercase()), "{}: {said}", finding.name);
                    assert!(!said.ends_with('.'), "{}: {said}", finding.name);
                    assert!(!said.contains('\n'), "{}: {said}", finding.name);
                }
            }
        }
    }
}

#[test]
fn the_doors_of_this_harness_open() {
    finds("puzzle ha-01 \"Half Past\"\ngivens\n");
    fixes(
        "lesson ha-01 \"Half Past\"\nnoet\n#<^^ unknown-statement\n  Begin anywhere.\n",
        "lesson ha-01 \"Half Past\"\nnote\n  Begin anywhere.\n",
    );
}
