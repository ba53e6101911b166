//! Owns the terminal's mode: taken for the full screen, given back on every way out, panics and signals included.

use crossterm::{
    cursor::Show,
    execute,
    terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode},
};
use signal_hook::{
    consts::{SIGHUP, SIGTERM},
    iterator::Signals,
    low_level::emulate_default_handler,
};
use std::{
    io::{self, stdout},
    sync::{
        Arc, Mutex, MutexGuard, Once, TryLockError,
        atomic::{AtomicBool, Ordering},
    },
    thread,
    time::Duration,
};

/// Whether the terminal is ours now.
static TAKEN: AtomicBool = AtomicBool::new(false);
/// Held while something is written to it, so that nothing is drawn after it was given back.
static WRITING: Mutex<()> = Mutex::new(());
/// The hooks are set once; they do nothing while the terminal is not taken.
static HOOKS: Once = Once::new();

/// Takes the terminal: another page, keys one by one.
///
/// # Errors
/// Where there is none.
pub(super) fn take() -> io::Result<()> {
    HOOKS.call_once(set_hooks);
    enable_raw_mode()?;
    if let Err(error) = execute!(stdout(), EnterAlternateScreen) {
        let _ = disable_raw_mode();
        return Err(error);
    }
    TAKEN.store(true, Ordering::SeqCst);
    Ok(())
}

/// Gives it back; does nothing where it is not taken. Waits a moment for a drawing that is under way, but not for ever: a
/// terminal that hangs must not hold the program.
pub(super) fn give_back() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut writing = None;
    for _ in 0..50 {
        match WRITING.try_lock() {
            Ok(guard) => writing = Some(guard),
            Err(TryLockError::Poisoned(guard)) => writing = Some(guard.into_inner()),
            Err(TryLockError::WouldBlock) => thread::sleep(Duration::from_millis(4)),
        }
        if writing.is_some() {
            break;
        }
    }
    // A terminal that is gone cannot be put right.
    let _ = execute!(stdout(), LeaveAlternateScreen, Show);
    let _ = disable_raw_mode();
}

/// The right to write to the terminal; none where it was given back.
pub(super) fn writing() -> Option<MutexGuard<'static, ()>> {
    let guard = WRITING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    TAKEN.load(Ordering::SeqCst).then_some(guard)
}

fn set_hooks() {
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |info| {
        give_back();
        before(info);
    }));
    // Ended from outside: the journal is whole at any moment, the terminal is not.
    if let Ok(mut signals) = Signals::new([SIGTERM]) {
        let watch = move || {
            for signal in signals.forever() {
                give_back();
                let _ = emulate_default_handler(signal);
            }
        };
        // Without the thread a signal ends the program as it would have done anyway.
        let _ = thread::Builder::new().name("signals".into()).spawn(watch);
    }
}

/// From here on a terminal that goes away does not end the program: a session goes on by voice, and what was taken in is
/// reported.
pub fn outlive_terminal() {
    // Where it cannot be set, the program ends with its terminal; the journal is whole then too.
    let _ = signal_hook::flag::register(SIGHUP, Arc::default());
}
