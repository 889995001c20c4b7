//! An item in one allowed turn, ready to be compared with others.

use crate::ground::Ground;
use crate::no_fit::{NoFits, Piece};
use crate::phase::{self, Phases};
use crate::{Instance, Item, Placement, Rule};
use geometry::{Length, Polygon, Rect, Spot, few_convex_pieces, lighter};
use rayon::prelude::*;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};

/// One item in one turn.
#[derive(Clone, Debug)]
pub(crate) struct Form {
    pub turn: f64,
    pub polygon: Polygon,
    /// Convex, and together they hold it: what clears these clears the part.
    pub pieces: Vec<Piece>,
    /// Exactly the part; worked out when asked for.
    exact: OnceLock<Vec<Piece>>,
    margin: i64,
    pub bounds: Rect,
    /// What must be free of flaws; whether that is less than the part.
    pub face: Vec<Piece>,
    has_face: bool,
    /// Whether the pieces are exactly the part.
    is_exact: bool,
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
    pairs: Vec<OnceLock<Box<NoFits>>>,
    /// Bytes of them.
    kept: AtomicUsize,
}

/// Past this many forms the table of pairs alone would fill the memory; slices are worked out each time.
const MOST_FORMS: usize = 2500;

/// No-fit polygons are kept up to so many bytes; what is asked beyond is worked out each time.
const MOST_KEPT: usize = 200_000_000;

/// How closely outlines are followed while parts are laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Detail {
    /// In so many convex pieces at most, where that can be: for first lays of many kinds.
    Rough(usize),
    /// As closely as makes no difference while parts are moved about.
    Light,
    /// Within a hair.
    Fine,
}

impl Detail {
    /// Convex pieces that an outline may have.
    pub const fn most(self) -> usize {
        match self {
            Self::Rough(most) => most,
            Self::Light => 8,
            Self::Fine => 24,
        }
    }
}

/// Outlines are followed within such parts of the cloth's width, the closest first that leaves few enough
/// pieces.
const HAIRS: [i64; 6] = [16_000, 4_000, 2_000, 1_000, 500, 250];

/// Rough outlines are out by so much at once.
const ROUGH_HAIR: i64 = 1_000;

/// Convex pieces of a polygon that holds another and has few corners.
fn light(polygon: &Polygon, width: i64, detail: Detail) -> Cut {
    let is_light = |cut: &Cut| cut.rings.len() <= detail.most();
    // Pieces are told from hollow corners first, which takes no time.
    let few = |p: &Polygon| (least_pieces(p) <= detail.most()).then(|| Cut::of(p)).filter(is_light);
    if let Some(cut) = few(polygon) {
        return Cut { is_exact: true, ..cut };
    }
    let mut light = polygon.clone();
    if let Detail::Rough(most) = detail {
        light = if most == 1 { hull(polygon) } else { light };
        light = lighter(&light, Length::from_nm(width / ROUGH_HAIR));
    }
    for part in HAIRS {
        if let Some(cut) = few(&light) {
            return cut;
        }
        light = lighter(&light, Length::from_nm(width / part));
    }
    Cut::of(&light)
}

/// No fewer convex pieces make up a polygon: each cut takes two hollow corners away at most.
pub(crate) fn least_pieces(polygon: &Polygon) -> usize {
    let points = polygon.points();
    let n = points.len();
    let turn = |i: usize| {
        let [a, b, c] = [points[i], points[(i + 1) % n], points[(i + 2) % n]];
        i128::from(b.x - a.x) * i128::from(c.y - b.y)
            - i128::from(b.y - a.y) * i128::from(c.x - b.x)
    };
    (0..n).filter(|&i| turn(i) < 0).count().div_ceil(2) + 1
}

/// A light outline in convex pieces.
struct Cut {
    rings: Vec<Vec<Spot>>,
    is_exact: bool,
}

impl Cut {
    fn of(polygon: &Polygon) -> Self {
        let rings = few_convex_pieces(polygon).iter().map(|c| c.points().to_vec()).collect();
        Self { rings, is_exact: false }
    }

    /// Turned by quarters.
    fn turned(&self, turn: f64) -> Self {
        let of = |ring: &Vec<Spot>| ring.iter().map(|p| p.turned(turn)).collect();
        Self { rings: self.rings.iter().map(of).collect(), is_exact: self.is_exact }
    }
}

fn hull(polygon: &Polygon) -> Polygon {
    Polygon::new(Piece::new(polygon.points(), 0).ring().collect())
}

impl Forms {
    /// Each side grown by `margin` nanometres.
    pub fn of(instance: &Instance, margin: i64, detail: Detail) -> Self {
        let width = Ground::new_cloth(instance).width();
        let mut list: Vec<Vec<Form>> = instance
            .items
            .par_iter()
            .map(|item| Form::all(item, if item.exact { 0 } else { margin }, Some((width, detail))))
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
            kept: AtomicUsize::new(0),
        }
    }

    /// Whether all outlines are followed exactly.
    pub fn is_exact(&self) -> bool {
        self.list.iter().flatten().all(|form| form.is_exact)
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
        let mut slice = |no_fits: &NoFits| {
            for no_fit in no_fits.iter() {
                if let Some((low, high)) = no_fit.slice(x - at.x) {
                    found.push((low + at.y, high + at.y));
                }
            }
        };
        let made = || Box::new(NoFits::all(&a.pieces, &b.pieces));
        let cell = self.pairs.get(a.number * self.count + b.number);
        match cell.map(|cell| (cell, cell.get())) {
            Some((_, Some(known))) => slice(known),
            Some((cell, None)) if self.kept.load(Ordering::Relaxed) < MOST_KEPT => {
                slice(cell.get_or_init(|| {
                    let made = made();
                    self.kept.fetch_add(made.bytes(), Ordering::Relaxed);
                    made
                }));
            }
            _ => slice(&made()),
        }
    }
}

impl Form {
    /// All allowed turns of an item, each side grown by `margin` nanometres (for the question
    /// how much measuring error a lay forgives); in light outlines on cloth of some width, or exactly.
    pub fn all(item: &Item, margin: i64, detail: Option<(i64, Detail)>) -> Vec<Self> {
        let mut turns = item.turns.clone();
        // The same outline in another turn is only another name for the same places.
        let mut seen: Vec<Polygon> = Vec::new();
        turns.retain(|&turn| {
            let polygon = settled(&item.shape.turned(turn));
            let new = matches!(item.rule, Rule::Free) && seen.contains(&polygon);
            seen.push(polygon);
            !new
        });
        // Quarter turns are exact, so that an outline is made light once.
        let upright = detail.map(|(width, detail)| light(&item.shape, width, detail));
        let of = |turn: f64| {
            let Some((width, detail)) = detail else { return Self::new(item, turn, margin, None) };
            match &upright {
                Some(cut) if turn % 90.0 == 0.0 => {
                    Self::new(item, turn, margin, Some(cut.turned(turn)))
                }
                _ => {
                    let cut = light(&item.shape.turned(turn), width, detail);
                    Self::new(item, turn, margin, Some(cut))
                }
            }
        };
        turns.into_iter().map(of).collect()
    }

    fn new(item: &Item, turn: f64, margin: i64, cut: Option<Cut>) -> Self {
        let polygon = item.shape.turned(turn);
        let is_exact = cut.as_ref().is_none_or(|cut| cut.is_exact);
        let rings = cut.map(|cut| cut.rings).unwrap_or_default();
        let pieces: Vec<Piece> = rings.iter().map(|ring| Piece::new(ring, margin)).collect();
        let grown = |r: Rect| Rect {
            low: Spot::new(r.low.x - margin, r.low.y - margin),
            high: Spot::new(r.high.x + margin, r.high.y + margin),
        };
        let bounds = grown(polygon.bounds());
        let (face, face_bounds) = match item.face.as_ref().map(|face| face.turned(turn)) {
            Some(face) => (exact(&face, margin), grown(face.bounds())),
            None => (pieces.clone(), bounds),
        };
        let anchor = match item.rule {
            Rule::Free => Spot::default(),
            Rule::Centred(anchor) | Rule::Matched { anchor, .. } => anchor.turned(turn),
        };
        let upright = polygon.is_upright_rectangle();
        Self {
            turn,
            polygon,
            pieces,
            exact: OnceLock::new(),
            margin,
            bounds,
            face,
            has_face: item.face.is_some(),
            is_exact,
            face_bounds,
            anchor,
            upright,
            number: 0,
        }
    }

    /// Convex pieces that are together exactly the part.
    pub fn exact(&self) -> &[Piece] {
        self.exact.get_or_init(|| exact(&self.polygon, self.margin))
    }

    /// The exact pieces are no fewer.
    pub fn least_pieces(&self) -> usize {
        least_pieces(&self.polygon)
    }

    /// Convex pieces that are together exactly what must be free of flaws.
    pub fn exact_face(&self) -> &[Piece] {
        if self.has_face { &self.face } else { self.exact() }
    }
}

fn exact(polygon: &Polygon, margin: i64) -> Vec<Piece> {
    few_convex_pieces(polygon).iter().map(|c| Piece::new(c.points(), margin)).collect()
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
        assert_eq!(Form::all(&all, 0, None).len(), 1);
        let oblong = Item {
            shape: Polygon::new(vec![
                Spot::new(0, 0),
                Spot::new(9, 0),
                Spot::new(9, 5),
                Spot::new(0, 5),
            ]),
            ..all.clone()
        };
        assert_eq!(Form::all(&oblong, 0, None).len(), 2);
        // With a pattern a half turn moves the anchor and is another thing.
        let centred = Item { rule: Rule::Centred(Spot::new(1, 1)), ..all };
        assert_eq!(Form::all(&centred, 0, None).len(), 4);
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
            let forms = Forms::of(&instance, 0, Detail::Fine);
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
