//! The designer's own words: Markdown without anything that a page must not hold.

use std::borrow::Cow;

use pulldown_cmark::{CowStr, Event, LinkType, Options, Parser, Tag, TagEnd};

use crate::limits::MOST_NESTING;
use crate::pattern::model::MakerWords;
use crate::words::{clean, keep_printable};

/// The Markdown of words for the maker. HTML in it is text; links lead to web pages, mail and places of this page
/// only; pictures are their description; headings are strong words, so that the page's own headings stay in order.
#[must_use]
pub fn markdown_events(markdown: &str) -> Vec<Event<'static>> {
    let mut kept_links = Vec::new();
    let mut events = Vec::new();
    for event in Parser::new_ext(&shallow(markdown), Options::empty()) {
        match event {
            Event::Start(tag) => start(tag, &mut kept_links, &mut events),
            Event::End(tag) => end(tag, &mut kept_links, &mut events),
            Event::Text(text) | Event::Html(text) | Event::InlineHtml(text) => lines(&text, &mut events),
            Event::Code(text) => events.push(Event::Code(clean(&text).into())),
            Event::SoftBreak | Event::HardBreak | Event::Rule => events.push(event.into_static()),
            // None of these is read without its option.
            Event::InlineMath(text) | Event::DisplayMath(text) | Event::FootnoteReference(text) => {
                lines(&text, &mut events);
            }
            Event::TaskListMarker(_) => {}
        }
    }
    events
}

/// Words in which quotes and lists stand no deeper in one another than brackets may: the signs of all of them are written once more
/// before every line in them. The sign of one more stands for itself.
fn shallow(markdown: &str) -> Cow<'_, str> {
    if !markdown.lines().any(|line| too_deep(line).is_some()) {
        return Cow::Borrowed(markdown);
    }
    let shown = markdown.lines().map(|line| match too_deep(line).and_then(|at| line.split_at_checked(at)) {
        Some((before, after)) => format!("{before}\\{after}"),
        None => line.to_owned(),
    });
    Cow::Owned(shown.collect::<Vec<_>>().join("\n"))
}

/// Where in a line the sign of a quote or of an entry stands that is one too deep.
fn too_deep(line: &str) -> Option<usize> {
    let is_rule = |sign: u8| line.bytes().all(|byte| byte == sign || byte == b' ');
    if is_rule(b'-') || is_rule(b'*') {
        return None;
    }
    let mut rest = line.trim_start();
    for _ in 0..MOST_NESTING {
        rest = rest.get(sign(rest)? + 1..)?.trim_start();
    }
    Some(line.len() - rest.len() + sign(rest)?)
}

/// Where the sign stands with which a text begins as a quote or as an entry of a list.
fn sign(text: &str) -> Option<usize> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let rest = text.get(digits..)?;
    let of_list = if digits > 0 { ['.', ')'].as_slice() } else { &['-', '*', '+'] };
    let entry =
        rest.starts_with(of_list) && rest.get(1..).is_none_or(|rest| rest.is_empty() || rest.starts_with([' ', '\t']));
    (entry || rest.starts_with('>') && digits == 0).then_some(digits)
}

/// The words of Markdown alone, paragraph by paragraph; an address stands behind the words that lead there.
#[must_use]
pub fn plain_words(markdown: &str) -> Vec<String> {
    let (mut paragraphs, mut current) = (Vec::new(), String::new());
    let mut address = String::new();
    let mut end = |current: &mut String| {
        let done = clean(&std::mem::take(current));
        if !done.is_empty() {
            paragraphs.push(done);
        }
    };
    for event in markdown_events(markdown) {
        match event {
            Event::Text(text) | Event::Code(text) => current.push_str(&text),
            Event::SoftBreak | Event::HardBreak => current.push(' '),
            Event::Start(Tag::Link { dest_url, .. }) => address = dest_url.to_string(),
            Event::End(TagEnd::Link) if !address.starts_with('#') => current.push_str(&format!(" ({address})")),
            Event::Start(Tag::Paragraph | Tag::Item | Tag::BlockQuote(_) | Tag::CodeBlock(_)) | Event::Rule => {
                end(&mut current);
            }
            // Whatever else there is has words inside it.
            _ => {}
        }
    }
    end(&mut current);
    paragraphs
}

/// Text that may have several lines.
fn lines(text: &str, events: &mut Vec<Event<'static>>) {
    for (index, line) in text.trim_end_matches('\n').split('\n').enumerate() {
        if index > 0 {
            events.push(Event::SoftBreak);
        }
        let line = keep_printable(line);
        if !line.is_empty() {
            events.push(Event::Text(line.into()));
        }
    }
}

fn start(tag: Tag<'_>, kept_links: &mut Vec<bool>, events: &mut Vec<Event<'static>>) {
    match tag {
        Tag::Heading { .. } => events.extend([Event::Start(Tag::Paragraph), Event::Start(Tag::Strong)]),
        Tag::HtmlBlock => events.push(Event::Start(Tag::Paragraph)),
        Tag::Link { dest_url, title, .. } => {
            let kept = is_allowed(&dest_url);
            kept_links.push(kept);
            if kept {
                let (dest_url, title) = (link(&dest_url), CowStr::from(without_numbers(&clean(&title))));
                events.push(Event::Start(Tag::Link { link_type: LinkType::Inline, dest_url, title, id: "".into() }));
            }
        }
        Tag::Paragraph
        | Tag::BlockQuote(_)
        | Tag::CodeBlock(_)
        | Tag::List(_)
        | Tag::Item
        | Tag::Emphasis
        | Tag::Strong => events.push(Event::Start(tag).into_static()),
        // A picture's description stays. None of the others is read without its option.
        Tag::Image { .. }
        | Tag::FootnoteDefinition(_)
        | Tag::DefinitionList
        | Tag::DefinitionListTitle
        | Tag::DefinitionListDefinition
        | Tag::Table(_)
        | Tag::TableHead
        | Tag::TableRow
        | Tag::TableCell
        | Tag::Strikethrough
        | Tag::Superscript
        | Tag::Subscript
        | Tag::MetadataBlock(_) => {}
    }
}

fn end(tag: TagEnd, kept_links: &mut Vec<bool>, events: &mut Vec<Event<'static>>) {
    match tag {
        TagEnd::Heading(_) => events.extend([Event::End(TagEnd::Strong), Event::End(TagEnd::Paragraph)]),
        TagEnd::HtmlBlock => events.push(Event::End(TagEnd::Paragraph)),
        TagEnd::Link => {
            if kept_links.pop().unwrap_or(false) {
                events.push(Event::End(TagEnd::Link));
            }
        }
        TagEnd::Paragraph
        | TagEnd::BlockQuote(_)
        | TagEnd::CodeBlock
        | TagEnd::List(_)
        | TagEnd::Item
        | TagEnd::Emphasis
        | TagEnd::Strong => events.push(Event::End(tag)),
        TagEnd::Image
        | TagEnd::FootnoteDefinition
        | TagEnd::DefinitionList
        | TagEnd::DefinitionListTitle
        | TagEnd::DefinitionListDefinition
        | TagEnd::Table
        | TagEnd::TableHead
        | TagEnd::TableRow
        | TagEnd::TableCell
        | TagEnd::Strikethrough
        | TagEnd::Superscript
        | TagEnd::Subscript
        | TagEnd::MetadataBlock(_) => {}
    }
}

/// A destination without characters that a page must not hold, and without numbers that differ by size.
fn link(destination: &str) -> CowStr<'static> {
    without_numbers(&keep_printable(destination)).into()
}

fn without_numbers(text: &str) -> String {
    text.replace(|c| MakerWords::number_of(c).is_some(), "")
}

fn is_allowed(destination: &str) -> bool {
    let destination = destination.trim_start().to_ascii_lowercase();
    ["http://", "https://", "mailto:", "#"].iter().any(|start| destination.starts_with(start))
}

#[cfg(test)]
mod tests {
    use pulldown_cmark::html::push_html;

    use super::markdown_events;

    fn html(markdown: &str) -> String {
        let mut out = String::new();
        push_html(&mut out, markdown_events(markdown).into_iter());
        out
    }

    #[test]
    fn quotes_and_lists_stand_in_one_another_to_a_depth_that_somebody_reads() {
        for sign in ["> ", "- ", "1. ", ">"] {
            let page = html(&(sign.repeat(4_000) + "words"));
            assert!(page.len() < 30_000, "{sign}: {}", page.len());
            assert!(page.matches("<blockquote>").count() + page.matches("<li>").count() <= 40, "{sign}");
            assert!(page.contains("words"), "{sign}");
        }
        assert_eq!(html(&"-".repeat(60)), "<hr />\n");
        assert_eq!(html(&"* ".repeat(60)), "<hr />\n");
    }

    #[test]
    fn markup_in_words_is_text() {
        assert_eq!(html("a <b onclick=x>b</b>"), "<p>a &lt;b onclick=x&gt;b&lt;/b&gt;</p>\n");
        assert_eq!(html("<script>alert(1)</script>"), "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>\n");
    }

    #[test]
    fn only_harmless_links_stay() {
        assert_eq!(html("[a](javascript:alert(1))"), "<p>a</p>\n");
        assert_eq!(html("[a]( JaVaScRiPt:x) [b](data:text/html,x)"), "<p>a b</p>\n");
        assert_eq!(html("[a](https://example.com/)"), "<p><a href=\"https://example.com/\">a</a></p>\n");
        assert_eq!(html("[a](#notes)"), "<p><a href=\"#notes\">a</a></p>\n");
        assert_eq!(html("[sc]\n\n[sc]: javascript:x"), "<p>sc</p>\n");
    }

    #[test]
    fn pictures_become_their_description_and_headings_strong_words() {
        assert_eq!(html("![a seal](https://example.com/a.png)"), "<p>a seal</p>\n");
        assert_eq!(html("# Fill it"), "<p><strong>Fill it</strong></p>\n");
    }
}
