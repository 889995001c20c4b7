//! A deep-buttoned back: the diamond grid on the board, and the larger one on the cloth.

use super::Ask;
use super::boxed::TENTH;
use super::cover::Covered;
use super::panel;
use super::strips::rectangle;
use crate::fault::Fault;
use crate::kind::{ButtonPlaces, Buttoned, Fullness};
use crate::panel::{PanelShape, Side};
use crate::part::{BUTTON_COVER, Mark, Meaning, Part, Stuff};
use crate::working::{Formula, Working, of};
use geometry::{Arc, Length, Path, Point};

/// Cloth over one diamond `s` long, buttons `p` deep; `None` where the arc is not possible.
///
/// The rules of the trade differ (published ratios run from 1.29 to 1.80), so the rule is a setting and
/// one diamond is tried first. Sources: one foam depth at each button, a household tutorial (8 x 5 over
/// 2: 12 x 9); a fixed addition, J. W. Stephenson, *Cutting and Draping* (1 1/2 in to each 3 in half
/// diamond) and a Victorian manual (7 x 5 1/2 + 2 and 1 3/4); arc and slant, geometry.
pub fn over_diamond(s: Length, p: Length, rule: Fullness, across: bool) -> Option<Length> {
    Some(match rule {
        Fullness::Arc => Length::from_mm(Arc::over(s.mm(), p.mm()).ok()?.length()),
        Fullness::Slant => Length::from_mm(2.0 * libm::hypot(s.mm() / 2.0, p.mm())),
        Fullness::Depth => s + p,
        Fullness::TwoDepths => s + p * 2,
        Fullness::Added(wide, high) => s + if across { wide } else { high },
    })
}

/// Places of buttons in a field of `m` by `k` cells, in cells; with those on its outline or without.
///
/// Whole diamonds: the middles of the cells' sides, `m (k + 1) + k (m + 1)` with the edge. Corners and
/// middles: `(m + 1)(k + 1) + m k` with the edge, `(m - 1)(k - 1) + m k` without.
pub fn places(m: usize, k: usize, how: ButtonPlaces, edge: bool) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    for j in 0..=2 * k {
        for i in 0..=2 * m {
            let wanted = match how {
                ButtonPlaces::Tips => (i + j) % 2 == 1,
                ButtonPlaces::Corners => (i + j) % 2 == 0 && (i % 2 == j % 2),
            };
            let on_edge = i == 0 || j == 0 || i == 2 * m || j == 2 * k;
            if wanted && (edge || !on_edge) {
                all.push((i as f64 / 2.0, j as f64 / 2.0));
            }
        }
    }
    all
}

/// Develops a buttoned back. The field is `board - 2 border`, divided into whole diamonds; the cloth's
/// field is as many enlarged ones; beyond it the border and the reach of any stapled cover.
pub fn develop(ask: &Ask, back: &Buttoned) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    let (m, k) = (back.across.max(1), back.high.max(1));
    let field = (back.width - back.border * 2, back.height - back.border * 2);
    let style = &ask.build.style;
    if field.0 <= Length::ZERO || field.1 <= Length::ZERO {
        return Err(vec![Fault::new(
            "border-too-wide",
            format!("{}.border", ask.at),
            format!(
                "a border of {} leaves no field on {} × {}",
                style.show(back.border),
                style.number(back.width),
                style.show(back.height)
            ),
            "the border is what stays free of buttons along each edge",
        )]);
    }
    let diamond = (field.0.share(m as i64), field.1.share(k as i64));
    let on_cloth = over_diamond(diamond.0, back.depth, back.fullness, true).zip(over_diamond(
        diamond.1,
        back.depth,
        back.fullness,
        false,
    ));
    let Some(on_cloth) = on_cloth else {
        return Err(vec![Fault::new(
            "buttons-too-deep",
            format!("{}.depth", ask.at),
            format!(
                "buttons pulled {} deep in diamonds of {} × {}: the arc would be more than a half circle",
                style.show(back.depth),
                style.chalk_number(diamond.0),
                style.chalk(diamond.1)
            ),
            "fewer diamonds, less depth, or another `fullness`",
        )]);
    };
    let shape = PanelShape::Rectangle {
        width: back.width,
        height: back.height,
        radii: [Length::ZERO; 4],
        diagonals: vec![],
    };
    let (mut covered, mut parts) = panel::develop(ask, &shape, &[], &[], &[])?;
    let a = ask.build.allowances;
    let reach = ask.build.reach(&Side::default());
    let beyond = back.border + reach;
    let (wide, high) = match back.fullness {
        Fullness::Added(wide, high) => (wide, high),
        _ => (Length::ZERO, Length::ZERO),
    };
    let across = Direction { word: "across", board: back.width, diamonds: m as i64, more: wide };
    let up = Direction { word: "high", board: back.height, diamonds: k as i64, more: high };
    let [a0, a1, across] = across.workings(back, reach, a.cut_step);
    let [h0, h1, up] = up.workings(back, reach, a.cut_step);
    let size = (across.result, up.result);
    let workings = vec![a0, a1, across.width(), h0, h1, up.height()];
    let spots = places(m, k, back.places, back.edge_buttons);
    let mut marks = grid_marks(&spots, on_cloth, (beyond, beyond), size);
    let (low, right, top) = (reach.mm(), (size.0 - reach).mm(), (size.1 - reach).mm());
    let edge = [(low, low), (right, low), (right, top), (low, top)];
    marks.push(Mark::closed(
        Meaning::BoardEdge,
        Path::straight(&edge.map(|(x, y)| Point::new(x, y))),
    ));
    if let Some(cover) = parts.iter_mut().find(|p| p.stuff == Stuff::Cloth) {
        cover.outline = rectangle(size.0, size.1);
        cover.marks.clone_from(&marks);
        cover.workings.clone_from(&workings);
    }
    let holes: Vec<Mark> = spots
        .iter()
        .map(|&(x, y)| {
            let at = |cells: f64, one: Length| back.border.mm() + one.mm() * cells;
            button(Point::new(at(x, diamond.0), at(y, diamond.1)))
        })
        .collect();
    for part in parts.iter_mut().filter(|p| p.stuff != Stuff::Cloth) {
        part.marks.clone_from(&holes);
    }
    if size.0 > ask.usable && ask.may_seam {
        parts = joined(ask, parts, (m, on_cloth.0, beyond), size);
    }
    covered.marks = marks;
    covered.workings = workings;
    covered.quantities.buttons = spots.len();
    let blank = Length::from_mm(f64::from(back.ligne) * 0.635 * 2.0);
    if back.ligne > 0 {
        parts.push(button_covers(ask, blank, spots.len()));
    }
    Ok((covered, parts))
}

/// Discs for covered buttons: twice the button's diameter across.
///
/// Source: 40 lignes are an inch (button trade pages, measure dictionaries); twice the diameter, a
/// household page.
pub fn button_covers(ask: &Ask, blank: Length, count: usize) -> Part {
    let outline = geometry::Outline::solid(Path::circle(blank));
    let mut part = Part::new(BUTTON_COVER, Stuff::Cloth, ask.cloth, outline);
    part.count = count;
    part.explain(Working::of("button cover", 2 * of(blank.share(2))).both());
    part
}

fn button(at: Point) -> Mark {
    let r = 4.0;
    let around = Path::circle(Length::from_mm(2.0 * r));
    Mark::closed(Meaning::Button, around.moved(geometry::Vector::new(at.x - r, at.y - r)))
}

/// Buttons, the pleats between neighbours, and straight pleats from the outer ones to the edge.
fn grid_marks(
    spots: &[(f64, f64)],
    (dx, dy): (Length, Length),
    (left, bottom): (Length, Length),
    (width, height): (Length, Length),
) -> Vec<Mark> {
    let at = |s: &(f64, f64)| Point::new(left.mm() + dx.mm() * s.0, bottom.mm() + dy.mm() * s.1);
    let mut marks: Vec<Mark> = Vec::new();
    let has = |x: f64, y: f64| spots.iter().any(|s| (s.0 - x).abs() + (s.1 - y).abs() < 1e-9);
    let high = spots.iter().map(|s| s.1).fold(f64::MIN, f64::max);
    let low = spots.iter().map(|s| s.1).fold(f64::MAX, f64::min);
    let right = spots.iter().map(|s| s.0).fold(f64::MIN, f64::max);
    let leftmost = spots.iter().map(|s| s.0).fold(f64::MAX, f64::min);
    for s in spots {
        for (x, y) in [(s.0 + 0.5, s.1 + 0.5), (s.0 + 0.5, s.1 - 0.5)] {
            if has(x, y) {
                marks.push(Mark::open(Meaning::Pleat, vec![at(s), at(&(x, y))]));
            }
        }
        let p = at(s);
        let mut edge = |to: Point| marks.push(Mark::open(Meaning::Pleat, vec![p, to]));
        if s.1 == high {
            edge(Point::new(p.x, height.mm()));
        }
        if s.1 == low {
            edge(Point::new(p.x, 0.0));
        }
        if s.0 == right {
            edge(Point::new(width.mm(), p.y));
        }
        if s.0 == leftmost {
            edge(Point::new(0.0, p.y));
        }
    }
    marks.extend(spots.iter().map(|s| button(at(s))));
    marks
}

/// How one direction of the grid came about.
struct Direction {
    word: &'static str,
    board: Length,
    diamonds: i64,
    /// Added to each diamond, where the rule is a fixed addition.
    more: Length,
}

impl Direction {
    /// Diamond on the board, on the cloth, and the cut, which is rounded up to `step`.
    fn workings(&self, back: &Buttoned, reach: Length, step: Length) -> [Working; 3] {
        let free = of(self.board) - 2 * of(back.border);
        let what = |rest: &str| format!("diamond {}, {rest}", self.word);
        let on_board = Working::of(what("on the board"), free / self.diamonds);
        let s = on_board.result.round_even(TENTH);
        let p = of(back.depth);
        let on_cloth = match back.fullness {
            Fullness::Arc => Formula::Arc(s, back.depth),
            Fullness::Slant => 2 * ((of(s) / 2).squared() + p.squared()).root(),
            Fullness::Depth => of(s) + p,
            Fullness::TwoDepths => of(s) + 2 * p,
            Fullness::Added(..) => of(s) + of(self.more),
        };
        let on_cloth = Working::of(what("on the cloth"), on_cloth);
        let field = self.diamonds * of(on_cloth.result.round_even(TENTH));
        let cut = field + 2 * (of(back.border) + of(reach));
        let cut = Working::of(format!("cut, {}", self.word), cut).up_to(step);
        [on_board, on_cloth, cut]
    }
}

/// A cover too wide for the cloth, in pieces joined on zigzag lines of buttons, where the joins hide in
/// the pleats: each overlaps its neighbour by half a diamond and two seams.
///
/// Source: two pieces joined on a line of tufts, Stephenson, fig. 113.
fn joined(
    ask: &Ask,
    parts: Vec<Part>,
    (m, one, beyond): (usize, Length, Length),
    size: (Length, Length),
) -> Vec<Part> {
    let n = ask.build.allowances.seam;
    let half = one.share(2).round_even(TENTH);
    // Columns of diamonds for each of `k` pieces, the outer ones with the border.
    let widths = |k: usize| -> Vec<Working> {
        (0..k)
            .map(|i| {
                let columns = (m * (i + 1) / k - m * i / k) as i64;
                let left = if i == 0 { of(beyond) } else { of(n) };
                let right = if i + 1 == k { of(beyond) } else { of(half) + of(n) };
                let sum = left + columns * of(one.round_even(TENTH)) + right;
                Working::of("joined along a zigzag of buttons", sum)
                    .up_to(ask.build.allowances.cut_step)
                    .width()
            })
            .collect()
    };
    let Some(k) = (2..=m).find(|&k| widths(k).iter().all(|w| w.result <= ask.usable)) else {
        return parts;
    };
    let mut result = Vec::new();
    for part in parts {
        if part.stuff != Stuff::Cloth {
            result.push(part);
            continue;
        }
        for (i, width) in widths(k).into_iter().enumerate() {
            let mut piece = part.clone();
            piece.name = format!("cover, {} of {k} from the left", i + 1);
            piece.outline = rectangle(width.result, size.1);
            piece.marks = Vec::new();
            piece.divided = Some((width.result - half - n * 2).mm() * size.1.mm());
            piece.explain(width);
            result.push(piece);
        }
    }
    result
}
