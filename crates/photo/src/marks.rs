//! Marks read in a picture: which they are, and their four corners.

use crate::codes::{self, CELLS};
use crate::flat::FlatView;
use crate::picture::{Grey, Pixel};
use crate::regions::four_cornered;
use crate::sheet::{MARKS, SHEETS};
use geometry::Point;

/// Cells that may be read wrongly. Two marks differ in eleven, so five could be; the fewer, the fewer
/// chance marks in a floor's grain.
const WRONG: u32 = 3;

/// A mark that was read.
#[derive(Clone, Copy, Debug)]
pub struct Mark {
    /// Which of the family.
    pub code: usize,
    /// Upper left, upper right, lower right, lower left of its black border, to about a pixel.
    pub corners: [Pixel; 4],
}

/// All marks of our sheets in a picture, each once, by their number.
pub fn find_marks(grey: &Grey) -> Vec<Mark> {
    let size = grey.width.max(grey.height);
    let mut found = look(grey, (size / 60).max(8));
    if found.len() < 3 * MARKS {
        merge(&mut found, look(grey, (size / 140).max(6)));
        // Out of focus or small: the edges drawn harder.
        merge(&mut found, look(&grey.sharpened((size / 1600).max(1), 1.5), (size / 60).max(8)));
    }
    found.sort_by_key(|m| m.code);
    found
}

fn merge(found: &mut Vec<Mark>, more: Vec<Mark>) {
    for mark in more {
        if found.iter().all(|m| m.code != mark.code) {
            found.push(mark);
        }
    }
}

fn look(grey: &Grey, reach: usize) -> Vec<Mark> {
    let mut found: Vec<Mark> = Vec::new();
    for corners in four_cornered(grey, reach) {
        let Some(mark) = read(grey, corners) else { continue };
        if found.iter().all(|m| m.code != mark.code) {
            found.push(mark);
        }
    }
    found
}

/// The mark between four corners that are clockwise in the picture.
fn read(grey: &Grey, corners: [Pixel; 4]) -> Option<Mark> {
    let size = CELLS as f64;
    let at = [(0.0, 0.0), (size, 0.0), (size, size), (0.0, size)];
    let pairs: Vec<(Point, Pixel, f64)> =
        at.iter().zip(corners).map(|(p, c)| (Point::new(p.0, p.1), c, 1.0)).collect();
    let view = FlatView::through(&pairs)?;
    let cell = |row: f64, column: f64| {
        let spots = [(0.5, 0.5), (0.3, 0.3), (0.3, 0.7), (0.7, 0.3), (0.7, 0.7)];
        let of = |(r, c): (f64, f64)| grey.at(view.pixel(Point::new(column + c, row + r)));
        spots.into_iter().map(of).sum::<f64>() / spots.len() as f64
    };
    let last = CELLS - 1;
    let border = |i: usize| {
        let i = i as f64;
        [(0.0, i), (last as f64, i), (i, 0.0), (i, last as f64)]
    };
    let outside = |i: usize| {
        let (i, out) = (i as f64, CELLS as f64);
        [(-0.9, i), (out - 0.1, i), (i, -0.9), (i, out - 0.1)]
    };
    let values = |of: &dyn Fn(usize) -> [(f64, f64); 4]| -> Vec<f64> {
        (0..CELLS).flat_map(of).map(|(r, c)| cell(r, c)).collect()
    };
    let (black, white) = (values(&border), values(&outside));
    let mean = |v: &[f64]| v.iter().sum::<f64>() / v.len() as f64;
    let between = f64::midpoint(mean(&black), mean(&white));
    let wrong = black.iter().filter(|v| **v > between).count()
        + white.iter().filter(|v| **v < between).count();
    if mean(&white) < mean(&black) + 12.0 || wrong > 6 {
        return None;
    }
    let mut cells = 0u64;
    for row in 1..last {
        for column in 1..last {
            cells = cells << 1 | u64::from(cell(row as f64, column as f64) > between);
        }
    }
    let (code, quarters) = codes::read(cells, SHEETS * MARKS, WRONG)?;
    // A quarter counter-clockwise brings the upper right corner to the upper left.
    let upright = std::array::from_fn(|i| corners[(i + quarters) % 4]);
    Some(Mark { code, corners: upright })
}
