//! What is done when the command is told to end, by Ctrl-C or by the system, while it writes files.

/// While this lives, an end that is asked for waits; it comes when this goes.
#[derive(Debug)]
pub struct Waits(());

#[cfg(unix)]
mod system {
    use std::ffi::c_int;
    use std::sync::Once;
    use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::{flag, low_level};

    use super::Waits;

    static NOTHING_BEGUN: AtomicBool = AtomicBool::new(true);
    /// The signal that asked for the end; 0 for none.
    static ASKED: AtomicUsize = AtomicUsize::new(0);
    static LISTENING: Once = Once::new();

    impl Waits {
        pub fn begin() -> Self {
            LISTENING.call_once(|| {
                for signal in [SIGINT, SIGTERM] {
                    // A signal that can't be listened to ends the command as ever, and the next one clears up.
                    let _ = flag::register_conditional_default(signal, &NOTHING_BEGUN);
                    let _ = flag::register_usize(signal, &ASKED, usize::try_from(signal).unwrap_or_default());
                }
            });
            NOTHING_BEGUN.store(false, Ordering::SeqCst);
            Self(())
        }

        /// Whether the end was asked for since.
        pub fn is_asked(&self) -> bool {
            ASKED.load(Ordering::SeqCst) != 0
        }
    }

    impl Drop for Waits {
        fn drop(&mut self) {
            NOTHING_BEGUN.store(true, Ordering::SeqCst);
            if self.is_asked() {
                let _ = c_int::try_from(ASKED.load(Ordering::SeqCst)).map(low_level::emulate_default_handler);
            }
        }
    }
}

/// Elsewhere the end can't be put off.
#[cfg(not(unix))]
impl Waits {
    pub fn begin() -> Self {
        Self(())
    }

    pub fn is_asked(&self) -> bool {
        false
    }
}
