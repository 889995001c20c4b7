//! The sheets that are printed and laid round a part: a chessboard with a mark in every white square.
//!
//! Places on a sheet are in millimetres from the middle of its chessboard, x to the right and y up, as printed.

use crate::codes::CELLS;
use geometry::Point;

/// Side of a square in mm.
pub const SQUARE: f64 = 36.0;
/// Squares from left to right.
pub const ACROSS: usize = 5;
/// Squares from top to bottom.
pub const DOWN: usize = 7;
/// Side of a mark in mm, its black border included.
pub const MARK: f64 = 27.0;
/// Marks on a sheet: its white squares.
pub const MARKS: usize = 17;
/// How many different sheets there are.
pub const SHEETS: usize = 8;
/// The cross that tapes are laid to: left of the chessboard, half way up.
pub const CROSS: Point = Point::new(-98.0, 0.0);
/// Width of the chessboard: the check line across.
pub const WIDTH: f64 = SQUARE * ACROSS as f64;
/// Height of the chessboard: the check line up.
pub const HEIGHT: f64 = SQUARE * DOWN as f64;

/// The paper a sheet is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl Paper {
    /// Width and height in mm.
    pub const fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// Whether a square is black; row and column from the upper left. All four corners are.
pub const fn is_black(row: usize, column: usize) -> bool {
    (row + column).is_multiple_of(2)
}

/// The white squares with the marks that stand in them, row by row: mark, middle of the square.
pub fn marks(sheet: usize) -> impl Iterator<Item = (usize, Point)> {
    (0..DOWN)
        .flat_map(|row| (0..ACROSS).map(move |column| (row, column)))
        .filter(|&(row, column)| !is_black(row, column))
        .enumerate()
        .map(move |(n, (row, column))| (sheet * MARKS + n, middle(row, column)))
}

/// The middle of a square.
pub fn middle(row: usize, column: usize) -> Point {
    Point::new(
        (column as f64 + 0.5) * SQUARE - WIDTH / 2.0,
        HEIGHT / 2.0 - (row as f64 + 0.5) * SQUARE,
    )
}

/// The sheet of a mark, and the middle of the mark on it.
pub fn place_of(mark: usize) -> (usize, Point) {
    let sheet = mark / MARKS;
    let (_, at) = marks(sheet).nth(mark % MARKS).unwrap_or((mark, Point::default()));
    (sheet, at)
}

/// Corners of a mark about its middle: upper left, upper right, lower right, lower left.
pub const fn mark_corners(middle: Point) -> [Point; 4] {
    let half = MARK / 2.0;
    [
        Point::new(middle.x - half, middle.y + half),
        Point::new(middle.x + half, middle.y + half),
        Point::new(middle.x + half, middle.y - half),
        Point::new(middle.x - half, middle.y - half),
    ]
}

/// Side of a cell of a mark in mm.
pub const CELL: f64 = MARK / CELLS as f64;

/// Where four squares meet inside the chessboard: places that are found to a tenth of a pixel.
pub fn crossings() -> impl Iterator<Item = Point> {
    (1..DOWN).flat_map(|row| {
        (1..ACROSS).map(move |column| {
            Point::new(column as f64 * SQUARE - WIDTH / 2.0, HEIGHT / 2.0 - row as f64 * SQUARE)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::codes::CODES;

    #[test]
    fn there_are_codes_for_every_mark_of_every_sheet() {
        assert_eq!(marks(0).count(), MARKS);
        assert!(SHEETS * MARKS <= CODES.len());
        assert_eq!(crossings().count(), 24);
        assert_eq!(place_of(MARKS + 2).0, 1);
    }

    /// Source: ISO 216 (A4) and ANSI Y14.1 (letter) sizes; printers leave up to 6.4 mm at the edge white.
    #[test]
    fn chessboard_and_cross_fit_both_papers() {
        for paper in [Paper::A4, Paper::Letter] {
            let (width, height) = paper.size();
            assert!(CROSS.x - 3.0 > 0.0 - width / 2.0 + 3.9);
            assert!(HEIGHT < height - 2.0 * 6.4);
        }
    }
}
