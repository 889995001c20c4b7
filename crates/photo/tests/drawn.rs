//! Outlines from drawn photographs: true within what is stated, or refused.

#![allow(clippy::panic, reason = "in tests a failure may say so")]

mod render;

use photo::Refusal;
use render::judge::{Judged, judge, measure};
use render::{Shot, Stuff, draw, sets, shapes};

fn panel() -> Vec<Vec<geometry::Point>> {
    vec![shapes::rectangle(900.0, 450.0, [20.0, 40.0, 80.0, 60.0])]
}

/// Seeds that were not used while the measuring was built; the benchmark goes on from there.
#[test]
fn judged_photographs_are_true_within_what_is_stated() {
    let mut within: Vec<Judged> = Vec::new();
    for seed in sets::JUDGING + 500..sets::JUDGING + 505 {
        let shot = sets::with_contrast(seed, (2000, 1500));
        match judge(&shot) {
            Ok(judged) => within.push(judged),
            Err(why) => eprintln!("{seed}: refused: {why:?}"),
        }
    }
    assert!(within.len() >= 4, "{} given", within.len());
    for j in &within {
        assert!(j.p95 <= j.stated && j.p95 <= 1.5, "{} stated {}", j.p95, j.stated);
        assert!(j.stated < 3.0, "a bound that says nothing: {}", j.stated);
    }
}

/// What the person sees as one line or arc is one.
#[test]
fn a_rounded_panel_is_four_lines_and_four_arcs() {
    let found = judge(&Shot::of(1, panel())).unwrap();
    assert_eq!(found.stretches, 8);
    assert!(found.p95 < 0.8, "{}", found.p95);
}

/// An old cover frays: fewer lines and arcs than threads, and a wider bound that holds.
#[test]
fn an_old_cover_has_a_wider_bound() {
    let clean = judge(&Shot::of(11, panel())).unwrap();
    let shot = Shot { fray: 0.8, contact_shadow: 0.15, ..Shot::of(11, panel()) };
    let frayed = judge(&shot).unwrap();
    assert!(frayed.stated > 1.2 * clean.stated, "{} and {}", frayed.stated, clean.stated);
    assert!(
        frayed.p95 <= frayed.stated && frayed.stretches <= 30,
        "{} {}",
        frayed.p95,
        frayed.stretches
    );
}

fn refusal(shot: &Shot) -> Refusal {
    match judge(shot) {
        Err(why) => why,
        Ok(found) => panic!("given within {} (true: {})", found.stated, found.p95),
    }
}

#[test]
fn part_and_floor_alike_are_refused() {
    let shot = Shot { floor: Stuff::Wood, part: Stuff::Alike, ..Shot::of(3, panel()) };
    let why = refusal(&shot);
    let is_told = matches!(why, Refusal::NoPart | Refusal::Contrast(_) | Refusal::NoEdge(_));
    // Found to be something else than the part, it would lie on a sheet.
    assert!(is_told || matches!(why, Refusal::SheetNear(_) | Refusal::OutOfPicture), "{why:?}");
}

#[test]
fn two_sheets_are_too_few_and_none_are_named_as_such() {
    let shot = Shot { sheets: 2, ..Shot::of(4, panel()) };
    assert_eq!(refusal(&shot), Refusal::FewSheets(vec![0, 1]));
    let shot = Shot { sheets: 4, blur: 14.0, ..Shot::of(4, panel()) };
    assert!(matches!(refusal(&shot), Refusal::FewSheets(_) | Refusal::DoesNotFit(_)));
}

#[test]
fn a_photograph_from_the_side_is_refused() {
    let why = refusal(&Shot { tilt: 42.0, ..Shot::of(5, panel()) });
    assert!(
        matches!(why, Refusal::Tilt(t) if t > 35.0) || matches!(why, Refusal::FewSheets(_)),
        "{why:?}"
    );
}

/// Ten millimetres on either tape: the wrong one is named, with what it should be.
#[test]
fn a_tape_read_wrongly_is_named() {
    for (wrong, by) in [(0, 10.0), (1, -10.0)] {
        let mut shown = draw(&Shot::of(6, panel()));
        let is = shown.measured.tapes[wrong];
        shown.measured.tapes[wrong].mm += by;
        match measure(&shown, &panel()) {
            Err(Refusal::Tapes(held)) => {
                assert_eq!(held[0].tape, shown.measured.tapes[wrong]);
                assert!((held[0].found - is.mm).abs() < 3.0 * held[0].spread, "{held:?}");
            }
            other => panic!("{:?}", other.map(|j| j.stated)),
        }
    }
    let mut shown = draw(&Shot::of(6, panel()));
    shown.measured.tapes[0].to = 6;
    assert_eq!(measure(&shown, &panel()).err(), Some(Refusal::NoSheet(6)));
}

#[test]
fn a_lens_that_cannot_be_is_refused() {
    let shot = Shot { focal_told: Some(1.6), tilt: 18.0, ..Shot::of(7, panel()) };
    assert!(matches!(refusal(&shot), Refusal::Focal(_)));
}

/// By itself nothing is found where the floor by the sheets is the part; with its corners tapped, what is wrong
/// is said.
#[test]
fn a_sheet_against_the_part_is_refused() {
    let shot = Shot { gap: (4.0, 8.0), ..Shot::of(8, panel()) };
    let shown = draw(&shot);
    let photographs = std::slice::from_ref(&shown.photograph);
    let looked = photo::look(photographs, &shown.measured, &|_| true).unwrap();
    let found = looked.propose(photographs, None, &|_| true);
    assert!(matches!(found, Err(Refusal::NoPart | Refusal::SheetNear(_))));
    let [x, y, turn] = shown.truth.sheets[looked.placed.sheets[0]];
    let tapped: Vec<geometry::Point> = shot.loops[0]
        .iter()
        .map(|p| geometry::Point::new(p.x - x, p.y - y).turned(-turn.to_degrees()))
        .collect();
    match looked.outline(photographs, &[tapped], &|_| true) {
        Err(Refusal::SheetNear(near)) => assert!(near < 25.0),
        other => panic!("{:?}", other.map(|o| o.within)),
    }
}

/// The same photograph, the same outline; and it can be stopped at every stage.
#[test]
fn it_stops_when_asked_and_repeats_itself() {
    let shown = draw(&Shot::of(9, panel()));
    let photographs = std::slice::from_ref(&shown.photograph);
    let stopped = photo::look(photographs, &shown.measured, &|_| false);
    assert_eq!(stopped.err(), Some(Refusal::Stopped));
    let twice: Vec<_> = (0..2)
        .map(|_| {
            let looked = photo::look(photographs, &shown.measured, &|_| true).unwrap();
            let drawn = looked.propose(photographs, None, &|_| true).unwrap();
            assert_eq!(
                looked.outline(photographs, &drawn, &|_| false).err(),
                Some(Refusal::Stopped)
            );
            looked.outline(photographs, &drawn, &|_| true).unwrap().loops[0].corners.clone()
        })
        .collect();
    assert_eq!(twice[0], twice[1]);
}

/// A corner tapped some millimetres off is the same corner.
#[test]
fn a_corner_tapped_beside_it_stays_one_corner() {
    let corners = [(-400.0, -200.0), (400.0, -200.0), (330.0, 220.0), (-350.0, 220.0)];
    let corners = corners.map(|(x, y)| geometry::Point::new(x, y));
    let shot = Shot::of(12, vec![shapes::dense(&corners)]);
    let shown = draw(&shot);
    let photographs = std::slice::from_ref(&shown.photograph);
    let looked = photo::look(photographs, &shown.measured, &|_| true).unwrap();
    let [x, y, turn] = shown.truth.sheets[looked.placed.sheets[0]];
    for (dx, dy) in [(2.0, 1.5), (3.0, -2.0), (-3.0, 3.0), (0.0, 4.0)] {
        let mut tapped = corners;
        tapped[0] = geometry::Point::new(tapped[0].x + dx, tapped[0].y + dy);
        let tapped = tapped
            .iter()
            .map(|p| geometry::Point::new(p.x - x, p.y - y).turned(-turn.to_degrees()))
            .collect::<Vec<_>>();
        let found = looked.outline(photographs, &[tapped], &|_| true).unwrap();
        assert_eq!(found.loops[0].fitted.len(), 4, "{dx} {dy}");
        let judged =
            render::judge::compare(&found, &shot.loops, &shown.truth, looked.placed.sheets[0]);
        assert!(judged.most < 2.0, "{dx} {dy}: {}", judged.most);
    }
}

/// Two photographs, each of a half, are joined by the sheets both show.
#[test]
fn a_long_part_is_joined_from_two_photographs() {
    let whole = Shot::of(10, panel());
    let (one, two) = (draw(&whole), draw(&Shot { tilt: 12.0, ..whole.clone() }));
    // The sheets lie the same in both: they come from the seed.
    assert_eq!(one.truth.sheets, two.truth.sheets);
    let (frame, measured) = (one.truth, one.measured);
    let photographs = [one.photograph, two.photograph];
    let looked = photo::look(&photographs, &measured, &|_| true).unwrap();
    let drawn = looked.propose(&photographs, None, &|_| true).unwrap();
    let found = looked.outline(&photographs, &drawn, &|_| true).unwrap();
    let judged = render::judge::compare(&found, &whole.loops, &frame, looked.placed.sheets[0]);
    assert!(judged.p95 <= judged.stated && judged.p95 < 1.0, "{} {}", judged.p95, judged.stated);
}
