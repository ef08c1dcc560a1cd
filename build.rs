//! On Linux with the GNU C library, links what unwinds the stack into the program instead of loading `libgcc_s.so` when it
//! starts: an editor waits for that each time it starts the server. It is the static half of the same library, which each
//! gcc brings along.

use std::path::Path;
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=build.rs");
    let target = |what: &str| env::var(format!("CARGO_CFG_TARGET_{what}")).unwrap_or_default();
    if let Ok(folder) = env::var("OUT_DIR")
        && (target("OS"), target("ENV")) == ("linux".to_owned(), "gnu".to_owned())
    {
        // What stands in for the library that is asked for by this name, and says to take the other one.
        fs::write(Path::new(&folder).join("libgcc_s.so"), "INPUT(libgcc_eh.a)\n")?;
        println!("cargo::rustc-link-search=native={folder}");
    }
    Ok(())
}
