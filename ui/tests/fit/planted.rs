//! Faults that are planted, and found; and a sound screen in which none is found.

use super::{Rules, Sheet, faults};
use crate::bench::Bench;
use slint::{Color, ComponentHandle as _};

slint::slint! {
    // Two by two: a panel, a control, a fault in one of them.
    export component Planted inherits Window {
        in property <string> fault;
        width: 400px;
        height: 300px;
        default-font-size: 20px;
        Rectangle {
            x: 10px; y: 10px; width: 180px; height: 60px;
            background: #ffffff;
            Text {
                x: 10px; y: 10px;
                width: root.fault == "cut" || root.fault == "elided" ? 60px : 160px;
                height: root.fault == "low" ? 10px : 40px;
                overflow: root.fault == "elided" ? elide : clip;
                text: "Leading end";
            }
        }
        if root.fault == "texts": Text { x: 30px; y: 24px; text: "+0.8"; }
        if root.fault == "covered": Rectangle { x: 60px; y: 10px; width: 40px; height: 60px; background: #1d4f91; }
        if root.fault == "line": Rectangle { x: 10px; y: 30px; width: 100px; height: 3px; background: #1d4f91; }
        if root.fault == "edge": Text { x: 150px; y: 50px; text: "+0.8"; }
        if root.fault == "word": Text { x: 210px; y: 10px; width: 60px; wrap: word-wrap; text: "contracuchilla"; }
        if root.fault == "off": Text { x: 360px; y: 10px; text: "Trailing"; }
        if root.fault == "framed": Rectangle {
            x: 210px; y: 80px; width: 60px; height: 40px; clip: true;
            Text { x: 30px; y: 10px; text: "Trailing"; }
        }
        if root.fault == "disc": Rectangle {
            x: 210px; y: 80px; width: 110px; height: 110px; border-radius: 55px; background: #ffffff;
            Text { x: 5px; y: 0px; text: "Hold here"; }
        }
        Rectangle {
            accessible-role: button;
            accessible-id: "Turned";
            accessible-label: "Turned";
            x: 10px; y: 80px; height: 80px;
            width: root.fault == "action" ? 79px : 82px;
            background: #1d4f91;
            Text {
                x: root.fault == "over" ? 50px : 5px; y: 20px;
                text: "Turned";
            }
            TouchArea { }
        }
        Rectangle {
            accessible-role: button;
            accessible-id: "Bearings";
            accessible-label: "Bearings";
            x: 10px; width: 110px;
            y: root.fault == "low-control" ? 250px : root.fault == "controls" ? 150px : 200px;
            height: root.fault == "target" ? 40px : 60px;
            background: #ffffff;
            Text { x: 5px; y: 5px; text: "Bearings"; }
        }
        // Two columns whose least widths are more than the sheet has: the second runs into the margin, within the window.
        if root.fault == "overflow": HorizontalLayout {
            y: 220px; height: 70px;
            padding-left: 8px; padding-right: 8px; spacing: 8px;
            Rectangle { min-width: 210px; }
            Rectangle { width: 172px; background: #ffffff; }
        }
        if root.fault == "margin": Text { x: 2px; y: 262px; text: "wide"; }
        if root.fault == "veiled": Rectangle {
            background: #00000080;
            TouchArea { }
            Rectangle { x: 20px; y: 20px; width: 200px; height: 100px; background: #ffffff;
                Text { x: 10px; y: 10px; text: "Were the ends swapped?"; width: 180px; wrap: word-wrap; }
            }
        }
    }
}

/// 80 pixels an action, 60 a target; a sheet from 5 to 295 pixels down, with a margin of 8.
const RULES: Rules = Rules {
    action: 80.0,
    target: 60.0,
    action_fill: Color::from_rgb_u8(0x1d, 0x4f, 0x91),
    sheet: Sheet { top: 5.0, bottom: 295.0, margin: 8.0 },
};

fn found(fault: &str) -> Vec<String> {
    let _bench = Bench::new(400.0, 300.0);
    let planted = Planted::new().unwrap();
    planted.window().set_size(slint::LogicalSize::new(400.0, 300.0));
    planted.set_fault(fault.into());
    planted.show().unwrap();
    faults(planted.window(), &RULES)
}

#[test]
fn a_sound_screen_has_no_faults_and_what_lies_below_a_veil_is_not_compared() {
    assert_eq!(found(""), Vec::<String>::new());
    assert_eq!(found("veiled"), Vec::<String>::new());
}

#[test]
fn every_planted_fault_is_found_and_named() {
    for (fault, says) in [
        ("cut", "cut, 60 wide"),
        ("elided", "elided, 60 wide"),
        ("low", "cut, 160×10"),
        ("texts", "on each other: text \"Leading end\""),
        ("covered", "covered by a plate #1d4f91"),
        ("line", "covered by a plate #1d4f91"),
        ("edge", "over the edge of a plate #ffffff"),
        ("word", "a word is broken"),
        ("off", "off the window: text \"Trailing\""),
        ("framed", "cut by what holds it"),
        ("disc", "over the edge of a plate #ffffff"),
        ("action", "too small for an action, needs 80: control \"Turned\""),
        ("over", "over the edge of its own control \"Turned\""),
        ("target", "too small for a target, needs 60: control \"Bearings\""),
        ("controls", "on each other: control \"Turned\""),
        ("overflow", "in the margin, 8 of the window's sides: a plate #ffffff 172×70 at (226, 220)"),
        ("margin", "in the margin, 8 of the window's sides: text \"wide\""),
        ("low-control", "off the window: control \"Bearings\""),
    ] {
        let faults = found(fault);
        assert!(faults.iter().any(|found| found.contains(says)), "{fault}: {faults:?}");
    }
}

#[test]
fn a_panel_below_ten_inches_asks_less_of_an_action() {
    let fill = Color::default();
    let large = Rules::of_panel(1280.0, 800.0, 217.0, fill);
    assert!((large.action - 116.97).abs() < 0.1 && (large.target - 87.5).abs() < 0.1, "{large:?}");
    let small = Rules::of_panel(1024.0, 600.0, 154.0, fill);
    assert!((small.action - small.target).abs() < f32::EPSILON, "{small:?}");
}
