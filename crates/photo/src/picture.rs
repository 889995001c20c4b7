//! A decoded picture: light as the sensor saw it, by place.

/// A place in a picture, in pixels from the middle of the upper left pixel; x to the right, y down.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pixel {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Pixel {
    /// At a place.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// How far from another, in pixels.
    pub fn distance(self, other: Self) -> f64 {
        libm::hypot(self.x - other.x, self.y - other.y)
    }
}

/// A picture of three colours, upright.
#[derive(Clone)]
pub struct Picture {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
    /// Light by byte: sRGB undone.
    linear: [f32; 256],
}

impl Picture {
    /// From rows of red, green, blue; `None` if there are not `3 * width * height` bytes, or no pixel.
    pub fn new(width: usize, height: usize, rgb: Vec<u8>) -> Option<Self> {
        let fits = width.checked_mul(height)?.checked_mul(3)? == rgb.len();
        (fits && !rgb.is_empty()).then(|| Self { width, height, rgb, linear: linear() })
    }

    /// In pixels.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// In pixels.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// Whether a place lies in the picture, with a pixel to spare.
    pub fn holds(&self, at: Pixel) -> bool {
        let inside = |v: f64, size: usize| v >= 1.0 && v <= size as f64 - 2.0;
        inside(at.x, self.width) && inside(at.y, self.height)
    }

    /// Brightness by rows, 0 to 255: a quarter red, half green, a quarter blue.
    pub fn grey(&self) -> Grey {
        let of = |p: &[u8]| {
            ((u16::from(p[0]) + 2 * u16::from(p[1]) + u16::from(p[2]) + 2) / 4).min(255) as u8
        };
        Grey {
            width: self.width,
            height: self.height,
            bytes: self.rgb.chunks_exact(3).map(of).collect(),
        }
    }

    /// Light at a place, between pixels in straight lines; at the edge that of the nearest pixel.
    pub fn light(&self, at: Pixel) -> [f32; 3] {
        let x = at.x.clamp(0.0, self.width as f64 - 1.001);
        let y = at.y.clamp(0.0, self.height as f64 - 1.001);
        let (left, top) = (x as usize, y as usize);
        let (right, below) = ((left + 1).min(self.width - 1), (top + 1).min(self.height - 1));
        let (fx, fy) = ((x - left as f64) as f32, (y - top as f64) as f32);
        let of = |column: usize, row: usize, colour: usize| {
            self.linear[usize::from(self.rgb[3 * (row * self.width + column) + colour])]
        };
        std::array::from_fn(|c| {
            let upper = of(left, top, c) * (1.0 - fx) + of(right, top, c) * fx;
            let lower = of(left, below, c) * (1.0 - fx) + of(right, below, c) * fx;
            upper * (1.0 - fy) + lower * fy
        })
    }
}

/// Source: IEC 61966-2-1 (sRGB).
fn linear() -> [f32; 256] {
    std::array::from_fn(|byte| {
        let v = byte as f64 / 255.0;
        (if v <= 0.040_45 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) }) as f32
    })
}

/// Brightness by rows.
pub struct Grey {
    /// In pixels.
    pub width: usize,
    /// In pixels.
    pub height: usize,
    /// Row by row.
    pub bytes: Vec<u8>,
}

impl Grey {
    /// Brightness at a place, between pixels in straight lines; at the edge that of the nearest pixel.
    pub fn at(&self, at: Pixel) -> f64 {
        let x = at.x.clamp(0.0, self.width as f64 - 1.001);
        let y = at.y.clamp(0.0, self.height as f64 - 1.001);
        let (left, top) = (x as usize, y as usize);
        let (fx, fy) = (x - left as f64, y - top as f64);
        let of = |column: usize, row: usize| {
            let (column, row) = (column.min(self.width - 1), row.min(self.height - 1));
            f64::from(self.bytes[row * self.width + column])
        };
        let upper = of(left, top) * (1.0 - fx) + of(left + 1, top) * fx;
        let lower = of(left, top + 1) * (1.0 - fx) + of(left + 1, top + 1) * fx;
        upper * (1.0 - fy) + lower * fy
    }

    /// Edges drawn harder: each pixel moved away from the mean of its neighbours, for pictures out of focus.
    pub fn sharpened(&self, reach: usize, by: f64) -> Self {
        let means = self.means(reach);
        let sharp = |(&own, mean): (&u8, f64)| {
            (f64::from(own) + by * (f64::from(own) - mean)).clamp(0.0, 255.0) as u8
        };
        let bytes = self.bytes.iter().zip(means).map(sharp).collect();
        Self { width: self.width, height: self.height, bytes }
    }

    /// The mean of the square of `2 reach + 1` pixels about each pixel, row by row.
    pub fn means(&self, reach: usize) -> impl Iterator<Item = f64> + '_ {
        let stride = self.width + 1;
        let mut sums = vec![0u32; stride * (self.height + 1)];
        for row in 0..self.height {
            let mut along = 0u32;
            for column in 0..self.width {
                along += u32::from(self.bytes[row * self.width + column]);
                sums[(row + 1) * stride + column + 1] =
                    sums[row * stride + column + 1].wrapping_add(along);
            }
        }
        (0..self.width * self.height).map(move |i| {
            let (row, column) = (i / self.width, i % self.width);
            let (top, bottom) = (row.saturating_sub(reach), (row + reach + 1).min(self.height));
            let (left, right) =
                (column.saturating_sub(reach), (column + reach + 1).min(self.width));
            // Sums may have gone round; their difference has not.
            let inside = sums[bottom * stride + right]
                .wrapping_sub(sums[top * stride + right])
                .wrapping_sub(sums[bottom * stride + left])
                .wrapping_add(sums[top * stride + left]);
            f64::from(inside) / ((bottom - top) * (right - left)) as f64
        })
    }
}
