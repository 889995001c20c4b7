//! What is left of a length of cloth once its parts are cut: rectangles worth keeping.

use crate::ground::Ground;
use crate::{Instance, Strip};
use geometry::{Length, Rect, Spot};

/// Pieces smaller than this on either side go to the bag of scraps. Common practice, no source.
pub const WORTH_KEEPING: Length = Length::from_nm(300_000_000);

/// More parts than this are not looked at singly: only what lies above all is kept.
const MOST_PARTS: usize = 300;

/// The largest rectangles left on a strip of `length`, largest first, each at least `least` on both
/// sides, none over another; at most `most`. Parts count with the boxes around them.
///
/// A largest empty rectangle has a part or a selvedge at each side, so its left and right sides are
/// among those of the parts; between each two the gaps along the cloth are looked through.
pub fn leftover(
    instance: &Instance,
    strip: &Strip,
    length: Length,
    least: Length,
    most: usize,
) -> Vec<Rect> {
    let Ground { left, right, flaws, .. } = Ground::of(instance, strip.stock);
    let mut taken: Vec<Rect> = strip
        .placements
        .iter()
        .map(|p| instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at))
        .collect();
    taken.extend(flaws);
    if taken.len() > MOST_PARTS {
        let top = taken.iter().map(|r| r.high.y).max().unwrap_or(0);
        taken = vec![Rect { low: Spot::new(left, 0), high: Spot::new(right, top) }];
    }
    let mut kept = Vec::new();
    while kept.len() < most {
        let found = largest(&taken, (left, right), length.nm(), least.nm());
        let Some(found) = found else { break };
        kept.push(found);
        taken.push(found);
    }
    kept
}

fn largest(taken: &[Rect], (left, right): (i64, i64), length: i64, least: i64) -> Option<Rect> {
    let mut lefts: Vec<i64> = taken.iter().map(|r| r.high.x).chain([left]).collect();
    let mut rights: Vec<i64> = taken.iter().map(|r| r.low.x).chain([right]).collect();
    for xs in [&mut lefts, &mut rights] {
        xs.retain(|x| (left..=right).contains(x));
        xs.sort_unstable();
        xs.dedup();
    }
    let mut upward: Vec<&Rect> = taken.iter().collect();
    upward.sort_by_key(|r| r.low.y);
    let mut best: Option<(i128, Rect)> = None;
    for &from in &lefts {
        for &to in rights.iter().filter(|to| **to - from >= least) {
            let mut free_from = 0;
            let beside = upward.iter().filter(|r| r.low.x < to && from < r.high.x);
            let ends = beside.map(|r| (r.low.y, r.high.y)).chain([(length, length)]);
            for (low, high) in ends {
                let low = low.min(length);
                let area = i128::from(to - from) * i128::from(low - free_from);
                if low - free_from >= least && best.is_none_or(|(most, _)| area > most) {
                    let rect = Rect { low: Spot::new(from, free_from), high: Spot::new(to, low) };
                    best = Some((area, rect));
                }
                free_from = free_from.max(high);
            }
        }
    }
    best.map(|(_, rect)| rect)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Buying, Item, Placement, Rule, Stock};
    use geometry::Polygon;
    use proptest::prelude::*;

    const MM: i64 = 1_000_000;

    fn laid(boxes: &[(i64, i64, i64, i64)]) -> (Instance, Strip) {
        let l = |n: i64| Length::from_nm(n * MM);
        let items = boxes
            .iter()
            .map(|b| Item {
                name: String::new(),
                shape: Polygon::rectangle(l(b.2), l(b.3)),
                count: 1,
                turns: vec![0.0],
                rule: Rule::Free,
                exact: false,
                face: None,
            })
            .collect();
        let buying = Buying {
            left: l(0),
            right: l(100),
            roll: None,
            trim: l(0),
            step: Length::from_nm(1),
            flaws: vec![],
        };
        let instance = Instance { items, on_hand: vec![], buying, pattern: None, pins: vec![] };
        let placements = boxes
            .iter()
            .enumerate()
            .map(|(item, b)| Placement {
                item,
                copy: 0,
                at: Spot::new(b.0 * MM, b.1 * MM),
                turn: 0.0,
            })
            .collect();
        let length = l(boxes.iter().map(|b| b.1 + b.3).max().unwrap_or(0));
        (instance, Strip { stock: Stock::New(0), placements, length })
    }

    #[test]
    fn the_end_and_the_side_are_kept_largest_first() {
        let (instance, strip) = laid(&[(0, 0, 60, 50), (0, 50, 40, 50)]);
        let l = |n: i64| Length::from_nm(n * MM);
        let kept = leftover(&instance, &strip, l(150), l(20), 4);
        let shown: Vec<_> = kept
            .iter()
            .map(|r| (r.low.x / MM, r.low.y / MM, r.high.x / MM, r.high.y / MM))
            .collect();
        // 60 x 100 beside the upper part and above it beats 100 x 50 and 40 x 150.
        assert_eq!(shown, [(40, 50, 100, 150), (0, 100, 40, 150), (60, 0, 100, 50)]);
        assert_eq!(crate::cross_cuts(&instance, &strip), [l(50)]);
    }

    proptest! {
        #[test]
        fn what_is_kept_is_free(boxes in proptest::collection::vec((0_i64..80, 0_i64..80, 5_i64..20, 5_i64..20), 1..8)) {
            let (instance, strip) = laid(&boxes);
            let kept = leftover(&instance, &strip, strip.length, Length::from_nm(5 * MM), 5);
            for (i, r) in kept.iter().enumerate() {
                prop_assert!(r.low.x >= 0 && r.high.x <= 100 * MM && r.high.y <= strip.length.nm());
                prop_assert!(kept[..i].iter().all(|other| !r.meets(other)));
                for b in &boxes {
                    let b = Rect { low: Spot::new(b.0 * MM, b.1 * MM), high: Spot::new((b.0 + b.2) * MM, (b.1 + b.3) * MM) };
                    prop_assert!(!r.meets(&b));
                }
            }
        }
    }
}
