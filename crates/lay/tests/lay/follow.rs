//! Wide parts that nest: the bound against arithmetic, and against lays of random shapes.

use crate::shared::{cloth, inch, mm};
use geometry::{Polygon, Spot};
use lay::{Instance, Item, Limits, Reason, Rule, least_length};
use proptest::prelude::*;

fn item(points: &[(f64, f64)], count: usize, turns: &[f64]) -> Item {
    let spot = |&(x, y): &(f64, f64)| Spot::new(inch(x).nm(), inch(y).nm());
    Item {
        name: "wide".into(),
        shape: Polygon::new(points.iter().map(spot).collect()),
        count,
        turns: turns.to_vec(),
        rule: Rule::Free,
        exact: false,
        face: None,
    }
}

fn follow(instance: &Instance) -> bool {
    matches!(least_length(instance).reason, Reason::Follow { .. })
}

/// Arithmetic: parts 12 wide below and 4 above, 4 high, on cloth 14 wide. One at the left and one
/// turned half round at the right clear each other along their slants once the second stands 1 higher;
/// after that the next stands on the whole 12 of its upper side, 4 higher: 1 + 4 + 1 and the last part's 4.
#[test]
fn two_by_two_nest_along_their_slants() {
    let shape = [(0.0, 0.0), (12.0, 0.0), (4.0, 4.0), (0.0, 4.0)];
    let job = cloth(inch(14.0), vec![item(&shape, 4, &[0.0, 180.0])]);
    assert!(follow(&job));
    let short = inch(10.0) - least_length(&job).length;
    assert!(short.nm().abs() < 100, "{short}");
    let answer = lay::lay(&job, &Limits::work(1, 2_000_000)).expect("fits");
    assert_eq!(answer.lay.new_length(), inch(10.0));
    // Without the half turn each stands on the one before.
    let mut job = cloth(inch(14.0), vec![item(&shape, 4, &[0.0])]);
    job.buying.step = inch(0.5);
    let answer = lay::lay(&job, &Limits::work(1, 1_000)).expect("fits");
    assert_eq!((answer.lay.new_length(), answer.proven), (inch(16.0), true));
}

/// Arithmetic: of two kinds the order matters. Slants of one slope nest in each other, blunt ends do
/// not: three blunt parts 3 high and two pairs as above, with one joint between the kinds.
#[test]
fn the_order_of_two_kinds_is_found() {
    let slanted = [(0.0, 0.0), (12.0, 0.0), (4.0, 4.0), (0.0, 4.0)];
    let blunt = [(0.0, 0.0), (10.0, 0.0), (10.0, 3.0), (0.0, 3.0)];
    let items = vec![item(&slanted, 4, &[0.0, 180.0]), item(&blunt, 3, &[0.0])];
    let job = cloth(inch(14.0), items);
    let short = inch(10.0 + 9.0) - least_length(&job).length;
    assert!(short.nm().abs() < 100, "{short}");
}

/// Four-sided parts wider than half of a cloth a metre wide, some with a notch in the upper side.
fn wide() -> impl Strategy<Value = Item> {
    let turns = prop_oneof![Just(vec![0.0]), Just(vec![0.0, 180.0])];
    let sides = (520_i64..900, 100_i64..880, 0_i64..200, 60_i64..400);
    (sides, any::<bool>(), 1_usize..4, turns).prop_map(
        |((low, high, shift, h), notched, count, turns)| {
            let to = (shift + high).min(900);
            let mut points = vec![(0, 0), (low, 0), (to, h)];
            if notched && to - shift > 60 {
                points.push(((shift + to) / 2, h - 40));
            }
            points.push((shift, h));
            let spots = points.iter().map(|&(x, y)| Spot::new(x * 1_000_000, y * 1_000_000));
            let mut item = item(&[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)], count, &turns);
            item.shape = Polygon::new(spots.collect());
            item
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]
    #[test]
    fn no_lay_is_shorter_than_the_bound(items in proptest::collection::vec(wide(), 1..5), seed in 0_u64..50) {
        prop_assume!(items.iter().all(|item| item.shape.is_simple()));
        let job = cloth(mm(1000.0), items);
        let bound = least_length(&job);
        let answer = lay::lay(&job, &Limits::work(seed, 1_500_000)).expect("fits");
        prop_assert_eq!(lay::verify(&job, &answer.lay), vec![]);
        prop_assert!(bound.length <= answer.lay.new_length(), "{:?}", bound);
    }
}
