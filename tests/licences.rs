//! The list of libraries on the about page is what is really in the program.
#![allow(clippy::expect_used)]

use std::collections::BTreeSet;
use std::process::Command;

/// The libraries that `cargo` links into the program on Linux, each with its version and licence.
fn linked() -> BTreeSet<String> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args(["tree", "--package", "sparkout", "--edges", "normal", "--prefix", "none", "--format", "{p}|{l}"])
        .args(["--target", "x86_64-unknown-linux-gnu", "--offline", "--locked"])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .expect("cargo starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).expect("text");
    let line = |line: &str| {
        let (package, licence) = line.split_once('|')?;
        let mut words = package.split(' ');
        let (name, version) = (words.next()?, words.next()?.trim_start_matches('v'));
        let licence = licence.trim_end_matches(" (*)");
        (!name.starts_with("sparkout")).then(|| format!("{name} {version} {licence}"))
    };
    text.lines().filter_map(line).collect()
}

/// `SPARKOUT_UPDATE_LICENCES=1 cargo test -p sparkout licences` writes the list anew.
#[test]
fn the_list_of_libraries_is_what_is_in_the_program() {
    let linked = linked();
    if std::env::var_os("SPARKOUT_UPDATE_LICENCES").is_some() {
        let lines: Vec<String> = linked.iter().cloned().collect();
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/src/licences.txt");
        std::fs::write(file, lines.join("\n") + "\n").expect("the list is written");
        return;
    }
    let listed: BTreeSet<String> = sparkout::kiosk::LIBRARIES.lines().map(str::to_owned).collect();
    let missing: Vec<_> = linked.difference(&listed).collect();
    let gone: Vec<_> = listed.difference(&linked).collect();
    assert!(
        missing.is_empty() && gone.is_empty(),
        "SPARKOUT_UPDATE_LICENCES=1 cargo test -p sparkout licences; missing {missing:#?}, gone {gone:#?}"
    );
    let nameless: Vec<_> = linked.iter().filter(|line| line.split(' ').nth(2).is_none_or(str::is_empty)).collect();
    assert!(nameless.is_empty(), "without a licence: {nameless:#?}");
}
