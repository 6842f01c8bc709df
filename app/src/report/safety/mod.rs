//! The safety record of a span of days, on paper: what was out of the ordinary first, then every start with what it
//! stood on, then isolation, then all else.

mod head;
mod noise;
mod page;

use super::grinds::{self, Grinds, TurningWork};
use super::lines::{Group, Line};
use super::pdf::{self, About};
use super::typeset::Paper;
use super::words::pick;
use jiff::ZonedDateTime;
use jiff::civil::Date;
use page::{Columns, Writer};
use sparkout_core::journal::Hash;
use sparkout_core::quantity::Ratio;
use sparkout_ui::present::figures;
use sparkout_ui::screen::{Language, Settings};
use std::collections::BTreeMap;

/// What the sheets say besides the lines.
#[derive(Debug, Clone)]
pub struct Heading {
    /// The shop's name.
    pub shop: String,
    /// The bench's name.
    pub bench: String,
    /// The log's name.
    pub log: String,
    /// How many entries the whole journal has.
    pub size: u64,
    /// The root over them.
    pub root: Hash,
    /// How many entries there were at the end of these days, and the root over them: what a sheet that was printed then
    /// has on it. Nothing when no entry belongs to them.
    pub days_end: Option<(u64, Hash)>,
    /// Signed heads whose root and signature hold.
    pub heads: u64,
    /// What fails, in words.
    pub fails: Vec<String>,
    /// Whether a head kept elsewhere was given, and up to which entry it vouches for the journal.
    pub elsewhere: Option<Option<u64>>,
    /// The first and the last day, where they are limited.
    pub days: (Option<Date>, Option<Date>),
    /// The sound level beside the grinder, dBA, if the shop has entered one.
    pub sound_level: Option<Ratio>,
    /// When it is made, in the shop's time zone.
    pub made: ZonedDateTime,
    /// The language, and how dates are written.
    pub settings: Settings,
}

/// How much one person did.
#[derive(Debug, Clone, Copy, Default)]
struct Count {
    acknowledged: usize,
    started: usize,
    exceptions: usize,
}

/// Everything that goes onto the sheets.
#[derive(Debug, Default)]
pub struct Content {
    grinds: Grinds,
    within: Vec<Line>,
}

impl Content {
    /// The next line, and whether it belongs to the days that are asked for.
    pub fn take(&mut self, line: Line, is_within: bool) {
        self.grinds.take(&line, is_within);
        if is_within {
            self.within.push(line);
        }
    }

    /// The last entry of these days.
    pub fn last(&self) -> Option<u64> {
        self.within.last().map(|line| line.seq)
    }

    /// Sets the record.
    ///
    /// # Errors
    /// When the document cannot be written.
    pub fn pdf(self, heading: &Heading, paper: Paper) -> anyhow::Result<Vec<u8>> {
        let works = self.grinds.finish();
        let lines = self.within;
        let mut writer = Writer::new(paper, heading.made.time_zone().clone(), heading.settings)?;
        head::write(&mut writer, heading, &lines, &counts(&lines));
        exceptions(&mut writer, &lines);
        turning(&mut writer, &works);
        rest(&mut writer, &works, &lines);
        noise::write(&mut writer, heading, &lines);
        writer.feet(&heading.span(), heading.root);
        let about = About {
            title: format!(
                "{} · {} · {}",
                heading.pick("Safety record", "Registro de seguridad"),
                heading.shop,
                heading.span()
            ),
            language: match heading.settings.language {
                Language::English => "en",
                Language::Spanish => "es",
            },
            made: heading.made.clone(),
        };
        pdf::write(writer.sheets(), &about)
    }
}

impl Heading {
    const fn pick(&self, english: &'static str, spanish: &'static str) -> &'static str {
        pick(self.settings.language, english, spanish)
    }

    /// The days, in words.
    fn span(&self) -> String {
        let date = |day: Date| figures::date(day, self.settings);
        match self.days {
            (None, None) => self.pick("the whole journal", "todo el registro").to_owned(),
            (Some(from), None) => format!("{} {}", self.pick("from", "desde el"), date(from)),
            (None, Some(to)) => format!("{} {}", self.pick("up to", "hasta el"), date(to)),
            (Some(from), Some(to)) if from == to => date(from),
            (Some(from), Some(to)) => format!("{} – {}", date(from), date(to)),
        }
    }
}

fn counts(lines: &[Line]) -> BTreeMap<String, Count> {
    let mut by_person: BTreeMap<String, Count> = BTreeMap::new();
    for line in lines {
        let count = by_person.entry(line.who.clone()).or_default();
        count.exceptions += usize::from(line.exception);
        match line.event.as_str() {
            "item_held" | "isolation_held" | "stand_still" | "lock_applied" | "lock_tried" | "proved_dead"
            | "lock_released" | "force_released" | "owner_told" | "wheel_looked_over" => count.acknowledged += 1,
            "grind_started" => count.started += 1,
            _ => {}
        }
    }
    by_person
}

fn exceptions(writer: &mut Writer, lines: &[Line]) {
    let language = writer.language();
    writer.section(pick(language, "1  Exceptions", "1  Excepciones"));
    let found: Vec<&Line> = lines.iter().filter(|line| line.exception).collect();
    if found.is_empty() {
        writer.paragraph(pick(language, "None in these days.", "Ninguna en estos días."));
    } else {
        writer.table(&found, Columns::All);
    }
    writer.small(pick(
        language,
        "Exceptions are: clearances refused or lapsed, a lead's overrides, locks that a lead took off, wheels mounted without inspection or ring test, holds and what ended \
         them, visits ended early, \
         restarts under turning work or its checklist, a grinder out of true, doubtful values that were kept, verdicts \
         not proven, clocks turned, and entries that are not understood. A press that the program did not take changed \
         nothing and is not in the journal.",
        "Son excepciones: permisos negados o caducados, autorizaciones de un encargado, candados que retiró un encargado, piedras montadas sin \
         inspección o prueba de sonido, retenciones y lo que las levantó, \
         trabajos terminados antes de tiempo, reinicios durante un trabajo con giro o su lista, una rectificadora fuera \
         de paralelismo, valores dudosos que se mantuvieron, dictámenes sin comprobar, relojes movidos y asientos que no \
         se entienden. Una pulsación que el programa no aceptó no cambió nada y no está en el registro.",
    ));
}

fn turning(writer: &mut Writer, works: &[TurningWork]) {
    let language = writer.language();
    writer.section(pick(language, "2  Turning work and its clearance", "2  Trabajo con giro y su permiso"));
    if works.is_empty() {
        writer.paragraph(pick(language, "None in these days.", "Ninguno en estos días."));
        return;
    }
    writer.small(pick(
        language,
        "Each from the first item of its checklist to where wheel and reel stood still, whole, also where a part lies \
         outside these days. Exceptions are told again in their place, with “!” before them.",
        "Cada uno desde el primer punto de su lista hasta que piedra y molinete quedaron detenidos, completo, aunque una \
         parte quede fuera de estos días. Las excepciones se repiten en su lugar, con «!» delante.",
    ));
    for work in works {
        let never = if work.started { "" } else { pick(language, " · NOT STARTED", " · SIN INICIAR") };
        writer.heading(&format!("{}{never}", work.title));
        let lines: Vec<&Line> = work.lines.iter().collect();
        writer.table(&lines, Columns::WithoutUnit);
    }
}

fn rest(writer: &mut Writer, works: &[TurningWork], lines: &[Line]) {
    let language = writer.language();
    let told = grinds::numbers(works);
    let isolation: Vec<&Line> = lines.iter().filter(|line| line.group == Group::Isolation).collect();
    writer.section(pick(language, "3  Isolation and lockout", "3  Cortes de energía y bloqueos"));
    if isolation.is_empty() {
        writer.paragraph(pick(language, "None in these days.", "Ninguno en estos días."));
    } else {
        writer.table(&isolation, Columns::All);
    }
    let is_left = |line: &&Line| line.group != Group::Isolation && !line.exception && !told.contains(&line.seq);
    let other: Vec<&Line> = lines.iter().filter(is_left).collect();
    writer.section(pick(language, "4  All other entries", "4  Todos los demás asientos"));
    if other.is_empty() {
        writer.paragraph(pick(language, "None in these days.", "Ninguno en estos días."));
    } else {
        writer.table(&other, Columns::All);
    }
}
