//! Shorter and shorter strips: the last length of new cloth is cut back and its parts separated again.
//!
//! Most of the work explores, from pools of nearly separated lays; the rest closes small gaps.

use crate::form::Forms;
use crate::purse::Share;
use crate::scene::{Pose, Scene};
use crate::separate::{Patience, Separation};
use crate::{Instance, Lay, Limits, Stock, verify};
use geometry::Length;
use rayon::prelude::*;
use std::sync::atomic::{AtomicU64, Ordering};

/// Chains side by side. Fixed, so that the result does not depend on the machine.
const CHAINS: usize = 2;

/// What the rounds are for, after each of which the chains compare what they have.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rounds {
    /// From pools of nearly separated lays.
    Exploring,
    /// Closing small gaps.
    Closing,
}

impl Rounds {
    const fn count(self) -> u64 {
        match self {
            Self::Exploring => 9,
            Self::Closing => 3,
        }
    }

    /// Of all rounds together.
    pub const fn share(self) -> Share {
        Share::several(self.count(), Self::Exploring.count() + Self::Closing.count())
    }
}

/// What a look costs here, in looks of the placing.
const LOOK: u64 = 5;

/// Length given up at once while exploring, and at first where parts were placed by rough outlines.
const STEP: f64 = 0.001;
const FIRST_STRIDE: f64 = 0.016;

/// Parts a lay may have for its table of pairs to fit the memory.
const MOST_PARTS: usize = 1500;

/// Whether this search can be run from a lay.
pub(crate) fn takes(forms: &Forms, lay: &Lay) -> bool {
    forms.paired()
        && lay.strips.iter().map(|s| s.placements.len()).sum::<usize>() <= MOST_PARTS
        && lay.strips.iter().any(|s| matches!(s.stock, Stock::New(_)))
}

struct Chain<'a> {
    separation: Separation<'a>,
    /// The shortest lay of this chain, and where its last strip ends.
    poses: Vec<Pose>,
    end: f64,
    /// Lays that could not be separated at the present length, with their loss, least first.
    pool: Vec<(f64, Vec<Pose>)>,
    /// Whether the last trial failed.
    stuck: bool,
    /// Length given up at once while exploring.
    stride: f64,
    /// Length given up at once while closing gaps.
    step: f64,
}

/// A question to this search.
pub(crate) struct Shrink<'a> {
    pub instance: &'a Instance,
    pub forms: &'a Forms,
    pub rounds: Rounds,
    /// No lay is shorter.
    pub least: Length,
    /// Looks planned for, as the placing counts them.
    pub planned: u64,
    /// Looks allowed: if fewer, only the first part of the plan is done.
    pub allowed: u64,
    pub limits: &'a Limits<'a>,
    /// Where looks taken are added.
    pub spent: &'a AtomicU64,
    /// Hears of each shorter lay.
    pub told: &'a (dyn Fn(&Lay) + Sync),
}

/// The shortest lay found from `start`, if it is shorter.
pub(crate) fn shrink(question: &Shrink, start: &Lay) -> Option<Lay> {
    let Shrink { instance, forms, rounds, least, planned, allowed, limits, spent, told } =
        *question;
    let (scene, poses) = Scene::new(instance, forms, start);
    if poses.is_empty() {
        return None;
    }
    let strip = (0..scene.beds.len())
        .rev()
        .find(|&s| matches!(scene.beds[s].ground.stock, Stock::New(_)))?;
    let others: i64 = start
        .strips
        .iter()
        .enumerate()
        .filter(|(s, laid)| *s != strip && matches!(laid.stock, Stock::New(_)))
        .map(|(_, laid)| laid.length.nm())
        .sum();
    let base = scene.beds[strip].start;
    let least = (base + (least.nm() - others).max(0) as f64).max(scene.beds[strip].pinned_top);
    let mut chains: Vec<Chain> = (0..CHAINS as u64)
        .map(|i| {
            let seed = limits.seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(77 + i);
            let separation = Separation::new(&scene, poses.clone(), seed);
            let end = separation.top(strip);
            let poses = poses.clone();
            Chain {
                separation,
                poses,
                end,
                pool: Vec::new(),
                stuck: false,
                stride: if forms.is_exact() { STEP } else { FIRST_STRIDE },
                step: 0.0005,
            }
        })
        .collect();
    let first = chains[0].end;
    let mut best = first;
    let started = (limits.clock)();
    for round in 0..rounds.count() {
        if planned / rounds.count() * round >= allowed {
            break;
        }
        let share = planned / LOOK / rounds.count() / CHAINS as u64;
        let end = started.saturating_add((planned / rounds.count() * (round + 1)).max(1));
        let stop = || limits.is_over(end);
        let ground = Floor { strip, base, least };
        chains.par_iter_mut().for_each(|chain| {
            let before = chain.separation.spent();
            let budget = before + share;
            while chain.separation.spent() < budget && chain.end > least && !stop() {
                if rounds == Rounds::Exploring {
                    chain.explore(ground, budget, &stop);
                } else {
                    chain.close(ground, budget, &stop);
                }
            }
            spent.fetch_add((chain.separation.spent() - before) * LOOK, Ordering::Relaxed);
        });
        let Some(leader) = chains.iter().min_by(|a, b| a.end.total_cmp(&b.end)) else { break };
        let (end, poses) = (leader.end, leader.poses.clone());
        if end < best {
            best = end;
            told(&scene.lay(&poses));
        }
        for chain in &mut chains {
            // A chain at the same length keeps its own lay.
            if chain.end > end {
                chain.end = end;
                chain.poses.clone_from(&poses);
                chain.pool.clear();
                chain.stuck = false;
            }
        }
        if best <= least || (limits.stop)() {
            break;
        }
    }
    let found = chains.into_iter().min_by(|a, b| a.end.total_cmp(&b.end))?;
    if found.end >= first {
        return None;
    }
    let lay = scene.lay(&found.poses);
    // The exact check has the last word.
    let right = verify(instance, &lay).is_empty();
    debug_assert!(right, "{:?}", verify(instance, &lay));
    right.then_some(lay)
}

/// Looks at most spent on a trial of grown parts.
const TRIAL: u64 = 1_000_000;

/// Whether a lay can take these forms, grown ones, on the cloth bought for it, with a little pushing.
pub(crate) fn holds(
    instance: &Instance,
    forms: &Forms,
    lay: &Lay,
    work: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> bool {
    if work == 0 || !takes(forms, lay) {
        return false;
    }
    let (scene, poses) = Scene::new(instance, forms, lay);
    if poses.is_empty() {
        return false;
    }
    let placeable =
        poses.iter().enumerate().all(|(part, p)| scene.domain(part, p.strip, p.form).is_some());
    if !placeable {
        return false;
    }
    let mut separation = Separation::new(&scene, poses, 1);
    for (s, strip) in lay.strips.iter().enumerate() {
        if matches!(strip.stock, Stock::New(_)) {
            separation.end(s, scene.beds[s].start + instance.room(strip).nm() as f64);
        }
    }
    separation.settle();
    separation.run(Patience { passes: 40, strikes: 1 }, work.min(TRIAL), stop)
}

/// The strip that is shortened, where it starts and where it cannot be shorter.
#[derive(Clone, Copy)]
struct Floor {
    strip: usize,
    base: f64,
    least: f64,
}

impl Floor {
    fn shorter(&self, end: f64, share: f64) -> f64 {
        (end - ((end - self.base) * share).max(1.0)).floor().max(self.least)
    }
}

impl Chain<'_> {
    /// One trial at a length a little below the best.
    fn explore(&mut self, floor: Floor, budget: u64, stop: &(dyn Fn() -> bool + Sync)) {
        let target = floor.shorter(self.end, self.stride);
        if self.stuck && !self.pool.is_empty() {
            // Nearer the least overlapping, but now and then another.
            let r = self.separation.random.f64() * self.separation.random.f64();
            let pick = (r * self.pool.len() as f64 * 0.7) as usize;
            self.separation.restore(&self.pool[pick.min(self.pool.len() - 1)].1);
            self.separation.disturb();
        } else if self.stuck {
            self.separation.restore(&self.poses);
            self.separation.disturb();
        }
        self.separation.end(floor.strip, target);
        let patience = Patience { passes: 100, strikes: 3 };
        if self.separation.run(patience, budget, stop) {
            self.keep(floor.strip);
            self.pool.clear();
            self.stuck = false;
        } else if self.stride > STEP {
            self.stride = (self.stride / 2.0).max(STEP);
            self.separation.restore(&self.poses);
        } else {
            let loss = self.separation.loss();
            let at = self.pool.partition_point(|p| p.0 <= loss);
            self.pool.insert(at, (loss, self.separation.poses.clone()));
            self.pool.truncate(20);
            self.stuck = true;
        }
    }

    /// One trial at closing gaps: parts above a random cut are moved down a little.
    fn close(&mut self, floor: Floor, budget: u64, stop: &(dyn Fn() -> bool + Sync)) {
        let target = floor.shorter(self.end, self.step);
        self.separation.restore(&self.poses);
        let cut = floor.base + self.separation.random.f64() * (self.end - floor.base);
        self.separation.lower(floor.strip, cut, self.end - target);
        self.separation.end(floor.strip, target);
        if self.separation.run(Patience { passes: 50, strikes: 2 }, budget, stop) {
            self.keep(floor.strip);
        } else {
            self.step = (self.step * 0.9).max(1e-5);
        }
    }

    fn keep(&mut self, strip: usize) {
        self.poses.clone_from(&self.separation.poses);
        self.end = self.separation.top(strip);
    }
}
