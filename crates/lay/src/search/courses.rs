//! Courses of a search: orders changed a little again and again, then parts pushed closer.

use super::{CHAINS, FEW_PARTS, Found, Searcher};
use crate::ground::Demands;
use crate::orders::reorder;
use crate::phase;
use crate::place::Order;
use crate::shrink::{self, Rounds, Shrink};
use crate::{Lay, purse};
use geometry::{Length, Spot};
use rayon::prelude::*;
use std::sync::atomic::Ordering;

/// How far back late acceptance looks.
///
/// Source of the method: Burke and Bykov, "The late acceptance hill-climbing heuristic", European
/// Journal of Operational Research 258 (2017). The number is our choice.
const MEMORY: usize = 24;

/// With more work than this one long course does better, unless a pattern holds parts.
const SHORT: u64 = 2_000_000_000;

/// The work of the first of several courses.
const FIRST_COURSE: u64 = 20_000_000;

/// Lays that one course hands to the next.
const MOST_KNOWN: usize = 12;

/// Lays in different phases of matched groups that are closed up.
const MOST_PHASES: usize = 6;

/// Of so many changes of an order one is to the phase of a matched group.
const PHASES: u32 = 8;

/// And one to where parts held to motifs begin.
const LEADS: u32 = 12;

impl Searcher<'_> {
    /// The best of several courses, each with twice the work of the one before, where parts are few or
    /// held by a pattern; of a single course elsewhere.
    ///
    /// Lays of few parts, or on a lattice, are far apart, and one course may go up a blind alley however
    /// long it is; many parts, or much work, settle best in one long course. On a lattice the courses are the same
    /// whatever the work, so that more of it never finds less.
    pub(super) fn courses(&self, mut known: Vec<Found>, work: u64) -> Option<Found> {
        let held = Demands::of(self.instance).held;
        let many = held || (self.instance.copies() <= FEW_PARTS && work <= SHORT);
        let (mut turn, mut left) = (0, work);
        let mut planned = if many { work.min(FIRST_COURSE) } else { work };
        while left > 0 && !(self.limits.stop)() {
            known = self.course(known, turn, planned, planned.min(left))?;
            if known[0].cost.0 <= self.least.0 {
                break;
            }
            left -= planned.min(left);
            planned *= 2;
            turn += 1;
        }
        known.into_iter().next()
    }

    /// Orders first, which soon give better lays to start from, then closing up; what is known then,
    /// best first. Of the planned work only the first part is done if less is allowed.
    fn course(
        &self,
        known: Vec<Found>,
        turn: u64,
        planned: u64,
        allowed: u64,
    ) -> Option<Vec<Found>> {
        let closing = shrink::takes(self.forms, &known.first()?.lay);
        let climbing = if closing { purse::ORDERS.of(planned) } else { planned };
        let share = climbing.min(allowed) / CHAINS as u64;
        let end = self.limits.end_of(climbing.min(allowed));
        let ends: Vec<Found> = (0..CHAINS)
            .into_par_iter()
            .map(|i| {
                let start = known[i % known.len()].clone();
                self.climb(start, turn * CHAINS as u64 + i as u64, share, end)
            })
            .collect();
        let mut all: Vec<Found> = ends.into_iter().chain(known).collect();
        all.sort_by_key(|found| found.cost);
        if closing && all[0].cost.1 > self.least.1 && climbing < allowed {
            let closed = self.shrunk(&all, planned - climbing, allowed - climbing);
            all.extend(closed);
            all.sort_by_key(|found| found.cost);
        }
        all.truncate(MOST_KNOWN);
        Some(all)
    }

    /// Parts moved closer from the best lay so far.
    ///
    /// Closing up keeps the phases of matched groups, so that lays in other phases, next best first,
    /// are closed up too.
    fn shrunk(&self, all: &[Found], planned: u64, allowed: u64) -> Vec<Found> {
        let mut from: Vec<(&Found, Vec<Option<Spot>>)> = Vec::new();
        for found in all {
            let phases = phase::of_lay(self.instance, self.forms, &found.lay);
            let fresh = match &self.instance.pattern {
                Some(pattern) => from.iter().all(|(_, p)| !phase::same(pattern, p, &phases)),
                None => from.is_empty(),
            };
            if fresh && from.len() < MOST_PHASES {
                from.push((found, phases));
            }
        }
        let share = planned / from.len().max(1) as u64;
        let done = |i: usize| share * i as u64;
        let some = from.into_iter().enumerate().take_while(|(i, _)| done(*i) < allowed);
        some.map(|(i, (found, _))| self.closed_up(found, share, allowed - done(i))).collect()
    }

    fn closed_up(&self, best: &Found, planned: u64, allowed: u64) -> Found {
        let told = |lay: &Lay| self.tell(&self.priced(Order::default(), lay.clone()));
        let of = |forms, rounds: Rounds, done: u64| Shrink {
            instance: self.instance,
            forms,
            rounds,
            least: Length::from_nm(self.least.1),
            planned: rounds.share().of(planned),
            allowed: allowed.saturating_sub(done).min(rounds.share().of(planned)),
            limits: self.limits,
            spent: &self.spent,
            told: &told,
        };
        let mut lay = None;
        let mut done = 0;
        for rounds in [Rounds::Exploring, Rounds::Closing] {
            if (self.limits.stop)() {
                break;
            }
            let forms = match rounds {
                Rounds::Exploring => self.outlines.light(),
                Rounds::Closing => self.outlines.fine(),
            };
            let question = of(forms, rounds, done);
            let closer = shrink::shrink(&question, lay.as_ref().unwrap_or(&best.lay));
            lay = closer.or(lay);
            done += question.planned;
        }
        match lay {
            Some(lay) => self.priced(Order::of(self.instance, self.forms, &lay), lay),
            None => best.clone(),
        }
    }

    /// One chain. It ends early on its own success only, so that the result does not depend on
    /// which chain is faster.
    fn climb(&self, start: Found, chain: u64, share: u64, end: u64) -> Found {
        let mut random = fastrand::Rng::with_seed(
            self.limits.seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(chain),
        );
        let mut best = start.clone();
        let mut now = start;
        let mut memory = [now.cost; MEMORY];
        let mut spent = 0;
        let mut round = 0;
        while spent < share && !self.limits.is_over(end) {
            let order = self.changed(&now, &mut random);
            let Some((next, looks)) = self.lay(order, false) else {
                // Hopeless orders cost something too, or the search would never end.
                spent += 1000;
                continue;
            };
            spent += looks;
            self.spent.fetch_add(looks, Ordering::Relaxed);
            let next = self.in_phase(next);
            let slot = round % MEMORY;
            round += 1;
            if next.cost <= now.cost || next.cost <= memory[slot] {
                now = next;
            }
            memory[slot] = memory[slot].min(now.cost);
            if now.cost < best.cost {
                best = now.clone();
                self.tell(&best);
            }
            if best.cost.0 <= self.least.0 && best.cost.1 <= self.least.1 {
                break;
            }
        }
        best
    }

    /// An order keeps the phase of its lay: another part laid first would move the whole group. Several groups
    /// are still to find their places to one another.
    fn in_phase(&self, mut found: Found) -> Found {
        if self.groups == 1 {
            found.order.phases = phase::of_lay(self.instance, self.forms, &found.lay);
        }
        found
    }

    /// The order with one small change.
    fn changed(&self, now: &Found, random: &mut fastrand::Rng) -> Order {
        let mut order = now.order.clone();
        if self.leads.len() > 1 && random.u32(0..LEADS) == 0 {
            order.lead = self.leads[random.usize(0..self.leads.len())];
            return order;
        }
        if self.groups > 0 && random.u32(0..PHASES) == 0 {
            let group = random.usize(0..self.groups);
            order.phases.resize(self.groups, None);
            let phases = phase::of_lay(self.instance, self.forms, &now.lay);
            order.phases[group] = phase::touching(
                self.instance,
                self.forms,
                &phases,
                (group, &self.across[group]),
                random,
            );
            return order;
        }
        reorder(self.forms, &mut order.genes, random);
        order
    }
}
