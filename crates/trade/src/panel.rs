//! The outline of a board and what happens at its edges, as measured.

use geometry::{Corner, Length};

/// What happens to cloth at one edge of a covered panel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Edge {
    /// Goes round foam and board and is stapled on the back.
    #[default]
    Stapled,
    /// Foam set back from the board's edge by this.
    Lip(Length),
    /// Butts its neighbour: no cloth beyond the edge.
    Joined,
    /// Goes on for this length past the edge of the foam, tucked away.
    Tucked(Length),
    /// Ends at the edge with a seam allowance: sewn to another part.
    Sewn,
    /// Nothing at all is done here; same cloth as joined, no staples either side.
    Open,
}

/// How foam ends at a stapled edge.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FoamEdge {
    /// Straight down: the cover goes down all its thickness.
    #[default]
    Square,
    /// Cut away at 45 degrees: the cover goes down the slope.
    Bevelled,
    /// Pulled down to the board by the cover, as on a drop-in seat: half its thickness is left. Common
    /// practice, no source; a workshop cuts 27 in blanks for 20 in seats of 2 in foam so.
    PulledDown,
}

impl FoamEdge {
    /// All, with their words in a job file.
    pub const ALL: [(&'static str, Self); 3] =
        [("square", Self::Square), ("bevelled", Self::Bevelled), ("pulled down", Self::PulledDown)];

    /// How far beyond the foam's outline the cover goes over foam of a thickness, until it is level with the
    /// board.
    ///
    /// Source: a slope of 45 degrees is the root of two long, and lies its own height inside; geometry.
    pub fn reach(self, foam: Length) -> Length {
        match self {
            Self::Square => foam,
            Self::Bevelled => Length::from_mm(foam.mm() * (std::f64::consts::SQRT_2 - 1.0)),
            Self::PulledDown => foam.share(2),
        }
    }
}

/// One side of a panel: what happens there, and allowances that differ.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Side {
    /// How foam ends here, if not as on the rest of the piece.
    pub foam_edge: Option<FoamEdge>,
    /// What happens.
    pub edge: Edge,
    /// Turn-under here.
    pub turn_under: Option<Length>,
    /// More cloth that lies over a crown before the edge is reached.
    pub over: Length,
}

/// A hole for a vent, socket or switch.
#[derive(Clone, Debug, PartialEq)]
pub struct CutOut {
    /// What goes there.
    pub what: String,
    /// In the face view, in the panel's own coordinates: the opening in the cover.
    pub shape: geometry::Path,
    /// How far the fitting's flange covers beyond the opening, all round.
    pub flange: Length,
}

/// The outline of a board, seen from the face.
#[derive(Clone, Debug, PartialEq)]
pub enum PanelShape {
    /// Sides: bottom, right, top, left. The width is nought if a run gives it.
    Rectangle {
        /// Left to right.
        width: Length,
        /// Bottom to top.
        height: Length,
        /// Corner radii from the bottom left, counter-clockwise.
        radii: [Length; 4],
        /// Corner to corner, if measured.
        diagonals: Vec<Length>,
    },
    /// Two level sides. Sides: bottom, right, top, left.
    Trapezoid {
        /// Bottom side.
        bottom: Length,
        /// Top side.
        top: Length,
        /// Square to both.
        height: Length,
        /// How far the top's left end lies right of the bottom's; the middle if not measured.
        /// Negative when it lies left.
        offset: Option<Length>,
        /// Corner radius.
        radius: Length,
        /// Corner to corner, if measured: bottom left to top right first.
        diagonals: Vec<Length>,
    },
    /// One side all round.
    Disc {
        /// Across.
        diameter: Length,
    },
    /// A disc with a round hole in the middle.
    Ring {
        /// Across.
        outer: Length,
        /// Of the hole.
        inner: Length,
    },
    /// A wide front with a narrower body behind: a T, or an L if it widens on one side only. Sides from
    /// the front, counter-clockwise.
    Tee {
        /// Along the front, ears included.
        front: Length,
        /// Between the arms.
        body: Length,
        /// Front to back over all.
        depth: Length,
        /// Front to back of the ears.
        ear: Length,
        /// Which sides have an ear.
        ears: Ears,
        /// Of the outer corners.
        radius: Length,
    },
    /// Sides as measured all round, counter-clockwise, and distances between corners: fitted by least
    /// squares.
    Sides {
        /// Side `i` leaves corner `i`.
        sides: Vec<Length>,
        /// From corner, to corner (from 0), length.
        diagonals: Vec<(usize, usize, Length)>,
    },
    /// Measured from a straight base line: how high the outline stands at so many places along it.
    Offsets {
        /// Length of the base line.
        base: Length,
        /// Along the base from its left end, and up.
        points: Vec<(Length, Length)>,
        /// A curve through the points, else straight from one to the next.
        curved: bool,
    },
    /// Any corners, walked counter-clockwise seen from the face; side `i` leaves corner `i`.
    Corners(Vec<Corner>),
    /// Lines and arcs taken from a photograph or a drawing, walked as corners are.
    Traced {
        /// Where stretches meet; each bows as it was seen.
        corners: Vec<Corner>,
        /// How true it is: 95 in 100 parts of it within this. Nought if nobody said.
        within: Length,
    },
}

/// Where a T or L widens.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ears {
    /// Both sides: a T.
    #[default]
    Both,
    /// The left side only.
    Left,
    /// The right side only.
    Right,
}

/// A rectangle cut out of a straight side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notch {
    /// Which side, from 0.
    pub side: usize,
    /// From where the side starts, walking counter-clockwise.
    pub from: Length,
    /// Along the side.
    pub width: Length,
    /// Into the panel.
    pub depth: Length,
}

/// The number of a side, from 0; `None` for what names none.
pub fn side_number(name: &str) -> Option<usize> {
    match name {
        "bottom" => Some(0),
        "right" => Some(1),
        "top" => Some(2),
        "left" => Some(3),
        other => other.parse::<usize>().ok().filter(|n| *n > 0 && *n < 1000).map(|n| n - 1),
    }
}

impl PanelShape {
    /// A plain rectangle.
    pub const fn rectangle(width: Length, height: Length) -> Self {
        Self::Rectangle { width, height, radii: [Length::ZERO; 4], diagonals: Vec::new() }
    }

    /// Two level sides, the shorter in the middle of the longer.
    pub const fn tapered(bottom: Length, top: Length, height: Length, radius: Length) -> Self {
        Self::Trapezoid { bottom, top, height, offset: None, radius, diagonals: Vec::new() }
    }
}
