//! Skirts: pleated all along, or flat with an inverted pleat at each corner.

use super::strips::{pieced_odd, rectangle, strip};
use super::{Ask, Kit};
use crate::fault::Fault;
use crate::kind::{Pleating, Skirt};
use crate::part::{Mark, Meaning, Part, Quantities, Stuff};
use crate::working::{Working, of};
use geometry::{Length, Point};

/// Whole pleats on each side, as near the spacing as they come.
pub fn pleats(sides: &[Length], spacing: Length) -> Vec<i64> {
    sides.iter().map(|side| ((side.mm() / spacing.mm()).round() as i64).max(1)).collect()
}

/// Cloth a pleated run takes: each side, and twice the depth for each of its pleats.
///
/// Source: count the layers; sewing teaching page (spacing 2, depth 2, 1, 4, 3: three, two, five and
/// four times the run).
pub fn fullness(sides: &[Length], spacing: Length, depth: Length) -> Length {
    let count: i64 = pleats(sides, spacing).iter().sum();
    sides.iter().copied().sum::<Length>() + depth * (2 * count)
}

/// Develops a skirt.
///
/// Cut height: `drop + hem + n`, or `2 drop + 2 n` when it is lined with itself. With corner pleats each
/// side is `side + 2 fold` with a seam at either end, and an underlay of two folds lies behind each corner.
///
/// Source: published soft-furnishing text: sides + 11 cm at both ends, underlay 22 cm, cut depth twice
/// the drop + 2.5 cm.
pub fn develop(ask: &Ask, skirt: &Skirt) -> Result<Kit, Vec<Fault>> {
    let a = ask.build.allowances;
    let run: Length = skirt.sides.iter().copied().sum();
    let (height, height_working) = if skirt.lined {
        let height = skirt.drop * 2 + a.seam * 2;
        let sum = 2 * of(skirt.drop) + 2 * of(a.seam);
        (height, Working::of("cut height, lined with itself", sum).height())
    } else {
        let height = skirt.drop + skirt.hem + a.seam;
        let sum = of(skirt.drop) + of(skirt.hem) + of(a.seam);
        (height, Working::of("cut height", sum).height())
    };
    let mut kit = Kit { finished: (run, skirt.drop), ..Kit::default() };
    let mut seam = run;
    match skirt.pleats {
        Pleating::Even { spacing, depth } => {
            let total = fullness(&skirt.sides, spacing, depth);
            let number: i64 = pleats(&skirt.sides, spacing).iter().sum();
            let room = ask.usable - a.seam * 2;
            if room <= Length::ZERO {
                return Err(vec![Fault::new(
                    "cloth-too-narrow",
                    format!("{}.cloth", ask.at),
                    "the cloth is narrower than two seam allowances",
                    "choose a wider cloth",
                )]);
            }
            let count = total.steps_up(room).max(1);
            let mark = ask.build.style.mark;
            let width = |count: i64| {
                let width = of(total) / count + 2 * of(a.seam);
                Working::of("each width", width).up_to(a.cut_step).up_to(mark).width()
            };
            // Whole marks may take one width more.
            let count = (count..=count + 1).find(|&n| width(n).result <= ask.usable);
            let count = count.unwrap_or(1);
            let each = width(count).result;
            let what = format!("cloth for all {number} pleats");
            let mut part = strip("skirt width", ask.cloth, each, height).seen().explained([
                Working::of(what, of(run) + number * (2 * of(depth))),
                width(count),
                height_working,
            ]);
            part.count = count as usize;
            part.divided = Some(total.share(count).mm() * height.mm());
            part.marks = pleat_marks((spacing, depth), a.seam, each, height);
            kit.parts.push(part);
            // A ring: as many joins as widths.
            seam += height * count + run;
        }
        Pleating::Corners { fold } => {
            let mut sides: Vec<(Length, usize)> = Vec::new();
            for side in &skirt.sides {
                match sides.iter_mut().find(|s| s.0 == *side) {
                    Some(found) => found.1 += 1,
                    None => sides.push((*side, 1)),
                }
            }
            for (side, count) in sides {
                let width = side + fold * 2 + a.seam * 2;
                let mut part = strip("skirt side", ask.cloth, width, height).seen();
                part.count = count;
                for x in [a.seam + fold, a.seam + fold + side] {
                    let ends = [0.0, height.mm()].map(|y| Point::new(x.mm(), y));
                    part.marks.push(Mark::open(Meaning::Fold, ends.to_vec()));
                }
                part.explain(Working::grown("skirt side", side, &[fold, a.seam]).width());
                part.explain(height_working.clone());
                if skirt.lined {
                    // The fold along its length is the hem.
                    let middle = height.share(2).mm();
                    let ends = [0.0, width.mm()].map(|x| Point::new(x, middle));
                    part.marks.push(Mark::open(Meaning::Fold, ends.to_vec()));
                }
                let (mut parts, joins) = if ask.railroads {
                    (vec![part], 0)
                } else {
                    pieced_odd(part, ask.usable, &ask.build)
                };
                if joins > 0 {
                    // Its folds are marked once it is joined.
                    parts.iter_mut().for_each(|p| p.marks.clear());
                }
                seam += height * (joins * count) as i64;
                kit.parts.extend(parts);
            }
            let outline = rectangle(fold * 2 + a.seam * 2, height);
            let mut underlay = Part::new("corner underlay", Stuff::Cloth, ask.cloth, outline);
            underlay.count = skirt.sides.len();
            underlay.explain(Working::grown("underlay", fold * 2, &[a.seam]).width());
            underlay.explain(height_working);
            kit.parts.push(underlay);
            seam += height * (skirt.sides.len() * 2) as i64 + run;
        }
    }
    kit.quantities = Quantities { seam, ..Quantities::default() };
    Ok(kit)
}

/// Folds of a width, from its left seam: a pleat's face, then its two hidden layers.
fn pleat_marks(
    (spacing, depth): (Length, Length),
    seam: Length,
    width: Length,
    height: Length,
) -> Vec<Mark> {
    let period = (spacing + depth * 2).mm();
    let (left, right) = (seam.mm(), (width - seam).mm());
    let mut marks = Vec::new();
    let mut at = left;
    while at < right && marks.len() < 400 {
        for x in [at + spacing.mm(), at + spacing.mm() + depth.mm()] {
            if x < right {
                let ends = vec![Point::new(x, 0.0), Point::new(x, height.mm())];
                marks.push(Mark::open(Meaning::Fold, ends));
            }
        }
        at += period;
    }
    marks
}
