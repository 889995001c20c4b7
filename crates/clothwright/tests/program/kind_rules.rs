//! Rules that hold whatever is measured: what is sewn together is as long, nothing is lost on the way.

use crate::kinds::{made, part, size, stitch};
use proptest::prelude::*;
use trade::part::{Part, Stuff};

/// Seams of sewn covers, in inches: what must be equal for the pieces to meet.
fn seam_length(part: &Part, side: usize) -> f64 {
    let path = stitch(part);
    let seg = path.segs().nth(side).unwrap();
    seg.length() / 25.4
}

proptest! {
    #[test]
    fn faces_of_a_block_meet_edge_to_edge(w in 10.0_f64..60.0, d in 10.0_f64..40.0, f in 1.0_f64..6.0, b in 1.0_f64..6.0) {
        let wedge = made(&format!("kind = \"wedge cushion\"\nwidth = \"{w:.3}\"\ndepth = \"{d:.3}\"\nfront = \"{f:.3}\"\nback = \"{b:.3}\"\nzip = false"));
        let side = |name: &str, i: usize| seam_length(part(&wedge, name), i);
        // Boxing is walked from its lower left: bottom, right, top, left.
        for (name, top, bottom) in [("boxing, front", 0, 0), ("boxing, right", 1, 3), ("boxing, back", 2, 2), ("boxing, left", 3, 1)] {
            prop_assert!((side(name, 2) - side("top panel", top)).abs() < 1e-6);
            prop_assert!((side(name, 0) - side("bottom panel", bottom)).abs() < 1e-6);
        }
        let ring = ["boxing, front", "boxing, right", "boxing, back", "boxing, left"];
        for i in 0..4 {
            prop_assert!((side(ring[i], 1) - side(ring[(i + 1) % 4], 3)).abs() < 1e-6);
        }
    }

    #[test]
    fn leaning_cushions_meet_edge_to_edge(w in 20.0_f64..60.0, d in 20.0_f64..40.0, angle in -40_i32..40, which in 0_usize..3) {
        let leans = ["back", "left", "right"][which];
        let cushion = made(&format!("kind = \"sloped cushion\"\nwidth = \"{w:.3}\"\ndepth = \"{d:.3}\"\nangle = {angle}\nleans = \"{leans}\"\nzip = false\nfoam = \"Four\""));
        let side = |name: &str, i: usize| seam_length(part(&cushion, name), i);
        for (name, top, bottom) in [("boxing, front", 0, 0), ("boxing, right", 1, 3), ("boxing, back", 2, 2), ("boxing, left", 3, 1)] {
            prop_assert!((side(name, 2) - side("top panel", top)).abs() < 1e-6);
            prop_assert!((side(name, 0) - side("bottom panel", bottom)).abs() < 1e-6);
        }
    }

    #[test]
    fn a_cone_meets_its_discs(l in 5.0_f64..60.0, large in 4.0_f64..14.0, share in 0.05_f64..0.99) {
        let small = large * share;
        let roll = made(&format!("kind = \"tapered bolster\"\nlength = \"{l:.3}\"\nlarge = \"{large:.3}\"\nsmall = \"{small:.3}\""));
        let path = stitch(part(&roll, "body"));
        let arcs = |outer: bool| -> f64 {
            path.segs().filter(|s| if outer { s.bulge > 0.0 } else { s.bulge < 0.0 }).map(|s| s.length() / 25.4).sum()
        };
        let round = |name: &str| stitch(part(&roll, name)).perimeter() / 25.4;
        prop_assert!((arcs(true) - round("end, larger")).abs() < 1e-4);
        prop_assert!((arcs(false) - round("end, smaller")).abs() < 1e-4);
    }

    #[test]
    fn a_waterfall_goes_round_its_ends(d in 10.0_f64..30.0, round in any::<bool>()) {
        let front = if round { "round" } else { "square" };
        let cushion = made(&format!("kind = \"waterfall cushion\"\nwidth = \"20\"\ndepth = \"{d:.3}\"\nfront = \"{front}\"\nfoam = \"Four\""));
        let run = size(&cushion, "main panel").1 - 1.0;
        let end = stitch(part(&cushion, "end")).perimeter() / 25.4 - 4.0;
        prop_assert!((run - end).abs() < 1e-3, "{run} {end}");
    }

    #[test]
    fn curved_faces_grow_outwards(c in 30.0_f64..100.0, share in 0.02_f64..0.45, panels in 1_usize..6) {
        let rise = c * share;
        let back = made(&format!("kind = \"curved back\"\nchord = \"{c:.3}\"\nrise = \"{rise:.3}\"\nheight = \"20\"\nfaces = \"both\"\npanels = {panels}\nfoam = \"Two\"\nboard = \"Half\""));
        // Cut widths less ends and seams are the faces.
        let face = |which: &str, beyond: f64| -> f64 {
            let parts = back.parts.iter().filter(|p| p.name.starts_with(which));
            let cut: f64 = parts.map(|p| p.count as f64 * p.size().0.inches()).sum();
            cut - 2.0 * beyond - (panels as f64 - 1.0) * 1.0
        };
        let (inside, outside) = (face("inside", 4.5), face("outside", 1.0));
        prop_assert!(inside < outside && c - 1e-6 < outside);
        // Between two concentric arcs the difference is the angle times their distance.
        let r = c * c / (8.0 * rise) + rise / 2.0;
        let angle = 4.0 * (2.0 * rise / c).atan();
        prop_assert!((outside - inside - 2.5 * angle).abs() < 1e-2, "{outside} {inside} {r}");
    }

    #[test]
    fn twice_the_size_is_twice_the_grid(w in 20.0_f64..50.0, h in 15.0_f64..30.0, across in 1_usize..6, high in 1_usize..5) {
        let field = |k: f64| {
            let back = made(&format!("kind = \"buttoned back\"\nwidth = \"{:.3}\"\nheight = \"{:.3}\"\nacross = {across}\nhigh = {high}\ndepth = \"{:.3}\"\nallowances = {{ turn_under = \"0\" }}", w * k, h * k, k));
            (size(&back, "cover"), back.quantities.buttons)
        };
        let (one, two) = (field(1.0), field(2.0));
        prop_assert_eq!(one.1, across * (high + 1) + high * (across + 1));
        prop_assert!((two.0.0 - 2.0 * one.0.0).abs() < 0.02 && (two.0.1 - 2.0 * one.0.1).abs() < 0.02);
        prop_assert!(one.0.0 >= w - 1e-6 && one.0.1 >= h - 1e-6);
    }

    #[test]
    fn channels_in_strips_or_whole_cover_the_same_field(w in 20.0_f64..60.0, n in 2_usize..12, share in 0.0_f64..0.45, level in any::<bool>()) {
        let loft = share * w / n as f64;
        let lie = if level { "level" } else { "upright" };
        let lines = |cut: &str| format!("kind = \"channelled back\"\nwidth = \"{w:.3}\"\nheight = \"{w:.3}\"\nchannels = {n}\nloft = \"{loft:.3}\"\nlie = \"{lie}\"\ncut = \"{cut}\"\nboard = \"Half\"");
        let across = |p: &Part| if level { p.size().1.inches() } else { p.size().0.inches() };
        let whole = made(&lines("whole"));
        let strips = made(&lines("strips"));
        let joined: f64 = strips
            .parts
            .iter()
            .filter(|p| p.stuff == Stuff::Cloth)
            .map(|p| p.count as f64 * across(p))
            .sum();
        let seams = (n as f64 - 1.0) * 1.0;
        prop_assert!((joined - seams - across(part(&whole, "cover"))).abs() < 1e-2, "{joined}");
    }

    #[test]
    fn inches_and_millimetres_give_the_same_parts(w in 10.0_f64..50.0, d in 10.0_f64..30.0) {
        let lines = |unit: bool| {
            let show = |x: f64| if unit { format!("{:.4} mm", x * 25.4) } else { format!("{x:.6}") };
            format!("kind = \"shaped cushion\"\nshape = \"tee\"\nwidth = \"{}\"\nbody = \"{}\"\ndepth = \"{}\"\near = \"{}\"\nwelt = \"both\"\nfoam = \"Four\"", show(w), show(w * 0.7), show(d), show(d * 0.2))
        };
        let (a, b) = (made(&lines(false)), made(&lines(true)));
        for (p, q) in a.parts.iter().zip(&b.parts) {
            let ((pw, ph), (qw, qh)) = (p.size(), q.size());
            prop_assert!((pw - qw).abs().mm() < 0.02 && (ph - qh).abs().mm() < 0.02, "{} {pw} {qw}", p.name);
        }
    }
}
