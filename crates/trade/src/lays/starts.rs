//! Where the pattern starts on a length is not known when the cloth is ordered: what is bought must do
//! for every start.
//!
//! A lay for the start `p`, moved up the roll by `d`, is a lay for the start `p + d`: that much is cut off
//! first. So lays for a few starts do for all of them, and the worst start is the one just before the
//! next that is known. The start is the first motif's distance from the cut end; a repeat further on the
//! cloth is the same again.

use super::Before;
use crate::material::Cloth;
use crate::purse;
use geometry::{Length, Spot};
use lay::{Answer, Instance, Limits, Rule, Stock};

/// By how much every part may grow before what is bought does, by the lays that are needed for it.
pub(super) fn forgives(needed: &[(Instance, Answer)], limits: &Limits) -> Length {
    needed.iter().map(|(i, answer)| lay::forgives(i, answer, limits)).min().unwrap_or_default()
}

/// What was found of a cloth whose pattern may start anywhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Starts {
    /// To buy at the best start looked at.
    pub best: Length,
    /// To buy so that it is enough at every start: what is ordered.
    pub worst: Length,
}

/// A question answered for every start of the pattern.
pub(super) struct Laid {
    /// The question at the worst start.
    pub instance: Instance,
    /// Its lay.
    pub answer: Answer,
    /// `None` where the start makes no difference or is known.
    pub starts: Option<Starts>,
    /// Lays that all have to forgive that parts come out larger.
    pub forgiving: Vec<(Instance, Answer)>,
}

/// Starts added at a time: with a search, and for first lays.
const MOST: (usize, usize) = (7, 3);

/// A start that is tried again lies at most this many halvings from the worst place.
const NEAREST: u32 = 5;

/// Starts with a held part on the cut end that are looked at.
const MOST_NATURAL: usize = 8;

/// Starts no further apart than this part of a repeat are searched again, and no others put between.
const FINEST: i64 = 32;

/// Whether the start of a pattern matters to a question: something is held to motifs, or runs on from one
/// length to another.
pub(super) fn matters(instance: &Instance) -> Option<Length> {
    let repeat = instance.pattern.as_ref()?.length?;
    let held = |rule: &Rule| match rule {
        Rule::Free => false,
        Rule::Centred(_) => true,
        Rule::Matched { .. } => !instance.on_hand.is_empty() || instance.buying.roll.is_some(),
    };
    instance.items.iter().any(|item| held(&item.rule)).then_some(repeat)
}

/// Lays a cloth for its start as measured, or for every start.
pub(super) fn laid(
    cloth: &Cloth,
    asked: &Instance,
    limits: &Limits,
    before: &Before,
) -> Result<Laid, usize> {
    // Parts and flaws put where they are, from a cut end that lies on the table, belong to one start.
    let delivered = !asked.pins.is_empty() || !asked.buying.flaws.is_empty();
    match matters(asked) {
        Some(repeat) if !cloth.start_is_known() && !delivered => {
            AnyStart::of(asked, repeat, limits, before).laid()
        }
        _ => {
            let known: Vec<&Answer> = before.answers.iter().map(|known| &known.1).collect();
            let answer = lay::lay_again(asked, limits, &known)?;
            let forgiving = vec![(asked.clone(), answer.clone())];
            Ok(Laid { instance: asked.clone(), answer, starts: None, forgiving })
        }
    }
}

/// A lay that may begin at its start or anywhere later, up to a repeat.
struct Known {
    start: i64,
    instance: Instance,
    answer: Answer,
    length: Length,
}

impl Known {
    fn has_one_length(&self) -> bool {
        new_lengths(&self.answer) == 1
    }
}

fn new_lengths(answer: &Answer) -> usize {
    answer.lay.strips.iter().filter(|s| matches!(s.stock, Stock::New(_))).count()
}

/// A question whose pattern may start anywhere.
struct AnyStart<'a> {
    asked: Instance,
    repeat: Length,
    limits: &'a Limits<'a>,
    before: &'a Before<'a>,
}

impl<'a> AnyStart<'a> {
    fn of(asked: &Instance, repeat: Length, limits: &'a Limits, before: &'a Before) -> Self {
        let mut asked = asked.clone();
        // What is cut off must be on the roll too.
        asked.buying.roll = asked.buying.roll.map(|roll| roll - repeat);
        Self { asked, repeat, limits, before }
    }

    fn starting(&self, start: i64) -> Instance {
        let mut instance = self.asked.clone();
        if let Some(pattern) = &mut instance.pattern {
            pattern.origin.y = start.rem_euclid(self.repeat.nm());
        }
        instance
    }

    /// The best lay found for one start; a lay for another one, moved up, serves too.
    fn at(&self, start: i64, work: u64, other: Option<&Known>) -> Result<Known, usize> {
        let instance = self.starting(start);
        let moved = other.map(|other| {
            let mut answer = other.answer.clone();
            let by = (start - other.start).rem_euclid(self.repeat.nm());
            shift(&mut answer, Length::from_nm(by));
            answer
        });
        let known: Vec<&Answer> =
            self.before.answers.iter().map(|known| &known.1).chain(&moved).collect();
        // Of the worst start it is looked into closely what is needed: that holds for all of them.
        let limits = Limits { work, closely: false, ..*self.limits };
        let answer = lay::lay_again(&instance, &limits, &known)?;
        Ok(lowered(instance, answer))
    }

    /// Lays known before that serve one start each.
    fn known(&self) -> Vec<Known> {
        let serving = |(instance, answer): &&(Instance, Answer)| {
            let here = self.starting(instance.pattern.as_ref()?.origin.y);
            let mut found = answer.serving(&here, &answer.bound)?;
            // What was needed of another question says nothing of this one.
            found.bound = lay::least_length(&here);
            let known = lowered(here, found);
            known.has_one_length().then_some(known)
        };
        let mut all: Vec<Known> = self.before.answers.iter().filter_map(serving).collect();
        all.sort_by_key(|known| (known.start, known.length));
        all.dedup_by_key(|known| known.start);
        all
    }

    /// Starts at which some part that is held to motifs lies on the cut end: a lay moved down as far as it
    /// goes has one of them, unless a part lies there that is held to nothing.
    fn natural(&self) -> Vec<i64> {
        let staggered = self.asked.pattern.as_ref().is_some_and(lay::Pattern::staggered);
        let repeat = self.repeat.nm();
        let mut all = Vec::new();
        for item in &self.asked.items {
            let (Rule::Centred(anchor) | Rule::Matched { anchor, .. }) = item.rule else {
                continue;
            };
            for turn in &item.turns {
                let low = item.shape.turned(*turn).bounds().low.y;
                let start = (anchor.turned(*turn).y - low).rem_euclid(repeat);
                all.push(start);
                if staggered {
                    all.push((start + repeat / 2).rem_euclid(repeat));
                }
            }
        }
        all.sort_unstable();
        all.dedup();
        all.truncate(MOST_NATURAL);
        all
    }

    fn laid(&self) -> Result<Laid, usize> {
        let mut known = self.known();
        let each = self.limits.work / (MOST.0 as u64 + 1);
        let share = if known.is_empty() { purse::FIRST_START.of(self.limits.work) } else { each };
        let natural = self.natural();
        // The first tells whether it takes one length.
        let starts = if natural.is_empty() { vec![0] } else { natural };
        let share = share / starts.len() as u64;
        for (i, start) in starts.into_iter().enumerate() {
            let found = self.at(start, share, None)?;
            match new_lengths(&found.answer) {
                0 => {
                    let forgiving = vec![(found.instance.clone(), found.answer.clone())];
                    let Known { instance, answer, .. } = found;
                    return Ok(Laid { instance, answer, starts: None, forgiving });
                }
                1 => known.push(found),
                _ if i == 0 => return Ok(each_by_a_repeat(found, self.repeat)),
                _ => {}
            }
        }
        let more = if self.limits.work > 0 { MOST.0 } else { MOST.1 };
        let mut least = self.before.least();
        for known in &known {
            least = least.max(known.answer.bound.length);
        }
        let buying = &self.asked.buying;
        let (mut last, mut nearer) = (None, 1_u32);
        for _ in 0..more {
            let (at, gap) = worst(&known, self.repeat);
            // What was found halfway may, moved down, be what was known: then nearer to the worst place.
            let here = Some((known[at].start, gap));
            nearer = if here == last { (nearer + 1).min(NEAREST) } else { 1 };
            last = here;
            let is_least = buying.purchase(known[at].length + gap) <= buying.purchase(least);
            if is_least || (self.limits.stop)() {
                break;
            }
            let fine = gap.nm() <= self.repeat.nm() / FINEST;
            let on = gap.nm() - (gap.nm() >> nearer);
            let next = known[at].start + if fine { 0 } else { on };
            let next = self.at(next, each, Some(&known[at]))?;
            if !next.has_one_length() {
                break;
            }
            least = least.max(next.answer.bound.length);
            known.push(next);
        }
        let mut laid = for_every_start(&known, self.repeat, least, self.limits);
        let before = self.before.same.and_then(|lay| lay.starts.as_ref());
        if let (Some(starts), Some(before)) = (&mut laid.starts, before) {
            starts.best = starts.best.min(before.best);
        }
        Ok(laid)
    }
}

/// The lay moved down to the cut end, as far as its lowest part allows, with its start.
fn lowered(mut instance: Instance, mut answer: Answer) -> Known {
    let lowest = |instance: &Instance, answer: &Answer| {
        let new = answer.lay.strips.iter().filter(|s| matches!(s.stock, Stock::New(_)));
        let low = new
            .flat_map(|strip| &strip.placements)
            .map(|p| instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at).low.y);
        low.min().unwrap_or(0)
    };
    let low = lowest(&instance, &answer);
    shift(&mut answer, Length::from_nm(-low));
    let mut start = 0;
    if let Some(pattern) = &mut instance.pattern {
        pattern.origin.y -= low;
        start = pattern.origin.y;
    }
    let length = answer.lay.new_length();
    Known { start, instance, answer, length }
}

fn shift(answer: &mut Answer, by: Length) {
    let new = answer.lay.strips.iter_mut().filter(|s| matches!(s.stock, Stock::New(_)));
    for strip in new {
        strip.length += by;
        for placement in &mut strip.placements {
            placement.at = placement.at.plus(Spot::new(0, by.nm()));
        }
    }
}

/// For the place just before each known start the lay that serves it with least cloth, and how far that
/// lay is moved up for it.
fn serving(known: &[Known], repeat: Length) -> Vec<(usize, Length)> {
    let on = |from: &Known, to: &Known| match (to.start - from.start).rem_euclid(repeat.nm()) {
        0 => repeat,
        on => Length::from_nm(on),
    };
    let best = |to: &Known| {
        let all = known.iter().map(|from| on(from, to)).enumerate();
        all.min_by_key(|&(from, on)| known[from].length + on)
    };
    known.iter().filter_map(best).collect()
}

/// The place before a start that takes most.
fn worst(known: &[Known], repeat: Length) -> (usize, Length) {
    let all = serving(known, repeat).into_iter();
    all.max_by_key(|&(lay, on)| known[lay].length + on).unwrap_or((0, repeat))
}

fn for_every_start(known: &[Known], repeat: Length, least: Length, limits: &Limits) -> Laid {
    let (at, gap) = worst(known, repeat);
    // Just before the next start that is known.
    let on = gap - Length::from_nm(1);
    let (mut instance, mut answer) = (known[at].instance.clone(), known[at].answer.clone());
    shift(&mut answer, on);
    if let Some(pattern) = &mut instance.pattern {
        pattern.origin.y = (pattern.origin.y + on.nm()).rem_euclid(repeat.nm());
    }
    let buying = &instance.buying;
    let bought = |known: &Known| buying.purchase(known.length);
    let best = known.iter().map(bought).min().unwrap_or_default();
    let worst = answer.lay.purchase(buying);
    let mut bound = lay::least_length(&instance);
    if bound.length < least {
        bound = known
            .iter()
            .map(|k| k.answer.bound.clone())
            .max_by_key(|bound| bound.length)
            .unwrap_or(bound);
    }
    if buying.purchase(bound.length) < worst
        && limits.work > 0
        && limits.closely
        && let Some(raised) = lay::no_less(&instance, worst, limits)
    {
        bound = raised;
    }
    answer.proven = buying.purchase(bound.length) == worst;
    answer.bound = bound;
    let forgiving = serving(known, repeat).into_iter().map(|(lay, on)| {
        let mut instance = known[lay].instance.clone();
        instance.buying.trim += on;
        (instance, known[lay].answer.clone())
    });
    let forgiving = forgiving.collect();
    Laid { instance, answer, starts: Some(Starts { best, worst }), forgiving }
}

/// Several lengths start anywhere, each for itself: a whole repeat more of each.
fn each_by_a_repeat(known: Known, repeat: Length) -> Laid {
    let Known { instance, mut answer, .. } = known;
    let best = answer.lay.purchase(&instance.buying);
    let before = answer.clone();
    shift(&mut answer, repeat);
    let worst = answer.lay.purchase(&instance.buying);
    answer.proven = worst == instance.buying.purchase(answer.bound.length);
    let mut longer = instance.clone();
    longer.buying.trim += repeat;
    Laid {
        instance,
        answer,
        starts: Some(Starts { best, worst }),
        forgiving: vec![(longer, before)],
    }
}
