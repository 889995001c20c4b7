//! Bare instances in the open format.

use crate::said;
use clothwright::strip_file;
use lay::Limits;
use serde_json::{Value, json};

fn item(points: Value, demand: u32, turns: Value) -> Value {
    json!({ "id": 0, "demand": demand, "allowed_orientations": turns, "shape": { "type": "simple_polygon", "data": points } })
}

fn solve(instance: &Value) -> strip_file::StripResult {
    let strip = strip_file::read(&instance.to_string()).unwrap_or_else(|f| panic!("{f:?}"));
    let answer = lay::lay(&strip.instance, &Limits::work(1, 20_000_000)).unwrap();
    assert_eq!(lay::verify(&strip.instance, &answer.lay), []);
    strip.result(&answer, 0.0)
}

#[test]
fn exact_fits_fit() {
    // Four 30 x 27 on a strip 54 high: 60 long, where engines that count touching as overlap say more.
    let covers = item(json!([[0, 0], [30, 0], [30, 27], [0, 27], [0, 0]]), 4, json!([0]));
    let result = solve(&json!({ "name": "covers", "strip_height": 54, "items": [covers] }));
    assert_eq!((result.length, result.density, result.proven), (60.0, 1.0, true));
    let whole = item(json!([[0, 0], [10, 0], [10, 54], [0, 54]]), 1, json!([0]));
    assert_eq!(solve(&json!({ "strip_height": 54, "items": [whole] })).length, 10.0);
}

#[test]
fn placements_are_in_the_instances_own_axes() {
    // A right triangle that must not be mirrored: turned and moved by what is reported it stays on
    // the strip.
    let points = [[0.0, 0.0], [8.0, 0.0], [0.0, 3.0]];
    let triangle = item(json!(points), 5, json!([0, 180]));
    let result = solve(&json!({ "strip_height": 7, "items": [triangle] }));
    assert_eq!(result.placements.len(), 5);
    for p in &result.placements {
        for [x, y] in points {
            let (x, y) = if p.turn_deg == 180.0 { (-x, -y) } else { (x, y) };
            let (x, y) = (x + p.x, y + p.y);
            assert!(
                (-1e-9..=result.length + 1e-9).contains(&x) && (-1e-9..=7.0 + 1e-9).contains(&y),
                "{x} {y}"
            );
        }
    }
}

#[test]
fn bad_instances_are_told() {
    let square = json!([[0, 0], [5, 0], [5, 5], [0, 5]]);
    for (instance, want) in [
        (json!({ "items": [] }), "strip_height"),
        (json!({ "strip_height": 5, "items": [] }), "no items"),
        (
            json!({ "strip_height": 0, "items": [item(square.clone(), 1, json!([0]))] }),
            "strip_height is 0",
        ),
        (
            json!({ "strip_height": 9, "items": [item(json!([[0, 0], [5, 5], [5, 0], [0, 7]]), 1, json!([0]))] }),
            "crosses",
        ),
        (
            json!({ "strip_height": 9, "items": [item(json!([[0, 0], [5, 0], [9, 0]]), 1, json!([0]))] }),
            "no area",
        ),
        (
            json!({ "strip_height": 9, "items": [item(square.clone(), 1, json!([]))] }),
            "orientation",
        ),
        (
            json!({ "strip_height": 9, "items": [{ "demand": 1.5, "shape": { "data": square } }] }),
            "demand",
        ),
    ] {
        let faults = strip_file::read(&instance.to_string()).err().unwrap();
        assert!(said(&faults[0].what).contains(want), "{want}: {:?}", faults[0]);
    }
    // Wider than the strip in every turn: named by the search.
    let strip = strip_file::read(
        &json!({ "strip_height": 4, "items": [item(square, 1, json!(null))] }).to_string(),
    )
    .unwrap();
    assert_eq!(lay::lay(&strip.instance, &Limits::quick(1)).unwrap_err(), 0);
    // Clockwise order and repeated points are put right.
    let clockwise = item(json!([[0, 0], [0, 5], [0, 5], [5, 5], [5, 0], [0, 0]]), 2, json!([0]));
    assert_eq!(solve(&json!({ "strip_height": 5, "items": [clockwise] })).length, 10.0);
}
