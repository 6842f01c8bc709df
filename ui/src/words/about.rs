//! The pages about the program: cautions, licences, where the record lies.

use super::say;
use crate::screen::{Language, Settings};

/// A part of the pages: its title and its paragraphs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// What it is about.
    pub title: String,
    /// Its paragraphs.
    pub paragraphs: Vec<String>,
}

const AID_ENGLISH: &str = "It never replaces guards, interlocks, the grinder maker’s and wheel maker’s instructions, \
                           local codes or a competent person’s judgement. A lockout entry locks nothing; the padlock \
                           does. This screen stops nothing.";
const AID_SPANISH: &str = "No reemplaza guardas, enclavamientos, instrucciones del fabricante de la rectificadora y de \
                           la piedra, normas locales ni el criterio de una persona competente. Anotar un bloqueo no \
                           bloquea nada; bloquea el candado. Esta pantalla no detiene nada.";

const CAUTIONS_ENGLISH: [&str; 7] = [
    "Tape, Front, Rear and Prove are hands-in stages: power off, locked and tried before hands go in.",
    "Wheel and reel go on turning after the switch is off: keep out until both stand still.",
    "Power locked out, tagged and tried before hands go near wheel, belt or drive.",
    "Reels cut when turned by hand: cut-resistant gloves to handle, and no gloves near a turning wheel or reel.",
    "Eye and face protection, hearing protection, dust control; no loose clothing; bystanders out.",
    "Sparks: no fuel, solvent or dry clippings near. A whole mower on the bench: engine or battery disconnected, fuel \
     shut off.",
    "Wheel inspected and, where its type rings, ring-tested immediately before mounting; never above its rated speed. \
     Dressing is done with the wheel turning and has its own checklist.",
];
const CAUTIONS_SPANISH: [&str; 7] = [
    "En Cinta, Delantero, Trasero y Comprobar entran las manos: sin energía, bloqueado y probado antes de meterlas.",
    "La piedra y el molinete siguen girando después de apagar: no se acerque hasta que los dos estén quietos.",
    "Energía bloqueada, rotulada y probada antes de acercar las manos a la piedra, la correa o la transmisión.",
    "Los molinetes cortan al girarlos a mano: guantes anticorte para manipular, y sin guantes cerca de una piedra o un \
     molinete que gira.",
    "Protección de ojos y cara, protección auditiva, control de polvo; sin ropa suelta; nadie más cerca.",
    "Chispas: sin combustible, solvente ni pasto seco cerca. Máquina completa en el banco: motor o batería \
     desconectados, combustible cerrado.",
    "Piedra inspeccionada y, si su tipo suena, probada por sonido inmediatamente antes de montarla; nunca por encima de \
     la velocidad marcada. El diamantado se hace con la piedra girando y tiene su propia lista.",
];

/// What it is, and what it never replaces; then the cautions of the trade.
pub fn cautions(settings: Settings) -> [Part; 2] {
    let (aid, list) = match settings.language {
        Language::English => (AID_ENGLISH, CAUTIONS_ENGLISH),
        Language::Spanish => (AID_SPANISH, CAUTIONS_SPANISH),
    };
    let own = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
    let (first, rest) = list.split_at(3);
    let title = say!(
        settings,
        "An aid to a trained person, not a safety device",
        "Una ayuda para una persona capacitada, no un dispositivo de seguridad",
    );
    let mut paragraphs = vec![aid.to_owned()];
    paragraphs.extend(own(first));
    let more = say!(settings, "Cautions", "Precauciones");
    [Part { title, paragraphs }, Part { title: more, paragraphs: own(rest) }]
}

/// The program itself: version, where the record lies, licences of program, screens and letters.
pub fn program(version: &str, folder: &str, root: &str, entries: &str, witness: &str, settings: Settings) -> Part {
    let mut paragraphs = vec![
        say!(settings, "sparkout {version}", "sparkout {version}"),
        say!(
            settings,
            "Record: {folder} · root {root} · {entries} entries",
            "Registro: {folder} · raíz {root} · {entries} asientos",
        ),
        say!(
            settings,
            "Free software under the GNU General Public License, version 3 only (GPL-3.0-only), with no warranty. The \
             whole text is in the file LICENSE beside the source.",
            "Software libre bajo la Licencia Pública General de GNU, solo versión 3 (GPL-3.0-only), sin garantía. El \
             texto completo está en el archivo LICENSE junto al código fuente.",
        ),
        say!(
            settings,
            "Screens by Slint, used under GPL-3.0-only: the licence under which it may be used in a kiosk.",
            "Pantallas con Slint, usado bajo GPL-3.0-only: la licencia con la que puede usarse en un quiosco.",
        ),
        say!(
            settings,
            "Letters: Atkinson Hyperlegible Next and Atkinson Hyperlegible Mono, SIL Open Font License 1.1.",
            "Letras: Atkinson Hyperlegible Next y Atkinson Hyperlegible Mono, SIL Open Font License 1.1.",
        ),
    ];
    if !witness.is_empty() {
        paragraphs.insert(2, witness.to_owned());
    }
    Part { title: say!(settings, "Program and licences", "Programa y licencias"), paragraphs }
}

/// The title over the libraries' pages.
pub fn libraries(settings: Settings) -> String {
    say!(settings, "Libraries in this program", "Bibliotecas de este programa")
}
