//! A window brought to rest on a sample, and its picture.

#![allow(dead_code, reason = "each binary uses its part")]
#![allow(clippy::expect_used, reason = "of tests and the gallery alone")]

use i_slint_backend_testing::{ElementHandle, mock_elapsed_time};
use image::RgbaImage;
use slint::platform::{PointerEventButton, WindowEvent};
use slint::{ComponentHandle as _, LogicalPosition};
use sparkout_ui::screen::Screen;
use sparkout_ui::window::{KioskWindow, Theme, ThemeName, WidgetGallery, widget_gallery};
use std::time::Duration;

/// Long enough for every motion of the theme to end.
const AT_REST: Duration = Duration::from_millis(600);

/// The size at which all widgets are seen, pixels.
pub const WIDGETS: (f32, f32) = (1900.0, 2000.0);

/// The sample that is drawn with a finger on its held control, and how far into the hold.
const HELD: (&str, Duration) = ("41-clearance-first", Duration::from_millis(350));

/// Shows a sample and waits until nothing moves any more.
pub fn show(window: &KioskWindow, name: &str, screen: &Screen) {
    // From the empty screen, so that no picture depends on the one before it.
    window.show_screen(&Screen { settings: screen.settings, ..Screen::default() });
    mock_elapsed_time(AT_REST);
    window.show_screen(screen);
    // Twice: what the first wait brings to its end may start something.
    mock_elapsed_time(AT_REST);
    mock_elapsed_time(AT_REST);
    if let Some(position) = held_at(window, name) {
        let button = PointerEventButton::Left;
        window.component().window().dispatch_event(WindowEvent::PointerPressed { position, button });
        mock_elapsed_time(HELD.1);
    }
}

/// Lifts the finger that [`show`] put down.
pub fn release(window: &KioskWindow, name: &str) {
    if let Some(position) = held_at(window, name) {
        let button = PointerEventButton::Left;
        window.component().window().dispatch_event(WindowEvent::PointerReleased { position, button });
    }
}

/// Opens the list of kinds of visit on the sample that has it.
pub fn open_kinds(window: &KioskWindow, name: &str) -> bool {
    if name != "10-receive" {
        return false;
    }
    let row = ElementHandle::find_by_element_type_name(window.component(), "Button")
        .find(|row| row.accessible_id().is_some_and(|id| id == "Kind of visit"));
    row.expect("the row of kinds").invoke_accessible_default_action();
    mock_elapsed_time(Duration::from_millis(10));
    true
}

/// Every widget in every state, in one theme.
pub fn widgets(theme: ThemeName) -> WidgetGallery {
    let gallery = widget_gallery().expect("a window without a display");
    gallery.global::<Theme>().set_name(theme);
    gallery.window().set_size(slint::LogicalSize::new(WIDGETS.0, WIDGETS.1));
    gallery.show().expect("shown");
    mock_elapsed_time(AT_REST);
    gallery
}

/// What the gallery of widgets shows.
pub fn widgets_picture(gallery: &WidgetGallery) -> RgbaImage {
    let picture = gallery.window().take_snapshot().expect("a picture");
    RgbaImage::from_raw(picture.width(), picture.height(), picture.as_bytes().to_vec()).expect("four bytes a pixel")
}

/// What the window shows.
pub fn picture(window: &KioskWindow) -> RgbaImage {
    let picture = window.component().window().take_snapshot().expect("a picture");
    RgbaImage::from_raw(picture.width(), picture.height(), picture.as_bytes().to_vec()).expect("four bytes a pixel")
}

fn held_at(window: &KioskWindow, name: &str) -> Option<LogicalPosition> {
    let control = (name == HELD.0)
        .then(|| ElementHandle::find_by_element_type_name(window.component(), "HoldButton").next())
        .flatten()?;
    let (at, size) = (control.absolute_position(), control.size());
    Some(LogicalPosition::new(at.x + size.width / 2.0, at.y + size.height / 2.0))
}
