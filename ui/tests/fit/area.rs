//! A rectangle of the window, pixels.

use std::fmt;

/// From the left upper to the right lower corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    pub left: f32,
    pub top: f32,
    pub right: f32,
    pub bottom: f32,
}

impl Area {
    pub fn new(x: f32, y: f32, width: f32, height: f32) -> Self {
        Self { left: x, top: y, right: x + width, bottom: y + height }
    }

    pub fn width(&self) -> f32 {
        self.right - self.left
    }

    pub fn height(&self) -> f32 {
        self.bottom - self.top
    }

    /// Whether the other lies within it, but for the slack.
    pub fn holds(&self, other: &Self, slack: f32) -> bool {
        other.left >= self.left - slack
            && other.top >= self.top - slack
            && other.right <= self.right + slack
            && other.bottom <= self.bottom + slack
    }

    /// Whether they share more than the slack in both directions.
    pub fn overlaps(&self, other: &Self, slack: f32) -> bool {
        self.right.min(other.right) - self.left.max(other.left) > slack
            && self.bottom.min(other.bottom) - self.top.max(other.top) > slack
    }

    /// What they share; empty areas where they share nothing.
    pub fn shared(&self, other: &Self) -> Self {
        let (left, top) = (self.left.max(other.left), self.top.max(other.top));
        Self { left, top, right: self.right.min(other.right).max(left), bottom: self.bottom.min(other.bottom).max(top) }
    }

    /// Whether they share anything although its corners are rounded off: the other comes nearer to what the corners turn
    /// about than their radius.
    pub fn meets_rounded(&self, other: &Self, radius: f32, slack: f32) -> bool {
        let radius = radius.min(self.width() / 2.0).min(self.height() / 2.0).max(0.0);
        let across = (self.left + radius - other.right).max(other.left - (self.right - radius)).max(0.0);
        let down = (self.top + radius - other.bottom).max(other.top - (self.bottom - radius)).max(0.0);
        self.overlaps(other, slack) && (across == 0.0 || down == 0.0 || across.hypot(down) < radius - slack)
    }

    /// Whether it holds the other although its corners are rounded off.
    pub fn holds_rounded(&self, other: &Self, radius: f32, slack: f32) -> bool {
        if !self.holds(other, slack) {
            return false;
        }
        let radius = radius.min(self.width() / 2.0).min(self.height() / 2.0);
        [(other.left, other.top), (other.right, other.top), (other.left, other.bottom), (other.right, other.bottom)]
            .into_iter()
            .all(|(x, y)| {
                let from_x = (self.left + radius - x).max(x - (self.right - radius)).max(0.0);
                let from_y = (self.top + radius - y).max(y - (self.bottom - radius)).max(0.0);
                from_x.hypot(from_y) <= radius.max(0.0) + slack
            })
    }
}

impl fmt::Display for Area {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.0}×{:.0} at ({:.0}, {:.0})", self.width(), self.height(), self.left, self.top)
    }
}
