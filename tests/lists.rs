//! The shop's lists as a shop uses them: out to a spreadsheet, changed, back in, and seen at the bench.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Stand, sparkout};

fn list(stand: &Stand, arguments: &[&str]) -> crate::rehearsing::Ended {
    let data = stand.data().display().to_string();
    let mut all: Vec<&str> = arguments.to_vec();
    all.extend(["--data", data.as_str()]);
    sparkout(all)
}

#[test]
fn a_unit_in_a_table_is_known_at_the_bench() {
    let stand = Stand::new();
    stand.play("scan SPKB41042A\nscan Z-901\nexpect What type is it?\n");
    let file = stand.beside("units.csv").display().to_string();
    assert_eq!(list(&stand, &["units", "export", "--out", &file]).code, Some(0));
    let table = std::fs::read_to_string(&file).expect("the table is there");
    let (head, one) = (table.lines().next(), table.lines().find(|row| row.starts_with("Q-114,")));
    assert_eq!(head, Some("tag,type,mower,position,serial,status"));
    let new = one.expect("the shop's unit").replace("Q-114,", "Z-901,").replace("Fairway 3,2,", ",,");
    let new = new.replace("in_service", "spare");
    std::fs::write(&file, format!("{table}{new}\r\n")).expect("it can be written");

    let before = stand.entries().len();
    let tried = list(&stand, &["units", "import", &file, "--dry-run"]);
    assert_eq!(
        (tried.code, tried.out.contains("would be taken; new: 1, changed: 0")),
        (Some(0), true),
        "{}",
        tried.out
    );
    assert_eq!(stand.entries().len(), before);
    let taken = list(&stand, &["units", "import", &file]);
    assert_eq!(taken.code, Some(0), "{}", taken.err);
    assert_eq!(stand.entries().len(), before + 1);
    assert_eq!(stand.verify().code, Some(0));
    stand.play("scan SPKB41042A\nscan Z-901\nexpect Z-901\nexpect Play and damage\n");
}

#[test]
fn nothing_is_taken_by_halves() {
    let stand = Stand::new();
    stand.play("scan SPKB41042A\n");
    let before = stand.entries().len();
    let file = stand.beside("people.csv").display().to_string();
    let rows = "badge;name;initials;trained;lead\n2001;Nora Vidal;NV;yes;no\n2002;;X;yes;no\n2003;Sam;S;perhaps;no\n";
    std::fs::write(&file, rows).expect("it can be written");
    let refused = list(&stand, &["operators", "import", &file]);
    assert_eq!(refused.code, Some(1), "{}{}", refused.out, refused.err);
    assert!(refused.err.contains("line 3: badge 2002: the name is missing"), "{}", refused.err);
    assert!(refused.err.contains("line 4: trained is \"perhaps\""), "{}", refused.err);
    assert_eq!(stand.entries().len(), before);
    let wrong = list(&stand, &["units", "import", &file]);
    assert_eq!(wrong.code, Some(2));
    assert!(wrong.err.contains("\"badge\" is not known") && wrong.err.trim_end().lines().count() == 1, "{}", wrong.err);
    let nowhere = stand.beside("absent").display().to_string();
    assert_eq!(sparkout(["mowers", "export", "--data", &nowhere]).code, Some(2));
    assert!(!stand.beside("absent").exists());
}
