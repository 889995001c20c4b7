//! Corners of a covered panel: slits at square ones, pleats at rounded ones, one slit and a gap at
//! inside ones.

use crate::part::{CornerHow, CornerWork, Mark, Meaning};
use crate::rates::Allowances;
use geometry::{Length, Path, Point, Run, Seg, Vector};

/// Pleats that take up the excess cloth round a rounded outside corner of a covered panel.
///
/// Shapes: the board's corner is an arc of radius R turning through `turn`. The cloth stapled at
/// inset s lay, on the flat cover, on the concentric arc of radius R + f + b + s (f foam, b board);
/// on the back it has only the arc of radius R - s, a point when s >= R. Hence
///
/// ```text
/// excess = turn * ((R + f + b + s) - max(R - s, 0)),   count = ceil(excess / (2 p))
/// ```
///
/// as a pleat of depth p swallows 2 p. Up, not down: one pleat too many lies flat, one too few
/// gathers.
///
/// Units: `turn` in radians, above 0. `pleat` above zero.
///
/// Source: arc length is radius times angle. That cloth neither stretches nor shears is our
/// simplification. Pleat depth 1/2 in by default: common practice, no source, a setting.
pub fn pleats(
    radius: Length,
    turn: f64,
    under: Length,
    inset: Length,
    pleat: Length,
) -> (Length, i64) {
    let flat = radius + under + inset;
    let folded = (radius - inset).max(Length::ZERO);
    let excess = Length::from_mm(turn * (flat - folded).mm());
    (excess, excess.steps_up(pleat * 2))
}

/// Below this, in radians, two edges are one: 6 degrees. Common practice, no source.
const SMOOTH: f64 = 0.105;

/// Corners that turn less than this, in radians, are not slit: 50 degrees. Common practice, no source.
const GENTLE: f64 = 0.873;

/// Pleats fanned between the directions square to both sides.
fn gentle_marks(at: Point, (a, b): (Vector, Vector), pleats: i64, reach: Length) -> Vec<Mark> {
    (0..pleats)
        .map(|i| {
            let share = (i as f64 + 0.5) / pleats as f64;
            let out = (a * (1.0 - share) + b * share).unit();
            Mark::open(Meaning::Pleat, vec![at + out * 3.0, at + out * reach.mm()])
        })
        .collect()
}

/// Work and marks at every corner between stapled sides.
///
/// `stapled[i]` tells whether segment `i` of the board's outline is; `under` is foam plus board;
/// `reach` how far the cover goes beyond the board.
pub fn corners(
    board: &Path,
    stapled: &[bool],
    under: Length,
    reach: Length,
    allowances: &Allowances,
) -> (Vec<CornerWork>, Vec<Mark>) {
    let segs: Vec<Seg> = board.segs().collect();
    let n = segs.len();
    let mut work = Vec::new();
    let mut marks = Vec::new();
    for i in 0..n {
        let seg = segs[i];
        let next = (i + 1) % n;
        if let (Run::Corner(corner), true) = (seg.run, stapled[i]) {
            if seg.bulge > 0.0 {
                let radius = Length::from_mm(seg.radius());
                let (excess, pleats) =
                    pleats(radius, seg.sweep(), under, allowances.staple_inset, allowances.pleat);
                let how = CornerHow::Rounded { radius, excess, pleats };
                work.push(CornerWork { corner, at: seg.at(0.5).0, how });
                marks.extend(pleat_marks(&seg, pleats, under, reach, allowances));
            } else {
                work.push(CornerWork { corner, at: seg.at(0.5).0, how: CornerHow::Inside });
                marks.push(inside_slit(seg.at(0.5).0, seg.at(0.5).1.right(), reach, 1.0));
            }
        }
        let (a, b) = (seg.directions().1, segs[next].directions().0);
        let turn = a.cross(b);
        if turn.abs() < 1e-6 || !stapled[i] || !stapled[next] {
            continue;
        }
        let angle = libm::atan2(turn.abs(), a.dot(b));
        if angle < SMOOTH {
            continue;
        }
        if turn > 0.0 && angle < GENTLE {
            // No slit: what is over is pleated, or eased in if it is less than a pleat.
            let (excess, pleats) =
                pleats(Length::ZERO, angle, under, allowances.staple_inset, allowances.pleat);
            if excess >= allowances.pleat * 2 {
                let corner = match segs[next].run {
                    Run::Side(k) | Run::Corner(k) => k,
                };
                let how = CornerHow::Rounded { radius: Length::ZERO, excess, pleats };
                work.push(CornerWork { corner, at: seg.end, how });
                marks.extend(gentle_marks(seg.end, (a.right(), b.right()), pleats, reach));
            }
            continue;
        }
        let corner = match segs[next].run {
            Run::Side(k) | Run::Corner(k) => k,
        };
        let at = seg.end;
        if turn > 0.0 {
            work.push(CornerWork { corner, at, how: CornerHow::Square });
            let behind = if under > THIN { under } else { Length::ZERO };
            let stop = behind + allowances.slit_stop;
            marks.extend(square_slits(at, a, b, reach, stop));
        } else {
            work.push(CornerWork { corner, at, how: CornerHow::Inside });
            let out = (a.right() + b.right()).unit();
            let stretch = 1.0 / out.dot(a.right()).max(0.2);
            marks.push(inside_slit(at, out, reach, stretch));
        }
    }
    (work, marks)
}

/// Foam and board thicker than this: slits end behind the back edge, so that none shows down the side.
/// Thinner, the corner's own flap covers it. 1 1/4 in; common practice, no source.
const THIN: Length = Length::from_nm(31_750_000);

/// Two slits in line with the board's edges, from the cover's edge to `stop` from the face's corner. `a` and `b`
/// are the directions of travel into and out of the corner; any angle.
///
/// Source: 1/2 in short of the corner, common practice, no source.
fn square_slits(at: Point, a: Vector, b: Vector, reach: Length, stop: Length) -> [Mark; 2] {
    // Along `a`, the margin of the next side ends where it has gone `reach` off that side's line.
    let sine = a.cross(b).abs().max(0.2);
    let far = reach.mm() / sine;
    let near = stop.mm().min(far);
    [
        Mark::open(Meaning::Slit, vec![at + a * far, at + a * near]),
        Mark::open(Meaning::Slit, vec![at + b * -far, at + b * -near]),
    ]
}

fn inside_slit(at: Point, out: Vector, reach: Length, stretch: f64) -> Mark {
    Mark::open(Meaning::Slit, vec![at + out * (reach.mm() * stretch), at + out * 3.0])
}

/// Pleats fanned evenly over the corner, and the bulk between staple line and edge cut away.
fn pleat_marks(
    seg: &Seg,
    count: i64,
    under: Length,
    reach: Length,
    allowances: &Allowances,
) -> Vec<Mark> {
    let centre = seg.centre();
    let ray = |t: f64| {
        let (p, _) = seg.at(t);
        (p - centre).unit()
    };
    let radius = seg.radius();
    let root = radius + under.mm();
    let edge = radius + reach.mm();
    let mut marks: Vec<Mark> = (0..count)
        .map(|i| {
            let out = ray((i as f64 + 0.5) / count as f64);
            Mark::open(Meaning::Pleat, vec![centre + out * root, centre + out * edge])
        })
        .collect();
    let keep = (under + allowances.staple_inset + allowances.pleat).mm();
    if keep < reach.mm() {
        let steps = 12;
        let mut points = vec![centre + ray(0.15) * edge];
        points.extend(
            (0..=steps).map(|i| {
                centre + ray(0.2 + 0.6 * f64::from(i) / f64::from(steps)) * (radius + keep)
            }),
        );
        // Back along the cover's own edge, not across it.
        points.extend(
            (0..=steps).map(|i| centre + ray(0.85 - 0.7 * f64::from(i) / f64::from(steps)) * edge),
        );
        marks.push(Mark::open(Meaning::CutAway, points));
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn the_excess_depends_on_the_depth_turned_down_and_not_on_the_radius() {
        // Parallel curves t apart differ by turn * t whatever the radius: 90 degrees, 3.5 in apart
        // (f + b = 2, s = 0.75): 5.4978 in. Geometry; and 3 in: 4.712 for radius 2 and 4.
        let inch = Length::from_inches;
        for radius in [1.0, 2.0, 3.0, 6.0] {
            let (excess, count) = pleats(inch(radius), FRAC_PI_2, inch(2.0), inch(0.75), inch(0.5));
            assert!((excess.inches() - 5.4978).abs() < 5e-5, "{}", excess.inches());
            assert_eq!(count, 6);
        }
        for radius in [2.0, 4.0] {
            let (excess, _) = pleats(inch(radius), FRAC_PI_2, inch(1.5), inch(0.75), inch(0.5));
            assert!((excess.inches() - 4.712).abs() < 5e-4);
        }
        // Staples beyond the centre: only the outer arc is left to lose.
        let (excess, _) = pleats(inch(0.5), FRAC_PI_2, inch(0.0), inch(0.75), inch(0.5));
        assert!((excess.inches() - FRAC_PI_2 * 1.25).abs() < 1e-6);
    }

    #[test]
    fn slits_stop_half_an_inch_short_of_the_corner_in_line_with_the_edges() {
        // Common practice, no source: relief cut half an inch short of the corner.
        let board = Path::straight(&[
            Point::new(0.0, 0.0),
            Point::new(500.0, 0.0),
            Point::new(500.0, 400.0),
            Point::new(0.0, 400.0),
        ]);
        let usual = Allowances::usual(geometry::Unit::Inch);
        let reach = Length::from_mm(100.0);
        let (work, marks) = corners(&board, &[true; 4], Length::from_mm(30.0), reach, &usual);
        assert_eq!(work.len(), 4);
        let slits: Vec<&Mark> = marks.iter().filter(|m| m.meaning == Meaning::Slit).collect();
        assert_eq!(slits.len(), 8);
        for slit in slits {
            let crate::part::Line::Open(points) = &slit.line else { panic!() };
            let corner = |p: &Point| {
                [(0.0, 0.0), (500.0, 0.0), (500.0, 400.0), (0.0, 400.0)]
                    .iter()
                    .map(|&(x, y)| (*p - Point::new(x, y)).length())
                    .fold(f64::INFINITY, f64::min)
            };
            assert!((corner(&points[1]) - 12.7).abs() < 1e-9);
            assert!((corner(&points[0]) - 100.0).abs() < 1e-9);
        }
        // A joined side has no slits at its ends.
        let (work, _) = corners(&board, &[true, false, true, true], reach, reach, &usual);
        assert_eq!(work.len(), 2);
    }
}
