//! The HTML page passes a validating parser, whatever a designer writes, and shows her text as text.

use std::borrow::Cow;
use std::cell::RefCell;
use std::fs;
use std::rc::Rc;

use html5ever::interface::{ElementFlags, NodeOrText, QuirksMode, TreeSink};
use html5ever::tendril::{StrTendril, TendrilSink};
use html5ever::{Attribute, ExpandedName, ParseOpts, QualName, local_name, ns, parse_document};
use proptest::prelude::*;
use ringtrue::page::{Album, Edition, Letters, Wording, charts, html, html_with};
use ringtrue::stitch::Terms;

#[test]
fn every_sample_is_valid_in_every_edition() {
    let mut samples = 0;
    for folder in ["samples", "samples/faulty", "tests/print"] {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|ending| ending != "rnd") {
                continue;
            }
            let compiled = ringtrue::compile(&fs::read_to_string(&path).unwrap());
            for edition in editions() {
                let page = read(&html(&compiled, &edition));
                check(&page, &path.display().to_string());
                let is_draft = page.text.contains("This pattern is a draft");
                assert_eq!(is_draft, compiled.has_errors(), "{}", path.display());
            }
            let mut album = Album::default();
            album.draw(charts(&compiled, &Edition::default()));
            check(&read(&html_with(&compiled, &Edition::default(), &album)), &path.display().to_string());
            samples += 1;
        }
    }
    assert!(samples > 0, "there are no samples");
}

fn editions() -> [Edition; 5] {
    [
        Edition { letters: Letters::Larger, ..Edition::default() },
        Edition::default(),
        Edition { terms: Some(Terms::Uk), ..Edition::default() },
        Edition { words: Wording::InFull, ..Edition::default() },
        Edition { size: Some(0), ..Edition::default() },
    ]
}

/// Text that would do harm, or spoil the page, if it were not shown as text.
const HOSTILE: [&str; 9] = [
    "<script>alert(1)</script>",
    "\"onmouseover=alert(2) x=\"",
    "</style><img src=x onerror=alert(3)>",
    "&lt;b&gt; &amp; &#x3C;i&#x3E; &nosuch;",
    "-->]]><!-- {{x}} ${y} `z` | \\ * _ [l](javascript:alert(4))",
    "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaftsvorstandsmitglied",
    "\u{202e}gnorw \u{05e9}\u{05dc}\u{05d5}\u{05dd} \u{0645}\u{0631}\u{062d}\u{0628}\u{0627}",
    "👩‍👩‍👧‍👦 🧶 e\u{301}\u{327}",
    "'single' \"double\" ‘curly’",
];

/// A pattern with a text in every place where a designer writes one.
fn with_everywhere(text: &str) -> String {
    format!(
        "pattern {text}\nby {text}\nabout {text}\nsizes {text} one / {text} two\nterms US\nfor baby\nskill {text}\n\
         hook 4 mm ({text})\nyarn A \"{text}\", weight 3, 50 g = 110 m, {text}\ngauge 17 sts x 19 rows in {text} = 10 cm\n\
         finished {text} 46 / 50 cm\nfits {text} 48 / 52 cm\nnotion {text}\n\
         stitch lump \"{text}\": takes 1, makes 1 > {text}\nnote {text}\nversion {text}\n\
         picture tern.png \"{text}\"\ncorrection 2026-03-01 {text}\ncaution {text}\n\
         piece {text}, in joined rounds\nlead ch 1\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\n> {text}\n\
         rnd 2: [lump] to end, mark {text} = 6\nonly {text} one: rnd: sc to end\nfasten off\n"
    )
}

#[test]
fn hostile_text_is_shown_as_text() {
    for text in HOSTILE {
        // A slash and a double quote have a meaning in some of these lines; the others still show the text.
        let mut album = Album::default();
        album.add("tern.png", b"\x89PNG".to_vec());
        let compiled = ringtrue::compile(&with_everywhere(text));
        let page = read(&html_with(&compiled, &Edition::default(), &album));
        check(&page, text);
        let pictures = page.elements.iter().filter(|e| e.name == "img").count();
        assert_eq!(pictures, compiled.pattern.head.pictures.len(), "{text}");
        let shown: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let places = page.text.matches(&shown).count();
        assert!(places >= 5, "{text} is shown {places} times:\n{}", page.text);
    }
}

#[test]
fn hostile_words_for_the_maker_are_shown_as_text() {
    let words = [
        "> <iframe src=https://example.com></iframe>",
        "> [a](javascript:alert(1)) [b](data:text/html,x) [c](https://example.com) [d](vbscript:x)",
        "> ![p](https://example.com/p.png) <img src=x>",
        "> # Heading <h1>",
        "> <!-- --> <![CDATA[ x ]]> <?php ?> <!DOCTYPE html>",
        "> ```html <b>",
        "> <div> **strong** *soft* `code <b>` </div>",
    ];
    for line in words {
        let text = format!(
            "pattern X\nterms US\nhook 4 mm\npiece A, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n{line}\n"
        );
        check(&read(&html(&ringtrue::compile(&text), &Edition::default())), line);
    }
}

#[test]
fn the_parser_sees_faults() {
    for faulty in ["<!DOCTYPE html><title>x</title><p><b>x</p>", "<p>x", "<!DOCTYPE html><title>&nosuch;</title>\u{1}"]
    {
        assert_ne!(read(faulty).errors, Vec::<String>::new(), "{faulty}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn any_text_gives_a_valid_page(text in "\\PC{0,40}", words in "(?s).{0,60}") {
        let pattern = format!("{}\n> {}\n", with_everywhere(&text), words.replace('\n', "\n  "));
        check(&read(&html(&ringtrue::compile(&pattern), &Edition::default())), &pattern);
    }
}

/// What must hold of every page.
fn check(page: &Page, what: &str) {
    assert_eq!(page.errors, Vec::<String>::new(), "{what}");
    assert!(page.has_doctype, "{what}");
    let mut ids: Vec<&str> = page.attributes("id").collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "an id is there twice: {what}");
    // The page has its own script and no other.
    assert!(page.script == include_str!("../../src/page/html/page.js"), "{what}");
    assert_eq!(page.elements.iter().filter(|e| e.name == "script").count(), 1, "{what}");
    for forbidden in ["iframe", "object", "embed", "link", "base", "form", "math"] {
        assert!(!page.elements.iter().any(|e| e.name == forbidden), "{forbidden}: {what}");
    }
    // The only pictures are the page's own outlines and charts, and they name themselves.
    let pictures = page.elements.iter().filter(|e| e.name == "svg");
    let is_own = |e: &Element| e.attributes.iter().any(|(name, value)| name == "role" && value == "img");
    assert!(pictures.clone().all(is_own), "{what}");
    assert_eq!(
        pictures.count(),
        page.attributes("class").filter(|class| class.split(' ').any(|one| one == "outline" || one == "chart")).count(),
        "{what}"
    );
    let mut attributes = page.elements.iter().flat_map(|e| &e.attributes);
    assert!(attributes.all(|(name, _)| !name.starts_with("on") && name != "style"), "{what}");
    assert!(page.attributes("src").all(|address| address.starts_with("data:image/png;base64,")), "{what}");
    let policy = page.attributes("content").find(|content| content.starts_with("default-src 'none'"));
    assert!(policy.is_some_and(|policy| !policy.contains("unsafe")), "{what}");
    for link in page.attributes("href") {
        let allowed =
            ["http://", "https://", "mailto:", "#"].iter().any(|start| link.to_lowercase().starts_with(start));
        assert!(allowed, "{link}: {what}");
    }
    assert_eq!(page.attributes("lang").count(), 1, "{what}");
    check_headings(page, what);
}

/// One h1, and no level left out on the way down.
fn check_headings(page: &Page, what: &str) {
    let level = |e: &Element| e.name.strip_prefix('h').and_then(|n| n.parse::<u32>().ok());
    let levels: Vec<u32> = page.elements.iter().filter_map(level).collect();
    assert_eq!(levels.first(), Some(&1), "{what}");
    assert_eq!(levels.iter().filter(|n| **n == 1).count(), 1, "{what}");
    let steps = levels.iter().zip(levels.iter().skip(1));
    assert!(steps.clone().all(|(one, next)| *next <= one + 1), "{levels:?}: {what}");
}

/// What a parser makes of a page.
#[derive(Debug, Default)]
struct Page {
    elements: Vec<Element>,
    /// All text outside style and script, in order.
    text: String,
    errors: Vec<String>,
    script: String,
    has_doctype: bool,
}

#[derive(Debug)]
struct Element {
    name: String,
    attributes: Vec<(String, String)>,
}

impl Page {
    fn attributes<'a>(&'a self, wanted: &'a str) -> impl Iterator<Item = &'a str> {
        let all = self.elements.iter().flat_map(|e| &e.attributes);
        all.filter(move |(name, _)| name == wanted).map(|(_, value)| value.as_str())
    }
}

fn read(html: &str) -> Page {
    let options = ParseOpts {
        tokenizer: html5ever::tokenizer::TokenizerOpts { exact_errors: true, ..Default::default() },
        ..ParseOpts::default()
    };
    parse_document(Sink::default(), options).one(html)
}

/// Notes what the parser meets, in order; the tree itself isn't needed.
#[derive(Default)]
struct Sink(RefCell<Page>);

/// A node: its name, if it is an element.
#[derive(Clone)]
struct Node(Rc<QualName>);

impl Node {
    fn nameless() -> Self {
        Self(Rc::new(QualName::new(None, ns!(), local_name!(""))))
    }
}

impl TreeSink for Sink {
    type Handle = Node;
    type Output = Page;
    type ElemName<'a> = ExpandedName<'a>;

    fn finish(self) -> Page {
        self.0.into_inner()
    }

    fn parse_error(&self, message: Cow<'static, str>) {
        self.0.borrow_mut().errors.push(message.into_owned());
    }

    fn get_document(&self) -> Node {
        Node::nameless()
    }

    fn elem_name<'a>(&'a self, target: &'a Node) -> ExpandedName<'a> {
        target.0.expanded()
    }

    fn create_element(&self, name: QualName, attributes: Vec<Attribute>, _: ElementFlags) -> Node {
        let attributes = attributes.into_iter().map(|a| (a.name.local.to_string(), a.value.to_string())).collect();
        self.0.borrow_mut().elements.push(Element { name: name.local.to_string(), attributes });
        Node(Rc::new(name))
    }

    fn create_comment(&self, _: StrTendril) -> Node {
        Node::nameless()
    }

    fn create_pi(&self, _: StrTendril, _: StrTendril) -> Node {
        Node::nameless()
    }

    fn append(&self, parent: &Node, child: NodeOrText<Node>) {
        let NodeOrText::AppendText(text) = child else { return };
        let mut page = self.0.borrow_mut();
        match &*parent.0.local {
            "style" => {}
            "script" => page.script.push_str(&text),
            _ => page.text.push_str(&text),
        }
    }

    fn append_based_on_parent_node(&self, element: &Node, _: &Node, child: NodeOrText<Node>) {
        self.append(element, child);
    }

    fn append_doctype_to_document(&self, _: StrTendril, _: StrTendril, _: StrTendril) {
        self.0.borrow_mut().has_doctype = true;
    }

    fn get_template_contents(&self, target: &Node) -> Node {
        target.clone()
    }

    fn same_node(&self, one: &Node, other: &Node) -> bool {
        Rc::ptr_eq(&one.0, &other.0)
    }

    fn set_quirks_mode(&self, _: QuirksMode) {}

    fn append_before_sibling(&self, sibling: &Node, child: NodeOrText<Node>) {
        self.append(sibling, child);
    }

    fn add_attrs_if_missing(&self, _: &Node, _: Vec<Attribute>) {}

    fn remove_from_parent(&self, _: &Node) {}

    fn reparent_children(&self, _: &Node, _: &Node) {}
}
