//! Files that a stranger proposes: made to burn time or memory, to be told what lies elsewhere, or to look like what they
//! are not. `SECURITY.md` names the test beside each line of its table.

use super::{Desk, Outcome, SOUND, gridsetter, outcome};
use std::fs::{self, File};
use std::os::unix::fs::symlink;
use std::process::Command;

/// What must never be told: it lies beside the folder that is checked.
const SECRET: &str = "puzzel swordfern-77\n";

/// Runs a command that may have so many MiB of address space and a minute of processor time: where it takes more it is
/// ended, and has no exit code.
fn limited(desk: &Desk, mebibytes: u64, arguments: &[&str]) -> Outcome {
    let program = gridsetter().get_program().to_owned();
    let mut command = Command::new("prlimit");
    command.arg("--cpu=60").arg(format!("--as={}", mebibytes << 20)).arg(program).args(arguments);
    outcome(command.current_dir(desk.0.path()).output().expect("prlimit is there"))
}

/// A desk whose folder `given` is the one that is checked, with a secret beside it.
fn beside_a_secret() -> Desk {
    let desk = Desk::with("secret.gset", SECRET);
    fs::create_dir(desk.path("given")).expect("a folder can be made");
    fs::write(desk.path("given/a.gset"), SOUND).expect("there is room for a file");
    desk
}

/// A file of so many bytes that takes no room.
fn sparse(desk: &Desk, name: &str, bytes: u64) {
    let file = File::create(desk.path(name)).expect("a file can be made");
    file.set_len(bytes).expect("it can be as long as one likes");
}

#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let desk = beside_a_secret();
    fs::create_dir(desk.path("elsewhere")).expect("a folder can be made");
    fs::write(desk.path("elsewhere/b.gset"), SECRET).expect("there is room for a file");
    symlink("../secret.gset", desk.path("given/b.gset")).expect("links can be made");
    symlink("../elsewhere", desk.path("given/c")).expect("links can be made");
    symlink("a.gset", desk.path("given/d.gset")).expect("links can be made");
    for arguments in
        [&["check", "given"][..], &["check", "--fix", "given"], &["fmt", "given"], &["solve", "given"]]
    {
        let Outcome { code, out, err } = desk.run(arguments);
        assert_eq!(code, Some(2), "{arguments:?}");
        for link in ["given/b.gset", "given/c"] {
            let said =
                format!("gridsetter: {link}: is a link that leads out of the folder, and was not followed; ");
            assert!(err.contains(&said), "{arguments:?} {err}");
        }
        assert!(!out.contains("swordfern") && !err.contains("swordfern"), "{arguments:?} {out} {err}");
    }
    assert_eq!(fs::read_to_string(desk.path("secret.gset")).expect("it is there"), SECRET);
    assert_eq!(fs::read_to_string(desk.path("elsewhere/b.gset")).expect("it is there"), SECRET);
    let by_name = desk.run(&["check", "given/b.gset"]);
    assert!(by_name.out.contains("swordfern"), "who names a link means what it leads to: {}", by_name.out);
}

#[test]
fn a_taken_puzzle_is_not_looked_for_behind_a_link() {
    let desk = beside_a_secret();
    fs::write(desk.path("secret.gset"), SOUND.replace("lp-01", "lp-02")).expect("there is room for a file");
    fs::write(desk.path("given/a.gset"), "part \"One\"\ntake lp-02\n").expect("there is room for a file");
    fs::write(desk.path("given/gridsetter.toml"), "").expect("there is room for a file");
    symlink("../secret.gset", desk.path("given/b.gset")).expect("links can be made");
    let outcome = desk.run(&["check", "given/a.gset"]);
    assert!(outcome.out.contains("[id-unknown]"), "{}", outcome.out);
}

#[test]
fn settings_that_are_a_link_to_something_else_are_not_told() {
    let desk = beside_a_secret();
    symlink("../secret.gset", desk.path("given/gridsetter.toml")).expect("links can be made");
    let Outcome { code, out, err } = desk.run(&["check", "given"]);
    assert_eq!(code, Some(2));
    assert!(err.contains("is a link to a file of another name, and was not read; "), "{err}");
    assert!(!out.contains("swordfern") && !err.contains("swordfern"), "{out} {err}");
    let desk = beside_a_secret();
    fs::write(desk.path("gridsetter.toml"), "").expect("there is room for a file");
    symlink("../gridsetter.toml", desk.path("given/gridsetter.toml")).expect("links can be made");
    assert_eq!(desk.run(&["check", "given"]).code, Some(0), "settings may be shared");
}

#[test]
fn what_says_what_to_leave_out_cannot_hold_up_a_walk() {
    for huge in [false, true] {
        let desk = beside_a_secret();
        if huge {
            sparse(&desk, "given/.gitignore", 4 << 30);
        } else {
            symlink("/dev/zero", desk.path("given/.gitignore")).expect("links can be made");
        }
        let outcome = limited(&desk, 1024, &["check", "given"]);
        assert_eq!(outcome.code, Some(2), "{}", outcome.err);
        assert!(outcome.err.contains(".gitignore: is no plain file of at most 1 MiB"), "{}", outcome.err);
    }
}

#[test]
fn a_file_of_four_gibibytes_is_not_read() {
    let desk = Desk::with("a.gset", SOUND);
    for name in ["b.gset", "list.txt"] {
        sparse(&desk, name, 4 << 30);
        let outcome = limited(&desk, 1024, &["check", "a.gset", name]);
        assert_eq!(outcome.code, Some(2), "{}", outcome.err);
        assert!(
            outcome.err.contains(&format!("gridsetter: {name}: it has more than 64 MiB; ")),
            "{}",
            outcome.err
        );
        assert!(outcome.err.contains("no findings in 1 puzzle, 1 file"), "{}", outcome.err);
        fs::remove_file(desk.path(name)).expect("it can be removed");
    }
    sparse(&desk, "gridsetter.toml", 4 << 30);
    let outcome = limited(&desk, 1024, &["check", "a.gset"]);
    assert_eq!(outcome.code, Some(2), "{}", outcome.err);
    assert!(outcome.err.contains("gridsetter.toml: it has more than 1 MiB; "), "{}", outcome.err);
}

#[test]
fn what_nests_without_end_is_read_to_its_end() {
    for (name, text) in [
        ("gridsetter.toml", format!("[check]\nskip = {}\n", "[".repeat(500_000))),
        ("gridsetter.toml", format!("[check]\nskip = {}\n", "{ a = ".repeat(100_000))),
        ("b.gset", format!("puzzle lp-02\ntext\n  {}\n", "{".repeat(2_000_000))),
        ("b.gset", format!("puzzle lp-02\ntext\n  {}\n", "{a [".repeat(500_000))),
        ("b.gset", format!("puzzle lp-02 {}\n", "\"a\" ".repeat(500_000))),
    ] {
        let desk = Desk::with("a.gset", SOUND);
        fs::write(desk.path(name), text).expect("there is room for a file");
        let outcome = limited(&desk, 1024, &["check", "."]);
        assert!(outcome.code.is_some(), "{}", outcome.err);
    }
}

#[test]
fn files_that_take_from_each_other_end() {
    let desk = Desk::with("a.gset", format!("{SOUND}\npart \"One\"\ntake lp-02\ntake lp-03..lp-01\n"));
    let other =
        SOUND.replace("lp-01", "lp-02").replace("1 2 ", "2 1 ").replace("size 4\n", "size 4\ntake lp-01\n");
    fs::write(desk.path("b.gset"), other).expect("there is room for a file");
    fs::write(desk.path("gridsetter.toml"), "").expect("there is room for a file");
    for arguments in [&["check", "."][..], &["check", "a.gset"], &["print", "."], &["print", "a.gset"]] {
        let outcome = limited(&desk, 1024, arguments);
        assert!(outcome.code.is_some(), "{arguments:?} {}", outcome.err);
    }
}

/// A grid of size 25 in which each cell that `given` says shows its digit of a plain solution.
fn large(given: impl Fn(usize, usize) -> bool) -> String {
    let signs: Vec<String> = ('1'..='9').chain('A'..='P').map(String::from).collect();
    let digit = |row: usize, col: usize| signs[(5 * (row % 5) + row / 5 + col) % 25].clone();
    let cell = |row, col| if given(row, col) { digit(row, col) } else { ".".to_owned() };
    let row = |row| (0..25).map(|col| cell(row, col)).collect::<Vec<_>>().join(" ");
    let rows: Vec<String> = (0..25).map(|at| format!("  {}\n", row(at))).collect();
    format!("size 25\npuzzle lp-25\nminimal\ngivens\n{}", rows.concat())
}

#[test]
fn large_grids_that_are_hard_have_an_end() {
    let scattered = |row: usize, col: usize| (row * 7 + col * col * 3 + row * col) % 11 < 5;
    for text in [large(|_, _| false), large(|row, col| row == col), large(scattered)] {
        let outcome = limited(&Desk::with("a.gset", text), 1024, &["check", "a.gset"]);
        assert_eq!(outcome.code, Some(1), "{}", outcome.err);
        let told = ["[undecided]", "[many-solutions]"].iter().any(|name| outcome.out.contains(name));
        assert!(told, "{}", outcome.out);
    }
}

#[test]
fn ten_thousand_puzzles_on_a_line() {
    let line = "12...4.....3..2.".repeat(10_000);
    let listed = limited(&Desk::with("list.txt", &line), 1024, &["check", "list.txt"]);
    assert_eq!(listed.code, Some(1));
    assert!(listed.out.contains("[row-length]"), "{}", listed.out);
    let heads = "puzzle lp-01 ".repeat(10_000);
    let written = limited(&Desk::with("a.gset", heads), 1024, &["check", "a.gset"]);
    assert!(written.code.is_some(), "{}", written.err);
}

#[test]
fn ids_and_titles_name_no_file() {
    let desk = beside_a_secret();
    let text = SOUND.replace("lp-01 \"Wick\"", "../../secret \"../secret.gset\"");
    fs::write(desk.path("given/a.gset"), text).expect("there is room for a file");
    fs::create_dir(desk.path("given/out")).expect("a folder can be made");
    let outcome = desk.run(&["print", "--format", "svg", "-o", "given/out", "given/a.gset"]);
    let made = fs::read_dir(desk.0.path()).expect("it can be read").count();
    assert_eq!(made, 2, "the secret and the folder: {} {}", outcome.out, outcome.err);
    assert_eq!(fs::read_to_string(desk.path("secret.gset")).expect("it is there"), SECRET);
}

#[test]
fn a_name_is_no_command_for_a_forge() {
    let desk = Desk::with("a%0A::error::x.gset", SOUND.replace("Wick", "%0A::warning::hello"));
    fs::write(desk.path("b.gset"), "puzel %0A::error::x\n::error::y\n").expect("there is room for a file");
    let outcome = desk.run(&["check", "--format", "github", "."]);
    assert_eq!(outcome.code, Some(1));
    for line in outcome.out.lines() {
        let command = line.strip_prefix("::").expect("each line is one command");
        assert!(!command.to_lowercase().contains("%0a::"), "{line}");
    }
}

#[test]
fn findings_without_number_end() {
    let broken = "puzzle lp-01\nwork\n  12?\n".repeat(100_000);
    let outcome = limited(&Desk::with("a.gset", broken), 2048, &["check", "--format", "json", "a.gset"]);
    assert_eq!(outcome.code, Some(1), "{}", outcome.err);
    let said = "a.gset: there may be more than these ";
    assert!(outcome.err.contains(said), "{}", outcome.err);
}

/// A puzzle of size 4 with something said of it, and further statements.
fn small(id: &str, rest: &str) -> String {
    format!("puzzle {id}\nsize 4\nclues 3\ngivens\n  1 . 3 4\n  3 4 1 2\n  2 1 4 3\n  4 3 2 .\n{rest}\n")
}

/// So many lines, each with its number.
fn lines(count: usize, line: impl Fn(usize) -> String) -> String {
    (0..count).map(|at| line(at) + "\n").collect()
}

/// What is there as often as a file has lines is not looked at once for each of as many others.
#[test]
fn many_of_one_kind_and_many_of_another_have_an_end() {
    let accepted = lines(60_000, |at| format!("allow clues-wrong at r{}c1 \"{at}\"", 1 + at % 4));
    let accepting = accepted + &lines(8_000, |at| small(&format!("lp-{at}"), ""));
    let points = small("lp-01", &format!("steps\n{}", lines(100_000, |at| format!("  point a-{at}"))));
    let named = lines(10_000, |at| format!("  See {{lp-01 at b-{at}}}, {{lp-01 at a-{at}}}."));
    let walk = "steps\n".to_owned() + &lines(4_000, |_| "  r1c2 = 2".to_owned()) + "  point a\n";
    let lessons = lines(4_000, |at| format!("lesson lm-{at}\nfrom lp-01 at a\nsteps\n  r4c4 = 1"));
    let long = |end: &str| "a".repeat(500_000) + end;
    for text in [
        accepting,
        points + &small("lp-02", &format!("note\n{named}")),
        small("lp-01", &walk) + &lessons,
        small(&long("b"), "") + &small("lp-02", &format!("note\n  {{{}}}\n", long("c"))),
    ] {
        let outcome = limited(&Desk::with("a.gset", text), 1024, &["check", "--format", "json", "a.gset"]);
        assert_eq!(outcome.code, Some(1), "{}", outcome.err);
    }
}

#[test]
fn what_is_not_what_it_looks_like_is_said() {
    let text = SOUND.replace("Wick", "\u{202e}kciW\u{202c} \u{2067}x\u{2069}");
    let outcome = Desk::with("a.gset", text).run(&["check", "a.gset"]);
    assert_eq!(outcome.code, Some(1));
    assert!(
        outcome.out.contains("error[encoding]: U+202E turns the direction of writing"),
        "{}",
        outcome.out
    );
}
