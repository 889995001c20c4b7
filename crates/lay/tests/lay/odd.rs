//! Odd questions: a clear refusal or a right answer, never a hang, a panic or a part dropped.

use crate::shared::{cloth, laid, mm, rectangle};
use geometry::{Length, Rect, Spot};
use lay::{Drop, Instance, Item, Limits, OnHand, Pattern, Rule, Stock};

const MM: i64 = 1_000_000;

fn patterned(length: f64, width: Option<f64>, origin: (i64, i64), rule: Rule) -> Instance {
    let item = Item { rule, ..rectangle("panel", mm(400.0), mm(300.0), 3) };
    let mut instance = cloth(mm(1370.0), vec![item]);
    instance.pattern = Some(Pattern {
        length: Some(mm(length)),
        width: width.map(mm),
        drop: Drop::Straight,
        origin: Spot::new(origin.0 * MM, origin.1 * MM),
    });
    instance
}

#[test]
fn a_huge_repeat_puts_one_part_on_each() {
    let centred = Rule::Centred(Spot::new(200 * MM, 150 * MM));
    // The motif 200 along: parts from 50, one for each repeat of 20 m.
    let answer = laid(&patterned(20_000.0, Some(1370.0), (685, 200), centred), 5);
    assert_eq!(answer.lay.new_length(), mm(350.0 + 2.0 * 20_000.0));
    assert!(answer.proven, "{:?}", answer.bound);
}

#[test]
fn a_repeat_wider_than_the_cloth_leaves_one_column() {
    let centred = Rule::Centred(Spot::new(200 * MM, 150 * MM));
    let answer = laid(&patterned(400.0, Some(3000.0), (685, 200), centred), 5);
    assert!(answer.lay.strips[0].placements.iter().all(|p| p.at.x == 485 * MM));
    // And none at all, if that column is off the cloth: refused, by name.
    let off = patterned(400.0, Some(3000.0), (2000, 200), centred);
    assert_eq!(lay::lay(&off, &Limits::quick(1)).unwrap_err(), 0);
}

#[test]
fn an_origin_outside_the_cloth_is_as_good_as_one_a_repeat_away() {
    let centred = Rule::Centred(Spot::new(200 * MM, 150 * MM));
    let near = laid(&patterned(250.0, Some(300.0), (100, 50), centred), 5);
    let far = laid(&patterned(250.0, Some(300.0), (100 - 30 * 300, 50 + 40 * 250), centred), 5);
    assert_eq!(near.lay.new_length(), far.lay.new_length());
}

#[test]
fn cloth_that_is_all_flaw_takes_nothing() {
    let mut instance = cloth(mm(1000.0), vec![rectangle("panel", mm(400.0), mm(300.0), 4)]);
    instance.on_hand.push(OnHand {
        name: "spoilt".into(),
        left: Length::ZERO,
        right: mm(1000.0),
        length: mm(5000.0),
        flaws: vec![Rect { low: Spot::new(-MM, -MM), high: Spot::new(2000 * MM, 6000 * MM) }],
        origin: None,
    });
    let answer = laid(&instance, 50);
    assert!(answer.lay.strips.iter().all(|s| matches!(s.stock, Stock::New(_))));
    assert_eq!(answer.lay.new_length(), mm(600.0));
}

#[test]
fn a_group_that_cannot_be_in_phase_is_named() {
    // Each alone has a place; together, on a repeat as wide as the cloth less one part's play, none.
    let matched = |name: &str, anchor: i64| Item {
        rule: Rule::Matched { group: 0, anchor: Spot::new(anchor * MM, 0) },
        ..rectangle(name, mm(900.0), mm(100.0), 1)
    };
    let mut instance = cloth(mm(1000.0), vec![matched("left", 0), matched("right", 500)]);
    instance.pattern = Some(Pattern {
        length: Some(mm(200.0)),
        width: Some(mm(1000.0)),
        drop: Drop::Straight,
        origin: Spot::default(),
    });
    assert_eq!(lay::lay(&instance, &Limits::quick(1)).unwrap_err(), 1);
    // With a finer repeat there is a common phase.
    instance.pattern.as_mut().unwrap().width = Some(mm(100.0));
    laid(&instance, 5);
}

#[test]
fn no_work_and_a_stop_at_once_still_give_a_whole_lay() {
    let instance = cloth(mm(1000.0), vec![rectangle("panel", mm(400.0), mm(300.0), 40)]);
    for stop in [false, true] {
        let stopped = || stop;
        let limits = Limits { stop: &stopped, ..Limits::work(1, 1 << 40) };
        let work = if stop { limits } else { Limits::quick(1) };
        let answer = lay::lay(&instance, &work).unwrap();
        assert_eq!(lay::verify(&instance, &answer.lay), []);
    }
}
