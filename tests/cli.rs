//! Whole commands with their exit codes and output: `tests/cli/*.md`, where no Rust is needed. A scene that needs files has
//! them in a folder beside it, `NAME.in`, which is copied for the scene if `NAME.out` is there too, to show what the folder
//! holds afterwards.
//!
//! `TRYCMD=overwrite cargo test --test cli` writes what came out into the scenes; read the difference before you keep it.

#[test]
fn scenes() {
    trycmd::TestCases::new().case("tests/cli/*.md");
}
