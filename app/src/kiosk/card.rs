//! Unit cards.

use super::bench::{Bench, View};
use sparkout_core::record::Unit;
use sparkout_ui::present::{self, CardBeside};
use sparkout_ui::screen::{MowerPicture, UnitCard};
use sparkout_ui::words::Said;

impl Bench {
    /// The card of the unit that is meant here: the one on the rails, the one at a position on Find's mower, or a line
    /// of Home's list.
    pub(super) fn card_asked(&mut self, index: usize) {
        let tag = match &self.view {
            View::Find { mower: Some(mower) } => {
                let there = self.seated(*mower, index).map(|unit| unit.tag.clone());
                if there.is_none() {
                    self.said = Some(Said::NobodyThere);
                }
                there
            }
            View::Bench => match self.on_rails() {
                Some(open) => Some(open.visit.unit().tag.clone()),
                None => self.due_at_home().get(index).map(|unit| unit.tag.clone()),
            },
            View::Find { mower: None }
            | View::Enrol(_)
            | View::NewType(..)
            | View::About
            | View::UnitCard { .. }
            | View::Grinder(_)
            | View::Due
            | View::ShopSettings(_)
            | View::Pages(_)
            | View::FirstStart(_)
            | View::Pin(_)
            | View::Wheel
            | View::Lockout { .. }
            | View::Form(_)
            | View::Why(_) => None,
        };
        if let Some(tag) = tag {
            let from = Box::new(self.view.clone());
            self.view = View::UnitCard { tag, from };
        }
    }

    fn seated(&self, mower: usize, index: usize) -> Option<&Unit> {
        let mower = self.shop.mowers.values().nth(mower)?;
        let position = u32::try_from(index).ok()? + 1;
        self.shop.units.values().find(|unit| unit.mower == mower.name && unit.position == position)
    }

    /// A unit's card; an empty one for a unit that is no longer on record.
    pub(super) fn unit_card(&self, tag: &str) -> UnitCard {
        // The season was looked through when the configuration was read.
        let (Some(unit), Ok(rules)) = (self.shop.units.get(tag), self.config.due_rules()) else {
            return UnitCard::default();
        };
        let mower = self.shop.mowers.get(&unit.mower);
        present::unit_card(
            unit,
            CardBeside {
                settings: self.settings,
                unit_type: self.shop.types.get(&unit.type_name),
                mower: mower.map_or_else(MowerPicture::default, |mower| {
                    present::mower_picture(mower, self.shop.units.values(), Some(unit.position))
                }),
                rules,
                today: self.today(),
            },
        )
    }
}
