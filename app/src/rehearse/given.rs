//! What stands on record when a rehearsal begins, other than in the invented shop: the gate is met with a record that
//! lacks something.

use anyhow::{Context, bail};
use jiff::ToSpan;
use jiff::civil::Date;
use sparkout_core::entry::Record;
use sparkout_core::quantity::SpindleSpeed;
use sparkout_core::record::{Grinder, Operator, RingTest, Wheel};

/// One such thing.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// No wheel is on record.
    NoWheel,
    /// The wheel's record lacks its inspection.
    NotInspected,
    /// It lacks the ring test.
    NoRingTest,
    /// It lacks the speed marked on the wheel.
    NoRatedSpeed,
    /// The wheel is rated for so many revolutions a minute.
    Rated(f64),
    /// The grinder's check counts to so many days from the first day on.
    CheckDueIn(i64),
    /// The operator with this badge is not trained.
    NotTrained(String),
}

impl Given {
    /// Reads one.
    ///
    /// # Errors
    /// In words, when it is none.
    pub fn parse(text: &str) -> anyhow::Result<Self> {
        let words: Vec<&str> = text.split(' ').collect();
        Ok(match words[..] {
            ["no", "wheel"] => Self::NoWheel,
            ["wheel", "not", "inspected"] => Self::NotInspected,
            ["wheel", "without", "ring", "test"] => Self::NoRingTest,
            ["wheel", "without", "rated", "speed"] => Self::NoRatedSpeed,
            ["wheel", "rated", rpm] => Self::Rated(rpm.parse().with_context(|| format!("{rpm:?} is no speed"))?),
            ["check", "due", "in", days, "days"] => {
                Self::CheckDueIn(days.parse().with_context(|| format!("{days:?} is no number of days"))?)
            }
            ["badge", badge, "not", "trained"] => Self::NotTrained(badge.to_owned()),
            _ => bail!(
                "given {text:?}: no wheel, wheel not inspected, wheel without ring test, wheel without rated speed, \
                 wheel rated RPM, check due in N days, or badge ID not trained"
            ),
        })
    }

    /// Puts it into the invented shop's records.
    ///
    /// # Errors
    /// When the shop has nothing of the kind.
    pub fn put_into(&self, records: &mut Vec<Record>, today: Date) -> anyhow::Result<()> {
        match self {
            Self::NoWheel => records.retain(|record| !matches!(record, Record::Wheel { .. })),
            Self::NotInspected => wheel(records)?.inspected = false,
            Self::NoRingTest => wheel(records)?.ring_test = RingTest::Missing,
            Self::NoRatedSpeed => wheel(records)?.rated_speed = None,
            Self::Rated(rpm) => wheel(records)?.rated_speed = Some(SpindleSpeed::from_rpm(*rpm)),
            Self::CheckDueIn(days) => grinder(records)?.check_due = today.checked_add(days.days())?,
            Self::NotTrained(badge) => operator(records, badge)?.trained = false,
        }
        Ok(())
    }
}

fn wheel(records: &mut [Record]) -> anyhow::Result<&mut Wheel> {
    let mut found = None;
    for record in records {
        if let Record::Wheel { wheel } = record {
            found = Some(wheel);
        }
    }
    found.context("the invented shop has no wheel")
}

fn grinder(records: &mut [Record]) -> anyhow::Result<&mut Grinder> {
    let mut found = None;
    for record in records {
        if let Record::Grinder { grinder } = record {
            found = Some(grinder);
        }
    }
    found.context("the invented shop has no grinder")
}

fn operator<'a>(records: &'a mut [Record], badge: &str) -> anyhow::Result<&'a mut Operator> {
    let mut found = None;
    for record in records {
        if let Record::Operator { operator } = record
            && operator.id == badge
        {
            found = Some(operator);
        }
    }
    found.with_context(|| format!("the invented shop has no badge {badge}"))
}
