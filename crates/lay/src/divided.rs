//! A question divided: some parts on what is on hand, the rest on new cloth.

use crate::place::Order;
use crate::{Answer, Bound, Instance, Lay, Reason};

/// A question about some of another's items.
#[derive(Clone, Debug)]
pub struct Divided {
    /// The smaller question.
    pub instance: Instance,
    /// For each of its items, which of the whole it is.
    pub items: Vec<usize>,
}

impl Instance {
    /// So many copies of each item; items of which there are none are left out.
    pub fn some(&self, counts: &[usize]) -> Divided {
        let items: Vec<usize> = (0..self.items.len()).filter(|&i| counts[i] > 0).collect();
        let mut instance = self.clone();
        instance.items = items
            .iter()
            .map(|&i| crate::Item { count: counts[i], ..self.items[i].clone() })
            .collect();
        Divided { instance, items }
    }
}

impl Divided {
    /// A bound of the smaller question in the words of the whole.
    pub fn whole(&self, bound: &Bound) -> Bound {
        let names = |items: &[usize]| items.iter().map(|&i| self.items[i]).collect();
        let reason = match &bound.reason {
            Reason::Longest { item } => Reason::Longest { item: self.items[*item] },
            Reason::Abreast { alone, beside, abreast, repeats } => Reason::Abreast {
                alone: names(alone),
                beside: names(beside),
                abreast: *abreast,
                repeats: *repeats,
            },
            Reason::Follow { items } => Reason::Follow { items: names(items) },
            Reason::Beside { items } => Reason::Beside { items: names(items) },
            other => other.clone(),
        };
        Bound { length: bound.length, reason }
    }
}

/// The lay of both parts of a divided question: what lies on hand, in the numbers of the whole, and the
/// answer for the rest; what that needs is the least for the whole, as it was divided.
pub fn with_first(first: Lay, (rest, answer): (&Divided, &Answer)) -> Answer {
    let mut lay = first;
    for strip in &answer.lay.strips {
        let mut strip = strip.clone();
        strip.placements.iter_mut().for_each(|p| p.item = rest.items[p.item]);
        lay.strips.push(strip);
    }
    let most = lay.strips.iter().flat_map(|s| &s.placements).map(|p| p.item + 1).max();
    let mut copies = vec![0; most.unwrap_or(0)];
    for placement in lay.strips.iter_mut().flat_map(|strip| &mut strip.placements) {
        placement.copy = copies[placement.item];
        copies[placement.item] += 1;
    }
    Answer { lay, bound: rest.whole(&answer.bound), order: Order::default(), ..answer.clone() }
}
