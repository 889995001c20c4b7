//! A skirt round a box, its folds drawn where it is pleated all along.

use super::Figure;
use crate::solid::Solid;
use trade::kinds::Skirt;
use trade::kinds::skirt::Pleating;

pub fn draw(figure: &mut Figure, skirt: &Skirt) {
    let side = |i: usize| skirt.sides.get(i).map_or(500.0, |l| l.mm());
    let (w, d, h) = (side(0), side(1), skirt.drop.mm());
    let mut lines = Vec::new();
    if let Pleating::Even { spacing, .. } = skirt.pleats {
        let step = spacing.mm().max(w / 60.0);
        let folds =
            |length: f64| (1..).map(move |i| f64::from(i) * step).take_while(move |x| *x < length);
        lines.extend(folds(w).map(|x| vec![[x, 0.0, 0.0], [x, 0.0, h]]));
        lines.extend(folds(d).map(|y| vec![[w, y, 0.0], [w, y, h]]));
    }
    figure.add(Solid::cuboid([0.0; 3], [w, d, h]).lined(lines));
    figure.measure("sides", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("sides", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
    figure.measure("drop", [0.0, 0.0, h], [0.0, 0.0, 0.0], 5.0);
}
