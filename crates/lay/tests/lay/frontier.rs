//! Few abreast: what is shown to be needed against published packings, arithmetic and lays of random shapes.

use crate::shared::{cloth, laid, mm, rectangle};
use geometry::{Length, Path, Polygon, Spot};
use lay::{Drop, Instance, Item, Limits, OnHand, Pattern, Reason, Rule, no_less};
use proptest::prelude::*;

fn disc(diameter: f64, count: usize) -> Item {
    Item {
        shape: Path::circle(mm(diameter)).flatten(),
        ..rectangle("disc", mm(1.0), mm(1.0), count)
    }
}

/// Discs of one size in a strip so narrow that the third always clears the first: each next lies at
/// the other edge and touches the one before, `sqrt(d^2 - (w - d)^2)` further on.
///
/// Source: Füredi, "The densest packing of equal circles into a parallel strip", Discrete and
/// Computational Geometry 6 (1991), which calls the case `w <= d (1 + sqrt(3)/2)` trivial (from memory).
#[test]
fn discs_in_a_narrow_strip_lie_to_and_fro() {
    for (width, count) in [(130.0, 7), (150.0, 9), (180.0, 12)] {
        let (d, n) = (100.0, count as f64);
        let step = f64::sqrt(d * d - (width - d) * (width - d));
        let length = mm(d + (n - 1.0) * step);
        let mut job = cloth(mm(width), vec![disc(d, count)]);
        job.buying.step = mm(5.0);
        let answer = laid(&job, 60_000);
        // The outline of a disc lies up to a fifth of a millimetre outside it.
        let over = answer.lay.new_length() - length;
        assert!(Length::ZERO <= over && over < mm(0.4) * n as i64, "{width}: {over} over {length}");
        assert!(answer.proven, "{width}: {:?} for {}", answer.bound, answer.lay.new_length());
        let limits = Limits::work(1, 60_000_000);
        let stepped = no_less(&job, answer.lay.purchase(&job.buying), &limits);
        assert!(stepped.is_some_and(|b| matches!(b.reason, Reason::Beside { .. })), "{width}");
    }
}

/// Arithmetic: four parts 60 by 50 on cloth 100 wide follow one another; a remnant 70 long takes one.
#[test]
fn what_is_on_hand_takes_whole_parts() {
    let mut job = cloth(mm(100.0), vec![rectangle("part", mm(60.0), mm(50.0), 4)]);
    job.on_hand.push(OnHand {
        name: "remnant".into(),
        left: Length::ZERO,
        right: mm(100.0),
        length: mm(70.0),
        flaws: vec![],
        origin: None,
    });
    job.buying.step = mm(10.0);
    let answer = laid(&job, 1_000);
    assert_eq!((answer.lay.new_length(), answer.proven), (mm(150.0), true), "{:?}", answer.bound);
}

/// Arithmetic: a part 15 long on a repeat of 20; two on one length end at 35, on two of 20 at 15 each.
#[test]
fn past_a_roll_the_next_length_starts_on_a_motif_of_its_own() {
    let centred = Rule::Centred(Spot::default());
    let part = Item { rule: centred, ..rectangle("part", mm(60.0), mm(15.0), 3) };
    let mut job = cloth(mm(100.0), vec![part]);
    job.pattern = Some(Pattern {
        length: Some(mm(20.0)),
        width: None,
        drop: Drop::Straight,
        origin: Spot::default(),
    });
    let one = laid(&job, 1_000);
    assert_eq!((one.lay.new_length(), one.proven), (mm(55.0), true));
    job.buying.roll = Some(mm(20.0));
    let three = laid(&job, 1_000);
    assert_eq!((three.lay.new_length(), three.lay.strips.len()), (mm(45.0), 3));
}

/// Shapes with slanted and hollow sides, from a sixth to two thirds of a cloth a metre wide.
fn part() -> impl Strategy<Value = Item> {
    let turns =
        prop_oneof![Just(vec![0.0]), Just(vec![0.0, 180.0]), Just(vec![0.0, 90.0, 180.0, 270.0])];
    let sides = (200_i64..650, 200_i64..650, 0_i64..150, 0_i64..150, -60_i64..100);
    (sides, 1_usize..4, turns).prop_map(|((w, h, left, right, crown), count, turns)| {
        let spots = [(0, 0), (w, 0), (w - right, h), (w / 2, h + crown), (left, h)];
        let shape = spots.map(|(x, y)| Spot::new(x * 1_000_000, y * 1_000_000)).to_vec();
        Item { shape: Polygon::new(shape), turns, ..rectangle("part", mm(1.0), mm(1.0), count) }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn no_lay_is_shorter_than_what_is_shown(items in proptest::collection::vec(part(), 1..4)) {
        let mut job: Instance = cloth(mm(1000.0), items);
        job.buying.step = mm(10.0);
        let limits = Limits::work(1, 20_000_000);
        let answer = lay::lay(&job, &limits).expect("fits");
        prop_assert_eq!(lay::verify(&job, &answer.lay), []);
        prop_assert!(answer.bound.length <= answer.lay.new_length(), "{:?}", answer.bound);
        let found = answer.lay.purchase(&job.buying);
        prop_assert_eq!(no_less(&job, found + job.buying.step, &limits), None);
    }
}
