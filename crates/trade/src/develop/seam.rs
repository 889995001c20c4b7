//! A part wider than the cloth, pieced at places the piece permits.

use super::strips::rectangle;
use crate::part::{Motif, Part};
use crate::working::{Term, Working};
use geometry::{Length, Point};

/// Strips that make up a part `width` wide on cloth with `usable`, upright seams, symmetric about
/// the middle: a full-width middle and two sides if it takes three or more, one centre seam if two
/// would do. Each is cut as a rectangle; trimmed to the outline after joining.
///
/// Source: centre panel with a seam each side, or one centre seam; common practice, no source.
pub fn widths(
    width: Length,
    usable: Length,
    seam: Length,
) -> Option<Vec<(&'static str, Length, usize)>> {
    if usable <= seam * 4 {
        return None;
    }
    // k strips joined lose 2 seams at each of k - 1 joins.
    let k = (width - seam * 2).steps_up(usable - seam * 2);
    if k <= 2 {
        let half = (width + seam * 2).share(2).round_up(Length::from_nm(100_000));
        return Some(vec![("half", half.min(usable), 2)]);
    }
    // An odd number, so that no seam falls on the middle.
    let middles = if k % 2 == 1 { k - 2 } else { k - 1 };
    let rest = width - (usable - seam * 2) * middles;
    let side = Length::from_nm((rest.nm() + 1).div_euclid(2)) + seam;
    Some(vec![("middle", usable, middles as usize), ("side", side, 2)])
}

/// The part pieced, or `None` if the cloth is too narrow for that too.
///
/// The pattern runs on over the seams: every strip keeps the motif point of the whole part, which
/// for most of them lies beyond their own edge.
pub fn pieced(part: &Part, usable: Length, seam: Length) -> Option<Vec<Part>> {
    let (width, height) = part.size();
    let low = part.outline.outer.bounds().0;
    let mut strips = widths(width, usable, seam)?;
    if let [middle, side] = strips[..] {
        strips = vec![("left side", side.1, 1), middle, ("right side", side.1, 1)];
    }
    let total: usize = strips.iter().map(|s| s.2).sum();
    let mut pieces = Vec::new();
    let mut start = Length::ZERO;
    for (name, strip, count) in strips {
        for i in 0..count {
            // The strip's own coordinates start at its left edge.
            let local = |p: Point| Point::new(p.x - low.x - start.mm(), p.y - low.y);
            let motif = match &part.motif {
                Motif::Free => Motif::Matched(format!("{} joined", part.name), local(low)),
                Motif::Centred(p) => Motif::Centred(local(*p)),
                Motif::Matched(group, p) => Motif::Matched(group.clone(), local(*p)),
            };
            let label = if count > 1 { format!("{name} {}", i + 1) } else { name.to_string() };
            let mut piece = Part {
                name: format!("{}, {label}", part.name),
                outline: rectangle(strip, height),
                marks: Vec::new(),
                may_seam: false,
                motif,
                ..part.clone()
            };
            let from = match (name, total) {
                ("half", _) => vec![
                    Term::Text("half of "),
                    Term::Length(width),
                    Term::Text(" + a seam of "),
                    Term::Length(seam),
                ],
                ("middle", _) => vec![Term::Text("as wide as the cloth allows")],
                _ => vec![Term::Text("half of the rest + a seam of "), Term::Length(seam)],
            };
            let what = format!("joined from {total} widths");
            piece.workings.push(Working::new(what, from, strip));
            pieces.push(piece);
            start += strip - seam * 2;
        }
    }
    Some(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strips_add_up_to_the_part_and_its_seams() {
        let inch = Length::from_inches;
        let (usable, seam) = (inch(54.0), inch(0.5));
        // An 84 in back up the roll: two halves of 42 1/2, one seam (derived here).
        assert_eq!(widths(inch(84.0), usable, seam).unwrap(), [("half", inch(42.5), 2)]);
        for width in [108.0, 130.0, 160.0, 240.0] {
            let strips = widths(inch(width), usable, seam).unwrap();
            let count: usize = strips.iter().map(|s| s.2).sum();
            let total: Length = strips.iter().map(|s| s.1 * s.2 as i64).sum();
            assert_eq!(total - seam * 2 * (count as i64 - 1), inch(width), "{width}");
            assert!(strips.iter().all(|s| s.1 <= usable && s.1 > seam * 2), "{strips:?}");
            assert!(count % 2 == 1 || count == 2);
        }
    }
}
