//! What goes in and what comes out: files opened, saved, downloaded and printed.

use std::fs;
use std::io::{Cursor, Write as _};
use std::path::Path;
use std::process::Command;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use super::hands::until;
use super::keeping::{downloads, give_file, saved};
use super::window::Window;
use super::{DISC, desk, is_quiet};

const RINGING: &str = "document.getElementById('ring').dataset.rings === 'true'";

/// A pattern with two sizes on the desk; gives back its text.
fn lay_sample(window: &mut Window, sample: &str) -> String {
    let text = fs::read_to_string(sample).unwrap();
    window.value(&format!("shelf.add({})", json!(text)));
    until(window, RINGING);
    text
}

/// An edition: what is chosen at the desk, and how the command is asked for the same.
type Asked = (&'static [(&'static str, &'static str)], &'static [&'static str]);

const EDITIONS: [Asked; 9] = [
    (&[], &[]),
    (&[("terms", "uk")], &["--terms", "uk"]),
    (&[("words", "in_full")], &["--in-full"]),
    (&[("letters", "large")], &["--large-print", "18"]),
    (&[("letters", "larger"), ("size", "2")], &["--large-print", "24", "--size", "large adult"]),
    (&[("hand", "left")], &["--left-handed"]),
    (&[("telling", "brief")], &["--brief"]),
    (&[("beside", "dutch")], &["--beside", "dutch"]),
    // What is read aloud is for one size; the desk takes the one that is looked at.
    (&[("words", "aloud")], &["--read-aloud", "--size", "child"]),
];

#[test]
fn what_is_saved_is_what_the_command_writes() {
    let Some(mut window) = desk() else { return };
    let text = lay_sample(&mut window, "samples/causeway-cap.rnd");
    let name = window.text("document.getElementById('title').textContent").to_lowercase().replace(' ', "-");
    let folder = downloads(&mut window);
    let own = tempfile::tempdir().unwrap();
    let file = format!("{name}.rnd");
    fs::write(own.path().join(&file), &text).unwrap();
    let written = |arguments: &[&str], named: &str| {
        let done = Command::new(env!("CARGO_BIN_EXE_ringtrue"))
            .args(arguments)
            .args([file.as_str(), "-o", "."])
            .current_dir(own.path())
            .output()
            .unwrap();
        assert!(done.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&done.stderr));
        fs::read(own.path().join(named)).unwrap()
    };
    let choose = |window: &mut Window, choice: &str, value: &str| {
        window.value(&format!(
            "document.getElementById('page-{choice}').value = '{value}'; document.getElementById('page-{choice}').dispatchEvent(new Event('change'))"
        ));
    };
    window.value("document.getElementById('tab-page').click()");
    let (html, markdown) = (format!("{name}.html"), format!("{name}.md"));
    for (choices, options) in EDITIONS {
        for usual in ["terms=", "words=short", "letters=usual", "size=", "hand=right", "telling=whole", "beside="] {
            let (choice, value) = usual.split_once('=').unwrap();
            choose(&mut window, choice, value);
        }
        for (choice, value) in choices {
            choose(&mut window, choice, value);
        }
        for (button, file) in [("save", &html), ("markdown", &markdown)] {
            let path = folder.path().join(file);
            let _ = fs::remove_file(&path);
            window.value(&format!("document.getElementById('page-{button}').click()"));
            let there = saved(&folder, file);
            let here = written(&[&["page"], options].concat(), file);
            assert!(there == here, "{options:?}, {file}: {} and {} bytes", there.len(), here.len());
        }
    }
    window.value("document.getElementById('page-proof').click()");
    let proof = format!("{name}-proof.html");
    assert!(saved(&folder, &proof) == written(&["proof"], &proof), "the proof");
    is_quiet(&window);
}

/// A printing: its sheets of paper, its title, and how many bytes it has. The bytes themselves hold the time and a number of their own.
fn printed(window: &mut Window) -> (usize, String, usize) {
    let told = window.ask("Page.printToPDF", &json!({ "preferCSSPageSize": true, "generateTaggedPDF": false }));
    let bytes = STANDARD.decode(told["data"].as_str().unwrap()).unwrap();
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    let title = text.split("/Title").nth(1).and_then(|rest| rest.lines().next()).unwrap_or_default();
    (text.matches("/Type /Page\n").count(), title.to_owned(), bytes.len())
}

/// The sheets of paper are those that the page itself prints: as many, under the same title, and of the same length to a byte.
#[test]
fn what_is_printed_is_the_page() {
    let Some(mut window) = desk() else { return };
    let folder = downloads(&mut window);
    for (sample, letters) in [("samples/causeway-cap.rnd", "usual"), ("samples/clinker-cloth.rnd", "larger")] {
        lay_sample(&mut window, sample);
        window.value(&format!("document.getElementById('page-letters').value = '{letters}'"));
        window.value("window.asked = false; window.print = () => { window.asked = true }; document.getElementById('page-print').click()");
        until(&mut window, "window.asked");
        let paper = printed(&mut window);
        // Nothing of it stays on the desk.
        assert_eq!(window.value("document.getElementById('printed').childNodes.length"), json!(0));
        let name = window.text("shelf.file('.html')");
        window.value("document.getElementById('page-save').click()");
        saved(&folder, &name);
        let mut alone = Window::open(&super::browser().unwrap());
        alone.go(&folder.path().join(&name));
        assert!(paper.0 > 0, "{sample}: no sheet of paper");
        assert_eq!(paper, printed(&mut alone), "{sample} is printed otherwise than its page");
    }
    is_quiet(&window);
}

/// Printed from the browser's menu without a page that was made, it says where the page is.
#[test]
fn paper_never_shows_the_desk_itself() {
    let Some(mut window) = desk() else { return };
    window.ask("Emulation.setEmulatedMedia", &json!({ "media": "print" }));
    window.value("window.dispatchEvent(new Event('beforeprint'))");
    window.value("document.getElementById('printed').style.display = 'block'; 0");
    let paper = window.text("document.body.innerText");
    assert!(paper.trim().starts_with("The page for makers is printed from the sheet"), "{paper}");
}

fn document(name: &str, parts: &[(&str, String)], folder: &Path) -> std::path::PathBuf {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        let options = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
        writer.start_file(*name, options).unwrap();
        writer.write_all(text.as_bytes()).unwrap();
    }
    let path = folder.join(name);
    fs::write(&path, writer.finish().unwrap().into_inner()).unwrap();
    path
}

const WORDS: [&str; 2] = ["Round 1: 6 sc in a magic ring. (6)", "Round 2: 2 sc in each st around. (12)"];

#[test]
fn files_are_opened_whatever_they_are() {
    let Some(mut window) = desk() else { return };
    let folder = tempfile::tempdir().unwrap();
    let disc = folder.path().join("disc.rnd");
    // A mark at the beginning, and the line ends of another system.
    fs::write(&disc, format!("\u{feff}{}", DISC.replace('\n', "\r\n"))).unwrap();
    give_file(&mut window, &disc);
    until(&mut window, "writing.text().startsWith('pattern Tide Disc\\nterms US')");

    let paragraphs = |tag: &str, inner: &dyn Fn(&str) -> String| {
        WORDS.iter().map(|words| format!("<{tag}>{}</{tag}>", inner(words))).collect::<String>()
    };
    let docx = format!(
        "<w:document xmlns:w=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"><w:body>{}</w:body></w:document>",
        paragraphs("w:p", &|words| format!("<w:r><w:t>{words}</w:t></w:r>"))
    );
    let odt = format!(
        "<office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:text>{}</office:text></office:body></office:document-content>",
        paragraphs("text:p", &str::to_owned)
    );
    let kind = "application/vnd.oasis.opendocument.text".to_owned();
    let html = paragraphs("p", &str::to_owned);
    fs::write(folder.path().join("old.html"), format!("<!DOCTYPE html><html><body>{html}</body></html>")).unwrap();
    fs::write(folder.path().join("old.txt"), WORDS.join("\n")).unwrap();
    let all = [
        document("old.docx", &[("word/document.xml", docx)], folder.path()),
        document("old.odt", &[("mimetype", kind), ("content.xml", odt)], folder.path()),
        folder.path().join("old.html"),
        folder.path().join("old.txt"),
    ];
    for path in all {
        give_file(&mut window, &path);
        until(&mut window, "document.getElementById('taking').open");
        until(&mut window, "document.getElementById('old-told').textContent.includes('Read 2 of 2')");
        window.value("document.getElementById('old-take').click()");
        until(&mut window, "writing.text().includes('rnd 2:')");
        until(&mut window, RINGING);
        window.value("writing.open('')");
    }
    // What is no pattern is refused in words, and what lies on the desk stays.
    let broken = folder.path().join("broken.docx");
    fs::write(&broken, b"PK\x03\x04nothing").unwrap();
    give_file(&mut window, &broken);
    until(&mut window, "document.getElementById('said').textContent.startsWith('broken.docx')");
    is_quiet(&window);
}

/// Where the browser can write to a file, the second saving asks nothing.
#[test]
fn a_file_is_saved_where_it_was_chosen() {
    let Some(mut window) = desk() else { return };
    window.value(&format!("shelf.add({})", json!(DISC)));
    window.value(
        "window.asked = 0; window.showSaveFilePicker = async ({ suggestedName }) => { window.asked += 1; window.suggested = suggestedName; return { \
         name: 'mine.rnd', createWritable: async () => { let words = ''; return { write: async (w) => { words += w }, close: async () => { window.file = words } } } } }; 0",
    );
    window.value("document.getElementById('save').click()");
    until(&mut window, "document.getElementById('said').textContent === 'Saved to mine.rnd.'");
    assert_eq!(window.text("window.suggested"), "tide-disc.rnd");
    assert_eq!(window.text("window.file"), DISC);
    window.value("writing.replace(writing.text() + '# once more'); document.getElementById('save').click()");
    until(&mut window, "window.file.endsWith('# once more')");
    assert_eq!(window.value("window.asked"), json!(1));
    window.value("document.getElementById('save-as').click()");
    until(&mut window, "window.asked === 2");
    is_quiet(&window);
}

/// The line that is written is marked on the page, and a press on the page goes to the line that says it; by what says it, whatever the
/// pieces and rows are called.
#[test]
fn text_and_page_follow_each_other_by_line() {
    let Some(mut window) = desk() else { return };
    let text = "pattern Two Flags\nterms US\n\npiece Flag, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end = 4\n\
                row 2: sc to end = 4\nfasten off\n\npiece Pennant, in rows, as Flag to row 1\nrow 2: sc2tog, sc to end = 3\nfasten off\n";
    window.value(&format!("shelf.add({})", json!(text)));
    window.value("document.getElementById('tab-page').click()");
    let frame = "document.getElementById('page-frame').contentDocument";
    until(&mut window, &format!("{frame}?.getElementById('p2-l2') != null"));
    let here = format!("[...{frame}.querySelectorAll('[data-here]')].map(one => one.id).join()");
    for (line, marked) in [("row 2: sc to end", "p1-l2"), ("row 2: sc2tog", "p2-l2"), ("row 1:", "p1-l1,p2-l1")] {
        window.value(&format!("writing.go(writing.text().indexOf('{line}'))"));
        until(&mut window, &format!("{here} === '{marked}'"));
    }
    for (id, line) in
        [("p1-l2", "row 2: sc to end = 4"), ("p2-l2", "row 2: sc2tog, sc to end = 3"), ("p2-start", "start ch 5")]
    {
        window.value(&format!("{frame}.getElementById('{id}').click()"));
        assert_eq!(window.text("writing.line().text"), line);
    }
    is_quiet(&window);
}
