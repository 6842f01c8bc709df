//! Command cards: five codes that drive every step but Clearance, lockout and the start of a grind.
//!
//! What a card may do is read off the screen that stands there, so that a card never does what no control offers.
//! "Next" does the first thing offered, "repeat" moves on to another, and "next" then does that; the screen says which
//! one is in hand. An answer, and one of several waiting visits, is never taken by a first "next": it is named first.

use super::bench::{Bench, View};
use super::cards_beside as beside;
use super::cards_round as round;
use sparkout_core::reading::Units;
use sparkout_core::scan::CommandCard;
use sparkout_core::visit::event::{Condition, Event, Part};
use sparkout_ui::action::{Control, Manner};
use sparkout_ui::screen::{
    BedknifeWork, Body, Front, Label, Language, Notice, Prove, ProveVerdict, Receive, Screen, Theme, TruePhase,
};
use sparkout_ui::words::{self, CardName, RoundName, Said};

/// One thing that a card may do, as the control that does it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Offer {
    act: Act,
    index: usize,
    name: CardName,
}

/// What is pressed: a control of the bench, one of the kiosk itself, or how the screen speaks and looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Act {
    Press(Control),
    Manner(Manner),
    Choice(ScreenChoice),
}

/// What is so whatever is on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Around {
    pub practised: bool,
    pub nothing_on_record: bool,
}

/// How the screen speaks and looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ScreenChoice {
    Language(Language),
    Units(Units),
    Theme(Theme),
}

/// What "repeat" has moved to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct InHand {
    offers: Vec<Offer>,
    at: usize,
}

/// The item of the look that the cards stand on, and the visit it belongs to.
pub(super) type LookedAt = (String, usize);

impl Bench {
    /// Does what a card means here.
    pub(super) fn command(&mut self, card: CommandCard) {
        if self.view != View::Bench {
            return match card {
                CommandCard::Back => self.pressed(Control::Back, 0),
                // The step that it would act on is not on the screen: first it is shown again.
                CommandCard::Next if matches!(self.view, View::Why(_)) => self.view = View::Bench,
                CommandCard::Next | CommandCard::Repeat => {
                    let screen = self.screen();
                    self.choose(card, &screen);
                }
                CommandCard::PassDone | CommandCard::PauseVisit => self.said = Some(Said::CommandNotHere),
            };
        }
        let screen = self.screen();
        let choosing = matches!(card, CommandCard::Next | CommandCard::Repeat);
        if screen.question.is_some() && !choosing {
            return self.said = Some(Said::CommandNotHere);
        }
        match (card, &screen.body) {
            _ if screen.question.is_some() => self.choose(card, &screen),
            (CommandCard::Next | CommandCard::PassDone, Body::Clearance(_) | Body::IsolationAsked(_)) => {
                self.said = Some(Said::CommandByHand);
            }
            (CommandCard::Next | CommandCard::Repeat, Body::Home(_)) => self.choose(card, &screen),
            (_, Body::Home(_)) => self.said = Some(Said::CommandNotHere),
            (CommandCard::PauseVisit, _) => self.pressed(Control::PauseVisit, 0),
            (CommandCard::PassDone, _) => self.pressed(Control::PassDone, 0),
            (CommandCard::Next, Body::Grind(_)) => self.said = Some(Said::CommandNotHere),
            (CommandCard::Repeat, Body::Grind(_)) => self.pressed(Control::PassRepeated, 0),
            (_, Body::Receive(receive)) => self.receive_by_card(card, receive, &screen),
            (CommandCard::Back, _) => self.pressed(Control::Back, 0),
            (CommandCard::Next | CommandCard::Repeat, _) => self.choose(card, &screen),
        }
    }

    /// Does what is in hand, or takes the next thing in hand.
    fn choose(&mut self, card: CommandCard, screen: &Screen) {
        let (offers, named_first) = offers_of(screen, self.around());
        let at = self.in_hand.take().filter(|hand| hand.offers == offers).map(|hand| hand.at);
        let count = offers.len();
        let does = match (card, at) {
            _ if count == 0 => return self.said = Some(Said::CommandNotHere),
            (CommandCard::Next, Some(at)) => at,
            (CommandCard::Next, None) if !named_first => 0,
            (_, None) if named_first => return self.in_hand = Some(InHand { offers, at: 0 }),
            _ if count == 1 => return self.said = Some(Said::CommandNotHere),
            (_, at) => return self.in_hand = Some(InHand { at: at.map_or(1, |at| (at + 1) % count), offers }),
        };
        match offers.into_iter().nth(does) {
            Some(Offer { act: Act::Press(control), index, .. }) => self.pressed(control, index),
            // The station round the bench does these.
            Some(Offer {
                act: Act::Manner(wish @ (Manner::Practice | Manner::EndPractice | Manner::Tour)), ..
            }) => {
                self.wish = Some(wish);
            }
            Some(Offer { act: Act::Manner(manner), index, .. }) => self.manner(manner, index),
            Some(Offer { act: Act::Choice(choice), .. }) => match choice {
                ScreenChoice::Language(language) => self.settings.language = language,
                ScreenChoice::Units(units) => self.settings.units = units,
                ScreenChoice::Theme(theme) => self.settings.theme = theme,
            },
            None => {}
        }
    }

    /// The look, item by item: "next" finds the item good if nothing was said of it and goes on, "repeat" says
    /// something else of it. After the last one the kind of visit may be changed.
    fn receive_by_card(&mut self, card: CommandCard, receive: &Receive, screen: &Screen) {
        let Some(visit) = self.on_rails().map(|open| open.visit.id().to_owned()) else { return };
        let at = self.look_in_hand(receive);
        let part = Part::ALL.get(at).copied();
        match (card, part) {
            (CommandCard::Back, _) if at > 0 => self.looked_at = Some((visit, at - 1)),
            (CommandCard::Back, _) => self.pressed(Control::Back, 0),
            (CommandCard::Next, Some(part)) => {
                let seen =
                    receive.conditions.get(at).is_some_and(|found| *found != sparkout_ui::screen::Condition::NotSeen);
                if seen || self.submit(&visit, Event::Looked { part, condition: Condition::Good }) {
                    self.looked_at = Some((visit, at + 1));
                }
            }
            (CommandCard::Repeat, Some(_)) => {
                self.pressed(Control::CycleCondition, at);
                self.looked_at = Some((visit, at));
            }
            (CommandCard::Next | CommandCard::Repeat, None) => self.choose(card, screen),
            (CommandCard::PassDone | CommandCard::PauseVisit, _) => {}
        }
    }

    /// The item of the look that the cards stand on: the first of which nothing was said, or the one they came to.
    fn look_in_hand(&self, receive: &Receive) -> usize {
        let unseen = sparkout_ui::screen::Condition::NotSeen;
        let first = || receive.conditions.iter().position(|found| *found == unseen).unwrap_or(receive.conditions.len());
        let visit = self.on_rails().map(|open| open.visit.id());
        self.looked_at.as_ref().filter(|(of, _)| Some(of.as_str()) == visit).map_or_else(first, |(_, at)| *at)
    }

    /// What a card asked of the station round the bench.
    pub(super) const fn take_wish(&mut self) -> Option<Manner> {
        self.wish.take()
    }

    fn around(&self) -> Around {
        Around { practised: self.practice, nothing_on_record: self.nothing_on_record() }
    }

    /// Says on the screen what the cards stand on.
    pub(super) fn show_in_hand(&self, screen: &mut Screen) {
        if let Body::Receive(receive) = &screen.body {
            screen.spark = Some(self.look_in_hand(receive)).filter(|at| *at < receive.conditions.len());
        }
        // What was in hand counts only while the screen still offers the same.
        let still = self.in_hand.as_ref().filter(|hand| hand.offers == offers_of(screen, self.around()).0);
        let named = still.and_then(|hand| hand.offers.get(hand.at));
        if let (None, Some(offer)) = (&screen.notice, named) {
            screen.notice = Some(Notice { text: words::card_in_hand(&offer.name, self.settings), refused: false });
        }
    }
}

pub(super) const fn offer(control: Control, index: usize, name: CardName) -> Offer {
    Offer { act: Act::Press(control), index, name }
}

pub(super) const fn manner(manner: Manner, index: usize, name: CardName) -> Offer {
    Offer { act: Act::Manner(manner), index, name }
}

pub(super) const fn choice(choice: ScreenChoice, name: CardName) -> Offer {
    Offer { act: Act::Choice(choice), index: 0, name }
}

pub(super) const fn on_screen(control: Control, name: RoundName) -> Offer {
    offer(control, 0, CardName::Round(name))
}

pub(super) const fn on() -> Offer {
    offer(Control::Next, 0, CardName::On)
}

/// What a screen offers, and whether nothing of it is done that was not named before.
fn offers_of(screen: &Screen, around: Around) -> (Vec<Offer>, bool) {
    if let Some(question) = &screen.question {
        let answers = question.answers.iter().enumerate();
        let answer = |(index, answer): (usize, &sparkout_ui::screen::Answer)| {
            offer(Control::Answer, index, CardName::Answer(answer.label.clone()))
        };
        return (answers.map(answer).collect(), true);
    }
    match &screen.body {
        Body::Home(home) => {
            let waiting = home.waiting.iter().enumerate();
            let waiting =
                waiting.map(|(index, visit)| offer(Control::TakeUp, index, CardName::TakeUp(visit.tag.clone())));
            // One visit that waits is what "next" means; of several, or of none, nothing is taken unnamed.
            (waiting.chain(round::home(home, around)).collect(), home.waiting.len() != 1)
        }
        body => offers(body),
    }
}

/// What the screen of a visit offers, its main action first; and whether that is named before it is done.
fn offers(body: &Body) -> (Vec<Offer>, bool) {
    match body {
        Body::Receive(receive) => (at_receive(receive), false),
        Body::Tape(tape) => (with_places(on(), tape.places.iter().map(|place| (&place.value, place.now))), false),
        Body::Front(front) => at_front(front),
        Body::Rear(rear) => {
            let main = if rear.phase == TruePhase::Adjust { beside::remedy(rear.remedy) } else { Some(on()) };
            let Some(main) = main else { return (Vec::new(), false) };
            let no = String::new();
            // Both ends are read before one is read again.
            let places =
                if rear.right.is_empty() || rear.left.is_empty() { [&no, &no] } else { [&rear.left, &rear.right] };
            (with_places(main, places.into_iter().map(|value| (value, false))), false)
        }
        Body::Prove(prove) => at_prove(prove),
        Body::Label(Label { printed, .. }) => {
            let print = offer(Control::Print, 0, CardName::Print);
            (if *printed { vec![on(), print] } else { vec![print] }, false)
        }
        Body::Relief(relief) => beside::relief(relief),
        Body::Knife(knife) => (beside::knife(knife), false),
        Body::BackLap(lap) => (beside::back_lap(lap), false),
        Body::Height(height) => beside::height(height),
        Body::Plate(plate) => beside::plate(plate),
        Body::Check(check) => (beside::check(check), false),
        Body::Return(_) => (vec![offer(Control::ConfirmPlace, 0, CardName::Back)], false),
        Body::Find(_)
        | Body::Enrol(_)
        | Body::NewType(_)
        | Body::Grinder(_)
        | Body::GrinderCheck(_)
        | Body::SpotCheck(_)
        | Body::CheckOverride(_)
        | Body::ShopSettings(_)
        | Body::Pages(_)
        | Body::FirstStart(_)
        | Body::Wheel(_)
        | Body::Lockout(_)
        | Body::Form(_)
        | Body::About(_) => (round::offers(body), true),
        Body::Starting
        | Body::Fault(_)
        | Body::Home(_)
        | Body::IsolationAsked(_)
        | Body::Clearance(_)
        | Body::Grind(_)
        | Body::Due(_)
        | Body::Why(_)
        | Body::Pin(_)
        | Body::UnitCard(_) => (Vec::new(), false),
    }
}

/// The main action, then each value that was taken, to take it again.
fn with_places<'a>(main: Offer, places: impl Iterator<Item = (&'a String, bool)>) -> Vec<Offer> {
    let again = places
        .enumerate()
        .filter(|(_, (value, now))| !value.is_empty() && !now)
        .map(|(index, (value, _))| offer(Control::PickPlace, index, CardName::Again(value.clone())));
    std::iter::once(main).chain(again).collect()
}

fn at_receive(receive: &Receive) -> Vec<Offer> {
    let mut offers = vec![on()];
    if receive.held {
        offers.push(offer(Control::EndVisit, 0, CardName::EndVisit));
        offers.push(on_screen(Control::LetGoOn, RoundName::LetGoOn));
    }
    let play = receive.play.iter().enumerate();
    offers.extend(play.map(|(index, row)| offer(Control::PickPlace, index, CardName::Named(row.label.clone()))));
    let kinds = receive.kinds.iter().enumerate().filter(|(_, choice)| choice.offered && !choice.chosen);
    offers.extend(kinds.map(|(index, choice)| offer(Control::PickKind, index, CardName::Kind(choice.kind))));
    offers
}

fn at_front(front: &Front) -> (Vec<Offer>, bool) {
    let turned = || offer(Control::Turned, 0, CardName::Turned);
    let again = || offer(Control::MeasureAgain, 0, CardName::MeasureAgain);
    let accept = || offer(Control::AcceptNotProven, 0, CardName::NotProven);
    match front.phase {
        TruePhase::First => (vec![offer(Control::ZeroSet, 0, CardName::ZeroSet)], false),
        TruePhase::Second => (vec![on()], false),
        TruePhase::Adjust => {
            let other = front.alternative.as_ref().map(|_| offer(Control::OtherAdjuster, 0, CardName::OtherAdjuster));
            (std::iter::once(turned()).chain(other).chain([again()]).collect(), false)
        }
        TruePhase::TouchAgain => (vec![offer(Control::TouchAgain, 0, CardName::TouchAgain)], false),
        TruePhase::NotProven if front.turn.is_some() => (vec![turned(), accept()], false),
        TruePhase::NotProven => (vec![accept()], true),
        TruePhase::Parallel | TruePhase::AcceptedNotProven => (vec![on(), again()], false),
    }
}

fn at_prove(prove: &Prove) -> (Vec<Offer>, bool) {
    let again = offer(Control::MeasureAgain, 0, CardName::MeasureAgain);
    let paper = offer(Control::PaperCuts, 0, if prove.paper_cuts { CardName::PaperNot } else { CardName::PaperCuts });
    let works = [BedknifeWork::Faced, BedknifeWork::Reground, BedknifeWork::New].into_iter().enumerate();
    let knife = works
        .filter(|(_, work)| *work != prove.bedknife)
        .map(|(index, work)| offer(Control::PickBedknife, index, CardName::Bedknife(work)));
    let mut offers = match prove.verdict {
        ProveVerdict::Regrind => vec![offer(Control::Regrind, 0, CardName::Regrind), again],
        ProveVerdict::Repeat => vec![again, offer(Control::AcceptNotProven, 0, CardName::NotProven)],
        ProveVerdict::Open => vec![on()],
        ProveVerdict::Pass
        | ProveVerdict::AcceptedNotProven
        | ProveVerdict::Done
        | ProveVerdict::Fit
        | ProveVerdict::Due => vec![on(), paper.clone(), again],
    };
    if !offers.contains(&paper) {
        offers.push(paper);
    }
    offers.extend(knife);
    (offers, false)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use sparkout_ui::screen::{Clearance, KindChoice, KindName, Turn};

    fn pressing(offer: Offer) -> (Control, usize) {
        let Act::Press(control) = offer.act else { panic!("{offer:?} presses no control") };
        (control, offer.index)
    }

    fn controls(body: &Body) -> Vec<(Control, usize)> {
        offers(body).0.into_iter().map(pressing).collect()
    }

    #[test]
    fn the_main_action_comes_first_and_every_other_way_after_it() {
        let choice = |kind, chosen, offered| KindChoice { kind, chosen, offered };
        let kinds = vec![
            choice(KindName::Spin, true, true),
            choice(KindName::ReliefAndSpin, false, true),
            choice(KindName::BackLap, false, false),
        ];
        let receive = Receive { kinds, ..Receive::default() };
        assert_eq!(controls(&Body::Receive(receive)), [(Control::Next, 0), (Control::PickKind, 1)]);
        let front = Front { phase: TruePhase::Adjust, alternative: Some(Turn::default()), ..Front::default() };
        assert_eq!(
            controls(&Body::Front(front)),
            [(Control::Turned, 0), (Control::OtherAdjuster, 0), (Control::MeasureAgain, 0)]
        );
        let prove = Prove { verdict: ProveVerdict::Repeat, bedknife: BedknifeWork::Faced, ..Prove::default() };
        assert_eq!(
            controls(&Body::Prove(prove)),
            [
                (Control::MeasureAgain, 0),
                (Control::AcceptNotProven, 0),
                (Control::PaperCuts, 0),
                (Control::PickBedknife, 1),
                (Control::PickBedknife, 2),
            ]
        );
    }

    #[test]
    fn nothing_is_offered_where_a_hand_is_held() {
        let gate = Body::Clearance(Clearance { complete: true, ..Clearance::default() });
        assert_eq!(controls(&gate), []);
        assert_eq!(controls(&Body::IsolationAsked(sparkout_ui::screen::StopName::Tape)), []);
    }

    #[test]
    fn to_leave_a_tolerance_unproven_is_named_before_it_is_done() {
        let front = Front { phase: TruePhase::NotProven, ..Front::default() };
        let (offers, named_first) = offers(&Body::Front(front));
        assert_eq!((offers.len(), named_first), (1, true));
        assert_eq!(pressing(offers[0].clone()).0, Control::AcceptNotProven);
    }
}
