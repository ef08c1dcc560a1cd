//! How pages are written: all in one file, or a file for each.

use super::{Arguments, Printed, To};
use crate::cli::replace::Replacer;
use crate::cli::terminal::{Terminal, Trouble, words};
use crate::cli::visible;
use crate::cli::words::counted;
use crate::print::{Names, html, text};
use std::fs;
use std::path::Path;

/// Whether a path names a folder: one that is there, or by a slash at its end.
pub(super) fn is_folder(path: &Path) -> bool {
    path.is_dir() || path.as_os_str().to_string_lossy().ends_with(std::path::is_separator)
}
impl Arguments {
    /// All pages in one file; `None` if that cannot be, which is said.
    pub(super) fn whole(&self, pages: &[Printed], terminal: &mut Terminal) -> Option<String> {
        match self.to {
            To::Text => Some(pages.iter().map(plain).collect::<Vec<_>>().join("\u{c}\n")),
            To::Html => Some(html(pages)),
            To::Svg => {
                let files: Vec<Part> =
                    pages.iter().flat_map(drawn).filter(|(_, ending, _)| *ending == "svg").collect();
                match &files[..] {
                    [] => Some(String::new()),
                    [(_, _, picture)] => Some(picture.clone()),
                    _ => {
                        let what = format!("{} are a file each", counted(files.len(), "picture"));
                        let advice = "give a folder with -o, such as `-o out/`, or one puzzle with --id";
                        terminal.trouble(&Trouble::new("--to svg", what, advice));
                        None
                    }
                }
            }
        }
    }

    /// A file for each page, or for each picture and the words of its step.
    pub(super) fn write_folder(
        &self,
        folder: &Path,
        pages: &[Printed],
        terminal: &mut Terminal,
        replacer: &Replacer,
    ) {
        if let Err(error) = fs::create_dir_all(folder) {
            let what = format!("cannot be made: {}", words(&error));
            terminal.trouble(&Trouble::new(folder.display().to_string(), what, "name another folder"));
            return;
        }
        let mut names = Names::new();
        for printed in pages {
            let name = names.give(&printed.0.name);
            let files = match self.to {
                To::Text => vec![(String::new(), "txt", plain(printed))],
                To::Html => vec![(String::new(), "html", html(std::slice::from_ref(printed)))],
                To::Svg => drawn(printed),
            };
            for (part, ending, text) in files {
                let path = folder.join(format!("{name}{part}.{ending}"));
                if let Err(trouble) = replacer.put(&path, text.as_bytes()) {
                    terminal.trouble(&trouble);
                    return;
                }
            }
        }
    }
}

/// A page as plain text, safe to show.
fn plain((page, press): &Printed) -> String {
    visible::lines(&text(page, press)).into_owned()
}

/// A file beside others of its page: what stands between the page's name and the ending, the ending, and the text.
type Part = (String, &'static str, String);

/// The pictures of a page, and the words of steps.
fn drawn((page, press): &Printed) -> Vec<Part> {
    let labels = press.voice.labels();
    let mut files = Vec::new();
    for (picture, step) in page.pictures() {
        let said = || picture.said(&labels).join("\n") + "\n";
        let part = step.map_or_else(String::new, |(n, _)| format!("-{n:03}"));
        let words = match step {
            Some((_, words)) if press.words => Some(format!("{words}\n\n{}", said())),
            Some((_, words)) => Some(format!("{words}\n")),
            None => press.words.then(said),
        };
        files.push((part.clone(), "svg", picture.svg(press.look, &press.width, &labels)));
        files.extend(words.map(|words| (part, "txt", words)));
    }
    files
}
