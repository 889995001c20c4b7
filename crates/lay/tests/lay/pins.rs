//! Parts that stay where the person put them, and flaws of what was delivered.

use crate::rules::job;
use crate::shared::{cloth, laid, mm, rectangle};
use geometry::{Rect, Spot};
use lay::{Breach, Drop, Limits, Pattern, Refused, Rule, Stock};
use proptest::prelude::*;

fn at(x: f64, y: f64) -> Spot {
    Spot::new(mm(x).nm(), mm(y).nm())
}

/// Arithmetic: with one seat kept 30 up, none fits below it, and the next one stands on it.
#[test]
fn the_others_lie_round_a_part_that_stays() {
    let mut job = cloth(
        mm(100.0),
        vec![rectangle("seat", mm(60.0), mm(50.0), 2), rectangle("side", mm(40.0), mm(100.0), 1)],
    );
    job.keep(0, 0.0, at(0.0, 30.0)).expect("fits");
    let answer = laid(&job, 500);
    assert_eq!(answer.lay.new_length(), mm(130.0));
    assert!(answer.lay.strips[0].placements.iter().any(|p| p.item == 0 && p.at == at(0.0, 30.0)));
    assert_eq!(answer.lay.strips[0].placements.len(), 3);
}

#[test]
fn all_may_stay() {
    let mut job = cloth(mm(100.0), vec![rectangle("seat", mm(60.0), mm(50.0), 2)]);
    job.keep(0, 0.0, at(0.0, 30.0)).expect("fits");
    job.keep(0, 0.0, at(20.0, 80.0)).expect("fits");
    let answer = laid(&job, 500);
    assert_eq!((answer.lay.new_length(), answer.proven), (mm(130.0), true));
}

#[test]
fn what_cannot_stay_is_refused_with_the_reason() {
    let mut job = cloth(mm(100.0), vec![rectangle("seat", mm(60.0), mm(50.0), 2)]);
    job.buying.flaws = vec![Rect { low: at(0.0, 200.0), high: at(10.0, 210.0) }];
    assert_eq!(job.keep(0, 90.0, at(0.0, 0.0)), Err(Refused::Turn));
    assert_eq!(job.keep(7, 0.0, at(0.0, 0.0)), Err(Refused::NoSuch));
    assert_eq!(job.keep(0, 0.0, at(0.0, 180.0)), Err(Refused::Flaw));
    assert_eq!(job.keep(0, 0.0, Spot::new(i64::MIN, i64::MAX)), Err(Refused::Outside));
    // Over the edge it is moved in.
    assert_eq!(job.keep(0, 0.0, at(70.0, -5.0)).map(|p| p.at), Ok(at(40.0, 0.0)));
    assert_eq!(job.keep(0, 0.0, at(0.0, 20.0)), Err(Refused::Overlap));
    job.keep(0, 0.0, at(0.0, 50.0)).expect("fits");
    assert_eq!(job.keep(0, 0.0, at(0.0, 300.0)), Err(Refused::NoSuch));
}

/// A half-drop of 180 by 70: the nearest motif is taken, half a repeat up in every second column.
#[test]
fn a_centred_part_is_settled_on_the_nearest_motif() {
    let mut seat = rectangle("seat", mm(60.0), mm(50.0), 3);
    seat.rule = Rule::Centred(at(30.0, 25.0));
    let mut job = cloth(mm(300.0), vec![seat]);
    job.pattern = Some(Pattern {
        length: Some(mm(180.0)),
        width: Some(mm(70.0)),
        drop: Drop::Half,
        origin: at(35.0, 25.0),
    });
    assert_eq!(job.keep(0, 0.0, at(9.0, 14.0)).map(|p| p.at), Ok(at(5.0, 0.0)));
    assert_eq!(job.keep(0, 0.0, at(80.0, 70.0)).map(|p| p.at), Ok(at(75.0, 90.0)));
}

/// A flaw is never used, whatever of the cloth it takes.
#[test]
fn a_flaw_of_the_new_cloth_is_left_free() {
    let mut job = cloth(mm(100.0), vec![rectangle("seat", mm(60.0), mm(50.0), 2)]);
    job.buying.flaws = vec![Rect { low: at(45.0, 10.0), high: at(55.0, 20.0) }];
    assert_eq!(laid(&job, 500).lay.new_length(), mm(120.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]
    /// Whatever of a right lay is kept stays, and all rules hold for the rest.
    #[test]
    fn what_is_kept_stays_and_the_rest_keeps_the_rules(
        job in job(),
        keep in proptest::collection::vec(any::<bool>(), 12),
        flaw in proptest::option::of((0_i64..1200, 0_i64..3000, 10_i64..200, 10_i64..200)),
        seed in 0_u64..100,
    ) {
        let Ok(first) = lay::lay(&job, &Limits::quick(seed)) else { return Ok(()) };
        let mut asked = job.clone();
        if let Some((x, y, w, h)) = flaw {
            let mm = |n: i64| n * 1_000_000;
            asked.buying.flaws = vec![Rect {
                low: Spot::new(mm(x), mm(y)),
                high: Spot::new(mm(x + w), mm(y + h)),
            }];
        }
        let strip = first.lay.strips.iter().find(|s| s.stock == Stock::New(0));
        for (p, keep) in strip.iter().flat_map(|s| &s.placements).zip(&keep) {
            let polygon = job.items[p.item].shape.turned(p.turn);
            let corner = polygon.bounds().moved(p.at).low;
            if *keep && let Ok(kept) = asked.keep(p.item, p.turn, corner) {
                // On its lattice already, it is not moved.
                prop_assert_eq!(kept.at, p.at);
            }
        }
        let answer = lay::lay(&asked, &Limits::work(seed, 400_000));
        let Ok(answer) = answer else {
            // A flaw may leave a centred part no place on what is sold in short rolls.
            prop_assert!(flaw.is_some() || asked.buying.roll.is_some());
            return Ok(());
        };
        prop_assert_eq!(lay::verify(&asked, &answer.lay), vec![]);
        let _ = lay::forgives(&asked, &answer, &Limits::work(1, 100_000));
        if let Some(pin) = asked.pins.first() {
            let mut moved = answer.lay.clone();
            for p in moved.strips.iter_mut().flat_map(|s| &mut s.placements) {
                p.at.x += i64::from((p.item, p.at) == (pin.item, pin.at));
            }
            let breach = Breach::Moved { item: pin.item };
            prop_assert!(lay::verify(&asked, &moved).contains(&breach));
        }
    }
}
