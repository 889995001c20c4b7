//! Rules that hold whatever is measured: what is sewn together is as long, nothing is lost on the way.

use crate::kinds::{made, part, size, stitch};
use crate::said;
use proptest::prelude::*;
use trade::part::{Line, Meaning, Part, Stuff};

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
            let parts = back.parts.iter().filter(|p| said(&p.name).starts_with(which));
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
            prop_assert!((pw - qw).abs().mm() < 0.05 && (ph - qh).abs().mm() < 0.05, "{} {pw} {qw}", said(&p.name));
        }
    }

    #[test]
    fn an_ottoman_meets_at_its_top(w in 8.0_f64..40.0, d in 8.0_f64..40.0, h in 4.0_f64..30.0) {
        let round = made(&format!("kind = \"ottoman\"\nshape = \"round\"\ndiameter = \"{w:.3}\"\nheight = \"{h:.3}\""));
        // The band between its seams goes once round the top's stitch line.
        let band = size(&round, "band").0 - 1.0;
        prop_assert!((band - stitch(part(&round, "top")).perimeter() / 25.4).abs() < 1e-3);
        let five = made(&format!("kind = \"ottoman\"\nwidth = \"{w:.3}\"\ndepth = \"{d:.3}\"\nheight = \"{h:.3}\""));
        let (top, side, end) = (size(&five, "top"), size(&five, "front and back"), size(&five, "end"));
        prop_assert!((top.0 - side.0).abs() < 1e-9 && (top.1 - end.0).abs() < 1e-9 && side.1 == end.1);
        // In one piece: front, top and back are as long as the five sides' without their seams.
        let one = made(&format!("kind = \"ottoman\"\ncut = \"wrapped\"\nwidth = \"{w:.3}\"\ndepth = \"{d:.3}\"\nheight = \"{h:.3}\""));
        let long = size(&one, "front, top and back").1;
        prop_assert!((long - (top.1 - 1.0 + 2.0 * (side.1 - 0.5))).abs() < 1e-9);
    }

    #[test]
    fn mitred_edges_are_as_long_as_each_other(w in 30.0_f64..80.0, h in 20.0_f64..60.0, border in 1.0_f64..8.0) {
        let head = made(&format!("kind = \"headboard\"\nwidth = \"{w:.3}\"\nheight = \"{h:.3}\"\nborder = \"{border:.3}\"\nfoam = \"Two\"\nboard = \"Half\""));
        // Slanted sides of the face: two on the top, one on each side border, all border times root 2.
        let slants = |name: &str| -> Vec<f64> {
            let face = part(&head, name).marks.iter().find_map(|m| match &m.line {
                Line::Closed(path) if m.meaning == Meaning::BoardEdge => Some(path.clone()),
                _ => None,
            });
            let path = face.unwrap();
            path.segs()
                .filter(|s| (s.end.x - s.start.x).abs() > 1e-6 && (s.end.y - s.start.y).abs() > 1e-6)
                .map(|s| s.length() / 25.4)
                .collect()
        };
        let (top, side) = (slants("top border"), slants("side border"));
        prop_assert_eq!((top.len(), side.len()), (2, 1));
        for long in top.iter().chain(&side) {
            prop_assert!((long - border * 2.0_f64.sqrt()).abs() < 1e-3, "{long}");
        }
        prop_assert!(size(&head, "field").0 > w - 2.0 * border && size(&head, "top border").0 >= w);
    }

    #[test]
    fn a_skirt_has_cloth_for_every_pleat(sides in proptest::collection::vec(6.0_f64..60.0, 1..5), spacing in 1.0_f64..6.0, fold in 0.5_f64..6.0, knife in proptest::bool::ANY) {
        let (word, folds) = if knife { ("knife", 1.0) } else { ("box", 2.0) };
        let list: Vec<String> = sides.iter().map(|s| format!("\"{s:.3}\"")).collect();
        let skirt = made(&format!("kind = \"skirt\"\nsides = [{}]\ndrop = \"7\"\npleats = \"{word}\"\nspacing = \"{spacing:.3}\"\nfold = \"{fold:.3}\"", list.join(", ")));
        let width = part(&skirt, "skirt width");
        let cloth = width.count as f64 * (width.size().0.inches() - 1.0);
        // At least the run, and the folds of a pleat on every side; never more than a pleat a side over.
        let run: f64 = sides.iter().sum();
        let even = run * (1.0 + 2.0 * folds * fold / spacing);
        let slack = sides.len() as f64 * 2.0 * folds * fold + 0.1;
        prop_assert!(cloth >= run + 2.0 * folds * fold * sides.len() as f64 - 0.1, "{cloth}");
        prop_assert!((cloth - even).abs() <= slack, "{cloth} for {even}");
    }

    #[test]
    fn cuts_grow_by_their_edges_and_nothing_else(w in 5.0_f64..40.0, h in 5.0_f64..40.0, which in proptest::collection::vec(0_usize..5, 4)) {
        let words = ["stapled", "tack strip", "seam", "pull", "bare"];
        let more = [2.0, 1.0, 0.5, 0.5, 0.0];
        let [b, r, t, l] = [which[0], which[1], which[2], which[3]];
        let chair = made(&format!(
            "kind = \"cut pieces\"\ncut = [{{ name = \"seat\", width = \"{w:.3}\", height = \"{h:.3}\", edges = {{ bottom = \"{}\", right = \"{}\", top = \"{}\", left = \"{}\" }} }}]",
            words[b], words[r], words[t], words[l]
        ));
        let cut = size(&chair, "seat");
        prop_assert!((cut.0 - w - more[l] - more[r]).abs() < 1e-3 && (cut.1 - h - more[b] - more[t]).abs() < 1e-3);
        let pulls = chair.parts.iter().filter(|p| said(&p.name).starts_with("pull")).count();
        prop_assert_eq!(pulls, which.iter().filter(|e| **e == 3).count());
    }

    #[test]
    fn welt_strips_make_every_run(runs in proptest::collection::vec(10.0_f64..300.0, 1..5), double in any::<bool>(), grain in 0_usize..3) {
        let list: Vec<String> = runs.iter().map(|s| format!("\"{s:.3}\"")).collect();
        let grain = ["cross", "straight", "bias"][grain];
        let welt = made(&format!("kind = \"welt\"\nruns = [{}]\ndouble = {double}\nwelt_grain = \"{grain}\"", list.join(", ")));
        // Each run laps by six inches.
        let run: f64 = runs.iter().sum::<f64>() + 6.0 * runs.len() as f64;
        if grain == "bias" {
            // The block is never less than the area of the strips that make the run.
            let block = part(&welt, "bias block for welt");
            let width = block.workings.iter().find(|w| said(&w.what) == "strip width").unwrap().result.inches();
            prop_assert!(block.outline.area() / 645.16 >= run * width);
            let joined = block.workings.iter().find(|w| said(&w.what).ends_with("joined")).unwrap();
            prop_assert!(joined.result.inches() >= run - 0.01, "{} for {run}", joined.result);
        } else {
            let strip = part(&welt, "welt strip");
            // Laid across each other and sewn from corner to corner, a join takes a strip's width.
            let (length, width) = strip.size();
            let made = strip.count as f64 * length.inches() - (strip.count as f64 - 1.0) * width.inches();
            // What is rounded away is less than a mark of each strip.
            prop_assert!(made >= run - 0.01 && made < run + strip.count as f64 * 0.1, "{made} for {run}");
        }
    }

    #[test]
    fn a_crown_only_ever_adds_and_a_flat_one_nothing(w in 10.0_f64..40.0, h in 10.0_f64..40.0, crown in 0.0_f64..4.0) {
        let pad = |crown: f64| made(&format!("kind = \"pad\"\nwidth = \"{w:.3}\"\nheight = \"{h:.3}\"\ncrown = \"{crown:.3}\"\nfoam = \"Two\"\nboard = \"Half\""));
        let (flat, crowned) = (size(&pad(0.0), "cover"), size(&pad(crown), "cover"));
        // An arc is never shorter than its chord, nor longer than the two straight lines over its top by
        // more than their own excess: 8 h^2 / 3 c bounds what it adds (series of the arc).
        for (size, crowned, flat) in [(w, crowned.0, flat.0), (h, crowned.1, flat.1)] {
            let added = crowned - flat;
            prop_assert!(added > -1e-6 && added < 8.0 * crown * crown / (3.0 * size) + 0.01, "{added}");
        }
    }

    #[test]
    fn boxing_and_zip_go_once_round(w in 20.0_f64..90.0, share in 0.3_f64..0.9, d in 12.0_f64..40.0, ear in 0.1_f64..0.8, narrow in any::<bool>()) {
        let lines = format!("kind = \"shaped cushion\"\nshape = \"tee\"\nwidth = \"{w:.3}\"\nbody = \"{:.3}\"\ndepth = \"{d:.3}\"\near = \"{:.3}\"\nfoam = \"Four\"", w * share, d * ear);
        let cushion = if narrow { crate::kinds::made_on("60", &lines) } else { made(&lines) };
        let total = |prefix: &str| -> f64 {
            cushion.parts.iter().filter(|p| said(&p.name).starts_with(prefix)).map(|p| p.count as f64 * p.size().0.inches()).sum()
        };
        let lengths = cushion.parts.iter().filter(|p| said(&p.name).starts_with("boxing")).map(|p| p.count).sum::<usize>() as f64;
        // Boxing without its seams, and the zip strip without its own, less an inch of lap at either end.
        let round = total("boxing") - lengths + total("zip strip half") / 2.0 - 1.0 - 2.0;
        let zip = cushion.quantities.zip.unwrap().inches();
        prop_assert!(zip <= 2.0 * (w + d));
        prop_assert!((round - 2.0 * (w + d)).abs() < 0.05, "{round} for {}", 2.0 * (w + d));
    }
}
