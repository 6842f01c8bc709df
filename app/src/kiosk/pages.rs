//! The pages about the program: cautions first, then licences, then the libraries with theirs.

use super::bench::{Bench, View};
use sparkout_ui::present::figures;
use sparkout_ui::screen::{Pages, Settings};
use sparkout_ui::words::about::{self, Part};
use std::collections::BTreeMap;

/// Every library that is in the program on Linux: name, version, licence. A test holds it against `Cargo.lock`.
pub const LIBRARIES: &str = include_str!("../licences.txt");

/// Characters of a page that are still read standing, and fit every panel.
const PAGE_CHARACTERS_MOST: usize = 1100;

impl Bench {
    fn parts(&self) -> Vec<Part> {
        let settings = self.settings;
        let head = self.disk.head();
        let root = head.as_ref().map(|head| head.root.short()).unwrap_or_default();
        let entries = head.map_or_else(|_| "–".to_owned(), |head| figures::grouped(head.size as f64));
        let program =
            about::program(env!("CARGO_PKG_VERSION"), &self.folder, &root, &entries, &self.witness_told(), settings);
        let mut parts: Vec<Part> = about::cautions(settings).into();
        parts.push(program);
        parts.extend(libraries(settings));
        parts
    }

    pub(super) fn pages(&self, page: usize) -> Pages {
        let parts = self.parts();
        let page = page.min(parts.len().saturating_sub(1));
        let pages = parts.len() as u32;
        let part = parts.into_iter().nth(page);
        let (title, paragraphs) = part.map_or_else(Default::default, |part| (part.title, part.paragraphs));
        Pages { title, paragraphs, caution: page < 2, page: page as u32 + 1, pages }
    }

    pub(super) fn turn_page(&mut self, ahead: bool) {
        let View::Pages(page) = self.view else { return };
        let last = self.parts().len().saturating_sub(1);
        self.view = View::Pages(if ahead { (page + 1).min(last) } else { page.saturating_sub(1) });
    }
}

/// The libraries by licence, as many to a page as fit.
fn libraries(settings: Settings) -> Vec<Part> {
    let mut by_licence: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for line in LIBRARIES.lines() {
        let mut words = line.splitn(3, ' ');
        if let (Some(name), Some(version), Some(licence)) = (words.next(), words.next(), words.next()) {
            by_licence.entry(licence).or_default().push(format!("{name} {version}"));
        }
    }
    let mut pages = vec![Vec::new()];
    let mut left = PAGE_CHARACTERS_MOST;
    for (licence, names) in by_licence {
        let mut text = String::new();
        for name in names {
            if !text.is_empty() && text.chars().count() + name.chars().count() + 2 > left {
                put(&mut pages, std::mem::take(&mut text));
                pages.push(Vec::new());
                left = PAGE_CHARACTERS_MOST;
            }
            text.push_str(if text.is_empty() { licence } else { ", " });
            if text == licence {
                text.push_str(": ");
            }
            text.push_str(&name);
        }
        // A paragraph costs the rest of its last line too.
        left = left.saturating_sub(text.chars().count() + 60);
        put(&mut pages, text);
        if left < 200 {
            pages.push(Vec::new());
            left = PAGE_CHARACTERS_MOST;
        }
    }
    let title = about::libraries(settings);
    let full = pages.into_iter().filter(|page| !page.is_empty());
    full.map(|paragraphs| Part { title: title.clone(), paragraphs }).collect()
}

fn put(pages: &mut [Vec<String>], paragraph: String) {
    if let Some(page) = pages.last_mut() {
        page.push(paragraph);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn every_library_stands_on_some_page_and_no_page_is_too_full() {
        let pages = libraries(Settings::default());
        let all: String =
            pages.iter().flat_map(|page| page.paragraphs.join("\n").chars().collect::<Vec<_>>()).collect();
        for line in LIBRARIES.lines() {
            let mut words = line.split(' ');
            let named = format!("{} {}", words.next().unwrap(), words.next().unwrap());
            assert!(all.contains(&named), "{named}");
        }
        for page in &pages {
            let characters: usize = page.paragraphs.iter().map(|text| text.chars().count()).sum();
            assert!(characters <= PAGE_CHARACTERS_MOST + 60, "{characters}");
            assert!(page.paragraphs.len() <= 12, "{}", page.paragraphs.len());
        }
        assert!((3..=14).contains(&pages.len()), "{}", pages.len());
    }
}
