//! The customer's own cloth: whether everything comes out of it, and if not, by how little it fails, what
//! whole pieces it gives, and what must be had besides.
//!
//! A piece half covered is of no use, so that pieces are taken whole: all parts of it from this cloth
//! lie on what is there, or none. Common practice, no source.
//!
//! More work never gives fewer parts: what first lays find stands, and each further trial is taken only if
//! it gives as much.

use super::starts::{self, Laid};
use crate::job::Job;
use crate::material::Cloth;
use crate::part::{Developed, LaidPart};
use geometry::Length;
use lay::{Answer, Buying, Instance, Lay, Limits, Stock};

/// What the customer's own cloth gives.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnCloth {
    /// Parts that lie on it.
    pub laid: usize,
    /// Parts asked for.
    pub asked: usize,
    /// Pieces cut from it: name, how many come whole from it, of how many.
    pub pieces: Vec<(String, usize, usize)>,
    /// By how much its longest length would have to be longer to hold everything, as far as was found;
    /// zero if there is enough.
    pub short: Length,
    /// It is certain that not everything comes out of it.
    pub surely_short: bool,
    /// More cloth needed for the others; zero if there is enough.
    pub missing: Length,
    /// More cloth needed if one piece may be cut from both, where that is less.
    pub missing_at_least: Length,
    /// Parts of which one alone in another cloth would let everything else come out of it, those that show
    /// least first: tag, and name with its piece.
    pub elsewhere: Vec<(String, String)>,
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

/// The work of the first trial of whether everything fits; each next one has twice as much.
const FIRST_TRIAL: u64 = 5_000_000;

/// Lays the customer's own cloth.
pub(super) fn laid(
    job: &Job,
    developed: &[Developed],
    cloth: &Cloth,
    parts: &[LaidPart],
    asked: &Instance,
    limits: &Limits,
) -> Result<(Laid, OwnCloth), usize> {
    let own = Own { job, developed, parts, asked, limits };
    // What has no place at all is told first.
    let topped_up = starts::laid(cloth, asked, &Limits { work: 0, ..*limits })?;
    let counts: Vec<usize> = asked.items.iter().map(|item| item.count).collect();
    let trials = trials(limits.work);
    let whole = own.on_hand(&counts, &trials);
    let (whole, fails) = whole.unwrap_or_default();
    if let Some(lay) = whole {
        let mut answer = topped_up.answer;
        (answer.lay, answer.proven) = (lay, true);
        return Ok((kept(asked, answer), own.given(None, Length::ZERO)));
    }
    let topped_up = match limits.work {
        0 => topped_up,
        // As good as the first lays at least.
        work => {
            let better = starts::laid(cloth, asked, &Limits { work: work / 4, ..*limits })?;
            if bought(&better) < bought(&topped_up) { better } else { topped_up }
        }
    };
    let at_least = bought(&topped_up);
    let mut best = own.divided(cloth, &[0])?;
    if limits.work > 0 {
        let more = own.divided(cloth, &[0, FIRST_TRIAL.min(limits.work / 40)])?;
        if more.merit(&own) >= best.merit(&own) {
            best = more;
        }
    }
    let none = best.taken.iter().all(|taken| *taken == 0);
    let (laid, taken) = if none { (topped_up, best.taken) } else { (best.laid, best.taken) };
    let mut given = own.given(Some(&taken), bought(&laid));
    given.laid = on_hand_parts(&laid.answer.lay);
    given.short = fails.short;
    given.surely_short = fails.surely;
    given.missing_at_least = at_least.min(given.missing);
    given.elsewhere = own.elsewhere(&counts);
    Ok((laid, given))
}

/// Works of the trials of whether everything fits, none first.
fn trials(work: u64) -> Vec<u64> {
    let mut all = vec![0];
    let (mut next, mut left) = (FIRST_TRIAL, work / 2);
    while left > 0 {
        all.push(next.min(left));
        left -= next.min(left);
        next *= 2;
    }
    all
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

/// By how much everything fails to fit.
#[derive(Clone, Copy, Debug, Default)]
struct Fails {
    short: Length,
    surely: bool,
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
    /// So many copies of each item on what is there: the lay, or by how much it fails; `None` if there is
    /// nothing to lay or no length.
    fn on_hand(&self, counts: &[usize], trials: &[u64]) -> Option<(Option<Lay>, Fails)> {
        let divided = self.asked.some(counts);
        let hand = &divided.instance.on_hand;
        let longest =
            (0..hand.len()).max_by_key(|&i| (hand[i].length, hand[i].right - hand[i].left))?;
        let question = as_if_bought(&divided.instance, longest);
        let length = hand[longest].length;
        let mut least = lay::least_length(&question).length;
        let mut found: Option<Length> = None;
        for (turn, &work) in trials.iter().enumerate() {
            if least > length && found.is_some() || (turn > 0 && (self.limits.stop)()) {
                break;
            }
            let seed = self.limits.seed.wrapping_add(turn as u64);
            let Ok(answer) = lay::lay(&question, &Limits { work, seed, ..*self.limits }) else {
                break;
            };
            least = least.max(answer.bound.length);
            let used = answer.lay.new_length();
            found = Some(found.map_or(used, |before| before.min(used)));
            if used <= length {
                let lay = back(&divided.items, longest, answer.lay);
                return Some((Some(lay), Fails::default()));
            }
        }
        let short = found.map_or(Length::ZERO, |used| used - length);
        Some((None, Fails { short, surely: least > length }))
    }

    fn fits(&self, counts: &[usize], trials: &[u64]) -> Option<Lay> {
        self.on_hand(counts, trials)?.0
    }

    /// Whole pieces first, the most wanted and of those the smallest first.
    fn divided(&self, cloth: &Cloth, trials: &[u64]) -> Result<Division, usize> {
        let units = self.units();
        let mut counts = vec![0; self.parts.len()];
        let mut taken = vec![0; self.developed.len()];
        let mut laid_parts = Vec::new();
        let mut first: Option<Lay> = None;
        for unit in &units {
            for _ in 0..unit.count {
                let mut more = counts.clone();
                unit.items.iter().for_each(|&(item, n)| more[item] += n);
                let Some(lay) = self.fits(&more, trials) else { break };
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
        let work = if trials.len() > 1 { self.limits.work / 4 } else { 0 };
        let limits = Limits { work, ..*self.limits };
        let more = starts::laid(cloth, &second.instance, &limits)
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
            surely_short: false,
            missing,
            missing_at_least: missing,
            elsewhere: Vec::new(),
        }
    }

    /// Parts of which one alone in another cloth lets all else come out of what is there.
    fn elsewhere(&self, counts: &[usize]) -> Vec<(String, String)> {
        let shows = |i: usize| {
            let part = &self.parts[i].part;
            // Underneath, behind or in a seam: by what the trade calls them.
            let hidden =
                ["zip strip", "bottom panel", "back panel", "outside", "dust cover", "underlay"];
            u8::from(!hidden.iter().any(|word| part.name.starts_with(word)))
        };
        let area = |i: usize| self.asked.items[i].shape.area_mm2() * counts[i] as f64;
        let mut order: Vec<usize> = (0..self.parts.len()).collect();
        order.sort_by(|&a, &b| shows(a).cmp(&shows(b)).then(area(a).total_cmp(&area(b))));
        let enough = |&i: &usize| {
            let mut fewer = counts.to_vec();
            fewer[i] = 0;
            self.fits(&fewer, &[0]).is_some()
        };
        let found = order.into_iter().filter(enough).take(MOST_ELSEWHERE);
        found
            .map(|i| {
                let laid = &self.parts[i];
                let label = &self.developed[laid.developed].label;
                (laid.part.id.clone(), format!("{} of {label}", laid.part.name))
            })
            .collect()
    }
}

/// So many parts that another cloth could spare are named.
const MOST_ELSEWHERE: usize = 3;

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
    /// Pieces it is not enough for, in words.
    pub fn left_over(&self) -> Vec<String> {
        self.pieces
            .iter()
            .filter(|(_, given, count)| given < count)
            .map(|(name, given, count)| {
                if *count == 1 {
                    name.clone()
                } else {
                    format!("{} of {count} {name}", count - given)
                }
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
