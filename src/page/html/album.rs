//! The pictures and the charts of a page, which stand in the page itself.

use std::collections::BTreeMap;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, html as markup};

use super::super::Charts;
use crate::pattern::model::Picture;
use crate::words::clean;

/// What is drawn or photographed for a page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Album {
    /// By the name of the file, as the pattern has it.
    pictures: BTreeMap<String, Vec<u8>>,
    pub(super) charts: Charts,
}

impl Album {
    /// Adds what a file holds.
    pub fn add(&mut self, file: &str, bytes: Vec<u8>) {
        self.pictures.insert(file.to_owned(), bytes);
    }

    /// Adds charts of the stitches.
    pub fn draw(&mut self, charts: Charts) {
        self.charts = charts;
    }

    /// The address of a picture that holds the whole of it; nothing for one that is not here.
    fn address(&self, picture: &Picture) -> Option<String> {
        let bytes = self.pictures.get(&picture.file)?;
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
