//! From each kind to the function that develops it.

use super::cover::Covered;
use super::{
    Ask, Kit, Made, Sewn, block, boxed, buttoned_back, channelled_back, curved_back, cushion,
    cut_pieces, headboard, ottoman, panel, shape, skirt, strips, tapered, waterfall, welt,
};
use crate::fault::Fault;
use crate::kind::{Kind, Shaped, ZipSide};
use crate::panel::PanelShape;
use crate::part::{Developed, Part, Quantities, Stuff};
use crate::piece::Piece;
use crate::working::{Working, of};
use geometry::{Length, Outline, Path, Vector};

/// One thing of any kind.
pub fn develop_one(ask: &Ask, piece: &Piece, made: &Made) -> Result<Developed, Vec<Fault>> {
    let kind = &made.kind;
    let made_finished = made.finished;
    let board = |result: Result<(Covered, Vec<Part>), Vec<Fault>>| {
        result.map(|(covered, parts)| covered_piece(made, covered, parts))
    };
    let sewn = |(parts, quantities): Sewn, finished: (Length, Length)| Developed {
        parts,
        quantities,
        finished: made.finished.unwrap_or(finished),
        ..empty(made)
    };
    match kind {
        Kind::Panel { shape, notches, sides, cut_outs } => {
            let mut made = board(panel::develop(ask, shape, notches, sides, cut_outs))?;
            if made_finished.is_none()
                && let Some(size) = shape::measured(shape)
            {
                made.finished = size;
            }
            made.outline = shape::words(shape, notches, &ask.build.style);
            made.warnings.extend(shape::fit_note(shape, &ask.at, &ask.build.style));
            Ok(made)
        }
        Kind::Pad { width, height, crown } => board(panel::pad(ask, *width, *height, *crown)),
        Kind::SlipSeat { front, back, depth, radius, opening, crown } => {
            let seat = panel::slip_seat(ask, (*front, *back, *depth), *radius, *opening, *crown);
            let mut made = board(seat)?;
            made.finished = ((*front).max(*back), *depth);
            let shape = panel::seat_shape((*front, *back, *depth), *radius);
            made.outline = shape::words(&shape, &[], &ask.build.style);
            Ok(made)
        }
        Kind::ChannelledBack { width, height, channels, loft, tuck, level, strips } => {
            let back = channelled_back::Channelled {
                width: *width,
                height: *height,
                channels: *channels,
                loft: *loft,
                tuck: *tuck,
                level: *level,
                strips: *strips,
            };
            board(channelled_back::develop(ask, &back))
        }
        Kind::ButtonedBack(back) => board(buttoned_back::develop(ask, back)),
        Kind::BoxedCushion { front, back, depth, radius, zip, welt } => {
            let shape = PanelShape::Trapezoid {
                bottom: *front,
                top: *back,
                height: *depth,
                offset: None,
                radius: *radius,
                diagonals: Vec::new(),
            };
            let zip = match zip {
                ZipSide::Back => Some(2),
                ZipSide::Left => Some(3),
                ZipSide::Right => Some(1),
                ZipSide::None => None,
            };
            let shaped = Shaped { shape, zip, zip_length: None, welt: *welt };
            Ok(sewn(boxed_cushion(ask, &shaped)?.0, ((*front).max(*back), *depth)))
        }
        Kind::ShapedCushion(shaped) => {
            let (made, size) = boxed_cushion(ask, shaped)?;
            let mut developed = sewn(made, size);
            developed.outline = shape::words(&shaped.shape, &[], &ask.build.style);
            developed.warnings.extend(shape::fit_note(&shaped.shape, &ask.at, &ask.build.style));
            Ok(developed)
        }
        Kind::WedgeCushion(wedge) => {
            Ok(sewn(block::wedge(ask, wedge)?, (wedge.width, wedge.depth)))
        }
        Kind::SlopedCushion(sloped) => {
            Ok(sewn(block::sloped(ask, sloped)?, (sloped.width, sloped.depth)))
        }
        Kind::WaterfallCushion(cushion) => {
            let thickness = ask.build.foam;
            if thickness <= Length::ZERO {
                return Err(block::no_foam(ask, "a waterfall cushion"));
            }
            let made = waterfall::develop(ask, cushion, thickness)?;
            Ok(sewn(made, (cushion.width, cushion.depth)))
        }
        Kind::TaperedBolster(bolster) => {
            let size = (bolster.length, bolster.large.max(bolster.small));
            Ok(sewn(tapered::develop(ask, bolster)?, size))
        }
        Kind::Ottoman(ottoman) => {
            let size = (ottoman.width, ottoman.depth.unwrap_or(ottoman.width));
            Ok(sewn(ottoman::develop(ask, ottoman), size))
        }
        Kind::CurvedBack(back) => Ok(kit_piece(made, curved_back::develop(ask, back)?)),
        Kind::Headboard(headboard) => Ok(kit_piece(made, headboard::develop(ask, headboard)?)),
        Kind::Skirt(skirt) => Ok(kit_piece(made, skirt::develop(ask, skirt)?)),
        Kind::CutPieces(cuts) => Ok(kit_piece(made, cut_pieces::develop(ask, cuts))),
        Kind::WeltRuns(welt) => {
            // Each run starts, ends and laps.
            let lap = ask.build.allowances.welt_lap;
            let runs: Vec<Length> = welt.runs.iter().map(|run| *run + lap).collect();
            let (parts, length) = welt::strips_of(ask, &runs, welt.double);
            let quantities = Quantities {
                // Two cords go into double welt.
                welt: if welt.double { length * 2 } else { length },
                welt_runs: welt.runs.len(),
                ..Quantities::default()
            };
            let longest = welt.runs.iter().copied().max().unwrap_or_default();
            Ok(sewn((parts, quantities), (longest, ask.build.allowances.cord)))
        }
        Kind::KnifeEdge { width, height, crown, zip, welt } => Ok(sewn(
            cushion::knife_edge(ask, (*width, *height), *crown, *zip, *welt),
            (*width, *height),
        )),
        Kind::Bolster { length, diameter, zip, welt } => {
            Ok(sewn(cushion::bolster(ask, (*length, *diameter), *zip, *welt), (*length, *diameter)))
        }
        Kind::Measured { width, height } => {
            let outline = strips::rectangle(*width, *height);
            let as_measured = |what: &str, length: Length| Working::of(what, of(length));
            let mut part =
                Part::new("cut as measured", Stuff::Cloth, ask.cloth, outline).seen().explained([
                    as_measured("width as measured", *width).width(),
                    as_measured("height as measured", *height).height(),
                ]);
            part.may_seam |= piece.seam_allowed;
            Ok(sewn((vec![part], Quantities::default()), (*width, *height)))
        }
        Kind::WallGrid(_) => Ok(empty(made)),
    }
}

/// A boxed cushion of any outline, and the size of its box.
fn boxed_cushion(ask: &Ask, shaped: &Shaped) -> Result<(Sewn, (Length, Length)), Vec<Fault>> {
    if ask.build.foam <= Length::ZERO {
        return Err(block::no_foam(ask, "a boxed cushion"));
    }
    let outer = shape::outline(&shaped.shape, &[], &ask.at, &ask.build.style)?;
    let mut finished = Outline::solid(outer);
    if let PanelShape::Ring { outer, inner } = &shaped.shape {
        let middle = (outer.mm() - inner.mm()) / 2.0;
        finished.holes.push(Path::circle(*inner).moved(Vector::new(middle, middle)));
    }
    let size = shape::measured(&shaped.shape).unwrap_or_else(|| finished.size());
    let cushion = boxed::Boxed {
        finished,
        zip: shaped.zip,
        zip_length: shaped.zip_length,
        welt: shaped.welt,
    };
    Ok((boxed::boxed(ask, &cushion, ask.build.foam), size))
}

fn kit_piece(made: &Made, kit: Kit) -> Developed {
    let workings = made.workings.iter().cloned().chain(kit.workings).collect();
    Developed {
        parts: kit.parts,
        quantities: kit.quantities,
        finished: made.finished.unwrap_or(kit.finished),
        workings,
        corners: kit.corners,
        warnings: kit.warnings,
        ..empty(made)
    }
}

fn empty(made: &Made) -> Developed {
    Developed {
        piece: 0,
        label: made.label.clone(),
        count: made.count,
        finished: (Length::ZERO, Length::ZERO),
        parts: Vec::new(),
        widths: Vec::new(),
        quantities: Quantities::default(),
        corners: Vec::new(),
        cut_outs: Vec::new(),
        outline: String::new(),
        workings: made.workings.clone(),
        warnings: Vec::new(),
    }
}

fn covered_piece(made: &Made, covered: Covered, parts: Vec<Part>) -> Developed {
    Developed {
        finished: made.finished.unwrap_or_else(|| covered.board.size()),
        parts,
        quantities: covered.quantities,
        corners: covered.corners,
        cut_outs: covered.cut_outs,
        warnings: covered.warnings,
        ..empty(made)
    }
}
