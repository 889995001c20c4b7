//! A part wider than the cloth, pieced at places the piece permits.

use super::strips::rectangle;
use crate::message::message;
use crate::part::{Motif, Part};
use crate::working::{Working, of};
use geometry::{Length, Point};

/// One sort of width that a part is joined from.
struct Width {
    name: &'static str,
    working: Working,
    count: usize,
}

/// Widths that make up a part `width` wide on cloth with `usable`, upright seams, symmetric about
/// the middle: a full-width middle and two sides if it takes three or more, one centre seam if two
/// would do. Each is cut as a rectangle, in whole marks; trimmed to the outline after joining.
///
/// Source: centre panel with a seam each side, or one centre seam; common practice, no source.
fn widths(width: Length, usable: Length, seam: Length, mark: Length) -> Option<Vec<Width>> {
    let usable = usable.round_down(mark);
    if usable <= seam * 4 {
        return None;
    }
    // k strips joined lose 2 seams at each of k - 1 joins.
    let k = (width - seam * 2).steps_up(usable - seam * 2);
    if k <= 2 {
        let half = Working::of(message("work-half-joined-in-the-middle"), of(width) / 2 + of(seam))
            .up_to(mark);
        return Some(vec![Width { name: "width-half", working: half.width(), count: 2 }]);
    }
    // An odd number, so that no seam falls on the middle.
    let middles = if k % 2 == 1 { k - 2 } else { k - 1 };
    let middle = Working::of(message("work-as-wide-as-the-cloth-allows"), of(usable)).width();
    let rest = of(width) - middles * (of(usable) - 2 * of(seam));
    let side =
        Working::of(message("work-half-of-the-rest-and-a-seam"), rest / 2 + of(seam)).up_to(mark);
    Some(vec![
        Width { name: "width-middle", working: middle, count: middles as usize },
        Width { name: "width-side", working: side.width(), count: 2 },
    ])
}

/// The part pieced, or `None` if the cloth is too narrow for that too.
///
/// The pattern runs on over the seams: every strip keeps the motif point of the whole part, which
/// for most of them lies beyond their own edge.
pub fn pieced(part: &Part, usable: Length, seam: Length, mark: Length) -> Option<Vec<Part>> {
    let (width, height) = part.size();
    let low = part.outline.outer.bounds().0;
    let widths = widths(width, usable, seam, mark)?;
    let mut strips: Vec<(&'static str, &Width, usize)> =
        widths.iter().map(|w| (w.name, w, w.count)).collect();
    if let [(_, middle, middles), (_, side, _)] = strips[..] {
        strips = vec![
            ("width-left", side, 1),
            ("width-middle", middle, middles),
            ("width-right", side, 1),
        ];
    }
    let all: Length = strips.iter().map(|s| s.1.working.result * s.2 as i64).sum();
    let total: usize = strips.iter().map(|s| s.2).sum();
    let mut pieces = Vec::new();
    // What whole marks add lies evenly left and right.
    let mut start = (width - (all - seam * 2 * (total as i64 - 1))).share(2);
    for (name, strip, count) in strips {
        for i in 0..count {
            // The strip's own coordinates start at its left edge.
            let local = |p: Point| Point::new(p.x - low.x - start.mm(), p.y - low.y);
            let motif = match &part.motif {
                Motif::Free => Motif::Matched(format!("{} joined", part.id), local(low)),
                Motif::Centred(p) => Motif::Centred(local(*p)),
                Motif::Matched(group, p) => Motif::Matched(group.clone(), local(*p)),
            };
            let label = if count > 1 {
                message("width-numbered").said("which", message(name)).count("number", i + 1)
            } else {
                message(name)
            };
            let across = strip.working.result;
            let mut piece = Part {
                name: message("part-width-of").said("part", part.name.clone()).said("which", label),
                outline: rectangle(across, height),
                marks: Vec::new(),
                may_seam: false,
                motif,
                ..part.clone()
            };
            piece.explain(strip.working.clone());
            let seams = if name == "width-middle" { 2 } else { 1 };
            piece.divided = Some((across - seam * seams).mm() * height.mm());
            pieces.push(piece);
            start += across - seam * 2;
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
        let (usable, seam, mark) = (inch(54.0), inch(0.5), inch(0.0625));
        let made = |width: Length| -> Vec<(&str, Length, usize)> {
            let widths = widths(width, usable, seam, mark).unwrap();
            widths.into_iter().map(|w| (w.name, w.working.result, w.count)).collect()
        };
        // An 84 in back up the roll: two halves of 42 1/2, one seam (derived here).
        assert_eq!(made(inch(84.0)), [("width-half", inch(42.5), 2)]);
        for width in [108.0, 130.0, 160.0, 240.0, 160.03] {
            let strips = made(inch(width));
            let count: usize = strips.iter().map(|s| s.2).sum();
            let total: Length = strips.iter().map(|s| s.1 * s.2 as i64).sum();
            let joined = total - seam * 2 * (count as i64 - 1);
            assert!(joined >= inch(width) && joined < inch(width) + mark * 2, "{width}");
            assert!(strips.iter().all(|s| s.1 <= usable && s.1 > seam * 2), "{strips:?}");
            assert!(strips.iter().all(|s| s.1.round_up(mark) == s.1), "{strips:?}");
            assert!(count % 2 == 1 || count == 2);
        }
    }
}
