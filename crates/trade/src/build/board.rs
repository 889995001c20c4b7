//! A covered board: foam and cloth stapled on the back.
//!
//! Worked example: a board 450 x 1192, foam 100, board 18, turn-under 50: the cover is
//! 450 + 2 x (100 + 18 + 50) = 786 by 1528.

use super::cover::{self, Covered};
use super::{Ask, cut_out, shape};
use crate::fault::Fault;
use crate::message::message;
use crate::panel::{CutOut, Notch, PanelShape, Side};
use crate::part::Part;
use geometry::{Length, Path, Vector};

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
    let outside =
        cut_outs.iter().enumerate().filter(|(_, cut)| !cut_out::inside(&cut.shape, &board));
    let faults: Vec<Fault> = outside
        .map(|(i, cut)| {
            ask.fault(
                "hole-outside",
                &format!("cut_out.{i}"),
                message("hole-outside").text("what", &cut.what),
                message("hole-outside").part("do"),
            )
        })
        .collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let covered = ask.build.cover(&board, sides, &cut_outs);
    let parts = cover::parts(&covered, ask.cloth, ask.foam, ask.board);
    Ok((covered, parts))
}

/// The same of a plain rectangle, stapled all round.
pub fn rectangle(
    ask: &Ask,
    (width, height): (Length, Length),
    sides: &[Side],
) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    develop(ask, &PanelShape::rectangle(width, height), &[], sides, &[])
}
