//! The kiosk's thread: acts come in by a channel, screens go out by a call. The window's thread never waits for a disk.

use super::bench::Bench;
use super::station::Station;
use crate::intake::Heard;
use sparkout_core::inputs::Switches;
use sparkout_ui::action::Action;
use sparkout_ui::screen::Screen;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// What the thread is asked.
enum Asked {
    /// A person did something, and when.
    Act(Action, Instant),
    /// The guard's or the stop's switch says something else. In one channel with the acts: what was asked for during a
    /// fault comes to its turn during the fault.
    Heard(Switches),
    /// A scanner that is a device of its own came, went, or has something to tell; its scans come as acts.
    Scanner(Heard),
    /// Say when everything asked before is done.
    Settle(Sender<()>),
    /// End.
    Stop,
}

/// The clock on the strip, a lapse and the time left are looked at this often.
const TICK: Duration = Duration::from_millis(500);

/// A running kiosk. Dropping it ends the thread after what it is doing.
pub struct Kiosk {
    asked: Sender<Asked>,
    thread: Option<JoinHandle<()>>,
}

/// Sends acts to a kiosk from the window's closures.
#[derive(Clone)]
pub struct Acts(Sender<Asked>);

impl Acts {
    /// Hands an act over; a kiosk that has ended takes none.
    pub fn send(&self, action: Action) {
        if self.0.send(Asked::Act(action, Instant::now())).is_err() {
            tracing::error!("the kiosk's thread has ended");
        }
    }
}

/// Tells a kiosk what the guard's and the stop's switches say.
#[derive(Clone)]
pub struct Telling(Sender<Asked>);

impl Telling {
    /// Tells it; a kiosk that has ended hears nothing.
    pub fn say(&self, seen: Switches) {
        if self.0.send(Asked::Heard(seen)).is_err() {
            tracing::debug!("the kiosk's thread has ended");
        }
    }
}

impl Telling {
    /// Tells it of a scanner.
    pub fn scanner(&self, heard: Heard) {
        if self.0.send(Asked::Scanner(heard)).is_err() {
            tracing::debug!("the kiosk's thread has ended");
        }
    }
}

#[cfg(test)]
impl Acts {
    /// Acts without a kiosk, and what was sent to it since it was last asked.
    pub fn heard() -> (Self, impl Fn() -> Vec<Action>) {
        let (send, asks) = mpsc::channel();
        let act = |asked| match asked {
            Asked::Act(action, _) => Some(action),
            Asked::Heard(_) | Asked::Scanner(_) | Asked::Settle(_) | Asked::Stop => None,
        };
        (Self(send), move || asks.try_iter().filter_map(act).collect())
    }
}

impl Kiosk {
    /// Starts the thread. `open` runs on it: it may take long, and shows what it has by the screen it returns on failure.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn start(
        open: impl FnOnce() -> Result<Bench, Box<Screen>> + Send + 'static,
        mut show: impl FnMut(Screen) + Send + 'static,
    ) -> std::io::Result<Self> {
        let (asked, asks) = mpsc::channel();
        let thread = std::thread::Builder::new().name("kiosk".to_owned()).spawn(move || match open() {
            Ok(bench) => {
                let mut station = Station::over(bench);
                show(station.screen());
                station.begin();
                run(&mut station, &asks, &mut show);
            }
            Err(screen) => {
                show((*screen).clone());
                wait_for_end(&asks, *screen, &mut show);
            }
        })?;
        Ok(Self { asked, thread: Some(thread) })
    }

    /// Where acts are sent.
    pub fn acts(&self) -> Acts {
        Acts(self.asked.clone())
    }

    /// Where changes of the switches are told.
    pub fn telling(&self) -> Telling {
        Telling(self.asked.clone())
    }

    /// Waits until everything sent before is done and its screen was shown.
    pub fn settle(&self) {
        let (done, wait) = mpsc::channel();
        if self.asked.send(Asked::Settle(done)).is_ok() {
            // An error means that the thread ended, and there is nothing to wait for.
            let _ = wait.recv();
        }
    }
}

impl Drop for Kiosk {
    fn drop(&mut self) {
        // An error means that it has ended already.
        let _ = self.asked.send(Asked::Stop);
        if let Some(thread) = self.thread.take()
            && thread.join().is_err()
        {
            tracing::error!("the kiosk's thread ended badly");
        }
    }
}

fn run(station: &mut Station, asks: &Receiver<Asked>, show: &mut impl FnMut(Screen)) {
    let mut shown = station.screen();
    show(shown.clone());
    loop {
        let mut acted = false;
        let settled = match asks.recv_timeout(TICK) {
            Ok(Asked::Act(action, made)) => {
                station.act_after(action, made.elapsed());
                acted = true;
                None
            }
            Ok(Asked::Heard(seen)) => {
                station.heard(seen);
                None
            }
            Ok(Asked::Scanner(heard)) => {
                station.scanner(heard);
                None
            }
            Ok(Asked::Settle(done)) => {
                station.tick();
                Some(done)
            }
            Err(RecvTimeoutError::Timeout) => {
                station.tick();
                None
            }
            Ok(Asked::Stop) | Err(RecvTimeoutError::Disconnected) => return,
        };
        let screen = station.screen();
        // Every act is answered, so that the window knows that it is done.
        if acted || screen != shown {
            show(screen.clone());
            shown = screen;
        }
        if let Some(done) = settled {
            // An error means that nobody waits any more.
            let _ = done.send(());
        }
    }
}

/// The journal could not be opened. Somebody has to mend it, and no badge can be scanned: the window may be closed.
fn wait_for_end(asks: &Receiver<Asked>, mut screen: Screen, show: &mut impl FnMut(Screen)) {
    while let Ok(asked) = asks.recv() {
        match asked {
            Asked::Act(Action::CloseAsked, _) => {
                screen.manners.left = true;
                show(screen.clone());
            }
            Asked::Act(..) | Asked::Heard(_) | Asked::Scanner(_) => {}
            // An error means that nobody waits any more.
            Asked::Settle(done) => drop(done.send(())),
            Asked::Stop => return,
        }
    }
}
