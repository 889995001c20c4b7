//! An ottoman.

use super::Figure;
use super::circle;
use crate::solid::Solid;
use trade::kinds::Ottoman;

pub fn draw(figure: &mut Figure, ottoman: &Ottoman) {
    let (w, h) = (ottoman.width.mm(), ottoman.height.mm());
    match ottoman.depth {
        None => {
            figure.add(Solid::lying(&circle(w), h, h));
            figure.measure("diameter", [0.0, w / 2.0, h], [w, w / 2.0, h], -4.0);
            figure.measure("height", [w, w / 2.0, 0.0], [w, w / 2.0, h], 7.0);
        }
        Some(depth) => {
            let d = depth.mm();
            figure.add(Solid::cuboid([0.0; 3], [w, d, h]));
            figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
            figure.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
            figure.measure("height", [0.0, 0.0, h], [0.0, 0.0, 0.0], 5.0);
        }
    }
}
