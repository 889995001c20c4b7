//! Patterned cloth: which phase a matched group takes, and what more work is worth.

use crate::shared::{cloth, inch, rectangle};
use geometry::Spot;
use lay::{Drop, Instance, Item, Limits, Pattern, Rule};

fn at(x: f64, y: f64) -> Spot {
    Spot::new(inch(x).nm(), inch(y).nm())
}

fn patterned(width: f64, items: Vec<Item>, pattern: Pattern) -> Instance {
    Instance { pattern: Some(pattern), ..cloth(inch(width), items) }
}

/// Arithmetic: backs 30 1/4 long start on the 18 in repeat, so one ends 30 1/4 up; a panel of 40 1/4
/// that follows at once ends at 70 1/2 and the next back starts at 72. Panels that start on the repeat
/// too, as the first one laid would, take 90 with a back.
#[test]
fn a_matched_group_takes_the_phase_in_which_it_follows_on() {
    let back = Item {
        rule: Rule::Centred(Spot::default()),
        ..rectangle("back", inch(50.0), inch(30.25), 3)
    };
    let matched = Rule::Matched { group: 0, anchor: at(14.0, 5.0) };
    let panel = Item { rule: matched, ..rectangle("panel", inch(50.0), inch(40.25), 3) };
    let straight = Pattern {
        length: Some(inch(18.0)),
        width: None,
        drop: Drop::Straight,
        origin: Spot::default(),
    };
    let job = patterned(52.0, vec![back, panel], straight);
    let answer = lay::lay(&job, &Limits::work(1, 5_000_000)).expect("fits");
    assert_eq!(lay::verify(&job, &answer.lay), []);
    assert_eq!(answer.lay.new_length(), inch(2.0 * 72.0 + 70.5));
}

#[test]
fn more_work_never_buys_more_on_a_patterned_cloth() {
    let centred = |x, y, item| Item { rule: Rule::Centred(at(x, y)), ..item };
    let matched = Rule::Matched { group: 0, anchor: at(11.75, 17.5) };
    let items = vec![
        centred(26.0, 10.75, rectangle("back", inch(51.0), inch(30.25), 4)),
        Item { rule: matched, ..rectangle("panel", inch(29.5), inch(40.25), 7) },
        centred(12.5, 8.25, rectangle("seat", inch(24.75), inch(23.25), 8)),
        centred(9.75, 9.75, rectangle("cushion", inch(19.5), inch(19.5), 6)),
    ];
    let half = Pattern {
        length: Some(inch(18.0)),
        width: Some(inch(6.75)),
        drop: Drop::Half,
        origin: at(6.75, 4.0),
    };
    let mut job = patterned(53.0, items, half);
    job.buying.step = inch(1.0);
    let buys = |work: u64| {
        let answer = lay::lay(&job, &Limits::work(1, work)).expect("fits");
        assert_eq!(lay::verify(&job, &answer.lay), []);
        answer.lay.purchase(&job.buying)
    };
    let bought = [0, 10, 20, 40, 60, 100, 140, 300].map(|m| buys(m * 1_000_000));
    assert!(bought.is_sorted_by(|a, b| a >= b), "{bought:?}");
    assert!(bought[7] < bought[0], "{bought:?}");
}
