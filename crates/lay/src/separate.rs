//! Overlap minimisation: parts may overlap for a while, and the worst are moved until none does.
//!
//! Source of the method: guided local search over overlaps as in Egeblad, Nielsen and Odgaard, "Fast
//! neighborhood search for two- and three-dimensional nesting problems", European Journal of
//! Operational Research 183 (2007), and Gardeyn and Wauters, "An open-source heuristic to reboot 2D
//! nesting research" (2025). Depths from no-fit polygons, lattices and the exact last step are ours.

use crate::depth::Push;
use crate::form::Form;
use crate::pairs::{Met, Pair};
use crate::scene::{Extent, Pose, Scene};
use fastrand::Rng;
use std::cell::Cell;

/// Samples near where the part lies, and anywhere, and how many of the best are refined.
const NEAR: usize = 12;
const ANYWHERE: usize = 24;
const REFINED: usize = 3;

/// Passes without a lower loss before a strike, and strikes before giving up.
#[derive(Clone, Copy)]
pub(crate) struct Patience {
    pub passes: usize,
    pub strikes: usize,
}

/// Parts on strips, possibly overlapping.
pub(crate) struct Separation<'a> {
    scene: &'a Scene<'a>,
    pub poses: Vec<Pose>,
    extents: Vec<Extent>,
    /// Where each strip ends at present.
    ends: Vec<f64>,
    /// Loss of each pair of parts, and of each part with flaws and parts that stay in the last column.
    losses: Vec<f64>,
    weights: Vec<f64>,
    pub random: Rng,
    spent: Cell<u64>,
    /// Pairs of forms met so far.
    met: Met,
    /// All parts.
    all: Vec<usize>,
}

#[derive(Clone, Copy)]
struct Trial {
    pose: Pose,
    loss: f64,
}

impl<'a> Separation<'a> {
    pub fn new(scene: &'a Scene<'a>, poses: Vec<Pose>, seed: u64) -> Self {
        let n = poses.len();
        let ends = scene.beds.iter().map(|g| g.end.unwrap_or(f64::INFINITY)).collect();
        let mut separation = Self {
            scene,
            poses: Vec::new(),
            extents: vec![Extent::default(); n],
            ends,
            losses: vec![0.0; n * (n + 1)],
            weights: vec![1.0; n * (n + 1)],
            random: Rng::with_seed(seed),
            spent: Cell::new(0),
            met: Met::none_of(&scene.pairs),
            all: (0..n).collect(),
        };
        separation.restore(&poses);
        separation
    }

    /// Looks at parts taken so far, as the placing counts them.
    pub fn spent(&self) -> u64 {
        self.spent.get()
    }

    fn spend(&self, looks: u64) {
        self.spent.set(self.spent.get() + looks);
    }

    /// How deep a part of one form lies in one of another.
    fn depth(&self, a: &Form, b: &Form) -> Pair<'a> {
        let (pair, looks) = self.met.look(&self.scene.pairs, a, b);
        self.spend(looks);
        pair
    }

    fn width(&self) -> usize {
        self.poses.len() + 1
    }

    /// Takes these poses and works their losses out anew; weights stay.
    pub fn restore(&mut self, poses: &[Pose]) {
        self.spend(200);
        self.poses.clear();
        self.poses.extend_from_slice(poses);
        for (part, pose) in poses.iter().enumerate() {
            self.extents[part] = self.extent(part, *pose);
        }
        for part in 0..poses.len() {
            self.measure(part);
        }
    }

    /// Sets where a strip ends; parts beyond are moved down to it, or elsewhere if it has become too
    /// short for them.
    pub fn end(&mut self, strip: usize, end: f64) {
        self.ends[strip] = end;
        for part in 0..self.poses.len() {
            let pose = self.poses[part];
            if pose.strip != strip || self.extents[part].high[1] <= end {
                continue;
            }
            let settled = self
                .scene
                .domain(part, strip, pose.form)
                .and_then(|domain| domain.settle(pose.x, pose.y, end));
            match settled {
                Some([x, y]) => self.put(part, Pose { x, y, ..pose }),
                None => {
                    if let Some(pose) = self.elsewhere(part) {
                        self.put(part, pose);
                    }
                }
            }
        }
    }

    /// Some place for a part in any form on any strip.
    fn elsewhere(&mut self, part: usize) -> Option<Pose> {
        let forms = self.scene.extents[self.scene.parts[part]].len();
        let mut all: Vec<(usize, usize)> =
            (0..self.ends.len()).flat_map(|s| (0..forms).map(move |f| (s, f))).collect();
        self.random.shuffle(&mut all);
        all.into_iter().find_map(|(strip, form)| {
            let domain = self.scene.domain(part, strip, form)?;
            let [x, y] = domain.settle(domain.low[0], domain.low[1], self.ends[strip])?;
            Some(Pose { strip, form, x, y })
        })
    }

    /// Moves every part to the nearest place it may take.
    pub fn settle(&mut self) {
        for part in 0..self.poses.len() {
            let pose = self.poses[part];
            let domain = self.scene.domain(part, pose.strip, pose.form);
            let settled = domain.and_then(|d| d.settle(pose.x, pose.y, self.ends[pose.strip]));
            if let Some([x, y]) = settled {
                self.put(part, Pose { x, y, ..pose });
            }
        }
    }

    /// Moves what lies above a cut down.
    pub fn lower(&mut self, strip: usize, cut: f64, by: f64) {
        for part in 0..self.poses.len() {
            let pose = self.poses[part];
            if pose.strip != strip || self.extents[part].low[1] < cut {
                continue;
            }
            let Some(domain) = self.scene.domain(part, strip, pose.form) else { continue };
            if let Some([x, y]) = domain.settle(pose.x, pose.y - by, self.ends[strip]) {
                self.put(part, Pose { x, y, ..pose });
            }
        }
    }

    /// The highest point on a strip.
    pub fn top(&self, strip: usize) -> f64 {
        let here = (0..self.poses.len()).filter(|&part| self.poses[part].strip == strip);
        let tops = here.map(|part| self.extents[part].high[1]);
        tops.fold(self.scene.beds[strip].pinned_top, f64::max)
    }

    /// Whether every part lies where it may.
    fn inside(&self) -> bool {
        let within = |part: usize| {
            let Pose { strip, form, x, y } = self.poses[part];
            let place = self.scene.domain(part, strip, form);
            place.is_some_and(|d| d.settle(x, y, self.ends[strip]) == Some([x, y]))
        };
        (0..self.poses.len()).all(within)
    }

    /// Loss of all overlaps, unweighted.
    pub fn loss(&self) -> f64 {
        let (n, width) = (self.poses.len(), self.width());
        let pairs: f64 =
            (0..n).map(|i| self.losses[i * width..i * width + i].iter().sum::<f64>()).sum();
        pairs + (0..n).map(|i| self.losses[i * width + n]).sum::<f64>()
    }

    fn extent(&self, part: usize, pose: Pose) -> Extent {
        self.scene.extents[self.scene.parts[part]][pose.form].moved(pose.x, pose.y)
    }

    fn put(&mut self, part: usize, pose: Pose) {
        self.poses[part] = pose;
        self.extents[part] = self.extent(part, pose);
        self.measure(part);
    }

    /// Losses of one part where it lies.
    fn measure(&mut self, part: usize) {
        let (n, width) = (self.poses.len(), self.width());
        let pose = self.poses[part];
        let form = self.scene.form(part, pose.form);
        let extent = self.extents[part];
        self.spend(n as u64 / 2);
        for other in 0..n {
            let mut loss = 0.0;
            if other != part && extent.meets(&self.extents[other]) {
                let there = self.poses[other];
                let depth = self.depth(form, self.scene.form(other, there.form));
                loss = depth.at(pose.x - there.x, pose.y - there.y)
                    * self.scene.scales[part]
                    * self.scene.scales[other];
            }
            self.losses[part * width + other] = loss;
            self.losses[other * width + part] = loss;
        }
        self.losses[part * width + n] = self.in_blocks(part, pose, extent);
    }

    fn in_blocks(&self, part: usize, pose: Pose, extent: Extent) -> f64 {
        let blocks = &self.scene.beds[pose.strip].blocks;
        if blocks.iter().all(|block| !extent.meets(&block.extent)) {
            return 0.0;
        }
        let scale = self.scene.scales[part];
        self.scene.in_blocks(part, pose).map(|push| push.depth).sum::<f64>() * scale * scale
    }

    /// Weighted loss of a part at a pose with those of `among`; no better than `most` once it is
    /// reached.
    fn loss_at(&self, part: usize, pose: Pose, most: f64, among: &[usize]) -> f64 {
        let (n, width) = (self.poses.len(), self.width());
        let extent = self.extent(part, pose);
        let form = self.scene.form(part, pose.form);
        let scale = self.scene.scales[part];
        let weights = &self.weights[part * width..(part + 1) * width];
        let mut loss = 0.0;
        let mut looks = among.len() as u64 / 8 + 6;
        if !self.scene.beds[pose.strip].blocks.is_empty() {
            loss += weights[n] * self.in_blocks(part, pose, extent);
        }
        for &other in among {
            if !extent.meets(&self.extents[other]) || other == part {
                continue;
            }
            let there = self.poses[other];
            let depth = self.depth(form, self.scene.form(other, there.form));
            looks += 2;
            loss += depth.at(pose.x - there.x, pose.y - there.y)
                * scale
                * self.scene.scales[other]
                * weights[other];
            if loss >= most {
                loss = most;
                break;
            }
        }
        self.spend(looks);
        loss
    }

    /// Parts whose boxes come within `reach` of a part at a pose.
    fn around(&self, part: usize, pose: Pose, reach: f64) -> Vec<usize> {
        let mut window = self.extent(part, pose);
        window.low = window.low.map(|x| x - reach);
        window.high = window.high.map(|x| x + reach);
        self.spend(self.all.len() as u64 / 8);
        self.all
            .iter()
            .copied()
            .filter(|&other| other != part && window.meets(&self.extents[other]))
            .collect()
    }

    /// Ways out of all that a part overlaps at a pose.
    fn pushes(&mut self, part: usize, pose: Pose) -> Vec<Push> {
        let extent = self.extent(part, pose);
        let form = self.scene.form(part, pose.form);
        let mut pushes = Vec::new();
        for (other, there) in self.extents.iter().enumerate() {
            if other != part && extent.meets(there) {
                let there = self.poses[other];
                let depth = self.depth(form, self.scene.form(other, there.form));
                let push = depth.push(pose.x - there.x, pose.y - there.y);
                if push.depth > 0.0 {
                    pushes.push(push);
                }
            }
        }
        pushes.extend(self.scene.in_blocks(part, pose));
        self.spend(self.poses.len() as u64 / 4 + 8 * pushes.len() as u64);
        pushes
    }

    /// Moves parts until nothing overlaps; `false` when patience, `budget` or `stop` ends it first,
    /// then with the least overlapping poses found.
    pub fn run(&mut self, patience: Patience, budget: u64, stop: &dyn Fn() -> bool) -> bool {
        let mut least = self.loss();
        let mut best = self.poses.clone();
        if !self.inside() {
            return false;
        }
        let mut strikes = 0;
        while strikes < patience.strikes {
            let before = least;
            let mut idle = 0;
            while idle < patience.passes {
                if least == 0.0 {
                    return true;
                }
                if self.spent() >= budget || stop() {
                    self.restore(&best);
                    return false;
                }
                let n = self.poses.len() as u64;
                self.spend(n * n / 4 + 50);
                self.heavier();
                self.pass();
                let loss = self.loss();
                idle += 1;
                if loss < least {
                    if loss < 0.98 * least {
                        idle = 0;
                    }
                    least = loss;
                    best.clone_from(&self.poses);
                }
            }
            strikes = if least < 0.98 * before { 0 } else { strikes + 1 };
            self.restore(&best);
        }
        least == 0.0
    }

    /// Every overlapping part once, in random order.
    fn pass(&mut self) {
        let mut parts: Vec<usize> =
            (0..self.poses.len()).filter(|&part| self.own(part) > 0.0).collect();
        self.random.shuffle(&mut parts);
        for part in parts {
            let own = self.own(part);
            if own > 0.0 {
                let better = self.better(part, own);
                if better.pose != self.poses[part] {
                    self.put(part, better.pose);
                }
            }
        }
    }

    /// Weighted loss of a part where it lies.
    fn own(&self, part: usize) -> f64 {
        let width = self.width();
        let row = part * width..(part + 1) * width;
        self.losses[row.clone()].iter().zip(&self.weights[row]).map(|(l, w)| l * w).sum()
    }

    /// The best pose found for a part; where it lies if there is none.
    fn better(&mut self, part: usize, own: f64) -> Trial {
        let here = Trial { pose: self.poses[part], loss: own };
        let mut best = [here; REFINED];
        let keep = |best: &mut [Trial; REFINED], trial: Trial| {
            if let Some(at) = best.iter().position(|b| trial.loss < b.loss) {
                best[at..].rotate_right(1);
                best[at] = trial;
            }
        };
        // The worst of the kept starts as good as any, or a poor first sample would never be refined.
        for slot in &mut best[1..] {
            slot.loss = f64::INFINITY;
        }
        for sample in 0..NEAR + ANYWHERE {
            let Some(pose) = self.sample(part, sample < NEAR) else { continue };
            let most = best[REFINED - 1].loss;
            let loss = self.loss_at(part, pose, most, &self.all);
            if loss < most {
                keep(&mut best, Trial { pose, loss });
            }
            if loss == 0.0 {
                break;
            }
        }
        let mut winner = here;
        for trial in best {
            if trial.loss.is_finite() {
                let refined = self.refine(part, trial, 0.25, 0.02);
                if refined.loss < winner.loss {
                    winner = refined;
                }
            }
        }
        if winner.loss > 0.0 {
            winner = self.refine(part, winner, 0.02, 0.002);
        }
        self.push_out(part, winner)
    }

    fn sample(&mut self, part: usize, near: bool) -> Option<Pose> {
        let now = self.poses[part];
        let forms = self.scene.extents[self.scene.parts[part]].len();
        let form = if forms == 1 { 0 } else { self.random.usize(0..forms) };
        let strip = if near || self.ends.len() == 1 {
            now.strip
        } else {
            self.random.usize(0..self.ends.len())
        };
        let domain = self.scene.domain(part, strip, form)?;
        let end = self.ends[strip];
        let ([low_x, low_y], high_x, high_y) = (domain.low, domain.high_x, domain.high_y(end));
        let (x, y) = if near {
            let b = self.scene.extents[self.scene.parts[part]][form];
            let (w, h) = (b.high[0] - b.low[0], b.high[1] - b.low[1]);
            (now.x + (self.random.f64() - 0.5) * w, now.y + (self.random.f64() - 0.5) * h)
        } else {
            (
                low_x + self.random.f64() * (high_x - low_x),
                low_y + self.random.f64() * (high_y - low_y),
            )
        };
        let [x, y] = domain.settle(x, y, end)?;
        Some(Pose { strip, form, x, y })
    }

    /// Coordinate descent from a trial, with steps from and to a share of the part's smaller side.
    fn refine(&mut self, part: usize, mut at: Trial, from: f64, to: f64) -> Trial {
        let b = self.scene.extents[self.scene.parts[part]][at.pose.form];
        let side = (b.high[0] - b.low[0]).min(b.high[1] - b.low[1]);
        let mut step = [from * side, from * side];
        let Some(domain) = self.scene.domain(part, at.pose.strip, at.pose.form) else {
            return at;
        };
        let end = self.ends[at.pose.strip];
        let reach = 2.0 * step[0];
        let mut middle = at.pose;
        let mut near = self.around(part, middle, reach);
        while at.loss > 0.0 && (step[0] > to * side || step[1] > to * side) {
            let along: [f64; 2] = match self.random.u8(0..4) {
                0 => [1.0, 0.0],
                1 => [0.0, 1.0],
                2 => [0.7, 0.7],
                _ => [0.7, -0.7],
            };
            let mut better = at;
            for sign in [1.0, -1.0] {
                let x = at.pose.x + sign * along[0] * step[0];
                let y = at.pose.y + sign * along[1] * step[1];
                let Some([x, y]) = domain.settle(x, y, end) else { continue };
                let pose = Pose { x, y, ..at.pose };
                if pose == at.pose {
                    continue;
                }
                if (x - middle.x).abs() > reach || (y - middle.y).abs() > reach {
                    middle = pose;
                    near = self.around(part, middle, reach);
                }
                let loss = self.loss_at(part, pose, better.loss, &near);
                if loss < better.loss {
                    better = Trial { pose, loss };
                }
            }
            let change = if better.loss < at.loss { 1.1 } else { 0.5 };
            for axis in 0..2 {
                if along[axis] == 1.0 {
                    step[axis] *= change;
                } else if along[axis] != 0.0 {
                    step[axis] *= f64::sqrt(change);
                }
            }
            at = better;
        }
        at
    }

    /// Last steps, exact: just out of one neighbour, or of two at once.
    fn push_out(&mut self, part: usize, mut at: Trial) -> Trial {
        let Some(domain) = self.scene.domain(part, at.pose.strip, at.pose.form) else {
            return at;
        };
        let end = self.ends[at.pose.strip];
        for _ in 0..6 {
            if at.loss == 0.0 {
                break;
            }
            let mut pushes = self.pushes(part, at.pose);
            pushes.sort_by(|a, b| a.depth.total_cmp(&b.depth));
            pushes.truncate(5);
            let mut better = at;
            let mut moves: Vec<[f64; 2]> =
                pushes.iter().map(|p| [p.depth * p.along[0], p.depth * p.along[1]]).collect();
            for (i, p) in pushes.iter().enumerate() {
                moves.extend(pushes[..i].iter().filter_map(|q| both(p, q)));
            }
            for [dx, dy] in moves {
                let place = domain.settle(away(at.pose.x, dx), away(at.pose.y, dy), end);
                let Some([x, y]) = place else { continue };
                let pose = Pose { x, y, ..at.pose };
                let loss = self.loss_at(part, pose, better.loss, &self.all);
                if loss < better.loss {
                    better = Trial { pose, loss };
                }
            }
            if better.loss >= at.loss {
                break;
            }
            at = better;
        }
        at
    }

    /// Overlaps weigh more each time they last, the deepest most; others are forgotten.
    fn heavier(&mut self) {
        let most = self.losses.iter().copied().fold(0.0, f64::max);
        if most == 0.0 {
            return;
        }
        for (weight, loss) in self.weights.iter_mut().zip(&self.losses) {
            *weight = if *loss > 0.0 {
                *weight * (1.2 + 0.8 * loss / most)
            } else {
                (*weight * 0.95).max(1.0)
            };
        }
    }

    /// Two large unlike parts change places, to leave a dead end.
    pub fn disturb(&mut self) {
        let n = self.poses.len();
        let mut large: Vec<usize> = (0..n).collect();
        large.sort_by(|&a, &b| self.scene.scales[b].total_cmp(&self.scene.scales[a]));
        large.truncate((n * 2 / 3).max(2));
        let a = large[self.random.usize(0..large.len())];
        let unlike: Vec<usize> =
            large.into_iter().filter(|&b| self.scene.parts[b] != self.scene.parts[a]).collect();
        if unlike.is_empty() {
            return;
        }
        let b = unlike[self.random.usize(0..unlike.len())];
        let (at_a, at_b) = (self.poses[a], self.poses[b]);
        let (box_a, box_b) = (self.extents[a], self.extents[b]);
        self.move_to(a, at_a, box_a, at_b.strip, box_b);
        self.move_to(b, at_b, box_b, at_a.strip, box_a);
    }

    /// A part to the middle of a box on a strip.
    fn move_to(&mut self, part: usize, from: Pose, own: Extent, strip: usize, target: Extent) {
        let Some(domain) = self.scene.domain(part, strip, from.form) else { return };
        let shift = |axis: usize| {
            (target.low[axis] + target.high[axis] - own.low[axis] - own.high[axis]) / 2.0
        };
        let place = domain.settle(from.x + shift(0), from.y + shift(1), self.ends[strip]);
        if let Some([x, y]) = place {
            self.put(part, Pose { strip, form: from.form, x, y });
        }
    }
}

/// Rounded to a whole nanometre in the direction of the move.
fn away(at: f64, by: f64) -> f64 {
    if by > 0.0 { (at + by).ceil() } else { (at + by).floor() }
}

/// The move that is out of both.
fn both(p: &Push, q: &Push) -> Option<[f64; 2]> {
    let det = p.along[0] * q.along[1] - p.along[1] * q.along[0];
    if det.abs() < 0.05 {
        return None;
    }
    Some([
        (p.depth * q.along[1] - q.depth * p.along[1]) / det,
        (q.depth * p.along[0] - p.depth * q.along[0]) / det,
    ])
}
