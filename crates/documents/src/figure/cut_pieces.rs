//! A chair that stands for any: where its cuts are.

use super::Figure;
use crate::solid::Solid;

pub fn draw(figure: &mut Figure) {
    let (w, d) = (600.0, 600.0);
    figure.add(Solid::cuboid([0.0, 480.0, 0.0], [w, 120.0, 850.0]));
    figure.add(Solid::cuboid([0.0, 0.0, 120.0], [110.0, 480.0, 450.0]));
    figure.add(Solid::cuboid([w - 110.0, 0.0, 120.0], [110.0, 480.0, 450.0]));
    figure.add(Solid::cuboid([110.0, 0.0, 120.0], [w - 220.0, 480.0, 300.0]));
    figure.measure("cut", [110.0, d - 120.0, 850.0], [w - 110.0, d - 120.0, 850.0], -4.0);
}
