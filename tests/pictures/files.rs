//! Files that `print` writes.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn print(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gridsetter")).arg("print").args(arguments).output().expect("it runs")
}

fn files(folder: &Path) -> BTreeMap<String, String> {
    let entries = fs::read_dir(folder).unwrap().map(Result::unwrap);
    entries
        .map(|entry| (entry.file_name().into_string().unwrap(), fs::read_to_string(entry.path()).unwrap()))
        .collect()
}

#[test]
fn several_pages_go_into_a_folder_by_their_ids() {
    let folder = tempfile::tempdir().unwrap();
    let out = format!("{}/new/", folder.path().display());
    let run =
        print(&["--to", "text", "--show", "puzzle,answer", "-o", &out, "demo/volume/02-short-cars.gset"]);
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stderr));
    let names: Vec<String> = files(Path::new(&out)).into_keys().collect();
    assert_eq!(&names[..4], ["sc-01-answer.txt", "sc-01.txt", "sc-02-answer.txt", "sc-02.txt"]);
}

#[test]
fn a_step_is_a_numbered_picture_with_its_words_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().display().to_string();
    let sample = "tests/samples/07-walkthrough.gset";
    let run = print(&["--to", "svg", "--each-step", "--width", "480", "-o", &out, sample]);
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stderr));
    let files = files(folder.path());
    let walk = Command::new(env!("CARGO_BIN_EXE_gridsetter")).args(["walk", sample]).output().unwrap();
    let told = String::from_utf8(walk.stdout).unwrap();
    let steps: Vec<&str> = told.lines().skip(1).filter_map(|line| Some(line.split_once(". ")?.1)).collect();
    assert_eq!(files.len(), 2 * steps.len());
    for (said, n) in steps.iter().zip(1..) {
        let name = format!("ls3-014-walk-{n:03}");
        assert_eq!(files[&format!("{name}.txt")].trim_end(), *said);
        let picture = &files[&format!("{name}.svg")];
        assert!(picture.contains("width=\"480px\"") && picture.contains(&format!("Step {n}<")));
    }
}

#[test]
fn a_file_is_written_over_and_readable_for_others() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("page.html");
    let out = path.display().to_string();
    for id in ["sc-01", "sc-02"] {
        let run = print(&["--id", id, "-o", &out, "demo/volume/02-short-cars.gset"]);
        assert_eq!(run.status.code(), Some(0));
    }
    assert!(fs::read_to_string(&path).unwrap().contains("<title>Bell Rope</title>"));
    assert_eq!(files(folder.path()).len(), 1, "nothing else is left there");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let probe = folder.path().join("probe");
        fs::write(&probe, "").unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&path), mode(&probe), "as other new files are");
    }
    let nowhere = print(&["-o", "/nowhere/at/all.html", "demo/volume/02-short-cars.gset"]);
    assert_eq!(nowhere.status.code(), Some(2));
}
