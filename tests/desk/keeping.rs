//! Nothing that was typed is lost, and a browser that keeps nothing says so.

use std::fs;
use std::thread::sleep;
use std::time::Duration;

use serde_json::{Value, json};
use tempfile::TempDir;

use super::hands::{type_in, until};
use super::window::Window;
use super::{desk, desk_file, is_quiet};

const READY: &str = "document.body?.dataset.ready === 'yes'";
const KEPT: &str = "document.getElementById('kept').textContent";

/// Opens the desk once more, whatever became of the page before.
fn open_again(window: &mut Window) {
    let file = desk_file().unwrap();
    window.ask("Page.navigate", &json!({ "url": format!("file://{}", file.display()) }));
    until(window, READY);
}

/// Ends what draws the page, as a crash does.
fn crash(window: &mut Window) {
    window.tell("Page.crash", &json!({}));
    let crashed = |told: &Value| told["method"] == json!("Inspector.targetCrashed");
    while !crashed(&window.hear()) {}
}

/// Where the browser puts what is saved.
pub fn downloads(window: &mut Window) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    window.ask("Page.setDownloadBehavior", &json!({ "behavior": "allow", "downloadPath": folder.path() }));
    folder
}

/// A file that was saved, once it is whole: the browser holds its place with an empty one before.
pub fn saved(folder: &TempDir, name: &str) -> Vec<u8> {
    let path = folder.path().join(name);
    for _ in 0..400 {
        if fs::metadata(&path).is_ok_and(|file| file.len() > 0) {
            return fs::read(path).unwrap();
        }
        sleep(Duration::from_millis(50));
    }
    let there: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    panic!("{name} is not saved; there is {there:?}");
}

/// Gives the page a file, as its dialogue does.
pub fn give_file(window: &mut Window, path: &std::path::Path) {
    let document = window.ask("DOM.getDocument", &json!({}));
    let with = json!({ "nodeId": document["root"]["nodeId"], "selector": "#file" });
    let input = window.ask("DOM.querySelector", &with);
    window.ask("DOM.setFileInputFiles", &json!({ "files": [path], "nodeId": input["nodeId"] }));
}

#[test]
fn what_was_typed_a_second_ago_is_there_after_the_page_crashed() {
    let Some(mut window) = desk() else { return };
    window.value("writing.open('pattern Undertow\\n'); writing.go(17)");
    for words in ["terms US", "\nnote Before the crash."] {
        type_in(&mut window, words);
        sleep(Duration::from_secs(1));
        crash(&mut window);
        open_again(&mut window);
        let text = window.text("writing.text()");
        assert!(text.ends_with(words.trim_start()), "{text}");
        window.value("writing.go(writing.text().length)");
    }
}

#[test]
fn a_store_that_is_forbidden_says_so_and_the_desk_goes_on() {
    let Some(mut window) = desk() else { return };
    let forbidden = "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError') } });\
                     Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError') } });";
    window.ask("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": forbidden }));
    open_again(&mut window);
    assert!(window.text(KEPT).contains("keeps nothing of this page"), "{}", window.text(KEPT));
    window.value("writing.open('pattern Undertow\\nterms US\\npiece Undertow, in a spiral\\nstart ring\\nrnd 1: 6 sc in ring = 6\\n'); writing.go(0)");
    type_in(&mut window, " ");
    until(&mut window, "document.getElementById('verdict').textContent === 'rings true'");
    // It is still told, the shelf too, and the pattern can be saved as a file.
    assert!(window.text(KEPT).contains("Save the pattern as a file"));
    window.value("document.getElementById('open-shelf').click()");
    until(&mut window, "document.getElementById('shelf').open");
    window.value("document.getElementById('shelf-close').click(); window.showSaveFilePicker = undefined");
    let folder = downloads(&mut window);
    window.value("document.getElementById('save').click()");
    assert!(saved(&folder, "undertow.rnd").starts_with(b" pattern Undertow"));
    is_quiet(&window);
}

#[test]
fn a_store_that_is_full_says_so_until_there_is_room_again() {
    let Some(mut window) = desk() else { return };
    window.ask("Storage.overrideQuotaForOrigin", &json!({ "origin": "file:///", "quotaSize": 1000 }));
    // The browser looks now and then at how much room there is, when something is kept.
    let told = (0..60).any(|_| {
        window.value("writing.replace(writing.text() + '# more words\\n'.repeat(100))");
        sleep(Duration::from_secs(1));
        window.value(&format!("{KEPT}.includes('no room left')")) == json!(true)
    });
    assert!(told, "{}", window.text(KEPT));
    window.ask("Storage.overrideQuotaForOrigin", &json!({ "origin": "file:///" }));
    until(&mut window, &format!("{KEPT}.startsWith('Kept in this browser')"));
    open_again(&mut window);
    assert!(window.text("writing.text()").ends_with("# more words\n"));
    is_quiet(&window);
}

#[test]
fn the_whole_shelf_is_one_file_and_comes_back_from_it() {
    let Some(mut window) = desk() else { return };
    for title in ["Groyne", "Lugger"] {
        window.value(&format!("shelf.add('pattern {title}\\nterms US\\n')"));
    }
    window.value("shelf.keep_version('kept by you').then(() => writing.replace(writing.text() + 'note Newer.\\n'))");
    let folder = downloads(&mut window);
    window.value("shelf.show()");
    window.value("document.getElementById('shelf-save').click()");
    until(&mut window, "document.getElementById('shelf-said').textContent.includes('saved to your downloads')");
    let name =
        window.text("/ringtrue-shelf-[-\\d]+\\.json/.exec(document.getElementById('shelf-said').textContent)[0]");
    let whole: Value = serde_json::from_slice(&saved(&folder, &name)).unwrap();
    assert_eq!(whole["patterns"].as_array().unwrap().len(), 3);

    // Everything is gone, as in another browser; then the file is taken in.
    let titles = "keeping.all().then(all => all.map(one => one.title).sort().join())";
    let before = window.text(titles);
    window.value("keeping.all().then(all => Promise.all(all.map(one => keeping.remove(one.id))))");
    assert_eq!(window.text(titles), "");
    let file = folder.path().join(&name);
    give_file(&mut window, &file);
    until(&mut window, "document.getElementById('shelf-said').textContent.startsWith('3 patterns taken in.')");
    assert_eq!(window.text(titles), before);
    let versions = "keeping.all().then(all => keeping.versions(all.find(one => one.title === 'Lugger').id)).then(all => all.length)";
    assert_eq!(window.value(versions), json!(1));

    // What was changed since stays as it is; what the file has becomes an earlier version, and only once.
    window.value("keeping.all().then(all => keeping.keep({ ...all.find(one => one.title === 'Lugger'), text: 'pattern Lugger\\n# newer', changed: Date.now() }))");
    for _ in 0..2 {
        window.value(
            "document.getElementById('shelf-said').textContent = ''; document.getElementById('file').value = ''",
        );
        give_file(&mut window, &file);
        until(&mut window, "document.getElementById('shelf-said').textContent.includes('stood here already')");
    }
    assert_eq!(window.value(versions), json!(2));
    let other = folder.path().join("other.json");
    fs::write(&other, "{\"ringtrue\": \"shelf\", \"patterns\": [7]}").unwrap();
    give_file(&mut window, &other);
    until(&mut window, "document.getElementById('shelf-said').textContent.startsWith('This is no saved shelf')");
    is_quiet(&window);
}

/// Another tab is another writer in the same store, which tells that it wrote.
#[test]
fn two_tabs_never_overwrite_each_other_in_silence() {
    let Some(mut window) = desk() else { return };
    window.value("shelf.add('pattern Lugger\\nterms US\\n').then(() => shelf.keep())");
    let elsewhere = |window: &mut Window, words: &str| {
        window.value(&format!(
            "keeping.all().then(all => keeping.keep({{ ...all.find(one => one.title === 'Lugger'), text: {}, changed: Date.now() + 5 }}))\
             .then(() => keeping.all()).then(all => new BroadcastChannel('ringtrue desk').postMessage(all.find(one => one.title === 'Lugger').id))",
            json!(words)
        ));
    };
    // Nothing was typed here since: what the other one wrote stands here too.
    elsewhere(&mut window, "pattern Lugger\nterms US\nnote From there.\n");
    until(&mut window, "writing.text().includes('From there.')");
    assert!(window.text("document.getElementById('said').textContent").contains("another tab"));

    // Both wrote: this one's words stay, and the other one's are an earlier version.
    window.value("writing.replace(writing.text() + 'note From here.\\n')");
    elsewhere(&mut window, "pattern Lugger\nterms US\nnote From there again.\n");
    until(&mut window, "document.getElementById('said').textContent.includes('earlier version')");
    assert!(window.text("writing.text()").contains("From here."));
    let versions = "keeping.all().then(all => keeping.versions(all.find(one => one.title === 'Lugger').id)).then(all => all.map(one => one.text).join())";
    assert!(window.text(versions).contains("From there again."));
    is_quiet(&window);
}

/// What was removed from the shelf while it lay on the desk is gone; what is typed then is a new pattern, and kept.
#[test]
fn what_is_typed_after_a_removal_is_kept() {
    let Some(mut window) = desk() else { return };
    window.value("shelf.show()");
    let press = |window: &mut Window, words: &str| {
        window.value(&format!(
            "[...document.querySelectorAll('#patterns button')].find(one => one.textContent === '{words}').click()"
        ));
    };
    press(&mut window, "Remove…");
    press(&mut window, "Remove it");
    until(&mut window, "document.getElementById('patterns').textContent.includes('empty')");
    window.value("document.getElementById('shelf-close').click(); writing.focus()");
    type_in(&mut window, "pattern Undertow");
    sleep(Duration::from_secs(1));
    open_again(&mut window);
    assert_eq!(window.text("writing.text()"), "pattern Undertow");
    is_quiet(&window);
}
