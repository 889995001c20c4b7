//! An independent check of any plan.json: it shares no code with the program and does its geometry
//! with another crate. Nothing overlaps, leaves the cloth, lies over a flaw, turns against the rules,
//! falls off the repeat, or is missing.

use geo::{Area, BooleanOps, BoundingRect, Coord, LineString, Polygon};
use serde_json::Value;

/// Millimetres within which two places are the same: a nanometre and what decimal text loses.
const SAME: f64 = 2e-6;

/// A number of the file; what is none is not a number, which no comparison passes.
fn number(v: &Value) -> f64 {
    v.as_f64().unwrap_or(f64::NAN)
}

fn points(v: &Value) -> Vec<[f64; 2]> {
    v.as_array().unwrap().iter().map(|p| [number(&p[0]), number(&p[1])]).collect()
}

fn polygon(ring: &[[f64; 2]]) -> Polygon {
    Polygon::new(LineString(ring.iter().map(|p| Coord { x: p[0], y: p[1] }).collect()), vec![])
}

fn turned(p: [f64; 2], degrees: f64) -> [f64; 2] {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos]
}

/// Whether `x` is a multiple of `period`, either way round.
fn on_grid(x: f64, period: f64) -> bool {
    let off = x.rem_euclid(period);
    off < SAME * 10.0 || period - off < SAME * 10.0
}

/// Keys that may be null.
const OPTIONAL: [&str; 4] = ["stock_length_mm", "anchor_mm", "width_mm", "length_mm"];

/// Whatever should be a number, or a list of numbers, and is not.
fn no_numbers(key: &str, value: &Value, wrong: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(key, value)| no_numbers(key, value, wrong)),
        Value::Array(list) => list.iter().for_each(|value| no_numbers(key, value, wrong)),
        Value::Null if OPTIONAL.contains(&key) => {}
        other => {
            let measure = key.ends_with("_mm") || key.ends_with("_deg");
            if measure && !other.as_f64().is_some_and(|n| n.is_finite() && n.abs() < 1e7) {
                wrong.push(format!("{key}: {other} is no length or angle"));
            }
        }
    }
}

/// Everything wrong with a plan.
pub fn faults(plan: &Value) -> Vec<String> {
    let mut wrong = Vec::new();
    no_numbers("", plan, &mut wrong);
    if !wrong.is_empty() {
        return wrong;
    }
    let parts = plan["parts"].as_array().unwrap();
    let part = |id: &str| parts.iter().find(|p| p["id"] == id);
    let mut copies: Vec<(String, u64)> = Vec::new();
    let mut groups: Vec<(String, u64, [f64; 2])> = Vec::new();
    let mut stocks: Vec<(String, String)> = Vec::new();
    for lay in plan["lays"].as_array().unwrap() {
        let material = lay["material"].as_str().unwrap().to_string();
        let usable = [number(&lay["usable_mm"][0]), number(&lay["usable_mm"][1])];
        let end = lay["stock_length_mm"].as_f64().unwrap_or(f64::INFINITY);
        let mut shapes: Vec<(String, Polygon)> = Vec::new();
        let mut top: f64 = 0.0;
        for placement in lay["placements"].as_array().unwrap() {
            let id = placement["part"].as_str().unwrap();
            let name = format!("{id} copy {}", placement["copy"]);
            let Some(part) = part(id) else {
                wrong.push(format!("{name}: no such part"));
                continue;
            };
            copies.push((id.to_string(), placement["copy"].as_u64().unwrap()));
            let turn = number(&placement["turn_deg"]);
            if !part["turns_deg"].as_array().unwrap().iter().any(|t| number(t) == turn) {
                wrong.push(format!("{name}: turn {turn} is not allowed"));
            }
            // The outline is the part's, turned about its own origin and moved.
            let at = [number(&placement["x_mm"]), number(&placement["y_mm"])];
            let want: Vec<[f64; 2]> = points(&part["outline_mm"])
                .into_iter()
                .map(|p| turned(p, turn))
                .map(|p| [p[0] + at[0], p[1] + at[1]])
                .collect();
            let got = points(&placement["outline_mm"]);
            let all_there = want.iter().all(|w| {
                got.iter().any(|g| (g[0] - w[0]).abs() < 1e-5 && (g[1] - w[1]).abs() < 1e-5)
            });
            if !all_there {
                wrong.push(format!("{name}: its outline is not the part's turned and moved"));
            }
            let shape = polygon(&got);
            let bounds = shape.bounding_rect().unwrap();
            top = top.max(bounds.max().y);
            if bounds.min().x < usable[0] - SAME
                || bounds.max().x > usable[1] + SAME
                || bounds.min().y < -SAME
                || bounds.max().y > end + SAME
            {
                wrong.push(format!("{name} leaves the {material}"));
            }
            for flaw in lay["flaws_mm"].as_array().unwrap() {
                let f: Vec<f64> = flaw.as_array().unwrap().iter().map(number).collect();
                let ring = [[f[0], f[1]], [f[2], f[1]], [f[2], f[3]], [f[0], f[3]]];
                if shape.intersection(&polygon(&ring)).unsigned_area() > 1e-2 {
                    wrong.push(format!("{name} lies over a flaw"));
                }
            }
            wrong.extend(off_repeat(lay, part, &name, at, turn, &mut groups));
            for (other, placed) in &shapes {
                let b = placed.bounding_rect().unwrap();
                let near = bounds.min().x < b.max().x
                    && b.min().x < bounds.max().x
                    && bounds.min().y < b.max().y
                    && b.min().y < bounds.max().y;
                if near && shape.intersection(placed).unsigned_area() > 1e-2 {
                    wrong.push(format!("{name} overlaps {other} on {material}"));
                }
            }
            shapes.push((name, shape));
        }
        if lay["kind"] == "cloth" && (top - number(&lay["length_mm"])).abs() > SAME {
            wrong
                .push(format!("{material}: length {} but the lay ends at {top}", lay["length_mm"]));
        }
        if number(&lay["least_possible_mm"]) > number(&lay["length_mm"]) + SAME {
            wrong.push(format!("{material}: the least possible length is above the lay"));
        }
        // A length in the rack lies there once; of an offcut there may be several.
        let stock = lay["stock"].as_str().unwrap().to_string();
        if stock.starts_with("remnant:") && lay["kind"] == "cloth" {
            if stocks.contains(&(material.clone(), stock.clone())) {
                wrong.push(format!("{material}: {stock} is cut twice"));
            }
            stocks.push((material, stock));
        }
    }
    for part in parts {
        let id = part["id"].as_str().unwrap();
        let mut found: Vec<u64> = copies.iter().filter(|c| c.0 == id).map(|c| c.1).collect();
        found.sort_unstable();
        if found != (0..part["count"].as_u64().unwrap()).collect::<Vec<_>>() {
            wrong.push(format!("{id}: copies {found:?} of {}", part["count"]));
        }
    }
    wrong
}

fn off_repeat(
    lay: &Value,
    part: &Value,
    name: &str,
    at: [f64; 2],
    turn: f64,
    groups: &mut Vec<(String, u64, [f64; 2])>,
) -> Option<String> {
    if lay["repeat"].is_null() || part["rule"] == "free" {
        return None;
    }
    let repeat = &lay["repeat"];
    let anchor = turned([number(&part["anchor_mm"][0]), number(&part["anchor_mm"][1])], turn);
    let origin = [number(&repeat["origin_mm"][0]), number(&repeat["origin_mm"][1])];
    let mut relative = [at[0] + anchor[0] - origin[0], at[1] + anchor[1] - origin[1]];
    if part["rule"] == "matched" {
        let group = part["group"].as_u64().unwrap();
        let material = lay["material"].as_str().unwrap().to_string();
        match groups.iter().find(|g| g.0 == material && g.1 == group) {
            None => {
                groups.push((material, group, relative));
                return None;
            }
            Some((_, _, first)) => relative = [relative[0] - first[0], relative[1] - first[1]],
        }
    }
    let mut column = 0.0;
    if let Some(width) = repeat["width_mm"].as_f64() {
        if !on_grid(relative[0], width) {
            return Some(format!("{name} is off the repeat across"));
        }
        column = (relative[0] / width).round();
    }
    let length = repeat["length_mm"].as_f64()?;
    let shift =
        if repeat["drop"] == "half" && column.rem_euclid(2.0) == 1.0 { length / 2.0 } else { 0.0 };
    (!on_grid(relative[1] - shift, length)).then(|| format!("{name} is off the repeat along"))
}

#[test]
fn the_checker_notices_what_is_wrong() {
    let good = || -> Value {
        let text = std::fs::read_to_string(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/jobs/cafe_bench.toml"
        ))
        .unwrap();
        let read = clothwright::job_file::read(&text);
        let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
        serde_json::from_str(&clothwright::plan_json::write(&plan, &[])).unwrap()
    };
    assert_eq!(faults(&good()), Vec::<String>::new());
    let broken = |change: &dyn Fn(&mut Value)| {
        let mut plan = good();
        change(&mut plan);
        faults(&plan).join("; ")
    };
    let moved = broken(&|p| p["lays"][0]["placements"][1]["x_mm"] = 5.0.into());
    assert!(moved.contains("not the part's"), "{moved}");
    let gone = broken(&|p| {
        p["lays"][0]["placements"].as_array_mut().unwrap().pop();
    });
    assert!(gone.contains("copies"), "{gone}");
    let over = broken(&|p| {
        let first = p["lays"][0]["placements"][0].clone();
        p["lays"][0]["placements"][1] = first;
    });
    assert!(over.contains("overlaps"), "{over}");
    let twice = broken(&|p| {
        p["lays"][0]["stock"] = "remnant:R1".into();
        let again = p["lays"][0].clone();
        p["lays"].as_array_mut().unwrap().push(again);
    });
    assert!(twice.contains("is cut twice"), "{twice}");
    let no_number = broken(&|p| p["lays"][0]["placements"][0]["x_mm"] = Value::Null);
    assert!(no_number.contains("no length"), "{no_number}");
    let word = broken(&|p| p["lays"][0]["placements"][0]["turn_deg"] = "left".into());
    assert!(word.contains("no length"), "{word}");
    let narrow = broken(&|p| p["lays"][0]["usable_mm"][1] = 600.0.into());
    assert!(narrow.contains("leaves"), "{narrow}");
}
