//! Minutes ground by each person on each day, and the noise that follows from the level that the shop has entered.

use super::Heading;
use super::page::Writer;
use crate::report::lines::Line;
use jiff::civil::Date;
use sparkout_core::exposure::{NoiseToday, noise_today};
use sparkout_ui::present::figures;
use std::collections::{BTreeMap, HashMap};

pub(super) fn write(writer: &mut Writer, heading: &Heading, lines: &[Line]) {
    writer.section(heading.pick("5  Time ground and noise", "5  Tiempo de rectificado y ruido"));
    let ground = ground(lines);
    if ground.is_empty() {
        return writer.paragraph(heading.pick("None in these days.", "Ninguno en estos días."));
    }
    let head = [
        heading.pick("Person", "Persona"),
        heading.pick("Day", "Día"),
        heading.pick("Minutes ground", "Minutos de rectificado"),
        heading.pick("Noise, estimate", "Ruido, estimado"),
    ]
    .map(str::to_owned);
    let names: HashMap<&str, &str> = lines.iter().map(|line| (line.badge.as_str(), line.who.as_str())).collect();
    let rows = ground.iter().map(|((day, badge), ms)| {
        let who = names.get(badge.as_str()).copied().filter(|name| !name.is_empty()).unwrap_or(badge);
        let minutes = figures::number(*ms as f64 / 60_000.0, 1, heading.settings);
        [who.to_owned(), figures::date(*day, heading.settings), minutes, dose(heading, *ms)]
    });
    writer.counts(&head, rows.collect());
    writer.small(heading.pick(
        "From each start to where both stood still, or to where the clearance ended; what a restart cut off counts up to its \
         last pass. The noise is an estimate in percent of a day's dose (29 CFR 1910.95, Table G-16) from one entered sound \
         level and this time alone: other noise of the day is not in it.",
        "Desde cada inicio hasta que ambos quedaron quietos, o hasta que terminó el permiso; lo que cortó un reinicio cuenta \
         hasta su última pasada. El ruido es una estimación en por ciento de la dosis diaria (29 CFR 1910.95, tabla G-16) a \
         partir de un solo nivel cargado y de este tiempo: el demás ruido del día no está incluido.",
    ));
}

/// Milliseconds by day and badge.
fn ground(lines: &[Line]) -> BTreeMap<(Date, String), u64> {
    let mut ground = BTreeMap::new();
    for stretch in lines.iter().filter_map(|line| line.ground.as_ref()) {
        let so_far: &mut u64 = ground.entry((stretch.day, stretch.operator.clone())).or_default();
        *so_far = so_far.saturating_add(stretch.ms);
    }
    ground
}

fn dose(heading: &Heading, ms: u64) -> String {
    match noise_today(heading.sound_level, ms) {
        Ok(NoiseToday::Estimated { dose, .. }) => {
            format!("{} %", figures::number(dose.dose_percent.value(), 0, heading.settings))
        }
        Ok(NoiseToday::NoLevel) => heading.pick("no level entered", "sin nivel cargado").to_owned(),
        Err(_) => heading.pick("not worked out", "no calculado").to_owned(),
    }
}
