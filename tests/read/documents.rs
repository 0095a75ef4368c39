//! A pattern in a word processor's document or on a web page is read as the same words in plain text are.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::io::{Cursor, Write as _};

use ringtrue::intake::{Refused, words};
use ringtrue::limits;
use ringtrue::read::read;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

const PLAIN: &str = "# Gannet Cap\n\n## Crown\n\nMake a magic ring.\n\nRnd 1: 6 sc in ring. (6)\n\nRnd 2: Inc × 6 (12)\n\n\
                     Rnd 3: *Sc, inc; rep from * around. (18)\n\nRnd 4 *Sc in next 2 sts, inc; rep from * around. (24)\n\n1. Fasten off.\n\n2. Weave in ends.\n";

fn packed(parts: &[(&str, &str)]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        writer.start_file(*name, SimpleFileOptions::default().compression_method(CompressionMethod::Stored)).unwrap();
        writer.write_all(text.as_bytes()).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

fn docx() -> Vec<u8> {
    let space = "xmlns:w=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"";
    let paragraph = |properties: &str, words: &str| {
        format!(
            "<w:p><w:pPr>{properties}<w:tabs><w:tab w:val=\"left\" w:pos=\"709\"/></w:tabs></w:pPr><w:r><w:t>{words}</w:t></w:r></w:p>"
        )
    };
    let style = |style: &str| format!("<w:pStyle w:val=\"{style}\"/>");
    let entry = "<w:numPr><w:ilvl w:val=\"0\"/><w:numId w:val=\"4\"/></w:numPr>";
    let cell = |words: &str| format!("<w:tc>{}</w:tc>", paragraph("", words));
    let body = [
        paragraph(&style("berschrift1"), "Gannet Cap"),
        paragraph(&style("berschrift2"), "Crown"),
        paragraph("", "Make a magic ring."),
        // A line broken within a paragraph, and what was struck out.
        "<w:p><w:r><w:t>Rnd 1: 6 sc in ring. (6)</w:t><w:br/><w:t>Rnd 2: Inc &#215; 6</w:t><w:tab/><w:t>(12)</w:t></w:r>\
         <w:del><w:r><w:delText>(13)</w:delText></w:r></w:del></w:p>"
            .to_owned(),
        paragraph("", "Rnd 3: *Sc, inc; rep from * around. (18)"),
        format!(
            "<w:tbl><w:tr>{}{}{}</w:tr></w:tbl>",
            cell("Rnd 4"),
            cell("*Sc in next 2 sts, inc; rep from * around."),
            cell("(24)")
        ),
        paragraph(entry, "Fasten off."),
        paragraph(entry, "Weave in ends."),
    ];
    let document =
        format!("<?xml version=\"1.0\"?><w:document {space}><w:body>{}</w:body></w:document>", body.concat());
    let numbering = format!(
        "<w:numbering {space}><w:abstractNum w:abstractNumId=\"2\"><w:lvl w:ilvl=\"0\"><w:start w:val=\"1\"/>\
         <w:numFmt w:val=\"decimal\"/><w:lvlText w:val=\"%1.\"/></w:lvl></w:abstractNum>\
         <w:num w:numId=\"4\"><w:abstractNumId w:val=\"2\"/></w:num></w:numbering>"
    );
    let names = ["1", "2"]
        .map(|level| format!("<w:style w:styleId=\"berschrift{level}\"><w:name w:val=\"heading {level}\"/></w:style>"));
    let styles = format!("<w:styles {space}>{}</w:styles>", names.concat());
    packed(&[
        ("word/document.xml", document.as_str()),
        ("word/numbering.xml", numbering.as_str()),
        ("word/styles.xml", styles.as_str()),
    ])
}

fn odt() -> Vec<u8> {
    let content = "<?xml version=\"1.0\"?><office:document-content xmlns:office=\"o\" xmlns:text=\"t\" xmlns:table=\"b\" xmlns:style=\"s\">\
        <office:automatic-styles><text:list-style style:name=\"L1\"><text:list-level-style-number text:level=\"1\" style:num-format=\"1\"/>\
        </text:list-style></office:automatic-styles><office:body><office:text>\
        <text:tracked-changes><text:p>gone</text:p></text:tracked-changes>\
        <text:h text:outline-level=\"1\">Gannet Cap</text:h><text:h text:outline-level=\"2\">Crown</text:h>\
        <text:p>Make a\n  magic ring.</text:p><text:p>Rnd 1: <text:span>6 sc</text:span> in ring.<text:s text:c=\"2\"/>(6)<text:line-break/>Rnd 2: Inc × 6<text:tab/>(12)</text:p>\
        <text:p>Rnd 3: *Sc, inc; rep from * around. (18)<text:note><text:p>a footnote</text:p></text:note></text:p>\
        <table:table><table:table-row><table:table-cell><text:p>Rnd 4</text:p></table:table-cell><table:table-cell><text:p>*Sc in next 2 sts, inc; rep from * around.</text:p></table:table-cell>\
        <table:table-cell><text:p>(24)</text:p></table:table-cell></table:table-row></table:table>\
        <text:list text:style-name=\"L1\"><text:list-item><text:p>Fasten off.</text:p></text:list-item><text:list-item><text:p>Weave in ends.</text:p></text:list-item></text:list>\
        </office:text></office:body></office:document-content>";
    packed(&[("mimetype", "application/vnd.oasis.opendocument.text"), ("content.xml", content)])
}

const PAGE: &str = "<!doctype html><title>x</title><h1>Gannet Cap</h1><h2>Crown</h2><p>Make a magic ring.<p>Rnd 1: 6 sc in ring. (6)<br>\
    Rnd 2: Inc &times; 6 (12)<p>Rnd 3: *Sc, inc; rep from * around. (18)<table><tr><td>Rnd 4<td>*Sc in next 2 sts, inc; rep from * around.</td><td>(24)</td></tr></table>\
    <ol><li>Fasten off.<li>Weave in ends.</ol>";

#[test]
fn a_document_is_read_as_its_words_are() {
    let plain = read(PLAIN);
    assert_eq!(plain.read(), plain.instructions.len(), "{}", plain.notation);
    assert!(plain.notation.contains("rnd 4: [sc 2, inc] to end = 24"), "{}", plain.notation);
    for (name, bytes) in [("docx", docx()), ("odt", odt()), ("html", PAGE.as_bytes().to_vec())] {
        let taken = words(&bytes).unwrap();
        assert_eq!(read(&taken.text).notation, plain.notation, "{name}:\n{}", taken.text);
    }
}

#[test]
fn a_document_that_is_cut_off_is_refused() {
    for whole in [docx(), odt()] {
        for length in [5, 40, whole.len() / 2, whole.len() - 30] {
            assert!(matches!(words(&whole[..length]), Err(Refused::Damaged(_))), "{length}");
        }
    }
    let unclosed = packed(&[("word/document.xml", "<w:document><w:p><w:r><w:t>Row 1</w:r>")]);
    assert!(matches!(words(&unclosed), Err(Refused::Damaged(_))));
    let other = packed(&[("letter.txt", "Row 1: sc")]);
    assert!(matches!(words(&other), Err(Refused::Other(_))));
}

#[test]
fn a_document_that_unpacks_without_end_is_refused() {
    let text = format!("<w:document><w:t>{}</w:t></w:document>", "a".repeat(limits::MOST_UNPACKED));
    assert_eq!(words(&packed(&[("word/document.xml", &text)])), Err(Refused::TooLong));
    let text = format!("<w:document><w:r><w:t>{}</w:t></w:r></w:document>", "a".repeat(limits::MOST_BYTES + 1));
    assert_eq!(words(&packed(&[("word/document.xml", &text)])), Err(Refused::TooLong));
}
