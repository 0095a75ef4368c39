//! XML, one thing after the other.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

/// What comes next in a text.
pub(super) enum Part<'a> {
    /// An element begins, by its name without what stands before the colon.
    Opens(&'a str, &'a Element<'a>),
    /// It ends.
    Closes(&'a str),
    /// Words.
    Says(&'a str),
}

/// The beginning of an element.
pub(super) struct Element<'a>(BytesStart<'a>);

impl Element<'_> {
    /// What an attribute is, by its name without what stands before the colon.
    pub fn attribute(&self, name: &str) -> Option<String> {
        let found = self.0.attributes().flatten().find(|one| one.key.local_name().as_ref() == name)?;
        Some(found.value.into_owned())
    }
}

/// Shows everything in a text; whether it could be read to its end.
pub(super) fn walk(text: &str, see: &mut dyn FnMut(Part<'_>)) -> bool {
    let mut reader = Reader::from_str(text);
    loop {
        match reader.read_event() {
            Ok(Event::Start(start)) => {
                let element = Element(start);
                see(Part::Opens(element.0.local_name().as_ref(), &element));
            }
            Ok(Event::Empty(start)) => {
                let element = Element(start);
                let name = element.0.local_name();
                see(Part::Opens(name.as_ref(), &element));
                see(Part::Closes(name.as_ref()));
            }
            Ok(Event::End(end)) => see(Part::Closes(end.local_name().as_ref())),
            Ok(Event::Text(words)) => see(Part::Says(&words)),
            Ok(Event::CData(words)) => see(Part::Says(&words)),
            Ok(Event::GeneralRef(sign)) => match sign.resolve_char_ref() {
                Ok(Some(sign)) => see(Part::Says(sign.encode_utf8(&mut [0; 4]))),
                Ok(None) | Err(_) => see(Part::Says(named(&sign))),
            },
            Ok(Event::Eof) => return true,
            Ok(Event::Comment(_) | Event::Decl(_) | Event::PI(_) | Event::DocType(_)) => {}
            Err(_) => return false,
        }
    }
}

/// The five signs that have names in XML. Others are declared by the text itself, which documents don't do.
fn named(sign: &str) -> &'static str {
    match sign {
        "amp" => "&",
        "lt" => "<",
        "gt" => ">",
        "quot" => "\"",
        "apos" => "'",
        _ => "",
    }
}
