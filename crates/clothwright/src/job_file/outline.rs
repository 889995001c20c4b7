//! Outlines of boards and cushions, their sides, notches and openings.

use super::kinds::width;
use super::reader::{Sort, Table};
use geometry::{Corner, Length, Path, Point, Unit, Vector};
use trade::kind::Kind;
use trade::panel::{CutOut, Ears, Edge, FoamEdge, Notch, PanelShape, Side};

pub fn panel(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    let shape = shape(t, unit, in_run);
    let notches = t
        .tables("notch")
        .into_iter()
        .map(|mut n| {
            let side = n.opt_text("side").unwrap_or_default();
            let index = side_number(&side);
            if index.is_none() {
                n.wrong("side", "unknown-side", format!("`side = \"{side}\"` is no side"), SIDES);
            }
            let notch = Notch {
                side: index.unwrap_or(0),
                from: n.length_or("from", unit, Length::ZERO),
                width: n.length("width", unit),
                depth: n.length("depth", unit),
            };
            n.finish();
            notch
        })
        .collect();
    let sides = sides(t, unit);
    let cut_outs = t.tables("cut_out").into_iter().map(|c| cut_out(c, unit)).collect();
    Kind::Panel { shape, notches, sides, cut_outs }
}

/// The outline of a board or cushion, by its `shape`.
pub fn shape(t: &mut Table, unit: Unit, in_run: bool) -> PanelShape {
    #[derive(Clone, Copy, PartialEq)]
    enum Shape {
        Rectangle,
        Trapezoid,
        Disc,
        Ring,
        Corners,
        Tee,
        Ell,
        Sides,
        Offsets,
    }
    let words = [
        ("rectangle", Shape::Rectangle),
        ("trapezoid", Shape::Trapezoid),
        ("disc", Shape::Disc),
        ("ring", Shape::Ring),
        ("corners", Shape::Corners),
        ("tee", Shape::Tee),
        ("ell", Shape::Ell),
        ("sides", Shape::Sides),
        ("offsets", Shape::Offsets),
    ];
    let which = t.choice("shape", &words).unwrap_or(Shape::Rectangle);
    match which {
        Shape::Rectangle => PanelShape::Rectangle {
            width: width(t, "width", unit, in_run),
            height: t.length("height", unit),
            radii: radii(t, unit),
            diagonals: t.lengths("diagonals", unit, Sort::Positive),
        },
        Shape::Trapezoid => PanelShape::Trapezoid {
            bottom: t.length("bottom", unit),
            top: t.length("top", unit),
            height: t.length("height", unit),
            offset: t.signed_length("offset", unit),
            radius: t.length_or("radius", unit, Length::ZERO),
            diagonals: t.lengths("diagonals", unit, Sort::Positive),
        },
        Shape::Disc => PanelShape::Disc { diameter: t.length("diameter", unit) },
        Shape::Ring => {
            let (outer, inner) = (t.length("diameter", unit), t.length("inner", unit));
            if inner >= outer && outer > Length::ZERO {
                t.wrong(
                    "inner",
                    "hole-outside",
                    "the hole of a ring is as wide as the ring",
                    "`inner` is the hole, `diameter` the outside",
                );
            }
            PanelShape::Ring { outer, inner }
        }
        Shape::Corners => PanelShape::Corners(corners(t, unit)),
        Shape::Tee | Shape::Ell => {
            let ears = [("left", Ears::Left), ("right", Ears::Right)];
            let ears = match which {
                Shape::Tee => Ears::Both,
                _ => t.choice("ear_side", &ears).unwrap_or(Ears::Right),
            };
            PanelShape::Tee {
                front: t.length("width", unit),
                body: t.length("body", unit),
                depth: t.length("depth", unit),
                ear: t.length("ear", unit),
                ears,
                radius: t.length_or("radius", unit, Length::ZERO),
            }
        }
        Shape::Sides => measured_sides(t, unit),
        Shape::Offsets => offsets(t, unit),
    }
}

fn measured_sides(t: &mut Table, unit: Unit) -> PanelShape {
    let sides = t.lengths("sides", unit, Sort::Positive);
    if sides.len() < 3 {
        t.wrong(
            "sides",
            "few-corners",
            "an outline needs at least three `sides`",
            "list them all round, counter-clockwise seen from the face",
        );
    }
    let diagonals = t
        .tables("across")
        .into_iter()
        .map(|mut d| {
            let (from, to) = (d.counted("from", 1, 1000), d.counted("to", 1, 1000));
            let length = d.length("length", unit);
            d.finish();
            (from.saturating_sub(1), to.saturating_sub(1), length)
        })
        .collect();
    PanelShape::Sides { sides, diagonals }
}

fn offsets(t: &mut Table, unit: Unit) -> PanelShape {
    let base = t.length("base", unit);
    let mut last: Option<Length> = None;
    let mut points = Vec::new();
    let list = t.tables("offset");
    if list.len() < 2 {
        t.wrong(
            "offset",
            "few-corners",
            "an outline needs at least two `offset`s",
            "add offset = [{ at = \"0\", up = \"12\" }, ...] from the left end of the base line",
        );
    }
    for mut o in list {
        let (at, up) =
            (o.length_or("at", unit, Length::ZERO), o.length_or("up", unit, Length::ZERO));
        if at > base || last.is_some_and(|l| at < l) {
            o.wrong(
                "at",
                "offset-outside",
                "offsets go from left to right and stay on the base line",
                "`at` is measured along the base line from its left end",
            );
        }
        last = Some(at);
        o.finish();
        points.push((at, up));
    }
    PanelShape::Offsets { base, points, curved: !t.flag("straight", false) }
}

pub const SIDES: &str = "sides are \"bottom\", \"right\", \"top\", \"left\", or for other outlines \"1\", \"2\" and so on from the first corner";

pub fn side_number(name: &str) -> Option<usize> {
    match name {
        "bottom" => Some(0),
        "right" => Some(1),
        "top" => Some(2),
        "left" => Some(3),
        other => other.parse::<usize>().ok().filter(|n| *n > 0 && *n < 1000).map(|n| n - 1),
    }
}

fn radii(t: &mut Table, unit: Unit) -> [Length; 4] {
    let all = t.opt_length("radius", unit, Sort::OrZero).unwrap_or(Length::ZERO);
    let each = t.lengths("radii", unit, Sort::OrZero);
    match each[..] {
        [] => [all; 4],
        [a, b, c, d] => [a, b, c, d],
        _ => {
            t.wrong(
                "radii",
                "not-four-radii",
                "`radii` needs four lengths",
                "bottom left, bottom right, top right, top left; or one `radius` for all",
            );
            [all; 4]
        }
    }
}

fn corners(t: &mut Table, unit: Unit) -> Vec<Corner> {
    let list = t.tables("corner");
    if list.is_empty() {
        t.wrong(
            "corner",
            "few-corners",
            "the outline has no corners",
            "add corner = [{ x = \"0\", y = \"0\" }, ...] counter-clockwise seen from the face",
        );
    }
    list.into_iter()
        .map(|mut c| {
            let x = c.signed_length("x", unit).unwrap_or(Length::ZERO);
            let y = c.signed_length("y", unit).unwrap_or(Length::ZERO);
            let radius = c.length_or("radius", unit, Length::ZERO);
            let rise = c.signed_length("rise", unit).unwrap_or(Length::ZERO);
            c.finish();
            Corner { at: Point::new(x.mm(), y.mm()), radius: radius.mm(), rise: rise.mm() }
        })
        .collect()
}

fn sides(t: &mut Table, unit: Unit) -> Vec<Side> {
    #[derive(Clone, Copy)]
    enum Word {
        Stapled,
        Lip,
        Joined,
        Tucked,
        Sewn,
        Open,
    }
    let words = [
        ("stapled", Word::Stapled),
        ("lip", Word::Lip),
        ("joined", Word::Joined),
        ("tucked", Word::Tucked),
        ("sewn", Word::Sewn),
        ("open", Word::Open),
    ];
    let mut all: Vec<Side> = Vec::new();
    for (name, mut s) in t.named_tables("side") {
        let edge = s.choice("edge", &words);
        let by = s.opt_length("by", unit, Sort::Positive);
        let needs_by = matches!(edge, Some(Word::Lip | Word::Tucked));
        if needs_by && by.is_none() {
            s.wrong(
                "by",
                "missing",
                "`by` is missing",
                "how far the foam is set back, or how much is tucked away",
            );
        }
        let by = by.unwrap_or(Length::ZERO);
        let edge = match edge {
            None | Some(Word::Stapled) => Edge::Stapled,
            Some(Word::Lip) => Edge::Lip(by),
            Some(Word::Joined) => Edge::Joined,
            Some(Word::Tucked) => Edge::Tucked(by),
            Some(Word::Sewn) => Edge::Sewn,
            Some(Word::Open) => Edge::Open,
        };
        let turn_under = s.opt_length("turn_under", unit, Sort::OrZero);
        let foam_edge = s.choice("foam_edge", &FoamEdge::ALL);
        match side_number(&name) {
            Some(i) => {
                if all.len() <= i {
                    all.resize(i + 1, Side::default());
                }
                all[i] = Side { edge, turn_under, foam_edge, over: Length::ZERO };
            }
            None => s.wrong("edge", "unknown-side", format!("there is no side `{name}`"), SIDES),
        }
        s.finish();
    }
    all
}

fn cut_out(mut c: Table, unit: Unit) -> CutOut {
    let what = c.opt_text("what").unwrap_or_else(|| "the fitting".into());
    let (x, y) = (c.length("x", unit), c.length("y", unit));
    let shape = if c.has("diameter") {
        let d = c.length("diameter", unit);
        Path::circle(d).moved(Vector::new(x.mm() - d.mm() / 2.0, y.mm() - d.mm() / 2.0))
    } else {
        let (w, h) = (c.length("width", unit), c.length("height", unit));
        let radius = c.length_or("radius", unit, Length::ZERO);
        let at = Vector::new(x.mm() - w.mm() / 2.0, y.mm() - h.mm() / 2.0);
        match Path::rectangle(w, h, [radius; 4]) {
            Ok(path) => path.moved(at),
            Err(_) => {
                if w > Length::ZERO && h > Length::ZERO {
                    c.wrong(
                        "radius",
                        "radius-too-large",
                        "the opening's radius is larger than its sides allow",
                        "at most half its lesser side",
                    );
                }
                Path::circle(Length::from_mm(1.0))
            }
        }
    };
    let flange = c.length_or("flange", unit, Length::ZERO);
    c.finish();
    CutOut { what, shape, flange }
}
