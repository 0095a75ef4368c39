//! Whether standard output was open when the program began.
//!
//! Before `main` Rust opens what was closed, so that no file gets its number, and what is written there then is lost without a word. To
//! see that it was closed one has to look before; only the program's own list of beginnings runs so early, and to stand in it takes the
//! one attribute that this package is here for: all others forbid it.

use std::sync::atomic::{AtomicBool, Ordering};

static CLOSED: AtomicBool = AtomicBool::new(false);

/// Whether there was no standard output, as after `>&-` in a shell. Where nobody can look it is taken to be there.
pub fn output_was_closed() -> bool {
    CLOSED.load(Ordering::Relaxed)
}

#[cfg(target_os = "linux")]
mod beginning {
    use std::fs::symlink_metadata;
    use std::io::ErrorKind;
    use std::sync::atomic::Ordering;

    /// Opens nothing: what is opened now would become the standard output.
    #[expect(
        clippy::disallowed_methods,
        reason = "the package belongs to the command, and the library knows nothing of it"
    )]
    extern "C" fn look() {
        let listed = symlink_metadata("/proc/self/fd").is_ok();
        let missing = symlink_metadata("/proc/self/fd/1").is_err_and(|error| error.kind() == ErrorKind::NotFound);
        super::CLOSED.store(listed && missing, Ordering::Relaxed);
    }

    // SAFETY: the section is a list of functions of this very kind, which the system calls one after the other before `main`. This one
    // only asks after two names and needs nothing that `main` sets up.
    #[used]
    #[unsafe(link_section = ".init_array")]
    static LOOK: extern "C" fn() = look;
}
