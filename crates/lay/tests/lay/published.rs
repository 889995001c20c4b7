//! Worked examples whose answers are known from outside.

use crate::shared::{cloth, inch, laid, mm, rectangle, turning};
use geometry::{Length, Spot};
use lay::{Drop, Item, Pattern, Rule};

#[test]
fn two_covers_of_half_the_width_lie_side_by_side() {
    // Four 30 x 27 on a 54 in strip: 60 long, exactly; touching is allowed.
    let answer = laid(&cloth(inch(54.0), vec![rectangle("cover", inch(27.0), inch(30.0), 4)]), 0);
    assert_eq!(answer.lay.new_length(), inch(60.0));
    assert!(answer.proven);
    // A 54 in piece on 54 in cloth.
    let wide = laid(&cloth(inch(54.0), vec![rectangle("cover", inch(54.0), inch(30.0), 1)]), 0);
    assert_eq!(wide.lay.new_length(), inch(30.0));
}

#[test]
fn household_and_leather_trade_examples_come_out_as_printed() {
    // Household page: slip seat 23.5 x 23 and two backs 23 x 22 on 54 in, no turning: laid in rows
    // 45 in, and 36 is not enough. Both backs behind one another beside the seat: 44, the least.
    let set = vec![
        rectangle("seat", inch(23.5), inch(23.0), 1),
        rectangle("back", inch(23.0), inch(22.0), 2),
    ];
    let answer = laid(&cloth(inch(54.0), set), 2000);
    assert_eq!((answer.lay.new_length(), answer.proven), (inch(44.0), true));
    // Household page: two 26 x 28 seats across 54, from 28 of length.
    let pair = laid(&cloth(inch(54.0), vec![rectangle("seat", inch(26.0), inch(28.0), 2)]), 0);
    assert_eq!((pair.lay.new_length(), pair.proven), (inch(28.0), true));
    // Leather trade page: six pads 24 x 24 on 54: two across, three rows, 72 in = 2 yd.
    let pads =
        laid(&cloth(inch(54.0), vec![turning(rectangle("pad", inch(24.0), inch(24.0), 6))]), 0);
    assert_eq!((pads.lay.new_length(), pads.proven), (inch(72.0), true));
    // Seven 26 x 28 blanks, nap locked: 4 rows of 28 = 112. Derived here: ceil(7/2).
    let seven = laid(&cloth(inch(54.0), vec![rectangle("blank", inch(26.0), inch(28.0), 7)]), 0);
    assert_eq!((seven.lay.new_length(), seven.proven), (inch(112.0), true));
    // The same with turning: 104. Proof: at most two abreast, so some chain holds four, each at
    // least 26 long; a column of three upright and one of four turned does it.
    let turned = turning(rectangle("blank", inch(26.0), inch(28.0), 7));
    let answer = laid(&cloth(inch(54.0), vec![turned]), 20_000);
    assert_eq!((answer.lay.new_length(), answer.proven), (inch(104.0), true));
}

#[test]
fn railroading_saves_the_seam_of_a_long_back() {
    // Inside back 84 x 30 and outside back 84 x 24 on 54 goods, railroaded: side by side, 84 long.
    // Derived here; the area bound is 84 too.
    let set = vec![
        rectangle("inside", inch(30.0), inch(84.0), 1),
        rectangle("outside", inch(24.0), inch(84.0), 1),
    ];
    let answer = laid(&cloth(inch(54.0), set), 0);
    assert_eq!((answer.lay.new_length(), answer.proven), (inch(84.0), true));
}

#[test]
fn a_bench_of_five_with_plinths_is_proved_to_the_millimetre() {
    // Derived here: no seat fits beside a seat or a back (786 + 604 > 1350), backs lie two abreast,
    // so five need three lengths: 5 x 1528 + 3 x 1568 = 12 344.
    let set = vec![
        turning(rectangle("seat", mm(786.0), mm(1528.0), 5)),
        turning(rectangle("back", mm(604.0), mm(1568.0), 5)),
        turning(rectangle("plinth", mm(198.0), mm(1290.0), 5)),
    ];
    let answer = laid(&cloth(mm(1350.0), set), 0);
    assert_eq!((answer.lay.new_length(), answer.proven), (mm(12_344.0), true));
    // With turn-unders 10 less: 766 + 584 = 1350 exactly, two lanes, plinths across: 8 730.
    let set = vec![
        turning(rectangle("seat", mm(766.0), mm(1508.0), 5)),
        turning(rectangle("back", mm(584.0), mm(1548.0), 5)),
        turning(rectangle("plinth", mm(198.0), mm(1290.0), 5)),
    ];
    let answer = laid(&cloth(mm(1350.0), set), 60_000);
    assert!(answer.lay.new_length() <= mm(8_730.0), "{}", answer.lay.new_length());
}

#[test]
fn eighteen_wall_panels_lie_two_abreast() {
    // 818 x 916 on 1660, no turning: nine rows, 8 244. Derived here.
    let answer = laid(&cloth(mm(1660.0), vec![rectangle("panel", mm(818.0), mm(916.0), 18)]), 0);
    assert_eq!((answer.lay.new_length(), answer.proven), (mm(8_244.0), true));
}

fn repeat(length: f64, width: f64, drop: Drop) -> Pattern {
    let width = (width > 0.0).then(|| inch(width));
    Pattern { length: Some(inch(length)), width, drop, origin: Spot::default() }
}

fn matched(item: Item) -> Item {
    Item { rule: Rule::Matched { group: 0, anchor: Spot::default() }, ..item }
}

#[test]
fn six_matched_panels_start_on_whole_repeats() {
    // Six 25 x 25, repeats 13 1/2 and 27, cloth 54, all matched: two across, row starts 0, 27, 54,
    // run 79 (75 plain). Derived here; the buying chart (+30 % at a sum of 40 1/2) must lie above.
    let panels = matched(rectangle("panel", inch(25.0), inch(25.0), 6));
    let mut instance = cloth(inch(54.0), vec![panels]);
    instance.pattern = Some(repeat(13.5, 27.0, Drop::Straight));
    let answer = laid(&instance, 0);
    assert_eq!((answer.lay.new_length(), answer.proven), (inch(79.0), true));
    assert!(answer.lay.new_length() <= inch(75.0 * 1.30));
}

#[test]
fn full_widths_matched_over_their_seams_each_take_whole_repeats() {
    // Cuts of 30 with repeat 18 matched across four widths: 3 x 36 + 30 = 138. Derived here.
    let widths = matched(rectangle("width", inch(54.0), inch(30.0), 4));
    let mut instance = cloth(inch(54.0), vec![widths]);
    instance.pattern = Some(repeat(18.0, 0.0, Drop::Straight));
    let answer = laid(&instance, 0);
    assert_eq!((answer.lay.new_length(), answer.proven), (inch(138.0), true));
}

#[test]
fn bounds_say_why() {
    let set = vec![
        rectangle("seat", mm(786.0), mm(1528.0), 5),
        rectangle("back", mm(604.0), mm(1568.0), 5),
    ];
    let bound = lay::least_length(&cloth(mm(1350.0), set));
    let lay::Reason::Abreast { alone, beside, abreast, repeats } = bound.reason else {
        panic!("{:?}", bound.reason)
    };
    assert_eq!((alone, beside, abreast, repeats), (vec![0], vec![1], 2, false));
    assert_eq!(bound.length, Length::from_mm(12_344.0));
}

#[test]
fn perfect_packings_of_the_literature_are_found_and_proven() {
    // Hopper and Turton, European Journal of Operational Research 128 (2001), set C, C1-P1: the
    // areas add up to 20 x 20; quarter turns allowed.
    let c1_p1 = [
        (2, 12),
        (7, 12),
        (8, 6),
        (3, 6),
        (3, 5),
        (5, 5),
        (3, 12),
        (3, 7),
        (5, 7),
        (2, 6),
        (3, 2),
        (4, 2),
        (3, 4),
        (4, 4),
        (9, 2),
        (11, 2),
    ];
    let total: i64 = c1_p1.iter().map(|&(w, h)| w * h).sum();
    assert_eq!(total, 400);
    let items = c1_p1
        .iter()
        .map(|&(w, h)| turning(rectangle("r", mm(w as f64), mm(h as f64), 1)))
        .collect();
    let answer = laid(&cloth(mm(20.0), items), 100_000);
    assert_eq!((answer.lay.new_length(), answer.proven), (mm(20.0), true));
}

/// Beasley, "An exact two-dimensional non-guillotine cutting tree search procedure", Operations
/// Research 33 (1985), instances 1 to 12: sizes (across, along) with every demanded piece to be packed
/// into a strip without turning, as strip-packing papers read them. Optima by a constraint solver, but for
/// the ninth, of which it knew no more than 49 to 50.
#[test]
fn small_strips_are_packed_to_the_proven_optimum_and_proven_again() {
    let repeated = |sizes: &[(i64, i64, usize)]| -> Vec<Item> {
        let l = |n: i64| Length::from_nm(n * 1_000_000);
        sizes.iter().map(|&(w, h, n)| rectangle("piece", l(w), l(h), n)).collect()
    };
    // Width of the strip; across, along and how many of each; optimum.
    type Row<'a> = (f64, &'a [(i64, i64, usize)], f64);
    let table: [Row; 12] = [
        (10.0, &[(7, 3, 2), (2, 8, 2), (2, 10, 1), (4, 5, 3), (9, 2, 2)], 23.0),
        (
            10.0,
            &[(10, 1, 3), (3, 5, 2), (3, 9, 3), (1, 6, 3), (8, 3, 3), (1, 4, 1), (3, 7, 2)],
            30.0,
        ),
        (
            10.0,
            &[
                (2, 3, 2),
                (2, 7, 3),
                (5, 4, 2),
                (1, 4, 2),
                (10, 1, 1),
                (4, 8, 1),
                (2, 4, 2),
                (7, 3, 3),
                (2, 6, 3),
                (1, 9, 2),
            ],
            28.0,
        ),
        (10.0, &[(2, 15, 2), (3, 7, 1), (1, 9, 1), (3, 8, 1), (2, 12, 2)], 20.0),
        (
            10.0,
            &[(3, 10, 2), (3, 9, 1), (2, 12, 3), (3, 11, 1), (3, 12, 3), (1, 11, 3), (10, 2, 1)],
            36.0,
        ),
        (
            10.0,
            &[
                (9, 2, 1),
                (2, 10, 3),
                (4, 2, 1),
                (8, 2, 2),
                (8, 3, 1),
                (1, 4, 1),
                (4, 6, 3),
                (3, 10, 1),
                (2, 11, 1),
                (5, 4, 1),
            ],
            31.0,
        ),
        (20.0, &[(9, 1, 3), (3, 16, 1), (3, 18, 1), (2, 20, 1), (1, 3, 2)], 20.0),
        (
            20.0,
            &[(3, 15, 1), (6, 6, 3), (1, 13, 2), (7, 8, 2), (5, 18, 3), (4, 12, 1), (3, 8, 1)],
            33.0,
        ),
        (
            20.0,
            &[
                (2, 14, 1),
                (5, 1, 1),
                (4, 20, 2),
                (3, 12, 3),
                (8, 11, 2),
                (6, 11, 2),
                (9, 7, 1),
                (5, 17, 1),
                (14, 7, 2),
                (7, 1, 3),
            ],
            50.0,
        ),
        (30.0, &[(30, 1, 3), (7, 25, 1), (9, 27, 3), (2, 30, 3), (7, 26, 3)], 80.0),
        (
            30.0,
            &[(23, 3, 3), (5, 29, 1), (2, 21, 3), (11, 17, 3), (7, 14, 2), (5, 8, 2), (8, 21, 1)],
            52.0,
        ),
        (
            30.0,
            &[
                (6, 16, 1),
                (1, 24, 3),
                (28, 6, 3),
                (23, 8, 3),
                (1, 5, 3),
                (26, 6, 2),
                (30, 2, 2),
                (11, 9, 3),
                (30, 4, 1),
                (13, 16, 1),
            ],
            87.0,
        ),
    ];
    for (width, sizes, optimum) in table {
        let answer = laid(&cloth(mm(width), repeated(sizes)), 1_500_000);
        assert_eq!((answer.lay.new_length(), answer.proven), (mm(optimum), true));
    }
}
