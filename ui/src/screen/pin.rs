//! A PIN as it is asked. Nothing here holds one.

/// What is asked now.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PinAsks {
    /// The PIN that the badge has.
    #[default]
    Own,
    /// A new one.
    Choose,
    /// The new one once more.
    Again,
    /// A lead's badge: the PIN was forgotten, or the badge is locked.
    LeadBadge,
    /// The lead's own PIN.
    LeadPin,
    /// Nothing: the badge is locked for a while.
    Locked,
}

/// A PIN is asked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PinAsked {
    /// What.
    pub asks: PinAsks,
    /// Of whom.
    pub name: String,
    /// The lead, where the lead's is asked.
    pub lead: String,
    /// Digits of a new one.
    pub digits: u32,
    /// For how many minutes the badge is locked, rounded up.
    pub locked_minutes: u32,
    /// A lead may take it away from here.
    pub may_forget: bool,
    /// Wheel and reel may still turn.
    pub turning: bool,
}
