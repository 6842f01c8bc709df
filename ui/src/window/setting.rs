//! What Relief, Knife, Back-lap, Height, Plate and Check show, as the screens take it.

use super::generated as g;
use super::views::{count, list, text, turn};
use crate::screen;
use slint::ModelRc;

pub(super) fn rows(rows: &[screen::SetRow]) -> ModelRc<g::SetRow> {
    list(rows, |row| g::SetRow {
        name: text(&row.name),
        label: text(&row.label),
        value: text(&row.value),
        now: row.now,
        off: row.off,
    })
}

pub(super) fn relief(relief: &screen::Relief) -> g::ReliefView {
    g::ReliefView {
        phase: relief.phase.into(),
        rows: rows(&relief.rows),
        finger: text(&relief.finger),
        finger_unit: text(&relief.finger_unit),
        blade_angle: text(&relief.blade_angle),
        relief_angle: text(&relief.relief_angle),
        finger_set: relief.finger_set,
        narrow: relief.narrow,
        wide: relief.wide,
        wanted: text(&relief.wanted),
        limit: text(&relief.limit),
        round: count(relief.round),
        rounds: count(relief.rounds),
        blades: text(&relief.blades),
        dial: text(&relief.dial),
        unit: text(&relief.unit),
        cleared_by: text(&relief.cleared_by),
        cleared_at: text(&relief.cleared_at),
        can_go: relief.can_go,
        drawn: g::ReliefDrawn {
            relief_degrees: relief.drawn.relief_degrees,
            blade_degrees: relief.drawn.blade_degrees,
            blades: count(relief.drawn.blades),
            land_lead: relief.drawn.lands[0],
            land_trail: relief.drawn.lands[1],
            wanted: relief.drawn.wanted,
            limit: relief.drawn.limit,
        },
    }
}

pub(super) fn knife(knife: &screen::Knife) -> g::KnifeView {
    g::KnifeView {
        rows: rows(&knife.rows),
        work: knife.work.into(),
        asked_for: text(&knife.asked_for),
        checks: list(&knife.checks, |check| *check),
        paper_cuts: knife.paper_cuts,
        can_go: knife.can_go,
        drawn: g::KnifeDrawn {
            top_degrees: knife.drawn.top_degrees,
            front_degrees: knife.drawn.front_degrees,
            thickness: knife.drawn.thickness,
            least: knife.drawn.least,
            least_text: text(&knife.drawn.least_text),
        },
    }
}

pub(super) fn back_lap(back_lap: &screen::BackLap) -> g::BackLapView {
    g::BackLapView {
        running: back_lap.running,
        elapsed: text(&back_lap.elapsed),
        rows: rows(&back_lap.rows),
        paper_cuts: back_lap.paper_cuts,
        cleared_by: text(&back_lap.cleared_by),
        cleared_at: text(&back_lap.cleared_at),
        can_go: back_lap.can_go,
    }
}

pub(super) fn height(height: &screen::Height) -> g::HeightView {
    g::HeightView {
        found: height.found.into(),
        sets: count(height.sets),
        round: count(height.round),
        rows: rows(&height.rows),
        left: text(&height.left),
        right: text(&height.right),
        u95: text(&height.u95),
        unit: text(&height.unit),
        limit: text(&height.limit),
        turn_left: turn(Some(&height.turn_left)),
        turn_right: turn(Some(&height.turn_right)),
        can_go: height.can_go,
        drawn: g::HeightDrawn {
            left: height.drawn.left,
            right: height.drawn.right,
            exaggeration: text(&height.drawn.exaggeration),
        },
    }
}

pub(super) fn plate(plate: &screen::Plate) -> g::PlateView {
    g::PlateView {
        found: plate.found.into(),
        sets: count(plate.sets),
        rows: rows(&plate.rows),
        edge: text(&plate.edge),
        gap: text(&plate.gap),
        unit: text(&plate.unit),
        limit: text(&plate.limit),
        can_go: plate.can_go,
        drawn: g::PlateDrawn {
            edge: plate.drawn.edge,
            gap: plate.drawn.gap,
            limit: plate.drawn.limit,
            edge_off: plate.drawn.edge_off,
            gap_off: plate.drawn.gap_off,
            exaggeration: text(&plate.drawn.exaggeration),
        },
    }
}

pub(super) fn check(check: &screen::Check) -> g::CheckView {
    let [profile_left, profile_middle, profile_right] = check.profile;
    g::CheckView {
        rows: rows(&check.rows),
        paper: check.paper.into(),
        judged: check.judged,
        due: list(&check.due, |reason| text(reason)),
        cone: text(&check.cone),
        can_go: check.can_go,
        profile_left,
        profile_middle,
        profile_right,
        exaggeration: text(&check.exaggeration),
    }
}
