//! How the grinder is kept true, and what is due when.

use super::length::TextLength;
use super::{Config, within};
use anyhow::{Context, bail};
use serde::Deserialize;
use sparkout_core::calc::due::{MonthDay, Season};
use sparkout_core::facts::CheckRules;
use sparkout_core::outlook::due::DueRules;
use sparkout_core::quantity::Length;
use sparkout_core::reading::Reading;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct UpkeepTexts {
    stations: Vec<TextLength>,
    tolerance: TextLength,
    every_months: u32,
    override_days: u32,
    spot_limit: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DueTexts {
    interval_days: u32,
    season_from: String,
    season_to: String,
    match_tolerance: TextLength,
    limit_ahead_days: u32,
}

impl Config {
    pub(super) fn check_upkeep(&self) -> anyhow::Result<()> {
        let (upkeep, due) = (&self.upkeep, &self.due);
        within("upkeep.every_months", f64::from(upkeep.every_months), 1.0, 24.0)?;
        within("upkeep.override_days", f64::from(upkeep.override_days), 1.0, 90.0)?;
        within("due.interval_days", f64::from(due.interval_days), 0.0, 3660.0)?;
        within("due.limit_ahead_days", f64::from(due.limit_ahead_days), 0.0, 3660.0)?;
        for (key, length) in [
            ("upkeep.tolerance", upkeep.tolerance.0),
            ("upkeep.spot_limit", upkeep.spot_limit.0),
            ("due.match_tolerance", due.match_tolerance.0),
        ] {
            if length <= Reading::ZERO {
                bail!("{key} must be more than nothing");
            }
        }
        // Two stations make a slope; straightness begins with three. More than seven no screen shows beside each other.
        within("upkeep.stations (how many)", upkeep.stations.len() as f64, 3.0, 7.0)?;
        if upkeep.stations.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
            bail!("upkeep.stations must ascend");
        }
        self.season().map(drop)
    }

    /// How the grinder is checked.
    pub fn check_rules(&self) -> CheckRules {
        let upkeep = &self.upkeep;
        CheckRules {
            stations: upkeep.stations.iter().map(|station| station.0).collect(),
            tolerance: upkeep.tolerance.0.length(),
            every_months: upkeep.every_months,
            override_days: upkeep.override_days,
            spot_limit: upkeep.spot_limit.0.length(),
        }
    }

    /// The name of the diameter tape in use.
    pub fn tape(&self) -> &str {
        &self.instruments.tape
    }

    /// What is due when.
    ///
    /// # Errors
    /// When the season is no season.
    pub fn due_rules(&self) -> anyhow::Result<DueRules> {
        Ok(DueRules {
            interval_days: (self.due.interval_days > 0).then_some(self.due.interval_days),
            season: self.season()?,
            usual_removal: self.grinding().usual_removal,
            limit_ahead_days: self.due.limit_ahead_days,
        })
    }

    /// How far a reel may be from the median of its mower's.
    pub fn match_tolerance(&self) -> Length {
        self.due.match_tolerance.0.length()
    }

    fn season(&self) -> anyhow::Result<Option<Season>> {
        let (from, to) = (self.due.season_from.as_str(), self.due.season_to.as_str());
        if from.is_empty() && to.is_empty() {
            return Ok(None);
        }
        Ok(Some(Season { from: month_day("due.season_from", from)?, to: month_day("due.season_to", to)? }))
    }
}

fn month_day(key: &str, text: &str) -> anyhow::Result<MonthDay> {
    let parsed = text.split_once('-').and_then(|(month, day)| MonthDay::new(month.parse().ok()?, day.parse().ok()?));
    parsed.with_context(|| format!("{key} is {text:?}; a month and a day such as 04-01 is taken"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::own as load;
    use super::*;

    #[test]
    fn the_defaults_are_common_practice() {
        let config = Config::load(None).unwrap();
        let rules = config.check_rules();
        assert_eq!((rules.every_months, rules.stations.len()), (6, 5));
        assert!((rules.tolerance.inches() - 0.0005).abs() < 1e-12);
        assert_eq!(config.due_rules().unwrap().interval_days, Some(42));
    }

    #[test]
    fn an_open_year_has_no_season() {
        let config = load("[due]\nseason_from = \"\"\nseason_to = \"\"\ninterval_days = 0\n").unwrap();
        let rules = config.due_rules().unwrap();
        assert_eq!((rules.season, rules.interval_days), (None, None));
    }

    #[test]
    fn bad_values_are_named() {
        for (text, part) in [
            ("[due]\nseason_from = \"31-04\"\n", "due.season_from"),
            ("[due]\nseason_to = \"\"\n", "due.season_to"),
            ("[due]\nmatch_tolerance = \"0 in\"\n", "due.match_tolerance"),
            ("[upkeep]\nstations = [\"1 in\", \"2 in\"]\n", "upkeep.stations"),
            ("[upkeep]\nstations = [\"1 in\", \"3 in\", \"2 in\"]\n", "ascend"),
            ("[upkeep]\noverride_days = 0\n", "upkeep.override_days"),
        ] {
            let error = format!("{:#}", load(text).expect_err(text));
            assert!(error.contains(part), "{error}");
        }
    }
}
