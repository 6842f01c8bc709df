//! Practice on the real program: its whole visit leaves the real kiosk's file as it was, row by row.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Kiosk, Stand};
use rusqlite::{Connection, OpenFlags};

/// Every row of every table, as text.
fn rows(stand: &Stand) -> Vec<String> {
    let file = Connection::open_with_flags(stand.database(), OpenFlags::SQLITE_OPEN_READ_ONLY).expect("the file opens");
    let mut tables = file
        .prepare("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
        .expect("the file has a schema");
    let names: Vec<String> =
        tables.query_map([], |row| row.get(0)).expect("tables").collect::<Result<_, _>>().expect("their names");
    assert!(names.iter().any(|name| name == "journal"), "{names:?}");
    let mut all = Vec::new();
    for name in names {
        let mut table = file.prepare(&format!("SELECT * FROM \"{name}\"")).expect("a table can be read");
        let columns = table.column_count();
        let mut found = table.query([]).expect("its rows");
        while let Some(row) = found.next().expect("a row") {
            let cell = |index| row.get::<_, rusqlite::types::Value>(index).map(|value| format!("{value:?}"));
            let cells: Vec<String> = (0..columns).map(|index| cell(index).expect("a cell")).collect();
            all.push(format!("{name}: {}", cells.join(", ")));
        }
    }
    all
}

#[test]
fn a_practised_visit_leaves_not_one_row_in_the_real_file() {
    let stand = Stand::new();
    stand.play("scan SPKB41042A");
    let mut kiosk = Kiosk::start(&stand, None);
    kiosk.play("expect Scan a unit’s tag");
    let before = rows(&stand);
    // The same visit as the tour's, from Practice to its end, on a kiosk with a shop.
    kiosk.play("press Practice\npress Practice sheet\npress Badge Ines Barro\npress Practice sheet\npress Tag Q-114");
    kiosk.play("press Reel bearings\npress Rollers\npress Blades and spiders\npress To Tape");
    kiosk.play("hold Power is off and was tried\nenter 5.000\nenter 5.000\npress To Front");
    kiosk.play("hold Power is off and was tried\npress Zero set\nenter 0.0\npress To Rear");
    kiosk.play("hold Power is off and was tried\nenter 0\nenter 0\npress To Clearance");
    kiosk.play(&"hold I have checked it\n".repeat(6));
    kiosk.play("hold Start the grind");
    while kiosk.try_line("press Pass done").is_ok() {}
    kiosk.play("hold Both stand still\nhold Power is off and was tried");
    kiosk.play("enter 4.986\nenter 4.986\nenter 0.064\nenter 0.400\npress Faced\npress Paper cuts\npress To Label");
    kiosk.play("press Print label\npress Practice sheet\npress Label\npress To Return\npress Confirm place");
    kiosk.play("press Settings\npress Spanish\npress English\npress Back");
    assert_eq!(rows(&stand), before);
    kiosk.play("press End practice\nexpect This is the real bench");
    assert_eq!(rows(&stand), before);
    drop(kiosk);
    assert_eq!(stand.verify().code, Some(0));
}

#[test]
fn a_restart_in_the_middle_of_practice_comes_back_in_the_real_bench() {
    let stand = Stand::new();
    stand.play(
        "press Practice\npress Practice sheet\npress Tag Q-114\nexpect Receive\nrestart\nexpect Scan a unit’s tag",
    );
    let events = stand.events();
    assert!(events.is_empty(), "{events:?}");
}
