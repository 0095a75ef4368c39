//! Ringtrue's library for a browser: a question goes in as JSON, and its answer comes out as JSON.
//!
//! [`answer`] is all of it; the three functions below it hand texts over to a page and back. The page asks for room
//! ([`room_for`]), writes its question there, has it answered ([`answer_it`]) and reads the answer from where it lies ([`where_it_lies`]).

mod answers;
mod questions;

use std::cell::RefCell;

pub use answers::answer;

thread_local! {
    /// A question, and then its answer. There is one thread.
    static TEXT: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
}

/// Makes room for a question of so many bytes, and says where.
#[unsafe(no_mangle)]
pub extern "C" fn room_for(bytes: usize) -> *const u8 {
    TEXT.with_borrow_mut(|text| {
        text.clear();
        text.resize(bytes, 0);
        text.as_ptr()
    })
}

/// Answers the question that was written, and says how many bytes the answer has.
#[unsafe(no_mangle)]
pub extern "C" fn answer_it() -> usize {
    TEXT.with_borrow_mut(|text| {
        let said = answer(&String::from_utf8_lossy(text)).into_bytes();
        *text = said;
        text.len()
    })
}

/// Where the answer lies.
#[unsafe(no_mangle)]
pub extern "C" fn where_it_lies() -> *const u8 {
    TEXT.with_borrow(Vec::as_ptr)
}
