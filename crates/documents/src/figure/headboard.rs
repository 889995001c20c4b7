//! A headboard with its border, and wings if it has them.

use super::Figure;
use crate::solid::Solid;
use trade::kinds::Headboard;

pub fn draw(figure: &mut Figure, board: &Headboard) {
    let (w, h, k) = (board.width.mm(), board.height.mm(), board.border.mm());
    let thick = (figure.foam + figure.board).max(10.0);
    let face = [
        vec![[k, 0.0, 0.0], [k, 0.0, h - k], [w - k, 0.0, h - k], [w - k, 0.0, 0.0]],
        vec![[0.0, 0.0, h], [k, 0.0, h - k]],
        vec![[w, 0.0, h], [w - k, 0.0, h - k]],
    ];
    if let Some(wing) = board.wing {
        let d = wing.mm();
        figure.add(Solid::cuboid([-thick, -d, 0.0], [thick, d + thick, h]));
        figure.add(Solid::cuboid([w, -d, 0.0], [thick, d + thick, h]));
        figure.measure("wing", [w + thick, -d, 0.0], [w + thick, 0.0, 0.0], 5.0);
    }
    figure.add(Solid::cuboid([0.0; 3], [w, thick, h]).lined(face.to_vec()));
    figure.measure("width", [0.0, 0.0, h], [w, 0.0, h], -4.0);
    figure.measure("height", [k + (w - k) / 2.0, 0.0, 0.0], [k + (w - k) / 2.0, 0.0, h], 0.0);
    figure.measure("border", [0.0, 0.0, h * 0.35], [k, 0.0, h * 0.35], 0.0);
}
