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
    fn renamed(&self, bound: &Bound) -> Bound {
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

/// The lay of both parts of a divided question; what the second needs is the least for the whole, as
/// it was divided.
pub fn together(first: (&Divided, &Answer), second: (&Divided, &Answer)) -> Answer {
    let most = first.0.items.iter().chain(&second.0.items).max().map_or(0, |i| i + 1);
    let mut copies = vec![0; most];
    let mut lay = Lay::default();
    for (divided, answer) in [first, second] {
        for strip in &answer.lay.strips {
            let mut strip = strip.clone();
            for placement in &mut strip.placements {
                placement.item = divided.items[placement.item];
                placement.copy = copies[placement.item];
                copies[placement.item] += 1;
            }
            lay.strips.push(strip);
        }
    }
    let (divided, answer) = second;
    Answer { lay, bound: divided.renamed(&answer.bound), order: Order::default(), ..answer.clone() }
}
