//! Sets of photographs by seed: what they are drawn from.

use super::{Chance, Light, Shot, Stuff, shapes};

/// Seeds used while the measuring was built and its tolerance set.
pub const TUNING: std::ops::Range<u64> = 0..1000;
/// Seeds kept for judging.
pub const JUDGING: u64 = 1_000_000;

const PAIRS: [(Stuff, Stuff); 9] = [
    (Stuff::Wood, Stuff::RedCloth),
    (Stuff::Wood, Stuff::Paper),
    (Stuff::Concrete, Stuff::RedCloth),
    (Stuff::Concrete, Stuff::DarkSheet),
    (Stuff::Carpet, Stuff::Ply),
    (Stuff::Carpet, Stuff::Paper),
    (Stuff::DarkSheet, Stuff::Ply),
    (Stuff::DarkSheet, Stuff::Wood),
    (Stuff::Paper, Stuff::RedCloth),
];

/// A photograph with contrast, up to 20 degrees of tilt, four sheets and two tapes.
pub fn with_contrast(seed: u64, size: (usize, usize)) -> Shot {
    let mut chance = Chance::new(seed ^ 0x00ab_cdef);
    let loops = shapes::any(&mut chance);
    let (floor, part) = chance.pick(&PAIRS);
    Shot {
        size,
        tilt: chance.within(1.0, 20.0),
        floor,
        part,
        thickness: chance.pick(&[0.0, 0.0, 3.0, 6.0, 9.0, 12.0, 18.0]),
        curl: chance.within(0.2, 1.3),
        light: chance.pick(&[Light::Even, Light::Uneven, Light::Shadow]),
        blur: chance.within(0.6, 1.8),
        quality: chance.pick(&[75, 85, 92, 95]),
        contact_shadow: chance.within(0.1, 0.5),
        focal_told: chance.pick(&[Some(1.0), Some(1.0), None]),
        rolling: chance.within(-1.5, 1.5),
        ..Shot::of(seed, loops)
    }
}

/// The same as an old cover laid flat: thin, its edge frayed by 0.4 to 1.2 mm.
pub fn old_cover(shot: Shot) -> Shot {
    let mut chance = Chance::new(shot.seed ^ 0x00fe_dcba);
    Shot { thickness: 0.0, fray: chance.within(0.4, 1.2), contact_shadow: 0.15, ..shot }
}

/// By how much a tape is read wrongly, in mm: 3 to 15, too long or too short.
pub fn careless(seed: u64) -> f64 {
    let mut chance = Chance::new(seed ^ 0x0bad_7a9e);
    chance.within(3.0, 15.0) * chance.pick(&[-1.0, 1.0])
}
