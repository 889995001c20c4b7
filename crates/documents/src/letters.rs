//! How wide a text is set, from the type itself.

use std::sync::OnceLock;
use ttf_parser::Face;

/// The type of all papers and drawings: regular, semibold.
pub const FONTS: [&[u8]; 2] =
    [include_bytes!("../fonts/Inter-Regular.otf"), include_bytes!("../fonts/Inter-SemiBold.otf")];

/// Widths of the letters most texts are written with, in parts of the type's height.
const KNOWN: usize = 0x180;

struct Widths {
    known: Vec<f64>,
    /// The widest figure: what is not in the table is counted as this.
    other: f64,
}

fn widths(bold: bool) -> &'static Widths {
    static WIDTHS: OnceLock<[Widths; 2]> = OnceLock::new();
    let both = WIDTHS.get_or_init(|| FONTS.map(read));
    &both[usize::from(bold)]
}

fn read(font: &'static [u8]) -> Widths {
    let Ok(face) = Face::parse(font, 0) else {
        return Widths { known: vec![0.7; KNOWN], other: 1.0 };
    };
    let per_em = f64::from(face.units_per_em());
    let advance = |c: u32| {
        let glyph = char::from_u32(c).and_then(|c| face.glyph_index(c))?;
        Some(f64::from(face.glyph_hor_advance(glyph)?) / per_em)
    };
    let known = (0..KNOWN as u32).map(|c| advance(c).unwrap_or(0.0)).collect();
    Widths { known, other: 1.0 }
}

/// How wide a line of text is, mm, in type of a height in mm.
pub fn width(text: &str, size: f64, bold: bool) -> f64 {
    let widths = widths(bold);
    let one = |c: char| widths.known.get(c as usize).copied().unwrap_or(widths.other);
    text.chars().map(one).sum::<f64>() * size
}

/// How far capitals and figures rise over the line they stand on, in parts of the type's height.
/// Source: cap height in the type's own OS/2 table (1490 of 2048).
pub const RISE: f64 = 0.73;

/// How far letters hang below that line, in the same parts.
pub const FALL: f64 = 0.2;

#[cfg(test)]
mod tests {
    use super::width;

    #[test]
    fn bold_is_wider_and_a_fraction_is_as_wide_as_its_signs() {
        assert!(width("29 1/2", 10.0, true) > width("29 1/2", 10.0, false));
        let parts: f64 = ["2", "9", " ", "1", "/", "2"].iter().map(|t| width(t, 10.0, false)).sum();
        assert!((width("29 1/2", 10.0, false) - parts).abs() < 1e-9);
        assert!((20.0..45.0).contains(&width("29 1/2", 10.0, false)));
    }
}
