//! What is counted, in the open text format (OpenMetrics) that collectors read.

use prometheus_client::encoding::text::encode;
use prometheus_client::encoding::{EncodeLabelSet, LabelSetEncoder};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::registry::Registry;

/// The content type of the answer.
pub const CONTENT_TYPE: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";

/// Why a push was refused.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Why {
    /// Its short name.
    pub refused: &'static str,
}

impl EncodeLabelSet for Why {
    fn encode(&self, encoder: &mut LabelSetEncoder<'_>) -> std::fmt::Result {
        use prometheus_client::encoding::EncodeLabel;
        ("refused", self.refused).encode(encoder.encode_label())
    }
}

/// The counters.
pub struct Metrics {
    registry: Registry,
    /// Pushes that were taken.
    pub pushes: Counter,
    /// Entries that were new.
    pub entries: Counter,
    /// Pushes that were not taken.
    pub refusals: Family<Why, Counter>,
    /// Entries given to others.
    pub pulled: Counter,
    /// Pairing tries that failed.
    pub pairings_refused: Counter,
}

impl Metrics {
    /// All at nought.
    pub fn new() -> Self {
        let mut registry = Registry::with_prefix("sparkout_hub");
        let (pushes, entries, pulled) = (Counter::default(), Counter::default(), Counter::default());
        let (refusals, pairings_refused) = (Family::<Why, Counter>::default(), Counter::default());
        registry.register("pushes", "Pushes of journals that were taken", pushes.clone());
        registry.register("entries_stored", "Journal entries stored since the start", entries.clone());
        registry.register("push_refusals", "Pushes that were refused, by reason", refusals.clone());
        registry.register("entries_pulled", "Journal entries given to other stations", pulled.clone());
        registry.register("pairings_refused", "Tries to pair that were refused", pairings_refused.clone());
        Self { registry, pushes, entries, refusals, pulled, pairings_refused }
    }

    /// All of them as text.
    ///
    /// # Errors
    /// When the text cannot be written, which would be a fault of the library.
    pub fn text(&self) -> Result<String, std::fmt::Error> {
        let mut text = String::new();
        encode(&mut text, &self.registry)?;
        Ok(text)
    }
}

impl Default for Metrics {
    fn default() -> Self {
        Self::new()
    }
}
