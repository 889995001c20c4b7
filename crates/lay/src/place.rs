//! First answers: each part in turn goes to the lowest place it fits, touching allowed.
//!
//! For a part at one x the forbidden y are open intervals, one for each pair of convex pieces
//! (a slice of the no-fit polygon), so the lowest free y, on the motif lattice if there is one, is
//! found exactly. The x tried are those at which the part touches a selvedge, a flaw or a part
//! already there; with a width repeat, those of the lattice. Places found for one shape are
//! remembered: more parts on the cloth can only push the next copy up.

use crate::form::{Form, Forms};
use crate::ground::{Closed, Ground, Held, Places};
use crate::pattern::Steps;
use crate::phase::{self, Phases};
use crate::{Instance, Lay, Placement, Rule, Stock, Strip};
use geometry::{Length, Rect, Spot};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// One part in an order: which item, and in which of its forms (any if `None`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Gene {
    pub item: usize,
    pub form: Option<usize>,
}

/// What is placed, first to last, and where each matched group stands to the motifs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Order {
    pub genes: Vec<Gene>,
    /// By group; a group without one takes that of its first part's lowest place.
    pub phases: Vec<Option<Spot>>,
    /// Parts held to motifs lie no lower than this on new cloth: the lowest row is not always the best to
    /// begin with.
    pub lead: i64,
}

impl Order {
    /// The order in which a lay's parts would be placed again.
    pub fn of(instance: &Instance, forms: &Forms, lay: &Lay) -> Self {
        let gene = |p: &Placement| Gene { item: p.item, form: forms.number(p) };
        let loose = |s: &'_ Strip| {
            s.placements
                .iter()
                .copied()
                .filter(|p| !instance.pinned(s.stock, p))
                .collect::<Vec<_>>()
        };
        let genes: Vec<Gene> = lay.strips.iter().flat_map(loose).map(|p| gene(&p)).collect();
        let new = lay.strips.iter().filter(|s| matches!(s.stock, Stock::New(_)));
        let low = |p: &Placement| {
            let form = forms.of_laid(p)?;
            instance.holds(p.item).then_some(p.at.y + form.bounds.low.y)
        };
        let lead = new.flat_map(|strip| &strip.placements).filter_map(low).min();
        Self { genes, phases: phase::of_lay(instance, forms, lay), lead: lead.unwrap_or(0) }
    }
}

/// Which strips an order may use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Use {
    OnHandFirst,
    NewOnly,
}

/// What binds a part across and along the cloth.
#[derive(Clone, Copy)]
enum Hold<'a> {
    /// Nothing.
    Free,
    /// A lattice through this motif.
    Motif(Spot),
    /// Its group has no phase yet and may take one of these.
    Phases(&'a Phases),
}

struct Put {
    gene: Gene,
    form: usize,
    at: Spot,
    bounds: Rect,
}

/// Lowest y not yet ruled out, x, and phase and period of the lattice steps there.
type Spare = (i64, i64, (i64, i64));

/// Places known for one form on one strip.
#[derive(Default)]
struct Known {
    heap: BinaryHeap<Reverse<Spare>>,
    lefts: usize,
    rights: usize,
    started: bool,
}

struct Open<'a> {
    ground: Ground<'a>,
    /// What a part still to come may touch.
    placed: Vec<Put>,
    /// What lies below a closed section's end.
    settled: Vec<Put>,
    /// Nothing more is laid below.
    floor: i64,
    /// x at which a part's left side may rest, in order of discovery, and the same for right sides;
    /// with the y from which what it rests on stands there.
    lefts: Vec<(i64, i64)>,
    rights: Vec<(i64, i64)>,
    seen: (BTreeMap<i64, i64>, BTreeMap<i64, i64>),
    known: Vec<Vec<Known>>,
}

pub(crate) struct Placer<'a> {
    instance: &'a Instance,
    forms: &'a Forms,
    strips: Vec<Open<'a>>,
    groups: Vec<Option<Spot>>,
    lead: i64,
    /// Looks at parts already placed: the measure of work.
    looks: u64,
    stop: &'a (dyn Fn() -> bool + Sync),
}

/// More parts than these are laid section by section.
pub(crate) const LARGE: usize = 600;

/// The parts of a section: what lies well below the last one is closed, so that a part costs the same whether
/// it is the hundredth or the ten thousandth.
pub(crate) const SECTION: usize = 100;

/// Once time is up, sections are so short.
const HURRIED: usize = 6;

impl<'a> Placer<'a> {
    pub fn new(
        instance: &'a Instance,
        forms: &'a Forms,
        which: Use,
        stop: &'a (dyn Fn() -> bool + Sync),
    ) -> Self {
        let count = phase::of_groups(instance);
        let mut groups = phase::of_pins(instance, forms);
        groups.resize(count, None);
        let mut placer =
            Self { instance, forms, strips: Vec::new(), groups, lead: 0, looks: 0, stop };
        if which == Use::OnHandFirst {
            for i in 0..instance.on_hand.len() {
                placer.open(Stock::OnHand(i));
            }
        }
        if !instance.pins.is_empty() {
            placer.open(Stock::New(0));
        }
        placer
    }

    /// Lays an order, and how much work it took; `None` if some part fits no strip at all. Once it is told to
    /// stop, it gives up; or, if it `must` lay them all, lays the rest in a hurry.
    pub fn run(mut self, order: &Order, must: bool) -> Option<(Lay, u64)> {
        for (group, phase) in self.groups.iter_mut().zip(&order.phases) {
            *group = group.or(*phase);
        }
        self.lead = order.lead;
        let is_large = order.genes.len() > LARGE;
        let (mut section, mut is_hurried) = (0, false);
        for &gene in &order.genes {
            is_hurried = is_hurried || (self.stop)();
            if is_hurried && !must {
                return None;
            }
            section += 1;
            if (is_large && section > SECTION) || (is_hurried && section > HURRIED) {
                section = 1;
                self.close(is_hurried);
            }
            let first = if is_large { self.first_open() } else { 0 };
            let found = (first..self.strips.len()).find_map(|s| Some((s, self.best(s, gene)?)));
            let (strip, (form, at)) = match found {
                Some(found) => found,
                None => {
                    let fresh = self.strips.iter().filter(|s| s.is_new()).count();
                    self.open(Stock::New(fresh));
                    let last = self.strips.len() - 1;
                    (last, self.best(last, gene)?)
                }
            };
            self.put(strip, gene, form, at);
        }
        let looks = self.looks;
        Some((self.into_lay(), looks))
    }

    /// Of many lengths the last two take what comes.
    fn first_open(&self) -> usize {
        let new = self.strips.iter().filter(|strip| strip.is_new()).count();
        if new > 2 { self.strips.len() - 2 } else { 0 }
    }

    /// Closes what lies well below the end of each strip.
    fn close(&mut self, is_hurried: bool) {
        let tallest = |put: &Put| put.bounds.high.y - put.bounds.low.y;
        for open in &mut self.strips {
            let Some(top) = open.placed.iter().map(|put| put.bounds.high.y).max() else { continue };
            let depth = open.placed.iter().map(tallest).max().unwrap_or(0);
            open.close_below(if is_hurried { top } else { top - depth });
        }
    }

    fn open(&mut self, stock: Stock) {
        let ground = Ground::of(self.instance, stock);
        let known = self.forms.list.iter().map(|f| f.iter().map(|_| Known::default()).collect());
        let mut open = Open {
            ground,
            placed: Vec::new(),
            settled: Vec::new(),
            floor: i64::MIN,
            lefts: Vec::new(),
            rights: Vec::new(),
            seen: Default::default(),
            known: known.collect(),
        };
        open.stop(open.ground.left, open.ground.right, 0);
        for pin in open.ground.pins {
            let form = self.forms.number(pin).unwrap_or(0);
            let bounds = self.forms.list[pin.item][form].bounds.moved(pin.at);
            let gene = Gene { item: pin.item, form: Some(form) };
            open.stop(bounds.high.x, bounds.low.x, bounds.low.y);
            open.placed.push(Put { gene, form, at: pin.at, bounds });
        }
        self.strips.push(open);
    }

    /// The lowest place for a part on one strip: its form and where its origin comes to lie.
    fn best(&mut self, strip: usize, gene: Gene) -> Option<(usize, Spot)> {
        let forms = match gene.form {
            Some(form) => form..form + 1,
            None => 0..self.forms.list[gene.item].len(),
        };
        let lowest = |(form, at): &(usize, Spot)| {
            let bounds = self.forms.list[gene.item][*form].bounds;
            (at.y + bounds.high.y, at.x + bounds.low.x)
        };
        let mut best: Option<(usize, Spot)> = None;
        for form in forms {
            let hold = self.hold(strip, gene.item);
            let lead = if self.instance.holds(gene.item) { self.lead } else { 0 };
            let open = &mut self.strips[strip];
            let mut known = std::mem::take(&mut open.known[gene.item][form]);
            let (found, looks) = open.lowest(
                &self.forms.list[gene.item][form],
                self.forms,
                &mut known,
                self.instance,
                (hold, lead),
            );
            open.known[gene.item][form] = known;
            self.looks += looks;
            if let Some(at) = found {
                let here = (form, at);
                if best.as_ref().is_none_or(|b| lowest(&here) < lowest(b)) {
                    best = Some(here);
                }
            }
        }
        best
    }

    /// What binds an item on a strip.
    fn hold(&self, strip: usize, item: usize) -> Hold<'a> {
        let ground = &self.strips[strip].ground;
        match ground.held(item) {
            Held::Free => Hold::Free,
            Held::Motif(motif) => Hold::Motif(motif),
            Held::Group(group) => match (self.groups[group], &self.forms.phases) {
                (Some(phase), _) => Hold::Motif(ground.motif.plus(phase)),
                (None, Ok(all)) => all[group].as_ref().map_or(Hold::Free, Hold::Phases),
                (None, Err(_)) => Hold::Free,
            },
        }
    }

    fn put(&mut self, strip: usize, gene: Gene, form: usize, at: Spot) {
        let shape = &self.forms.list[gene.item][form];
        let bounds = shape.bounds.moved(at);
        let open = &mut self.strips[strip];
        if let Held::Group(group) = open.ground.held(gene.item)
            && self.groups[group].is_none()
        {
            let (anchor, motif) = (at.plus(shape.anchor), open.ground.motif);
            self.groups[group] = Some(Spot::new(anchor.x - motif.x, anchor.y - motif.y));
            self.forget(group);
        }
        let open = &mut self.strips[strip];
        open.stop(bounds.high.x, bounds.low.x, bounds.low.y);
        open.placed.push(Put { gene, form, at, bounds });
    }

    /// Once a group's phase is set, places found while it was free no longer count.
    fn forget(&mut self, group: usize) {
        for (i, item) in self.instance.items.iter().enumerate() {
            if matches!(item.rule, Rule::Matched { group: g, .. } if g == group) {
                for open in &mut self.strips {
                    open.known[i].iter_mut().for_each(|known| *known = Known::default());
                }
            }
        }
    }

    fn into_lay(self) -> Lay {
        let mut copies = vec![0; self.forms.list.len()];
        let mut strips = Vec::new();
        for open in &self.strips {
            let mut puts: Vec<&Put> = open.settled.iter().chain(&open.placed).collect();
            puts.sort_by_key(|put| (put.bounds.low.y, put.bounds.low.x));
            let placements: Vec<Placement> = puts
                .iter()
                .map(|put| {
                    let item = put.gene.item;
                    copies[item] += 1;
                    let turn = self.forms.list[item][put.form].turn;
                    Placement { item, copy: copies[item] - 1, at: put.at, turn }
                })
                .collect();
            let top = puts.iter().map(|put| put.bounds.high.y).max();
            if let Some(top) = top {
                let stock = open.ground.stock;
                strips.push(Strip { stock, placements, length: Length::from_nm(top) });
            }
        }
        Lay { strips }
    }
}

impl Open<'_> {
    const fn is_new(&self) -> bool {
        matches!(self.ground.stock, Stock::New(_))
    }

    /// Nothing more is laid below; only what stands above is still touched.
    fn close_below(&mut self, floor: i64) {
        self.floor = floor;
        let (above, below) =
            std::mem::take(&mut self.placed).into_iter().partition(|put| put.bounds.high.y > floor);
        self.placed = above;
        let below: Vec<Put> = below;
        self.settled.extend(below);
        self.lefts.clear();
        self.rights.clear();
        self.seen = Default::default();
        self.stop(self.ground.left, self.ground.right, 0);
        for i in 0..self.placed.len() {
            let b = self.placed[i].bounds;
            self.stop(b.high.x, b.low.x, b.low.y);
        }
        self.known.iter_mut().flatten().for_each(|known| *known = Known::default());
    }

    fn stop(&mut self, left: i64, right: i64, y: i64) {
        let lower = |seen: &mut BTreeMap<i64, i64>, x: i64| {
            let known = seen.entry(x).or_insert(i64::MAX);
            let lower = y < *known;
            *known = y.min(*known);
            lower
        };
        if lower(&mut self.seen.0, left) {
            self.lefts.push((left, y));
        }
        if lower(&mut self.seen.1, right) {
            self.rights.push((right, y));
        }
    }

    fn lowest(
        &self,
        form: &Form,
        forms: &Forms,
        known: &mut Known,
        instance: &Instance,
        hold: (Hold, i64),
    ) -> (Option<Spot>, u64) {
        self.learn(form, known, instance, hold);
        let mut scratch = Vec::new();
        // Even where nothing lies yet a place costs something.
        let mut looks = 20;
        while let Some(Reverse((y, x, (phase, period)))) = known.heap.pop() {
            let steps = Steps { phase, period };
            let free = self.free(form, forms, x, steps, y, &mut scratch);
            // A slice costs about as much as ten looks, one of upright rectangles next to nothing.
            let (n, slices) = (self.placed.len() as u64, scratch.len() as u64);
            looks += if form.upright { n / 3 + slices + 3 } else { n + 10 * slices + 5 };
            let Some(free) = free else { continue };
            if free == y {
                known.heap.push(Reverse((y, x, (phase, period))));
                return (Some(Spot::new(x, y)), looks);
            }
            known.heap.push(Reverse((free, x, (phase, period))));
        }
        (None, looks)
    }

    /// Adds places that parts laid since the last time have made possible.
    fn learn(
        &self,
        form: &Form,
        known: &mut Known,
        instance: &Instance,
        (hold, lead): (Hold, i64),
    ) {
        let bounds = form.bounds;
        let (low, high) = self.ground.across(form);
        let lead = if self.is_new() { lead } else { 0 };
        let ground = lead.max(self.floor) - bounds.low.y;
        let repeat = instance.pattern.as_ref().and_then(|p| p.width).map_or(1, |w| w.nm());
        let mut add = |x: i64, from: i64, steps: Steps| {
            let in_phase = match hold {
                Hold::Phases(phases) => {
                    phase::allows(phases, x + form.anchor.x, self.ground.motif.x, repeat)
                }
                _ => true,
            };
            if low <= x && x <= high && in_phase {
                let y = steps.up(ground.max(from - bounds.high.y));
                known.heap.push(Reverse((y, x, (steps.phase, steps.period))));
            }
        };
        let mut steps = Steps::ANY;
        // A group without a phase yet may also take the first and last places its phases allow.
        if let (Hold::Phases(phases), false) = (hold, known.started) {
            known.started = true;
            for end in phases.iter().flat_map(|p| [p.0, p.1]) {
                let motif = Spot::new(self.ground.motif.x + end, self.ground.motif.y);
                if let Some(Places::Columns(columns)) = self.ground.places(form, Some(motif)) {
                    columns.into_iter().for_each(|(x, _)| add(x, 0, Steps::ANY));
                }
            }
        }
        if let Hold::Motif(motif) = hold {
            match self.ground.places(form, Some(motif)) {
                Some(Places::Columns(columns)) => {
                    if !known.started {
                        columns.into_iter().for_each(|(x, steps)| add(x, 0, steps));
                    }
                    known.started = true;
                    return;
                }
                Some(Places::Stretch(_, _, own)) => steps = own,
                None => return,
            }
        }
        if known.lefts == 0 {
            let face = Closed::concerns(form).1;
            for Closed { area } in self.ground.closed() {
                let from = area.low.y - face.high.y + bounds.high.y;
                add(area.high.x - face.low.x, from, steps);
                add(area.low.x - face.high.x, from, steps);
            }
        }
        // Below what it rests on a part would rest on something else.
        for &(left, from) in &self.lefts[known.lefts..] {
            add(left - bounds.low.x, from, steps);
        }
        for &(right, from) in &self.rights[known.rights..] {
            add(right - bounds.high.x, from, steps);
        }
        known.lefts = self.lefts.len();
        known.rights = self.rights.len();
    }

    /// The lowest allowed y from `from` at which the form at x meets nothing.
    fn free(
        &self,
        form: &Form,
        forms: &Forms,
        x: i64,
        steps: Steps,
        from: i64,
        scratch: &mut Vec<(i64, i64)>,
    ) -> Option<i64> {
        let (left, right) = (form.bounds.low.x + x, form.bounds.high.x + x);
        scratch.clear();
        for put in &self.placed {
            let apart = put.bounds.high.x <= left
                || right <= put.bounds.low.x
                || put.bounds.high.y <= from + form.bounds.low.y;
            if !apart {
                let other = &forms.list[put.gene.item][put.form];
                forms.forbidden(form, x, other, put.at, scratch);
            }
        }
        let face = Closed::concerns(form).1;
        for Closed { area } in self.ground.closed() {
            if face.low.x + x < area.high.x && area.low.x < face.high.x + x {
                scratch.push((area.low.y - face.high.y, area.high.y - face.low.y));
            }
        }
        scratch.sort_unstable();
        let mut y = steps.up(from);
        for &(low, high) in scratch.iter() {
            if low >= y {
                break;
            }
            if high > y {
                y = steps.up(high);
            }
        }
        let fits = self.ground.end.is_none_or(|limit| y + form.bounds.high.y <= limit);
        fits.then_some(y)
    }
}
