//! The one drawing vocabulary: paths and text on paper, in millimetres, y downwards.

use geometry::{Path, Point, Polygon, Vector};

/// A drawing of a given size. Nothing outside it shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// mm.
    pub width: f64,
    /// mm.
    pub height: f64,
    /// From back to front.
    pub items: Vec<Item>,
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A line or area.
    Shape {
        /// Its course.
        steps: Vec<Step>,
        /// How it looks.
        ink: Ink,
    },
    /// A line of text.
    Text {
        /// Baseline start, middle or end.
        at: Point,
        /// What it says.
        text: String,
        /// Height of the type in mm.
        size: f64,
        /// Which end `at` is.
        anchor: Anchor,
        /// Degrees clockwise.
        turn: f64,
        /// Semibold.
        bold: bool,
        /// 0 black to 1 white.
        shade: f64,
    },
    /// A drawing in a drawing, cut off at its edges. It is moved but never turned.
    Clipped {
        /// mm.
        width: f64,
        /// mm.
        height: f64,
        /// Its upper left corner.
        at: Point,
        /// In its own coordinates.
        items: Vec<Item>,
    },
}

/// One step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Lift the pen and go.
    Move(Point),
    /// Straight.
    Line(Point),
    /// Round, at most half a circle: radius, and whether it turns clockwise on paper.
    Arc(f64, bool, Point),
    /// Back to the last move.
    Close,
}

/// Black on white, so that any printer will do: greys, widths, dashes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// Line width in mm; nought for none.
    pub width: f64,
    /// 0 black to 1 white.
    pub shade: f64,
    /// Dash and gap in mm.
    pub dash: Option<(f64, f64)>,
    /// 0 black to 1 white; none for hollow.
    pub fill: Option<f64>,
}

/// Which end of a text its place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Left end.
    Start,
    /// Middle.
    Middle,
    /// Right end.
    End,
}

impl Ink {
    /// A black line.
    pub const fn line(width: f64) -> Self {
        Self { width, shade: 0.0, dash: None, fill: None }
    }

    /// A dashed black line.
    pub const fn dashed(width: f64, dash: f64, gap: f64) -> Self {
        Self { width, shade: 0.0, dash: Some((dash, gap)), fill: None }
    }

    /// In grey.
    #[must_use]
    pub const fn grey(self, shade: f64) -> Self {
        Self { shade, ..self }
    }

    /// Filled.
    #[must_use]
    pub const fn filled(self, fill: f64) -> Self {
        Self { fill: Some(fill), ..self }
    }
}

/// From cloth or piece coordinates (mm, y up) to paper (mm, y down).
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// Paper mm for one mm.
    pub scale: f64,
    /// Where the origin comes to lie on paper.
    pub origin: Point,
    /// How the axes lie.
    pub axes: Axes,
}

/// How a drawing lies on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axes {
    /// x right, y up, as a piece is seen.
    Upright,
    /// The roll runs to the right, the left selvedge is on top: the same seen from the side.
    RollRight,
    /// The roll runs to the right and the cloth lies face down: the right selvedge is on top. The
    /// drawing's origin is the left selvedge's.
    RollRightFaceDown,
}

impl View {
    /// A point on paper.
    pub fn at(&self, p: Point) -> Point {
        match self.axes {
            Axes::Upright => {
                Point::new(self.origin.x + p.x * self.scale, self.origin.y - p.y * self.scale)
            }
            Axes::RollRight => {
                Point::new(self.origin.x + p.y * self.scale, self.origin.y + p.x * self.scale)
            }
            Axes::RollRightFaceDown => {
                Point::new(self.origin.x + p.y * self.scale, self.origin.y - p.x * self.scale)
            }
        }
    }

    /// Whether what turns left on the piece turns right on paper.
    fn mirrors(&self) -> bool {
        self.axes == Axes::RollRightFaceDown
    }

    /// A rectangle on paper by two of its opposite corners: upper left, lower right.
    pub fn band(&self, a: Point, b: Point) -> (Point, Point) {
        let (a, b) = (self.at(a), self.at(b));
        (Point::new(a.x.min(b.x), a.y.min(b.y)), Point::new(a.x.max(b.x), a.y.max(b.y)))
    }

    /// A closed path on paper.
    pub fn path(&self, path: &Path) -> Vec<Step> {
        let mut steps = Vec::new();
        for seg in path.segs() {
            if steps.is_empty() {
                steps.push(Step::Move(self.at(seg.start)));
            }
            if seg.bulge == 0.0 {
                steps.push(Step::Line(self.at(seg.end)));
            } else {
                // Counter-clockwise with y up is drawn counter-clockwise on paper too, unless mirrored.
                let clockwise = (seg.bulge < 0.0) != self.mirrors();
                steps.push(Step::Arc(seg.radius() * self.scale, clockwise, self.at(seg.end)));
            }
        }
        steps.push(Step::Close);
        steps
    }

    /// A closed polygon on paper.
    pub fn polygon(&self, polygon: &Polygon) -> Vec<Step> {
        let mut steps: Vec<Step> =
            polygon.points().iter().map(|p| Step::Line(self.at(p.point()))).collect();
        if let Some(Step::Line(first)) = steps.first().copied() {
            steps[0] = Step::Move(first);
        }
        steps.push(Step::Close);
        steps
    }

    /// An open line on paper.
    pub fn line(&self, points: &[Point]) -> Vec<Step> {
        points
            .iter()
            .enumerate()
            .map(|(i, &p)| if i == 0 { Step::Move(self.at(p)) } else { Step::Line(self.at(p)) })
            .collect()
    }
}

impl Drawing {
    /// An empty one.
    pub const fn new(width: f64, height: f64) -> Self {
        Self { width, height, items: Vec::new() }
    }

    /// The same, moved.
    #[must_use]
    pub fn moved(&self, by: Vector) -> Self {
        self.placed(|p| p + by, 0.0)
    }

    /// The same, turned a quarter to the left.
    #[must_use]
    pub fn quarter_turned(&self) -> Self {
        let wide = self.width;
        let turned = self.placed(|p| Point::new(p.y, wide - p.x), -90.0);
        Self { width: self.height, height: self.width, ..turned }
    }

    /// Every point taken elsewhere by a move or a turn; writing turns by so many degrees.
    fn placed(&self, to: impl Fn(Point) -> Point, degrees: f64) -> Self {
        let step = |s: &Step| match *s {
            Step::Move(p) => Step::Move(to(p)),
            Step::Line(p) => Step::Line(to(p)),
            Step::Arc(r, clockwise, p) => Step::Arc(r, clockwise, to(p)),
            Step::Close => Step::Close,
        };
        let item = |item: &Item| match item {
            Item::Shape { steps, ink } => {
                Item::Shape { steps: steps.iter().map(step).collect(), ink: *ink }
            }
            Item::Text { at, text, size, anchor, turn, bold, shade } => Item::Text {
                at: to(*at),
                text: text.clone(),
                size: *size,
                anchor: *anchor,
                turn: turn + degrees,
                bold: *bold,
                shade: *shade,
            },
            Item::Clipped { width, height, at, items } => {
                Item::Clipped { width: *width, height: *height, at: to(*at), items: items.clone() }
            }
        };
        Self {
            width: self.width,
            height: self.height,
            items: self.items.iter().map(item).collect(),
        }
    }

    /// Sets another drawing in this one, cut off at its own edges.
    pub fn clip(&mut self, other: Self, at: Vector) {
        let at = Point::new(at.x, at.y);
        let (width, height) = (other.width, other.height);
        self.items.push(Item::Clipped { width, height, at, items: other.items });
    }

    /// Draws a course.
    pub fn shape(&mut self, steps: Vec<Step>, ink: Ink) {
        self.items.push(Item::Shape { steps, ink });
    }

    /// Draws a straight line.
    pub fn stroke(&mut self, from: Point, to: Point, ink: Ink) {
        self.shape(vec![Step::Move(from), Step::Line(to)], ink);
    }

    /// Draws a rectangle.
    pub fn rect(&mut self, low: Point, high: Point, ink: Ink) {
        let steps = vec![
            Step::Move(low),
            Step::Line(Point::new(high.x, low.y)),
            Step::Line(high),
            Step::Line(Point::new(low.x, high.y)),
            Step::Close,
        ];
        self.shape(steps, ink);
    }

    /// Writes a line.
    pub fn text(&mut self, at: Point, size: f64, anchor: Anchor, text: impl Into<String>) {
        self.write(at, size, anchor, (0.0, false, 0.0), text.into());
    }

    /// Writes a bold line.
    pub fn bold(&mut self, at: Point, size: f64, anchor: Anchor, text: impl Into<String>) {
        self.write(at, size, anchor, (0.0, true, 0.0), text.into());
    }

    /// Writes a bold line in white, to stand on black.
    pub fn white(&mut self, at: Point, size: f64, anchor: Anchor, text: impl Into<String>) {
        self.write(at, size, anchor, (0.0, true, 1.0), text.into());
    }

    /// Writes a line upwards.
    pub fn upwards(&mut self, at: Point, size: f64, anchor: Anchor, text: impl Into<String>) {
        self.write(at, size, anchor, (-90.0, false, 0.0), text.into());
    }

    fn write(
        &mut self,
        at: Point,
        size: f64,
        anchor: Anchor,
        (turn, bold, shade): (f64, bool, f64),
        text: String,
    ) {
        self.items.push(Item::Text { at, text, size, anchor, turn, bold, shade });
    }

    /// A dimension along a straight distance on paper, `off` to the right of the way from one end
    /// to the other: line, ticks, number.
    pub fn dimension(&mut self, from: Point, to: Point, off: f64, size: f64, text: &str) {
        let along = (to - from).unit();
        let side = along.right() * off;
        let (a, b) = (from + side, to + side);
        let ink = Ink::line(0.18);
        self.stroke(a, b, ink);
        for p in [a, b] {
            let tick = (along + along.right() * -1.0).unit() * 1.3;
            self.stroke(p + tick * -1.0, p + tick, ink);
        }
        for (p, q) in [(from, a), (to, b)] {
            self.stroke(p + (q - p).unit() * 0.8, q, Ink::line(0.1).grey(0.4));
        }
        let middle = a.middle(b);
        let level = along.y.abs() < 0.7;
        let width = text_width(text, size) + 1.6;
        // A white patch under the number, so that no line runs through it.
        let (w, h) = if level { (width, size * 1.1) } else { (size * 1.1, width) };
        let patch = Vector::new(w / 2.0, h / 2.0);
        self.rect(middle + -patch, middle + patch, Ink::line(0.0).filled(1.0));
        if level {
            self.text(Point::new(middle.x, middle.y + size * 0.36), size, Anchor::Middle, text);
        } else {
            self.upwards(Point::new(middle.x + size * 0.36, middle.y), size, Anchor::Middle, text);
        }
    }
}

/// A course so many times as large, to a tenth.
pub fn scaled(steps: &[Step], by: f64) -> Vec<Step> {
    // A screen shows no tenth of a unit.
    let tenth = |x: f64| (x * by * 10.0).round() / 10.0;
    let at = |p: Point| Point::new(tenth(p.x), tenth(p.y));
    let step = |step: &Step| match *step {
        Step::Move(p) => Step::Move(at(p)),
        Step::Line(p) => Step::Line(at(p)),
        Step::Arc(r, clockwise, p) => Step::Arc(tenth(r), clockwise, at(p)),
        Step::Close => Step::Close,
    };
    steps.iter().map(step).collect()
}

/// How wide a text is set, mm.
pub fn text_width(text: &str, size: f64) -> f64 {
    crate::letters::width(text, size, false)
}
