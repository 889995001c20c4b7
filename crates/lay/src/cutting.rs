//! How a strip is cut: straight lines, cuts right across, and the order in which parts come away.

use crate::form::{Form, Forms};
use crate::{Instance, Strip};
use geometry::{Length, Rect};
use std::collections::BTreeMap;

/// Straight lines to cut along or across the cloth.
///
/// Sides that lie on one line count once if they touch, or if only waste lies between them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cuts {
    /// How many lines.
    pub lines: usize,
    /// Their length together.
    pub length: Length,
}

/// The straight cuts of a strip. Slanted and round sides take the same cuts wherever they lie and are
/// not counted.
pub fn cuts(instance: &Instance, strip: &Strip) -> Cuts {
    let boxes: Vec<Rect> = bounds(instance, strip);
    let mut upright: BTreeMap<i64, Vec<(i64, i64)>> = BTreeMap::new();
    let mut across: BTreeMap<i64, Vec<(i64, i64)>> = BTreeMap::new();
    for p in &strip.placements {
        let polygon = instance.items[p.item].shape.turned(p.turn);
        let points = polygon.points();
        for (i, a) in points.iter().enumerate() {
            let (a, b) = (a.plus(p.at), points[(i + 1) % points.len()].plus(p.at));
            if a.x == b.x {
                upright.entry(a.x).or_default().push((a.y.min(b.y), a.y.max(b.y)));
            } else if a.y == b.y {
                across.entry(a.y).or_default().push((a.x.min(b.x), a.x.max(b.x)));
            }
        }
    }
    let mut cuts = Cuts::default();
    let mut count = |lines: BTreeMap<i64, Vec<(i64, i64)>>,
                     blocks: &dyn Fn(&Rect, i64, i64, i64) -> bool| {
        for (at, mut spans) in lines {
            spans.sort_unstable();
            let mut run = spans[0];
            let mut ends = Vec::new();
            for &(low, high) in &spans[1..] {
                let apart = low > run.1 && boxes.iter().any(|b| blocks(b, at, run.1, low));
                if apart {
                    ends.push(run);
                    run = (low, high);
                } else {
                    run.1 = run.1.max(high);
                }
            }
            ends.push(run);
            cuts.lines += ends.len();
            cuts.length += Length::from_nm(ends.iter().map(|e| e.1 - e.0).sum());
        }
    };
    count(upright, &|b, x, from, to| {
        b.low.x < x && x < b.high.x && b.low.y < to && from < b.high.y
    });
    count(across, &|b, y, from, to| b.low.y < y && y < b.high.y && b.low.x < to && from < b.high.x);
    cuts
}

pub(crate) fn bounds(instance: &Instance, strip: &Strip) -> Vec<Rect> {
    let turned = |p: &crate::Placement| instance.items[p.item].shape.turned(p.turn).bounds();
    strip.placements.iter().map(|p| turned(p).moved(p.at)).collect()
}

/// Heights at which the cloth can be cut straight across without touching a part, between parts:
/// with these the length is first cut into handy sections.
pub fn cross_cuts(instance: &Instance, strip: &Strip) -> Vec<Length> {
    let mut spans: Vec<(i64, i64)> = strip
        .placements
        .iter()
        .map(|p| {
            let b = instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at);
            (b.low.y, b.high.y)
        })
        .collect();
    spans.sort_unstable();
    let mut cuts = Vec::new();
    let mut top = spans.first().map_or(0, |s| s.1);
    for (low, high) in spans {
        if low >= top {
            cuts.push(Length::from_nm(top));
        }
        top = top.max(high);
    }
    cuts
}

/// The order in which a strip's parts are best cut, as indices of its placements: from the cut end
/// upwards, and no part before those that lie between it and the cut end, so that each comes away as
/// soon as it is cut. Parts hooked into one another come away together, lowest first.
pub(crate) fn cutting_order(forms: &Forms, strip: &Strip) -> Vec<usize> {
    let known: Option<Vec<&Form>> = strip.placements.iter().map(|p| forms.of_laid(p)).collect();
    let all: Vec<usize> = (0..strip.placements.len()).collect();
    let Some(known) = known else { return all };
    let boxes: Vec<Rect> =
        known.iter().zip(&strip.placements).map(|(f, p)| f.bounds.moved(p.at)).collect();
    let mut waiting = all;
    waiting.sort_by_key(|&i| (boxes[i].low.y, boxes[i].low.x));
    if waiting.len() > MOST_ORDERED {
        return waiting;
    }
    let mut scratch = Vec::new();
    // Whether `a` is in the way of `b` on its straight way to the cut end.
    let mut between = |a: usize, b: usize| {
        let beside = boxes[a].high.x <= boxes[b].low.x || boxes[b].high.x <= boxes[a].low.x;
        if beside || boxes[a].low.y >= boxes[b].high.y {
            return false;
        }
        scratch.clear();
        let (pa, pb) = (strip.placements[a].at, strip.placements[b].at);
        forms.forbidden(known[b], pb.x, known[a], pa, &mut scratch);
        scratch.iter().any(|interval| interval.0 < pb.y)
    };
    let n = boxes.len();
    let below: Vec<Vec<usize>> =
        (0..n).map(|b| (0..n).filter(|&a| a != b && between(a, b)).collect()).collect();
    let mut order = Vec::with_capacity(n);
    let mut cut = vec![false; n];
    while !waiting.is_empty() {
        let free = waiting.iter().position(|&i| below[i].iter().all(|&a| cut[a]));
        let next = waiting.remove(free.unwrap_or(0));
        cut[next] = true;
        order.push(next);
    }
    order
}

/// Strips with more parts are cut in order of height alone.
const MOST_ORDERED: usize = 400;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Buying, Item, Rule, Stock};
    use geometry::{Polygon, Spot};

    fn strip(boxes: &[(i64, i64, i64, i64)]) -> (Instance, Strip) {
        let l = |n: i64| Length::from_nm(n * 1_000_000);
        let item = |b: &(i64, i64, i64, i64)| Item {
            name: String::new(),
            shape: Polygon::rectangle(l(b.2), l(b.3)),
            count: 1,
            turns: vec![0.0],
            rule: Rule::Free,
            exact: false,
            face: None,
        };
        let buying =
            Buying { left: l(0), right: l(100), roll: None, trim: l(0), step: l(1), flaws: vec![] };
        let placement = |(item, b): (usize, &(i64, i64, i64, i64))| crate::Placement {
            item,
            copy: 0,
            at: Spot::new(b.0 * 1_000_000, b.1 * 1_000_000),
            turn: 0.0,
        };
        let items = boxes.iter().map(item).collect();
        let placements = boxes.iter().enumerate().map(placement).collect();
        let length = l(boxes.iter().map(|b| b.1 + b.3).max().unwrap_or(0));
        let instance = Instance { items, on_hand: vec![], buying, pattern: None, pins: vec![] };
        (instance, Strip { stock: Stock::New(0), placements, length })
    }

    #[test]
    fn a_grid_takes_a_line_for_each_side_and_a_shifted_one_takes_more() {
        // Two by two, touching: three lines along and three across.
        let (instance, grid) =
            strip(&[(0, 0, 50, 40), (50, 0, 50, 40), (0, 40, 50, 40), (50, 40, 50, 40)]);
        let found = cuts(&instance, &grid);
        assert_eq!((found.lines, found.length), (6, Length::from_mm(3.0 * 80.0 + 3.0 * 100.0)));
        // The upper two 10 narrower and apart from the lower ones' sides.
        let (instance, shifted) =
            strip(&[(0, 0, 50, 40), (50, 0, 50, 40), (0, 40, 40, 40), (40, 40, 40, 40)]);
        assert_eq!(cuts(&instance, &shifted).lines, 3 + 5);
    }

    #[test]
    fn a_line_goes_on_over_waste_but_not_through_a_part() {
        let (instance, over_waste) = strip(&[(0, 0, 20, 30), (60, 0, 20, 30)]);
        // Four along, and the two across run on over the gap.
        assert_eq!(cuts(&instance, &over_waste).lines, 4 + 2);
        let (instance, through) = strip(&[(0, 0, 20, 30), (20, 0, 40, 60), (60, 0, 20, 30)]);
        // Across: the cut end, the top of the middle one, and one each side of it.
        assert_eq!(cuts(&instance, &through).lines, 4 + 4);
    }

    #[test]
    fn a_part_under_a_leaning_one_is_cut_first() {
        // A sliver whose foot is the lowest leans over a box that starts higher.
        let (mut instance, mut strip) = strip(&[(0, 0, 10, 10), (20, 10, 20, 20)]);
        let spot = |x: i64, y: i64| Spot::new(x * 1_000_000, y * 1_000_000);
        instance.items[0].shape =
            Polygon::new(vec![spot(0, 0), spot(10, 0), spot(50, 60), spot(40, 60)]);
        strip.placements[1].at = spot(31, 10);
        assert!(
            crate::verify(
                &instance,
                &crate::Lay {
                    strips: vec![Strip { length: Length::from_mm(60.0), ..strip.clone() }]
                }
            )
            .is_empty()
        );
        let forms = Forms::of(&instance, 0, crate::form::Detail::Light);
        assert_eq!(cutting_order(&forms, &strip), [1, 0]);
    }
}
