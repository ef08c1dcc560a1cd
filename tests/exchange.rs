//! Foreign text in, notation out, and back.
use gridsetter::exchange::*;
#[test]
fn shown() {
    let text = std::fs::read_to_string("a.csv").unwrap();
    let imported = import(&text, &ImportOptions::default());
    println!("{}", imported.text);
    for t in &imported.troubles {
        println!("{}:{} {:?} {} -- {}", t.line, t.column, t.effect(), t.what(), t.help());
    }
}
