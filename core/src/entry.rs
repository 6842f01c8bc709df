//! What one journal entry says. The journal keeps its exact bytes; everything else is derived from it.

use crate::facts::BenchFacts;
use crate::health::check::GrinderEvent;
use crate::inputs::Switches;
use crate::journal::witness::Alarm;
use crate::lockout::LockoutEvent;
use crate::moment::Moment;
use crate::pin::PinEvent;
use crate::record::{Grinder, Mower, Operator, Unit, UnitType, Wheel, Work};
use crate::setting::{Setting, SettingValue};
use crate::visit::event::Event;
use crate::visit::kind::Turning;
use crate::wheel::WheelEvent;
use serde::{Deserialize, Serialize};

/// One entry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// When, by the station's clocks. Order is the journal's own, never the clock's.
    pub at: Moment,
    /// What the bench knew, when that differs from what the last entry with facts says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facts: Option<Box<BenchFacts>>,
    /// What happened.
    pub body: EntryBody,
}

/// What happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum EntryBody {
    /// The kiosk's process started.
    Started {
        /// The program's version.
        version: String,
    },
    /// Something about a visit.
    Visit {
        /// Which visit.
        visit: String,
        /// What.
        event: Event,
    },
    /// Somebody signed on with a badge, or left.
    OperatorChanged {
        /// Who stands at the bench now.
        operator: Option<String>,
    },
    /// Something about the grinder's own health.
    Grinder {
        /// Which check, or which entry of its own for what belongs to none.
        check: String,
        /// What.
        event: GrinderEvent,
    },
    /// A record was made or changed.
    Record {
        /// What it says now.
        record: Box<Record>,
    },
    /// A lead changed a setting of the shop.
    Settings {
        /// The lead's badge.
        by: String,
        /// Which setting.
        setting: Setting,
        /// What it was in force.
        old: SettingValue,
        /// What it is from now on.
        new: SettingValue,
    },
    /// The guard's or the stop's switch changed while it mattered, or the way to the switches failed or came back.
    Inputs {
        /// What they say now.
        seen: Switches,
        /// The turning work that was under way.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        turning: Option<Turning>,
    },
    /// Something about the PIN of a badge; never anything of the PIN itself.
    Pin {
        /// Whose.
        badge: String,
        /// The lead who did it, where a lead did.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        by: Option<String>,
        /// What.
        what: PinEvent,
    },
    /// The clock on the wall was moved while the kiosk ran. Order is the journal's, so nothing else follows from it.
    ClockMoved {
        /// By how much against the clock that only counts, seconds; more is ahead.
        seconds: i64,
    },
    /// A backup was put back, or a card was cloned: from here on this is another log, which goes on from `parent`.
    /// The entries before this one are that log's, byte for byte.
    Continues {
        /// The signed head of the log that this one goes on from, whole.
        parent: String,
    },
    /// The head kept elsewhere does not go with this journal.
    Witness {
        /// In which way.
        alarm: Alarm,
    },
    /// Something about the wheel's record.
    Wheel {
        /// What.
        event: WheelEvent,
    },
    /// Something about a lockout.
    Lockout {
        /// What.
        event: LockoutEvent,
    },
}

/// A record of the shop, whole, as it stands after the change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "record", rename_all = "snake_case", deny_unknown_fields)]
#[allow(missing_docs, reason = "the names are those of the records")]
#[allow(clippy::large_enum_variant, reason = "an entry boxes the whole record")]
pub enum Record {
    Type {
        unit_type: UnitType,
    },
    Unit {
        unit: Unit,
    },
    Mower {
        mower: Mower,
    },
    Operator {
        operator: Operator,
    },
    Grinder {
        grinder: Grinder,
    },
    Wheel {
        wheel: Wheel,
    },
    /// Work done before this journal began, taken over from older records.
    OlderWork {
        tag: String,
        work: Work,
    },
}
