//! Rules of cloth on random jobs: whatever is asked, nothing overlaps, leaves the cloth, lies over a
//! flaw, turns against the nap or leaves the repeat. Checked by `verify`, which shares no code with
//! the placing, and where it can be by simple arithmetic here.

use crate::shared::{cloth, laid, mm, rectangle};
use geometry::{Length, Polygon, Rect, Spot};
use lay::{Breach, Drop, Instance, Item, Limits, OnHand, Pattern, Rule, Stock};
use proptest::prelude::*;

fn shape() -> impl Strategy<Value = Polygon> {
    prop_oneof![
        4 => (60_i64..500, 60_i64..500).prop_map(|(w, h)| {
            Polygon::rectangle(Length::from_nm(w * 1_000_000), Length::from_nm(h * 1_000_000))
        }),
        1 => (100_i64..400, 100_i64..400, 20_i64..80).prop_map(|(w, h, n)| {
            // An L: the notch takes n from the top right.
            let spots = [(0, 0), (w, 0), (w, h - n), (w - n, h - n), (w - n, h), (0, h)];
            Polygon::new(spots.iter().map(|&(x, y)| Spot::new(x * 1_000_000, y * 1_000_000)).collect())
        }),
        1 => (100_i64..300).prop_map(|d| {
            geometry::Path::circle(Length::from_nm(d * 1_000_000)).flatten()
        }),
    ]
}

fn item() -> impl Strategy<Value = Item> {
    let turns =
        prop_oneof![Just(vec![0.0]), Just(vec![0.0, 180.0]), Just(vec![0.0, 90.0, 180.0, 270.0])];
    let rule = prop_oneof![
        3 => Just(Rule::Free),
        1 => (0_i64..200, 0_i64..200).prop_map(|(x, y)| Rule::Centred(Spot::new(x * 1_000_000, y * 1_000_000))),
        1 => (0_usize..2, 0_i64..200).prop_map(|(group, y)| Rule::Matched { group, anchor: Spot::new(0, y * 1_000_000) }),
    ];
    (shape(), 1_usize..4, turns, rule).prop_map(|(shape, count, turns, rule)| Item {
        name: "part".into(),
        shape,
        count,
        turns,
        rule,
        exact: false,
        face: None,
    })
}

fn pattern() -> impl Strategy<Value = Option<Pattern>> {
    let one = (80_i64..400, proptest::option::of(80_i64..300), any::<bool>(), 0_i64..90).prop_map(
        |(length, width, half, x)| Pattern {
            length: Some(Length::from_nm(length * 1_000_000)),
            width: width.map(|w| Length::from_nm(w * 1_000_000)),
            drop: if half { Drop::Half } else { Drop::Straight },
            origin: Spot::new(x * 1_000_000, x * 500_000),
        },
    );
    proptest::option::of(one)
}

pub fn job() -> impl Strategy<Value = Instance> {
    let flaw = (0_i64..1200, 0_i64..900, 10_i64..200, 10_i64..200).prop_map(|(x, y, w, h)| Rect {
        low: Spot::new(x * 1_000_000, y * 1_000_000),
        high: Spot::new((x + w) * 1_000_000, (y + h) * 1_000_000),
    });
    let stock =
        (500_i64..2000, proptest::collection::vec(flaw, 0..3)).prop_map(|(length, flaws)| OnHand {
            name: "remnant".into(),
            left: mm(10.0),
            right: mm(1290.0),
            length: Length::from_nm(length * 1_000_000),
            flaws,
            origin: None,
        });
    (proptest::collection::vec(item(), 1..8), pattern(), proptest::collection::vec(stock, 0..3))
        .prop_map(|(items, pattern, on_hand)| {
            let mut instance = cloth(mm(1300.0), items);
            instance.buying.step = mm(100.0);
            instance.buying.trim = mm(50.0);
            instance.pattern = pattern;
            instance.on_hand = on_hand;
            instance
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn every_rule_is_kept(job in job(), work in prop_oneof![Just(600), Just(3_000)]) {
        laid(&job, work);
    }

    #[test]
    fn the_same_seed_gives_the_same_lay(job in job(), seed in any::<u64>()) {
        let lay = || lay::lay(&job, &Limits::work(seed, 400_000)).unwrap().lay;
        prop_assert_eq!(lay(), lay());
    }

    #[test]
    fn what_is_forgiven_is_really_forgiven(job in job()) {
        let answer = lay::lay(&job, &Limits::work(1, 300_000)).unwrap();
        let forgiven = lay::forgives(&job, &answer, &Limits::work(1, 50_000_000));
        prop_assert!(Length::ZERO <= forgiven && forgiven <= mm(25.0));
        // Rectangles truly grown by that much: no bound may then be above the purchase.
        let mut grown = job.clone();
        for item in grown.items.iter_mut().filter(|i| i.shape.is_upright_rectangle()) {
            let b = item.shape.bounds();
            // On all sides alike, so that anchors stay where they are.
            let half = forgiven.nm() / 2;
            let at = Spot::new(b.low.x - half, b.low.y - half);
            item.shape = Polygon::rectangle(b.width() + forgiven, b.height() + forgiven).moved(at);
        }
        let purchase = answer.lay.purchase(&job.buying);
        let least = grown.buying.purchase(lay::least_length(&grown).length);
        prop_assert!(least <= purchase, "{} over {}", least, purchase);
    }
}

#[test]
fn a_remnant_is_used_only_when_it_lowers_the_purchase() {
    let mut instance = cloth(mm(1000.0), vec![rectangle("cover", mm(900.0), mm(600.0), 2)]);
    instance.buying.step = mm(1000.0);
    let remnant = |length: f64| OnHand {
        name: "remnant".into(),
        left: mm(0.0),
        right: mm(1000.0),
        length: mm(length),
        flaws: vec![],
        origin: None,
    };
    instance.on_hand = vec![remnant(650.0)];
    let answer = laid(&instance, 0);
    assert_eq!(answer.lay.purchase(&instance.buying), mm(1000.0));
    assert_eq!(answer.lay.strips[0].stock, Stock::OnHand(0));
    // 3 covers: 1800 is 2 m either way.
    instance.items[0].count = 3;
    instance.buying.step = mm(2000.0);
    let answer = laid(&instance, 0);
    assert_eq!(answer.lay.strips.len(), 1);
    assert_eq!(answer.lay.strips[0].stock, Stock::New(0));
}

#[test]
fn a_roll_that_is_too_short_is_followed_by_another() {
    let mut instance = cloth(mm(1000.0), vec![rectangle("cover", mm(900.0), mm(600.0), 5)]);
    instance.buying.roll = Some(mm(1500.0));
    instance.buying.trim = mm(100.0);
    let answer = laid(&instance, 0);
    assert_eq!(answer.lay.strips.len(), 3);
    instance.items.push(rectangle("long", mm(100.0), mm(1450.0), 1));
    assert_eq!(lay::lay(&instance, &Limits::quick(1)).unwrap_err(), 1);
}

#[test]
fn what_fits_no_cloth_is_named() {
    let set =
        vec![rectangle("fits", mm(10.0), mm(10.0), 1), rectangle("wide", mm(1001.0), mm(10.0), 1)];
    assert_eq!(lay::lay(&cloth(mm(1000.0), set), &Limits::quick(1)).unwrap_err(), 1);
}

#[test]
fn a_patterned_part_that_could_only_lie_off_the_cloth_is_named() {
    // 900 wide on 1000, centred on a motif at 100 with repeat 700: reaches -350 or 450 to 1250.
    let centred = Item {
        rule: Rule::Centred(Spot::new(450_000_000, 0)),
        ..rectangle("back", mm(900.0), mm(500.0), 1)
    };
    let mut instance = cloth(mm(1000.0), vec![centred]);
    instance.pattern = Some(Pattern {
        length: Some(mm(300.0)),
        width: Some(mm(700.0)),
        drop: Drop::Straight,
        origin: Spot::new(100_000_000, 0),
    });
    assert_eq!(lay::lay(&instance, &Limits::quick(1)).unwrap_err(), 0);
}

#[test]
fn the_first_of_a_matched_group_leaves_room_for_the_others() {
    // Two members 900 wide on 1000, repeat 700, anchors 450 apart in phase by 80: play is 100 each, so
    // of the phases only 20 in common; laid at the left edge the first would leave none to the second.
    let member = |anchor: i64| Item {
        rule: Rule::Matched { group: 0, anchor: Spot::new(anchor * 1_000_000, 0) },
        ..rectangle("back", mm(900.0), mm(500.0), 1)
    };
    let mut instance = cloth(mm(1000.0), vec![member(450), member(370)]);
    instance.pattern = Some(Pattern {
        length: Some(mm(300.0)),
        width: Some(mm(700.0)),
        drop: Drop::Straight,
        origin: Spot::default(),
    });
    laid(&instance, 0);
    // 110 apart nothing is common: the second is named.
    instance.items[1] = member(340);
    assert_eq!(lay::lay(&instance, &Limits::quick(1)).unwrap_err(), 1);
}

#[test]
fn the_check_notices_each_kind_of_breach() {
    let mut instance = cloth(mm(1000.0), vec![rectangle("cover", mm(400.0), mm(300.0), 2)]);
    let good = laid(&instance, 0).lay;
    let broken = |change: &dyn Fn(&mut lay::Strip)| {
        let mut lay = good.clone();
        change(&mut lay.strips[0]);
        lay::verify(&instance, &lay)
    };
    let found = broken(&|s| s.placements[1].at.x -= 1);
    assert!(found.contains(&Breach::Overlap { items: (0, 0) }), "{found:?}");
    let found = broken(&|s| s.placements[0].at.x -= 1);
    assert!(found.contains(&Breach::Outside { item: 0 }), "{found:?}");
    let found = broken(&|s| s.placements[0].turn = 180.0);
    assert!(found.contains(&Breach::Turn { item: 0 }), "{found:?}");
    let found = broken(&|s| {
        s.placements.pop();
    });
    assert!(found.contains(&Breach::Count { item: 0, found: 1 }), "{found:?}");
    let found = broken(&|s| s.placements[1].copy = 0);
    assert!(found.contains(&Breach::Copy { item: 0 }), "{found:?}");
    let found = broken(&|s| s.length = mm(299.0));
    assert!(found.contains(&Breach::Length { strip: 0 }), "{found:?}");
    instance.items[0].rule = Rule::Centred(Spot::default());
    instance.pattern = Some(Pattern {
        length: Some(mm(700.0)),
        width: None,
        drop: Drop::Straight,
        origin: Spot::new(0, 1),
    });
    assert!(lay::verify(&instance, &good).contains(&Breach::Pattern { item: 0 }));
}

/// Among equal purchases the search keeps the larger rectangle, then takes fewer straight cuts.
#[test]
fn an_equal_purchase_is_laid_for_a_larger_remnant_and_fewer_cuts() {
    let items = vec![
        rectangle("seat", mm(620.0), mm(560.0), 3),
        rectangle("back", mm(620.0), mm(480.0), 3),
        rectangle("side", mm(300.0), mm(420.0), 4),
    ];
    let mut instance = cloth(mm(1380.0), items);
    instance.buying.step = mm(3000.0);
    let first = lay::lay(&instance, &Limits::work(1, 0)).expect("fits");
    let tidy = laid(&instance, 20_000);
    assert_eq!(tidy.lay.purchase(&instance.buying), first.lay.purchase(&instance.buying));
    let kept = |lay: &lay::Lay| {
        let strip = &lay.strips[0];
        let bought = instance.buying.purchase(strip.length);
        let left = lay::leftover(&instance, strip, bought, lay::WORTH_KEEPING, 1);
        left.first().map_or(0.0, |r| r.width().mm() * r.height().mm())
    };
    let lines = |lay: &lay::Lay| lay::cuts(&instance, &lay.strips[0]).lines;
    let (before, after) =
        ((kept(&first.lay), lines(&first.lay)), (kept(&tidy.lay), lines(&tidy.lay)));
    assert!(
        after.0 > before.0 || (after.0 == before.0 && after.1 < before.1),
        "{before:?} {after:?}"
    );
}
