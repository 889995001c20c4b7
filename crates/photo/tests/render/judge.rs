//! How far a found outline is from the true one.

use super::{Shot, Shown, Truth, draw};
use geometry::Point;
use photo::{Outlined, Refusal, Rigid, dense, look};

/// What came of a photograph.
pub struct Judged {
    /// 95 in 100 parts of both outlines lie within this of the other, in mm.
    pub p95: f64,
    /// The most.
    pub most: f64,
    /// Mean distance outwards.
    pub outwards: f64,
    /// As stated.
    pub stated: f64,
    /// Lines and arcs.
    pub stretches: usize,
    /// Share of places that lie within what is stated for their stretch.
    pub places_within: f64,
    pub tilt: f64,
}

/// Draws, measures, compares.
pub fn judge(shot: &Shot) -> Result<Judged, Refusal> {
    measure(&draw(shot), &shot.loops)
}

pub fn measure(shown: &Shown, truth: &[Vec<Point>]) -> Result<Judged, Refusal> {
    let photographs = std::slice::from_ref(&shown.photograph);
    let looked = look(photographs, &shown.measured, &|_| true)?;
    let drawn = looked.propose(photographs, None, &|_| true)?;
    let found = looked.outline(photographs, &drawn, &|_| true)?;
    Ok(compare(&found, truth, &shown.truth, looked.placed.sheets[0]))
}

pub fn compare(found: &Outlined, loops: &[Vec<Point>], truth: &Truth, frame: usize) -> Judged {
    let [x, y, turn] = truth.sheets[frame];
    let mut rigid = Rigid { turn, shift: geometry::Vector::new(x, y) };
    let fitted: Vec<Point> = found.loops.iter().flat_map(|l| dense(&l.fitted, 1.5)).collect();
    let of_stretch: Vec<f64> = found
        .loops
        .iter()
        .flat_map(|l| {
            let n = l.fitted.len();
            (0..n).flat_map(move |i| {
                let seg = geometry::Seg {
                    start: l.fitted[i].at,
                    end: l.fitted[(i + 1) % n].at,
                    bulge: l.fitted[i].bulge,
                    run: geometry::Run::Side(i),
                };
                vec![l.within[i]; (seg.length() / 1.5).ceil().max(1.0) as usize]
            })
        })
        .collect();
    let true_points: Vec<Point> = loops.iter().flatten().copied().collect();
    let index = Index::of(&true_points);
    for _ in 0..25 {
        let pairs: Vec<(Point, Point)> =
            fitted.iter().step_by(2).map(|p| (*p, index.nearest(rigid.of(*p)))).collect();
        if let Some(r) = Rigid::onto(&pairs) {
            rigid = r;
        }
    }
    let moved: Vec<Point> = fitted.iter().map(|p| rigid.of(*p)).collect();
    let there: Vec<f64> = moved.iter().map(|p| (*p - index.nearest(*p)).length()).collect();
    let field = super::shapes::Field::of(loops);
    let outwards = moved.iter().map(|p| -field.inside(p.x, p.y)).sum::<f64>() / moved.len() as f64;
    let within = there.iter().zip(&of_stretch).filter(|(d, w)| d <= w).count();
    let fine: Vec<Point> =
        found.loops.iter().flat_map(|l| dense(&l.fitted, 0.2)).map(|p| rigid.of(p)).collect();
    let back_index = Index::of(&fine);
    let back = true_points.iter().step_by(5).map(|p| (*p - back_index.nearest(*p)).length());
    let mut all: Vec<f64> = there.iter().copied().chain(back).collect();
    all.sort_by(f64::total_cmp);
    Judged {
        p95: all[all.len() * 95 / 100],
        most: all[all.len() - 1],
        outwards,
        stated: found.within,
        stretches: found.loops.iter().map(|l| l.fitted.len()).sum(),
        places_within: within as f64 / there.len() as f64,
        tilt: found.tilt,
    }
}

/// Points by cells of 10 mm.
struct Index(std::collections::BTreeMap<(i64, i64), Vec<Point>>, Vec<Point>);

impl Index {
    fn of(points: &[Point]) -> Self {
        let mut cells: std::collections::BTreeMap<(i64, i64), Vec<Point>> = Default::default();
        for p in points {
            cells
                .entry(((p.x / 10.0).floor() as i64, (p.y / 10.0).floor() as i64))
                .or_default()
                .push(*p);
        }
        Self(cells, points.to_vec())
    }

    fn nearest(&self, p: Point) -> Point {
        let (i, j) = ((p.x / 10.0).floor() as i64, (p.y / 10.0).floor() as i64);
        let near = (i - 1..=i + 1)
            .flat_map(|i| (j - 1..=j + 1).map(move |j| (i, j)))
            .filter_map(|k| self.0.get(&k))
            .flatten();
        let by = |a: &&Point, b: &&Point| (**a - p).length().total_cmp(&(**b - p).length());
        match near.min_by(by) {
            Some(q) if (*q - p).length() < 10.0 => *q,
            _ => *self.1.iter().min_by(by).unwrap(),
        }
    }
}
