//! The real editor: Neovim 0.11 or later, without a window, set up as `editors/neovim` says. `tests/all` installs it; where
//! it is not found, there is nothing to test. `NVIM` names another one.

use std::path::Path;
use std::process::Command;

#[test]
fn the_editor_finds_hovers_fixes_marks_and_formats() {
    let editor = std::env::var("NVIM").unwrap_or_else(|_| "nvim".to_owned());
    if Command::new(&editor).arg("--version").output().is_err() {
        assert!(std::env::var_os("CI").is_none(), "no {editor}: tests/all installs it");
        return;
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let home = tempfile::tempdir().expect("there is room for a folder");
    let config = home.path().join("nvim");
    for folder in ["ftdetect", "ftplugin", "lsp"] {
        std::fs::create_dir_all(config.join(folder)).expect("it can be written to");
        let file = format!("{folder}/gridsetter.lua");
        std::fs::copy(root.join("editors/neovim").join(&file), config.join(&file)).expect("it is there");
    }
    // What the install text says to write.
    let install = std::fs::read_to_string(root.join("editors/neovim/README.md")).expect("it is there");
    let init: String =
        install.split("```lua\n").skip(1).filter_map(|part| part.split("```").next()).collect();
    std::fs::write(config.join("init.lua"), init).expect("it can be written");
    let book = home.path().join("01-up-the-hill.gset");
    std::fs::copy(root.join("demo/volume/01-up-the-hill.gset"), &book).expect("the demo is there");
    // `gridsetter` is found as people have it found.
    let binary = Path::new(env!("CARGO_BIN_EXE_gridsetter")).parent().expect("it lies in a folder");
    let path = std::env::var_os("PATH").unwrap_or_default();
    let paths = std::iter::once(binary.to_owned()).chain(std::env::split_paths(&path));
    let output = Command::new(&editor)
        .args(["--headless", "-n", "-i", "NONE", "-c"])
        .arg(format!("luafile {}", root.join("tests/neovim.lua").display()))
        .arg(&book)
        .env("PATH", std::env::join_paths(paths).expect("paths can be joined"))
        .env("XDG_CONFIG_HOME", home.path())
        .env("XDG_DATA_HOME", home.path().join("data"))
        .env("XDG_STATE_HOME", home.path().join("state"))
        .env("XDG_CACHE_HOME", home.path().join("cache"))
        .env_remove("VIMINIT")
        .output()
        .expect("the editor runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && said.contains("all is well"), "{said}");
}
