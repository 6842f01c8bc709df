//! How the kiosk behaves whatever is on the rails: practice, the tour, the dimmed screen, a lead's settings, the pages
//! about the program, and a new bench's first start.

/// What stands over, beside or under every screen.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Manners {
    /// Practice is on: nothing that happens is recorded.
    pub practice: Option<Practice>,
    /// The tour's card, when it is open.
    pub coach: Option<Coach>,
    /// Nobody did anything for a while: the screen is dark but for this.
    pub veil: Option<Veil>,
    /// What the window itself is told; `None` leaves it as it is.
    pub look: Option<Look>,
    /// What Home offers besides.
    pub offers: Offers,
    /// A lead is at the bench, so that the kiosk may be left.
    pub may_leave: bool,
    /// A lead has left the kiosk: the window closes.
    pub left: bool,
}

impl Manners {
    /// Whether something stands over the screen that must be put away first: the practice sheet or the tour's card.
    pub fn stands_over(&self) -> bool {
        self.coach.is_some() || self.practice.as_ref().is_some_and(|practice| practice.sheet.is_some())
    }
}

/// Whether this kiosk hears the shop's hub.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LinkState {
    /// None was ever paired: it stands alone.
    #[default]
    NoHub,
    /// It hears it, and everything was sent.
    Online,
    /// It does not hear it.
    Offline {
        /// Entries that wait to be sent.
        unsent: u64,
    },
}

/// Practice as the screens show it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Practice {
    /// The sheet of things to scan, when it is open.
    pub sheet: Option<Vec<PracticeCode>>,
    /// A tour runs whose card was put away.
    pub tour_waits: bool,
}

/// A thing that practice has a code for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PracticeCode {
    /// Its name in English, by which scripts press it.
    pub name: String,
    /// What it is, in the person's language.
    pub label: String,
    /// What stands on it, may be empty.
    pub detail: String,
}

/// The tour's card for the step in hand, in the person's language.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Coach {
    /// Which step, counted from 1.
    pub number: u32,
    /// Of how many.
    pub count: u32,
    /// The step.
    pub title: String,
    /// What this screen is for.
    pub purpose: String,
    /// What to look at.
    pub look: String,
    /// What to do now.
    pub act: String,
    /// Whether it can be done for the person. What is held is never done for anybody.
    pub can_do: bool,
    /// The visit is over: nothing is left to show.
    pub last: bool,
}

/// What a dimmed screen shows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Veil {
    /// The time of day.
    pub clock: String,
    /// The bench's name.
    pub station: String,
}

/// What a window is told besides its picture.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Look {
    /// Width of the panel's picture, millimetres.
    pub panel_width_mm: f32,
    /// Nothing moves.
    pub reduced_motion: bool,
}

/// What Home offers besides scanning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Offers {
    /// To practise.
    pub practice: bool,
    /// To be shown round; on an empty record.
    pub tour: bool,
    /// To set up a bench with nothing on record.
    pub set_up: bool,
    /// To end practice.
    pub end_practice: bool,
}

/// The shop's settings.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ShopSettings {
    /// All of them.
    pub rows: Vec<SettingRow>,
    /// The one in hand.
    pub picked: PickedSetting,
    /// A lead is at the bench.
    pub may_change: bool,
}

/// A setting in the list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SettingRow {
    /// Its name in English, by which scripts press it.
    pub name: String,
    /// Its name.
    pub label: String,
    /// Its value in force, with unit.
    pub value: String,
    /// Whether it is the one in hand.
    pub now: bool,
}

/// The setting in hand.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PickedSetting {
    /// Its name.
    pub label: String,
    /// The value that would be kept, with unit.
    pub value: String,
    /// What it may be.
    pub range: String,
    /// What the configuration says.
    pub default: String,
    /// Whether the value differs from the one in force.
    pub changed: bool,
    /// Whether it can become less.
    pub less: bool,
    /// Whether it can become more.
    pub more: bool,
}

/// A long text, page by page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Pages {
    /// What this page is about.
    pub title: String,
    /// Its paragraphs.
    pub paragraphs: Vec<String>,
    /// Whether it is the aid-not-safety-device page, which looks like a caution.
    pub caution: bool,
    /// Which page, from 1.
    pub page: u32,
    /// Of how many.
    pub pages: u32,
}

/// A bench with nothing on record: what must be known before a visit can be opened.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FirstStart {
    /// The values, ready to show.
    pub rows: Vec<SettingRow>,
    /// What is asked now, in the person's language.
    pub asked: String,
    /// What it means, in one sentence.
    pub explained: String,
    /// What can be chosen, where one of a few is asked.
    pub choices: Vec<String>,
    /// Letters are asked: the text as it stands.
    pub letters: Option<String>,
    /// Everything is there.
    pub complete: bool,
}
