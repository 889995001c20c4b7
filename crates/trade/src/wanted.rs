//! What is wanted of a piece besides its measures: what is kept, which hand, how the pattern lies, how it
//! is fixed.

use geometry::Length;

/// What is done with a board or foam found under the old cover.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Condition {
    /// Sound: used again.
    Keep,
    /// Mended and used again.
    Repair,
    /// Cut new.
    #[default]
    Renew,
}

/// Left, right, both, or neither.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// No side.
    #[default]
    Neither,
    /// As measured is the left one.
    Left,
    /// As measured is the right one.
    Right,
    /// Half of them as measured (left), half mirrored (right).
    Pair,
}

/// How the pattern must lie on a piece.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum PatternRule {
    /// Nobody has said: it lies anyhow, which is told where the cloth has a pattern.
    #[default]
    Unsaid,
    /// Anyhow.
    Free,
    /// A motif on the middle of the face.
    Centred,
    /// In step with all others of this name.
    Matched(String),
}

/// How a piece is fixed where it belongs.
#[derive(Clone, Debug, PartialEq)]
pub enum Fixing {
    /// Wood screws, through the face with a cap or from behind.
    Screws {
        /// How many each piece.
        count: usize,
        /// Number of the screw, ASME B18.6.1.
        gauge: u32,
        /// Length of the screw.
        length: Length,
        /// Through the face (with cap) or from behind.
        through_face: bool,
        /// Thickness of what it bites into behind the board, or of the rail when from behind.
        into: Length,
        /// Where the holes are, from the board's left and bottom edges in the face view, if measured.
        holes: Vec<(Length, Length)>,
    },
    /// Clips, so many each piece.
    Clips(usize),
    /// Hung on a cleat.
    Cleat,
    /// Only laid or pushed in.
    Loose,
}

/// Buttons covered in the face cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Buttons {
    /// On each piece.
    pub count: usize,
    /// Size: 40 lignes are an inch (button trade pages, measure dictionaries).
    pub ligne: u32,
}

/// Welt on a sewn piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Welt {
    /// None.
    #[default]
    None,
    /// Along the top seam, or the one seam there is.
    One,
    /// Along top and bottom seams, or both ends.
    Both,
}

/// How welt strips lie on the cloth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WeltGrain {
    /// Across the roll.
    #[default]
    Cross,
    /// Along the roll.
    Straight,
    /// At 45 degrees.
    Bias,
}

/// Sections along a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Wall to wall.
    pub length: Length,
    /// How many.
    pub sections: usize,
    /// Left at each end.
    pub end_gap: Length,
    /// Between finished neighbours.
    pub joint_gap: Length,
    /// Finished widths as measured, if they are not all alike.
    pub measured: Vec<Length>,
}
