//! Pictures and pages hold only what their standards have: a list of our own for every run, and the Nu Html Checker of the
//! W3C, with its schemas of HTML and of SVG, where it is found. `tests/all` installs it; `GRIDSETTER_CHECKER` names another
//! one: a command to which files are given.

use super::reader::document;
use super::{each_subject, press};
use gridsetter::draw::{Look, Ring, Shade};
use gridsetter::ladder::Ladder;
use gridsetter::print::{Block, Page, Press, html};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::study::Start;
use std::collections::BTreeSet;
use std::fs;
use std::process::Command;

/// The elements that are written, each with the attributes that it may have.
const ELEMENTS: &[(&str, &str)] = &[
    ("svg", "viewBox width role aria-labelledby fill stroke"),
    ("title", "id"),
    ("desc", "id"),
    ("g", "class fill stroke stroke-width stroke-dasharray font-family font-weight font-style text-anchor"),
    ("rect", "x y width height rx fill stroke stroke-width"),
    ("circle", "cx cy r"),
    ("line", "x1 y1 x2 y2 stroke-dasharray"),
    ("path", "class d stroke-width stroke-dasharray stroke-linecap"),
    ("text", "x y font-size"),
    ("html", "lang"),
    ("head", ""),
    ("meta", "charset name content"),
    ("style", ""),
    ("body", ""),
    ("div", "class lang"),
    ("h1", ""),
    ("h2", ""),
    ("p", "class"),
    ("ul", ""),
    ("br", ""),
    ("ol", ""),
    ("li", "value"),
    ("figure", "id"),
    ("figcaption", ""),
];

fn check(text: &str) {
    let document = document(text);
    let mut ids = BTreeSet::new();
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        let allowed = ELEMENTS.iter().find(|(element, _)| *element == name);
        let allowed = allowed.unwrap_or_else(|| panic!("<{name}> is not on the list")).1;
        for attribute in node.attributes() {
            assert!(
                allowed.split(' ').any(|one| one == attribute.name()),
                "{} of <{name}>",
                attribute.name()
            );
        }
        if let Some(id) = node.attribute("id") {
            assert!(ids.insert(id.to_owned()), "{id} is there twice");
        }
    }
    for node in document.descendants() {
        for named in node.attribute("aria-labelledby").unwrap_or_default().split_whitespace() {
            assert!(ids.contains(named), "nothing is called {named}");
        }
    }
    for outside in ["url(", "href", "@import", "<script", "http:"] {
        assert_eq!(text.replace("http://www.w3.org/2000/svg", "").find(outside), None, "{outside}");
    }
}

/// Pages of every kind, of every sample.
fn pages() -> Vec<(Page, Press)> {
    let mut pages = Vec::new();
    each_subject(|subject| {
        pages.extend(subject.page());
        pages.extend(subject.sheets());
        let Ok(start) = Start::of(subject.puzzle) else { return };
        pages.extend(start.solution.as_ref().and_then(|solution| subject.answer(solution)));
        if start.layout.size().side() > 9 {
            return;
        }
        let reasoner = Reasoner::new(&start.layout, &Ladder::default());
        let mut walk = Walk::by_scanning(&reasoner, &start.givens);
        walk.go_on_with_marks(&reasoner);
        pages.extend(subject.walk(&walk, false, Some("No further.".to_owned())));
        pages.extend(subject.walk(&walk, true, None));
    });
    let mut both = Vec::new();
    for mut page in pages {
        page.heading.push("\"<&>'\u{7}\u{fffe}\u{202e}".to_owned());
        for block in &mut page.body {
            if let Block::Picture(picture) = block {
                let mut drawn = picture.as_ref().clone().captioned("a < b & \"c\"");
                let first = drawn.layout().houses()[0].clone();
                drawn.shade(*first.set());
                drawn.ring(first.cells[..2].iter().copied().collect());
                **picture = drawn;
            }
        }
        let look = Look { shade: Shade::Grey, ring: Ring::Square };
        both.push((page.clone(), press(true)));
        both.push((page, Press { look, ..press(false) }));
    }
    both
}

/// The pages as files: their endings and their text.
fn files() -> Vec<(&'static str, String)> {
    let mut files = Vec::new();
    for printed in pages() {
        let (page, press) = &printed;
        let labels = press.voice.labels();
        let pictures = page.pictures().map(|(picture, _)| picture.svg(press.look, &press.width, &labels));
        files.extend(pictures.map(|picture| ("svg", picture)));
        files.push(("html", html(std::slice::from_ref(&printed))));
    }
    files
}

#[test]
fn only_what_is_on_the_list_is_written() {
    let files = files();
    assert!(files.len() > 1000, "{} files", files.len());
    for (_, text) in &files {
        check(text);
    }
}

#[test]
fn the_checker_of_the_w3c_finds_nothing() {
    let usual = "target/checker/check";
    let said = std::env::var("GRIDSETTER_CHECKER").unwrap_or_else(|_| usual.to_owned());
    let mut words = said.split(' ');
    let program = words.next().unwrap_or_default();
    let arguments: Vec<&str> = words.collect();
    if Command::new(program).args(&arguments).arg("--version").output().is_err() {
        assert!(std::env::var_os("CI").is_none(), "no {said}: tests/all installs it");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let mut written = Vec::new();
    // Each picture of a walk is much like the next: a part of them is enough, as each file takes the checker its time.
    for (part, kind) in [(5, "html"), (29, "svg")] {
        for (number, (_, text)) in
            files().iter().filter(|(ending, _)| *ending == kind).enumerate().step_by(part)
        {
            let path = folder.path().join(format!("{number}.{kind}"));
            fs::write(&path, text).unwrap();
            written.push(path);
        }
    }
    let judge = |paths: &[std::path::PathBuf]| {
        let options = ["--errors-only", "--also-check-svg"];
        Command::new(program).args(&arguments).args(options).args(paths).output().unwrap()
    };
    let output = judge(&written);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    for (name, wrong) in [
        (
            "wrong.svg",
            "<svg xmlns=\"http://www.w3.org/2000/svg\"><circle cx=\"1\" r=\"1\" colour=\"red\"/></svg>",
        ),
        (
            "wrong.html",
            "<!DOCTYPE html><html lang=\"en\"><head><title>x</title></head><body><li>x</li></body></html>",
        ),
    ] {
        let path = folder.path().join(name);
        fs::write(&path, wrong).unwrap();
        assert!(!judge(&[path]).status.success(), "{name} is found wrong");
    }
}
