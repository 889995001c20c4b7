//! A chair or sofa by its cuts: each measured at its widest and tallest over the padding, and enlarged
//! by what its edges need.

use super::strips::rectangle;
use super::{Ask, Kit};
use crate::kind::{CutEdge, CutPiece};
use crate::part::{Part, Stuff};
use crate::rates::Allowances;
use crate::working::{Working, of};
use geometry::Length;

/// What an edge adds.
///
/// Source: stapled edges 50 to 75 mm, tack strip 25, seam 12, a hidden part replaced by a pull of
/// cheaper cloth sewn on: common practice, no source; all are settings.
const fn added(edge: CutEdge, a: &Allowances) -> Length {
    match edge {
        CutEdge::Stapled => a.turn_under,
        CutEdge::TackStrip => a.tack_strip,
        CutEdge::Seam | CutEdge::Pull => a.seam,
        CutEdge::Bare => Length::ZERO,
    }
}

/// Develops every cut, and the pulls sewn to them.
pub fn develop(ask: &Ask, cuts: &[CutPiece]) -> Kit {
    let a = ask.build.allowances;
    let first = cuts.first().map_or((Length::ZERO, Length::ZERO), |c| (c.width, c.height));
    let mut kit = Kit { finished: first, ..Kit::default() };
    for cut in cuts {
        let [bottom, right, top, left] = cut.edges.map(|edge| {
            added(edge, a) + if edge == CutEdge::Stapled { a.trim } else { Length::ZERO }
        });
        let size = (cut.width + left + right, cut.height + bottom + top);
        let material = cut.cloth.as_deref().unwrap_or(ask.cloth);
        let mut part =
            Part::new(cut.name.clone(), Stuff::Cloth, material, rectangle(size.0, size.1));
        part.seen = cut.shows;
        let (x, y) = (left.mm(), bottom.mm());
        let seen = rectangle(cut.width, cut.height).outer;
        part.face = Some(seen.moved(geometry::Vector::new(x, y)));
        let sum = |from: Length, low: Length, high: Length, what: &str| {
            Working::of(format!("{}, {what}", cut.name), of(from) + of(low) + of(high))
        };
        part.explain(sum(cut.width, left, right, "cut width (left, right)").width());
        part.explain(sum(cut.height, bottom, top, "cut height (bottom, top)").height());
        let copies = cut.count as i64;
        for (i, edge) in cut.edges.iter().enumerate() {
            let long = if i % 2 == 0 { cut.width } else { cut.height };
            let q = &mut kit.quantities;
            match edge {
                CutEdge::Stapled => q.staple_line += long * copies,
                CutEdge::TackStrip => q.tack_strip += long * copies,
                // A seam has two sides, each of them entered with its own cut.
                CutEdge::Seam => q.seam += (long * copies).share(2),
                CutEdge::Pull => q.seam += long * copies,
                CutEdge::Bare => {}
            }
            if *edge == CutEdge::Pull {
                let cloth = ask.under.unwrap_or(ask.cloth);
                let outline = rectangle(long + a.seam * 2, a.pull + a.seam);
                let name = format!("pull for {}", cut.name);
                let mut pull = Part::new(name, Stuff::Cloth, cloth, outline);
                pull.count = cut.count;
                pull.explain(Working::grown("pull, length", long, &[a.seam]).width());
                pull.explain(Working::of("pull, height", of(a.pull) + of(a.seam)).height());
                kit.parts.push(pull);
            }
        }
        if cut.pair {
            let mut other = part.clone();
            (part.hand, other.hand) = (Some("left"), Some("right"));
            part.count = cut.count.div_ceil(2);
            other.count = cut.count / 2;
            kit.parts.push(part);
            kit.parts.push(other);
        } else {
            part.count = cut.count;
            kit.parts.push(part);
        }
    }
    // Cuts first, pulls after them.
    kit.parts.sort_by_key(|p| p.name.starts_with("pull for"));
    kit
}
