//! Turning work with the checklist before it: one after the other, from the first item to where both stand still.

use super::lines::Line;
use std::collections::{HashMap, HashSet};

/// A checklist, and the turning work under it where it came to that.
#[derive(Debug, Clone)]
pub struct TurningWork {
    /// What it is, and of which unit.
    pub title: String,
    /// Its entries, in order.
    pub lines: Vec<Line>,
    /// Whether it was started.
    pub started: bool,
    is_within: bool,
}

/// Collects turning work as lines come along.
#[derive(Debug, Default)]
pub struct Grinds {
    open: HashMap<String, TurningWork>,
    done: Vec<TurningWork>,
}

impl Grinds {
    /// The next line, and whether it belongs to the days that are asked for.
    pub fn take(&mut self, line: &Line, is_within: bool) {
        let Some(mark) = &line.turning else { return };
        let work = self.open.entry(line.visit.clone()).or_insert_with(|| TurningWork {
            title: mark.title.clone(),
            lines: Vec::new(),
            started: false,
            is_within: false,
        });
        work.lines.push(line.clone());
        work.started |= mark.starts;
        work.is_within |= is_within;
        if mark.ends {
            self.done.extend(self.open.remove(&line.visit));
        }
    }

    /// Those of which some part belongs to the days, whole, and in the journal's order.
    pub fn finish(mut self) -> Vec<TurningWork> {
        self.done.extend(self.open.into_values());
        // A stage that was only walked through is no checklist.
        self.done.retain(|work| work.is_within && work.lines.iter().any(tells));
        self.done.sort_by_key(|work| work.lines.first().map(|line| line.seq));
        self.done
    }
}

fn tells(line: &Line) -> bool {
    line.exception || ["item_held", "grind_started", "stand_still"].contains(&line.event.as_str())
}

/// The numbers of all entries that stand in these.
pub fn numbers(works: &[TurningWork]) -> HashSet<u64> {
    works.iter().flat_map(|work| work.lines.iter().map(|line| line.seq)).collect()
}
