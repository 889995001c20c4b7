//! Parts at full size: on the sheets of an office printer, with register marks, or on one long sheet
//! for a plotter.

use crate::drawing::{Anchor, Drawing, Ink, Item, Step, text_width};
use crate::part_drawing;
use geometry::{Length, Point, Unit, Vector};
use trade::part::{Developed, Part, Stuff};
use trade::plan::Plan;

/// Not printed on along every edge of an office printer's sheet, mm.
const MARGIN: f64 = 10.0;

/// Neighbouring sheets show this much of each other, mm.
const OVERLAP: f64 = 15.0;

/// Round a part on its sheet, mm.
const AROUND: f64 = 6.0;

/// Side of the square by which a print is checked, mm; on inch jobs there is one of 4 in too.
pub const SQUARE: f64 = 100.0;

/// A part and where it belongs.
pub struct Wanted<'a> {
    /// The part.
    pub part: &'a Part,
    /// Its piece.
    pub piece: &'a Developed,
    /// Tags of other parts with the same outline: one template does for all.
    pub also: Vec<&'a str>,
}

/// Parts whose shape a rectangle does not tell, or those named; of a mirrored pair the left one, and of
/// parts with equal outlines the first.
pub fn wanted<'a>(plan: &'a Plan, ids: &[String]) -> Vec<Wanted<'a>> {
    let mut all: Vec<Wanted<'a>> = Vec::new();
    let parts = plan.developed.iter().flat_map(|d| d.parts.iter().map(move |part| (d, part)));
    for (piece, part) in parts {
        let is_named = ids.contains(&part.id);
        let plain =
            part.outline.holes.is_empty() && part.outline.outer.flatten().is_upright_rectangle();
        if !is_named && (!ids.is_empty() || plain || piece.is_twin(part)) {
            continue;
        }
        let alike = |w: &&mut Wanted| w.part.outline == part.outline && w.part.hand == part.hand;
        match all.iter_mut().find(alike).filter(|_| !is_named) {
            Some(first) => first.also.push(&part.id),
            None => all.push(Wanted { part, piece, also: Vec::new() }),
        }
    }
    all
}

/// A part at full size, its label in the middle; the origin of its box is at `AROUND` from the edges.
pub fn drawn(plan: &Plan, wanted: &Wanted) -> Drawing {
    let part = wanted.part;
    let (low, high) = part.outline.outer.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    let mut drawing = Drawing::new(w + 2.0 * AROUND, h + 2.0 * AROUND);
    part_drawing::plain(&mut drawing, part, Point::new(AROUND - low.x, AROUND + high.y));
    let lines = label(plan, wanted);
    let size = (w.min(h) / 12.0).clamp(3.0, 7.0);
    let middle = Point::new(AROUND + w / 2.0, AROUND + h / 2.0);
    let up = Vector::new(0.0, -1.0);
    // The arrow beside the label.
    let long = (h * 0.3).min(80.0);
    let widest = lines.iter().map(|l| text_width(l, size)).fold(0.0, f64::max);
    let foot = middle + Vector::new(-(widest / 2.0 + size * 2.0).min(w / 2.0 - 3.0), long / 2.0);
    let tip = foot + up * long;
    let ink = Ink::line(0.5);
    drawing.shape(
        vec![
            Step::Move(foot),
            Step::Line(tip),
            Step::Line(tip + Vector::new(-2.5, 5.0)),
            Step::Move(tip),
            Step::Line(tip + Vector::new(2.5, 5.0)),
        ],
        ink,
    );
    for (i, line) in lines.iter().enumerate() {
        let off = (i as f64 - lines.len() as f64 / 2.0) * size * 1.4 + size;
        let at = middle + Vector::new(0.0, off);
        if i == 0 {
            drawing.bold(at, size, Anchor::Middle, line);
        } else {
            drawing.text(at, size, Anchor::Middle, line);
        }
    }
    drawing
}

fn label(plan: &Plan, wanted: &Wanted) -> Vec<String> {
    let part = wanted.part;
    let twin = |p: &Part| p.name == part.name && wanted.piece.is_twin(p);
    let paired = part.hand == Some("left") && wanted.piece.parts.iter().any(twin);
    let mut lines = vec![
        format!("{} {}", part.id, words::of(&plan.job).say(&part.name)),
        wanted.piece.label.clone(),
        format!("cut {} of {}", part.count, part.material),
        format!("{} {}", part.printed(&plan.job.style), plan.job.style.unit.sign()),
    ];
    if !wanted.also.is_empty() {
        lines.push(format!("the same outline: {}", wanted.also.join(", ")));
    }
    if paired {
        lines.push(format!("left; turn over for {} right", part.count));
    }
    if part.stuff == Stuff::Cloth {
        lines.push("arrow to the top; face up".into());
    }
    lines
}

/// A sheet of an office printer, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Across.
    pub width: f64,
    /// Down.
    pub height: f64,
}

impl Paper {
    /// ISO 216.
    pub const A4: Self = Self { width: 210.0, height: 297.0 };
    /// ANSI/ASME Y14.1 size A: 8 1/2 by 11 in.
    pub const LETTER: Self = Self { width: 215.9, height: 279.4 };
}

/// How a drawing falls on sheets.
struct Grid {
    columns: usize,
    rows: usize,
    step: (f64, f64),
    shown: (f64, f64),
}

fn grid(drawing: &Drawing, paper: Paper) -> Grid {
    let shown = (paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN - 6.0);
    let step = (shown.0 - OVERLAP, shown.1 - OVERLAP);
    let count = |long: f64, step: f64| (((long - OVERLAP) / step).ceil()).max(1.0) as usize;
    Grid { columns: count(drawing.width, step.0), rows: count(drawing.height, step.1), step, shown }
}

/// A1, A2 ... row by row from the top left: columns are letters.
fn sheet_name(column: usize, row: usize) -> String {
    let mut letters = String::new();
    let mut n = column + 1;
    while n > 0 {
        n -= 1;
        letters.insert(0, char::from(b'A' + (n % 26) as u8));
        n /= 26;
    }
    format!("{letters}{}", row + 1)
}

/// The sheets of one part: first how they go together, then each.
pub fn sheets(plan: &Plan, wanted: &Wanted, paper: Paper) -> Vec<Drawing> {
    let whole = drawn(plan, wanted);
    let grid = grid(&whole, paper);
    let mut pages = vec![first_sheet((plan, wanted), &whole, &grid, paper)];
    for row in 0..grid.rows {
        for column in 0..grid.columns {
            if grid.shows(&whole, (column, row)) {
                pages.push(sheet((plan, wanted), &whole, &grid, paper, (column, row)));
            }
        }
    }
    pages
}

impl Grid {
    /// Whether a line of the drawing runs over a sheet; one without is not printed.
    fn shows(&self, whole: &Drawing, (column, row): (usize, usize)) -> bool {
        let low = Point::new(column as f64 * self.step.0, row as f64 * self.step.1);
        let high = low + Vector::new(self.shown.0, self.shown.1);
        let on = |a: Point, b: Point, bow: f64| {
            let more = Vector::new(bow, bow);
            crate::label::crosses(a, b, low + -more, high + more)
        };
        whole.items.iter().any(|item| {
            let Item::Shape { steps, .. } = item else { return false };
            let (mut first, mut last) = (Point::new(0.0, 0.0), Point::new(0.0, 0.0));
            steps.iter().any(|step| {
                let from = last;
                match *step {
                    Step::Move(p) => {
                        (first, last) = (p, p);
                        false
                    }
                    Step::Line(p) => {
                        last = p;
                        on(from, p, 0.0)
                    }
                    // An arc of at most half a circle stays within half its chord's length of the chord.
                    Step::Arc(_, _, p) => {
                        last = p;
                        on(from, p, (p - from).length() / 2.0)
                    }
                    Step::Close => {
                        last = first;
                        on(from, first, 0.0)
                    }
                }
            })
        })
    }
}

fn sheet(
    (plan, wanted): (&Plan, &Wanted),
    whole: &Drawing,
    grid: &Grid,
    paper: Paper,
    (column, row): (usize, usize),
) -> Drawing {
    let from = Point::new(column as f64 * grid.step.0, row as f64 * grid.step.1);
    let mut page = Drawing::new(grid.shown.0, grid.shown.1);
    page.items = whole.moved(Vector::new(-from.x, -from.y)).items;
    // Crosses in the middle of every overlap, the same on all sheets that show them.
    for i in 0..=grid.columns {
        for j in 0..=grid.rows {
            let at = Point::new(
                i as f64 * grid.step.0 + OVERLAP / 2.0 - from.x,
                j as f64 * grid.step.1 + OVERLAP / 2.0 - from.y,
            );
            cross(&mut page, at);
        }
    }
    let mut out = Drawing::new(paper.width, paper.height);
    out.clip(page, Vector::new(MARGIN, MARGIN + 6.0));
    let ink = Ink::dashed(0.15, 2.0, 1.5).grey(0.5);
    let (left, top) = (MARGIN, MARGIN + 6.0);
    let (right, bottom) = (left + grid.shown.0, top + grid.shown.1);
    out.rect(Point::new(left, top), Point::new(right, bottom), ink);
    let words = format!(
        "{} {} — {} — sheet {} of {} across by {} down",
        wanted.part.id,
        words::of(&plan.job).say(&wanted.part.name),
        wanted.piece.label,
        sheet_name(column, row),
        grid.columns,
        grid.rows
    );
    out.text(Point::new(left + 8.0, top + 5.0), 3.2, Anchor::Start, words);
    out
}

fn cross(drawing: &mut Drawing, at: Point) {
    let ink = Ink::line(0.2);
    let arm = OVERLAP / 2.0 - 1.5;
    drawing.stroke(at + Vector::new(-arm, 0.0), at + Vector::new(arm, 0.0), ink);
    drawing.stroke(at + Vector::new(0.0, -arm), at + Vector::new(0.0, arm), ink);
}

/// How the sheets go together, and the squares by which the print is checked.
fn first_sheet(
    (plan, wanted): (&Plan, &Wanted),
    whole: &Drawing,
    grid: &Grid,
    paper: Paper,
) -> Drawing {
    let mut page = Drawing::new(paper.width, paper.height);
    let tiles = (0..grid.rows).flat_map(|row| (0..grid.columns).map(move |column| (column, row)));
    let shown = tiles.filter(|tile| grid.shows(whole, *tile)).count();
    let left = 15.0;
    page.bold(
        Point::new(left, 24.0),
        7.0,
        Anchor::Start,
        format!("{} {}", wanted.part.id, words::of(&plan.job).say(&wanted.part.name)),
    );
    page.text(
        Point::new(left, 31.0),
        4.0,
        Anchor::Start,
        format!("{} — full-size template on {} sheets", wanted.piece.label, shown),
    );
    for (i, line) in [
        "Print at 100 %: no fitting to the page, no scaling.",
        "Measure the square below before gluing anything; if it is off, do not use the print.",
        "Lay the sheets so that the crosses of neighbours lie on each other, tape, then cut the outline.",
        "Lines: whole = cut; long dashes = board's edge; short dashes = stitch; dots = staples.",
    ]
    .into_iter()
    .enumerate()
    {
        page.text(Point::new(left, 40.0 + 5.5 * i as f64), 3.4, Anchor::Start, line);
    }
    let top = 66.0;
    let is_inch = plan.job.style.unit == Unit::Inch;
    let square = |page: &mut Drawing, at: Point, side: f64, word: &str| {
        page.rect(at, Point::new(at.x + side, at.y + side), Ink::line(0.25));
        page.text(Point::new(at.x + 3.0, at.y + side - 3.0), 3.4, Anchor::Start, word);
    };
    if is_inch {
        square(&mut page, Point::new(left, top), Length::from_inches(4.0).mm(), "4 in each way");
    } else {
        square(&mut page, Point::new(left, top), SQUARE, "100 mm each way");
    }
    // The map: the part small, over the grid of sheets.
    let room = (paper.width - 2.0 * left, paper.height - top - SQUARE - 30.0);
    let size =
        (grid.step.0 * grid.columns as f64 + OVERLAP, grid.step.1 * grid.rows as f64 + OVERLAP);
    let scale = (room.0 / size.0).min(room.1 / size.1);
    let origin = Point::new(left, top + SQUARE + 14.0);
    let (low, high) = wanted.part.outline.outer.bounds();
    let view = crate::drawing::View {
        scale,
        origin: Point::new(
            origin.x + (AROUND - low.x) * scale,
            origin.y + (AROUND + high.y) * scale,
        ),
        axes: crate::drawing::Axes::Upright,
    };
    page.shape(view.path(&wanted.part.outline.outer), Ink::line(0.4).filled(0.94));
    for hole in &wanted.part.outline.holes {
        page.shape(view.path(hole), Ink::line(0.3).filled(1.0));
    }
    for row in 0..grid.rows {
        for column in 0..grid.columns {
            let at = Point::new(
                origin.x + column as f64 * grid.step.0 * scale,
                origin.y + row as f64 * grid.step.1 * scale,
            );
            let far = Point::new(at.x + grid.shown.0 * scale, at.y + grid.shown.1 * scale);
            page.rect(at, far, Ink::line(0.15).grey(0.4));
            if !grid.shows(whole, (column, row)) {
                continue;
            }
            let type_size = (grid.step.1 * scale * 0.3).clamp(2.0, 5.0);
            page.bold(
                at.middle(far) + Vector::new(0.0, type_size * 0.36),
                type_size,
                Anchor::Middle,
                sheet_name(column, row),
            );
        }
    }
    page
}

/// All parts on one long sheet `width` wide: laid as a cloth is, any way round.
///
/// `Err` names a part that is wider than the sheet.
pub fn plotter(plan: &Plan, all: &[Wanted], width: Length) -> Result<Drawing, String> {
    let edge = Length::from_mm(MARGIN);
    let items = all
        .iter()
        .map(|w| lay::Item {
            name: w.part.id.clone(),
            // Its box with room round it: labels and marks stay clear of neighbours.
            shape: {
                let (wide, high) = w.part.size();
                let more = Length::from_mm(2.0 * AROUND);
                geometry::Polygon::rectangle(wide + more, high + more)
            },
            count: 1,
            turns: vec![0.0, 90.0],
            rule: lay::Rule::Free,
            exact: false,
            face: None,
        })
        .collect();
    let buying = lay::Buying {
        left: edge,
        right: width - edge,
        roll: None,
        trim: Length::ZERO,
        step: Length::from_nm(1),
        flaws: vec![],
    };
    let instance = lay::Instance { items, on_hand: vec![], buying, pattern: None, pins: vec![] };
    let answer = lay::lay(&instance, &lay::Limits::work(1, 20_000_000)).map_err(|item| {
        let part = all[item].part;
        format!("{} {}", part.id, words::of(&plan.job).say(&part.name))
    })?;
    let top = SQUARE + 30.0;
    let long = answer.lay.new_length().mm() + top + MARGIN;
    let mut page = Drawing::new(width.mm(), long);
    page.rect(
        Point::new(MARGIN, MARGIN),
        Point::new(MARGIN + SQUARE, MARGIN + SQUARE),
        Ink::line(0.25),
    );
    page.text(
        Point::new(MARGIN + SQUARE + 6.0, MARGIN + 8.0),
        5.0,
        Anchor::Start,
        format!("{} — plot at 100 %; the square is 100 mm each way", plan.job.name),
    );
    for placement in answer.lay.strips.iter().flat_map(|s| &s.placements) {
        let drawing = drawn(plan, &all[placement.item]);
        let bounds = instance.items[placement.item].shape.turned(placement.turn).bounds();
        let at = geometry::Spot::new(placement.at.x + bounds.low.x, placement.at.y + bounds.low.y);
        let by = Vector::new(at.point().x, at.point().y + top);
        let drawing = if placement.turn == 0.0 { drawing } else { drawing.quarter_turned() };
        page.items.extend(drawing.moved(by).items);
    }
    Ok(page)
}
