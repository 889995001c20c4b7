//! The arc over a chord: channels, crowns, curved backs.

use std::fmt;

/// A circular arc known by its chord and rise. Millimetres and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Straight distance between the ends.
    pub chord: f64,
    /// Greatest height over the chord; nought is a straight line.
    pub rise: f64,
}

/// Why chord and rise make no arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ArcError {
    /// The chord must be above zero.
    Chord,
    /// The rise must lie between nought and half the chord (a half circle).
    Rise,
}

impl fmt::Display for ArcError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Chord => "the chord must be above zero",
            Self::Rise => "the rise must be at most half the chord",
        })
    }
}

impl Arc {
    /// The arc over `chord` with `rise`, at most a half circle.
    ///
    /// # Errors
    /// `Chord` if the chord is not above zero, `Rise` if the rise is negative or over half of it.
    pub fn over(chord: f64, rise: f64) -> Result<Self, ArcError> {
        if !(chord > 0.0 && chord.is_finite()) {
            return Err(ArcError::Chord);
        }
        // A hair of slack, so that a measured half circle is one.
        if !(0.0..=chord / 2.0 + 1e-9).contains(&rise) {
            return Err(ArcError::Rise);
        }
        Ok(Self { chord, rise: rise.min(chord / 2.0) })
    }

    /// Radius: `R = (c^2/4 + h^2) / (2 h)`; infinite for a straight line.
    ///
    /// Source: the chord theorem; worked in carpentry columns (chord 96, rise 12: 102).
    pub fn radius(self) -> f64 {
        if self.rise == 0.0 {
            return f64::INFINITY;
        }
        (self.chord * self.chord / 4.0 + self.rise * self.rise) / (2.0 * self.rise)
    }

    /// Angle at the centre: `2 asin(c / 2R)`.
    pub fn angle(self) -> f64 {
        if self.rise == 0.0 {
            return 0.0;
        }
        // 4 atan(2h/c) is the same angle, without loss near a half circle.
        4.0 * libm::atan(2.0 * self.rise / self.chord)
    }

    /// Length along the curve: `R` times the angle, or the chord itself.
    pub fn length(self) -> f64 {
        if self.rise == 0.0 { self.chord } else { self.radius() * self.angle() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arcs_are_those_of_the_carpentry_columns() {
        // Chord and rise to radius as worked in carpentry columns (96/12: 102, 96/24: 60, 20/2: 26);
        // arc lengths from 2 R asin(c/2R), computed here. Last: half-round 4 in flute.
        for (chord, rise, radius, length) in [
            (96.0, 12.0, 102.0, 99.9513),
            (96.0, 24.0, 60.0, 111.2754),
            (20.0, 2.0, 26.0, 20.5291),
            (4.0, 1.0, 2.5, 4.6365),
            (24.0, 3.0, 25.5, 24.988),
            (60.0, 9.0, 54.5, 63.538),
            (12.0, 2.0, 10.0, 12.870),
            (20.0, 5.0, 12.5, 23.182),
            (20.0, 10.0, 10.0, 31.416),
            (4.0, 2.0, 2.0, std::f64::consts::TAU),
        ] {
            let arc = Arc::over(chord, rise).unwrap();
            assert!((arc.radius() - radius).abs() < 1e-9, "radius of {chord} and {rise}");
            assert!((arc.length() - length).abs() < 5e-4, "{} for {length}", arc.length());
        }
    }

    #[test]
    fn a_straight_line_is_its_own_arc_and_more_than_half_a_circle_is_refused() {
        assert_eq!(Arc::over(5.0, 0.0).unwrap().length(), 5.0);
        assert_eq!(Arc::over(5.0, 2.6), Err(ArcError::Rise));
        assert_eq!(Arc::over(5.0, -0.1), Err(ArcError::Rise));
        assert_eq!(Arc::over(0.0, 0.0), Err(ArcError::Chord));
        assert_eq!(Arc::over(f64::NAN, 0.0), Err(ArcError::Chord));
    }
}
