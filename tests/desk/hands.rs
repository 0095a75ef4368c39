//! What a hand does at the desk: keys, and waiting for what comes of them.

use std::thread::sleep;
use std::time::Duration;

use serde_json::json;

use super::window::Window;

/// Waits until an expression is true in the page.
pub fn until(window: &mut Window, expression: &str) {
    for _ in 0..1200 {
        if window.value(&format!("Boolean({expression})")) == json!(true) {
            return;
        }
        sleep(Duration::from_millis(50));
    }
    panic!("it never comes to this: {expression}");
}

/// Letters as a hand presses them, one by one.
pub fn type_in(window: &mut Window, words: &str) {
    for letter in words.chars() {
        if letter == '\n' {
            press(window, "Enter");
            continue;
        }
        window.ask("Input.insertText", &json!({ "text": letter.to_string() }));
    }
}

/// A key without a letter, with what it writes where it writes something.
pub fn press(window: &mut Window, name: &str) {
    let (code, key, text) = match name {
        "Tab" => (9, "Tab", ""),
        "Enter" => (13, "Enter", "\r"),
        "Space" => (32, " ", " "),
        "End" => (35, "End", ""),
        "ArrowDown" => (40, "ArrowDown", ""),
        other => panic!("the key {other} is not known"),
    };
    let sort = if text.is_empty() { "rawKeyDown" } else { "keyDown" };
    for sort in [sort, "keyUp"] {
        let with = json!({ "type": sort, "key": key, "code": name, "windowsVirtualKeyCode": code, "text": text });
        window.ask("Input.dispatchKeyEvent", &with);
    }
}

/// Whether an element has the focus.
pub fn focus_is(window: &mut Window, which: &str) -> bool {
    window.value(&format!("document.activeElement.matches({})", json!(which))) == json!(true)
}
