//! Marks of the open 36h11 family: six by six cells that differ from each other, however turned, in eleven.

/// The cells of a mark, row by row from its upper left, a set bit for a white cell; the upper left is bit 35.
///
/// Source: the AprilTag 36h11 family (Olson 2011; BSD 2-clause), the first 136 of its 587 marks, in the
/// orientation in which OpenCV draws them (read from its Python package).
pub const CODES: [u64; 136] = [
    0x21a146bab,
    0x92d18fe9b,
    0x7089014bb,
    0x193979e27,
    0x44153d3d7,
    0x35cd5b8cf,
    0xa10ba56a0,
    0x2b874a608,
    0xb57fb8d44,
    0x4e20b5a64,
    0x61d897f2c,
    0xab3469ffc,
    0x594ca45c2,
    0xfa1c2d2e2,
    0x97c24b972,
    0x75928624a,
    0x1caafe99a,
    0x3236ddc16,
    0x884e527d6,
    0x5771a8c7e,
    0xf52925b81,
    0x2e59cc1a1,
    0x7fa58ab31,
    0xeb43384f9,
    0x3913d5345,
    0xd79b1a3b5,
    0x0dfbe768d,
    0x5cd7a031d,
    0xb9c8f7a4b,
    0x46987e06b,
    0x6e0c5d527,
    0x5bc567bb4,
    0x1e6302bc2,
    0x8ac7d046a,
    0xa65fe2326,
    0x5400eb616,
    0xf7a066836,
    0x2dd0afdf6,
    0x3b9cb60b1,
    0xad6a1caf9,
    0x93b62efb5,
    0xbb210d93d,
    0xdee55094b,
    0xa0cd1479b,
    0x2a23abb27,
    0x4f67f4b5f,
    0x58a815818,
    0x743427d64,
    0x1dec40874,
    0x892ab3a02,
    0x38d5742ee,
    0x0c43567a1,
    0x5db311cb1,
    0xc957ca1f9,
    0xa22457823,
    0x29ace98f3,
    0xccc52c528,
    0xda8b3578c,
    0xd5b4b9e36,
    0xac9cdd3ce,
    0xcbdaa8391,
    0x1986256b1,
    0xbae6cc889,
    0xdf91b10e5,
    0xa1a9d5a75,
    0x2b651aa9d,
    0x4d5c2e19d,
    0x5b163736b,
    0xf753d60a8,
    0x5e84b37d2,
    0xfce43a9f2,
    0xbb926d1a6,
    0xed8d236e5,
    0x6af846f37,
    0xea56a5138,
    0x5d497146c,
    0x470360eca,
    0x8c4bcd67a,
    0x295f3901e,
    0xf6b577e97,
    0x520602f5a,
    0xb5119492e,
    0x48e299ab7,
    0xb79f5737a,
    0xa814c683e,
    0x2da900583,
    0xd4aba4797,
    0x982a0e65c,
    0xf480ccc15,
    0x0b20ea732,
    0xa9506710a,
    0x0486e2ee1,
    0xb0a972615,
    0xe73f3a257,
    0x17e205b98,
    0xec9ab2b24,
    0xd9339e076,
    0xeb8874f99,
    0x9420a55cc,
    0xe364ff992,
    0x8a4cb8f0a,
    0xf72aee766,
    0x73cc6b569,
    0xc99ca6a59,
    0x366a0c535,
    0x509e51943,
    0xba6d227d1,
    0xd2acf163b,
    0xd989fef68,
    0x641707bb2,
    0xf9bd312ab,
    0x77739c207,
    0x68bf8d1bf,
    0xdedd84a6e,
    0x42eaec49b,
    0x302b68d53,
    0x4ebb930ce,
    0x439c5d9b5,
    0xe1fc9228d,
    0xf8a6a8d4a,
    0xb53902a18,
    0xb163475ee,
    0xad2f5af29,
    0xaab5dc850,
    0xb3ec25786,
    0x4799c4405,
    0x8bc68dc04,
    0x702f15dde,
    0xb42293da9,
    0x1acad0382,
    0x813363971,
    0x0e692ad70,
    0x8ad05c5b9,
    0x85e654c1b,
    0x3d0ac2b3b,
    0x4bbfa0552,
];

/// Cells of a mark along a side, its black border included.
pub const CELLS: usize = 8;

/// Whether a cell of a mark is white; row and column from the upper left, border included.
pub fn is_white(code: usize, row: usize, column: usize) -> bool {
    let inside = 1..CELLS - 1;
    inside.contains(&row)
        && inside.contains(&column)
        && CODES[code] >> (35 - ((row - 1) * 6 + column - 1)) & 1 == 1
}

/// The cells turned a quarter counter-clockwise.
const fn turned(cells: u64) -> u64 {
    let (mut out, mut row) = (0, 0);
    while row < 6 {
        let mut column = 0;
        while column < 6 {
            // What stands in the last column, top to bottom, becomes the first row.
            let bit = cells >> (35 - (column * 6 + 5 - row)) & 1;
            out |= bit << (35 - (row * 6 + column));
            column += 1;
        }
        row += 1;
    }
    out
}

/// Which mark the cells are, and how many quarter turns counter-clockwise bring them upright; `None` if they
/// are none of the first `known` within `wrong` cells.
pub fn read(cells: u64, known: usize, wrong: u32) -> Option<(usize, usize)> {
    let mut upright = cells;
    for quarter in 0..4 {
        let near = |code: &u64| (code ^ upright).count_ones() <= wrong;
        if let Some(found) = CODES[..known.min(CODES.len())].iter().position(near) {
            return Some((found, quarter));
        }
        upright = turned(upright);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Olson, AprilTag (2011): two marks of the family differ in eleven cells at least.
    #[test]
    fn marks_differ_in_eleven_cells_however_turned() {
        for (i, a) in CODES.iter().enumerate() {
            for (j, b) in CODES.iter().enumerate().skip(i) {
                let mut other = *b;
                for quarter in 0..4 {
                    assert!((i == j && quarter == 0) || (a ^ other).count_ones() >= 11);
                    other = turned(other);
                }
            }
        }
    }

    #[test]
    fn four_quarter_turns_change_nothing() {
        let once = turned(CODES[3]);
        assert_ne!(once, CODES[3]);
        assert_eq!(turned(turned(turned(once))), CODES[3]);
        assert_eq!(read(once, 136, 3), Some((3, 3)));
    }
}
