//! Cloth worth keeping after a job: named rectangles, the largest first.

use crate::lays::ClothLay;
use geometry::Rect;

/// At most so many from one length.
const MOST: usize = 3;

/// A rectangle to keep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// To write on it: K1, K2 and so on within a cloth.
    pub id: String,
    /// Which strip of the lay it is left from.
    pub strip: usize,
    /// Where it lies, from the left selvedge and the cut end.
    pub place: Rect,
}

/// What to keep of a cloth. What is bought beyond the lay, less what is lost at the ends, counts.
pub fn kept(lay: &ClothLay) -> Vec<Kept> {
    let mut all = Vec::new();
    for (s, strip) in lay.answer.lay.strips.iter().enumerate() {
        let room = lay.instance.room(strip);
        for place in lay::leftover(&lay.instance, strip, room, lay::WORTH_KEEPING, MOST) {
            all.push(Kept { id: format!("K{}", all.len() + 1), strip: s, place });
        }
    }
    all
}
