//! The kiosk's thread: acts come in by a channel, screens go out by a call. The window's thread never waits for a disk.

use super::bench::Bench;
use sparkout_ui::action::Action;
use sparkout_ui::screen::Screen;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::thread::JoinHandle;
use std::time::Duration;

/// What the thread is asked.
enum Asked {
    /// A person did something.
    Act(Action),
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
        if self.0.send(Asked::Act(action)).is_err() {
            tracing::error!("the kiosk's thread has ended");
        }
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
            Ok(mut bench) => {
                show(bench.screen());
                bench.begin();
                run(&mut bench, &asks, &mut show);
            }
            Err(screen) => {
                show(*screen);
                wait_for_end(&asks);
            }
        })?;
        Ok(Self { asked, thread: Some(thread) })
    }

    /// Where acts are sent.
    pub fn acts(&self) -> Acts {
        Acts(self.asked.clone())
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

fn run(bench: &mut Bench, asks: &Receiver<Asked>, show: &mut impl FnMut(Screen)) {
    let mut shown = bench.screen();
    show(shown.clone());
    loop {
        let settled = match asks.recv_timeout(TICK) {
            Ok(Asked::Act(action)) => {
                bench.act(action);
                None
            }
            Ok(Asked::Settle(done)) => {
                bench.tick();
                Some(done)
            }
            Err(RecvTimeoutError::Timeout) => {
                bench.tick();
                None
            }
            Ok(Asked::Stop) | Err(RecvTimeoutError::Disconnected) => return,
        };
        let screen = bench.screen();
        if screen != shown {
            show(screen.clone());
            shown = screen;
        }
        if let Some(done) = settled {
            // An error means that nobody waits any more.
            let _ = done.send(());
        }
    }
}

fn wait_for_end(asks: &Receiver<Asked>) {
    while let Ok(asked) = asks.recv() {
        match asked {
            Asked::Act(_) => {}
            // An error means that nobody waits any more.
            Asked::Settle(done) => drop(done.send(())),
            Asked::Stop => return,
        }
    }
}
