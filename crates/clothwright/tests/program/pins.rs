//! Parts put in place by hand, and flaws of what was delivered, through the whole program.

use crate::said;
use crate::scenarios::planned;
use geometry::{Length, Rect};
use trade::plan::Plan;

const CLOTH: &str = "width = \"1370\"";

fn boxes(plan: &Plan, tag: &str) -> Vec<Rect> {
    let lay = &plan.lays.cloths[0];
    let strip = lay.answer.lay.strips.last().unwrap();
    let ours = strip.placements.iter().filter(|p| lay.parts[p.item].part.id == tag);
    ours.map(|p| lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at)).collect()
}

fn pinned(pins: &str) -> Plan {
    planned("cafe_bench", |text| {
        assert!(text.contains(CLOTH), "{text}");
        text.replacen(CLOTH, &format!("{CLOTH}\n{pins}"), 1)
    })
}

/// Arithmetic: a seat of 1528 by 786 kept 500 from the cut end leaves 500 below it in which backs,
/// 604 long, do not fit, so the lay can end no earlier than the 12 344 of the bench and those 500, less
/// what plinths of 198 may now fill of them.
#[test]
fn a_pinned_part_stays_and_the_rest_goes_round_it() {
    let plan = pinned("pin = [{ part = \"1A\", x = \"0\", y = \"500 mm\", turn = 90 }]");
    let seats = boxes(&plan, "1A");
    assert!(seats.iter().any(|r| r.low.y == Length::from_mm(500.0).nm()), "{seats:?}");
    assert!(plan.warnings().iter().all(|f| f.code != "pin-not-kept"));
    assert!(plan.lays.cloths[0].answer.lay.new_length() > Length::from_mm(12_344.0));
}

#[test]
fn a_flaw_of_what_was_delivered_is_left_free() {
    let flaw = "flaw = [{ x = \"600 mm\", y = \"700 mm\", width = \"30 mm\", length = \"30 mm\" }]";
    let plan = pinned(flaw);
    let at = |x: f64, y: f64| (Length::from_mm(x).nm(), Length::from_mm(y).nm());
    let ((x0, y0), (x1, y1)) = (at(600.0, 700.0), at(630.0, 730.0));
    let lay = &plan.lays.cloths[0];
    for placement in &lay.answer.lay.strips[0].placements {
        let shape = lay.instance.items[placement.item].shape.turned(placement.turn);
        let b = shape.bounds().moved(placement.at);
        let clear = b.high.x <= x0 || x1 <= b.low.x || b.high.y <= y0 || y1 <= b.low.y;
        assert!(clear, "{b:?}");
    }
}

#[test]
fn a_pin_that_cannot_hold_is_told_and_nothing_is_lost() {
    let plan =
        pinned("pin = [{ part = \"77Z\", x = \"0\", y = \"0\" }, { part = \"1A\", turn = 45 }]");
    let told: Vec<_> = plan.warnings().into_iter().filter(|f| f.code == "pin-not-kept").collect();
    assert_eq!(told.len(), 2);
    assert!(said(&told[0].what).contains("77Z") && told[0].at == "cloth.0.pin.0", "{told:?}");
    assert!(said(&told[1].what).contains("1A") && !said(&told[1].remedy).is_empty(), "{told:?}");
}
