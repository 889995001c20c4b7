//! A length of cloth.

use super::Figure;
use crate::solid::Solid;
use trade::kinds::Measured;

pub fn draw(figure: &mut Figure, cloth: &Measured) {
    let (w, h) = (cloth.width.mm(), cloth.height.mm());
    figure.add(Solid::cuboid([0.0; 3], [w, h, 2.0]));
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("height", [w, 0.0, 0.0], [w, h, 0.0], 6.0);
}
