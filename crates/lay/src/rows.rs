//! Parts held by a pattern along and across: every lay of them is a choice of rows of motifs.
//!
//! A part that is held stands in a column of motifs, some rows up. Sort the parts of a lay by the height of
//! a level of theirs: each is clear of all before it, so that it stands in no lower row than each of them
//! leaves. Rows are whole numbers; for a given order "each as low as it can" is best for all that follow. So
//! every order is gone through by how many of each kind are laid, and of what is known for the same counts
//! only that is kept which is lower than the rest somewhere.
//!
//! A matched group may stand in any phase. For a bound a range of phases is looked at as one, every step as
//! small as any phase in it allows; ranges that would allow too little are halved. For a lay only phases at
//! which some member just touches something are worth a look.
//!
//! Source: derived here; dynamic programming over counts of like parts as by Held and Karp, "A dynamic
//! programming approach to sequencing problems", Journal of the SIAM 10 (1962).

mod ladder;
mod slots;

use self::ladder::{Climbed, Ladder, Steps};
use self::slots::{Motifs, Range, Slots};
use crate::bound::{Bound, Reason};
use crate::form::Forms;
use crate::ground::Demands;
use crate::orders::first_orders;
use crate::place::{Gene, Order, Placer, Use};
use crate::{Instance, Lay, Limits, Placement, Rule};
use geometry::{Length, Spot};
use std::cell::Cell;

/// Counts of parts laid that are told apart, and for a first look.
const MOST_COUNTS: usize = 100_000;
const FEW_COUNTS: usize = 2_000;

/// Columns of all forms together.
const MOST_SLOTS: usize = 240;

/// Convex pieces of all forms: each is set against each.
const MOST_PIECES: usize = 400;

/// Ranges of phases looked at for a bound.
const MOST_RANGES: usize = 400;

/// Phases looked at for a lay, those across the cloth, and lays filled up with free parts.
const MOST_PHASES: usize = 400;
const MOST_ACROSS: usize = 32;
const MOST_FILLED: usize = 6;

/// Steps that are always allowed where there is a search at all: about a tenth of a second.
const FEW_STEPS: u64 = 40_000_000;

/// Phases across at which a member of a matched group lies against a selvedge, or its side against a centred
/// part; none without a repeat in both directions.
pub(crate) fn phases_across(instance: &Instance, forms: &Forms, group: usize) -> Vec<i64> {
    let Some(motifs) = Motifs::of(instance) else { return Vec::new() };
    let is_asked = |&i: &usize| match instance.items[i].rule {
        Rule::Matched { group: g, .. } => g == group,
        rule => rule != Rule::Free,
    };
    let kinds: Vec<(usize, usize)> =
        (0..instance.items.len()).filter(is_asked).map(|i| (i, instance.items[i].count)).collect();
    let all: usize = kinds.iter().map(|kind| forms.list[kind.0].len() * motifs.columns()).sum();
    if all > MOST_SLOTS {
        return Vec::new();
    }
    slots::across(instance, forms, &motifs, &kinds)
}

/// A question about the rows of held parts.
pub(crate) struct Rows<'a> {
    instance: &'a Instance,
    forms: &'a Forms,
    motifs: Motifs,
    /// Items held by the pattern, largest first, and how many of each there are.
    kinds: Vec<(usize, usize)>,
    /// How many of these kinds are looked at first: the smaller ones seldom tell more.
    few: usize,
    /// Whether these are all that are held.
    is_whole: bool,
    /// The matched group among them, if there is one.
    group: Option<usize>,
    steps: Cell<u64>,
    limits: &'a Limits<'a>,
}

impl<'a> Rows<'a> {
    /// `None` where rows tell nothing: no repeat in both directions, cloth on hand, parts that stay, rolls, or
    /// more than one matched group.
    pub fn of(instance: &'a Instance, forms: &'a Forms, limits: &'a Limits<'a>) -> Option<Self> {
        let motifs = Motifs::of(instance)?;
        let Demands { on_hand, pins, rolls, held, .. } = Demands::of(instance);
        if on_hand || pins || rolls || !held || limits.work == 0 {
            return None;
        }
        let mut items: Vec<usize> =
            (0..instance.items.len()).filter(|&i| instance.items[i].rule != Rule::Free).collect();
        items.sort_by_key(|&i| (std::cmp::Reverse(instance.items[i].shape.twice_area()), i));
        let group = |&i: &usize| match instance.items[i].rule {
            Rule::Matched { group, .. } => Some(group),
            _ => None,
        };
        let mut groups: Vec<usize> = items.iter().filter_map(group).collect();
        groups.dedup();
        if groups.iter().any(|g| *g != groups[0]) {
            return None;
        }
        let (mut counts, mut pieces, mut slots) = (1_usize, 0, 0);
        let mut kinds = Vec::new();
        let mut few = 0;
        for &i in &items {
            let list = &forms.list[i];
            counts = counts.saturating_mul(instance.items[i].count + 1);
            pieces += list.iter().map(|form| form.least_pieces()).sum::<usize>();
            slots += list.len() * motifs.columns();
            if counts > MOST_COUNTS || pieces > MOST_PIECES || slots > MOST_SLOTS {
                break;
            }
            kinds.push((i, instance.items[i].count));
            if counts <= FEW_COUNTS {
                few = kinds.len();
            }
        }
        let is_whole = kinds.len() == items.len();
        let group = groups.first().copied();
        let steps = Cell::new(0);
        (!kinds.is_empty()).then_some(Self {
            instance,
            forms,
            motifs,
            kinds,
            few: few.max(1),
            is_whole,
            group,
            steps,
            limits,
        })
    }

    /// Work done so far, in looks of the placing.
    pub fn spent(&self) -> u64 {
        self.steps.get() / 8
    }

    /// A bound, if it is higher than `bound`: no lay that buys less than `found` is shorter.
    pub fn bound(&self, found: Length, bound: &Bound, most: u64) -> Option<Bound> {
        let buying = &self.instance.buying;
        let longest = (found - buying.step - buying.trim).nm();
        if longest <= bound.length.nm() {
            return None;
        }
        let most = self.steps.get() + most.max(FEW_STEPS);
        let mut least = self.least_of_all(&self.kinds[..self.few], longest, most);
        if least <= longest && self.few < self.kinds.len() {
            least = least.max(self.least_of_all(&self.kinds, longest, most));
        }
        let items = self.kinds.iter().map(|kind| kind.0).collect();
        let raised = Bound { length: Length::from_nm(least), reason: Reason::Beside { items } };
        (raised.length > bound.length).then_some(raised)
    }

    /// No lay of these kinds is lower, whatever the phase; at most a little over `longest`, nought if that takes
    /// too much.
    fn least_of_all(&self, kinds: &[(usize, usize)], longest: i64, most: u64) -> i64 {
        let mut open: Vec<(i64, Range)> = Vec::new();
        for range in self.motifs.whole(self.group.is_some()).parts() {
            match self.least(kinds, &range, longest, most) {
                Some(found) => open.extend(found.map(|top| (top, range))),
                None => return 0,
            }
        }
        for _ in 0..MOST_RANGES {
            let lowest = (0..open.len()).min_by_key(|&i| open[i].0);
            let Some((at, halves)) =
                lowest.and_then(|at| Some((at, open[at].1.halves(&self.motifs)?)))
            else {
                break;
            };
            let inner = halves.map(|half| Some((self.least(kinds, &half, longest, most)?, half)));
            let [Some(one), Some(other)] = inner else { break };
            open.swap_remove(at);
            open.extend([one, other].into_iter().filter_map(|(top, half)| Some((top?, half))));
        }
        open.iter().map(|range| range.0).min().unwrap_or(longest + 1)
    }

    /// The least height of a range of phases, if it is no more than `longest`; `None` once that takes too much.
    fn least(
        &self,
        kinds: &[(usize, usize)],
        range: &Range,
        longest: i64,
        most: u64,
    ) -> Option<Option<i64>> {
        let slots = Slots::of(self.instance, self.forms, &self.motifs, kinds, range);
        let found = self.climbed(&slots, kinds, Steps::Least, longest, most)?;
        Some(found.map(|found| found.top))
    }

    fn climbed(
        &self,
        slots: &Slots,
        kinds: &[(usize, usize)],
        which: Steps,
        longest: i64,
        most: u64,
    ) -> Option<Option<Climbed>> {
        let counts: Vec<usize> = kinds.iter().map(|kind| kind.1).collect();
        self.ladder(slots, which).climb(&counts, longest, &self.steps, most, self.limits.stop)
    }

    /// Lays with the held parts as low as they can be, at phases worth a look, best first; none longer than
    /// `longest`; looked for until one is no longer than `least`.
    pub fn lays(&self, longest: Length, least: Length, which: Use, most: u64) -> Vec<Lay> {
        if !self.is_whole {
            return Vec::new();
        }
        let most = self.steps.get() + most.max(FEW_STEPS);
        let mut best = longest.nm();
        let mut found = Vec::new();
        for phase in self.phases() {
            // Where the larger kinds end low all may.
            let Some(large) = self.lowest(self.few, &phase, best, most) else { break };
            let all = match large {
                Some(_) if self.few < self.kinds.len() => {
                    self.lowest(self.kinds.len(), &phase, best, most)
                }
                large => Some(large),
            };
            let Some(all) = all else { break };
            let Some((top, parts)) = all else { continue };
            best = top;
            found.push((top, phase, parts));
            if top <= least.nm() {
                break;
            }
        }
        found.sort_by_key(|known| known.0);
        let some = found.into_iter().take(MOST_FILLED);
        some.flat_map(|(_, phase, parts)| self.filled(&phase, parts, which)).collect()
    }

    /// The lowest lay of some kinds in a phase, if it is no higher than `longest`; `None` if that takes too much.
    fn lowest(
        &self,
        kinds: usize,
        phase: &Range,
        longest: i64,
        most: u64,
    ) -> Option<Option<(i64, Vec<Placement>)>> {
        let kinds = &self.kinds[..kinds];
        let slots = Slots::of(self.instance, self.forms, &self.motifs, kinds, phase);
        let climbed = self.climbed(&slots, kinds, Steps::Sure, longest, most)?;
        let placed = |c: Climbed| (c.top, slots.placed(&c.placed, self.motifs.along));
        Some(climbed.map(placed))
    }

    /// The free parts laid about the held ones.
    fn filled(&self, phase: &Range, parts: Vec<Placement>, which: Use) -> Vec<Lay> {
        let held = Instance { pins: parts, ..self.instance.clone() };
        let mut phases = vec![None; self.group.map_or(0, |group| group + 1)];
        if let Some(group) = self.group {
            phases[group] = Some(Spot::new(phase.across.0, phase.along.0));
        }
        let is_loose = |gene: &Gene| held.items[gene.item].rule == Rule::Free;
        let orders = first_orders(self.forms, self.instance).into_iter().map(|order| Order {
            genes: order.genes.into_iter().filter(is_loose).collect(),
            phases: phases.clone(),
            ..order
        });
        let placer = || Placer::new(&held, self.forms, which, self.limits.stop);
        orders.filter_map(|order| Some(placer().run(&order, false)?.0)).collect()
    }

    /// Steps between slots, which are counted as what they take.
    fn ladder(&self, slots: &Slots, which: Steps) -> Ladder {
        let pairs = (slots.0.len() * slots.0.len()) as u64;
        self.steps.set(self.steps.get() + 50 * pairs);
        Ladder::new(slots, self.motifs.along, which)
    }

    /// Phases at which a member of the group just touches something.
    fn phases(&self) -> Vec<Range> {
        let whole = self.motifs.whole(self.group.is_some());
        if self.group.is_none() {
            return vec![whole];
        }
        let mut phases = Vec::new();
        let across = slots::across(self.instance, self.forms, &self.motifs, &self.kinds);
        for across in across.into_iter().take(MOST_ACROSS) {
            if (self.limits.stop)() {
                break;
            }
            let line = Range { across: (across, across), along: (0, 0) };
            let slots = Slots::of(self.instance, self.forms, &self.motifs, &self.kinds, &line);
            let along = self.ladder(&slots, Steps::Sure).touching(&slots);
            phases.extend(along.into_iter().map(|along| Range { along: (along, along), ..line }));
        }
        // Where there are many, some of all sorts.
        let apart = phases.len().div_ceil(MOST_PHASES).max(1);
        phases.into_iter().step_by(apart).collect()
    }
}
