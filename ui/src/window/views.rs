//! What a body shows, as the screens take it.

use super::generated as g;
use super::{card_views, plots};
use crate::screen;
use slint::{Image, ModelRc, Rgb8Pixel, SharedPixelBuffer, SharedString, VecModel};

/// Waiting visits that fit on Home with targets of their size.
const WAITING_MOST: usize = 4;

/// Rounds that fit beside each other with their figures.
const ROUNDS_MOST: usize = 2;

/// A list for the screens.
pub(super) fn list<T, U: Clone + 'static>(items: &[T], view: impl Fn(&T) -> U) -> ModelRc<U> {
    ModelRc::new(VecModel::from(items.iter().map(view).collect::<Vec<_>>()))
}

/// A count for the screens; none of ours comes near the limit.
pub(super) fn count(value: u32) -> i32 {
    i32::try_from(value).unwrap_or(i32::MAX)
}

pub(super) fn text(value: &str) -> SharedString {
    value.into()
}

pub(super) fn strip(strip: &screen::Strip) -> g::StripView {
    g::StripView {
        tag: text(&strip.tag),
        place: text(&strip.place),
        isolation: strip.isolation.into(),
        lock: text(&strip.lock),
        printer_ready: strip.printer_ready,
        operator: text(&strip.operator),
        clock: text(&strip.clock),
        journal_entries: text(&strip.journal_entries),
        switches: strip.switches.into(),
    }
}

pub(super) fn rail_stop(stop: &screen::RailStop) -> g::RailStop {
    g::RailStop { name: stop.name.into(), state: stop.state.into() }
}

pub(super) fn fault(fault: &screen::Fault) -> g::FaultView {
    g::FaultView { title: text(&fault.title), detail: text(&fault.detail), advice: text(&fault.advice) }
}

pub(super) fn home(home: &screen::Home) -> g::HomeView {
    g::HomeView {
        operator: text(&home.operator),
        more_waiting: i32::try_from(home.waiting.len().saturating_sub(WAITING_MOST)).unwrap_or(i32::MAX),
        waiting: list(home.waiting.get(..WAITING_MOST).unwrap_or(&home.waiting), |visit| g::Waiting {
            tag: text(&visit.tag),
            place: text(&visit.place),
            stage: visit.stage.into(),
            since: text(&visit.since),
        }),
        shop: text(&home.shop),
        grinder: text(&home.grinder),
        check_due: text(&home.check_due),
        units: text(&home.units),
        due: list(home.due_shown(), card_views::due_line),
        due_now: count(home.due_now),
        warning: text(&home.warning),
        noise: text(&home.noise),
    }
}

fn choices(choices: &[screen::Choice]) -> ModelRc<g::Choice> {
    list(choices, |choice| g::Choice { name: text(&choice.name), detail: text(&choice.detail), chosen: choice.chosen })
}

pub(super) fn mower(picture: Option<&screen::MowerPicture>) -> g::MowerPicture {
    picture.map_or_else(g::MowerPicture::default, |picture| g::MowerPicture {
        shown: true,
        name: text(&picture.name),
        slots: list(&picture.slots, |slot| g::Slot {
            number: text(&slot.number),
            tag: text(&slot.tag),
            x: slot.x,
            y: slot.y,
            now: slot.now,
        }),
    })
}

pub(super) fn find(find: &screen::Find) -> g::FindView {
    g::FindView { mowers: choices(&find.mowers), picture: mower(find.picture.as_ref()) }
}

pub(super) fn enrol(enrol: &screen::Enrol) -> g::EnrolView {
    g::EnrolView {
        tag: text(&enrol.tag),
        types: choices(&enrol.types),
        mowers: choices(&enrol.mowers),
        picture: mower(enrol.picture.as_ref()),
    }
}

pub(super) fn new_type(new_type: &screen::NewType) -> g::NewTypeView {
    g::NewTypeView {
        asks: text(&new_type.asks),
        choices: choices(&new_type.choices),
        assumed: text(&new_type.assumed),
        fields: list(&new_type.fields, |field| g::FieldRow {
            label: text(&field.label),
            value: text(&field.value),
            now: field.now,
        }),
        complete: new_type.complete,
    }
}

pub(super) fn receive(receive: &screen::Receive) -> g::ReceiveView {
    g::ReceiveView {
        tag: text(&receive.tag),
        type_name: text(&receive.type_name),
        blades: text(&receive.blades),
        frame: receive.frame.into(),
        last_date: text(&receive.last_date),
        last_operator: text(&receive.last_operator),
        last_land: text(&receive.last_land),
        grinds_left: text(&receive.grinds_left),
        used_percent: text(&receive.used_percent),
        plot: plots::wear(&receive.plot),
        mower: mower((!receive.mower.slots.is_empty()).then_some(&receive.mower)),
        weight: text(&receive.weight),
        play: super::setting::rows(&receive.play),
        lift_index: text(&receive.lift_index),
        needs_help: receive.needs_help,
        conditions: list(&receive.conditions, |condition| (*condition).into()),
        kinds: kinds(&receive.kinds),
        kind: receive.kinds.iter().find(|kind| kind.chosen).map_or_else(Default::default, |kind| kind.kind.into()),
        held: receive.held,
        can_go: receive.can_go,
    }
}

fn kinds(kinds: &[screen::KindChoice]) -> ModelRc<g::KindChoice> {
    let offered: Vec<_> = kinds.iter().enumerate().filter(|(_, kind)| kind.offered || kind.chosen).collect();
    list(&offered, |(index, kind)| g::KindChoice {
        kind: kind.kind.into(),
        chosen: kind.chosen,
        index: i32::try_from(*index).unwrap_or(i32::MAX),
    })
}

pub(super) fn tape(tape: &screen::Tape) -> g::TapeView {
    let [profile_left, profile_middle, profile_right] = tape.profile;
    g::TapeView {
        places: list(&tape.places, |place| g::Place {
            end: place.end.into(),
            side: place.side.into(),
            value: text(&place.value),
            now: place.now,
            optional: place.optional,
        }),
        profile_left,
        profile_middle,
        profile_right,
        computed: tape.computed,
        cone: text(&tape.cone),
        barrel: text(&tape.barrel),
        zero_end: tape.zero_end.into(),
        zero_side: tape.zero_side.into(),
        target: text(&tape.target),
        unit: text(&tape.unit),
        smallest: text(&tape.smallest),
        used_percent: text(&tape.used_percent),
        exaggeration: text(&tape.exaggeration),
        can_go: tape.can_go,
    }
}

pub(super) fn turn(turn: Option<&screen::Turn>) -> g::Turn {
    turn.map_or_else(g::Turn::default, |turn| g::Turn {
        shown: true,
        amount: text(&turn.amount),
        unit: turn.unit.into(),
        height_unit: text(&turn.height_unit),
        direction: turn.direction.into(),
        side: turn.side.into(),
        from_above: turn.from_above,
        height: text(&turn.height),
        flats: text(&turn.flats),
        rezero: text(&turn.rezero),
    })
}

fn rounds(rounds: &[screen::RoundLine]) -> ModelRc<g::RoundLine> {
    let last = rounds.get(rounds.len().saturating_sub(ROUNDS_MOST)..).unwrap_or(rounds);
    list(last, |round| g::RoundLine {
        number: count(round.number),
        reading: text(&round.reading),
        error: text(&round.error),
        high: round.high,
        turned: text(&round.turned),
        turn_unit: round.turn_unit.into(),
        now: round.now,
        tilt: round.tilt,
    })
}

pub(super) fn front(front: &screen::Front) -> g::FrontView {
    g::FrontView {
        fixed_head: front.fixed_head,
        phase: front.phase.into(),
        round: count(front.round),
        touches: count(front.touches),
        touches_needed: count(front.touches_needed),
        zero_end: front.zero_end.into(),
        zero_side: front.zero_side.into(),
        target: text(&front.target),
        unit: text(&front.unit),
        reading: text(&front.reading),
        tilt: text(&front.tilt),
        tilt_u95: text(&front.tilt_u95),
        limit: text(&front.limit),
        sits: front.sits,
        picture_tilt: front.picture_tilt,
        exaggeration: text(&front.exaggeration),
        dial_hand: front.dial_hand,
        dial_target: front.dial_target,
        turn: turn(front.turn.as_ref()),
        alternative: turn(front.alternative.as_ref()),
        expected_zero: text(&front.expected_zero),
        rounds: rounds(&front.rounds),
        can_go: front.can_go,
        predicted: front.predicted_lift.is_some(),
        predicted_lift: front.predicted_lift.unwrap_or(0.0),
        source: text(&front.source),
    }
}

pub(super) fn rear(rear: &screen::Rear) -> g::RearView {
    g::RearView {
        phase: rear.phase.into(),
        round: count(rear.round),
        unit: text(&rear.unit),
        left: text(&rear.left),
        right: text(&rear.right),
        side: rear.side.into(),
        error: text(&rear.error),
        error_u95: text(&rear.error_u95),
        limit: text(&rear.limit),
        sits: rear.sits,
        picture_tilt: rear.picture_tilt,
        exaggeration: text(&rear.exaggeration),
        turn: turn(rear.turn.as_ref()),
        remedy: rear.remedy.into(),
        shims_side: rear.shims_side.into(),
        front_roller: rear.front_roller,
        rounds: rounds(&rear.rounds),
        can_go: rear.can_go,
        left_hand: rear.left_hand,
        right_hand: rear.right_hand,
        stack: card_views::shim_stack(rear.stack.as_ref()),
    }
}

pub(super) fn clearance(clearance: &screen::Clearance) -> g::ClearanceView {
    g::ClearanceView {
        items: list(&clearance.items, |item| g::ItemLine { short: text(&item.short), state: item.state.into() }),
        current: clearance.current.as_ref().map_or_else(g::Item::default, |item| g::Item {
            shown: true,
            number: count(item.number),
            signal: item.signal.into(),
            title: text(&item.title),
            text: text(&item.text),
            reference: text(&item.reference),
        }),
        blocks: list(&clearance.blocks, |block| text(block)),
        work: clearance.work.into(),
        complete: clearance.complete,
        speed: text(&clearance.speed),
        speed_unit: text(&clearance.speed_unit),
        rpm: text(&clearance.rpm),
        margin_percent: text(&clearance.margin_percent),
        within_rating: clearance.within_rating,
        lapses_in: text(&clearance.lapses_in),
        passes_kept: count(clearance.passes_kept),
        noise: text(&clearance.noise),
        remedy: clearance.remedy.into(),
    }
}

pub(super) fn grind(grind: &screen::Grind) -> g::GrindView {
    g::GrindView {
        pass: count(grind.pass),
        passes: count(grind.passes),
        dial: text(&grind.dial),
        unit: text(&grind.unit),
        next_dial: text(&grind.next_dial),
        strip: list(&grind.strip, |cell| g::PassCell {
            dial: text(&cell.dial),
            state: cell.state.into(),
            spark_out: cell.spark_out,
        }),
        elapsed: text(&grind.elapsed),
        left: text(&grind.left),
        final_diameter: text(&grind.final_diameter),
        land_after: text(&grind.land_after),
        cleared_by: text(&grind.cleared_by),
        cleared_at: text(&grind.cleared_at),
        run_down: grind.run_down,
    }
}

pub(super) fn prove(prove: &screen::Prove) -> g::ProveView {
    let [before_left, before_middle, before_right] = prove.profile_before;
    let [after_left, after_middle, after_right] = prove.profile_after;
    g::ProveView {
        places: list(&prove.places, |place| g::ProvePlace {
            what: place.what.into(),
            side: place.side.into(),
            value: text(&place.value),
            now: place.now,
            optional: place.optional,
        }),
        verdict: prove.verdict.into(),
        cone_before: text(&prove.cone_before),
        cone: text(&prove.cone),
        cone_u95: text(&prove.cone_u95),
        unit: text(&prove.unit),
        limit: text(&prove.limit),
        removed: text(&prove.removed),
        misclosure: text(&prove.misclosure),
        before_left,
        before_middle,
        before_right,
        after_left,
        after_middle,
        after_right,
        bedknife: prove.bedknife.into(),
        paper_cuts: prove.paper_cuts,
        relief_due: prove.relief_due,
        exaggeration: text(&prove.exaggeration),
        can_go: prove.can_go,
    }
}

/// The label's dots as a picture; an empty one when the raster's size and its pixels disagree.
fn raster(raster: &screen::Raster) -> Image {
    let mut buffer = SharedPixelBuffer::<Rgb8Pixel>::new(raster.width, raster.height);
    let dots = buffer.make_mut_slice();
    if dots.is_empty() || dots.len() != raster.pixels.len() {
        return Image::default();
    }
    for (dot, value) in dots.iter_mut().zip(&raster.pixels) {
        *dot = Rgb8Pixel::new(*value, *value, *value);
    }
    Image::from_rgb8(buffer)
}

pub(super) fn label(label: &screen::Label) -> g::LabelView {
    g::LabelView {
        raster: raster(&label.raster),
        dots_across: count(label.raster.width),
        dots_down: count(label.raster.height),
        read_back: label.read_back,
        printed: label.printed,
        scanned: label.scanned,
        printed_to: text(&label.printed_to),
        verdict: label.verdict.into(),
        can_go: label.can_go,
    }
}

pub(super) fn returning(body: &screen::Return) -> g::ReturnView {
    g::ReturnView {
        tag: text(&body.tag),
        mower: mower(Some(&body.mower)),
        next_due: text(&body.next_due),
        position: text(&body.position),
    }
}

pub(super) fn about(about: &screen::About) -> g::AboutView {
    g::AboutView {
        version: text(&about.version),
        data_folder: text(&about.data_folder),
        short_root: text(&about.short_root),
        change_pin: about.change_pin,
    }
}

pub(super) fn entry(entry: Option<&screen::Entry>) -> g::EntryView {
    entry.map_or_else(g::EntryView::default, |entry| g::EntryView {
        shown: true,
        asked: entry.asked.into(),
        end: entry.end.into(),
        side: entry.side.into(),
        unit: text(&entry.unit),
        hint: text(&entry.hint),
        field: text(&entry.field),
        signed: entry.signed,
        secret: entry.secret,
    })
}

pub(super) fn notice(notice: Option<&screen::Notice>) -> g::NoticeView {
    notice.map_or_else(g::NoticeView::default, |notice| g::NoticeView {
        text: text(&notice.text),
        refused: notice.refused,
    })
}

pub(super) fn question(question: Option<&screen::Question>) -> g::QuestionView {
    question.map_or_else(g::QuestionView::default, |question| g::QuestionView {
        shown: true,
        text: text(&question.text),
        detail: text(&question.detail),
        answers: list(&question.answers, |answer| g::Answer { name: text(&answer.name), label: text(&answer.label) }),
    })
}

pub(super) fn why(why: &screen::Why) -> g::WhyView {
    let with_unit = |line: &screen::Formula| match (line.result.as_str(), line.unit.as_str()) {
        ("", _) | (_, "") => line.result.clone(),
        (result, "°") => format!("{result}°"),
        (result, unit) => format!("{result} {unit}"),
    };
    let longest = why.formulas.iter().map(|line| line.numbers.chars().count()).max().unwrap_or(0);
    g::WhyView {
        stop: why.stop.map_or_else(Default::default, Into::into),
        title: text(&why.title),
        result: text(&why.result),
        follows: text(&why.follows),
        formulas: list(&why.formulas, |line| g::FormulaLine {
            letters: text(&line.letters),
            numbers: text(&line.numbers),
            result: text(&with_unit(line)),
            up: line.rounded == screen::Rounded::Up,
        }),
        inputs: list(&why.inputs, |input| g::WhyInputLine {
            letter: text(&input.letter),
            value: text(&input.value),
            name: text(&input.name),
            origin: text(&input.origin),
        }),
        source: text(&why.source),
        estimate: why.estimate,
        longest: i32::try_from(longest).unwrap_or(i32::MAX),
    }
}
