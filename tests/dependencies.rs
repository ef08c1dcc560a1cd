//! What we depend on has a licence that lets us publish, and comes from the registry alone.

use std::process::Command;

/// Licences that ask for nothing but to be named. Kept in step with `deny.toml`.
const ALLOWED: &[&str] =
    &["MIT", "MIT-0", "Apache-2.0", "Unicode-3.0", "Unlicense", "BSD-2-Clause", "BSD-3-Clause", "Zlib"];

#[test]
fn every_dependency_has_a_licence_that_we_allow() {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--manifest-path"])
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"))
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout).expect("cargo prints JSON");
    let packages = metadata["packages"].as_array().expect("there are packages");
    assert!(packages.len() > 10, "the list is not empty");
    for package in packages {
        let name = &package["name"];
        let licence = package["license"].as_str().unwrap_or_default();
        // `A OR B` (or `A/B`, as it was once written): one of them will do; `A AND B`: all of them must.
        let choices = licence.replace('/', " OR ");
        let allowed = choices.split(" OR ").any(|choice| {
            choice.split(" AND ").all(|one| ALLOWED.contains(&one.trim_matches(['(', ')', ' '])))
        });
        assert!(allowed, "{name}: the licence {licence:?} is not on the list");
        let source = package["source"].as_str();
        assert!(
            source.is_none_or(|source| source.starts_with("registry+")),
            "{name} is not from the registry"
        );
    }
}
