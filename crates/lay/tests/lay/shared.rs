//! Small builders.

use geometry::{Length, Polygon};
use lay::{Answer, Buying, Instance, Item, Limits, Rule};

pub fn inch(x: f64) -> Length {
    Length::from_inches(x)
}

pub fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

/// Rectangles `w` across by `h` along, not to be turned.
pub fn rectangle(name: &str, w: Length, h: Length, count: usize) -> Item {
    Item {
        name: name.into(),
        shape: Polygon::rectangle(w, h),
        count,
        turns: vec![0.0],
        rule: Rule::Free,
        exact: false,
        face: None,
    }
}

pub fn turning(item: Item) -> Item {
    Item { turns: vec![0.0, 90.0], ..item }
}

/// Plain cloth of a usable width, sold by the nanometre.
pub fn cloth(width: Length, items: Vec<Item>) -> Instance {
    let buying = Buying {
        left: Length::ZERO,
        right: width,
        roll: None,
        trim: Length::ZERO,
        step: Length::from_nm(1),
        flaws: vec![],
    };
    Instance { items, on_hand: vec![], buying, pattern: None, pins: vec![] }
}

/// Lays with a fixed amount of work, and checks the lay and its bound.
#[track_caller]
pub fn laid(instance: &Instance, work: u64) -> Answer {
    let answer = lay::lay(instance, &Limits::work(1, work * 1000)).expect("fits");
    assert_eq!(lay::verify(instance, &answer.lay), []);
    assert!(
        answer.bound.length <= answer.lay.new_length(),
        "bound {} over lay {}",
        answer.bound.length,
        answer.lay.new_length()
    );
    answer
}
