//! A deep-buttoned back: the diamond grid on the board, and the larger one on the cloth.

use super::table::{Key, Nature, Sort, Table, Unsaid, words};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::cautions::{CORD, SAW, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::buttons::{across, button_covers};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit, board};
use crate::fault::Fault;
use crate::message::{Between, Message, message};
use crate::panel::Side;
use crate::part::{Mark, Meaning, Part, Stuff};
use crate::working::{Formula, HUNDREDTH, Working, of};
use geometry::{Arc, Length, Path, Point};

/// How much cloth a diamond takes: the rules of the trade differ, and one diamond is tried first.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Fullness {
    /// The arc over each diamond: chord the spacing, rise the depth of the buttons.
    #[default]
    Arc,
    /// Straight down to each button: `2 sqrt((s/2)^2 + p^2)`.
    Slant,
    /// The depth once for each diamond: `s + p`.
    Depth,
    /// The depth at each end of the diamond: `s + 2 p`.
    TwoDepths,
    /// So much more for each diamond, across and along.
    Added(Length, Length),
    /// None: float buttons only hold the cover down.
    Flat,
}

/// Where buttons stand in the cells of the field.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ButtonPlaces {
    /// At the middles of each cell's sides: whole diamonds.
    #[default]
    Tips,
    /// At each cell's corners and middle.
    Corners,
    /// At each cell's corners only: squares, as on a biscuit.
    Squares,
}

/// A deep-buttoned back.
#[derive(Clone, Debug, PartialEq)]
pub struct ButtonedBack {
    /// Board.
    pub width: Length,
    /// Board.
    pub height: Length,
    /// Left free of buttons along each edge.
    pub border: Length,
    /// Diamonds across.
    pub across: usize,
    /// Diamonds one above the other, in halves.
    pub halves_high: usize,
    /// How deep buttons are pulled.
    pub depth: Length,
    /// How much cloth a diamond takes.
    pub fullness: Fullness,
    /// Where buttons stand.
    pub places: ButtonPlaces,
    /// Buttons on the outline of the field too.
    pub edge_buttons: bool,
    /// Size of the buttons.
    pub ligne: u32,
}

const FULLNESSES: [(&str, Fullness); 6] = [
    ("arc", Fullness::Arc),
    ("slant", Fullness::Slant),
    ("depth", Fullness::Depth),
    ("two depths", Fullness::TwoDepths),
    ("added", Fullness::Added(Length::ZERO, Length::ZERO)),
    ("none", Fullness::Flat),
];
const FULLNESS_WORDS: [&str; 6] = words(&FULLNESSES);
const PLACES: [(&str, ButtonPlaces); 3] = [
    ("tips", ButtonPlaces::Tips),
    ("corners", ButtonPlaces::Corners),
    ("squares", ButtonPlaces::Squares),
];
const PLACE_WORDS: [&str; 3] = words(&PLACES);
const KEYS: [Key; 12] = [
    Key::length("width", "board, left to right"),
    Key::length("height", "board, bottom to top"),
    Key::or_zero("border", "edge to the first buttons"),
    Key::new("across", Sort::Count(1, 100), "diamonds side by side"),
    Key::new("high", Sort::Count(1, 100), "diamonds one above the other"),
    Key::or_zero("depth", "how deep buttons are pulled"),
    Key::new("ligne", Sort::Count(10, 200), "size of the buttons; 40 are an inch")
        .unsaid(Unsaid::Count(30)),
    Key::word("fullness", &FULLNESS_WORDS),
    Key::optional("added", Sort::LengthsOrZero, ""),
    Key::word("buttons_at", &PLACE_WORDS),
    Key::flag("half_row", false),
    Key::flag("edge_buttons", true),
];

/// What is asked of a buttoned back.
pub const TABLE: Table = Table { name: "buttoned back", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let [width, height, border, depth] =
        ["width", "height", "border", "depth"].map(|key| values.length(key));
    Kind::ButtonedBack(ButtonedBack {
        width,
        height,
        border,
        across: values.count("across"),
        halves_high: values.count("high") * 2 + usize::from(values.flag("half_row")),
        depth,
        fullness: fullness(values, faults),
        places: values.choice("buttons_at", &PLACES).unwrap_or_default(),
        edge_buttons: values.flag("edge_buttons"),
        ligne: values.count("ligne") as u32,
    })
}

fn fullness(values: &Values, faults: &mut Vec<Fault>) -> Fullness {
    let rule = values.choice("fullness", &FULLNESSES).unwrap_or_default();
    match (rule, &values.lengths("added")[..]) {
        (Fullness::Added(..), [wide, high]) => Fullness::Added(*wide, *high),
        (Fullness::Added(..), _) => {
            faults.push(Fault::new(
                "missing",
                "added",
                message("missing"),
                message("missing").part("do"),
            ));
            Fullness::Arc
        }
        (rule, []) => rule,
        (rule, _) => {
            faults.push(Fault::new(
                "added-unused",
                "added",
                message("added-unused"),
                message("added-unused").part("do"),
            ));
            rule
        }
    }
}

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
        Fullness::Flat => s,
        Fullness::Added(wide, high) => s + if across { wide } else { high },
    })
}

/// Places of buttons in a field `m` cells wide and so many half cells high, in cells; with those on its
/// outline or without. An odd number of halves gives rows that differ by one: 10, 9, 10, 9.
///
/// Whole diamonds: the middles of the cells' sides, `m (k + 1) + k (m + 1)` with the edge. Corners and
/// middles: `(m + 1)(k + 1) + m k` with the edge, `(m - 1)(k - 1) + m k` without. Squares: `(m + 1)(k + 1)`
/// with the edge, `(m - 1)(k - 1)` without.
pub fn places(m: usize, halves: usize, how: ButtonPlaces, edge: bool) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    for j in 0..=halves {
        for i in 0..=2 * m {
            let wanted = match how {
                ButtonPlaces::Tips => (i + j) % 2 == 1,
                ButtonPlaces::Corners => (i + j) % 2 == 0,
                ButtonPlaces::Squares => i % 2 == 0 && j % 2 == 0,
            };
            let on_edge = i == 0 || j == 0 || i == 2 * m || j == halves;
            if wanted && (edge || !on_edge) {
                all.push((i as f64 / 2.0, j as f64 / 2.0));
            }
        }
    }
    all
}

impl OfKind for ButtonedBack {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Develops a buttoned back. The field is `board - 2 border`, divided into whole diamonds; the cloth's
    /// field is as many enlarged ones; beyond it the border and the reach of any stapled cover.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let (m, halves) = (self.across.max(1), self.halves_high.max(1));
        let field = (self.width - self.border * 2, self.height - self.border * 2);
        if field.0 <= Length::ZERO || field.1 <= Length::ZERO {
            return Err(vec![ask.border_too_wide(
                self.border,
                (self.width, self.height),
                message("border-too-wide").part("buttons"),
            )]);
        }
        let diamond = (field.0.share(m as i64), (field.1 * 2).share(halves as i64));
        let on_cloth = over_diamond(diamond.0, self.depth, self.fullness, true).zip(over_diamond(
            diamond.1,
            self.depth,
            self.fullness,
            false,
        ));
        let Some(on_cloth) = on_cloth else {
            return Err(vec![
                ask.fault(
                    "buttons-too-deep",
                    "depth",
                    message("buttons-too-deep")
                        .length("depth", self.depth)
                        .chalk_number("diamond", diamond.0)
                        .chalk("diamond-2", diamond.1),
                    message("buttons-too-deep").part("do"),
                ),
            ]);
        };
        let (mut covered, mut parts) = board::rectangle(ask, (self.width, self.height), &[])?;
        let a = ask.build.allowances;
        let reach = ask.build.reach(&Side::default());
        let beyond = self.border + reach;
        let (wide, high) = match self.fullness {
            Fullness::Added(wide, high) => (wide, high),
            _ => (Length::ZERO, Length::ZERO),
        };
        let across =
            Direction { is_across: true, board: self.width, halves: 2 * m as i64, more: wide };
        let halves = halves as i64;
        let up = Direction { is_across: false, board: self.height, halves, more: high };
        let [a0, a1, across] = across.workings(self, reach, a.cut_step);
        let [h0, h1, up] = up.workings(self, reach, a.cut_step);
        let size = (across.result, up.result);
        let workings = vec![a0, a1, across.width(), h0, h1, up.height()];
        let spots = places(m, self.halves_high.max(1), self.places, self.edge_buttons);
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
                let at = |cells: f64, one: Length| self.border.mm() + one.mm() * cells;
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
        covered.warnings.extend(self.at_the_edge(ask, &spots));
        if self.ligne > 0 {
            parts.push(button_covers(ask, self.ligne, spots.len()));
        }
        Ok(Kit::of_board((covered, parts)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let mut steps = vec![bench.board_step(), self.mark_board(bench)];
        steps.extend(bench.padding(Length::ZERO));
        steps.push(self.try_one());
        steps.push(bench.cut_cloth());
        let (wide, high) = self.diamond();
        let grid = self.grid(self.on_cloth(wide, true), self.on_cloth(high, false));
        steps.push(Step::new(message("step-buttons-cloth").said("grid", grid), &[]));
        let pull = message("step-buttons-pull").count("ligne", self.ligne);
        steps.push(Step::new(pull.length("depth", self.depth), &[CORD, STAPLER]));
        steps.push(Step::new(message("step-buttons-pleats"), &[STAPLER]));
        let edges = message("step-buttons-edges").said("staples", bench.staples());
        steps.push(Step::new(edges, &[STAPLER]));
        steps.extend(bench.corners("step-corners"));
        steps.push(bench.trim());
        steps
    }

    fn reach(&self) -> Option<Length> {
        Some(self.width)
    }
}

impl ButtonedBack {
    /// Buttons nearer to the edge of the board than they are wide cannot be drilled and pulled there.
    fn at_the_edge(&self, ask: &Ask, spots: &[(f64, f64)]) -> Option<Fault> {
        let half = across(self.ligne).share(2);
        let outer = |&&(x, y): &&(f64, f64)| {
            x == 0.0 || y == 0.0 || x == self.across as f64 || y == self.halves_high as f64 / 2.0
        };
        let count = spots.iter().filter(outer).count();
        (self.border < half && count > 0).then(|| {
            ask.fault(
                "buttons-at-edge",
                "border",
                message("buttons-at-edge").count("count", count),
                message("buttons-at-edge").part("do").chalk("half", half * 2),
            )
        })
    }

    /// One diamond on the board.
    pub fn diamond(&self) -> (Length, Length) {
        let one = |size: Length, halves: usize| {
            ((size - self.border * 2) * 2).share(halves.max(1) as i64)
        };
        (one(self.width, self.across * 2), one(self.height, self.halves_high))
    }

    /// The cloth over a diamond.
    fn on_cloth(&self, diamond: Length, across: bool) -> Length {
        over_diamond(diamond, self.depth, self.fullness, across).unwrap_or(diamond)
    }

    /// Lines of a grid as running distances from the middle: rounded steps would add up to a fault.
    fn grid(&self, wide: Length, high: Length) -> Message {
        // Of an odd number of halves none stands on the middle line.
        let running = |one: Length, halves: usize| {
            let half = one.mm() / 2.0;
            let first = if halves.is_multiple_of(2) { 0.0 } else { 0.5 };
            let marks = (0..=halves / 2).map(|i| Length::from_mm(half * (i as f64 + first)));
            marks.map(|at| message("mark").chalk_number("at", at)).collect()
        };
        message("buttons-grid").list("across", running(wide, self.across * 2), Between::Comma).list(
            "high",
            running(high, self.halves_high),
            Between::Comma,
        )
    }

    fn mark_board(&self, bench: &Bench) -> Step {
        let (wide, high) = self.diamond();
        let text = message("step-buttons-board")
            .length("border", self.border)
            .said("grid", self.grid(wide, high))
            .count("buttons", bench.made.quantities.buttons);
        Step::new(text, &[SAW])
    }

    fn try_one(&self) -> Step {
        let (wide, high) = self.diamond();
        let rule = match self.fullness {
            Fullness::Arc => "arc",
            Fullness::Slant => "slant",
            Fullness::Depth => "depth",
            Fullness::TwoDepths => "two-depths",
            Fullness::Added(..) => "added",
            Fullness::Flat => "flat",
        };
        let text = message("step-buttons-try")
            .text("rule", rule)
            .chalk_number("width", wide)
            .chalk("height", high)
            .chalk_number("cloth-width", self.on_cloth(wide, true))
            .chalk("cloth-height", self.on_cloth(high, false))
            .length("depth", self.depth);
        Step::new(text, &[])
    }
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
    is_across: bool,
    board: Length,
    /// Diamonds, in halves.
    halves: i64,
    /// Added to each diamond, where the rule is a fixed addition.
    more: Length,
}

/// A diamond's share of a field so many halves long.
fn free_of(free: Formula, halves: i64) -> Formula {
    match halves % 2 {
        0 => free / (halves / 2),
        _ => 2 * free / halves,
    }
}

impl Direction {
    /// Diamond on the board, on the cloth, and the cut, which is rounded up to `step`.
    fn workings(&self, back: &ButtonedBack, reach: Length, step: Length) -> [Working; 3] {
        let free = of(self.board) - 2 * of(back.border);
        let what = |id: &'static str| message(id).flag("across", self.is_across);
        let on_board = Working::of(what("work-diamond-on-board"), free_of(free, self.halves));
        let s = on_board.result.round_even(HUNDREDTH);
        let p = of(back.depth);
        let on_cloth = match back.fullness {
            Fullness::Arc => Formula::Arc(s, back.depth),
            Fullness::Slant => 2 * ((of(s) / 2).squared() + p.squared()).root(),
            Fullness::Depth => of(s) + p,
            Fullness::TwoDepths => of(s) + 2 * p,
            Fullness::Added(..) => of(s) + of(self.more),
            Fullness::Flat => of(s),
        };
        let on_cloth = Working::of(what("work-diamond-on-cloth"), on_cloth);
        let one = of(on_cloth.result.round_even(HUNDREDTH));
        let field = match self.halves % 2 {
            0 => self.halves / 2 * one,
            _ => self.halves * one / 2,
        };
        let cut = field + 2 * (of(back.border) + of(reach));
        let cut = Working::of(what("work-diamond-cut"), cut).up_to(step);
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
    let half = one.share(2).round_even(HUNDREDTH);
    // Columns of diamonds for each of `k` pieces, the outer ones with the border.
    let widths = |k: usize| -> Vec<Working> {
        (0..k)
            .map(|i| {
                let columns = (m * (i + 1) / k - m * i / k) as i64;
                let left = if i == 0 { of(beyond) } else { of(n) };
                let right = if i + 1 == k { of(beyond) } else { of(half) + of(n) };
                let sum = left + columns * of(one.round_even(HUNDREDTH)) + right;
                Working::of(message("work-joined-along-a-zigzag-of-buttons"), sum)
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
            piece.name = message("part-cover-of").count("number", i + 1).count("of", k);
            piece.outline = rectangle(width.result, size.1);
            piece.marks = Vec::new();
            piece.divided = Some((width.result - half - n * 2).mm() * size.1.mm());
            piece.explain(width);
            result.push(piece);
        }
    }
    result
}
