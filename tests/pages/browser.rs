//! The page in a browser: what it shows, remembers and prints, and that it asks nobody for anything.
//!
//! Needs Chromium. Without one these tests pass with a note; `RINGTRUE_BROWSER` names one that has to be there, and
//! `RINGTRUE_AXE` the script of axe-core, which checks the rules of WCAG.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test says what it expects by failing"
)]

mod window;

use std::fs;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use ringtrue::page::{Album, Edition, Letters, Wording, charts, html, html_with};
use ringtrue::stitch::Terms;
use serde_json::{Value, json};
use tempfile::TempDir;
use window::{Window, browser, note};

/// Pages in a folder that goes when the test is done.
struct Pages(TempDir);

impl Pages {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn sample(&self, name: &str, edition: &Edition) -> PathBuf {
        let text = fs::read_to_string(format!("samples/{name}.rnd")).unwrap();
        self.page(name, &html(&ringtrue::compile(&text), edition))
    }

    /// The same with its charts.
    fn charted(&self, name: &str, edition: &Edition) -> PathBuf {
        let compiled = ringtrue::compile(&fs::read_to_string(format!("samples/{name}.rnd")).unwrap());
        let mut album = Album::default();
        album.draw(charts(&compiled, edition));
        self.page(name, &html_with(&compiled, edition, &album))
    }

    fn page(&self, name: &str, html: &str) -> PathBuf {
        let path = self.0.path().join(format!("{}.html", name.replace('/', "-")));
        fs::write(&path, html).unwrap();
        path
    }
}

fn samples() -> Vec<String> {
    let names = fs::read_dir("samples").unwrap().filter_map(|entry| {
        let path = entry.unwrap().path();
        let is_sample = path.extension().is_some_and(|ending| ending == "rnd");
        is_sample.then(|| path.file_stem().unwrap().to_str().unwrap().to_owned())
    });
    let mut names: Vec<String> = names.collect();
    names.sort();
    names
}

/// Nothing was asked of the network, and nothing went wrong.
fn is_quiet(window: &Window, what: &str) {
    for (method, told) in &window.events {
        match method.as_str() {
            "Network.requestWillBeSent" => {
                let address = told["request"]["url"].as_str().unwrap();
                let own = address.starts_with("file://") || address.starts_with("data:") || address == "about:blank";
                assert!(own, "{what}: {address}");
            }
            "Runtime.exceptionThrown" | "Log.entryAdded" | "Runtime.consoleAPICalled" => panic!("{what}: {told}"),
            _ => {}
        }
    }
}

#[test]
fn every_page_is_quiet_and_fits_a_phone() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    for name in samples() {
        // A window of 1,280 pixels at 400 % is 320 wide.
        for (width, letters, words) in [
            (320, Letters::Usual, Wording::InFull),
            (320, Letters::Larger, Wording::InFull),
            (390, Letters::Usual, Wording::Abbreviated),
            (390, Letters::Larger, Wording::Abbreviated),
            (1280, Letters::Usual, Wording::Abbreviated),
        ] {
            window.width(width);
            window.go(&pages.sample(&name, &Edition { letters, words, ..Edition::default() }));
            let wide = window.value("document.documentElement.scrollWidth").as_u64().unwrap();
            assert!(wide <= u64::from(width), "{name} is {wide} wide at {width}");
        }
    }
    is_quiet(&window, "the samples");
}

/// What the lines of the page show, as a reader sees it.
const SHOWN: &str = "[...document.querySelectorAll('.line .count, #sizes td, #sizes th')]\
    .filter(e => e.getClientRects().length).map(e => e.innerText.replace(/[—\\s]+/g, ' ').trim()).join(' | ')";

#[test]
fn the_switch_leaves_one_size_with_and_without_a_script() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    let page = pages.sample("causeway-cap", &Edition::default());
    for without in [false, true] {
        window.ask("Emulation.setScriptExecutionDisabled", &json!({ "value": without }));
        window.go(&page);
        let all = window.text(SHOWN);
        assert!(all.contains("72 (84, 96) sts") && all.contains("large adult"), "{all}");
        let lines = |window: &mut Window| {
            window
                .value("[...document.querySelectorAll('.line')].filter(e => e.getClientRects().length).length")
                .as_u64()
        };
        let every = lines(&mut window);
        window.value("document.querySelector('#size-0').click()");
        let one = window.text(SHOWN);
        assert!(one.contains("| 72 sts |"), "{one}");
        for other in ["84", "96", "(72", ",", "adult"] {
            assert!(!one.contains(other), "{other} is left: {one}");
        }
        let notes = window.text("document.querySelector('#notes').innerText");
        assert!(!notes.contains("in brackets") && !notes.contains("some of the sizes"), "{notes}");
        // Two rounds of the crown are not for the smallest size.
        assert_eq!(lines(&mut window), every.map(|all| all - 2));
        window.value("document.querySelector('#size-all').click()");
        assert_eq!(window.text(SHOWN), all);
    }
    is_quiet(&window, "the switch");
}

#[test]
fn ticks_survive_a_reload_and_say_where_the_maker_is() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    let page = pages.sample("causeway-cap", &Edition::default());
    window.go(&page);
    assert_eq!(window.value("document.querySelectorAll('[aria-current]').length"), json!(0));
    assert_eq!(window.value("document.querySelector('.here').hidden"), json!(true));
    for id in ["p1-start", "p1-l1", "p1-l2"] {
        window.value(&format!("document.querySelector('#{id} .tick').click()"));
    }
    window.value("document.querySelector('#p1-l3 button').click()");
    window.value("document.querySelector('#p1-l3 button').click()");
    window.value("document.querySelector('#size-2').click()");
    window.reload();
    let ticked = "[...document.querySelectorAll('.tick:checked')].map(e => e.closest('.line').id).join(' ')";
    assert_eq!(window.text(ticked), "p1-start p1-l1 p1-l2");
    assert_eq!(window.text("document.querySelector('#p1-l3 input[type=number]').value"), "2");
    assert_eq!(window.text("document.querySelector('[aria-current=step]').id"), "p1-l3");
    assert_eq!(window.text("document.querySelector('.here a').innerText"), "Rows 3–80 (Band)");
    // Of the 115 rows and steps of the largest size five are done.
    assert_eq!(window.text("document.querySelector('.here .done').innerText"), "4 % done");
    assert_eq!(window.value("document.querySelector('#size-2').checked"), json!(true));

    // Another version has ticks of its own.
    let text = fs::read_to_string("samples/causeway-cap.rnd").unwrap().replace("version 1", "version 2");
    window.go(&pages.page("second", &html(&ringtrue::compile(&text), &Edition::default())));
    assert_eq!(window.text(ticked), "");
    window.go(&page);
    window.value("document.querySelector('.clear button').click()");
    window.reload();
    assert_eq!(window.text(ticked), "");
    assert_eq!(window.text("document.querySelector('#p1-l3 input[type=number]').value"), "0");
    is_quiet(&window, "the ticks");
}

/// A full counter ticks its line, one more than full is not possible, and every step back is taken by `Undo`.
#[test]
fn a_counter_that_is_full_ticks_its_line() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.sample("causeway-cap", &Edition { size: Some(0), ..Edition::default() }));
    let ticked = "document.querySelector('#p1-l3 .tick').checked";
    let count = "document.querySelector('#p1-l3 .counter input').value";
    let more = "document.querySelector('#p1-l3 [data-adds=\"1\"]').click()";
    window.value("(e => { e.value = '56'; e.dispatchEvent(new Event('change', { bubbles: true })) })(document.querySelector('#p1-l3 .counter input'))");
    window.value(more);
    assert_eq!((window.value(ticked), window.text(count)), (json!(false), "57".to_owned()));
    window.value(more);
    assert_eq!((window.value(ticked), window.text(count)), (json!(true), "58".to_owned()));
    window.value(more);
    assert_eq!(window.text(count), "58");
    for expected in ["58", "57", "56", "0"] {
        window.value("document.querySelector('.undo').click()");
        assert_eq!(window.text(count), expected);
    }
    assert_eq!(window.value(ticked), json!(false));
    // A line that is ticked has all its rows.
    window.value("document.querySelector('#p1-l3 .tick').click()");
    assert_eq!(window.text(count), "58");
    is_quiet(&window, "the counter");
}

/// Each of two booties has ticks of its own, and the page remembers which was worked last.
#[test]
fn every_copy_has_ticks_of_its_own() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.sample("ebb-gate-bootie", &Edition::default()));
    let ticked = "[...document.querySelectorAll('.tick:checked')].length";
    let choose = |copy: u32| {
        format!(
            "(e => {{ e.value = '{copy}'; e.dispatchEvent(new Event('change', {{ bubbles: true }})) }})(document.querySelector('.copies select'))"
        )
    };
    window.value("document.querySelector('#p1-l1 .tick').click()");
    window.value("document.querySelector('#p1-l2 .tick').click()");
    window.value(&choose(2));
    assert_eq!(window.value(ticked), json!(0));
    window.value("document.querySelector('#p1-l1 .tick').click()");
    window.reload();
    assert_eq!(window.text("document.querySelector('.copies select').value"), "2");
    assert_eq!(window.value(ticked), json!(1));
    window.value(&choose(1));
    assert_eq!(window.value(ticked), json!(2));
    is_quiet(&window, "the copies");
}

/// What is ticked on one edition of a pattern is ticked on the others.
#[test]
fn the_place_is_kept_across_editions() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.sample("causeway-cap", &Edition::default()));
    window.value("document.querySelector('#p2-l4 .tick').click()");
    let others = [
        Edition { terms: Some(Terms::Uk), ..Edition::default() },
        Edition { words: Wording::InFull, ..Edition::default() },
        Edition { letters: Letters::Larger, ..Edition::default() },
        Edition { size: Some(1), ..Edition::default() },
    ];
    for edition in others {
        window.go(&pages.sample("causeway-cap", &edition));
        assert_eq!(window.text("document.querySelector('.tick:checked').dataset.kept"), "p2-l4", "{edition:?}");
    }
}

/// The whole width of a line ticks it, and what can be pressed is at least 44 pixels high.
#[test]
fn the_whole_line_can_be_pressed() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    for width in [320, 390, 1280] {
        window.width(width);
        window.go(&pages.sample("causeway-cap", &Edition::default()));
        window.value("localStorage.clear()");
        window.reload();
        let low = window.value(
            "[...document.querySelectorAll('.step, button, .rows label, select, .counter input')]\
             .filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 43.9).map(e => e.outerHTML)",
        );
        assert_eq!(low, json!([]), "{width}");
        // A press at the far end of a line.
        let press = "(e => { const r = e.getBoundingClientRect(); \
             document.elementFromPoint(r.right - 3, r.bottom - 3).click(); return e.querySelector('.tick').checked \
             })((e => { e.scrollIntoView({ block: 'center' }); return e })(document.querySelector('#p2-l1 .step')))";
        assert_eq!(window.value(press), json!(true), "{width}");
    }
}

/// The picked size is in the name that a printed page gets, in the names of the boxes and in the drawings.
#[test]
fn the_picked_size_reaches_everything() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.sample("causeway-cap", &Edition::default()));
    window.value("document.querySelector('#size-2').click()");
    assert_eq!(window.text("document.title"), "Causeway Cap – large adult");
    let shown = window.text("document.querySelector('main').innerText");
    // The name of the size stands in the switch and in the tables, those of the others in the switch alone.
    assert_eq!(shown.matches("child").count(), 1 + shown.matches("children").count(), "{shown}");
    assert!(!shown.contains("only:") && !shown.contains("(48, 60)"), "{shown}");
    let drawn = window.text(
        "[...document.querySelectorAll('.piece-outline')].filter(e => e.getClientRects().length).map(e => e.textContent).join('|')",
    );
    assert!(drawn.contains("56.5 cm") && drawn.contains("50 cm") && !drawn.contains('('), "{drawn}");
    window.ask("Accessibility.enable", &json!({}));
    let tree = window.ask("Accessibility.getFullAXTree", &json!({}));
    let names: Vec<String> = tree["nodes"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|node| node["role"]["value"] == "checkbox")
        .filter_map(|node| node["name"]["value"].as_str().map(str::to_owned))
        .collect();
    assert!(names.iter().any(|name| name == "Rnds 4–19:"), "{names:?}");
    assert!(names.iter().all(|name| !name.replace("(RS)", "").contains('(')), "{names:?}");
}

/// Whatever is reached by tapping is reached by the keyboard: the switch, the boxes, and the first abbreviation of each
/// kind, whose words then stand at the foot of the window.
#[test]
fn the_keyboard_reaches_everything() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.sample("ebb-gate-bootie", &Edition::default()));
    let mut met: Vec<String> = Vec::new();
    for _ in 0..400 {
        for kind in ["keyDown", "keyUp"] {
            let key = json!({ "type": kind, "key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9 });
            window.ask("Input.dispatchKeyEvent", &key);
        }
        let at = window
            .text("(e => e.id || e.dataset.kept || e.title || e.className || e.localName)(document.activeElement)");
        if at == "single crochet" && !met.contains(&at) {
            let words = window.text("getComputedStyle(document.activeElement, '::after').content");
            assert_eq!(words, "\"single crochet\"");
        }
        if at == "body" && met.len() > 10 {
            break;
        }
        met.push(at);
    }
    for wanted in ["size-all", "p1-start", "p1-l1", "p1-l4", "single crochet", "stitch"] {
        assert!(met.iter().any(|at| at == wanted), "{wanted} is not reached: {met:?}");
    }
}

/// Of a chart what is done is grey and the round at hand is dark, whatever is ticked; before the first tick all of it is alike.
#[test]
fn a_chart_follows_the_ticks() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.charted("rockpool-square", &Edition::default()));
    let of = |class: &str| {
        format!(
            "[...document.querySelectorAll('.stitches > .{class}')].map(e => e.dataset.row + ' ' + e.dataset.line).join(', ')"
        )
    };
    assert_eq!(window.text(&(of("worked") + " + " + &of("at-hand"))), "");
    for id in ["p1-start", "p1-l1", "p1-l2"] {
        window.value(&format!("document.querySelector('#{id} .tick').click()"));
    }
    assert_eq!(window.text(&of("worked")), "0 p1-start, 1 p1-l1, 2 p1-l2");
    let at_hand = window.text(&of("at-hand"));
    assert!(at_hand.starts_with("3 p1-l") && !at_hand.contains(','), "{at_hand}");
    let inks = "['.worked', '.at-hand'].map(e => getComputedStyle(document.querySelector('.stitches > ' + e)).stroke).join(' ')";
    assert_eq!(window.text(inks), "rgb(153, 153, 153) rgb(0, 0, 0)");
    window.value("document.querySelector('.undo').click()");
    assert_eq!(window.text(&of("worked")), "0 p1-start, 1 p1-l1");
    // What is printed is the whole of it, in no colours.
    window.ask("Emulation.setEmulatedMedia", &json!({ "media": "print" }));
    assert_ne!(window.text("getComputedStyle(document.querySelector('.worked')).stroke"), "rgb(153, 153, 153)");
    assert_eq!(window.text("getComputedStyle(document.querySelector('.chart svg')).filter"), "grayscale(1)");
    is_quiet(&window, "the chart");
}

/// A stitch that is pressed, or come to by the keyboard, says what it is, on what it stands and in which line.
#[test]
fn a_stitch_that_is_pressed_says_what_it_is() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.charted("rockpool-square", &Edition::default()));
    let press = "(() => { const all = [...document.querySelectorAll('.chart g[data-is=\"sc\"]')]; const one = all[all.length - 3]; \
                 one.scrollIntoView({ block: 'center' }); const r = one.getBoundingClientRect(); \
                 const at = { bubbles: true, clientX: r.x + r.width / 2, clientY: r.y + r.height / 2 }; \
                 document.querySelector('.chart svg').dispatchEvent(new MouseEvent('click', at)); \
                 return one.classList.contains('picked-out') })()";
    assert_eq!(window.value(press), json!(true));
    let told = window.text("document.querySelector('.pressed').textContent");
    assert!(told.starts_with("sc of round 7, in the top of dc of round 6. Rnd 7: Join A"), "{told}");
    assert_eq!(
        window.text("document.querySelector('.pressed a').hash"),
        window.text("'#' + document.querySelectorAll('.line')[document.querySelectorAll('.line').length - 2].id")
    );
    // By the keyboard: the buttons are buttons, and go from stitch to stitch in the order of the work.
    window.value("document.querySelector('[data-steps=\"1\"]').click()");
    let next = window.text("document.querySelector('.pressed').textContent");
    assert!(next.starts_with("sc of round 7"), "{next}");
    let width = "document.querySelector('.chart svg').getBoundingClientRect().width";
    let before = window.value(width).as_f64().unwrap();
    window.value("document.querySelector('[data-zooms=\"1\"]').click()");
    assert!(window.value(width).as_f64().unwrap() > 1.4 * before);
    assert_eq!(window.value("document.documentElement.scrollWidth <= innerWidth"), json!(true));
    window.value("document.querySelector('[data-zooms=\"-1\"]').click()");
    assert!((window.value(width).as_f64().unwrap() - before).abs() < 2.0);
    is_quiet(&window, "the chart");
}

#[test]
fn the_page_prints_with_numbered_sheets() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    // The last lines of the pup, its finishing, stand behind its last piece and on no sheet of their own.
    let printed = [
        ("causeway-cap", Letters::Usual, 2, 2),
        ("causeway-cap", Letters::Larger, 5, 29),
        ("skerry-pup", Letters::Usual, 3, 4),
    ];
    for (sample, letters, least, most) in printed {
        window.go(&pages.sample(sample, &Edition { letters, ..Edition::default() }));
        let printed = window.ask("Page.printToPDF", &json!({ "preferCSSPageSize": true, "printBackground": true }));
        let pdf = STANDARD.decode(printed["data"].as_str().unwrap()).unwrap();
        assert!(pdf.starts_with(b"%PDF-"));
        let text = String::from_utf8_lossy(&pdf);
        let count = text.split("/Count ").skip(1).filter_map(|rest| rest.split(|c: char| !c.is_ascii_digit()).next());
        let sheets: u32 = count.filter_map(|digits| digits.parse().ok()).max().unwrap_or_default();
        assert!((least..=most).contains(&sheets), "{sample}: {sheets} sheets");
    }
    // On paper there is nothing to press, and what is folded away is there.
    window.ask("Emulation.setEmulatedMedia", &json!({ "media": "print" }));
    window.go(&pages.sample("ebb-line-shawl", &Edition::default()));
    let shown = |window: &mut Window, wanted: &str| {
        window.value(&format!(
            "[...document.querySelectorAll('{wanted}')].some(e => e.checkVisibility({{contentVisibilityAuto: true}}))"
        ))
    };
    assert_eq!(shown(&mut window, ".contents, .counter, .clear, .here"), json!(false));
    assert_eq!(shown(&mut window, ".line"), json!(true));
    let folded = "getComputedStyle(document.querySelector('details.rows'), '::details-content').contentVisibility";
    assert_eq!(window.text(folded), "visible");
    is_quiet(&window, "printing");
}

/// However long labels and counts are, there is room for the words between them.
#[test]
fn the_words_of_a_line_have_room() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    for sample in ["rockpool-square", "longshore-jumper", "lightship-bookmark"] {
        window.go(&pages.sample(sample, &Edition::default()));
        for width in [320, 720, 820, 1280] {
            window.ask(
                "Emulation.setDeviceMetricsOverride",
                &json!({ "width": width, "height": 800, "deviceScaleFactor": 1, "mobile": false }),
            );
            let narrowest = "Math.min(...[...document.querySelectorAll('.step > .do')]\
                             .map(e => e.getBoundingClientRect().width).filter(width => width > 0))";
            let narrowest = window.value(narrowest).as_f64().unwrap();
            assert!(narrowest > 150.0, "{sample} at {width}: {narrowest}");
            assert_eq!(
                window.value("document.documentElement.scrollWidth <= innerWidth"),
                json!(true),
                "{sample} at {width}"
            );
        }
    }
}

/// A few lines on a last sheet are made more, or fewer, by letters of another size; on the screen nothing changes.
#[test]
fn letters_on_paper_fit_the_sheets() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    for (sample, other) in [("clinker-cloth", true), ("causeway-cap", false)] {
        window.go(&pages.sample(sample, &Edition::default()));
        let high = "document.body.getBoundingClientRect().height";
        let before = window.value(high);
        let fit = "(dispatchEvent(new Event('beforeprint')), document.documentElement.style.getPropertyValue('--fit'))";
        assert_eq!(window.text(fit) != "1", other, "{sample}");
        assert_eq!(window.value(high), before, "{sample}");
    }
    is_quiet(&window, "fitting the sheets");
}

#[test]
fn a_picture_stands_in_the_page_and_a_strange_script_does_not_run() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    let text = "pattern <script>document.title='x'</script>\npicture dot.gif \"A <b>dot\"\nterms US\nfor home\n\
                piece A, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n> <img src=x onerror=alert(1)>\n";
    // The smallest picture there is: one dot, as the GIF89a specification has it.
    let dot = STANDARD.decode("R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7").unwrap();
    let mut album = Album::default();
    album.add("dot.gif", dot);
    window.go(&pages.page("dot", &html_with(&ringtrue::compile(text), &Edition::default(), &album)));
    assert_eq!(window.text("document.title"), "<script>document.title='x'</script>");
    assert_eq!(window.value("document.images.length"), json!(1));
    assert_eq!(window.value("document.images[0].naturalWidth"), json!(1));
    assert_eq!(window.text("document.images[0].alt"), "A <b>dot");
    is_quiet(&window, "the picture");

    // The policy holds: a script that somebody puts into the page later on is not run.
    window.value(
        "(s => { s.textContent = 'window.strange = 1'; document.body.append(s) })(document.createElement('script'))",
    );
    assert_eq!(window.text("typeof window.strange"), "undefined");
}

/// Background and letters change with what the reader likes better.
#[test]
fn there_is_a_dark_page_and_a_light_one() {
    let Some(browser) = browser() else { return };
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    window.go(&pages.sample("causeway-cap", &Edition::default()));
    let lightness =
        "getComputedStyle(document.body).backgroundColor.match(/[0-9]+/g).reduce((a, b) => a + Number(b), 0)";
    window.scheme("light");
    assert!(window.value(lightness).as_u64().unwrap() > 600);
    window.scheme("dark");
    assert!(window.value(lightness).as_u64().unwrap() < 150);
}

/// Every sample, light and dark, by the rules of WCAG 2.2 as axe-core checks them (Deque, Mozilla Public License 2.0).
#[test]
fn every_page_is_accessible() {
    let (Some(browser), Some(axe)) = (browser(), std::env::var_os("RINGTRUE_AXE")) else {
        note("NOT TESTED: accessibility needs a browser and axe-core; see `.ci/run`.");
        return;
    };
    let axe = fs::read_to_string(Path::new(&axe)).unwrap();
    let (pages, mut window) = (Pages::new(), Window::open(&browser));
    let mut check = |page: &Path, what: &str| {
        window.width(390);
        for scheme in ["light", "dark"] {
            window.scheme(scheme);
            window.go(page);
            // Ticked and opened, so that everything there is has been seen.
            window.value("document.querySelectorAll('.tick').forEach((e, n) => n < 2 && e.click())");
            window.value("document.querySelectorAll('details').forEach(e => e.open = true)");
            window.value(&format!("{axe}; 0"));
            let found = window.value(
                "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })\
                 .then(r => r.passes.length < 20 ? ['nothing was checked'] : r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html).slice(0, 3).join(' , ')))",
            );
            assert_eq!(found, Value::Array(Vec::new()), "{what}, {scheme}");
        }
    };
    check(&pages.charted("rockpool-square", &Edition::default()), "with its chart");
    check(&pages.charted("ebb-gate-bootie", &Edition::default()), "with charts of sizes");
    for name in samples() {
        check(&pages.sample(&name, &Edition::default()), &name);
    }
    let aloud = Edition { words: Wording::Aloud, size: Some(0), ..Edition::default() };
    check(&pages.sample("causeway-cap", &aloud), "read out");
    check(&pages.sample("causeway-cap", &Edition { letters: Letters::Larger, ..Edition::default() }), "large print");
    check(&pages.sample("faulty/one-size-breaks", &Edition::default()), "a draft");
}
