//! What a command card may do on the screens round a visit: home, find, enrol, the grinder, settings.
//!
//! Nothing here is done by a first "next": it is named first. Leaving the kiosk is not among it, and nothing that is
//! held is. Numbers, letters, why a figure is so and the tour are the key cards' (`app/src/desk/keys.rs`).

use super::cards::{Around, Offer, ScreenChoice, choice, manner, offer, on_screen};
use sparkout_core::reading::Units;
use sparkout_ui::action::{Control, Manner};
use sparkout_ui::screen::{
    BarPhase, Body, CheckOverride, Choice, Enrol, FieldRow, Find, FirstStart, Form, FormKind, Grinder, GrinderCheck,
    Home, Language, MowerPicture, Pages, SettingRow, ShopSettings, Theme,
};
use sparkout_ui::words::{CardName, RoundName};

/// What home offers besides the visits that wait.
pub(super) fn home(home: &Home, around: Around) -> Vec<Offer> {
    let due = home.due_shown().iter().enumerate();
    let cards = due.map(|(index, line)| offer(Control::UnitCard, index, CardName::UnitCard(line.tag.clone())));
    let pages = [
        (Control::FindByMower, RoundName::FindByMower),
        (Control::Due, RoundName::Due),
        (Control::GrinderHealth, RoundName::Grinder),
        (Control::About, RoundName::Settings),
    ];
    let mut offers: Vec<Offer> = cards.chain(pages.map(|(control, name)| on_screen(control, name))).collect();
    if !home.operator.is_empty() {
        offers.push(on_screen(Control::SignOut, RoundName::SignOut));
    }
    let besides = [
        (around.nothing_on_record && !around.practised, Manner::SetUp, RoundName::SetUp),
        (!around.practised, Manner::Practice, RoundName::Practice),
        (!around.practised && around.nothing_on_record, Manner::Tour, RoundName::Tour),
        (around.practised, Manner::EndPractice, RoundName::EndPractice),
    ];
    let besides = besides.into_iter().filter(|(offered, ..)| *offered);
    offers.extend(besides.map(|(_, act, name)| manner(act, 0, CardName::Round(name))));
    offers
}

/// What the other screens offer.
pub(super) fn offers(body: &Body) -> Vec<Offer> {
    match body {
        Body::Find(find) => at_find(find),
        Body::Enrol(enrol) => at_enrol(enrol),
        Body::NewType(draft) if !draft.choices.is_empty() => {
            picks(Control::PickField, draft.choices.iter().map(|choice| choice.name.as_str()))
        }
        Body::NewType(draft) => at_new_type(&draft.fields, draft.complete),
        Body::Grinder(grinder) => at_grinder(grinder),
        Body::GrinderCheck(check) => at_check(check),
        Body::CheckOverride(asked) => at_override(asked),
        Body::ShopSettings(settings) => at_settings(settings),
        Body::Pages(pages) => at_pages(pages),
        Body::FirstStart(first) => at_first_start(first),
        Body::About(_) => at_about(),
        Body::Wheel(_) => vec![on_screen(Control::Lockout, RoundName::Lockout)],
        Body::Form(form) => at_form(form),
        Body::Starting
        | Body::Fault(_)
        | Body::Home(_)
        | Body::Pin(_)
        | Body::IsolationAsked(_)
        | Body::Receive(_)
        | Body::Tape(_)
        | Body::Front(_)
        | Body::Rear(_)
        | Body::Clearance(_)
        | Body::Grind(_)
        | Body::Prove(_)
        | Body::Label(_)
        | Body::Relief(_)
        | Body::Knife(_)
        | Body::BackLap(_)
        | Body::Height(_)
        | Body::Plate(_)
        | Body::Check(_)
        | Body::Return(_)
        // Every step of a lockout is a hand's.
        | Body::Lockout(_)
        | Body::SpotCheck(_)
        | Body::Due(_)
        | Body::Why(_)
        | Body::UnitCard(_) => Vec::new(),
    }
}

fn named(text: &str) -> CardName {
    CardName::Named(text.to_owned())
}

fn picks<'a>(control: Control, names: impl Iterator<Item = &'a str>) -> Vec<Offer> {
    names.enumerate().map(|(index, name)| offer(control, index, named(name))).collect()
}

fn mowers(mowers: &[Choice], picture: Option<&MowerPicture>) -> Vec<Offer> {
    let slots = picture.into_iter().flat_map(|picture| &picture.slots).enumerate();
    let slots = slots.map(|(index, slot)| {
        offer(Control::PickPosition, index, CardName::Position(slot.number.clone(), slot.tag.clone()))
    });
    let others = mowers.iter().enumerate().filter(|(_, mower)| !mower.chosen);
    // A position is meant once the mower is known.
    slots.chain(others.map(|(index, mower)| offer(Control::PickMower, index, named(&mower.name)))).collect()
}

fn at_find(find: &Find) -> Vec<Offer> {
    let mut offers = mowers(&find.mowers, find.picture.as_ref());
    let slots =
        find.picture.iter().flat_map(|picture| &picture.slots).enumerate().filter(|(_, slot)| !slot.tag.is_empty());
    offers.extend(slots.map(|(index, slot)| offer(Control::UnitCard, index, CardName::UnitCard(slot.tag.clone()))));
    offers
}

fn at_enrol(enrol: &Enrol) -> Vec<Offer> {
    let types = enrol.types.iter().enumerate().filter(|(_, kind)| !kind.chosen);
    let types = types.map(|(index, kind)| offer(Control::PickType, index, named(&kind.name)));
    let mut offers = mowers(&enrol.mowers, enrol.picture.as_ref());
    offers.extend(types);
    offers.push(on_screen(Control::NewType, RoundName::NewType));
    offers
}

fn at_new_type(fields: &[FieldRow], complete: bool) -> Vec<Offer> {
    let keep = complete.then(|| on_screen(Control::SaveType, RoundName::Keep));
    let fields = picks(Control::PickField, fields.iter().map(|field| field.label.as_str()));
    keep.into_iter().chain(fields).collect()
}

fn at_grinder(grinder: &Grinder) -> Vec<Offer> {
    let mut offers = vec![
        on_screen(Control::StartCheck, RoundName::StartCheck),
        on_screen(Control::SpotCheck, RoundName::SpotCheck),
        on_screen(Control::ClosureBy, RoundName::OtherClosures),
        on_screen(Control::Wheel, RoundName::Wheel),
        on_screen(Control::Lockout, RoundName::Lockout),
    ];
    if grinder.can_override {
        offers.push(on_screen(Control::OverrideCheck, RoundName::Override));
    }
    offers
}

fn at_check(check: &GrinderCheck) -> Vec<Offer> {
    let main = match check.phase {
        BarPhase::Isolation => return Vec::new(),
        BarPhase::Reading => None,
        BarPhase::TurnBar => Some(on_screen(Control::BarTurned, RoundName::BarTurned)),
        BarPhase::Complete => Some(on_screen(Control::FinishCheck, RoundName::KeepVerdict)),
    };
    let taken = check.stations.iter().enumerate().filter(|(_, station)| !station.first.is_empty() && !station.now);
    let again =
        taken.map(|(index, station)| offer(Control::PickStation, index, CardName::Again(station.place.clone())));
    let end = on_screen(Control::AbandonCheck, RoundName::EndWithout);
    main.into_iter().chain(again).chain([end]).collect()
}

fn at_override(asked: &CheckOverride) -> Vec<Offer> {
    if asked.lead { picks(Control::PickReason, asked.reasons.iter().map(String::as_str)) } else { Vec::new() }
}

fn rows(act: Manner, rows: &[SettingRow]) -> impl Iterator<Item = Offer> {
    let others = rows.iter().enumerate().filter(|(_, row)| !row.now);
    others.map(move |(index, row)| manner(act, index, named(&row.label)))
}

fn at_settings(settings: &ShopSettings) -> Vec<Offer> {
    let picked = &settings.picked;
    let acts = [
        (picked.changed, Manner::KeepSetting, RoundName::Keep),
        (picked.less, Manner::Less, RoundName::Less),
        (picked.more, Manner::More, RoundName::More),
        (true, Manner::Default, RoundName::Default),
    ];
    let acts = acts.into_iter().filter(|(offered, ..)| settings.may_change && *offered);
    let acts = acts.map(|(_, act, name)| manner(act, 0, CardName::Round(name)));
    acts.chain(rows(Manner::PickSetting, &settings.rows)).collect()
}

fn at_pages(pages: &Pages) -> Vec<Offer> {
    let down = (pages.page < pages.pages).then(|| manner(Manner::PageDown, 0, CardName::Round(RoundName::PageDown)));
    let up = (pages.page > 1).then(|| manner(Manner::PageUp, 0, CardName::Round(RoundName::PageUp)));
    down.into_iter().chain(up).collect()
}

fn at_first_start(first: &FirstStart) -> Vec<Offer> {
    let keep = first.complete.then(|| manner(Manner::KeepBench, 0, CardName::Round(RoundName::Keep)));
    let choices = first.choices.iter().enumerate();
    let choices = choices.map(|(index, choice)| manner(Manner::PickChoice, index, named(choice)));
    keep.into_iter().chain(choices).chain(rows(Manner::PickValue, &first.rows)).collect()
}

/// What a form says is kept by a hold, and so is what a lock's forms say.
fn at_form(form: &Form) -> Vec<Offer> {
    if !matches!(form.kind, FormKind::Mount) {
        return Vec::new();
    }
    let choices = form.choices.iter().enumerate();
    let choices = choices.map(|(index, choice)| manner(Manner::PickChoice, index, named(choice)));
    choices.chain(rows(Manner::PickValue, &form.rows)).collect()
}

fn at_about() -> Vec<Offer> {
    let mut offers = vec![
        manner(Manner::Cautions, 0, CardName::Round(RoundName::Cautions)),
        manner(Manner::ShopSettings, 0, CardName::Round(RoundName::ShopSettings)),
    ];
    let languages = [(Language::English, "English"), (Language::Spanish, "Español")];
    offers.extend(languages.map(|(language, name)| choice(ScreenChoice::Language(language), named(name))));
    let units = [(Units::Inch, RoundName::Inch), (Units::Thou, RoundName::Thou), (Units::Metric, RoundName::Metric)];
    offers.extend(units.map(|(units, name)| choice(ScreenChoice::Units(units), CardName::Round(name))));
    let themes =
        [(Theme::Light, RoundName::Light), (Theme::Dark, RoundName::Dark), (Theme::Contrast, RoundName::Contrast)];
    offers.extend(themes.map(|(theme, name)| choice(ScreenChoice::Theme(theme), CardName::Round(name))));
    offers
}
