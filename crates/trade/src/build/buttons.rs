//! Covers of buttons.

use super::Ask;
use crate::message::message;
use crate::part::{BUTTON_COVER, Part, Stuff};
use crate::working::{Working, of};
use geometry::{Length, Outline, Path};

/// How wide a button is, of its lignes: 40 are an inch (button trade pages, measure dictionaries).
pub fn across(ligne: u32) -> Length {
    Length::from_mm(f64::from(ligne) * 0.635)
}

/// Discs for covered buttons: twice the button's diameter across.
///
/// Source: a household page.
pub fn button_covers(ask: &Ask, ligne: u32, count: usize) -> Part {
    let blank = across(ligne) * 2;
    let outline = Outline::solid(Path::circle(blank));
    let mut part = Part::new(message(BUTTON_COVER), Stuff::Cloth, ask.cloth, outline);
    part.count = count;
    part.explain(Working::of(message("work-button-cover"), 2 * of(blank.share(2))).both());
    part
}
