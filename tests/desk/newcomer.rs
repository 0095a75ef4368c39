//! Somebody who has read nothing opens the desk, and goes by keyboard alone from there to a printed page of a coaster of ten rounds.

use std::thread::sleep;
use std::time::Duration;

use serde_json::json;

use super::hands::{focus_is, press, type_in, until};
use super::window::Window;
use super::{desk, is_quiet};

/// Tabs on until something has the focus.
fn tab_to(window: &mut Window, which: &str) {
    for _ in 0..40 {
        if focus_is(window, which) {
            return;
        }
        press(window, "Tab");
    }
    panic!("{which} is not reached by the Tab key");
}

#[test]
fn from_the_open_file_to_a_printed_page_of_ten_rounds() {
    let Some(mut window) = desk() else { return };
    // The first words say what to do, and where a pattern of one's own begins.
    let first = window.text("document.getElementById('sheet-how').innerText");
    assert!(first.contains("For one of your own press") && first.contains("Lines to copy"), "{first}");
    tab_to(&mut window, "#open-new");
    press(&mut window, "Enter");
    until(&mut window, "document.getElementById('new').open");
    tab_to(&mut window, "#new-title");
    type_in(&mut window, "Shingle Coaster");
    tab_to(&mut window, "#new-sizes label:nth-of-type(2) input[type=checkbox]");
    press(&mut window, "Space");
    press(&mut window, "Enter");
    until(&mut window, "writing.text().includes('Shingle Coaster')");
    until(&mut window, "document.getElementById('verdict').textContent === 'rings true'");

    // The cursor stands in the first round; she goes down to the fifth, and writes on from there as the lines above have it.
    let at = "writing.line().text";
    while !window.text(at).starts_with("rnd 5:") {
        press(&mut window, "ArrowDown");
    }
    for line in [
        "rnd 6: [sc 4, 2 sc in next] to end = 36",
        "rnd 7: [sc 5, 2 sc in next] to end = 42",
        "rnd 8: [sc 6, 2 sc in next] to end = 48",
        "rnd 9: sc to end = 48",
        "rnd 10: [sc 7, 2 sc in next] to end = 53",
    ] {
        press(&mut window, "End");
        press(&mut window, "Enter");
        type_in(&mut window, line);
        assert_eq!(window.text(at), line);
        // A list of what may come next opens after a while; Enter begins a new line all the same.
        sleep(Duration::from_millis(400));
    }
    until(&mut window, "document.getElementById('verdict').textContent.includes('error')");

    mends(&mut window);
    prints(&mut window);
    is_quiet(&window);
}

/// She miscounted the last round. The key to what is to be mended, and from there to a repair, pressed as soon as it shows; where one
/// is not enough the next one is offered.
fn mends(window: &mut Window) {
    const RINGS: &str = "document.getElementById('verdict').textContent === 'rings true'";
    const OFFERED: &str = "document.querySelector('#findings .repair:enabled') !== null";
    for _ in 0..3 {
        until(window, &format!("{RINGS} || {OFFERED}"));
        if window.value(RINGS) == json!(true) {
            return;
        }
        let before = window.text("writing.text()");
        window.ask(
            "Input.dispatchKeyEvent",
            &json!({ "type": "rawKeyDown", "key": "m", "code": "KeyM", "windowsVirtualKeyCode": 77, "modifiers": 2 }),
        );
        tab_to(window, "#findings .repair");
        press(window, "Enter");
        until(window, &format!("writing.text() !== {}", json!(before)));
    }
    until(window, RINGS);
}

/// The key that prints prints the page, though another sheet lies on top.
fn prints(window: &mut Window) {
    window.value("window.print = () => { window.was_asked = true }; 0");
    window.ask(
        "Input.dispatchKeyEvent",
        &json!({ "type": "rawKeyDown", "key": "p", "code": "KeyP", "windowsVirtualKeyCode": 80, "modifiers": 2 }),
    );
    until(window, "window.was_asked");
    window.value("window.dispatchEvent(new Event('beforeprint'))");
    let paper = window.text("document.getElementById('printed').textContent");
    assert!(paper.contains("Shingle Coaster") && paper.contains("Rnd 10:") && paper.contains("54 sts"), "{paper}");
}

/// What she would write from habit is answered with what to write here; a line to copy is put below the one she is in.
#[test]
fn lines_to_copy_are_found_and_put_in() {
    let Some(mut window) = desk() else { return };
    window.value("writing.open('pattern Slip\\nterms US\\npiece Slip, in a spiral\\n'); writing.go(30)");
    window.value("const find = document.getElementById('how-find'); find.value = 'round middle'; find.dispatchEvent(new Event('input'))");
    let shown = "[...document.querySelectorAll('#how-lines > div:not([hidden]) button')]";
    assert_eq!(window.value(&format!("{shown}.map(one => one.dataset.line)[0]")), json!("start ring"));
    window.value(&format!("{shown}[0].click(); {shown}[1].click(); 0"));
    let text = window.text("writing.text()");
    is_quiet(&window);
    assert!(text.contains("in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6"), "{text}");
    until(&mut window, "document.getElementById('verdict').textContent === 'rings true'");
    window.value("document.getElementById('how-find').value = 'zeppelin'; document.getElementById('how-find').dispatchEvent(new Event('input'))");
    assert!(window.text("document.getElementById('how-found').textContent").starts_with("Nothing found"));
    is_quiet(&window);
}

/// Every way to begin, in every number of sizes that the form can ask for, is a pattern that rings true.
#[test]
fn what_the_form_begins_rings_true() {
    let Some(mut window) = desk() else { return };
    window.value("document.getElementById('open-new').click()");
    until(&mut window, "document.getElementById('new').open");
    for what in ringtrue::starter::ALL {
        window.value("document.getElementById('new').open || document.getElementById('open-new').click()");
        until(&mut window, "document.getElementById('new').open");
        window.value(&format!(
            "document.getElementById('new-what').value = '{what}'; document.getElementById('new-what').dispatchEvent(new Event('change'))"
        ));
        sleep(Duration::from_millis(200));
        window.value(&format!("document.getElementById('new-title').value = 'Groyne {what}'"));
        window.value(
            "document.getElementById('new-hook').value = '5.5'; document.getElementById('new-colour').value = 'kelp'",
        );
        window.value("document.querySelector('#new-sizes input[type=checkbox]')?.click(); document.getElementById('new-form').requestSubmit()");
        until(&mut window, &format!("writing.text().includes('Groyne {what}')"));
        let text = window.text("writing.text()");
        assert!(text.contains("5.5 mm") && text.contains("\"kelp\""), "{text}");
        let findings = ringtrue::compile(&text).findings;
        assert!(findings.is_empty(), "{what}: {findings:#?}");
    }
    is_quiet(&window);
}
