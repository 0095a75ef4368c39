//! The desk in a browser, from the disk: it says what the command says, keeps what is typed, fetches nothing and can be used by keyboard.
//!
//! Needs Chromium and the desk: `cargo run -p ringtrue-desk` makes it, and `RINGTRUE_DESK` names the file. Without one of them these
//! tests pass with a note. `RINGTRUE_AXE` is the script of axe-core, which checks the rules of WCAG.

#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "the tests read the samples and start a browser"
)]
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test says what it expects by failing"
)]

mod giving;
mod hands;
mod keeping;
mod newcomer;
#[path = "../pages/browser/window.rs"]
mod window;

use std::fs;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

use hands::{press, type_in, until};
use ringtrue::page::{self, Album, Edition};
use ringtrue::view::{self, Repairs};
use serde_json::{Value, json};
use window::{Window, browser, note};

/// The file of the desk; nothing, and a note, where it is not made.
fn desk_file() -> Option<PathBuf> {
    let Some(desk) = std::env::var_os("RINGTRUE_DESK") else {
        note(
            "NOT TESTED: the desk is not made. Make it by `cargo run -p ringtrue-desk`, and name it in RINGTRUE_DESK.",
        );
        return None;
    };
    Some(fs::canonicalize(desk).unwrap())
}

/// The desk opened in a browser for the first time; nothing, and a note, where one of the two is missing.
fn desk() -> Option<Window> {
    let desk = desk_file()?;
    let mut window = Window::open(&browser()?);
    window.ask(
        "Network.emulateNetworkConditions",
        &json!({ "offline": true, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0 }),
    );
    // The window is the one that keys go to.
    window.ask("Emulation.setFocusEmulationEnabled", &json!({ "enabled": true }));
    window.width(1280);
    window.go(&desk);
    until(&mut window, "document.body.dataset.ready === 'yes'");
    Some(window)
}

/// Nothing was asked of the network, and nothing went wrong.
fn is_quiet(window: &Window) {
    for (method, told) in &window.events {
        match method.as_str() {
            "Network.requestWillBeSent" => {
                let address = told["request"]["url"].as_str().unwrap();
                let own = ["file://", "data:", "blob:", "about:"].iter().any(|start| address.starts_with(start));
                assert!(own, "{address}");
            }
            "Runtime.exceptionThrown" | "Log.entryAdded" | "Runtime.consoleAPICalled" => panic!("{told}"),
            _ => {}
        }
    }
}

/// What the engine in the page answers.
fn answer(window: &mut Window, question: &Value) -> Value {
    let told = window.text(&format!("engine.slowly({question}).then(JSON.stringify)"));
    serde_json::from_str(&told).unwrap()
}

/// Patterns in a folder and those below it, by name.
fn patterns(folder: &str) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.unwrap().into_path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "rnd"))
        .collect();
    all.sort();
    all
}

/// The text as both take it.
fn text(path: &Path) -> Option<String> {
    let taken = ringtrue::intake::text(&fs::read(path).unwrap()).ok()?;
    Some(taken.text)
}

#[test]
fn it_finds_what_the_command_finds() {
    let Some(mut window) = desk() else { return };
    let mut looked_at = 0;
    for path in ["samples", "tests/print", "tests/ui"].iter().flat_map(|folder| patterns(folder)) {
        let Some(text) = text(&path) else { continue };
        // Repairs are tried by the same code; they take long, so a few stand for all.
        let tried = path.starts_with("samples/faulty");
        let here = view::view(&text, if tried { Repairs::Tried } else { Repairs::Left });
        let there = answer(&mut window, &json!({ "do": "view", "text": text, "repairs": tried }));
        assert_eq!(there, serde_json::to_value(&here).unwrap(), "{}", path.display());
        looked_at += 1;
    }
    assert!(looked_at > 300, "{looked_at} patterns");
    is_quiet(&window);
}

#[test]
fn its_pages_are_those_of_the_command() {
    let Some(mut window) = desk() else { return };
    let mut looked_at = 0;
    for path in ["samples", "tests/print", "tests/ui"].iter().flat_map(|folder| patterns(folder)) {
        let Some(text) = text(&path) else { continue };
        let compiled = ringtrue::mend::compile_and_mend(&text);
        let mut album = Album::default();
        album.draw(page::charts(&compiled, &Edition::default()));
        // The other forms are made of the same sheet; the samples stand for all.
        let mut forms = vec![("html", page::html_with(&compiled, &Edition::default(), &album))];
        if path.starts_with("samples") {
            forms.push(("markdown", page::markdown(&compiled, &Edition::default())));
            forms.push(("plain", page::plain(&compiled, &Edition::default())));
        }
        for (form, here) in forms {
            let there = answer(&mut window, &json!({ "do": "page", "text": text, "edition": {}, "form": form }));
            let there = there["page"].as_str().unwrap();
            if path.starts_with("samples") {
                assert_eq!(there, here, "{} as {form}", path.display());
            } else if let Some(at) = differs(there, &here) {
                panic!(
                    "{} as {form}: `{}`",
                    path.display(),
                    here.get(at..).unwrap_or_default().chars().take(200).collect::<String>()
                );
            }
        }
        looked_at += 1;
    }
    assert!(looked_at > 300, "{looked_at} patterns");
    is_quiet(&window);
}

/// Where two pages differ. The functions of angles are those of the machine, so that what is drawn may lie a tenth of a unit
/// further on one than on the other, and half a turn to the left be one to the right.
fn differs(there: &str, here: &str) -> Option<usize> {
    const ROUNDED: f64 = 0.11;
    let (mut left, mut right) = (0, 0);
    loop {
        let (one, other) = (there.get(left..)?, here.get(right..)?);
        if one.is_empty() && other.is_empty() {
            return None;
        }
        if let (Some((one, long)), Some((other, wide))) = (number(one), number(other)) {
            let far = (one - other).abs();
            if far > ROUNDED && (far - 360.0).abs() > ROUNDED {
                return Some(right);
            }
            (left, right) = (left + long, right + wide);
            continue;
        }
        match (one.chars().next(), other.chars().next()) {
            (Some(one), Some(other)) if one == other => (left, right) = (left + one.len_utf8(), right + one.len_utf8()),
            _ => return Some(right),
        }
    }
}

/// The number that a text begins with, and how long it is.
fn number(text: &str) -> Option<(f64, usize)> {
    let goes_on = |(at, c): &(usize, char)| c.is_ascii_digit() || *c == '.' || *at == 0 && *c == '-';
    let long = text.char_indices().take_while(goes_on).count();
    text.get(..long)?.parse().ok().map(|number| (number, long))
}

const DISC: &str = "pattern Tide Disc\nterms US\npiece Disc, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n\
                    rnd 2: [2 sc in next] to end = 12\nrnd 3: [sc, 2 sc in next] to end = 19\n";

#[test]
fn a_pattern_is_written_by_keyboard_mended_by_a_press_and_found_again() {
    let Some(mut window) = desk() else { return };
    window.value("writing.open(''); writing.focus()");
    type_in(&mut window, DISC);
    until(&mut window, "document.getElementById('verdict').textContent.startsWith('1 error')");
    let told = "[...document.querySelectorAll('#findings .told')].map(e => e.textContent).join()";
    until(&mut window, "document.querySelector('#findings .repair:enabled') !== null");
    assert!(window.text(told).contains("round 3 makes 18 stitches, not 19"), "{}", window.text(told));

    // What stands at the end of a line is what it made.
    until(&mut window, "[...document.querySelectorAll('.made')].some(e => e.textContent === '12 · all used')");
    window.value(
        "document.getElementById('tab-mend').click(); document.querySelector('#findings .repair:enabled').focus()",
    );
    press(&mut window, "Enter");
    until(&mut window, "document.getElementById('verdict').textContent === 'rings true'");
    assert!(window.text("writing.text()").contains("= 18"));

    // The page is there, and nothing of it runs.
    window.value("document.getElementById('tab-page').click()");
    let words = "document.getElementById('page-frame').contentDocument?.body?.textContent ?? ''";
    until(&mut window, &format!("({words}).includes('Tide Disc')"));
    assert!(
        window.text("document.getElementById('page-told').textContent").starts_with("Read back: the same 36 stitches")
    );

    // The tab goes a second later, and what was typed is there again.
    sleep(Duration::from_secs(1));
    window.reload();
    until(&mut window, "document.body.dataset.ready === 'yes'");
    assert!(window.text("writing.text()").starts_with("pattern Tide Disc"));
    is_quiet(&window);
}

/// A repair was worked in the text that it is offered for, and does nothing to another one.
#[test]
fn a_repair_is_of_the_text_that_it_was_tried_in() {
    let Some(mut window) = desk() else { return };
    window.value(&format!("writing.open(''); writing.replace({})", json!(DISC)));
    let offered = "document.querySelector('#findings .repair:enabled') !== null";
    until(&mut window, offered);
    let remark = "# Low water.\n";
    window.value(&format!(
        "(old => {{ writing.replace({} + writing.text()); old.forEach(one => {{ one.click(); one.disabled = false; one.click() }}) }})\
         (document.querySelectorAll('.repair'))",
        json!(remark)
    ));
    assert_eq!(window.text("writing.text()"), format!("{remark}{DISC}"));
    window.value("document.querySelectorAll('.repair').forEach(one => { one.disabled = true })");
    until(&mut window, offered);
    window.value("document.querySelector('#findings .repair:enabled').click()");
    assert_eq!(window.text("writing.text()"), format!("{remark}{}", DISC.replace("= 19", "= 18")));
    is_quiet(&window);
}

/// Typing a letter and taking it back is the same text again, and what was offered for it holds.
#[test]
fn a_repair_that_waited_is_offered_again() {
    let Some(mut window) = desk() else { return };
    window.value(&format!("writing.open(''); writing.replace({})", json!(DISC)));
    let below = "document.querySelector('.below .repair:enabled') !== null";
    until(&mut window, below);
    window.value("writing.replace(writing.text() + '#')");
    assert_eq!(window.value("document.querySelector('.repair:enabled') === null"), json!(true));
    window.value("writing.undo()");
    until(&mut window, below);
    sleep(Duration::from_secs(1));
    until(&mut window, below);
    window.value("document.querySelector('.below .repair:enabled').click()");
    assert_eq!(window.text("writing.text()"), DISC.replace("= 19", "= 18"));
    is_quiet(&window);
}

/// Two slips: as soon as the repair of the first one shows it is pressed, and the repair of the second one comes by itself.
#[test]
fn repairs_that_are_pressed_at_once_are_followed_by_the_next() {
    let Some(mut window) = desk() else { return };
    let two = DISC.replace("= 12", "= 13") + "rnd 4: [sc 2, 2 sc in next] to end = 23\n";
    for place in ["#findings", ".below"] {
        window.value(&format!("writing.open(''); writing.replace({})", json!(two)));
        let pressed = window.value(&format!(
            "new Promise(done => {{ let presses = 0; const look = () => {{ \
             if (writing.is_told() && document.getElementById('verdict').textContent === 'rings true') return done(presses); \
             const one = document.querySelector('{place} .repair:enabled'); if (one) {{ presses += 1; one.click(); }} \
             setTimeout(look, 1); }}; look(); }})"
        ));
        assert_eq!(pressed, json!(3), "{}", window.text("writing.text()"));
    }
    is_quiet(&window);
}

/// The chart has the row of the line in which the cursor is; a stitch that is pressed goes to the line that says it.
#[test]
fn text_and_chart_follow_each_other() {
    let Some(mut window) = desk() else { return };
    let text = DISC.replace("= 19", "= 18")
        + "fasten off\n\npiece Pennant, in rows\nlead ch 1\nstart ch 5\n\
                row 1: sc in 2nd ch from hook, sc to end = 4\nrow 2: sc to end = 4\nfasten off\n";
    window.value(&format!("shelf.add({})", json!(text)));
    until(&mut window, "document.getElementById('ring').dataset.rings === 'true'");
    window.value("document.getElementById('tab-stitches').click()");
    let here = "[...document.querySelectorAll('#chart-place .here')].map(one => one.dataset.line).join()";
    for (line, row) in [("rnd 2:", "p1-l2"), ("rnd 3:", "p1-l3"), ("row 2:", "p2-l2"), ("row 1:", "p2-l1")] {
        window.value(&format!("writing.go(writing.text().indexOf('{line}'))"));
        until(&mut window, &format!("{here} === '{row}'"));
    }
    for (line, says) in [("p2-l2", "row 2: sc to end = 4"), ("p2-l1", "row 1: sc in 2nd ch from hook, sc to end = 4")] {
        let stitch = format!("document.querySelector('#chart-place [data-line={line}] [data-stitch]')");
        let place = window.value(&format!(
            "(box => [box.x + box.width / 2, box.y + box.height / 2])(({stitch}.scrollIntoView(), {stitch}.getBoundingClientRect()))"
        ));
        for sort in ["mousePressed", "mouseReleased"] {
            let with = json!({ "type": sort, "x": place[0], "y": place[1], "button": "left", "clickCount": 1 });
            window.ask("Input.dispatchMouseEvent", &with);
        }
        until(&mut window, &format!("writing.line().text === '{says}'"));
        until(&mut window, &format!("{here} === '{line}'"));
        let told = window.text("document.getElementById('chart-told').textContent");
        assert!(told.ends_with(&format!(": {says}")), "{told}");
    }
    // By keyboard one stitch after the other is told.
    window.value("document.getElementById('chart-next').click(); document.getElementById('chart-next').click()");
    assert!(window.text("document.getElementById('chart-told').textContent").contains("row 1:"));
    is_quiet(&window);
}

#[test]
fn an_old_pattern_is_taken_in_and_a_wrong_count_explained() {
    let Some(mut window) = desk() else { return };
    window.value("document.getElementById('open-old').click(); document.getElementById('old-words').focus()");
    type_in(&mut window, "Round 1: 6 sc in a magic ring. (6)\nRound 2: 2 sc in each st around. (12)\n");
    until(&mut window, "document.getElementById('old-told').textContent.includes('Read 2 of 2')");
    window.value("document.getElementById('old-take').click()");
    until(&mut window, "writing.text().includes('rnd 2:')");
    until(&mut window, "document.getElementById('ring').dataset.rings === 'true'");
    window.value("document.getElementById('tab-reader').click(); document.getElementById('maker-row').value = '2'");
    window.value(
        "document.getElementById('maker-count').value = '11'; document.getElementById('maker-form').requestSubmit()",
    );
    until(&mut window, "document.querySelector('#maker-answer li') !== null");
    is_quiet(&window);
}

/// Twenty stitches at 25 to 10 cm are 8 cm wide; arithmetic.
#[test]
fn a_makers_own_gauge_has_its_answer() {
    let Some(mut window) = desk() else { return };
    let band = "pattern Tide Band\nterms US\ngauge 20 sts x 20 rows in sc = 10 cm\nfinished width 10 cm\npiece Band, in rows\nlead ch 1\n\
                start ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\nfasten off\n";
    window.value(&format!("writing.open({})", json!(band)));
    window.value("document.getElementById('tab-reader').click()");
    window.value(
        "document.getElementById('gauge-stitches').value = '25'; document.getElementById('gauge-rows').value = '20'",
    );
    window.value("document.getElementById('gauge-form').requestSubmit()");
    until(&mut window, "document.getElementById('gauge-answer').textContent.includes('8 cm')");
    is_quiet(&window);
}

/// An instruction that could not be read is never passed over.
#[test]
fn an_old_pattern_read_in_part_does_not_ring_true() {
    let Some(mut window) = desk() else { return };
    let words = "Round 1: 6 sc in a magic ring. (6)\nRound 2: fluff it up well. (12)\n";
    let read = answer(&mut window, &json!({ "do": "take_in", "text": words }));
    assert_eq!((&read["read"], &read["of"]), (&json!(1), &json!(2)));
    let seen = answer(&mut window, &json!({ "do": "view", "text": read["text"], "repairs": false }));
    assert_eq!(seen["findings"][0]["code"], json!("not-taken-in"));
    // It is shown beside what was read, and a press finds it among its words.
    window.value(&format!("taking.show({})", json!(words)));
    until(&mut window, "document.querySelector('#old-left li button') !== null");
    assert!(window.text("document.getElementById('old-left').textContent").contains("fluff it up well"));
    window.value("document.querySelector('#old-left li button').click()");
    let marked =
        "(field => field.value.slice(field.selectionStart, field.selectionEnd))(document.getElementById('old-words'))";
    assert!(window.text(marked).contains("fluff it up well"), "{}", window.text(marked));
    // Said otherwise it is read.
    type_in(&mut window, "Round 2: 2 sc in each st around. (12)");
    until(&mut window, "document.getElementById('old-left').hidden");
    is_quiet(&window);
}

#[test]
fn words_are_words_whatever_they_say() {
    let Some(mut window) = desk() else { return };
    let hostile = "pattern <img src=x onerror=\"window.hurt=1\"> </script><script>window.hurt=2</script>\nterms US\n\
                   piece <b>, in rows\nrow 1: <svg onload=window.hurt=3> `sc`\n> <iframe src=javascript:parent.hurt=4></iframe>\n";
    window.value(&format!("writing.open({}); writing.replace(writing.text() + ' ')", json!(hostile)));
    until(&mut window, "document.querySelectorAll('#findings .told').length > 0");
    for sheet in ["page", "stitches", "papers", "reader"] {
        window.value(&format!("document.getElementById('tab-{sheet}').click()"));
        sleep(Duration::from_millis(700));
    }
    assert_eq!(window.value("window.hurt === undefined"), json!(true));
    is_quiet(&window);
}

#[test]
fn at_the_hook_the_line_writes_itself() {
    let Some(mut window) = desk() else { return };
    window.value(&format!(
        "writing.open({}); writing.replace(writing.text() + ' ')",
        json!(DISC.replace("rnd 3: [sc, 2 sc in next] to end = 19\n", ""))
    ));
    until(&mut window, "document.getElementById('ring').dataset.rings === 'true'");
    window.value("document.getElementById('at-the-hook').click()");
    let press = |window: &mut Window, words: &str| {
        let button =
            format!("[...document.querySelectorAll('#hook-steps button')].find(e => e.textContent === '{words}')");
        window.value(&format!("{button}.click()"));
    };
    for words in ["sc", "2 in one", "Same again"] {
        press(&mut window, words);
    }
    until(&mut window, "document.getElementById('hook-count').textContent === '6'");
    for _ in 0..4 {
        press(&mut window, "Same again");
    }
    until(&mut window, "document.getElementById('hook-left').textContent === 'all used'");
    press(&mut window, "End of the round");
    until(&mut window, "writing.text().trimEnd().endsWith('rnd: [sc, 2 sc in next] 6 times = 18')");
    until(&mut window, "document.getElementById('verdict').textContent === 'rings true'");
    is_quiet(&window);
}

/// The keys are those of the pattern's stitch names, and the line is written into the piece with the cursor, before its end and before
/// the pieces behind it. A UK double crochet goes into the second chain (common practice, no source).
#[test]
fn at_the_hook_the_piece_with_the_cursor_is_written() {
    let Some(mut window) = desk() else { return };
    let tail = "fasten off\n\npiece Tail, in a spiral\nstart ring\nrnd 1: 5 dc in ring = 5\nfasten off\n";
    let text = format!("pattern Buoy\nterms UK\npiece Buoy, in rows\nlead ch 1\nstart ch 11\n{tail}");
    window.value(&format!("shelf.add({})", json!(text)));
    until(&mut window, "document.getElementById('verdict').textContent !== ''");
    window.value("writing.go(writing.text().indexOf('start ch')); document.getElementById('at-the-hook').click()");
    let keys = window.text("[...document.querySelectorAll('#hook-steps button')].map(one => one.textContent).join()");
    assert!(keys.starts_with("dc,htr,tr,dtr,ch,sl st,") && keys.contains("in the chain"), "{keys}");
    let press = |window: &mut Window, words: &[&str]| {
        for word in words {
            let key =
                format!("[...document.querySelectorAll('#hook-steps button')].find(e => e.textContent === '{word}')");
            window.value(&format!("{key}.click()"));
        }
    };
    press(&mut window, &["in the chain", "dc", "to the end of the row", "End of the row"]);
    until(&mut window, "writing.text().includes('dc to end = 10')");
    press(&mut window, &["dc", "dc", "2 together", "dc", "to the end of the row", "End of the row"]);
    let rows = "row: dc in 2nd ch from hook, dc to end = 10\nrow: dc 2, dc2tog, dc to end = 9";
    until(&mut window, "writing.text().includes('dc to end = 9')");
    assert_eq!(window.text("writing.text()"), text.replace("start ch 11", &format!("start ch 11\n{rows}")));
    until(&mut window, "document.getElementById('verdict').textContent === 'rings true'");
    is_quiet(&window);
}

/// By the rules of WCAG 2.2 as axe-core checks them (Deque, Mozilla Public License 2.0), light and dark, wide and as wide as a phone.
#[test]
fn it_is_accessible_and_fits_a_phone() {
    let Some(axe) = std::env::var_os("RINGTRUE_AXE") else {
        note("NOT TESTED: accessibility needs axe-core; see `.ci/run`.");
        return;
    };
    let Some(mut window) = desk() else { return };
    let axe = fs::read_to_string(axe).unwrap();
    window.value(&format!("{axe}; 0"));
    window.value(&format!("writing.replace({})", json!(DISC)));
    until(&mut window, "document.querySelectorAll('.below').length > 0");
    for (width, scheme) in [(1280, "light"), (1280, "dark"), (320, "light"), (320, "dark")] {
        window.width(width);
        window.scheme(scheme);
        for sheet in ["how", "mend", "page", "stitches", "papers", "reader"] {
            window.value(&format!("document.getElementById('tab-{sheet}').click()"));
            sleep(Duration::from_millis(400));
            is_accessible(&mut window, &format!("{sheet}, {width} px, {scheme}"));
            let wide = window.value("document.documentElement.scrollWidth <= window.innerWidth");
            assert_eq!(wide, json!(true), "{sheet} at {width} px");
        }
        for (opens, closes) in [
            ("open-shelf", "shelf-close"),
            ("open-new", "new-close"),
            ("open-old", "old-close"),
            ("about", "about-close"),
        ] {
            window.value(&format!("document.getElementById('{opens}').click()"));
            sleep(Duration::from_millis(300));
            is_accessible(&mut window, &format!("{opens}, {width} px, {scheme}"));
            let beyond = "[...document.querySelectorAll('dialog[open] *')].filter(e => e.getBoundingClientRect().right > window.innerWidth).length";
            assert_eq!(window.value(beyond), json!(0), "{opens} at {width} px");
            window.value(&format!("document.getElementById('{closes}').click()"));
        }
    }
}

/// What a screen reader tells of all that can be pressed, written into or chosen: each has a name, and no two tabs or buttons of the
/// desk the same one, but for those that belong to a pattern or a line.
#[test]
fn whatever_can_be_used_has_a_name() {
    let Some(mut window) = desk() else { return };
    window.value(&format!("writing.replace({})", json!(DISC)));
    until(&mut window, "document.querySelectorAll('.below').length > 0");
    window.ask("Accessibility.enable", &json!({}));
    let mut seen = 0;
    for sheet in ["how", "mend", "page", "stitches", "papers", "reader"] {
        window.value(&format!("document.getElementById('tab-{sheet}').click()"));
        sleep(Duration::from_millis(700));
        let tree = window.ask("Accessibility.getFullAXTree", &json!({}));
        for node in tree["nodes"].as_array().unwrap().iter().filter(|node| node["ignored"] == json!(false)) {
            let role = node["role"]["value"].as_str().unwrap_or_default();
            let used = [
                "button",
                "textbox",
                "combobox",
                "tab",
                "tabpanel",
                "checkbox",
                "radio",
                "link",
                "spinbutton",
                "searchbox",
            ];
            if !used.contains(&role) {
                continue;
            }
            let name = node["name"]["value"].as_str().unwrap_or_default().trim();
            assert!(!name.is_empty(), "{sheet}: a {role} has no name: {node}");
            seen += 1;
        }
    }
    assert!(seen > 150, "{seen}");
}

fn is_accessible(window: &mut Window, what: &str) {
    let found = window.value(
        "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'], iframes: false })\
         .then(r => r.passes.length < 10 ? ['nothing was checked'] : r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html).slice(0, 3).join(' , ')))",
    );
    assert_eq!(found, Value::Array(Vec::new()), "{what}");
}
