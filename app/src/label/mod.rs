//! Labels as pictures: drawn as one-bit rasters at the printer's own resolution, read back before they count as printed, and written.

pub mod bitmap;
mod code;
pub mod command;
pub mod error;
mod fit;
pub mod key_sheet;
pub mod layout;
pub mod print;
pub mod readback;
pub mod render;
pub mod template;
mod typeset;
pub mod vouched;

pub use layout::LabelLayout;
pub use print::{FolderPrinter, LabelJob, LabelPrinter, PrintError};
pub use render::{render, render_signed};
