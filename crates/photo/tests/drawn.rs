//! Outlines from drawn photographs.

mod render;

use render::judge::judge;
use render::{Shot, shapes};

#[test]
fn a_rounded_panel_comes_back_within_what_is_stated() {
    let shot = Shot::of(1, vec![shapes::rectangle(1200.0, 600.0, [20.0, 40.0, 80.0, 120.0])]);
    let found = judge(&shot).unwrap();
    eprintln!(
        "{} {} {} {} {}",
        found.p95, found.most, found.stated, found.outwards, found.stretches
    );
    assert!(found.p95 <= found.stated && found.p95 <= 1.5);
}
