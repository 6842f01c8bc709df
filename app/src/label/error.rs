//! Why a label was not drawn, read or written.

use sparkout_core::label::ContentError;
use sparkout_core::quantity::Length;
use thiserror::Error;

/// A line of the label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Error)]
pub enum LineName {
    /// The unit's tag.
    #[error("unit tag")]
    Tag,
    /// What was found.
    #[error("verdict")]
    Verdict,
    /// Mower and position.
    #[error("line with mower and position")]
    Place,
    /// Leading and trailing diameter.
    #[error("line with the diameters")]
    Diameters,
    /// Cone and uncertainty.
    #[error("line with the cone")]
    Cone,
    /// Land and height of cut.
    #[error("line with land and height of cut")]
    LandAndCut,
    /// Date, operator, station.
    #[error("line with date, operator and station")]
    Done,
    /// The next date.
    #[error("line with the next date")]
    Due,
}

/// Why a label was not drawn, or not read.
#[derive(Debug, Error)]
pub enum LabelError {
    /// The content cannot stand on any label.
    #[error(transparent)]
    Content(#[from] ContentError),
    /// A size that no label has.
    #[error("a label of {} x {} mm is not drawn; {} to {} mm each way are", width.mm(), height.mm(), least.mm(), most.mm())]
    Size {
        /// Across.
        width: Length,
        /// Down.
        height: Length,
        /// The least either way.
        least: Length,
        /// The most either way.
        most: Length,
    },
    /// A resolution that no label printer has.
    #[error("{dots_per_inch} dpi is not drawn; {least} to {most} dpi are")]
    Resolution {
        /// What was asked for.
        dots_per_inch: u32,
        /// The least.
        least: u32,
        /// The most.
        most: u32,
    },
    /// The address has characters outside the alphanumeric set of QR.
    #[error("the label's address holds {character:?}, which the code cannot hold")]
    NotAlphanumeric {
        /// The first such.
        character: char,
    },
    /// Longer than any QR code holds.
    #[error("the label's address has {characters} characters, more than a code holds")]
    AddressTooLong {
        /// How many.
        characters: usize,
    },
    /// The label is too small for its code.
    #[error("the code needs {:.1} mm each way with its quiet zone, the label has {:.1} mm for it: shorten the texts or take a larger label", needed.mm(), available.mm())]
    NoRoomForCode {
        /// What it needs at the smallest modules that print.
        needed: Length,
        /// What there is.
        available: Length,
    },
    /// A text that does not fit even small and wrapped.
    #[error("the {line} has {characters} characters; at the smallest print this label takes {most}")]
    TextTooLong {
        /// Which.
        line: LineName,
        /// How many it has.
        characters: usize,
        /// How many of them fit.
        most: usize,
    },
    /// All lines together are too high.
    #[error("the text needs {:.1} mm of height at the smallest print, the label has {:.1} mm: shorten names or take a larger label", needed.mm(), available.mm())]
    NoRoomForText {
        /// What it needs.
        needed: Length,
        /// What there is.
        available: Length,
    },
    /// A line that would leave the label or touch its code.
    #[error("the {line} would be clipped on this label: shorten it or take a larger label")]
    Clipped {
        /// Which.
        line: LineName,
    },
    /// A character that the typeface does not have.
    #[error("the {line} holds {character:?}, which the label's typeface does not have")]
    NoGlyph {
        /// Which line.
        line: LineName,
        /// The first such character.
        character: char,
    },
    /// An embedded typeface could not be taken: a broken build.
    #[error("the built-in typeface is damaged: this build is broken")]
    Typeface,
    /// No code was found in the picture.
    #[error("no QR code can be read in the picture")]
    NoCode,
    /// The code reads, but as something else.
    #[error("the drawn code does not read as what was meant, and is not printed")]
    ReadsDifferently,
    /// A picture that cannot be taken apart.
    #[error("the picture cannot be read as PNG: {reason}")]
    Picture {
        /// What the decoder says.
        reason: String,
    },
    /// A picture that could not be put together.
    #[error("the picture cannot be written as PNG: {reason}")]
    Encoding {
        /// What the encoder says.
        reason: String,
    },
}
