//! An item in one allowed turn, ready to be compared with others.

use crate::no_fit::{NoFit, Piece};
use crate::phase::{self, Phases};
use crate::{Instance, Item, Placement, Rule};
use geometry::{Polygon, Rect, Spot, few_convex_pieces};
use std::sync::OnceLock;

/// One item in one turn.
#[derive(Clone, Debug)]
pub(crate) struct Form {
    pub turn: f64,
    pub polygon: Polygon,
    pub pieces: Vec<Piece>,
    pub bounds: Rect,
    /// What must be free of flaws.
    pub face: Vec<Piece>,
    pub face_bounds: Rect,
    /// Turned anchor of the item's rule; the origin if it has none.
    pub anchor: Spot,
    /// An upright rectangle.
    pub upright: bool,
    /// Its number among all forms of an instance.
    pub number: usize,
}

/// All forms of an instance, and for each pair the slices already worked out.
pub(crate) struct Forms {
    /// By item.
    pub list: Vec<Vec<Form>>,
    /// Phases each matched group may take across the cloth, or the item that leaves it none.
    pub phases: Result<Vec<Option<Phases>>, usize>,
    pub count: usize,
    pairs: Vec<OnceLock<Box<[NoFit]>>>,
}

/// Past this many forms the table of pairs would fill the memory; slices are worked out each time.
const MOST_FORMS: usize = 700;

impl Forms {
    /// Each side grown by `margin` nanometres.
    pub fn of(instance: &Instance, margin: i64) -> Self {
        let mut list: Vec<Vec<Form>> = instance
            .items
            .iter()
            .map(|item| Form::all(item, if item.exact { 0 } else { margin }))
            .collect();
        for (number, form) in list.iter_mut().flatten().enumerate() {
            form.number = number;
        }
        let count = list.iter().map(Vec::len).sum();
        let pairs = if count <= MOST_FORMS { count * count } else { 0 };
        let phases = phase::groups(instance, &list);
        Self {
            list,
            phases,
            count,
            pairs: std::iter::repeat_with(OnceLock::new).take(pairs).collect(),
        }
    }

    /// Whether there are few enough forms to keep something for each pair.
    pub const fn paired(&self) -> bool {
        self.count <= MOST_FORMS
    }

    /// Which of its item's forms a laid part has.
    pub fn number(&self, laid: &Placement) -> Option<usize> {
        self.list.get(laid.item)?.iter().position(|form| form.turn == laid.turn)
    }

    /// The form of a laid part.
    pub fn of_laid(&self, laid: &Placement) -> Option<&Form> {
        Some(&self.list[laid.item][self.number(laid)?])
    }

    /// The open intervals of y in which form `a` at x meets form `b` at `at`, added to `found`.
    pub fn forbidden(&self, a: &Form, x: i64, b: &Form, at: Spot, found: &mut Vec<(i64, i64)>) {
        if a.upright && b.upright {
            let b = b.bounds.moved(at);
            if a.bounds.low.x + x < b.high.x && b.low.x < a.bounds.high.x + x {
                found.push((b.low.y - a.bounds.high.y, b.high.y - a.bounds.low.y));
            }
            return;
        }
        let mut slice = |no_fits: &[NoFit]| {
            for no_fit in no_fits {
                if let Some((low, high)) = no_fit.slice(x - at.x) {
                    found.push((low + at.y, high + at.y));
                }
            }
        };
        match self.pairs.get(a.number * self.count + b.number) {
            Some(cell) => slice(cell.get_or_init(|| NoFit::all(&a.pieces, &b.pieces))),
            None => slice(&NoFit::all(&a.pieces, &b.pieces)),
        }
    }
}

impl Form {
    /// All allowed turns of an item, each side grown by `margin` nanometres (for the question
    /// how much measuring error a lay forgives).
    pub fn all(item: &Item, margin: i64) -> Vec<Self> {
        let mut turns = item.turns.clone();
        // The same outline in another turn is only another name for the same places.
        let mut seen: Vec<Polygon> = Vec::new();
        turns.retain(|&turn| {
            let polygon = settled(&item.shape.turned(turn));
            let new = matches!(item.rule, Rule::Free) && seen.contains(&polygon);
            seen.push(polygon);
            !new
        });
        turns.into_iter().map(|turn| Self::new(item, turn, margin)).collect()
    }

    pub fn new(item: &Item, turn: f64, margin: i64) -> Self {
        let polygon = item.shape.turned(turn);
        let cut = |p: &Polygon| -> Vec<Piece> {
            few_convex_pieces(p).iter().map(|c| Piece::new(c.points(), margin)).collect()
        };
        let pieces = cut(&polygon);
        let grown = |r: Rect| Rect {
            low: Spot::new(r.low.x - margin, r.low.y - margin),
            high: Spot::new(r.high.x + margin, r.high.y + margin),
        };
        let bounds = grown(polygon.bounds());
        let (face, face_bounds) = match item.face.as_ref().map(|face| face.turned(turn)) {
            Some(face) => (cut(&face), grown(face.bounds())),
            None => (pieces.clone(), bounds),
        };
        let anchor = match item.rule {
            Rule::Free => Spot::default(),
            Rule::Centred(anchor) | Rule::Matched { anchor, .. } => anchor.turned(turn),
        };
        let upright = polygon.is_upright_rectangle();
        Self { turn, polygon, pieces, bounds, face, face_bounds, anchor, upright, number: 0 }
    }
}

fn settled(polygon: &Polygon) -> Polygon {
    let low = polygon.bounds().low;
    let mut points: Vec<Spot> =
        polygon.points().iter().map(|p| Spot::new(p.x - low.x, p.y - low.y)).collect();
    let first = (0..points.len()).min_by_key(|&i| points[i]).unwrap_or(0);
    points.rotate_left(first);
    Polygon::new(points)
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::{convex_pieces, interiors_meet};
    use proptest::prelude::*;

    fn item(points: Vec<(i64, i64)>) -> Item {
        let shape = Polygon::new(points.into_iter().map(|(x, y)| Spot::new(x, y)).collect());
        Item {
            name: String::new(),
            shape,
            count: 1,
            turns: vec![0.0],
            rule: Rule::Free,
            exact: false,
            face: None,
        }
    }

    #[test]
    fn turns_that_look_alike_are_kept_once() {
        let square = item(vec![(0, 0), (5, 0), (5, 5), (0, 5)]);
        let all = Item { turns: vec![0.0, 90.0, 180.0, 270.0], ..square };
        assert_eq!(Form::all(&all, 0).len(), 1);
        let oblong = Item {
            shape: Polygon::new(vec![
                Spot::new(0, 0),
                Spot::new(9, 0),
                Spot::new(9, 5),
                Spot::new(0, 5),
            ]),
            ..all.clone()
        };
        assert_eq!(Form::all(&oblong, 0).len(), 2);
        // With a pattern a half turn moves the anchor and is another thing.
        let centred = Item { rule: Rule::Centred(Spot::new(1, 1)), ..all };
        assert_eq!(Form::all(&centred, 0).len(), 4);
    }

    /// A star-shaped polygon: simple by construction, seldom convex.
    fn star() -> impl Strategy<Value = Item> {
        proptest::collection::vec(20_i64..60, 4..10).prop_map(|radii| {
            let n = radii.len() as f64;
            let spot = |(i, &r): (usize, &i64)| {
                let angle = i as f64 / n * std::f64::consts::TAU;
                ((r as f64 * angle.cos()) as i64, (r as f64 * angle.sin()) as i64)
            };
            item(radii.iter().enumerate().map(spot).collect())
        })
    }

    proptest! {
        #[test]
        fn slices_agree_with_exact_meeting(a in star(), b in star(), x in -100_i64..100) {
            prop_assume!(a.shape.is_simple() && b.shape.is_simple());
            let buying = crate::Buying { left: geometry::Length::ZERO, right: geometry::Length::ZERO, roll: None, trim: geometry::Length::ZERO, step: geometry::Length::from_nm(1), flaws: vec![] };
            let instance = Instance { items: vec![a.clone(), b.clone()], on_hand: vec![], buying, pattern: None, pins: vec![] };
            let forms = Forms::of(&instance, 0);
            let mut found = Vec::new();
            forms.forbidden(&forms.list[0][0], x, &forms.list[1][0], Spot::default(), &mut found);
            let (pa, pb) = (convex_pieces(&a.shape), convex_pieces(&b.shape));
            for y in -130..130 {
                let inside = found.iter().any(|&(low, high)| low < y && y < high);
                let meet = interiors_meet(&pa, Spot::new(x, y), &pb, Spot::default());
                // Rounding outwards may forbid up to one nanometre more, never less.
                prop_assert!(inside || !meet, "at {y}");
                if inside && !meet {
                    let near = found.iter().any(|&(low, high)| y - low <= 1 || high - y <= 1);
                    prop_assert!(near, "at {y}");
                }
            }
        }
    }
}
