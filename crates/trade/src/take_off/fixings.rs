//! Screws: diameter from the gauge, and a length that bites but does not come through.

use super::sold::{Sold, named};
use crate::fault::Fault;
use crate::job::Job;
use crate::message::{Message, message};
use crate::part::Developed;
use crate::piece::Fixing;
use geometry::Length;

/// Diameter of a wood screw: `0.060 + 0.013 N` inches.
///
/// Source: ASME B18.6.1, nominal diameters of wood screws.
pub fn screw_diameter(gauge: u32) -> Length {
    Length::from_nm(1_524_000 + 330_200 * i64::from(gauge))
}

/// A screw's tip stops this far short of the far side. Practice, from memory.
const SHORT_OF: Length = Length::from_nm(3_175_000);

/// What is left of foam under a screw drawn up through the face. Our simplification: a quarter.
fn squeezed(foam: Length) -> Length {
    foam.share(4)
}

/// The longest screw that stays inside its stack.
pub fn longest_safe_screw(stack: Length) -> Length {
    stack - SHORT_OF
}

/// From and up to which length a piece's screws bite and do not come through; `None` without screws.
pub fn screw_range(job: &Job, piece: &Developed) -> Option<(Length, Length)> {
    let about = &job.pieces[piece.piece];
    let Some(Fixing::Screws { gauge, through_face, into, .. }) = &about.fixing else { return None };
    let (before, bite) = stack(job, piece, *through_face, *into);
    let wanted = Length::from_nm(screw_diameter(*gauge).nm() * 6).min(bite.share(2));
    Some((before + wanted, longest_safe_screw(before + bite)))
}

/// Which screws that are sold bite and do not come through, in words.
pub fn advice(job: &Job, piece: &Developed) -> Message {
    let sold = screw_range(job, piece)
        .and_then(|(least, most)| named(Sold::Screws, &job.style, least, most));
    sold.unwrap_or(message("screws-none-sold"))
}

/// Gauge and length of a piece's screws: the job's own, or where they do not suit what is advised; `None`
/// without screws.
pub fn size(job: &Job, piece: &Developed) -> Option<Message> {
    let Some(Fixing::Screws { gauge, length, .. }) = &job.pieces[piece.piece].fixing else {
        return None;
    };
    let (least, most) = screw_range(job, piece)?;
    let style = &job.style;
    let size = |id: &'static str| message(id).count("gauge", *gauge).length("length", *length);
    Some(match named(Sold::Screws, style, least, most) {
        _ if least <= *length && *length <= most => size("screw-size"),
        Some(sold) => size("screw-size-other").said("sold", sold),
        None => size("screw-size-none"),
    })
}

/// Whether a screw that is sold bites without coming through, or the job's own does.
pub fn is_sold(job: &Job, piece: &Developed) -> bool {
    let Some(Fixing::Screws { length, .. }) = &job.pieces[piece.piece].fixing else { return false };
    screw_range(job, piece).is_some_and(|(least, most)| {
        (least <= *length && *length <= most)
            || named(Sold::Screws, &job.style, least, most).is_some()
    })
}

/// What lies before the bite, and what there is to bite into. Through the face: cloth, squeezed foam,
/// board, then what it is fixed to. From behind: the rail, then the board, and beyond it lies foam.
fn stack(job: &Job, piece: &Developed, through_face: bool, into: Length) -> (Length, Length) {
    let about = &job.pieces[piece.piece];
    let board = job.board_of(about).map_or(Length::ZERO, |b| b.thickness);
    let foam = job.foam_of(about).map_or(Length::ZERO, |f| f.thickness);
    let cloth =
        about.cloth.as_deref().and_then(|n| job.cloth(n)).map_or(Length::ZERO, |c| c.thickness);
    // Behind lies the cloth that is turned under.
    if through_face { (cloth + squeezed(foam) + board, into) } else { (into + cloth, board) }
}

/// Warns of screws too long for their stack, without bite, or that take no cap.
pub fn check(job: &Job, piece: &Developed) -> Vec<Fault> {
    let about = &job.pieces[piece.piece];
    let Some(Fixing::Screws { gauge, length, through_face, into, .. }) = &about.fixing else {
        return Vec::new();
    };
    let at = format!("piece.{}.fixing", piece.piece);
    let mut faults = Vec::new();
    let mut warn = |code, what: Message, remedy: Message| {
        faults.push(Fault::new(code, at.clone(), what, remedy).about(&piece.label));
    };
    let (before, bite) = stack(job, piece, *through_face, *into);
    let stack = before + bite;
    let most = longest_safe_screw(stack);
    if *length > most {
        let id = if *length > stack { "screw-comes-through" } else { "screw-nearly-through" };
        let what = message(id)
            .length("screw", *length)
            .flag("face", *through_face)
            .length("left", SHORT_OF);
        let remedy =
            message("screw-stack").length("stack", stack).said("advice", advice(job, piece));
        warn("screw-too-long", what, remedy);
    }
    // Six diameters of bite, or half of what it goes into if that is thin; practice, from memory.
    let wanted = Length::from_nm(screw_diameter(*gauge).nm() * 6).min(bite.share(2));
    if *length < before + wanted {
        let what = message("screw-hardly-bites").length("screw", *length);
        let remedy =
            message("screw-before").length("before", before).said("advice", advice(job, piece));
        warn("screw-too-short", what, remedy);
    }
    // Screw caps take gauge 6 to 12: common practice, no source.
    if *through_face && !(6..=12).contains(gauge) {
        warn(
            "no-cap-for-gauge",
            message("no-cap-for-gauge").count("gauge", *gauge),
            message("no-cap-for-gauge").part("do"),
        );
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn screw_diameters_are_those_of_the_standard() {
        // ASME B18.6.1, nominal diameters of wood screws in inches, printed to 0.001. Exact in nm.
        let table = [(4, 0.112), (6, 0.138), (8, 0.164), (10, 0.190), (12, 0.216), (14, 0.242)];
        for (gauge, inches) in table {
            assert_eq!(screw_diameter(gauge), Length::from_inches(inches), "gauge {gauge}");
        }
    }

    #[test]
    fn a_screw_from_behind_must_not_reach_the_foam() {
        // 12 rail and 18 board: 40 points into the foam; geometry.
        let mm = Length::from_mm;
        assert!(mm(40.0) > longest_safe_screw(mm(30.0)));
        assert!(mm(25.0) < longest_safe_screw(mm(30.0)));
    }
}
