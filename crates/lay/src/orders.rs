//! Orders in which parts are placed: the first ones, and small changes to them.

use crate::form::Forms;
use crate::ground::{Ground, Held, Places};
use crate::place::{Gene, LARGE, Order, SECTION};
use crate::proof::splits;
use crate::{Instance, Limits};

/// Orders that often do well: by length, width, area, girth, each longest first; rows of like parts.
pub(crate) fn first_orders(forms: &Forms, instance: &Instance) -> Vec<Order> {
    let size = |item: usize| {
        let b = forms.list[item][0].bounds;
        let (w, h) = (b.width().nm(), b.height().nm());
        let least = forms.list[item].iter().map(|f| f.bounds.height().nm()).min().unwrap_or(h);
        let area = (forms.list[item][0].polygon.twice_area() / 1_000_000) as i64;
        // A fifth of a second with ten thousand parts: whole numbers only.
        [(h, w), (w, h), (area, h), (w + h, h), (w.max(h), w.min(h)), (least, area)]
    };
    // Large jobs get their first answer from fewer orders.
    let keys: &[usize] = if instance.copies() > 120 { &[0, 1] } else { &[0, 1, 2, 3, 4, 5] };
    keys.iter()
        .map(|&key| {
            let mut items: Vec<usize> = (0..forms.list.len()).collect();
            items.sort_by_key(|&item| (std::cmp::Reverse(size(item)[key]), item));
            // Of many parts each section has its share of all kinds, so that small ones fill gaps everywhere.
            let all = instance.copies();
            let sections = if all > LARGE { all.div_ceil(SECTION) } else { 1 };
            let genes = (0..sections).flat_map(|s| {
                let share = move |item: usize| {
                    let copies = instance.loose(item);
                    copies * (s + 1) / sections - copies * s / sections
                };
                let copies = move |&item: &usize| {
                    std::iter::repeat_n(Gene { item, form: None }, share(item))
                };
                items.iter().flat_map(copies)
            });
            Order { genes: genes.collect(), ..Order::default() }
        })
        .collect()
}

/// The same orders with what had best lie on hand first.
pub(crate) fn split_orders(
    instance: &Instance,
    forms: &Forms,
    orders: &[Order],
    limits: &Limits,
) -> Vec<Order> {
    let moved = |order: &Order, split: &[usize]| {
        let mut left = split.to_vec();
        let (first, rest): (Vec<Gene>, Vec<Gene>) = order.genes.iter().partition(|gene| {
            let some = left[gene.item] > 0;
            left[gene.item] -= usize::from(some);
            some
        });
        Order { genes: first.into_iter().chain(rest).collect(), ..order.clone() }
    };
    let splits = splits(instance, forms, limits);
    splits.iter().flat_map(|split| orders.iter().map(|order| moved(order, split))).collect()
}

/// One small change to an order's parts: two change places, one moves, some are reversed, one is turned.
pub(crate) fn reorder(forms: &Forms, order: &mut Vec<Gene>, random: &mut fastrand::Rng) {
    let n = order.len();
    let i = random.usize(0..n);
    // Of many parts only those of one section change places.
    let (low, high) = match n > LARGE {
        true => (i / SECTION * SECTION, n.min(i / SECTION * SECTION + SECTION)),
        false => (0, n),
    };
    match random.u32(0..10) {
        0..=3 => order.swap(i, random.usize(low..high)),
        4..=6 => {
            let gene = order.remove(i);
            order.insert(random.usize(low..high), gene);
        }
        7 => {
            let j = random.usize(low..high);
            order[i.min(j)..=i.max(j)].reverse();
        }
        _ => {
            let forms = forms.list[order[i].item].len();
            let choice = random.usize(0..=forms);
            order[i].form = (choice < forms).then_some(choice);
        }
    }
}

/// Where parts held to motifs may begin: from the cut end, and above each of the lowest rows that one
/// of them may take.
pub(crate) fn leads(instance: &Instance, forms: &Forms) -> Vec<i64> {
    let mut all = vec![0];
    let strip = Ground::new_cloth(instance);
    for item in 0..instance.items.len() {
        let Held::Motif(motif) = strip.held(item) else { continue };
        for form in &forms.list[item] {
            let rows = strip.places(form, Some(motif)).map_or(vec![], Places::stretches);
            let ground = -form.bounds.low.y;
            all.extend(rows.iter().map(|row| row.2.up(ground) - ground + 1));
        }
    }
    all.sort_unstable();
    all.dedup();
    // Where there are many, some of all heights.
    let apart = all.len().div_ceil(MOST_LEADS);
    all.into_iter().step_by(apart.max(1)).collect()
}

/// So many places to begin are tried.
const MOST_LEADS: usize = 8;
