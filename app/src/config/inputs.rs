//! Where the guard's and the stop's switches are read, and how they are judged.

use super::{Config, within};
use crate::inputs::{Contact, Table, Wiring};
use anyhow::bail;
use serde::Deserialize;
use sparkout_core::inputs::{DEBOUNCE_LEAST, DEBOUNCE_MOST, InputRules, STALE_LEAST, STALE_MOST};
use std::time::Duration;

/// Polls that must fit into the staleness limit, so that one lost answer is no fault.
const POLLS_IN_STALE: u64 = 3;
/// Bits that are read with one request; modules have eight or sixteen.
const SPAN_MOST: u32 = 256;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct InputTexts {
    address: String,
    port: u16,
    unit: u8,
    table: String,
    guard_bit: i64,
    stop_bit: i64,
    guard_inverted: bool,
    stop_inverted: bool,
    period_ms: u64,
    debounce_ms: u64,
    stale_ms: u64,
}

impl Config {
    /// How the switches are read; nothing when no module is named.
    ///
    /// # Errors
    /// In words, naming the key, its value and what is allowed; also when no module is named.
    pub fn inputs(&self) -> anyhow::Result<Option<Wiring>> {
        let inputs = &self.inputs;
        let table = match inputs.table.as_str() {
            "discrete" => Table::Discrete,
            "coil" => Table::Coil,
            "register" => Table::Register,
            other => bail!("inputs.table: {other:?} is not known; discrete, coil or register"),
        };
        let most = table.bits() - 1;
        let guard = contact("inputs.guard_bit", inputs.guard_bit, inputs.guard_inverted, most)?;
        let stop = contact("inputs.stop_bit", inputs.stop_bit, inputs.stop_inverted, most)?;
        if let (Some(guard), Some(stop)) = (guard, stop) {
            let apart = guard.bit.abs_diff(stop.bit);
            if apart == 0 {
                bail!("inputs.guard_bit and inputs.stop_bit are both {}; each switch has a bit of its own", guard.bit);
            }
            // Both come with one answer, so that neither is older than the other.
            within(
                "inputs.stop_bit: bits away from inputs.guard_bit",
                f64::from(apart),
                1.0,
                f64::from(SPAN_MOST - 1),
            )?;
        }
        within("inputs.port", f64::from(inputs.port), 1.0, 65_535.0)?;
        within("inputs.period_ms", inputs.period_ms as f64, 50.0, 200.0)?;
        let milliseconds = |time: Duration| time.as_millis() as f64;
        within(
            "inputs.debounce_ms",
            inputs.debounce_ms as f64,
            milliseconds(DEBOUNCE_LEAST),
            milliseconds(DEBOUNCE_MOST),
        )?;
        let least = milliseconds(STALE_LEAST).max((inputs.period_ms * POLLS_IN_STALE) as f64);
        within("inputs.stale_ms", inputs.stale_ms as f64, least, milliseconds(STALE_MOST))?;
        if inputs.debounce_ms < inputs.period_ms {
            bail!("inputs.debounce_ms is {}; it is not shorter than inputs.period_ms", inputs.debounce_ms);
        }
        if inputs.address.is_empty() {
            return Ok(None);
        }
        let (debounce, stale) = (Duration::from_millis(inputs.debounce_ms), Duration::from_millis(inputs.stale_ms));
        let rules = match InputRules::new(guard.is_some(), stop.is_some(), debounce, stale) {
            Ok(rules) => rules,
            Err(error) => bail!("inputs: {error}"),
        };
        Ok(Some(Wiring {
            host: inputs.address.clone(),
            port: inputs.port,
            unit: inputs.unit,
            table,
            guard,
            stop,
            period: Duration::from_millis(inputs.period_ms),
            rules,
        }))
    }

    /// Where nothing is real, no switch is read.
    pub fn without_inputs(&mut self) {
        self.inputs.address.clear();
    }
}

fn contact(key: &str, bit: i64, inverted: bool, most: u32) -> anyhow::Result<Option<Contact>> {
    if bit == -1 {
        return Ok(None);
    }
    match u32::try_from(bit) {
        Ok(bit) if bit <= most => Ok(Some(Contact { bit, inverted })),
        _ => bail!("{key} is {bit}; between 0 and {most} is taken, or -1 for none"),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    fn load(lines: &str) -> anyhow::Result<Config> {
        super::super::own(&format!("[inputs]\n{lines}\n"))
    }

    #[test]
    fn no_module_reads_no_switch() {
        assert_eq!(Config::load(None).unwrap().inputs().unwrap(), None);
        let mut config = load("address = \"module.example\"").unwrap();
        assert_eq!(config.inputs().unwrap().map(|wiring| wiring.host), Some("module.example".to_owned()));
        config.without_inputs();
        assert_eq!(config.inputs().unwrap(), None);
    }

    /// Line | what the refusal names.
    #[test]
    fn bad_values_are_named_with_their_range() {
        let table = [
            ("table = \"holding\"", "discrete, coil or register"),
            ("guard_bit = -2", "inputs.guard_bit is -2; between 0 and 65535"),
            ("stop_bit = 65536", "inputs.stop_bit is 65536; between 0 and 65535"),
            ("stop_bit = 0", "inputs.guard_bit and inputs.stop_bit are both 0"),
            ("stop_bit = 256", "inputs.stop_bit"),
            ("port = 0", "inputs.port is 0; between 1 and 65535"),
            ("port = 70000", "port"),
            ("unit = 256", "unit"),
            ("period_ms = 20", "inputs.period_ms is 20; between 50 and 200"),
            ("debounce_ms = 0", "inputs.debounce_ms is 0; between 100 and 5000"),
            ("period_ms = 150\ndebounce_ms = 120", "inputs.debounce_ms is 120"),
            ("stale_ms = 299", "inputs.stale_ms is 299; between 300 and 2000"),
            ("period_ms = 200\nstale_ms = 500", "inputs.stale_ms is 500; between 600 and 2000"),
            ("address = \"m.example\"\nguard_bit = -1\nstop_bit = -1", "neither the guard nor the stop is read"),
            ("write = true", "write"),
        ];
        for (lines, part) in table {
            let error = format!("{:#}", load(lines).expect_err(lines));
            assert!(error.contains(part), "{lines}: {error}");
        }
    }

    #[test]
    fn registers_have_sixteen_bits_each() {
        let config =
            load("address = \"m.example\"\ntable = \"register\"\nguard_bit = 1048575\nstop_bit = 1048574").unwrap();
        let wiring = config.inputs().unwrap().unwrap();
        assert_eq!((wiring.first(), wiring.count()), (65_535, 1));
    }
}
