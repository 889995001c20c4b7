//! Many parts: a load that can be laid again and again, and what is left over.
//!
//! A job of thousands of parts has many of each kind. As many loads as can be are alike: each is laid once,
//! with all the care that a small job gets, and stacked; the rest is divided again. So work grows with the
//! kinds and hardly with the parts.

use crate::bound::least;
use crate::place::LARGE;
use crate::place::{Order, Use};
use crate::search::{Answer, lay_again};
use crate::{Instance, Item, Lay, Limits, Placement, Progress, Rule, Stock, Strip};
use geometry::{Length, Spot};

/// Parts of a load: the more, the better small ones fill gaps; the fewer, the better loads fill a roll.
const LOADS: [usize; 3] = [60, 120, 200];

/// A load, how often it is laid, and its lay.
struct Load {
    counts: Vec<usize>,
    times: usize,
}

/// Whether a job is divided into loads.
///
/// Not where anything but the motifs tells one place along the cloth from another.
pub(crate) fn takes(instance: &Instance) -> bool {
    let is_matched =
        |item: &Item| instance.pattern.is_some() && matches!(item.rule, Rule::Matched { .. });
    instance.copies() > LARGE
        && instance.on_hand.is_empty()
        && instance.pins.is_empty()
        && instance.buying.flaws.is_empty()
        && !instance.items.iter().any(is_matched)
}

/// A lay of many parts; `Err` if they cannot be divided, or one fits no cloth.
pub(crate) fn laid(instance: &Instance, limits: &Limits) -> Result<Answer, usize> {
    // One load is the job itself.
    let is_divided = |loads: &Vec<Load>| !matches!(loads[..], [Load { times: 1, .. }]);
    let mut all = LOADS.map(|parts| divided(instance, parts)).into_iter().filter(is_divided);
    let loads = if instance.buying.roll.is_none() {
        all.next_back()
    } else {
        let quick = Limits { work: 0, closely: false, progress: &|_| {}, ..*limits };
        let purchase = |loads: &Vec<Load>| {
            let laid = lays(instance, loads, &quick).ok()?;
            Some(stacked(instance, loads, &laid)?.purchase(&instance.buying))
        };
        all.min_by_key(|loads| purchase(loads).map_or(i64::MAX, Length::nm))
    };
    let loads = loads.ok_or(0_usize)?;
    let laid = lays(instance, &loads, limits)?;
    let lay = stacked(instance, &loads, &laid).ok_or(0_usize)?;
    let bound = least(instance, false);
    let purchase = lay.purchase(&instance.buying);
    (limits.progress)(Progress {
        length: lay.new_length(),
        purchase,
        least: bound.length,
        done: 1.0,
    });
    let proven = purchase == instance.buying.purchase(bound.length);
    Ok(Answer { lay, bound, proven, order: Order::default(), which: Use::NewOnly })
}

/// Loads of about so many parts, most often laid first.
fn divided(instance: &Instance, parts: usize) -> Vec<Load> {
    let mut left: Vec<usize> = instance.items.iter().map(|item| item.count).collect();
    let mut loads = Vec::new();
    while left.iter().any(|&count| count > 0) {
        for kinds in groups(instance, &left, parts) {
            let load = load(&kinds, &left, parts);
            for (left, taken) in left.iter_mut().zip(&load.counts) {
                *left -= taken * load.times;
            }
            loads.push(load);
        }
    }
    loads
}

/// Kinds of which something is left, in groups that a load may hold, large and small ones in each.
fn groups(instance: &Instance, left: &[usize], parts: usize) -> Vec<Vec<usize>> {
    let mut kinds: Vec<usize> = (0..left.len()).filter(|&i| left[i] > 0).collect();
    kinds.sort_by_key(|&i| std::cmp::Reverse(instance.items[i].shape.twice_area()));
    let groups = kinds.len().div_ceil(parts);
    (0..groups).map(|g| kinds.iter().copied().skip(g).step_by(groups).collect()).collect()
}

/// A load of some kinds, as often as leaves the least over; all of them once, if that is few.
fn load(kinds: &[usize], left: &[usize], parts: usize) -> Load {
    let all: usize = kinds.iter().map(|&i| left[i]).sum();
    let covered = |times: usize| kinds.iter().map(|&i| left[i] / times * times).sum::<usize>();
    let most = (all / parts).max(1);
    let times = if all <= 2 * parts { 1..=1 } else { most.div_ceil(2)..=most };
    let times = times.max_by_key(|&times| covered(times)).unwrap_or(1);
    let mut counts = vec![0; left.len()];
    for &i in kinds {
        counts[i] = left[i] / times;
    }
    if counts.iter().all(|&count| count == 0) {
        kinds.iter().for_each(|&i| counts[i] = left[i]);
        return Load { counts, times: 1 };
    }
    Load { counts, times }
}

/// Each load laid, with its share of the work.
fn lays(instance: &Instance, loads: &[Load], limits: &Limits) -> Result<Vec<Lay>, usize> {
    let weight = |load: &Load| {
        let parts: usize = load.counts.iter().sum();
        // A load that is laid often deserves more.
        parts as f64 * (load.times as f64).sqrt()
    };
    let all: f64 = loads.iter().map(weight).sum();
    let lay = |load: &Load| {
        let (items, numbers): (Vec<Item>, Vec<usize>) = instance
            .items
            .iter()
            .enumerate()
            .filter(|(i, _)| load.counts[*i] > 0)
            .map(|(i, item)| (Item { count: load.counts[i], ..item.clone() }, i))
            .unzip();
        // What is left over of a load is no gain: it is as short as can be.
        let buying = crate::Buying { step: Length::from_nm(1), ..instance.buying.clone() };
        let question = Instance { items, buying, ..instance.clone() };
        let work = (limits.work as f64 * weight(load) / all) as u64;
        let share = Limits { work, closely: false, progress: &|_| {}, ..*limits };
        let mut lay = lay_again(&question, &share, &[]).map_err(|item| numbers[item])?.lay;
        for placement in lay.strips.iter_mut().flat_map(|strip| &mut strip.placements) {
            placement.item = numbers[placement.item];
        }
        Ok(lay)
    };
    loads.iter().map(lay).collect()
}

/// All loads one above another, on as few lengths as they come to; `None` if one of them needs more than a
/// length.
fn stacked(instance: &Instance, loads: &[Load], lays: &[Lay]) -> Option<Lay> {
    let profiles: Vec<Profile> = lays.iter().map(|lay| Profile::of(instance, lay)).collect();
    let room = instance.buying.roll.map(|roll| (roll - instance.buying.trim).nm());
    let repeat = instance.pattern.as_ref().and_then(|p| p.length).unwrap_or(Length::from_nm(1));
    let mut waiting: Vec<usize> =
        loads.iter().enumerate().flat_map(|(i, load)| std::iter::repeat_n(i, load.times)).collect();
    waiting.reverse();
    let mut copies = vec![0; instance.items.len()];
    let mut stack = Stack::default();
    while let Some(&next) = waiting.last() {
        // The next that fits on what is left of this length, or else the next on a new one.
        let fits = |&i: &usize| {
            let at = stack.clear_of(&profiles[i]).round_up(repeat);
            (room.is_none_or(|room| at.nm() + profiles[i].length <= room)).then_some(at)
        };
        let found = (0..waiting.len()).rev().find_map(|w| Some((w, fits(&waiting[w])?)));
        let (place, at) = match found {
            Some(found) => found,
            None if stack.is_empty() => return None,
            None => {
                stack.next();
                if room.is_some_and(|room| profiles[next].length > room) {
                    return None;
                }
                continue;
            }
        };
        let load = waiting.remove(place);
        let [strip] = &lays[load].strips[..] else { return None };
        stack.add(strip, &profiles[load], at, &mut copies);
    }
    stack.next();
    Some(Lay { strips: stack.strips })
}

/// How high a lay reaches and how low it begins, in columns across the cloth.
struct Profile {
    low: Vec<i64>,
    high: Vec<i64>,
    length: i64,
}

/// Columns across.
const COLUMNS: usize = 256;

impl Profile {
    fn of(instance: &Instance, lay: &Lay) -> Self {
        let (left, right) = (instance.buying.left.nm(), instance.buying.right.nm());
        let wide = (right - left).max(1);
        let mut profile =
            Self { low: vec![i64::MAX; COLUMNS], high: vec![i64::MIN; COLUMNS], length: 0 };
        let column = |x: i64| {
            let at = i128::from(x - left) * COLUMNS as i128 / i128::from(wide);
            at.clamp(0, COLUMNS as i128 - 1) as usize
        };
        for placement in lay.strips.iter().flat_map(|strip| &strip.placements) {
            let polygon = instance.items[placement.item].shape.turned(placement.turn);
            let points = polygon.points();
            for (i, a) in points.iter().enumerate() {
                let (a, b) = (a.plus(placement.at), points[(i + 1) % points.len()]);
                let b = b.plus(placement.at);
                let (from, to) = (a.x.min(b.x), a.x.max(b.x));
                // A side's height at both ends of each column that it crosses, no higher or lower than its ends.
                let height = |x: i64| {
                    let x = x.clamp(from, to);
                    if a.x == b.x {
                        return (a.y.min(b.y), a.y.max(b.y));
                    }
                    let rise = i128::from(b.y - a.y) * i128::from(x - a.x);
                    let y = a.y + rise.div_euclid(i128::from(b.x - a.x)) as i64;
                    (y - 1, y + 1)
                };
                for c in column(from)..=column(to) {
                    let edge =
                        |c: usize| left + (i128::from(wide) * c as i128 / COLUMNS as i128) as i64;
                    let ends = [height(edge(c) - 1), height(edge(c + 1) + 1)];
                    profile.low[c] = profile.low[c].min(ends[0].0.min(ends[1].0));
                    profile.high[c] = profile.high[c].max(ends[0].1.max(ends[1].1));
                }
            }
        }
        profile.length = lay.new_length().nm();
        profile
    }
}

/// Lengths of cloth filled so far.
#[derive(Default)]
struct Stack {
    strips: Vec<Strip>,
    here: Vec<Placement>,
    /// How high the present one is filled, in columns.
    high: Vec<i64>,
    length: i64,
}

impl Stack {
    fn is_empty(&self) -> bool {
        self.here.is_empty()
    }

    /// Where a lay may begin.
    fn clear_of(&self, profile: &Profile) -> Length {
        let apart = |(high, low): (&i64, &i64)| {
            if *high == i64::MIN || *low == i64::MAX { 0 } else { high - low }
        };
        let at = self.high.iter().zip(&profile.low).map(apart).max().unwrap_or(0);
        Length::from_nm(at.max(0))
    }

    fn add(&mut self, strip: &Strip, profile: &Profile, at: Length, copies: &mut [usize]) {
        self.here.extend(strip.placements.iter().map(|p| {
            copies[p.item] += 1;
            Placement { copy: copies[p.item] - 1, at: p.at.plus(Spot::new(0, at.nm())), ..*p }
        }));
        self.high.resize(COLUMNS, i64::MIN);
        for (high, own) in self.high.iter_mut().zip(&profile.high) {
            if *own != i64::MIN {
                *high = (*high).max(own + at.nm());
            }
        }
        self.length = self.length.max(at.nm() + profile.length);
    }

    /// Goes on to the next length.
    fn next(&mut self) {
        if !self.here.is_empty() {
            let stock = Stock::New(self.strips.len());
            let placements = std::mem::take(&mut self.here);
            self.strips.push(Strip { stock, placements, length: Length::from_nm(self.length) });
        }
        self.high.clear();
        self.length = 0;
    }
}
