//! From first answers to better ones: the same placing over many orders.

mod courses;

use crate::bound::{Bound, Reason, least};
use crate::cutting::cutting_order;
use crate::fill;
use crate::form::Forms;
use crate::orders::{first_orders, leads, split_orders};
use crate::outlines::Outlines;
use crate::phase;
use crate::place::{Gene, Order, Placer, Use};
use crate::proof::{raised, tried};
use crate::rows::Rows;
use crate::stacked::stacked;
use crate::tidy::tidied;
use crate::verify::verify;
use crate::{Instance, Lay, Limits, Placement, Progress, Stock, Strip, purse, rows, sections};
use geometry::Length;
use rayon::prelude::*;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};

/// What the search found.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The best lay.
    pub lay: Lay,
    /// No lay uses less new cloth.
    pub bound: Bound,
    /// No lay can buy less.
    pub proven: bool,
    /// The order it came from; empty if it came from none.
    pub(crate) order: Order,
    pub(crate) which: Use,
}

impl Answer {
    /// The same places as the answer to another question of the same items, of which `bound` is known;
    /// `None` if they do not serve it.
    pub fn serving(&self, instance: &Instance, bound: &Bound) -> Option<Self> {
        let purchase = self.lay.purchase(&instance.buying);
        serving(instance, &self.lay).map(|lay| Self {
            lay,
            bound: bound.clone(),
            proven: purchase == instance.buying.purchase(bound.length),
            ..self.clone()
        })
    }
}

/// Chains that search side by side. Fixed, so that the result does not depend on the machine.
const CHAINS: usize = 4;

/// Up to so many parts are searched in several courses. Measured on the open instances and on jobs
/// of a workroom: fewer gain by it, those of sixty and more lose.
const FEW_PARTS: usize = 40;

/// What is less is better: to buy, to use, and as a guide the height at which parts end.
type Cost = (i64, i64, i64);

#[derive(Clone)]
struct Found {
    cost: Cost,
    order: Order,
    lay: Lay,
}

struct Searcher<'a> {
    instance: &'a Instance,
    /// As parts are placed.
    forms: &'a Forms,
    outlines: &'a Outlines<'a>,
    which: Use,
    least: Cost,
    /// Matched groups on a patterned cloth.
    groups: usize,
    /// Phases across worth a look, for each of them.
    across: Vec<Vec<i64>>,
    /// Where parts held to motifs may begin.
    leads: Vec<i64>,
    /// Nothing but rectangles on plain cloth.
    rectangles: bool,
    limits: &'a Limits<'a>,
    best: Mutex<(i64, i64)>,
    spent: AtomicU64,
    total: u64,
}

/// Lays an instance as well as the limits allow; `Err` names an item that fits no cloth in any
/// allowed turn.
///
/// Cloth on hand is used only if that lowers the purchase.
pub fn lay(instance: &Instance, limits: &Limits) -> Result<Answer, usize> {
    lay_again(instance, limits, &[])
}

/// The same, knowing lays that may serve: what is found buys no more than any of them that does.
pub fn lay_again(instance: &Instance, limits: &Limits, known: &[&Answer]) -> Result<Answer, usize> {
    if sections::takes(instance)
        && let Ok(answer) = sections::laid(instance, limits)
    {
        let before = known.iter().filter_map(|known| known.serving(instance, &answer.bound));
        let bought = |answer: &Answer| answer.lay.purchase(&instance.buying);
        return Ok(before.chain([answer.clone()]).min_by_key(bought).unwrap_or(answer));
    }
    let outlines = Outlines::of(instance);
    let forms = outlines.placing();
    let new_only = Instance { on_hand: Vec::new(), ..instance.clone() };
    let trials: &[(Use, &Instance)] = if instance.on_hand.is_empty() {
        &[(Use::NewOnly, instance)]
    } else {
        &[(Use::NewOnly, &new_only), (Use::OnHandFirst, instance)]
    };
    forms.phases.as_ref().map_err(|item| *item)?;
    let closely = limits.work > 0 && limits.closely;
    let mut bound = least(instance, closely);

    let mut best: Option<(Found, Use)> = None;
    for &(which, question) in trials {
        let whole = question == instance;
        let least = if whole { bound.clone() } else { least(question, closely) };
        let alone = trials.len() > 1 && which == Use::NewOnly;
        let share = if alone { purse::WITHOUT_ON_HAND.of(limits.work) } else { limits.work };
        let before: Vec<Lay> = match whole {
            true => known.iter().filter_map(|a| serving(question, &a.lay)).collect(),
            false => Vec::new(),
        };
        let found = search(question, &outlines, (which, before), &least, share, limits);
        let Some((found, lifted)) = found else { continue };
        // What is shown of new cloth alone says nothing where there is cloth on hand.
        if whole {
            bound = lifted;
        }
        if best.as_ref().is_none_or(|(b, _)| found.cost.0 < b.cost.0) {
            best = Some((found, which));
        }
    }
    let (found, which) = best.ok_or_else(|| misfit(instance, forms))?;
    let proven = found.lay.purchase(&instance.buying) == instance.buying.purchase(bound.length);

    let tidying = purse::TIDYING.of(limits.work);
    let laid = (&found.lay, &found.order);
    let (lay, order) = tidied(instance, outlines.known(), which, laid, tidying, limits)
        .unwrap_or((found.lay, found.order));

    Ok(Answer { lay: in_cutting_order(outlines.known(), lay), bound, proven, order, which })
}

fn in_cutting_order(forms: &Forms, mut lay: Lay) -> Lay {
    for strip in &mut lay.strips {
        let order = cutting_order(forms, strip);
        strip.placements = order.into_iter().map(|i| strip.placements[i]).collect();
    }
    lay
}

/// The first item that fits no strip on its own.
fn misfit(instance: &Instance, forms: &Forms) -> usize {
    let alone = |item: usize| {
        Placer::new(instance, forms, Use::OnHandFirst, &|| false)
            .run(&Order { genes: vec![Gene { item, form: None }], ..Order::default() }, true)
    };
    (0..forms.list.len()).find(|&item| alone(item).is_none()).unwrap_or(0)
}

/// A lay, if it is one of this question too.
fn serving(instance: &Instance, lay: &Lay) -> Option<Lay> {
    let known = |p: &Placement| p.item < instance.items.len();
    let is_there = |strip: &Strip| match strip.stock {
        Stock::OnHand(i) => i < instance.on_hand.len(),
        Stock::New(_) => true,
    };
    let all = lay.strips.iter().all(|s| is_there(s) && s.placements.iter().all(known));
    (all && verify(instance, lay).is_empty()).then(|| lay.clone())
}

fn search(
    instance: &Instance,
    outlines: &Outlines,
    (which, before): (Use, Vec<Lay>),
    bound: &Bound,
    work: u64,
    limits: &Limits,
) -> Option<(Found, Bound)> {
    let least = (instance.buying.purchase(bound.length).nm(), bound.length.nm(), 0);
    let forms = outlines.placing();
    let mut searcher = Searcher {
        instance,
        forms,
        outlines,
        which,
        least,
        groups: phase::of_groups(instance),
        across: (0..phase::of_groups(instance))
            .map(|group| rows::phases_across(instance, forms, group))
            .collect(),
        leads: leads(instance, forms),
        rectangles: fill::takes(instance, forms),
        limits,
        best: Mutex::new((i64::MAX, i64::MAX)),
        spent: AtomicU64::new(0),
        total: work,
    };
    let mut stand = searcher.first_answers(before, bound.clone(), work)?;

    for stage in stages() {
        if stand.is_over {
            break;
        }
        stage(&mut searcher, &mut stand);
    }
    Some((stand.best, stand.bound))
}

type Stage<'a> = fn(&mut Searcher<'a>, &mut Stand);

/// What follows the first answers, in this order.
const fn stages<'a>() -> [Stage<'a>; 7] {
    [
        Searcher::step_up_rows,
        Searcher::fill_perfectly,
        Searcher::raise_the_bound,
        Searcher::try_all,
        Searcher::fill_nearer,
        Searcher::climb_and_close_up,
        Searcher::prove_what_is_better,
    ]
}

/// How a search stands.
struct Stand {
    best: Found,
    /// Lays to go on from.
    starts: Vec<Found>,
    bound: Bound,
    /// Work left.
    work: u64,
    /// What was bought for the best before it was searched further.
    before: i64,
    is_over: bool,
}

impl Searcher<'_> {
    /// One lay for each of a few orders, and what is known.
    fn first_answers(&self, before: Vec<Lay>, bound: Bound, work: u64) -> Option<Stand> {
        let (instance, forms) = (self.instance, self.forms);
        let mut orders = first_orders(forms, instance);
        if before.is_empty() && self.leads.len() > 1 && instance.copies() <= FEW_PARTS {
            let all = self
                .leads
                .iter()
                .flat_map(|&lead| orders.iter().map(move |order| Order { lead, ..order.clone() }));
            orders = all.collect();
        }
        if self.which == Use::OnHandFirst && work > 0 {
            orders.extend(split_orders(instance, forms, &orders, self.limits));
        }
        let mut starts: Vec<Found> =
            orders.into_par_iter().filter_map(|order| self.lay(order, true)).map(|l| l.0).collect();
        let known = |lay| self.priced(Order::of(instance, forms, &lay), lay);
        starts.extend(before.into_iter().map(known));
        starts.sort_by_key(|found| found.cost);
        let best = starts.first()?.clone();
        self.tell(&best);
        let is_over = work == 0 || self.done(&best) || best.order.genes.len() < 2;
        let bought_least = best.cost.0 <= self.least.0;
        let work = if bought_least { purse::ONLY_SHORTER.of(work) } else { work };
        Some(Stand { before: best.cost.0, best, starts, bound, work, is_over })
    }

    /// Held parts in rows of motifs: the lowest lay of them, and how low none can be.
    fn step_up_rows(&mut self, stand: &mut Stand) {
        let Some(rows) = Rows::of(self.instance, self.forms, self.limits) else { return };
        let most = purse::ROWS.of(stand.work);
        let found = Length::from_nm(stand.best.cost.0);
        let is_open = found.nm() > self.least.0;
        let bound = rows.bound(found, &stand.bound, most).filter(|_| self.limits.closely);
        let found = Length::from_nm(stand.best.cost.1);
        let mut longest = vec![found];
        if let Some(bound) = bound {
            self.know(&bound);
            // What buys no more than the bound first: the less may lie open, the less is looked at.
            let least = Length::from_nm(self.least.0) - self.instance.buying.trim;
            longest = vec![bound.length, least.min(found), found];
            stand.bound = bound;
        }
        for longest in longest {
            let lays = rows.lays(longest, stand.bound.length, self.which, most);
            let right = lays.into_iter().filter(|lay| verify(self.instance, lay).is_empty());
            let of = |lay| self.priced(Order::of(self.instance, self.forms, &lay), lay);
            let right: Vec<Found> = right.map(of).collect();
            let is_found = !right.is_empty();
            stand.starts.extend(right);
            if is_found {
                break;
            }
        }
        stand.starts.sort_by_key(|found| found.cost);
        if stand.starts[0].cost < stand.best.cost {
            stand.best = stand.starts[0].clone();
            self.tell(&stand.best);
        }
        stand.work -= rows.spent().min(4 * most);
        self.spent.fetch_add(rows.spent(), Ordering::Relaxed);
        stand.is_over = self.done(&stand.best);
        if is_open && stand.best.cost.0 <= self.least.0 {
            stand.work = purse::ONLY_SHORTER.of(stand.work);
        }
    }

    /// Nothing below a bound is looked for.
    fn know(&mut self, bound: &Bound) {
        self.least = (self.instance.buying.purchase(bound.length).nm(), bound.length.nm(), 0);
    }

    fn fill_perfectly(&mut self, stand: &mut Stand) {
        if self.rectangles {
            let share = purse::PERFECT.of(stand.work);
            self.fill(stand, share);
        }
    }

    fn raise_the_bound(&mut self, stand: &mut Stand) {
        let is_open = stand.best.cost.0 > self.least.0;
        let (bound, proving) = self.raised(&stand.best, stand.bound.clone());
        stand.bound = bound;
        stand.work -= proving.min(purse::MOST_PROVING.of(stand.work));
        self.spent.fetch_add(proving, Ordering::Relaxed);
        self.know(&stand.bound);
        if is_open && stand.best.cost.0 <= self.least.0 {
            stand.work = purse::ONLY_SHORTER.of(stand.work);
        }
    }

    /// Where so few parts are laid that all lays can be tried, searching may be in vain.
    fn try_all(&mut self, stand: &mut Stand) {
        stand.bound = self.tried(&stand.best, stand.bound.clone());
        stand.is_over = stand.bound.reason == Reason::Tried;
    }

    /// Parts that would fill the cloth to the bound are worth most of the work.
    fn fill_nearer(&mut self, stand: &mut Stand) {
        stand.before = stand.best.cost.0;
        if self.rectangles {
            let is_full = matches!(stand.bound.reason, Reason::Area | Reason::Columns);
            let share = if is_full { purse::FILLING_FULL } else { purse::FILLING };
            self.fill(stand, share.of(stand.work));
            stand.starts.insert(0, stand.best.clone());
        }
    }

    fn fill(&self, stand: &mut Stand, share: u64) {
        stand.best = self.filled(stand.best.clone(), share);
        stand.work -= share;
        stand.is_over = self.done(&stand.best);
    }

    fn climb_and_close_up(&mut self, stand: &mut Stand) {
        let starts = std::mem::take(&mut stand.starts);
        if let Some(best) = self.courses(starts, stand.work) {
            stand.best = best;
        }
    }

    fn prove_what_is_better(&mut self, stand: &mut Stand) {
        if stand.best.cost.0 < stand.before && !(self.limits.stop)() {
            let raised = self.raised(&stand.best, stand.bound.clone()).0;
            stand.bound = self.tried(&stand.best, raised);
        }
    }

    /// No lay buys less or is shorter.
    const fn done(&self, found: &Found) -> bool {
        found.cost.0 <= self.least.0 && found.cost.1 <= self.least.1
    }

    fn raised(&self, found: &Found, bound: Bound) -> (Bound, u64) {
        if !self.limits.closely {
            return (bound, 0);
        }
        raised(self.instance, self.forms, Length::from_nm(found.cost.0), bound, self.limits)
    }

    fn tried(&self, found: &Found, bound: Bound) -> Bound {
        if !self.limits.closely {
            return bound;
        }
        tried(self.instance, self.forms, Length::from_nm(found.cost.0), bound, self.limits)
    }

    /// An order laid and priced, and the work it took.
    fn lay(&self, order: Order, must: bool) -> Option<(Found, u64)> {
        let stop = self.limits.stop;
        let placer = Placer::new(self.instance, self.forms, self.which, stop);
        let (lay, looks) = placer.run(&order, must)?;
        Some((self.priced(order, lay), looks))
    }

    fn priced(&self, order: Order, lay: Lay) -> Found {
        let length = lay.new_length().nm();
        let guide = lay
            .strips
            .iter()
            .filter(|strip| matches!(strip.stock, Stock::New(_)))
            .flat_map(|strip| &strip.placements)
            .map(|p| p.at.y / 1_000_000)
            .sum();
        let cost = (lay.purchase(&self.instance.buying).nm(), length, guide);
        Found { cost, order, lay }
    }

    fn tell(&self, found: &Found) {
        let Ok(mut best) = self.best.lock() else { return };
        let here = (found.cost.0, found.cost.1);
        if here < *best {
            *best = here;
            let spent = self.spent.load(Ordering::Relaxed) as f64;
            (self.limits.progress)(Progress {
                length: Length::from_nm(here.1),
                purchase: Length::from_nm(here.0),
                least: Length::from_nm(self.least.1),
                done: if self.total == 0 { 1.0 } else { (spent / self.total as f64).min(1.0) },
            });
        }
    }

    /// Rectangles: the strip filled to ever nearer targets between the bound and the best so far; the
    /// bound itself first, and again with other luck once nothing lies between: perfect packings.
    fn filled(&self, best: Found, work: u64) -> Found {
        const TRIALS: u64 = 12;
        let mut best = best;
        let mut low = self.least.1;
        let mut target = low;
        for trial in 0..TRIALS {
            let share = work / TRIALS / CHAINS as u64;
            let lays: Vec<Option<Lay>> = (0..CHAINS as u64)
                .into_par_iter()
                .map(|chain| {
                    let seed = self.limits.seed.wrapping_mul(31).wrapping_add(trial * 97 + chain);
                    let length = Length::from_nm(target);
                    fill::fill(self.instance, self.forms, length, share, seed, self.limits.stop)
                })
                .collect();
            self.spent.fetch_add(work / TRIALS, Ordering::Relaxed);
            match lays.into_iter().flatten().next() {
                Some(lay) => {
                    let found = self.priced(Order::of(self.instance, self.forms, &lay), lay);
                    if found.cost < best.cost {
                        best = found;
                        self.tell(&best);
                    }
                }
                None => low = target,
            }
            if best.cost.1 <= self.least.1 || (self.limits.stop)() {
                break;
            }
            let middle = Length::from_nm(low + (best.cost.1 - low) / 2);
            let next = stacked(self.instance, middle).unwrap_or(middle).nm();
            target = if next <= low || best.cost.1 <= next { self.least.1 } else { next };
        }
        best
    }
}
