//! A chair that stands for any: where its cuts are, each numbered as it stands in the list.

use super::Figure;
use crate::solid::{Place, Solid};
use trade::kinds::CutPieces;
use trade::kinds::cut_pieces::words_of;

const WIDE: f64 = 600.0;
const DEEP: f64 = 600.0;
const ARM: f64 = 110.0;
const BACK: f64 = 480.0;

/// Ends of a cut's width on the chair, by the words that tell it; nothing for a name that is not known.
fn place(words: &[&str]) -> Option<[Place; 2]> {
    let right = WIDE - ARM;
    Some(match words {
        ["seat"] => [[ARM, 180.0, 420.0], [right, 180.0, 420.0]],
        ["deck"] | ["platform"] => [[ARM, 380.0, 420.0], [right, 380.0, 420.0]],
        ["lip"] => [[ARM, 20.0, 420.0], [right, 20.0, 420.0]],
        ["front", "border"] => [[ARM, 0.0, 230.0], [right, 0.0, 230.0]],
        ["inside", "arm"] => [[ARM, 40.0, 560.0], [ARM, 440.0, 560.0]],
        ["inside", "wing"] => [[60.0, 340.0, 760.0], [60.0, 470.0, 760.0]],
        ["inside", "back"] => [[ARM, BACK, 700.0], [right, BACK, 700.0]],
        ["outside", "wing"] => [[WIDE, 340.0, 760.0], [WIDE, 470.0, 760.0]],
        ["outside", "arm"] => [[WIDE, 40.0, 300.0], [WIDE, 440.0, 300.0]],
        ["facing"] | ["arm", "front"] => [[right, 0.0, 420.0], [WIDE, 0.0, 420.0]],
        ["outside", "back"] => [[0.0, DEEP, 970.0], [WIDE, DEEP, 970.0]],
        ["skirt"] => [[0.0, 0.0, 60.0], [WIDE, 0.0, 60.0]],
        _ => return None,
    })
}

pub fn draw(figure: &mut Figure, chair: &CutPieces) {
    let has_wings = chair.cuts.iter().any(|cut| cut.name.to_lowercase().contains("wing"));
    figure.add(Solid::cuboid([0.0, BACK, 0.0], [WIDE, DEEP - BACK, 970.0]));
    for left in [0.0, WIDE - ARM] {
        figure.add(Solid::cuboid([left, 0.0, 120.0], [ARM, BACK, 440.0]));
    }
    if has_wings {
        for left in [0.0, WIDE - 60.0] {
            figure.add(Solid::cuboid([left, 320.0, 560.0], [60.0, 160.0, 380.0]));
        }
    }
    figure.add(Solid::cuboid([ARM, 0.0, 120.0], [WIDE - 2.0 * ARM, BACK, 300.0]));
    let mut drawn = false;
    for (i, cut) in chair.cuts.iter().enumerate() {
        if let Some([from, to]) = words_of(&cut.name).and_then(place) {
            figure.one_of("cut", i, from, to, 0.0);
            drawn = true;
        }
    }
    if !drawn {
        figure.measure("cut", [ARM, BACK, 970.0], [WIDE - ARM, BACK, 970.0], -4.0);
    }
}
