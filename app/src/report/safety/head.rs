//! What stands at the head of the record: whose it is, what of, and how far it can be relied on.

use super::page::Writer;
use super::{Count, Heading};
use crate::report::lines::Line;
use std::collections::BTreeMap;

pub(super) fn write(writer: &mut Writer, heading: &Heading, lines: &[Line], counts: &BTreeMap<String, Count>) {
    writer.title(&format!("{} · {}", heading.pick("Safety record", "Registro de seguridad"), heading.shop));
    writer.strong(&heading.span());
    facts(writer, heading, lines);
    days_end(writer, heading);
    verified(writer, heading);
    writer.boxed(
        heading.pick("NOTICE", "AVISO"),
        heading.pick(
            "This is a record, not a safety device. The program that made it is an aid to a trained person: it never \
             replaces guards, interlocks, the grinder maker's and wheel maker's instructions, local codes or a competent \
             person's judgement; local codes decide. A lockout entry locks nothing; the padlock does.",
            "Esto es un registro, no un dispositivo de seguridad. El programa que lo hizo es una ayuda para una persona \
             capacitada: no reemplaza guardas, enclavamientos, instrucciones del fabricante de la rectificadora y de la \
             piedra, normas locales ni el criterio de una persona competente; deciden las normas locales. Anotar un \
             bloqueo no bloquea nada; bloquea el candado.",
        ),
    );
    if lines.is_empty() {
        writer.strong(heading.pick("There are no entries in these days.", "No hay asientos en estos días."));
        return;
    }
    people(writer, heading, counts);
}

fn facts(writer: &mut Writer, heading: &Heading, lines: &[Line]) {
    let bench = format!("{}: {} · {}", heading.pick("Bench", "Banco"), heading.bench, heading.log);
    writer.paragraph(&bench);
    let made = heading.made.strftime("%Y-%m-%d %H:%M:%S %:z").to_string();
    let zone = heading.made.time_zone().iana_name().map_or_else(String::new, |name| format!(", {name}"));
    let times = heading.pick(
        "days and times are the shop's, by the station's clock; order is the journal's",
        "días y horas son los del taller, según el reloj de la estación; el orden es el del registro",
    );
    writer.paragraph(&format!("{}: {made}{zone}; {times}", heading.pick("Made", "Hecho")));
    let numbers = match (lines.first(), lines.last()) {
        (Some(first), Some(last)) => {
            format!(" ({} {} {} {})", heading.pick("entries", "asientos"), first.seq, heading.pick("to", "a"), last.seq)
        }
        _ => String::new(),
    };
    let (count, size) = (lines.len(), heading.size);
    let of = heading.pick("of the journal's", "de los asientos del registro, que son");
    writer.paragraph(&format!("{}: {count}{numbers}, {of} {size}", heading.pick("Entries here", "Asientos aquí")));
    let root = heading.root;
    writer.paragraph(&format!(
        "{}: {} · {root}",
        heading.pick("Journal's root, short and whole", "Raíz del registro, corta y completa"),
        root.short()
    ));
}

/// What is compared by people: a sheet printed that day has the same few digits, or the journal is another by now.
fn days_end(writer: &mut Writer, heading: &Heading) {
    let Some((size, root)) = heading.days_end else { return };
    let span = heading.span();
    let (ends, entries) = match heading.settings.language {
        sparkout_ui::screen::Language::English => ("At the end of these days", "entries, short root"),
        sparkout_ui::screen::Language::Spanish => ("Al final de estos días", "asientos, raíz corta"),
    };
    writer.strong(&format!("{ends} ({span}): {size} {entries} {}", root.short()));
}

fn verified(writer: &mut Writer, heading: &Heading) {
    if let Some(first) = heading.fails.first() {
        let fails = heading.pick("THE JOURNAL FAILS VERIFICATION", "EL REGISTRO NO PASA LA VERIFICACIÓN");
        let all = heading.pick("`sparkout journal verify` tells all of it", "`sparkout journal verify` lo dice todo");
        writer.boxed(fails, &format!("{first}. {all}."));
        return;
    }
    let (heads, size) = (heading.heads, heading.size);
    let held = match heading.settings.language {
        sparkout_ui::screen::Language::English => format!(
            "Verified when this was made: entries 1 to {size} are as they were signed, against {heads} heads in the file."
        ),
        sparkout_ui::screen::Language::Spanish => format!(
            "Verificado al hacer esto: los asientos 1 a {size} están como se firmaron, según {heads} cabeceras del archivo."
        ),
    };
    let against = match heading.elsewhere {
        Some(Some(vouched)) => format!(
            "{} {vouched}.",
            heading.pick(
                "The head kept elsewhere vouches for entries 1 to",
                "La cabecera guardada en otro lugar respalda los asientos 1 a"
            )
        ),
        Some(None) | None => heading
            .pick(
                "No head kept elsewhere was given: whoever holds the station's key could have written the entries anew. \
                 Compare the short root with the daily sheets, or give --checkpoint.",
                "No se dio una cabecera guardada en otro lugar: quien tiene la clave de la estación pudo escribir los \
                 asientos de nuevo. Compare la raíz corta con las hojas diarias, o dé --checkpoint.",
            )
            .to_owned(),
    };
    writer.paragraph(&format!("{held} {against}"));
}

/// How much there was, by person: the sheets' number must not hide a busy day.
fn people(writer: &mut Writer, heading: &Heading, counts: &BTreeMap<String, Count>) {
    let head = [
        heading.pick("Person", "Persona"),
        heading.pick("Acknowledgements", "Confirmaciones"),
        heading.pick("Starts", "Inicios"),
        heading.pick("Exceptions", "Excepciones"),
    ]
    .map(str::to_owned);
    let rows = counts.iter().map(|(who, count)| {
        let who = if who.is_empty() { heading.pick("nobody signed on", "nadie registrado") } else { who };
        [who.to_owned(), count.acknowledged.to_string(), count.started.to_string(), count.exceptions.to_string()]
    });
    writer.counts(&head, rows.collect());
}
