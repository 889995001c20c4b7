//! Random numbers and noise that are the same for the same seed.

/// The same numbers for the same seed.
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5bf0_3635)
    }
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        hash(self.0)
    }
    /// From 0 to 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }
    /// About nought, with a spread of one.
    pub fn bell(&mut self) -> f64 {
        let (a, b) = (self.share().max(1e-12), self.share());
        (-2.0 * libm::log(a)).sqrt() * libm::cos(std::f64::consts::TAU * b)
    }
    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[(self.next() % from.len() as u64) as usize]
    }
}

fn hash(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

pub fn cell(x: i64, y: i64, seed: u64) -> f32 {
    let z = (x as u64).wrapping_mul(0x8da6_b343)
        ^ (y as u64).wrapping_mul(0xd816_3841).rotate_left(21)
        ^ seed;
    (hash(z) >> 40) as f32 / (1u32 << 23) as f32 - 1.0
}

/// Smooth noise from -1 to 1 with spots of about `size` mm.
pub fn noise(x: f64, y: f64, size: f64, seed: u64) -> f32 {
    let (x, y) = (x / size, y / size);
    let (i, j) = (x.floor(), y.floor());
    let (u, v) = ((x - i) as f32, (y - j) as f32);
    let (u, v) = (u * u * (3.0 - 2.0 * u), v * v * (3.0 - 2.0 * v));
    let (i, j) = (i as i64, j as i64);
    let top = cell(i, j, seed) * (1.0 - u) + cell(i + 1, j, seed) * u;
    let bottom = cell(i, j + 1, seed) * (1.0 - u) + cell(i + 1, j + 1, seed) * u;
    top * (1.0 - v) + bottom * v
}
