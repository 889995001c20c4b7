//! Covered panel and drop-in seat: board, foam, cloth stapled on the back.
//!
//! Worked example: a board 450 x 1192, foam 100, board 18, turn-under 50: the cover is
//! 450 + 2 x (100 + 18 + 50) = 786 by 1528.

use super::cover::{self, Covered};
use super::shape;
use super::{Ask, cut_out};
use crate::fault::Fault;
use crate::panel::{CutOut, Notch, PanelShape, Side};
use crate::part::{Mark, Meaning, Part, Turning, wadding};
use crate::working::{Formula, Working, of};
use geometry::{Arc, Length, Path, Point, Vector};

/// What a covered board of any outline becomes.
pub fn develop(
    ask: &Ask,
    shape: &PanelShape,
    notches: &[Notch],
    sides: &[Side],
    cut_outs: &[CutOut],
) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    let board = shape::outline(shape, notches, &ask.at, &ask.build.style)?;
    let mut cut_outs = cut_outs.to_vec();
    if let PanelShape::Ring { outer, inner } = shape {
        let middle = (outer.mm() - inner.mm()) / 2.0;
        let hole = Path::circle(*inner).moved(Vector::new(middle, middle));
        cut_outs.push(CutOut { what: "the middle".into(), shape: hole, flange: Length::ZERO });
    }
    let mut faults = Vec::new();
    for (i, cut) in cut_outs.iter().enumerate() {
        if !cut_out::inside(&cut.shape, &board) {
            faults.push(Fault::new(
                "hole-outside",
                format!("{}.cut_out.{i}", ask.at),
                format!("the cut-out for {} reaches over the edge of the board", cut.what),
                "x and y are the middle of the opening from the board's left and bottom edges, face view",
            ));
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let covered = ask.build.cover(&board, sides, &cut_outs);
    let parts = cover::parts(&covered, ask.cloth, ask.foam, ask.board);
    Ok((covered, parts))
}

/// A drop-in seat: a panel whose board must drop into its rails covered.
///
/// Source of the clearance: 3/16 to 1/4 in each side, furniture trade pages; here the fold of the
/// cloth is asked for and no more.
pub fn slip_seat(
    ask: &Ask,
    (front, back, depth): (Length, Length, Length),
    radius: Length,
    opening: Option<(Length, Length, Length)>,
    crown: Length,
) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    let shape = seat_shape((front, back, depth), radius);
    let over = over_crown(ask, (front.max(back), depth), crown)?;
    let (mut covered, mut parts) = develop(ask, &shape, &[], &over.sides, &[])?;
    over.explain(&mut parts);
    covered.quantities.wadding_mm2 = Crown::wadding((front.max(back), depth), crown);
    if let Some((open_front, open_back, open_depth)) = opening {
        // Cloth goes down each side once, and folds over itself at the corners.
        let needed = ask.build.cloth * 2;
        for (what, open, board) in
            [("front", open_front, front), ("back", open_back, back), ("depth", open_depth, depth)]
        {
            let clear = Length::from_nm((open - board).nm() / 2);
            if clear < needed {
                covered.warnings.push(Fault::new(
                    "seat-too-tight",
                    format!("{}.opening", ask.at),
                    format!(
                        "{what}: {} is left on each side for cloth, and it needs {}",
                        ask.build.style.show(clear.max(Length::ZERO)),
                        ask.build.style.show(needed)
                    ),
                    "plane the board or choose a thinner cloth; a seat that binds splits the rails",
                ));
            }
        }
    }
    Ok((covered, parts))
}

/// What a crown adds to the sides of a cover, and how it was worked out.
struct Crown {
    sides: Vec<Side>,
    workings: Vec<Working>,
}

impl Crown {
    /// The middle is built up over about half of the face. Common practice, no source.
    fn wadding((width, depth): (Length, Length), crown: Length) -> f64 {
        wadding(width.mm() * depth.mm() / 2.0, crown)
    }

    fn explain(self, parts: &mut [Part]) {
        if let Some(cover) = parts.first_mut() {
            cover.workings.splice(0..0, self.workings);
        }
    }
}

/// Cloth over a crown: the arc of chord `size` and rise `crown` is longer than the chord, half of it for
/// each side.
///
/// Source: arc from chord and rise, geometry.
fn over_crown(
    ask: &Ask,
    (width, depth): (Length, Length),
    crown: Length,
) -> Result<Crown, Vec<Fault>> {
    if crown == Length::ZERO {
        return Ok(Crown { sides: Vec::new(), workings: Vec::new() });
    }
    if [width, depth].iter().any(|chord| Arc::over(chord.mm(), crown.mm()).is_err()) {
        return Err(vec![Fault::new(
            "crown-too-high",
            format!("{}.crown", ask.at),
            format!(
                "a crown of {} is more than half of {} × {}",
                ask.build.style.show(crown),
                ask.build.style.number(width),
                ask.build.style.show(depth)
            ),
            "the crown is how far the middle stands above the edge of the filling",
        )]);
    }
    let step = ask.build.allowances.cut_step;
    let more = |what: &str, chord: Length| {
        let more = (Formula::Arc(chord, crown) - of(chord)) / 2;
        Working::of(format!("{what}, more on each side"), more).up_to(step.share(2))
    };
    let side = |over: Length| Side { over, ..Side::default() };
    let (x, y) = (more("crown across", width), more("crown along", depth));
    let sides = [y.result, x.result, y.result, x.result].map(side).to_vec();
    Ok(Crown { sides, workings: vec![x, y] })
}

/// A seat's board from above, its front edge at the bottom.
pub const fn seat_shape(
    (front, back, depth): (Length, Length, Length),
    radius: Length,
) -> PanelShape {
    PanelShape::Trapezoid {
        bottom: front,
        top: back,
        height: depth,
        offset: None,
        radius,
        diagonals: Vec::new(),
    }
}

/// A foam block on a board with folded ends, no sewing: the long edges are fixed first, the ends
/// folded like a parcel, with the corner squares of the cloth cut away.
///
/// Source: relief squares 1 in out from the board and stopping 1 in short of the block's top:
/// common practice, no source.
pub fn pad(
    ask: &Ask,
    width: Length,
    height: Length,
    crown: Length,
) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    let shape =
        PanelShape::Rectangle { width, height, radii: [Length::ZERO; 4], diagonals: Vec::new() };
    let over = over_crown(ask, (width, height), crown)?;
    let (mut covered, mut parts) = develop(ask, &shape, &[], &over.sides, &[])?;
    over.explain(&mut parts);
    covered.quantities.wadding_mm2 = Crown::wadding((width, height), crown);
    let reach = ask.build.reach(&Side::default()).mm();
    let relief = ask.build.allowances.fold_relief.mm().min(reach);
    let (w, h) = (width.mm(), height.mm());
    covered.marks.retain(|m| m.meaning != Meaning::Slit);
    covered.corners.clear();
    for (x, y, sx, sy) in
        [(0.0, 0.0, -1.0, -1.0), (w, 0.0, 1.0, -1.0), (w, h, 1.0, 1.0), (0.0, h, -1.0, 1.0)]
    {
        let at = |a: f64, b: f64| Point::new(x + sx * a, y + sy * b);
        let square =
            vec![at(relief, reach), at(relief, relief), at(reach, relief), at(reach, reach)];
        covered.marks.push(Mark::open(Meaning::CutAway, square));
        covered.marks.push(Mark::open(Meaning::Fold, vec![at(0.0, 0.0), at(0.0, relief)]));
        covered.marks.push(Mark::open(Meaning::Fold, vec![at(0.0, 0.0), at(relief, 0.0)]));
    }
    covered.quantities.folded_ends = 2;
    if let Some(part) = parts.first_mut() {
        part.marks.clone_from(&covered.marks);
        part.turning = Turning::Direction(None);
    }
    Ok((covered, parts))
}
