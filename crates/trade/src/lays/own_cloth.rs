//! The customer's own cloth: whether everything comes out of it, and if not, by how little it fails, what
//! whole pieces it gives, and what must be had besides.
//!
//! A piece half covered is of no use, so that pieces are taken whole: all parts of it from this cloth
//! lie on what is there, or none. Common practice, no source.
//!
//! What first lays find stands: each further course is taken only if it gives as many whole pieces.

use super::Before;
use super::starts::{self, Laid};
use crate::job::Job;
use crate::material::Cloth;
use crate::message::{Message, message};
use crate::part::{Developed, LaidPart};
use crate::purse;
use geometry::{Length, Spot};
use lay::{Answer, Buying, Instance, Lay, Limits, Placement, Stock, Strip};

/// What the customer's own cloth gives.
#[derive(Clone, Debug)]
pub struct OwnCloth {
    /// Parts that lie on it.
    pub laid: usize,
    /// Parts asked for.
    pub asked: usize,
    /// Pieces cut from it: name, how many come whole from it, of how many.
    pub pieces: Vec<(String, usize, usize)>,
    /// With so much more in its longest length it holds everything; zero if it does.
    pub short: Length,
    /// So much more is needed however everything is laid; zero if that is not known.
    pub short_at_least: Length,
    /// More cloth needed for the others; zero if there is enough.
    pub missing: Length,
    /// More cloth needed if one piece may be cut from both, where that is less.
    pub missing_at_least: Length,
    /// What comes whole out of it by how much its pieces are wanted, the most wanted first: parts, and then
    /// everything together.
    pub(crate) merit: Vec<usize>,
    /// The shortest lay of everything on its longest length, as if that were as long as it need be, and what
    /// no lay of it can beat.
    pub(crate) everything: Option<Answer>,
    /// The lay of everything on it and on as much more as that takes.
    topped_up: Option<(Instance, Answer)>,
    /// Parts of which one alone in another cloth would let everything else come out of it, those that show
    /// least first: tag, and name with its piece.
    pub elsewhere: Vec<(String, Message)>,
}

/// A job's parts by whole pieces.
struct Unit {
    developed: usize,
    /// How many whole pieces.
    count: usize,
    /// Pieces that come of one.
    pieces: usize,
    /// Items of the lay with their copies for one.
    items: Vec<(usize, usize)>,
    /// Cloth for one, to compare.
    area: f64,
}

/// By how much own cloth fails is looked for in steps of a centimetre.
const FINE: Length = Length::from_nm(10_000_000);

/// Lays the customer's own cloth.
pub(super) fn laid(
    job: &Job,
    developed: &[Developed],
    cloth: &Cloth,
    parts: &[LaidPart],
    asked: &Instance,
    (limits, before): (&Limits, &Before),
) -> Result<(Laid, OwnCloth), usize> {
    let own = Own { job, developed, parts, asked, limits };
    let counts: Vec<usize> = asked.items.iter().map(|item| item.count).collect();
    // What has no place at all is told first.
    let topped_up = own.topped_up(cloth, purse::OWN_CLOTH.of(limits.work), before)?;
    if bought(&topped_up) == Length::ZERO {
        let mut answer = topped_up.answer;
        answer.proven = true;
        return Ok((kept(asked, answer), own.given(None, Length::ZERO)));
    }
    let in_one = own.in_one(&topped_up, &counts);
    let everything = own.on_hand(&counts, limits.work, before, in_one.as_ref());
    if let Some(lay) = everything.as_ref().and_then(|on_hand| on_hand.lay.clone()) {
        let mut answer = topped_up.answer;
        (answer.lay, answer.proven) = (lay, true);
        return Ok((kept(asked, answer), own.given(None, Length::ZERO)));
    }
    let best = own.divided(cloth, 0, before)?;
    let best = match limits.work {
        0 => best,
        work => {
            let more = own.divided(cloth, purse::OWN_CLOTH.of(work), before)?;
            if more.merit(&own) >= best.merit(&own) { more } else { best }
        }
    };
    if bought(&best.laid) == Length::ZERO {
        // Piece by piece everything has found its place after all.
        return Ok((best.laid, own.given(None, Length::ZERO)));
    }
    let none = best.taken.iter().all(|taken| *taken == 0);
    let merit = best.merit(&own);
    let at_least = bought(&topped_up);
    let remembered = (topped_up.instance.clone(), topped_up.answer.clone());
    let (laid, taken) = if none { (topped_up, best.taken) } else { (best.laid, best.taken) };
    let mut given = own.given(Some(&taken), bought(&laid));
    given.laid = on_hand_parts(&laid.answer.lay);
    given.merit = merit;
    if let Some(mut on_hand) = everything {
        // The whole pieces and the rest are a lay of everything too, and may be the shorter one.
        own.learn(&mut on_hand, own.in_one(&laid, &counts), &counts);
        (given.short, given.short_at_least) = (on_hand.short, on_hand.short_at_least);
        given.everything = on_hand.found;
    }
    given.topped_up = Some(remembered);
    given.missing_at_least = at_least.min(given.missing);
    given.elsewhere = own.elsewhere(&counts);
    Ok((laid, given))
}

fn kept(asked: &Instance, answer: Answer) -> Laid {
    let forgiving = vec![(asked.clone(), answer.clone())];
    Laid { instance: asked.clone(), answer, starts: None, forgiving }
}

fn bought(laid: &Laid) -> Length {
    laid.answer.lay.purchase(&laid.instance.buying)
}

fn on_hand_parts(lay: &Lay) -> usize {
    let here = lay.strips.iter().filter(|strip| matches!(strip.stock, Stock::OnHand(_)));
    here.map(|strip| strip.placements.len()).sum()
}

/// What was found of some parts on what is on hand.
struct OnHand {
    /// The lay, if there is room.
    lay: Option<Lay>,
    /// By how much the longest length is too short as the parts were laid, and at least.
    short: Length,
    short_at_least: Length,
    /// The shortest lay as if it were as long as it need be.
    found: Option<Answer>,
}

/// The question of what is on hand.
struct Own<'a> {
    job: &'a Job,
    developed: &'a [Developed],
    parts: &'a [LaidPart],
    asked: &'a Instance,
    limits: &'a Limits<'a>,
}

/// Whole pieces from what is there, the rest from more.
struct Division {
    laid: Laid,
    /// How many pieces of each developed one.
    taken: Vec<usize>,
    /// Parts of pieces that come whole from it.
    parts: Vec<(usize, usize)>,
}

impl Division {
    /// Parts laid by how much their pieces are wanted, the most wanted first.
    fn merit(&self, own: &Own) -> Vec<usize> {
        let wanted = |d: usize| own.job.pieces[own.developed[d].piece].priority;
        let mut levels: Vec<usize> = (0..own.developed.len()).map(wanted).collect();
        levels.sort_unstable();
        levels.dedup();
        let at = |level: usize| {
            self.parts.iter().filter(|(d, _)| wanted(*d) == level).map(|(_, n)| n).sum()
        };
        levels.into_iter().map(at).collect()
    }
}

impl Own<'_> {
    /// Everything on what is there and on as much more as that takes, as good as the first lays at least.
    fn topped_up(&self, cloth: &Cloth, work: u64, before: &Before) -> Result<Laid, usize> {
        let known = before.own_cloths.iter().filter_map(|own| own.topped_up.as_ref());
        let before = Before { answers: known.collect(), ..Before::default() };
        starts::laid(cloth, self.asked, &Limits { work, ..*self.limits }, &before)
    }

    /// What lies on what is there and on more, as if the more were the end of the longest length.
    fn in_one(&self, topped_up: &Laid, counts: &[usize]) -> Option<Answer> {
        let divided = self.asked.some(counts);
        let longest = longest(&divided.instance)?;
        let length = divided.instance.on_hand[longest].length;
        let mut lay = Lay::default();
        let mut one = Strip { stock: Stock::New(0), placements: Vec::new(), length };
        for strip in &topped_up.answer.lay.strips {
            let up = match strip.stock {
                Stock::OnHand(i) if i == longest => Length::ZERO,
                Stock::OnHand(i) => {
                    let stock = Stock::OnHand(i - usize::from(i > longest));
                    lay.strips.push(Strip { stock, ..strip.clone() });
                    continue;
                }
                Stock::New(_) => one.length,
            };
            for placement in &strip.placements {
                let at = placement.at.plus(Spot::new(0, up.nm()));
                one.placements.push(Placement { at, ..*placement });
            }
            if up > Length::ZERO {
                one.length += strip.length;
            }
        }
        lay.strips.push(one);
        let mut answer = topped_up.answer.clone();
        answer.lay = lay;
        Some(answer)
    }

    /// Takes a lay of everything as if in one length, where that is shorter than what was found.
    fn learn(&self, on_hand: &mut OnHand, in_one: Option<Answer>, counts: &[usize]) {
        let instance = self.asked.some(counts).instance;
        let (Some(longest), Some(in_one)) = (longest(&instance), in_one) else { return };
        let length = instance.on_hand[longest].length;
        let mut question = as_if_bought(&instance, longest);
        question.buying.step = FINE;
        let limits = Limits { work: 0, ..*self.limits };
        let Ok(answer) = lay::lay_again(&question, &limits, &[&in_one]) else { return };
        let used = answer.lay.new_length();
        if used > length && used - length < on_hand.short {
            on_hand.short = used - length;
            on_hand.found = Some(answer);
        }
    }

    /// So many copies of each item on what is there; `None` if there is nothing to lay or no length.
    fn on_hand(
        &self,
        counts: &[usize],
        work: u64,
        before: &Before,
        in_one: Option<&Answer>,
    ) -> Option<OnHand> {
        let divided = self.asked.some(counts);
        let hand = &divided.instance.on_hand;
        let longest = longest(&divided.instance)?;
        let mut question = as_if_bought(&divided.instance, longest);
        let length = hand[longest].length;
        let limits = Limits { work, ..*self.limits };
        let found = before.own_cloths.iter().filter_map(|own| own.everything.as_ref());
        let known: Vec<&Answer> = found.chain(in_one).collect();
        let mut answer = lay::lay_again(&question, &limits, &known).ok()?;
        if let Some(in_one) = in_one
            && answer.lay.new_length() > length
        {
            // It does not hold everything: by how little it fails is looked for in finer steps.
            question.buying.step = FINE;
            let known = [&answer, in_one];
            let finer = lay::lay_again(&question, &limits, &known).ok()?;
            let bound = answer.bound.clone();
            answer = if finer.lay.new_length() < answer.lay.new_length() { finer } else { answer };
            if bound.length > answer.bound.length {
                answer.bound = bound;
            }
        }
        let used = answer.lay.new_length();
        let same = before.same.and_then(|lay| lay.own.as_ref());
        let before = same.map_or(Length::ZERO, |own| own.short_at_least);
        Some(OnHand {
            lay: (used <= length).then(|| back(&divided.items, longest, answer.lay.clone())),
            short: used - length,
            short_at_least: (answer.bound.length - length).max(before),
            found: Some(answer),
        })
    }

    fn fits(&self, counts: &[usize], work: u64) -> Option<Lay> {
        self.on_hand(counts, work, &Before::default(), None)?.lay
    }

    /// Whole pieces first, the most wanted and of those the smallest first; `work` is for all together.
    fn divided(&self, cloth: &Cloth, work: u64, before: &Before) -> Result<Division, usize> {
        let units = self.units();
        let pieces: usize = units.iter().map(|unit| unit.count).sum();
        let each =
            if work == 0 { 0 } else { (work / pieces.max(1) as u64).max(purse::LEAST_PIECE) };
        let mut counts = vec![0; self.parts.len()];
        let mut taken = vec![0; self.developed.len()];
        let mut laid_parts = Vec::new();
        let mut first: Option<Lay> = None;
        for unit in &units {
            for _ in 0..unit.count {
                let mut more = counts.clone();
                unit.items.iter().for_each(|&(item, n)| more[item] += n);
                let found = self.fits(&more, 0).or_else(|| match each {
                    0 => None,
                    each => self.fits(&more, each),
                });
                let Some(lay) = found else { break };
                first = Some(lay);
                counts = more;
                taken[unit.developed] += unit.pieces;
                let parts: usize = unit.items.iter().map(|item| item.1).sum();
                laid_parts.push((unit.developed, parts));
            }
        }
        let items = self.asked.items.iter().zip(&counts);
        let rest: Vec<usize> = items.map(|(item, taken)| item.count - taken).collect();
        let mut second = self.asked.some(&rest);
        second.instance.on_hand.clear();
        let limits = Limits { work, ..*self.limits };
        let before = Before { answers: before.answers.clone(), ..Before::default() };
        let more = starts::laid(cloth, &second.instance, &limits, &before)
            .map_err(|item| second.items.get(item).copied().unwrap_or(0))?;
        let instance = Instance { pattern: more.instance.pattern.clone(), ..self.asked.clone() };
        let answer = lay::with_first(first.unwrap_or_default(), (&second, &more.answer));
        let laid = Laid { starts: more.starts, ..kept(&instance, answer) };
        Ok(Division { laid, taken, parts: laid_parts })
    }

    fn units(&self) -> Vec<Unit> {
        let mut units: Vec<Unit> =
            (0..self.developed.len()).flat_map(|d| self.units_of(d)).collect();
        units.sort_by(|a, b| {
            let wanted = |u: &Unit| self.job.pieces[self.developed[u.developed].piece].priority;
            wanted(a).cmp(&wanted(b)).then(a.area.total_cmp(&b.area))
        });
        units
    }

    /// The pieces of one line: each for itself, left and right ones apart; all together where something is
    /// cut for all of them.
    fn units_of(&self, d: usize) -> Vec<Unit> {
        let count = self.developed[d].count;
        let own: Vec<(usize, &LaidPart)> =
            self.parts.iter().enumerate().filter(|(_, laid)| laid.developed == d).collect();
        if own.is_empty() || count == 0 {
            return Vec::new();
        }
        let hands = |hand| own.iter().filter(|(_, l)| l.part.hand == hand).copied().collect();
        let (left, right): (Vec<_>, Vec<_>) = (hands(Some("left")), hands(Some("right")));
        let paired = left.len() + right.len() == own.len() && !left.is_empty() && !right.is_empty();
        // A pair inside one piece, arms for instance, is no pair of pieces.
        let apart = paired && left.iter().chain(&right).all(|(_, l)| l.part.count * 2 == count);
        if apart {
            return [left, right]
                .into_iter()
                .map(|half| self.unit(d, half, count / 2, 1))
                .collect();
        }
        match own.iter().all(|(_, laid)| laid.part.count % count == 0) {
            true => vec![self.unit(d, own, count, 1)],
            false => vec![self.unit(d, own, 1, count)],
        }
    }

    fn unit(&self, d: usize, own: Vec<(usize, &LaidPart)>, count: usize, pieces: usize) -> Unit {
        let items: Vec<(usize, usize)> =
            own.into_iter().map(|(item, laid)| (item, laid.part.count / count)).collect();
        let area =
            items.iter().map(|&(item, n)| self.asked.items[item].shape.area_mm2() * n as f64);
        Unit { developed: d, count, pieces, area: area.sum(), items }
    }

    /// What the cloth gives; `taken` is how many of each piece, if not all.
    fn given(&self, taken: Option<&[usize]>, missing: Length) -> OwnCloth {
        let from_it = |d: usize| self.parts.iter().any(|laid| laid.developed == d);
        let pieces = (0..self.developed.len()).filter(|&d| from_it(d)).map(|d| {
            let count = self.developed[d].count;
            let given = taken.map_or(count, |taken| taken[d].min(count));
            (self.developed[d].label.clone(), given, count)
        });
        let asked = self.parts.iter().map(|p| p.part.count).sum();
        OwnCloth {
            laid: asked,
            asked,
            pieces: pieces.collect(),
            short: Length::ZERO,
            short_at_least: Length::ZERO,
            missing,
            missing_at_least: missing,
            merit: if taken.is_none() { vec![usize::MAX] } else { Vec::new() },
            everything: None,
            topped_up: None,
            elsewhere: Vec::new(),
        }
    }

    /// Parts of which one alone in another cloth lets all else come out of what is there.
    fn elsewhere(&self, counts: &[usize]) -> Vec<(String, Message)> {
        let shows = |i: usize| {
            let part = &self.parts[i].part;
            // Underneath, behind or in a seam; a cut of a chair by what the trade calls it.
            let is_hidden = HIDDEN.iter().any(|id| part.name.is(id))
                || part.name.as_typed().is_some_and(|name| name.starts_with("outside"));
            u8::from(!is_hidden)
        };
        let area = |i: usize| self.asked.items[i].shape.area_mm2() * counts[i] as f64;
        let mut order: Vec<usize> = (0..self.parts.len()).collect();
        order.sort_by(|&a, &b| shows(a).cmp(&shows(b)).then(area(a).total_cmp(&area(b))));
        let enough = |&i: &usize| {
            let mut fewer = counts.to_vec();
            fewer[i] = 0;
            self.fits(&fewer, 0).is_some()
        };
        let found = order.into_iter().filter(enough).take(MOST_ELSEWHERE);
        found
            .map(|i| {
                let laid = &self.parts[i];
                let label = &self.developed[laid.developed].label;
                let of = message("part-of").said("part", laid.part.name.clone());
                (laid.part.id.clone(), of.text("piece", label))
            })
            .collect()
    }
}

/// Parts that do not show.
const HIDDEN: [&str; 8] = [
    "part-zip-strip-half",
    "part-zip-strip-half-lower",
    "part-zip-strip-half-upper",
    "part-bottom-panel",
    "part-back-panel",
    "part-wing-outside",
    "part-dust-cover",
    "part-corner-underlay",
];

/// So many parts that another cloth could spare are named.
const MOST_ELSEWHERE: usize = 3;

/// The longest length on hand, the widest of several.
fn longest(instance: &Instance) -> Option<usize> {
    let hand = &instance.on_hand;
    (0..hand.len()).max_by_key(|&i| (hand[i].length, hand[i].right - hand[i].left))
}

/// The question in which one length on hand is as long as it need be: what it takes tells by how much the
/// true one is too short.
fn as_if_bought(instance: &Instance, longest: usize) -> Instance {
    let mut instance = instance.clone();
    let hand = instance.on_hand.remove(longest);
    if let Some(pattern) = &mut instance.pattern {
        pattern.origin = hand.origin.unwrap_or(pattern.origin);
    }
    instance.buying = Buying {
        left: hand.left,
        right: hand.right,
        roll: None,
        trim: Length::ZERO,
        // A step as long as the cloth: all lays that fit are alike, and the search ends with the first.
        step: hand.length.max(Length::from_nm(1)),
        flaws: hand.flaws,
    };
    instance
}

/// The lay of such a question on the lengths as they are.
fn back(items: &[usize], longest: usize, mut lay: Lay) -> Lay {
    for strip in &mut lay.strips {
        strip.stock = match strip.stock {
            Stock::New(_) => Stock::OnHand(longest),
            Stock::OnHand(i) if i >= longest => Stock::OnHand(i + 1),
            here => here,
        };
        for placement in &mut strip.placements {
            placement.item = items[placement.item];
        }
    }
    lay
}

impl OwnCloth {
    /// What a further search has found that gives no more pieces.
    pub(super) fn learn(&mut self, more: Self) {
        if self.is_enough() {
            return;
        }
        self.short =
            if self.short > Length::ZERO { self.short.min(more.short) } else { more.short };
        self.short_at_least = self.short_at_least.max(more.short_at_least);
        self.missing_at_least = self.missing_at_least.min(more.missing_at_least);
        self.everything = more.everything;
        self.topped_up = more.topped_up;
    }

    /// Laid the other way it may fail by less: what holds whichever way it is laid.
    pub(super) fn or_otherwise(&mut self, other: &Self) {
        if self.is_enough() {
            return;
        }
        if self.short == Length::ZERO || other.short == Length::ZERO {
            self.short = self.short.max(other.short);
        } else {
            self.short = self.short.min(other.short);
        }
        self.short_at_least = self.short_at_least.min(other.short_at_least);
        self.missing_at_least = self.missing_at_least.min(other.missing_at_least);
    }

    /// Pieces it is not enough for.
    pub fn left_over(&self) -> Vec<Message> {
        self.pieces
            .iter()
            .filter(|(_, given, count)| given < count)
            .map(|(name, given, count)| {
                if *count == 1 {
                    return Message::typed(name);
                }
                let left = message("pieces-of").count("left", count - given).count("of", *count);
                left.text("piece", name)
            })
            .collect()
    }

    /// How many whole pieces come out of it, of how many.
    pub fn whole(&self) -> (usize, usize) {
        let given = self.pieces.iter().map(|p| p.1).sum();
        (given, self.pieces.iter().map(|p| p.2).sum())
    }

    /// Whether everything comes out of it.
    pub fn is_enough(&self) -> bool {
        self.missing == Length::ZERO
    }
}
