//! What a command card may do at the stages beside the usual trip, and where the frame decides the remedy.

use super::cards::{Offer, offer, on};
use sparkout_ui::action::Control;
use sparkout_ui::screen::{
    BackLap, BedknifeWork, Check, Found, Height, Knife, Paper, Plate, Relief, ReliefPhase, Remedy,
};
use sparkout_ui::words::CardName;

/// What is done about the rear roller. An error that is recorded by name, and a frame that is to be replaced, are a
/// hand's to press.
pub(super) const fn remedy(remedy: Remedy) -> Option<Offer> {
    match remedy {
        Remedy::Turn => Some(offer(Control::Turned, 0, CardName::Turned)),
        Remedy::Square => Some(offer(Control::Squared, 0, CardName::Squared)),
        Remedy::Shim => Some(offer(Control::Shimmed, 0, CardName::Shimmed)),
        Remedy::Record | Remedy::Replace => None,
    }
}

pub(super) fn relief(relief: &Relief) -> (Vec<Offer>, bool) {
    let offers = match relief.phase {
        ReliefPhase::Finger if relief.finger_set => vec![on()],
        ReliefPhase::Finger => vec![offer(Control::FingerSet, 0, CardName::FingerSet)],
        ReliefPhase::Rounds => vec![offer(Control::PassRepeated, 0, CardName::PassRepeated)],
        ReliefPhase::RunDown => Vec::new(),
        ReliefPhase::Lands => vec![on(), offer(Control::Regrind, 0, CardName::Regrind)],
    };
    // A round that is made once more is named before it is done: the infeed stays where it is.
    (offers, relief.phase == ReliefPhase::Rounds)
}

pub(super) fn knife(knife: &Knife) -> Vec<Offer> {
    let works = [BedknifeWork::Faced, BedknifeWork::Reground, BedknifeWork::New].into_iter().enumerate();
    let works = works
        .filter(|(_, work)| *work != knife.work)
        .map(|(index, work)| offer(Control::PickBedknife, index, CardName::Bedknife(work)));
    let checks = knife.checks.iter().enumerate().filter(|(_, done)| !**done);
    let checks = checks.map(|(index, _)| offer(Control::KnifeCheck, index, CardName::KnifeCheck(index)));
    // What is missing is told by the refusal.
    std::iter::once(on()).chain(checks).chain([paper(knife.paper_cuts)]).chain(works).collect()
}

pub(super) fn back_lap(lap: &BackLap) -> Vec<Offer> {
    if lap.running { Vec::new() } else { vec![on(), paper(lap.paper_cuts)] }
}

pub(super) fn height(height: &Height) -> (Vec<Offer>, bool) {
    let again = offer(Control::MeasureAgain, 0, CardName::MeasureAgain);
    match height.found {
        Found::Open => (vec![on()], false),
        Found::Beyond => (vec![offer(Control::Turned, 0, CardName::Turned), again], false),
        Found::NotProven => (vec![again, offer(Control::AcceptNotProven, 0, CardName::NotProven)], true),
        Found::Within | Found::Accepted => (vec![on(), again], false),
    }
}

pub(super) fn plate(plate: &Plate) -> (Vec<Offer>, bool) {
    let again = offer(Control::MeasureAgain, 0, CardName::MeasureAgain);
    match plate.found {
        Found::Open => (vec![on()], false),
        Found::Beyond => (vec![again], false),
        Found::NotProven => (vec![again, offer(Control::AcceptNotProven, 0, CardName::NotProven)], true),
        Found::Within | Found::Accepted => (vec![on(), again], false),
    }
}

pub(super) fn check(check: &Check) -> Vec<Offer> {
    let cuts = offer(Control::PaperCuts, 0, CardName::PaperCuts);
    let not = offer(Control::PaperCuts, 1, CardName::PaperNot);
    let told = match check.paper {
        Paper::NotTried => vec![cuts, not],
        Paper::Cut => vec![not],
        Paper::NotCut => vec![cuts],
    };
    std::iter::once(on()).chain(told).collect()
}

const fn paper(cuts: bool) -> Offer {
    offer(Control::PaperCuts, 0, if cuts { CardName::PaperNot } else { CardName::PaperCuts })
}
