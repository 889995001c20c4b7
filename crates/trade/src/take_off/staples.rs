//! Staples: how many, and a leg that holds but does not come through.

use super::sold::{Sold, named};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::Use;
use crate::message::{Message, message};
use crate::part::{CornerHow, Developed, Quantities};
use crate::rates::Allowances;
use crate::working::Style;
use geometry::Length;

/// Staples of one piece: at most the spacing apart along the line, closer at corners.
///
/// Source: at most 1 in apart, 1/2 in at corners and pleats; common practice, no source.
pub fn count(allowances: &Allowances, quantities: &Quantities) -> i64 {
    let spacing = allowances.staple_spacing;
    // A dust cover goes on once round the back; its outline is not known here, so a square is taken.
    let back = Length::from_mm(4.0 * quantities.dust_cover_mm2.sqrt());
    let more = quantities.valleys.steps_up(spacing) + back.steps_up(spacing);
    if quantities.staple_line <= Length::ZERO {
        return more;
    }
    let straight = quantities.staple_line - quantities.corner_line;
    more + straight.steps_up(spacing) + quantities.corner_line.steps_up(allowances.corner_spacing)
}

/// Least leg that holds and greatest that does not come through `board`, over `layers` of cloth.
///
/// ```text
/// layers + 1/4 in  <=  leg  <=  layers + board - 1/16 in
/// ```
///
/// Source: the first from fastener makers' pages (into the wood by 1/4 in), the second geometry
/// with 1/16 in to spare.
pub fn staple_leg(layers: Length, board: Length) -> (Length, Length) {
    let quarter = Length::from_inch_64ths(16);
    let sixteenth = Length::from_inch_64ths(4);
    (layers + quarter, layers + board - sixteenth)
}

/// Layers of cloth under a staple at a corner: four where it is folded flat or like a parcel, three at a
/// pleat. Common practice, no source.
const FOLDED: i64 = 4;
const PLEATED: i64 = 3;

/// From and up to which leg holds and stays inside, along the edges and at the corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Legs {
    /// Through one layer of cloth.
    pub edges: (Length, Length),
    /// Through the layers that lie on one another at the corners, if there are any.
    pub corners: Option<(i64, Length, Length)>,
}

/// Which legs a piece's board takes; `None` if it is stapled to none.
pub fn legs(job: &Job, piece: &Developed) -> Option<Legs> {
    let about = &job.pieces[piece.piece];
    let board = job.board_of(about)?.thickness;
    let cloth = about.cloth.as_deref().and_then(|name| job.cloth(name))?.thickness;
    let any = |wanted: &dyn Fn(&CornerHow) -> bool| piece.corners.iter().any(|c| wanted(&c.how));
    let folded = piece.quantities.folded_ends > 0 || any(&|how| *how == CornerHow::Square);
    let layers = if folded {
        Some(FOLDED)
    } else if any(&|how| matches!(how, CornerHow::Rounded { .. })) {
        Some(PLEATED)
    } else {
        None
    };
    let corners = layers.map(|layers| {
        let (least, most) = staple_leg(cloth * layers, board);
        (layers, least, most)
    });
    Some(Legs { edges: staple_leg(cloth, board), corners })
}

/// Legs that suit, where none of those in the list holds in any board without coming through.
pub fn other_legs(job: &Job, developed: &[Developed]) -> Option<Message> {
    let listed: Vec<Length> = job
        .sundries
        .iter()
        .filter(|s| s.used_for == Use::Staples)
        .map(|s| s.leg)
        .collect::<Option<_>>()?;
    let stapled = developed.iter().filter(|d| d.quantities.staple_line > Length::ZERO);
    let legs: Vec<Legs> = stapled.filter_map(|d| legs(job, d)).collect();
    let fits = |legs: &Legs| listed.iter().any(|leg| legs.edges.0 <= *leg && *leg <= legs.edges.1);
    if listed.is_empty() || legs.is_empty() || legs.iter().any(fits) {
        return None;
    }
    legs.iter().find_map(|legs| named(Sold::Staples, &job.style, legs.edges.0, legs.edges.1))
}

impl Legs {
    /// Whether a leg that is sold holds along the edges.
    pub fn is_sold(&self, style: &Style) -> bool {
        named(Sold::Staples, style, self.edges.0, self.edges.1).is_some()
    }

    /// Legs that are sold: for the edges, and for the corners where those take others.
    pub fn named(&self, style: &Style) -> Message {
        let sold = |(least, most)| named(Sold::Staples, style, least, most);
        let edges = match sold(self.edges) {
            Some(legs) => message("legs").said("legs", legs),
            None => message("legs-none"),
        };
        let Some((layers, least, most)) = self.corners else { return edges };
        let both = (least.max(self.edges.0), most.min(self.edges.1));
        match (sold(both), sold((least, most))) {
            (Some(legs), _) => message("legs-everywhere").said("legs", legs),
            (None, Some(legs)) => message("legs-corners")
                .said("edges", edges)
                .count("layers", layers)
                .said("corners", legs),
            (None, None) => message("legs-corners-none").said("edges", edges),
        }
    }
}

/// Warns of a piece for which no leg in the list is right, along its edges or at its corners.
pub fn check(job: &Job, piece: &Developed) -> Option<Fault> {
    if piece.quantities.staple_line <= Length::ZERO {
        return None;
    }
    let listed = job.sundries.iter().enumerate().filter(|(_, s)| s.used_for == Use::Staples);
    let listed: Vec<(usize, Length)> = listed.filter_map(|(i, s)| Some((i, s.leg?))).collect();
    let &(i, leg) = listed.first()?;
    let board = job.board_of(&job.pieces[piece.piece])?;
    let legs = legs(job, piece)?;
    let fits = |(least, most): (Length, Length)| {
        listed.iter().any(|(_, leg)| least <= *leg && *leg <= most)
    };
    let style = &job.style;
    let (least, most) = legs.edges;
    let remedy = || match named(Sold::Staples, style, least, most) {
        Some(legs) => message("use-legs").said("legs", legs),
        None => message("no-legs"),
    };
    let at_corners = legs.corners.filter(|(_, least, most)| !fits((*least, *most)));
    let (code, what, remedy) = if fits(legs.edges) {
        let (layers, least, most) = at_corners?;
        // Where no leg holds there, the bulk is cut away first: the bench sheet says so.
        let sold = named(Sold::Staples, style, least, most)?;
        let what = message("staple-short-at-corners").length("leg", leg).count("layers", layers);
        ("staple-too-short", what, message("take-legs-at-corners").said("legs", sold))
    } else if leg > most {
        let what = message("staple-too-long").length("leg", leg).length("board", board.thickness);
        ("staple-too-long", what, remedy())
    } else {
        ("staple-too-short", message("staple-too-short").length("leg", leg), remedy())
    };
    Some(Fault::new(code, format!("sundry.{i}.leg"), what, remedy).about(&piece.label))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leg_holds_and_stays_inside() {
        // Layers 1/8, board 1/2: from 3/8 to 9/16 (worked from the two rules above); 1/2 into 3/8
        // board is refused, 5/16 accepted with 1/16 to spare.
        let inch = Length::from_inches;
        assert_eq!(staple_leg(inch(0.125), inch(0.5)), (inch(0.375), inch(0.5625)));
        let (_, most) = staple_leg(Length::ZERO, inch(0.375));
        assert_eq!(most, inch(0.3125));
        assert!(inch(0.5) > most);
        // 12 mm into 9 mm board under 1 mm of cloth comes through.
        let mm = Length::from_mm;
        assert!(mm(12.0) > staple_leg(mm(1.0), mm(9.0)).1);
    }

    #[test]
    fn staples_stand_at_most_an_inch_apart() {
        // Common practice, no source.
        let inch = Length::from_inches;
        let allowances = Allowances::usual(geometry::Unit::Inch);
        let quantities =
            Quantities { staple_line: inch(90.5), corner_line: inch(8.0), ..Quantities::default() };
        assert_eq!(count(&allowances, &quantities), 83 + 16);
    }
}
