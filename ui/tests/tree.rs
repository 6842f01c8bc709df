//! The accessible tree of every screen, written out beside what is built, and words for every figure and picture.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, pose};
use i_slint_core::accessibility::AccessibleStringProperty as Property;
use i_slint_core::item_tree::{ItemRc, ensure_item_tree_instantiated};
use i_slint_core::items::{AccessibleRole, ImageItem, Path};
use i_slint_core::window::WindowInner;
use slint::ComponentHandle as _;
use sparkout_ui::screen::Language;
use std::fmt::Write as _;

/// One screen's tree as it is read.
#[derive(Default)]
struct Tree {
    lines: String,
    wordless: Vec<String>,
    roles: Vec<(AccessibleRole, String)>,
}

/// A picture smaller than this is a mark beside its words.
const MARK: f32 = 56.0;

fn property(item: &ItemRc, what: Property) -> String {
    item.accessible_string_property(what).unwrap_or_default().to_string()
}

impl Tree {
    fn of(window: &slint::Window) -> Self {
        let tree = WindowInner::from_pub(window).component();
        ensure_item_tree_instantiated(&tree);
        let mut read = Self::default();
        read.read(&ItemRc::new_root(tree), 0, false);
        read
    }

    /// `told`: whether something around has said it in words.
    fn read(&mut self, item: &ItemRc, depth: usize, told: bool) {
        let size = item.geometry().size;
        let role = item.accessible_role();
        let label = property(item, Property::Label);
        let has_words = label.chars().any(char::is_alphabetic);
        let landmark = matches!(role, AccessibleRole::None | AccessibleRole::Main);
        let mut inner = (depth, told);
        if role != AccessibleRole::None
            && size.width > 0.0
            && size.height > 0.0
            && !(role == AccessibleRole::Text && label.is_empty())
        {
            let mut line = format!("{:depth$}{role:?} {label:?}", "", depth = depth * 2);
            let described = [
                ("Value", Property::Value),
                ("Description", Property::Description),
                ("Enabled", Property::Enabled),
                ("Checked", Property::Checked),
                ("ItemSelected", Property::ItemSelected),
            ];
            for (name, what) in described {
                let text = property(item, what);
                if !text.is_empty() && text != label {
                    write!(line, " {name}={text:?}").unwrap();
                }
            }
            writeln!(self.lines, "{line}").unwrap();
            self.roles.push((role, label.clone()));
            if role == AccessibleRole::Text
                && !told
                && !has_words
                && label.chars().any(|letter| letter.is_ascii_digit())
            {
                self.wordless.push(format!("a figure without words: {label:?}"));
            }
            inner = (
                depth + 1,
                told || (!landmark && role != AccessibleRole::Text && (has_words || role == AccessibleRole::Button)),
            );
        }
        let drawn = item.downcast::<Path>().is_some() || item.downcast::<ImageItem>().is_some();
        if drawn && !inner.1 && size.width >= MARK && size.height >= MARK {
            self.wordless.push(format!("a picture without words: {:.0}×{:.0}", size.width, size.height));
        }
        let mut child = item.first_child();
        while let Some(now) = child {
            self.read(&now, inner.0, inner.1);
            child = now.next_sibling();
        }
    }

    fn has(&self, role: AccessibleRole) -> bool {
        self.roles.iter().any(|(known, _)| *known == role)
    }
}

#[test]
fn every_figure_and_every_picture_has_words() {
    let folder = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).with_file_name("trees");
    std::fs::create_dir_all(&folder).unwrap();
    let bench = Bench::new(1280.0, 800.0);
    let mut wordless = Vec::new();
    for language in [Language::English, Language::Spanish] {
        for (name, screen) in crate::samples::all(language) {
            pose::show(&bench.window, "", &screen);
            let tree = Tree::of(bench.window.component().window());
            std::fs::write(folder.join(format!("{name}-{language:?}.txt")), &tree.lines).unwrap();
            wordless.extend(tree.wordless.into_iter().map(|what| format!("{language:?} {name}: {what}")));
        }
    }
    assert!(
        wordless.is_empty(),
        "{} without words; the trees lie in {}:\n{}",
        wordless.len(),
        folder.display(),
        wordless.join("\n")
    );
}

#[test]
fn a_screen_tells_its_parts_by_their_roles() {
    use AccessibleRole as R;
    let bench = Bench::new(1280.0, 800.0);
    for (sample, roles) in [
        ("10-receive", vec![R::Main, R::List, R::ListItem, R::Button, R::Image, R::Groupbox]),
        ("22-front-second", vec![R::TextInput, R::Image, R::Button, R::List]),
        ("23-front-adjust", vec![R::Image, R::Groupbox]),
        ("40-clearance", vec![R::Groupbox, R::ListItem, R::Button]),
        ("50-grind", vec![R::ProgressIndicator, R::Groupbox]),
        ("70-label-print", vec![R::Image]),
    ] {
        bench.show_sample(sample);
        let tree = Tree::of(bench.window.component().window());
        for role in roles {
            assert!(tree.has(role), "{sample}: no {role:?} in\n{}", tree.lines);
        }
    }
}

#[test]
fn what_is_marked_is_told_as_a_state() {
    let bench = Bench::new(1280.0, 800.0);
    let lines = |sample: &str| {
        bench.show_sample(sample);
        Tree::of(bench.window.component().window()).lines
    };
    let has = |lines: &str, parts: &[&str]| {
        assert!(lines.lines().any(|line| parts.iter().all(|part| line.contains(part))), "{parts:?} in\n{lines}");
    };
    has(&lines("40-clearance"), &["ListItem", "ItemSelected=\"true\""]);
    has(&lines("40-clearance"), &["ListItem", "Checked=\"true\""]);
    has(&lines("12-tape-first"), &["ListItem \"Tape\"", "ItemSelected=\"true\""]);
    has(&lines("12-tape-first"), &["ListItem \"Receive\"", "Checked=\"true\""]);
    has(&lines("61-prove-pass"), &["Button", "Checked=\"true\""]);
    has(&lines("42-clearance-blocked"), &["Button \"Start the grind\"", "Enabled=\"false\""]);
}
