//! Lays and parts as DXF for cutters and other drawing programs: release 12 text, millimetres, arcs as arcs
//! (bulges), layers by meaning: `cut`, `mark`, `text`.
//!
//! The open interchange format as its published reference describes it; only polylines and text are
//! needed, which every reader knows.

use geometry::{Path, Point, Vector};
use std::fmt::Write;
use trade::lays::ClothLay;
use trade::part::{Line, Meaning, Part};
use trade::plan::Plan;

/// Every strip of a lay in its own coordinates: x from the left selvedge, y along the roll.
pub fn lays(plan: &Plan, lay: &ClothLay) -> Vec<String> {
    lay.answer
        .lay
        .strips
        .iter()
        .map(|strip| {
            let mut file = Dxf::new();
            let width = crate::lay_drawing::cloth_width(plan, lay, strip).mm();
            let length = strip.length.mm();
            let edge = [(0.0, 0.0), (width, 0.0), (width, length), (0.0, length)];
            let edge = edge.map(|(x, y)| Point::new(x, y));
            file.path("mark", &Path::straight(&edge));
            for placement in &strip.placements {
                let part = &lay.parts[placement.item].part;
                let at = placement.at.point();
                let by = Vector::new(at.x, at.y);
                let place = |path: &Path| path.turned(placement.turn).moved(by);
                file.path("cut", &place(&part.outline.outer));
                for mark in &part.marks {
                    let layer = if mark.meaning == Meaning::Slit { "cut" } else { "mark" };
                    match &mark.line {
                        Line::Closed(path) => file.path(layer, &place(path)),
                        Line::Open(points) => {
                            let moved: Vec<Point> =
                                points.iter().map(|p| p.turned(placement.turn) + by).collect();
                            file.open(layer, &moved);
                        }
                    }
                }
                let (low, high) = place(&part.outline.outer).bounds();
                let middle = low.middle(high);
                file.arrow(middle, placement.turn, part);
                let piece = &plan.developed[lay.parts[placement.item].developed].label;
                file.text(middle, 15.0, &plain(&format!("{} {piece}", part.id)));
            }
            file.finish()
        })
        .collect()
}

/// One part in its own coordinates.
pub fn part(part: &Part) -> String {
    let mut file = Dxf::new();
    file.path("cut", &part.outline.outer);
    part.outline.holes.iter().for_each(|hole| file.path("cut", hole));
    for mark in &part.marks {
        let layer = if mark.meaning == Meaning::Slit { "cut" } else { "mark" };
        match &mark.line {
            Line::Closed(path) => file.path(layer, path),
            Line::Open(points) => file.open(layer, points),
        }
    }
    let (low, high) = part.outline.outer.bounds();
    let middle = low.middle(high);
    file.arrow(middle, 0.0, part);
    let told = format!("{} x {} {}", part.id, part.count, part.material);
    file.text(middle, 10.0, &plain(&told));
    file.finish()
}

/// A text as the format takes it: letters beyond ASCII by their number, no control characters.
fn plain(text: &str) -> String {
    let one = |c: char| match c {
        ' '..='~' => c.to_string(),
        c if c.is_control() => " ".into(),
        c => format!("\\U+{:04X}", u32::from(c)),
    };
    text.chars().map(one).collect()
}

struct Dxf {
    text: String,
}

impl Dxf {
    fn new() -> Self {
        let mut dxf = Self { text: String::new() };
        dxf.pairs(&[
            (0, "SECTION"),
            (2, "HEADER"),
            (9, "$ACADVER"),
            (1, "AC1009"),
            // 4 is millimetres.
            (9, "$INSUNITS"),
            (70, "4"),
            (9, "$MEASUREMENT"),
            (70, "1"),
            (0, "ENDSEC"),
            (0, "SECTION"),
            (2, "TABLES"),
            (0, "TABLE"),
            (2, "LAYER"),
            (70, "3"),
        ]);
        // Colours by their numbers in the format's reference: red, blue, green.
        for (layer, colour) in [("cut", "1"), ("mark", "5"), ("text", "3")] {
            dxf.pairs(&[(0, "LAYER"), (2, layer), (70, "0"), (62, colour), (6, "CONTINUOUS")]);
        }
        dxf.pairs(&[(0, "ENDTAB"), (0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")]);
        dxf
    }

    fn pair(&mut self, code: u16, value: &str) {
        let _ = write!(self.text, "{code:>3}\r\n{value}\r\n");
    }

    fn pairs(&mut self, pairs: &[(u16, &str)]) {
        pairs.iter().for_each(|(code, value)| self.pair(*code, value));
    }

    fn number(&mut self, code: u16, value: f64) {
        self.pair(code, &format!("{value:.6}"));
    }

    fn at(&mut self, p: Point) {
        self.number(10, p.x);
        self.number(20, p.y);
        self.number(30, 0.0);
    }

    /// From a part's middle towards its top, inside it; degrees to the left from straight along the roll.
    fn arrow(&mut self, middle: Point, turn: f64, part: &Part) {
        if !crate::lay_labels::has_top(part) {
            return;
        }
        let (w, h) = part.size();
        let room = w.mm().min(h.mm()).min(150.0);
        let at = |x: f64, y: f64| {
            let p = Point::new(x * room, y * room).turned(turn);
            middle + Vector::new(p.x, p.y)
        };
        self.open("mark", &[at(0.0, 0.12), at(0.0, 0.4)]);
        self.open("mark", &[at(-0.04, 0.32), at(0.0, 0.4), at(0.04, 0.32)]);
    }

    fn path(&mut self, layer: &str, path: &Path) {
        let points: Vec<(Point, f64)> = path.nodes.iter().map(|n| (n.at, n.bulge)).collect();
        self.polyline(layer, &points, true);
    }

    fn open(&mut self, layer: &str, points: &[Point]) {
        let points: Vec<(Point, f64)> = points.iter().map(|p| (*p, 0.0)).collect();
        self.polyline(layer, &points, false);
    }

    fn polyline(&mut self, layer: &str, points: &[(Point, f64)], closed: bool) {
        let flag = if closed { "1" } else { "0" };
        self.pairs(&[(0, "POLYLINE"), (8, layer), (66, "1")]);
        self.at(Point::default());
        self.pair(70, flag);
        for (p, bulge) in points {
            self.pairs(&[(0, "VERTEX"), (8, layer)]);
            self.at(*p);
            self.number(42, *bulge);
        }
        self.pairs(&[(0, "SEQEND"), (8, layer)]);
    }

    /// Letters and digits only, so that no reader stumbles over signs.
    fn text(&mut self, at: Point, height: f64, text: &str) {
        self.pairs(&[(0, "TEXT"), (8, "text")]);
        self.at(at);
        self.number(40, height);
        self.pair(1, text);
    }

    fn finish(mut self) -> String {
        self.pairs(&[(0, "ENDSEC"), (0, "EOF")]);
        self.text
    }
}
