//! A pad, with two lines over its crown.

use super::Figure;
use crate::solid::Solid;
use trade::kinds::Pad;

pub fn draw(figure: &mut Figure, pad: &Pad) {
    let (w, h) = (pad.width.mm(), pad.height.mm());
    let thick = figure.thick();
    let over = figure.crown((w, h), pad.crown.mm());
    figure.add(Solid::cuboid([0.0; 3], [w, h, thick]).lined(over));
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("height", [w, 0.0, 0.0], [w, h, 0.0], 6.0);
}
