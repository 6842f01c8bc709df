//! What a label says and how its code is written.
//!
//! [`LabelContent`] is one grind's result; [`record`] writes it into the address that the QR code holds, and reads it back;
//! [`words`] and [`figures`] say it for people.

mod content;
pub mod figures;
mod hub;
mod record;
mod seal;
mod words;

pub use content::{ContentError, FieldName, LabelContent, LabelVerdict};
pub use hub::{HubAddress, HubAddressError};
pub use record::{
    LABEL_FORMAT, LabelEnvelope, LabelRefusal, Seal, decode_url, encode_signed_url, encode_url, is_label_url,
};
pub use seal::{LabelKeyId, LabelSignature};
pub use words::{LabelLanguage, LabelText};

#[cfg(test)]
pub(crate) use content::test_content;
