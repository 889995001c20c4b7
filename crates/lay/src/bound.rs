//! The least length that any lay must use, and why.
//!
//! All bounds look at slices: at a height y a part takes a width of the cloth, and the widths taken
//! at one height never add up to more than the usable width. A dual feasible function changes those
//! widths without breaking that, so the changed areas over the width bound the length too. Parts
//! that cannot lie abreast must follow one another, and patterned ones in whole repeats.

mod slices;

use self::slices::{Slices, covered};
use crate::follow::{self, Core};
use crate::form::Form;
use crate::ground::Ground;
use crate::stacked::stacked;
use crate::{Instance, Item, Rule};
use geometry::Length;
use rayon::prelude::*;

/// A valid lower bound.
#[derive(Clone, Debug, PartialEq)]
pub struct Bound {
    /// No lay uses less new cloth.
    pub length: Length,
    /// What decides it.
    pub reason: Reason,
}

/// What decides a bound.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// All parts together cover this much.
    Area,
    /// One part alone is as long.
    Longest {
        /// Which item.
        item: usize,
    },
    /// Wide parts leave too little beside them (a dual feasible function).
    Widths,
    /// Some lie alone across the cloth, others at most so many abreast; they follow one another.
    Abreast {
        /// Items that lie alone.
        alone: Vec<usize>,
        /// Items that lie side by side.
        beside: Vec<usize>,
        /// How many of `beside` fit abreast.
        abreast: usize,
        /// Whether whole repeats between them lengthened it.
        repeats: bool,
    },
    /// These take more than half the width each and follow one another, however closely they nest.
    Follow {
        /// Which items.
        items: Vec<usize>,
    },
    /// However these lie beside and above one another, they end there.
    Beside {
        /// Which items.
        items: Vec<usize>,
    },
    /// What is to stay where it is ends there.
    Kept,
    /// What is on hand takes everything.
    OnHand,
    /// They would not fit in less if they might be cut into columns, or into rows.
    Columns,
    /// Every lay that would be shorter has been tried.
    Tried,
    /// Asked another way, with other items, less may do.
    Otherwise,
}

/// The least length of new cloth that any lay of the instance uses.
///
/// Cloth on hand counts against it with its whole length; then only area and widths bound, as
/// parts may be spread over several strips.
pub fn least_length(instance: &Instance) -> Bound {
    least(instance, true)
}

/// The same; without `closely` only what takes next to no time is looked at.
pub(crate) fn least(instance: &Instance, closely: bool) -> Bound {
    let strips_left = instance.on_hand.iter().map(|s| s.left).chain([instance.buying.left]).min();
    let strips_right =
        instance.on_hand.iter().map(|s| s.right).chain([instance.buying.right]).max();
    let width = match (strips_left, strips_right) {
        (Some(left), Some(right)) => (right - left).nm() as f64,
        _ => return Bound { length: Length::ZERO, reason: Reason::OnHand },
    };
    // Forms as narrow as the cloth, cut into slices: worked out once for all bounds.
    let forms: Vec<Vec<Form>> = instance
        .items
        .par_iter()
        .map(|item| {
            let mut forms = Form::all(item, 0, None);
            forms.retain(|form| form.bounds.width().nm() as f64 <= width);
            forms
        })
        .collect();
    let slices: Vec<Vec<Slices>> =
        forms.par_iter().map(|list| list.iter().map(Slices::of).collect()).collect();
    let on_hand: i64 = instance.on_hand.iter().map(|s| s.length.nm()).sum();
    let mut best = area(instance, width);
    let consider = |bound: Bound, best: &mut Bound| {
        if bound.length > best.length {
            *best = bound;
        }
    };
    consider(longest(&slices), &mut best);
    for bound in widths(&instance.items, &slices, width) {
        consider(bound, &mut best);
    }
    for bound in abreast(instance, &forms, &slices, width) {
        consider(bound, &mut best);
    }
    let cores = || -> Vec<Vec<Core>> {
        forms.iter().zip(&slices).map(|(forms, slices)| lone(forms, slices, width)).collect()
    };
    if closely && let Some((length, items)) = follow::least(instance, &cores()) {
        consider(Bound { length, reason: Reason::Follow { items } }, &mut best);
    }
    if let Some(stacked) = stacked(instance, best.length) {
        best.length = stacked;
    }
    if on_hand > 0 {
        best.length = (best.length - Length::from_nm(on_hand)).max(Length::ZERO);
        if best.length == Length::ZERO {
            best.reason = Reason::OnHand;
        }
    }
    // Cloth on hand does not help where parts are to stay on what is bought.
    let tops = instance
        .pins
        .iter()
        .map(|pin| instance.items[pin.item].shape.turned(pin.turn).bounds().moved(pin.at).high.y);
    let kept = Length::from_nm(tops.max().unwrap_or(0));
    consider(Bound { length: kept, reason: Reason::Kept }, &mut best);
    best
}

/// The cores of an item's forms, if it takes more than half the width in each.
fn lone<'a>(forms: &'a [Form], slices: &[Slices], width: f64) -> Vec<Core<'a>> {
    let core = |(form, slices): (&'a Form, &Slices)| {
        let (length, start) = slices.core(width / 2.0, false);
        let from = form.bounds.low.y + start.ceil() as i64;
        let to = form.bounds.low.y + (start + length).floor() as i64;
        (from < to).then_some(Core { form, from, to })
    };
    let all: Option<Vec<Core>> = forms.iter().zip(slices).map(core).collect();
    all.unwrap_or_default()
}

/// Total area over the width, rounded up: exact.
fn area(instance: &Instance, width: f64) -> Bound {
    let twice: i128 = instance.items.iter().map(|i| i.shape.twice_area() * i.count as i128).sum();
    let across = 2 * (width as i128).max(1);
    let nm = (twice + across - 1).div_euclid(across);
    Bound { length: Length::from_nm(nm as i64), reason: Reason::Area }
}

fn longest(slices: &[Vec<Slices>]) -> Bound {
    let of = |forms: &Vec<Slices>| forms.iter().map(|s| s.height).min().unwrap_or(0);
    let item = (0..slices.len()).max_by_key(|&i| of(&slices[i])).unwrap_or(0);
    let length = slices.get(item).map_or(0, of);
    Bound { length: Length::from_nm(length), reason: Reason::Longest { item } }
}

/// A bound in nanometres rounded up, after taking off what `f64` sums may have gained.
fn whole(nm: f64) -> Length {
    Length::from_nm((nm - 1e-2).ceil().max(0.0) as i64)
}

/// Widths worth trying as parameters of the functions: those of parts and what they leave.
fn parameters(slices: &[Vec<Slices>], width: f64) -> Vec<f64> {
    let all = slices.iter().flatten().flat_map(|s| s.bands.iter().map(|band| band.1));
    let mut found: Vec<f64> =
        all.flat_map(|w| [w, width - w]).filter(|&w| w > 0.0 && 2.0 * w <= width).collect();
    found.push(width / 2.0);
    found.sort_by(f64::total_cmp);
    found.dedup();
    // Plenty for any real job; an even choice when curves bring hundreds.
    const MOST: usize = 120;
    if found.len() > MOST {
        let n = found.len();
        found = (0..MOST).map(|i| found[i * (n - 1) / (MOST - 1)]).collect();
    }
    found
}

/// Bounds from dual feasible functions: for any widths that add up to at most `W`, the changed
/// widths do too.
///
/// Source: Fekete and Schepers, "New classes of fast lower bounds for bin packing problems",
/// Mathematical Programming 91 (2001): `u(k)` and the two-threshold function; Carlier, Clautiaux
/// and Moukrim, "New reduction procedures and lower bounds for the two-dimensional bin packing
/// problem with fixed orientation", Computers and Operations Research 34 (2007): the stepped one.
fn widths(items: &[Item], slices: &[Vec<Slices>], width: f64) -> Vec<Bound> {
    let total = |change: &dyn Fn(f64) -> f64| {
        let nm: f64 = items
            .iter()
            .zip(slices)
            .map(|(item, forms)| {
                let least = forms
                    .iter()
                    .map(|s| s.bands.iter().map(|&(h, w)| h * change(w)).sum::<f64>())
                    .fold(f64::INFINITY, f64::min);
                item.count as f64 * if least.is_finite() { least } else { 0.0 }
            })
            .sum();
        Bound { length: whole(nm), reason: Reason::Widths }
    };
    let mut found = Vec::new();
    for k in 1..=8 {
        let k = f64::from(k);
        found.push(total(&|w| {
            let share = w * (k + 1.0) / width;
            if (share - share.round()).abs() < 1e-12 { w / width } else { share.floor() / k }
        }));
    }
    for l in parameters(slices, width) {
        found.push(total(&|w| {
            if w > width - l {
                1.0
            } else if w >= l {
                w / width
            } else {
                0.0
            }
        }));
        let most = (width / l + 1e-12).floor();
        let steps = |w: f64| (w / l + 1e-12).floor() / most;
        found.push(total(&|w| {
            if 2.0 * w > width {
                1.0 - ((width - w) / l + 1e-12).floor() / most
            } else if 2.0 * w == width {
                0.5
            } else {
                steps(w)
            }
        }));
    }
    found
}

/// Bounds from parts that cannot lie side by side.
///
/// Take a width `l` of at most half the cloth. Parts wider than `W - l` (alone) have no part of
/// width `l` or more beside them; of the others at least `l` wide, at most `k` lie abreast. At every
/// height there is one of the first or at most `k` of the second, and intervals of which at most
/// `k` overlap can be sorted into `k` rows without overlap (interval graphs are perfect), so some
/// row holds the total below: the usual bound for jobs on `k` machines. Parts locked to one motif
/// lattice follow one another in whole repeats.
///
/// Source: Gilmore and Hoffman 1964 (interval graphs); for jobs on machines: of the `k q + 1`
/// longest, some machine has `q + 1`. The rest derived here.
fn abreast(
    instance: &Instance,
    forms: &[Vec<Form>],
    slices: &[Vec<Slices>],
    width: f64,
) -> Vec<Bound> {
    let mut found = Vec::new();
    for l in parameters(slices, width) {
        let mut alone = Vec::new();
        let mut beside = Vec::new();
        let mut narrowest = f64::INFINITY;
        for (i, cuts) in slices.iter().enumerate() {
            if cuts.is_empty() {
                continue;
            }
            let cores = |least: f64, or_equal: bool| {
                cuts.iter().map(move |s| s.core(least, or_equal).0).fold(f64::INFINITY, f64::min)
            };
            let (lone, wide) = (cores(width - l, false), cores(l, true));
            if lone > 0.0 {
                alone.push((i, lone));
            } else if wide > 0.0 {
                beside.push((i, wide));
                let widths = cuts.iter().flat_map(|s| &s.bands).map(|band| band.1);
                narrowest = narrowest.min(widths.filter(|&w| w >= l).fold(f64::INFINITY, f64::min));
            }
        }
        let k =
            if narrowest.is_finite() { (width / narrowest + 1e-12).floor() as usize } else { 1 };
        let core = |i: usize, form: usize| {
            let lone = alone.iter().any(|part| part.0 == i);
            slices[i][form].core(if lone { width - l } else { l }, !lone)
        };
        let k = columns(instance, forms, &beside, core).map_or(k, |columns| k.min(columns.max(1)));
        if alone.is_empty() && beside.is_empty() {
            continue;
        }
        let plain = follow(instance, &alone, &beside, k, |_, length| length);
        found.push(reasoned(plain, &alone, &beside, k, false));
        if let Some(pitch) = pitches(instance, forms, alone.iter().chain(&beside), core) {
            let slack = alone
                .iter()
                .chain(&beside)
                .map(|&(i, length)| pitch(i, length) - length)
                .fold(0.0, f64::max);
            let first = first_start(instance, forms, alone.iter().chain(&beside));
            let locked = first + follow(instance, &alone, &beside, k, pitch) - slack;
            // Past a roll the next length starts on a motif of its own.
            let roll = instance.buying.roll.map_or(f64::INFINITY, |roll| roll.nm() as f64);
            let locked = locked.min(roll.max(plain));
            found.push(reasoned(locked, &alone, &beside, k, true));
        }
    }
    found
}

/// What the places of an item are counted from.
#[derive(Clone, Copy, PartialEq)]
enum Lattice {
    Motifs,
    Group(usize),
}

/// The one lattice that all these items are locked to.
fn common_lattice<'a>(
    instance: &Instance,
    items: impl Iterator<Item = &'a (usize, f64)>,
) -> Option<Lattice> {
    let mut common = None;
    for &(i, _) in items {
        let own = match instance.items[i].rule {
            Rule::Free => return None,
            Rule::Centred(_) => Lattice::Motifs,
            Rule::Matched { group, .. } => Lattice::Group(group),
        };
        if *common.get_or_insert(own) != own {
            return None;
        }
    }
    common
}

/// How many items can lie abreast that are all locked to one lattice across the cloth and cover
/// something about their anchors: each takes a column of motifs, and the next is so many further on
/// that they are clear of one another.
fn columns(
    instance: &Instance,
    forms: &[Vec<Form>],
    items: &[(usize, f64)],
    core: impl Fn(usize, usize) -> (f64, f64),
) -> Option<usize> {
    let pattern = instance.pattern.as_ref()?;
    let repeat = pattern.width?.nm();
    if !instance.on_hand.is_empty() || items.is_empty() {
        return None;
    }
    let ground = Ground::new_cloth(instance);
    let (mut low, mut high) = (i64::MAX, i64::MIN);
    // What every part covers about its anchor.
    let (mut from, mut to) = (i64::MIN, i64::MAX);
    let lattice = common_lattice(instance, items.iter())?;
    for &(i, _) in items {
        for (f, form) in forms[i].iter().enumerate() {
            let (play, anchor) = (ground.across(form), form.anchor.x);
            low = low.min(play.0 + anchor);
            high = high.max(play.1 + anchor);
            let (length, start) = core(i, f);
            let covered = covered(form, start, length)?;
            from = from.max(covered.0 - anchor);
            to = to.min(covered.1 - anchor);
        }
    }
    if from >= to || high < low {
        return None;
    }
    // Neighbours must be so many columns apart.
    let apart = (to - from + repeat - 1) / repeat;
    let count = if lattice == Lattice::Motifs {
        let motif = ground.motif.x;
        (high - motif).div_euclid(repeat) - (low - 1 - motif).div_euclid(repeat)
    } else {
        (high - low) / repeat + 1
    };
    usize::try_from((count - 1).div_euclid(apart) + 1).ok()
}

fn reasoned(
    nm: f64,
    alone: &[(usize, f64)],
    beside: &[(usize, f64)],
    abreast: usize,
    repeats: bool,
) -> Bound {
    let names = |parts: &[(usize, f64)]| parts.iter().map(|part| part.0).collect();
    let reason = Reason::Abreast { alone: names(alone), beside: names(beside), abreast, repeats };
    Bound { length: whole(nm), reason }
}

/// Total of the lone parts, and the fullest of `k` rows of the others.
fn follow(
    instance: &Instance,
    alone: &[(usize, f64)],
    beside: &[(usize, f64)],
    k: usize,
    length: impl Fn(usize, f64) -> f64,
) -> f64 {
    let count = |i: usize| instance.items[i].count;
    let lone: f64 = alone.iter().map(|&(i, core)| count(i) as f64 * length(i, core)).sum();
    let jobs: usize = beside.iter().map(|&(i, _)| count(i)).sum();
    if jobs > MOST_JOBS {
        let all: f64 = beside.iter().map(|&(i, core)| count(i) as f64 * length(i, core)).sum();
        return lone + all / k as f64;
    }
    let jobs: Vec<f64> = beside
        .iter()
        .flat_map(|&(i, core)| std::iter::repeat_n(length(i, core), count(i)))
        .collect();
    lone + fullest(jobs, k)
}

/// The least that the fullest of `k` rows holds; exact for one or two, unless there are too many totals.
fn fullest(mut jobs: Vec<f64>, k: usize) -> f64 {
    jobs.sort_by(|a, b| b.total_cmp(a));
    let all: f64 = jobs.iter().sum();
    let mut fullest = all / k as f64;
    let mut q = 0;
    while k * q < jobs.len() {
        // The q + 1 shortest among the k q + 1 longest.
        fullest = fullest.max(jobs[k * q - q..=k * q].iter().sum());
        q += 1;
    }
    if k != 2 {
        return fullest;
    }
    // Of two rows the emptier holds at most half.
    let mut totals = vec![0.0];
    for job in jobs {
        let with = totals.iter().map(|total| total + job).filter(|&total| total <= all / 2.0 + 1.0);
        let mut next: Vec<f64> = with.chain(totals.iter().copied()).collect();
        next.sort_by(f64::total_cmp);
        // Nearer than a nanometre is the same; the greater is the safer.
        next.dedup_by(|a, b| {
            *a - *b < 1.0 && {
                *b = *a;
                true
            }
        });
        if next.len() > MOST_TOTALS {
            return fullest;
        }
        totals = next;
    }
    fullest.max(all - totals.last().copied().unwrap_or(0.0))
}

/// Of more parts the longest hardly count.
const MOST_JOBS: usize = 5000;

/// Totals that are told apart.
const MOST_TOTALS: usize = 1000;

/// Where the lowest of some centred parts may start: the first motif may lie further up.
fn first_start<'a>(
    instance: &Instance,
    forms: &[Vec<Form>],
    parts: impl Iterator<Item = &'a (usize, f64)>,
) -> f64 {
    let Some(pattern) = &instance.pattern else { return 0.0 };
    let Some(length) = pattern.length else { return 0.0 };
    let half = if pattern.staggered() { length.nm() / 2 } else { length.nm() };
    let start = |&(i, _): &(usize, f64)| {
        let item = &instance.items[i];
        let centred = matches!(item.rule, Rule::Centred(_));
        let of_form =
            |form: &Form| (pattern.origin.y + form.bounds.low.y - form.anchor.y).rem_euclid(half);
        if centred { forms[i].iter().map(of_form).min().unwrap_or(0) } else { 0 }
    };
    parts.map(start).min().unwrap_or(0) as f64
}

/// From an item to the least distance between the start of its core and that of whatever locked part
/// follows; `None` unless all are locked to one lattice along the roll.
///
/// `core` gives length and start of what a form keeps to itself. Each may lie in any of its turns.
fn pitches<'a>(
    instance: &'a Instance,
    forms: &[Vec<Form>],
    parts: impl Iterator<Item = &'a (usize, f64)> + Clone,
    core: impl Fn(usize, usize) -> (f64, f64),
) -> Option<impl Fn(usize, f64) -> f64> {
    let pattern = instance.pattern.as_ref()?;
    let period = pattern.length?.nm();
    if !instance.on_hand.is_empty() {
        return None;
    }
    let half = if pattern.staggered() { period / 2 } else { period };
    common_lattice(instance, parts.clone())?;
    // For each item and turn: length of the core, and where it starts in the half period.
    let mut cores: Vec<(usize, i64, i64)> = Vec::new();
    for &(i, _) in parts {
        for (f, form) in forms[i].iter().enumerate() {
            let (length, start) = core(i, f);
            // Rounded inwards: a core a nanometre shorter is a core too.
            let (length, start) = (length.floor() as i64 - 1, start.ceil() as i64);
            cores.push((i, length, (form.bounds.low.y + start - form.anchor.y).rem_euclid(half)));
        }
    }
    Some(move |i: usize, least: f64| {
        let own = cores.iter().filter(|core| core.0 == i);
        let next = own.flat_map(|&(_, length, phase)| {
            cores.iter().map(move |&(.., other)| length + (other - phase - length).rem_euclid(half))
        });
        (next.min().unwrap_or(0) as f64).max(least)
    })
}
