//! Foam and board: rectangles cut from sheets by straight cuts from edge to edge.
//!
//! Every cut takes the blade's width. A blade between two parts is counted to the first; the sheet
//! is thought longer and wider by one blade, so that the last part needs none. Offcuts on hand go
//! first; then the kind of sheet, or mix of kinds, that costs least.

use geometry::Length;

/// A rectangle to cut. A part of another outline is cut from its box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Along the sheet's width when not turned.
    pub width: Length,
    /// Along the sheet's height when not turned.
    pub height: Length,
    /// How many.
    pub count: usize,
    /// Whether it may be turned a quarter.
    pub may_turn: bool,
}

/// A kind of sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// For messages.
    pub name: String,
    /// Left to right.
    pub width: Length,
    /// Bottom to top.
    pub height: Length,
    /// Price in the least coin; compared, not shown.
    pub cost: i64,
    /// How many there are, for offcuts on hand; `None` when it can be bought.
    pub on_hand: Option<usize>,
}

/// One copy on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Index of the part.
    pub part: usize,
    /// Which copy, from 0.
    pub copy: usize,
    /// Bottom left corner from the sheet's.
    pub x: Length,
    /// Bottom left corner from the sheet's.
    pub y: Length,
    /// Turned a quarter counter-clockwise.
    pub turned: bool,
}

/// One sheet and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutSheet {
    /// Index of the kind of sheet.
    pub sheet: usize,
    /// From bottom left.
    pub cuts: Vec<Cut>,
}

/// How all parts are cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cutting {
    /// In the order they are cut; offcuts first.
    pub sheets: Vec<CutSheet>,
    /// No cutting needs fewer sheets of the kind bought.
    pub proven: bool,
    /// Total cost of the sheets bought, in the least coin.
    pub cost: i64,
}

/// Trials with shuffled orders beyond the sorted ones.
const SHUFFLES: usize = 60;

/// Cuts all parts from sheets; `Err` names a part that fits no sheet.
pub fn cut(parts: &[Part], sheets: &[Sheet], kerf: Length, seed: u64) -> Result<Cutting, usize> {
    for (i, part) in parts.iter().enumerate() {
        let fits = |s: &Sheet| {
            (part.width <= s.width && part.height <= s.height)
                || (part.may_turn && part.height <= s.width && part.width <= s.height)
        };
        if part.count > 0 && !sheets.iter().any(|s| s.on_hand.is_none() && fits(s)) {
            return Err(i);
        }
    }
    let all: Vec<(usize, usize)> =
        parts.iter().enumerate().flat_map(|(i, p)| (0..p.count).map(move |c| (i, c))).collect();
    let mut best: Option<Cutting> = None;
    let mut random = fastrand::Rng::with_seed(seed);
    for trial in 0..SORTS + SHUFFLES {
        let mut order = all.clone();
        let size = |&(i, _): &(usize, usize)| (parts[i].width.nm(), parts[i].height.nm());
        match trial {
            0 => order
                .sort_by_key(|p| std::cmp::Reverse(i128::from(size(p).0) * i128::from(size(p).1))),
            1 => order.sort_by_key(|p| std::cmp::Reverse(size(p).0.max(size(p).1))),
            2 => order.sort_by_key(|p| std::cmp::Reverse(size(p))),
            3 => order.sort_by_key(|p| std::cmp::Reverse((size(p).1, size(p).0))),
            _ if all.len() > 400 => break,
            _ => random.shuffle(&mut order),
        }
        for split in [Split::ShortLeftover, Split::LongLeftover, Split::Upright, Split::Flat] {
            for first in bought(sheets) {
                if let Some(found) = fill(parts, sheets, kerf, &order, split, first)
                    && best
                        .as_ref()
                        .is_none_or(|b| (found.cost, found.sheets.len()) < (b.cost, b.sheets.len()))
                {
                    best = Some(found);
                }
            }
        }
    }
    let mut best = best.unwrap_or_default();
    best.proven = fewest(parts, sheets, kerf) >= best.cost;
    Ok(best)
}

const SORTS: usize = 4;

/// How what is left of a free rectangle beside and above a part is cut in two.
#[derive(Clone, Copy)]
enum Split {
    ShortLeftover,
    LongLeftover,
    Upright,
    Flat,
}

fn bought(sheets: &[Sheet]) -> impl Iterator<Item = usize> + '_ {
    (0..sheets.len()).filter(|&i| sheets[i].on_hand.is_none())
}

#[derive(Clone, Copy)]
struct Free {
    x: i64,
    y: i64,
    w: i64,
    h: i64,
}

struct Open {
    sheet: usize,
    free: Vec<Free>,
    cuts: Vec<Cut>,
}

/// Offcuts first, then sheets of kind `first`; the last sheet is swapped for a cheaper kind that
/// holds the same parts.
fn fill(
    parts: &[Part],
    sheets: &[Sheet],
    kerf: Length,
    order: &[(usize, usize)],
    split: Split,
    first: usize,
) -> Option<Cutting> {
    let open = |sheet: usize| {
        let s = &sheets[sheet];
        let free = Free { x: 0, y: 0, w: (s.width + kerf).nm(), h: (s.height + kerf).nm() };
        Open { sheet, free: vec![free], cuts: Vec::new() }
    };
    let mut opened: Vec<Open> = (0..sheets.len())
        .flat_map(|i| std::iter::repeat_n(i, sheets[i].on_hand.unwrap_or(0)))
        .map(open)
        .collect();
    for &(part, copy) in order {
        let piece = (part, copy, &parts[part]);
        if opened.iter_mut().any(|o| place(o, piece, kerf, split)) {
            continue;
        }
        // A part too large for the usual kind takes the cheapest kind that holds it.
        let mut kinds: Vec<usize> = bought(sheets).collect();
        kinds.sort_by_key(|&k| (k != first, sheets[k].cost));
        let fresh = kinds.into_iter().find_map(|kind| {
            let mut fresh = open(kind);
            place(&mut fresh, piece, kerf, split).then_some(fresh)
        });
        opened.push(fresh?);
    }
    opened.retain(|o| !o.cuts.is_empty());
    for o in &mut opened {
        smaller(o, parts, sheets);
    }
    let cost = opened
        .iter()
        .filter(|o| sheets[o.sheet].on_hand.is_none())
        .map(|o| sheets[o.sheet].cost)
        .sum();
    let sheets = opened.into_iter().map(|o| CutSheet { sheet: o.sheet, cuts: o.cuts }).collect();
    Some(Cutting { sheets, proven: false, cost })
}

/// Places a copy of a part in the free rectangle it fits most snugly; whether it fits any.
fn place(
    open: &mut Open,
    (index, copy, part): (usize, usize, &Part),
    kerf: Length,
    split: Split,
) -> bool {
    let (w, h) = ((part.width + kerf).nm(), (part.height + kerf).nm());
    let turns = if part.may_turn && w != h { 2 } else { 1 };
    let snuggest = (0..open.free.len())
        .flat_map(|i| (0..turns).map(move |t| (i, t == 1)))
        .filter_map(|(i, turned)| {
            let (w, h) = if turned { (h, w) } else { (w, h) };
            let f = open.free[i];
            (w <= f.w && h <= f.h).then(|| ((f.w - w).min(f.h - h), i, turned))
        })
        .min();
    let Some((_, i, turned)) = snuggest else { return false };
    let (w, h) = if turned { (h, w) } else { (w, h) };
    let f = open.free.swap_remove(i);
    let upright = match split {
        Split::ShortLeftover => f.w - w >= f.h - h,
        Split::LongLeftover => f.w - w < f.h - h,
        Split::Upright => true,
        Split::Flat => false,
    };
    // Upright: the cut beside the part runs the whole height.
    let (beside, above) = if upright { (f.h, w) } else { (h, f.w) };
    let rest = [
        Free { x: f.x + w, y: f.y, w: f.w - w, h: beside },
        Free { x: f.x, y: f.y + h, w: above, h: f.h - h },
    ];
    open.free.extend(rest.into_iter().filter(|r| r.w > 0 && r.h > 0));
    let (x, y) = (Length::from_nm(f.x), Length::from_nm(f.y));
    open.cuts.push(Cut { part: index, copy, x, y, turned });
    true
}

/// Takes a cheaper kind of sheet if all cuts lie within it.
fn smaller(open: &mut Open, parts: &[Part], sheets: &[Sheet]) {
    if sheets[open.sheet].on_hand.is_some() {
        return;
    }
    let reach = |cut: &Cut| {
        let p = &parts[cut.part];
        let (w, h) = if cut.turned { (p.height, p.width) } else { (p.width, p.height) };
        (cut.x + w, cut.y + h)
    };
    let width = open.cuts.iter().map(|c| reach(c).0).max().unwrap_or_default();
    let height = open.cuts.iter().map(|c| reach(c).1).max().unwrap_or_default();
    let best = bought(sheets)
        .filter(|&k| width <= sheets[k].width && height <= sheets[k].height)
        .min_by_key(|&k| sheets[k].cost);
    if let Some(kind) = best {
        open.sheet = kind;
    }
}

/// No cutting costs less: area (blade included), and parts over half a sheet both ways, on sheets
/// of the best value. Nothing is proven when offcuts are on hand.
fn fewest(parts: &[Part], sheets: &[Sheet], kerf: Length) -> i64 {
    if sheets.iter().any(|s| s.on_hand.is_some()) || bought(sheets).count() != 1 {
        return -1;
    }
    let Some(sheet) = sheets.first() else { return -1 };
    let product = |w: Length, h: Length| i128::from((w + kerf).nm()) * i128::from((h + kerf).nm());
    let area: i128 = parts.iter().map(|p| product(p.width, p.height) * p.count as i128).sum();
    let whole = product(sheet.width, sheet.height);
    let by_area = (area + whole - 1).div_euclid(whole) as i64;
    let over_half = |p: &Part| {
        let (short, long) = (sheet.width.min(sheet.height), sheet.width.max(sheet.height));
        let least = p.width.min(p.height);
        if p.may_turn {
            // In either turn over half of both sides: the lesser side over half the longer.
            (least + kerf) * 2 > long + kerf && short > Length::ZERO
        } else {
            (p.width + kerf) * 2 > sheet.width + kerf && (p.height + kerf) * 2 > sheet.height + kerf
        }
    };
    let large: usize = parts.iter().filter(|p| over_half(p)).map(|p| p.count).sum();
    by_area.max(large as i64) * sheet.cost
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(x: i64) -> Length {
        Length::from_nm(x * 1_000_000)
    }

    fn part(w: i64, h: i64, count: usize) -> Part {
        Part { width: mm(w), height: mm(h), count, may_turn: true }
    }

    fn sheet(w: i64, h: i64, cost: i64) -> Sheet {
        Sheet { name: "sheet".into(), width: mm(w), height: mm(h), cost, on_hand: None }
    }

    /// Every cut within its sheet, no two nearer than the blade, every copy once.
    fn right(cutting: &Cutting, parts: &[Part], sheets: &[Sheet], kerf: Length) -> bool {
        let mut copies: Vec<usize> = vec![0; parts.len()];
        for s in &cutting.sheets {
            let kind = &sheets[s.sheet];
            let boxes: Vec<(Length, Length, Length, Length)> = s
                .cuts
                .iter()
                .map(|c| {
                    copies[c.part] += 1;
                    let p = &parts[c.part];
                    let (w, h) = if c.turned { (p.height, p.width) } else { (p.width, p.height) };
                    (c.x, c.y, c.x + w, c.y + h)
                })
                .collect();
            for (i, a) in boxes.iter().enumerate() {
                if a.2 > kind.width || a.3 > kind.height {
                    return false;
                }
                for b in &boxes[i + 1..] {
                    let apart = a.2 + kerf <= b.0
                        || b.2 + kerf <= a.0
                        || a.3 + kerf <= b.1
                        || b.3 + kerf <= a.1;
                    if !apart {
                        return false;
                    }
                }
            }
        }
        copies == parts.iter().map(|p| p.count).collect::<Vec<_>>()
    }

    #[test]
    fn pads_boards_and_plinths_of_a_bench_of_five() {
        // Counted by hand: 1192 x 450 on 2000 x 1200 four a sheet; on 2440 x 1220 with a blade of 4
        // four a sheet along the grain, five across it; 1192 x 400 six; five of 1192 x 100 on one.
        let along = |p: Part| Part { may_turn: false, ..p };
        for (parts, sheet, kerf, want) in [
            (part(1192, 450, 5), sheet(2000, 1200, 7800), 0, 2),
            (part(1192, 400, 5), sheet(2000, 1200, 3400), 0, 1),
            (along(part(1192, 450, 5)), sheet(2440, 1220, 6200), 4, 2),
            (part(1192, 450, 5), sheet(2440, 1220, 6200), 4, 1),
            (part(1192, 400, 6), sheet(2440, 1220, 4800), 4, 1),
            (part(1192, 400, 7), sheet(2440, 1220, 4800), 4, 2),
            (part(1192, 100, 5), sheet(2440, 1220, 3800), 4, 1),
            (part(688, 786, 18), sheet(2400, 1200, 3100), 0, 6),
        ] {
            let (parts, sheets) = (vec![parts], vec![sheet]);
            let cutting = cut(&parts, &sheets, mm(kerf), 1).unwrap();
            assert_eq!(cutting.sheets.len(), want, "{parts:?}");
            assert!(right(&cutting, &parts, &sheets, mm(kerf)));
        }
    }

    #[test]
    fn a_blade_between_two_halves_counts_but_not_at_the_edge() {
        let sheets = [sheet(1000, 500, 1)];
        let halves = |w| cut(&[part(w, 500, 2)], &sheets, mm(4), 1).unwrap().sheets.len();
        assert_eq!(halves(498), 1);
        assert_eq!(halves(499), 2);
    }

    #[test]
    fn a_small_sheet_is_bought_when_it_will_do_and_an_offcut_costs_nothing() {
        let mut sheets = vec![sheet(2000, 1000, 50), sheet(1000, 1000, 30)];
        let one = [part(900, 900, 1)];
        assert_eq!(cut(&one, &sheets, mm(0), 1).unwrap().cost, 30);
        assert_eq!(cut(&[part(900, 900, 3)], &sheets, mm(0), 1).unwrap().cost, 80);
        sheets.push(Sheet { on_hand: Some(1), ..sheet(950, 950, 0) });
        let cutting = cut(&[part(900, 900, 3)], &sheets, mm(0), 1).unwrap();
        assert_eq!((cutting.cost, cutting.sheets[0].sheet), (50, 2));
        assert_eq!(cut(&[part(2100, 900, 1)], &sheets, mm(0), 1), Err(0));
    }

    proptest! {
        #[test]
        fn every_cutting_is_right(
            sizes in proptest::collection::vec((50_i64..900, 50_i64..900, 1_usize..4, any::<bool>()), 1..8),
            kerf in 0_i64..6,
        ) {
            let parts: Vec<Part> = sizes
                .into_iter()
                .map(|(w, h, count, may_turn)| Part { may_turn, ..part(w, h, count) })
                .collect();
            let sheets = [sheet(1200, 1000, 40), sheet(2000, 1000, 60)];
            let cutting = cut(&parts, &sheets, mm(kerf), 3).unwrap();
            prop_assert!(right(&cutting, &parts, &sheets, mm(kerf)));
        }
    }
}
