//! Turning work: its title, what its clearance stood on, and what stood in its way.

use super::{pick, say, settings};
use crate::report::csv;
use sparkout_core::calc::wheel::surface_speed;
use sparkout_core::facts::{BenchFacts, Per};
use sparkout_core::visit::gate::Block;
use sparkout_core::visit::kind::Turning;
use sparkout_core::visit::{Stage, Visit};
use sparkout_ui::screen::Language;
use sparkout_ui::words as screen_words;
use std::collections::HashMap;

/// The newest acknowledgement of each item by each person: those that count for a shift or a mounting are not asked
/// again at every grind.
#[derive(Debug, Default)]
pub(in crate::report) struct Held(HashMap<(String, String), (u64, String)>);

impl Held {
    /// An item was acknowledged.
    pub fn keep(&mut self, item: &str, wording: &str, seq: u64, facts: Option<&BenchFacts>) {
        let Some(operator) = facts.and_then(|facts| facts.operator.as_ref()) else { return };
        self.0.insert((item.to_owned(), operator.id.clone()), (seq, wording.to_owned()));
    }
}

/// What the work is, and of which unit.
pub(in crate::report) fn turning_title(visit: &Visit, language: Language) -> String {
    let work = match visit.turning() {
        Turning::Grind => pick(language, "Grind", "Rectificado"),
        Turning::Relief => pick(language, "Relief", "Destalonado"),
        Turning::BackLap => pick(language, "Back-lap", "Asentado"),
    };
    let unit = visit.unit();
    format!("{} · {} · {} · {work}", unit.tag, unit.mower, unit.position)
}

/// What a start stood on: the person, the wheel, what was acknowledged earlier, and a lead's word about the grinder.
pub(in crate::report) fn start(facts: &BenchFacts, before: &Visit, held: &Held, language: Language) -> String {
    let mut parts = Vec::new();
    parts.extend(wheel(facts, language));
    parts.extend(earlier(facts, before, held, language));
    let grinder = &facts.grinder;
    if let Some((by, reason)) = grinder.check_override.as_ref().filter(|_| grinder.overridden(facts.today)) {
        parts.push(say!(
            language,
            "The grinder stood under the word of the lead {by}: {reason}.",
            "La rectificadora estaba bajo autorización del encargado {by}: {reason}."
        ));
    }
    parts.join(" ")
}

fn wheel(facts: &BenchFacts, language: Language) -> Option<String> {
    let wheel = facts.wheel.as_ref()?;
    let spindle = facts.grinder.spindle_speed;
    let speed = surface_speed(wheel.diameter.length(), spindle);
    let (mounting, diameter) = (&wheel.mounting, csv::inches(wheel.diameter));
    let (spindle, metres) = (format!("{:.0}", spindle.rpm()), format!("{:.1}", speed.metres_per_second()));
    // One foot a minute is 0.00508 m/s exactly.
    let feet = format!("{:.0}", speed.metres_per_second() / 0.005_08);
    let rated = wheel.rated_speed.map_or_else(|| "–".to_owned(), |speed| format!("{:.0}", speed.rpm()));
    Some(say!(
        language,
        "Wheel: mounting {mounting}, {diameter} in, spindle {spindle} rpm, rated {rated} rpm, surface speed {feet} ft/min \
         ({metres} m/s).",
        "Piedra: montaje {mounting}, {diameter} in, husillo {spindle} rpm, admite {rated} rpm, velocidad periférica \
         {feet} ft/min ({metres} m/s)."
    ))
}

/// The items that were not asked because an earlier acknowledgement by the same person still counted.
fn earlier(facts: &BenchFacts, before: &Visit, held: &Held, language: Language) -> Option<String> {
    let work = before.turning();
    let is_done = |item: &str| match before.stage() {
        Stage::Clearance(gate) => gate.is_done(item),
        Stage::Cleared(clearance) => clearance.items().any(|done| done == item),
        _ => false,
    };
    let operator = facts.operator.as_ref()?;
    let told: Vec<String> = facts
        .gate
        .items
        .iter()
        .filter(|item| item.per != Per::Grind && item.concerns(work) && !is_done(&item.id))
        .map(|item| match held.0.get(&(item.id.clone(), operator.id.clone())) {
            Some((seq, wording)) => say!(language, "{wording} (entry {seq})", "{wording} (asiento {seq})"),
            None => item.id.clone(),
        })
        .collect();
    if told.is_empty() {
        return None;
    }
    let told = told.join(", ");
    Some(say!(language, "Acknowledged earlier and still counting: {told}.", "Confirmado antes y aún vigente: {told}."))
}

/// What stood between a checklist and its clearance.
pub(in crate::report) fn blocked(found: &[Block], language: Language) -> String {
    let told: Vec<String> = found.iter().map(|block| screen_words::block(block, settings(language))).collect();
    let told = told.join(" ");
    say!(
        language,
        "The clearance was refused; the screen said: “{told}”",
        "Se negó el permiso; la pantalla decía: «{told}»"
    )
}
