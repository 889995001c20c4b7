//! Many parts, laid in loads again and again, or in a hurry once time is up.

use crate::shared::{cloth, mm, rectangle};
use geometry::{Length, Polygon, Spot};
use lay::{Drop, Instance, Item, Limits, Pattern, Rule, Stock};

const MM: i64 = 1_000_000;

/// A part with a bay, in two turns.
fn hook(w: i64, h: i64, count: usize) -> Item {
    let spot = |x: i64, y: i64| Spot::new(x * MM, y * MM);
    let points =
        vec![spot(0, 0), spot(w, 0), spot(w, h), spot(w - 40, h), spot(w - 60, 50), spot(0, 50)];
    let turns = vec![0.0, 180.0];
    Item { shape: Polygon::new(points), turns, ..rectangle("hook", mm(1.0), mm(1.0), count) }
}

/// Counts that no load divides evenly.
fn many() -> Instance {
    let mut items: Vec<Item> = (0..9_i32)
        .map(|i| {
            let (w, h) = (f64::from(150 + 57 * i), f64::from(420 - 31 * i));
            rectangle("panel", mm(w), mm(h), 60 + 37 * (i as usize % 4))
        })
        .collect();
    items.extend([hook(300, 260, 101), hook(220, 190, 77)]);
    cloth(mm(1370.0), items)
}

#[test]
fn a_thousand_parts_all_lie_on_the_cloth_and_none_on_another() {
    let instance = many();
    assert!(instance.copies() > 1000);
    let answer = lay::lay(&instance, &Limits::work(1, 3_000_000)).unwrap();
    assert_eq!(lay::verify(&instance, &answer.lay), []);
    let least = answer.bound.length.mm();
    let length = answer.lay.new_length().mm();
    assert!(least <= length && length < 1.3 * least, "{length} of {least}");
}

#[test]
fn no_length_is_longer_than_a_roll() {
    let mut instance = many();
    instance.buying.roll = Some(mm(20_000.0));
    instance.buying.trim = mm(100.0);
    let answer = lay::lay(&instance, &Limits::work(1, 1_000_000)).unwrap();
    assert_eq!(lay::verify(&instance, &answer.lay), []);
    assert!(answer.lay.strips.len() > 2);
    let longest = answer.lay.strips.iter().map(|strip| strip.length).max().unwrap();
    assert!(longest <= mm(19_900.0), "{longest:?}");
}

#[test]
fn loads_begin_on_a_motif() {
    let mut instance = many();
    instance.pattern = Some(Pattern {
        length: Some(mm(90.0)),
        width: Some(mm(60.0)),
        drop: Drop::Half,
        origin: Spot::new(20 * MM, 30 * MM),
    });
    for item in instance.items.iter_mut().step_by(2) {
        item.rule = Rule::Centred(Spot::new(70 * MM, 60 * MM));
    }
    let answer = lay::lay(&instance, &Limits::quick(1)).unwrap();
    assert_eq!(lay::verify(&instance, &answer.lay), []);
}

#[test]
fn what_was_known_before_is_never_bought_more_than() {
    let instance = many();
    let better = lay::lay(&instance, &Limits::work(1, 20_000_000)).unwrap();
    let again = lay::lay_again(&instance, &Limits::quick(2), &[&better]).unwrap();
    let bought = |answer: &lay::Answer| answer.lay.purchase(&instance.buying);
    assert!(bought(&again) <= bought(&better));
}

#[test]
fn in_a_hurry_all_parts_are_laid_too() {
    let mut instance = many();
    // A length on hand keeps the job from being divided into loads.
    instance.on_hand.push(lay::OnHand {
        name: "remnant".into(),
        left: Length::ZERO,
        right: mm(1370.0),
        length: mm(3000.0),
        flaws: vec![],
        origin: None,
    });
    let limits = Limits { stop: &|| true, ..Limits::work(1, 1 << 40) };
    let answer = lay::lay(&instance, &limits).unwrap();
    assert_eq!(lay::verify(&instance, &answer.lay), []);
    assert!(answer.lay.strips.iter().any(|strip| matches!(strip.stock, Stock::New(_))));
}
