//! What is measured of each kind of piece, in which order, and how: the same words on survey sheets and
//! bench sheets.
//!
//! Order: width before height, over the padding, at the widest and tallest; common practice of the trade.

use crate::kind::{Kind, Pleating};
use crate::panel::PanelShape;

/// One measure: its key in the job file, and how it is taken.
pub type Measure = (&'static str, &'static str);

/// The measures of a kind, in the order in which they are taken.
pub fn measures(kind: &Kind) -> Vec<Measure> {
    match kind {
        Kind::Panel { shape, .. } => outline(shape, "of the board"),
        Kind::Pad { .. } => vec![
            ("width", "board, along the long edges"),
            ("height", "board, across"),
            ("crown", "how far the middle stands above the edges"),
        ],
        Kind::SlipSeat { .. } => vec![
            ("front", "board, front edge, at the corners before rounding"),
            ("back", "board, back edge"),
            ("depth", "front to back, square to both"),
            ("radius", "corner, with a coin or template"),
            ("crown", "how far the middle stands above the edges"),
            ("opening", "of the rails: front, back, depth"),
        ],
        Kind::BoxedCushion { .. } => vec![
            ("width", "the space it fills, front edge, not the old cushion"),
            ("back_width", "back edge, if it tapers"),
            ("depth", "front to back, in three places; the least"),
            ("radius", "corners, with a coin or template"),
            ("thickness", "of the foam, new"),
        ],
        Kind::ShapedCushion(shaped) => outline(&shaped.shape, "of the space it fills"),
        Kind::WedgeCushion(_) => vec![
            ("width", "left to right"),
            ("depth", "front to back along the bottom"),
            ("front", "thickness at the front"),
            ("back", "thickness at the back"),
        ],
        Kind::SlopedCushion(_) => vec![
            ("width", "left to right, on top"),
            ("depth", "front to back, on top"),
            ("angle", "of the leaning side from the upright, in degrees, or:"),
            ("bottom", "what the bottom measures towards the leaning side"),
        ],
        Kind::WaterfallCushion(_) => vec![
            ("width", "left to right"),
            ("depth", "front to back over all, the front's bulge included"),
        ],
        Kind::KnifeEdge { .. } => vec![
            ("width", "seam to seam, laid flat"),
            ("height", "seam to seam, laid flat"),
            ("crown", "more cloth each way for a full filling"),
        ],
        Kind::Bolster { .. } => {
            vec![("length", "end to end"), ("diameter", "across an end")]
        }
        Kind::TaperedBolster(_) => vec![
            ("length", "along the middle, end to end"),
            ("large", "across the larger end"),
            ("small", "across the smaller end"),
        ],
        Kind::Ottoman(ottoman) if ottoman.depth.is_none() => vec![
            ("diameter", "across the top, over the padding"),
            ("height", "top edge to under the frame"),
        ],
        Kind::Ottoman(_) => vec![
            ("width", "left to right, over the padding"),
            ("depth", "front to back, over the padding"),
            ("height", "top edge to under the frame"),
        ],
        Kind::ChannelledBack { .. } => vec![
            ("width", "board, left to right"),
            ("height", "board, bottom to top"),
            ("channels", "how many; odd: one on the middle, even: a valley"),
            ("loft", "how far a channel stands above its valleys"),
            ("tuck", "cloth tucked into each valley, each side"),
        ],
        Kind::CurvedBack(_) => vec![
            ("chord", "straight across the hollow, end to end of the board"),
            ("rise", "from that line to the board, in the middle"),
            ("height", "upright; at both ends and the middle"),
        ],
        Kind::Headboard(_) => vec![
            ("width", "over the border"),
            ("height", "bottom edge to top, over the border"),
            ("border", "face of the border"),
            ("wing", "depth of a wing, if there are any"),
        ],
        Kind::ButtonedBack(_) => vec![
            ("width", "board, left to right"),
            ("height", "board, bottom to top"),
            ("border", "edge to the first buttons"),
            ("across", "diamonds side by side"),
            ("high", "diamonds one above the other"),
            ("depth", "how deep buttons are pulled"),
            ("ligne", "size of the buttons; 40 are an inch"),
        ],
        Kind::Skirt(skirt) => {
            let mut all = vec![
                ("sides", "each side it hangs from, in order"),
                ("drop", "from where it is fixed to a finger above the floor"),
            ];
            match skirt.pleats {
                Pleating::Even { .. } => all.extend([
                    ("spacing", "finished, from fold to fold"),
                    ("fold", "depth of a fold"),
                ]),
                Pleating::Corners { .. } => all.push(("fold", "folded back at each corner")),
            }
            all
        }
        Kind::CutPieces(_) => vec![(
            "cut",
            "each piece at its widest and tallest, over the padding, into the crevice: inside back, outside back, inside arms, outside arms, seat, front, deck",
        )],
        Kind::WeltRuns(_) => vec![("runs", "each run, along the seam")],
        Kind::WallGrid(_) => vec![
            ("width", "wall, in three places; the least"),
            ("height", "wall, in three places; the least"),
            ("margin", "left free all round"),
            ("gap", "between panels"),
            (
                "fitting",
                "middle of each from the left corner and the floor, its size and its plate",
            ),
        ],
        Kind::Measured { .. } => vec![("width", "to cut, across"), ("height", "to cut, along")],
    }
}

fn outline(shape: &PanelShape, of: &'static str) -> Vec<Measure> {
    match shape {
        PanelShape::Rectangle { .. } => vec![
            ("width", of),
            ("height", of),
            ("radius", "corners, with a coin or template"),
            ("diagonals", "both, to see that it is square"),
        ],
        PanelShape::Trapezoid { .. } => vec![
            ("bottom", of),
            ("top", of),
            ("height", "square to both"),
            ("offset", "top's left end from the bottom's"),
            ("diagonals", "both"),
        ],
        PanelShape::Disc { .. } => vec![("diameter", "across, in three directions")],
        PanelShape::Ring { .. } => {
            vec![("diameter", "outside, across"), ("inner", "hole, across")]
        }
        PanelShape::Tee { .. } => vec![
            ("width", "along the front, ears included"),
            ("body", "between the arms"),
            ("depth", "front to back over all"),
            ("ear", "front to back of an ear"),
            ("radius", "outer corners"),
        ],
        PanelShape::Sides { .. } => vec![
            ("sides", "all round, counter-clockwise seen from the face"),
            ("across", "corner to corner: enough that no corner can move, and one more"),
        ],
        PanelShape::Offsets { .. } => vec![
            ("base", "a straight line along the bottom"),
            ("offset", "so far along the base line, so far up to the outline"),
        ],
        PanelShape::Corners(_) => {
            vec![("corner", "each from the left and from the bottom, counter-clockwise")]
        }
    }
}
