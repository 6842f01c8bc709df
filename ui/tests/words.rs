//! Every word of the screens has its Spanish, and nothing else is in the file of words.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Context and English text.
type Key = (String, String);

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn slint_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(slint_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "slint") {
            files.push(path);
        }
    }
    files
}

/// A quoted text at the start of `source`: the text as written and what follows it.
fn quoted(source: &str) -> Option<(String, &str)> {
    let body = source.trim_start().strip_prefix('"')?;
    let mut escaped = false;
    let end = body.find(|letter| {
        let ends = letter == '"' && !escaped;
        escaped = letter == '\\' && !escaped;
        ends
    })?;
    Some((body[..end].to_owned(), &body[end + 1..]))
}

fn strings_of(source: &str) -> Vec<Key> {
    source
        .split("@tr(")
        .skip(1)
        .map(|rest| {
            let (first, after) = quoted(rest).expect("a text after @tr(");
            assert!(!after.trim_start().starts_with('|'), "a plural: teach this test to read it");
            match after.trim_start().strip_prefix("=>") {
                Some(text) => (first, quoted(text).expect("a text after the context").0),
                None => (String::new(), first),
            }
        })
        .collect()
}

fn used() -> BTreeSet<Key> {
    slint_files(&root().join("slint"))
        .iter()
        .flat_map(|path| strings_of(&std::fs::read_to_string(path).unwrap()))
        .collect()
}

fn spanish() -> BTreeMap<Key, String> {
    let file = std::fs::read_to_string(root().join("lang/es/LC_MESSAGES/sparkout-ui.po")).unwrap();
    let mut words = BTreeMap::new();
    for block in file.split("\n\n").skip(1) {
        let field = |name: &str| {
            block.lines().find_map(|line| quoted(line.strip_prefix(name)?)).map(|(text, _)| text).unwrap_or_default()
        };
        let known = words.insert((field("msgctxt"), field("msgid")), field("msgstr"));
        assert_eq!(known, None, "twice: {block}");
    }
    words
}

fn places(text: &str) -> BTreeSet<&str> {
    text.match_indices('{').map(|(at, _)| &text[at..=at + 2]).collect()
}

#[test]
fn every_text_has_its_spanish() {
    let spanish = spanish();
    let missing: Vec<_> =
        used().into_iter().filter(|key| spanish.get(key).is_none_or(|text| text.trim().is_empty())).collect();
    assert!(missing.is_empty(), "without Spanish: {missing:#?}");
}

#[test]
fn no_spanish_is_left_over() {
    let used = used();
    let unused: Vec<_> = spanish().into_keys().filter(|key| !used.contains(key)).collect();
    assert!(unused.is_empty(), "no longer on any screen: {unused:#?}");
}

#[test]
fn the_spanish_has_the_same_figures_in_it() {
    for ((_, english), spanish) in spanish() {
        assert_eq!(places(&english), places(&spanish), "{english} / {spanish}");
    }
}

#[test]
fn the_words_that_promise_too_much_are_never_said() {
    let promises = ["safe ", "safe.", "safely", "ok to start", "success", "seguro para", "éxito"];
    for ((_, english), spanish) in spanish() {
        for text in [english.to_lowercase(), spanish.to_lowercase()] {
            assert!(!promises.iter().any(|promise| format!("{text} ").contains(promise)), "{text}");
        }
    }
}

#[test]
fn screens_hold_no_colour_size_or_font() {
    for path in slint_files(&root().join("slint/screens")) {
        let source = std::fs::read_to_string(&path).unwrap();
        for (number, line) in source.lines().enumerate() {
            let place = format!("{}:{}: {line}", path.display(), number + 1);
            assert!(!line.contains('#') && !line.contains("font-family"), "{place}");
            for (at, _) in line.match_indices("px") {
                let size: String = line[..at].chars().rev().take_while(char::is_ascii_digit).collect();
                assert!(size.is_empty() || size == "0" || line.contains("/ 1px") || line.contains("* 1px"), "{place}");
            }
        }
    }
}
