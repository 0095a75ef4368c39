//! The pictures of a page, which stand in the page itself.

use std::collections::BTreeMap;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, html as markup};

use crate::pattern::model::Picture;
use crate::words::clean;

/// Pictures by the name of their file, as the pattern has it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Album(BTreeMap<String, Vec<u8>>);

impl Album {
    /// Adds what a file holds.
    pub fn add(&mut self, file: &str, bytes: Vec<u8>) {
        self.0.insert(file.to_owned(), bytes);
    }

    /// The address of a picture that holds the whole of it; nothing for one that is not here.
    fn address(&self, picture: &Picture) -> Option<String> {
        let bytes = self.0.get(&picture.file)?;
        Some(format!("data:{};base64,{}", Picture::media_type(&picture.file)?, STANDARD.encode(bytes)))
    }

    /// Pictures with their words; a picture that is not here is its words alone.
    pub(super) fn figures(&self, pictures: &[Picture]) -> Markup {
        markup! {
            @for picture in pictures {
                @match self.address(picture) {
                    Some(address) => figure { img src=(address) alt=(clean(&picture.words)); },
                    None => p.picture { "Picture: " bdi { (clean(&picture.words)) } },
                }
            }
        }
    }
}
