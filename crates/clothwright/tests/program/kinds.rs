//! Every kind of piece against numbers from outside the program.

use crate::said;
use crate::scenarios::planned;
use geo::{Area, Coord, Euclidean, Length as _, LineString, Polygon};
use geometry::{Length, Path};
use trade::part::{Developed, Line, Meaning, Part};

const HEAD: &str = r#"
[job]
name = "Test"
unit = "in"
mark = "0.0001"
[[cloth]]
name = "Plain"
width = "400"
price = 20
[[foam]]
name = "Four"
thickness = "4"
firmness = "30"
sheet = [{ length = "400", width = "300", price = 10 }]
[[foam]]
name = "Two"
thickness = "2"
firmness = "30"
sheet = [{ length = "400", width = "300", price = 10 }]
[[foam]]
name = "None"
thickness = "0.001"
firmness = "30"
sheet = [{ length = "400", width = "300", price = 10 }]
[[board]]
name = "Half"
thickness = "1/2"
sheet = [{ length = "400", width = "300", price = 10 }]
[allowances]
cut_step = "0.0001"
[[piece]]
name = "P"
cloth = "Plain"
"#;

/// One piece developed, from its lines in a job file.
#[track_caller]
pub fn made(lines: &str) -> Developed {
    made_on("400", lines)
}

/// The same on cloth of another width.
#[track_caller]
pub fn made_on(width: &str, lines: &str) -> Developed {
    let head = HEAD.replace("width = \"400\"", &format!("width = \"{width}\""));
    let text = format!("{head}{lines}");
    let read = clothwright::job_file::read(&text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("job", &text, &read.faults));
    let mut all = trade::plan::check(&read.job).unwrap();
    assert_eq!(all.len(), 1);
    all.remove(0)
}

#[track_caller]
pub fn part<'a>(made: &'a Developed, name: &str) -> &'a Part {
    let names: Vec<String> = made.parts.iter().map(|p| said(&p.name)).collect();
    made.parts
        .iter()
        .find(|p| said(&p.name) == name)
        .unwrap_or_else(|| panic!("no {name} in {names:?}"))
}

/// Width and height of a part, inches.
#[track_caller]
pub fn size(made: &Developed, name: &str) -> (f64, f64) {
    let (w, h) = part(made, name).size();
    (w.inches(), h.inches())
}

#[track_caller]
fn near(got: (f64, f64), want: (f64, f64), slack: f64) {
    assert!(
        (got.0 - want.0).abs() < slack && (got.1 - want.1).abs() < slack,
        "{got:?} for {want:?}"
    );
}

/// The stitch line of a part.
pub fn stitch(part: &Part) -> &Path {
    part.marks
        .iter()
        .find_map(|mark| match (&mark.line, mark.meaning) {
            (Line::Closed(path), Meaning::Stitch) => Some(path),
            _ => None,
        })
        .unwrap_or_else(|| panic!("{} has no stitch line", said(&part.name)))
}

/// A path as another crate sees it, inches.
fn other(path: &Path) -> Polygon {
    let ring: Vec<Coord> = path
        .flatten()
        .points()
        .iter()
        .map(|s| Coord { x: s.point().x / 25.4, y: s.point().y / 25.4 })
        .collect();
    Polygon::new(LineString(ring), vec![])
}

#[test]
fn waterfall_cushions_are_those_of_the_canvas_handbook() {
    // D. Casey's rule for a bullnose 22 wide, 20 deep, 4 thick: 2 (20 - 2) + 2 pi = 42.283, an inch on:
    // 43.283 by 23; ends 21 by 5, nose radius 2.5 with its seam.
    let nose =
        made("kind = \"waterfall cushion\"\nwidth = \"22\"\ndepth = \"20\"\nfoam = \"Four\"");
    near(size(&nose, "main panel"), (23.0, 43.283), 1e-3);
    near(size(&nose, "end"), (21.0, 5.0), 1e-6);
    // What is sewn together is as long: three sides of the end and the main panel between its seams.
    let end = Euclidean.length(other(stitch(part(&nose, "end"))).exterior());
    assert!((end - 4.0 - 42.283).abs() < 0.02, "{end}");
    // Half round and rectangle, from another crate: 18 x 4 + pi 2^2 / 2.
    let area = other(stitch(part(&nose, "end"))).unsigned_area();
    assert!((area - (72.0 + 2.0 * std::f64::consts::PI)).abs() < 0.02, "{area}");
    // Square front: 2 D + T + 2 n, geometry.
    let square = made(
        "kind = \"waterfall cushion\"\nfront = \"square\"\nwidth = \"22\"\ndepth = \"20\"\nfoam = \"Four\"",
    );
    near(size(&square, "main panel"), (23.0, 45.0), 1e-6);
}

#[test]
fn tapered_bolsters_follow_the_frustum() {
    // 10 to 6, 24 long: slant 24.0832, radii 60.208 and 36.125, angle 29.896 degrees, outer chord 31.061
    // with a rise of 2.0375 (formula of Longfield, Sheet Metal Drafting, ch. V; worked here by hand).
    let roll = made("kind = \"tapered bolster\"\nlength = \"24\"\nlarge = \"10\"\nsmall = \"6\"");
    let body = stitch(part(&roll, "body"));
    let (low, high) = body.bounds();
    near(((high.x - low.x) / 25.4, 0.0), (31.061, 0.0), 1e-3);
    // Height of the box: slant less nothing, plus the rise of the inner arc.
    let inner_rise = 36.125 * (1.0 - (29.896_f64 / 2.0).to_radians().cos());
    near(((high.y - low.y) / 25.4, 0.0), (24.0832 + inner_rise, 0.0), 1e-3);
    // Its area by another crate: mean circumference by slant.
    let want = std::f64::consts::PI * 8.0 * 24.0832;
    assert!((other(body).unsigned_area() / want - 1.0).abs() < 1e-3);
    near(size(&roll, "end, larger"), (11.0, 11.0), 1e-9);
    near(size(&roll, "end, smaller"), (7.0, 7.0), 1e-9);
    // Equal ends are the cylinder: D 8, L 36, seams 1/2: 37 by 26.133, discs 9.
    let plain = made("kind = \"tapered bolster\"\nlength = \"36\"\nlarge = \"8\"\nsmall = \"8\"");
    near(size(&plain, "body"), (37.0, 26.133), 1e-3);
    near(size(&plain, "end"), (9.0, 9.0), 1e-9);
}

#[test]
fn a_side_that_leans_shortens_the_bottom() {
    // 90 mm at 12 degrees: the bottom 19.1 mm shorter, the leaning boxing 92.0 mm high (T tan, T / cos).
    let text = HEAD
        .replace("name = \"Four\"\nthickness = \"4\"", "name = \"Four\"\nthickness = \"90 mm\"");
    let lines = "kind = \"sloped cushion\"\nwidth = \"60\"\ndepth = \"26\"\nangle = 12\nzip = false\nfoam = \"Four\"";
    let read = clothwright::job_file::read(&format!("{text}{lines}"));
    let cushion = trade::plan::check(&read.job).unwrap().remove(0);
    let (top, bottom) = (size(&cushion, "top panel"), size(&cushion, "bottom panel"));
    assert!(((top.1 - bottom.1) * 25.4 - 19.13).abs() < 0.01, "{top:?} {bottom:?}");
    let back = part(&cushion, "boxing, back").size().1.mm() - 2.0 * 12.7;
    assert!((back - 92.01).abs() < 0.01, "{back}");
    // The same by its bottom as measured.
    let lines = lines.replace("angle = 12", "bottom = \"641.3 mm\"");
    let other =
        trade::plan::check(&clothwright::job_file::read(&format!("{text}{lines}")).job).unwrap();
    assert!((part(&other[0], "boxing, back").size().1.mm() - 2.0 * 12.7 - 92.0).abs() < 0.05);
}

#[test]
fn a_wedge_is_a_right_angled_triangle_on_a_slab() {
    // 7, 24, 25: Euclid I.47.
    let wedge = made(
        "kind = \"wedge cushion\"\nwidth = \"20\"\ndepth = \"24\"\nfront = \"1\"\nback = \"8\"",
    );
    near(size(&wedge, "top panel"), (21.0, 26.0), 1e-6);
    near(size(&wedge, "bottom panel"), (21.0, 25.0), 1e-6);
    near(size(&wedge, "boxing, front"), (21.0, 2.0), 1e-6);
    let side = other(stitch(part(&wedge, "boxing, left"))).unsigned_area();
    assert!((side - 24.0 * 4.5).abs() < 1e-6, "{side}");
    // One slanted cut of a block gives two (a cushion maker's page): four wedges from two blocks.
    let four = "kind = \"wedge cushion\"\ncount = 4\nwidth = \"20\"\ndepth = \"24\"\nfront = \"1\"\nback = \"3\"\nfoam = \"Four\"";
    assert_eq!(part(&made(four), "foam, cut on the slant").count, 2);
    // 1 + 3 1/2 is more than the block: one each.
    let thick = four.replace("back = \"3\"", "back = \"3 1/2\"");
    assert_eq!(part(&made(&thick), "foam, cut on the slant").count, 4);
}

#[test]
fn boxing_runs_the_true_perimeter() {
    // Geometry: the perimeter of a T or L is that of its box; 30 x 24: 108, and a seam at the join.
    for shape in ["tee", "ell"] {
        let lines = format!(
            "kind = \"shaped cushion\"\nshape = \"{shape}\"\nwidth = \"30\"\nbody = \"22\"\ndepth = \"24\"\near = \"5\"\nzip_side = \"none\"\nfoam = \"Four\""
        );
        near(size(&made(&lines), "boxing"), (109.0, 5.0), 1e-6);
    }
    // A disc 18 across: pi 18; a ring's hole 14: pi 14 + 1.
    let ring = made(
        "kind = \"shaped cushion\"\nshape = \"ring\"\ndiameter = \"40\"\ninner = \"14\"\nzip_side = \"none\"\nfoam = \"Four\"",
    );
    near(size(&ring, "boxing"), (std::f64::consts::PI * 40.0 + 1.0, 5.0), 1e-3);
    near(size(&ring, "boxing of the hole"), (std::f64::consts::PI * 14.0 + 1.0, 5.0), 1e-3);
    let top = part(&ring, "top panel");
    let hole = other(&top.outline.holes[0]).unsigned_area();
    assert!((hole - std::f64::consts::PI * 6.5 * 6.5).abs() < 0.2, "{hole}");
}

#[test]
fn curved_backs_have_a_longer_outside() {
    // Chord 96, rise 12: radius 102, 99.9513 along (carpentry columns). Foam 2 inside takes the radius to
    // 100, the half-inch board to 102.5.
    let back = made(
        "kind = \"curved back\"\nchord = \"96\"\nrise = \"12\"\nheight = \"30\"\nfaces = \"both\"\npanels = 1\nfoam = \"Two\"\nboard = \"Half\"",
    );
    let angle = 99.9513 / 102.0;
    let reach = 2.0 * (2.0 + 0.5 + 2.0);
    near(size(&back, "inside cover"), (100.0 * angle + reach, 30.0 + reach), 1e-3);
    near(size(&back, "outside cover"), (102.5 * angle + 2.0, 32.0), 1e-3);
    // A second way, without arcs: chords of the offset curve, ten thousand of them.
    let steps = 10_000;
    let half = (48.0_f64 / 102.0).asin();
    let at = |i: usize, r: f64| {
        let turn = -half + 2.0 * half * i as f64 / f64::from(steps);
        (r * turn.sin(), r * turn.cos())
    };
    let long: f64 = (0..steps as usize)
        .map(|i| {
            let (a, b) = (at(i, 100.0), at(i + 1, 100.0));
            (b.0 - a.0).hypot(b.1 - a.1)
        })
        .sum();
    assert!((size(&back, "inside cover").0 - reach - long).abs() < 1e-3);
    // In three widths: the faces add up, seams and ends besides.
    let three = made(
        "kind = \"curved back\"\nchord = \"96\"\nrise = \"12\"\nheight = \"30\"\npanels = 3\nfoam = \"Two\"\nboard = \"Half\"",
    );
    let (left, middle) =
        (size(&three, "inside cover, left width").0, size(&three, "inside cover, middle width").0);
    assert!((2.0 * left + middle - 4.0 * 0.5 - reach - 100.0 * angle).abs() < 1e-3);
}

#[test]
fn mitres_of_a_headboard_meet() {
    let head = made(
        "kind = \"headboard\"\nwidth = \"60\"\nheight = \"40\"\nborder = \"4\"\nfoam = \"Two\"\nboard = \"Half\"",
    );
    // Field: 60 - 8 + 2 (2 + 1 1/2); 40 - 4 + (2 + 1 1/2) + (2 + 1/2 + 2). Common practice, no source.
    near(size(&head, "field"), (59.0, 44.0), 1e-9);
    // Border across: 4 + (2 + 1 1/2) + (2 + 1/2 + 2) = 12; top as long as the board and two seams.
    near(size(&head, "top border"), (61.0, 12.0), 1e-6);
    near(size(&head, "side border"), (12.0, 40.0 + 4.5 + 0.5), 1e-6);
    // Both faces together are the border's frame, by another crate: 60 x 40 less 52 x 36.
    let face = |name: &str| {
        let mark = part(&head, name).marks.iter().find_map(|m| match &m.line {
            Line::Closed(path) if m.meaning == Meaning::BoardEdge => Some(path),
            _ => None,
        });
        other(mark.unwrap()).unsigned_area()
    };
    let frame = face("top border") + 2.0 * face("side border");
    assert!((frame - (60.0 * 40.0 - 52.0 * 36.0)).abs() < 1e-6, "{frame}");
}

#[test]
fn buttoned_backs_are_those_of_the_tufting_books() {
    let back = |w: &str, h: &str, lines: &str| {
        made(&format!("kind = \"buttoned back\"\nwidth = \"{w}\"\nheight = \"{h}\"\n{lines}"))
    };
    // J. W. Stephenson, Cutting and Draping, fig. 115: panel 12 x 18, 3 in half diamonds, 1 1/2 more for
    // each: 18 x 27, and 1 in all round to tack.
    let lines = "across = 2\nhigh = 3\nfullness = \"added\"\nadded = [\"3\", \"3\"]\nallowances = { turn_under = \"1\" }";
    near(size(&back("12", "18", lines), "cover"), (20.0, 29.0), 1e-6);
    // A trade journal: 42 x 31, border 4: field 34 x 23, 4 x 2 diamonds of 8 1/2 x 11 1/2; 22 buttons,
    // a (b + 1) + b (a + 1).
    let lines = "border = \"4\"\nacross = 4\nhigh = 2\nallowances = { turn_under = \"0\" }";
    let journal = back("42", "31", lines);
    near(size(&journal, "cover"), (42.0, 31.0), 1e-6);
    assert_eq!(journal.quantities.buttons, 22);
    // A household tutorial: diamond 8 x 5 over 2 in foam, one depth at each button: 12 x 9.
    let lines = "across = 1\nhigh = 1\ndepth = \"2\"\nfullness = \"two depths\"\nallowances = { turn_under = \"0\" }";
    near(size(&back("8", "5", lines), "cover"), (12.0, 9.0), 1e-6);
    // Victorian manual: leather diamonds 7 x 5 1/2, 2 and 1 3/4 more: eight across and three along are
    // 72 x 21 3/4.
    let lines = "across = 8\nhigh = 3\nfullness = \"added\"\nadded = [\"2\", \"1 3/4\"]\nallowances = { turn_under = \"0\" }";
    near(size(&back("56", "16 1/2", lines), "cover"), (72.0, 21.75), 1e-6);
    // Arc of chord 20 and rise 2: 20.5291 (carpentry columns). Eight marks by two: 43 with the edge, 23
    // without (counted here from the rectangles' corners and centres).
    let lines = "across = 1\nhigh = 1\ndepth = \"2\"\nallowances = { turn_under = \"0\" }";
    near(size(&back("20", "20", lines), "cover"), (20.5291, 20.5291), 1e-3);
    for (edge, want) in [(true, 43), (false, 23)] {
        let lines =
            format!("across = 8\nhigh = 2\nbuttons_at = \"corners\"\nedge_buttons = {edge}");
        assert_eq!(back("30", "16", &lines).quantities.buttons, want);
    }
    // 36 lignes are 0.9 in (button trade pages); the blank twice that (a household page).
    let button = back("30", "16", "across = 2\nhigh = 2\nligne = 36");
    near(size(&button, "button cover"), (1.8, 1.8), 1e-6);
}

#[test]
fn the_diamond_grid_agrees_with_a_numeric_surface() {
    // The arc rule against the length of a circular section through the dome, summed in small chords.
    for (s, p) in [(4.0_f64, 1.0_f64), (5.0, 1.5), (7.0, 2.0), (8.5, 1.25)] {
        let inch = Length::from_inches;
        let rule = trade::kinds::buttoned_back::Fullness::Arc;
        let over = trade::kinds::buttoned_back::over_diamond(inch(s), inch(p), rule, true).unwrap();
        let r = (s * s / 4.0 + p * p) / (2.0 * p);
        let height = |x: f64| (r * r - (x - s / 2.0) * (x - s / 2.0)).sqrt();
        let steps = 200_000;
        let long: f64 = (0..steps)
            .map(|i| {
                let (a, b) =
                    (s * f64::from(i) / f64::from(steps), s * f64::from(i + 1) / f64::from(steps));
                (b - a).hypot(height(b) - height(a))
            })
            .sum();
        assert!((over.inches() - long).abs() < 1e-4, "{} for {long}", over.inches());
        // Every rule lies between the straight line down and two depths (the spread of the sources).
        use trade::kinds::buttoned_back::Fullness::{Depth, Slant, TwoDepths};
        let by =
            |rule| trade::kinds::buttoned_back::over_diamond(inch(s), inch(p), rule, true).unwrap();
        assert!(by(Slant) <= over && over <= by(TwoDepths) && by(Slant) <= by(Depth));
    }
}

#[test]
fn skirts_count_their_layers() {
    // A sewing teaching page: run 100, spacing 2, depth 2, 1, 4, 3: 300, 200, 500, 400.
    for (depth, want) in [("2", 300.0), ("1", 200.0), ("4", 500.0), ("3", 400.0)] {
        let lines = format!(
            "kind = \"skirt\"\nsides = [\"100\"]\ndrop = \"7\"\npleats = \"knife\"\nspacing = \"2\"\nfold = \"{depth}\""
        );
        let skirt = made(&lines);
        let width = part(&skirt, "skirt width");
        // Seams of 1/2 at either end of each width.
        let total = width.count as f64 * (width.size().0.inches() - 1.0);
        assert!((total - want).abs() < 0.01, "{total} for {want}");
    }
    // A box pleat folds under at both edges of its face: 4 in faces with 2 in folds take 12 in each, three
    // times the run (count the layers: face, fold, its return).
    let lines = "kind = \"skirt\"\nsides = [\"96\"]\ndrop = \"7\"\npleats = \"box\"\nspacing = \"4\"\nfold = \"2\"";
    let skirt = made(lines);
    let width = part(&skirt, "skirt width");
    assert!((width.count as f64 * (width.size().0.inches() - 1.0) - 288.0).abs() < 0.1);
    assert!(skirt.warnings.is_empty());
    assert_eq!(made(&lines.replace("\"2\"", "\"3\"")).warnings[0].code, "folds-overlap");
    // Box pleats three to one round 84 x 36: 720 of cloth, 14 strips of 54 before seams.
    let lines = "kind = \"skirt\"\nsides = [\"84\", \"36\", \"84\", \"36\"]\ndrop = \"7\"\npleats = \"box\"\nspacing = \"3\"";
    let read = clothwright::job_file::read(&format!(
        "{}{lines}",
        HEAD.replace("\"400\"\nprice = 20", "\"55\"\nprice = 20")
    ));
    let skirt = trade::plan::check(&read.job).unwrap().remove(0);
    assert_eq!(part(&skirt, "skirt width").count, 14);
    // A soft-furnishing text: each side 11 cm more at both ends, underlay 22 cm, cut depth twice the drop
    // and 2.5 cm.
    let flat = made(
        "kind = \"skirt\"\nsides = [\"60 cm\"]\ndrop = \"20 cm\"\nlined = true\npleats = \"corner\"\nfold = \"11 cm\"\nallowances = { seam = \"12.5 mm\" }",
    );
    let side = part(&flat, "skirt side").size();
    near((side.0.mm(), side.1.mm()), (600.0 + 220.0 + 25.0, 425.0), 0.003);
    near((part(&flat, "corner underlay").size().0.mm(), 0.0), (245.0, 0.0), 0.003);
    // A tailored skirt: 250 round, 45 in cloth: 6 widths; drop 18, hem 2, seam 1/2: 20 1/2 high (an
    // extension text works 250 / 45 to 6).
    assert_eq!((250.0_f64 / 45.0).ceil(), 6.0);
    let tailored = made(
        "kind = \"skirt\"\nsides = [\"250\"]\ndrop = \"18\"\nhem = \"2\"\npleats = \"corner\"\nfold = \"1\"",
    );
    assert!((size(&tailored, "skirt side").1 - 20.5).abs() < 1e-9);
}

#[test]
fn cuts_take_what_their_edges_need() {
    // Household pages: a piece 32 x 46 with 2 in on every side: 36 x 50.
    let chair = made(
        "kind = \"cut pieces\"\ncut = [{ name = \"inside back\", width = \"32\", height = \"46\" }, { name = \"inside arm\", width = \"20\", height = \"14\", pair = true, edges = { left = \"seam\", right = \"tack strip\", bottom = \"pull\", top = \"bare\" } }]",
    );
    near(size(&chair, "inside back"), (36.0, 50.0), 1e-9);
    near(size(&chair, "inside arm"), (20.0 + 0.5 + 1.0, 14.0 + 0.5), 1e-9);
    let arms: Vec<_> = chair
        .parts
        .iter()
        .filter(|p| said(&p.name) == "inside arm")
        .map(|p| (p.hand, p.count))
        .collect();
    assert_eq!(arms, [(Some("left"), 1), (Some("right"), 1)]);
    near(size(&chair, "pull for inside arm"), (21.0, 5.5), 1e-9);
    assert_eq!(part(&chair, "pull for inside arm").count, 2);
}

#[test]
fn ottomans_are_cylinders_and_boxes() {
    // Cylinder D 20, H 16: top 21, band pi 20 + 1 by 16 + 1/2 + 2. Box: five sides. Geometry.
    let round = made("kind = \"ottoman\"\nshape = \"round\"\ndiameter = \"20\"\nheight = \"16\"");
    near(size(&round, "top"), (21.0, 21.0), 1e-9);
    near(size(&round, "band"), (std::f64::consts::PI * 20.0 + 1.0, 18.5), 1e-3);
    let cube = made("kind = \"ottoman\"\nwidth = \"24\"\ndepth = \"16\"\nheight = \"14\"");
    near(size(&cube, "front and back"), (25.0, 16.5), 1e-9);
    near(size(&cube, "end"), (17.0, 16.5), 1e-9);
    let wrapped = made(
        "kind = \"ottoman\"\ncut = \"wrapped\"\nwidth = \"24\"\ndepth = \"16\"\nheight = \"14\"",
    );
    near(size(&wrapped, "front, top and back"), (25.0, 16.0 + 28.0 + 4.0), 1e-9);
}

#[test]
fn a_crown_is_an_arc() {
    // Chord 20, rise 2: 20.5291; chord 24, rise 3: 24.988 (carpentry columns). Half inch board, no foam
    // to speak of, turn-under 2.
    let seat = made(
        "kind = \"slip seat\"\nfront = \"24\"\ndepth = \"20\"\ncrown = \"2\"\nboard = \"Half\"",
    );
    assert!(
        (size(&seat, "cover").1 - (20.5291 + 2.0 * 2.5)).abs() < 2e-3,
        "{:?}",
        size(&seat, "cover")
    );
    let pad =
        made("kind = \"pad\"\nwidth = \"24\"\nheight = \"20\"\ncrown = \"3\"\nboard = \"Half\"");
    assert!(
        (size(&pad, "cover").0 - (24.988 + 2.0 * 2.5)).abs() < 2e-3,
        "{:?}",
        size(&pad, "cover")
    );
    // And without one: 17 1/2 x 17 with 3 in a side is 23 1/2 x 23 (two household pages).
    let plain = made(
        "kind = \"slip seat\"\nfront = \"17 1/2\"\ndepth = \"17\"\nallowances = { turn_under = \"3\" }",
    );
    near(size(&plain, "cover"), (23.5, 23.0), 1e-9);
}

#[test]
fn double_welt_is_about_three_inches() {
    // 5/32 cord, 1/2 in seams: about 3 in (common practice, no source); cloth of 1 mm.
    let double = made("kind = \"welt\"\nruns = [\"120\"]\ndouble = true");
    let width = size(&double, "welt strip").1;
    assert!((2.5..=3.25).contains(&width), "{width}");
    // Two cords, each run with its lap of 6.
    assert_eq!(double.quantities.welt, Length::from_inches(252.0));
}

#[test]
fn bias_welt_is_no_longer_than_the_tables_allow() {
    // The longest 45-degree strip in 54 in is 54 root 2 = 76.4 (a trade forum gives 76; geometry).
    let at = |width: &str, run: &str| {
        let head = HEAD.replace("width = \"400\"", &format!("width = \"{width}\""));
        let lines = format!(
            "kind = \"welt\"\nruns = [\"{run}\"]\nwelt_grain = \"bias\"\nallowances = {{ cord = \"0.279\", seam = \"1/2\" }}"
        );
        clothwright::job_file::read(&format!("{head}{lines}"))
    };
    let made = trade::plan::check(&at("54", "700").job).unwrap().remove(0);
    let block = part(&made, "bias block for welt");
    let longest = block.workings.iter().find(|w| said(&w.what) == "longest strip").unwrap();
    assert!(longest.result.inches() <= 76.368 && longest.result.inches() > 15.0);
    // A 36 in square yields at most 648 in of 2 in bias (sewing teaching pages): a run of 648 on 36 in cloth
    // cannot lie on less than 36 in of it.
    let plan = trade::plan::plan(&at("36", "648").job, &lay::Limits::quick(1)).unwrap();
    assert!(plan.lays.cloths[0].answer.lay.new_length() >= Length::from_inches(36.0));
}

#[test]
fn outlines_from_tape_alone() {
    // A rectangle 40 x 30 by its sides and one diagonal, 50 (Euclid I.47).
    let fitted = made(
        "kind = \"panel\"\nshape = \"sides\"\nsides = [\"40\", \"30\", \"40\", \"30\"]\nacross = [{ from = 1, to = 3, length = \"50\" }]\nboard = \"Half\"",
    );
    let board = part(&fitted, "board");
    near(size(&fitted, "board"), (40.0, 30.0), 1e-6);
    assert!((other(&board.outline.outer).unsigned_area() - 1200.0).abs() < 1e-3);
    // A segment of a circle by offsets: chord 96, rise 12, radius 102: heights every 12 in; its area is
    // R^2 (angle - sin angle) / 2, geometry.
    let height = |x: f64| (102.0_f64.powi(2) - (x - 48.0).powi(2)).sqrt() - 90.0;
    let offsets: Vec<String> = (0..=8)
        .map(|i| format!("{{ at = \"{}\", up = \"{:.4}\" }}", 12 * i, height(12.0 * f64::from(i))))
        .collect();
    let lines = format!(
        "kind = \"panel\"\nshape = \"offsets\"\nbase = \"96\"\noffset = [{}]\nboard = \"Half\"",
        offsets.join(", ")
    );
    let angle = 2.0 * (48.0_f64 / 102.0).asin();
    let want = 102.0 * 102.0 * (angle - angle.sin()) / 2.0;
    let area = other(&part(&made(&lines), "board").outline.outer).unsigned_area();
    assert!((area / want - 1.0).abs() < 1e-3, "{area} for {want}");
    // Straight between the offsets it is the trapezoids' sum, and less.
    let straight: f64 = (0..8)
        .map(|i| 12.0 * (height(12.0 * f64::from(i)) + height(12.0 * f64::from(i + 1))) / 2.0)
        .sum();
    let area = other(&part(&made(&format!("{lines}\nstraight = true")), "board").outline.outer)
        .unsigned_area();
    assert!((area - straight).abs() < 0.01 && area < want, "{area} for {straight}");
}

#[test]
fn one_of_every_kind_plans_in_one_run() {
    let plan = planned("../../demo/kinds", |t| t);
    let kinds: std::collections::BTreeSet<&str> =
        plan.job.pieces.iter().map(|p| p.kind.name()).collect();
    assert_eq!(kinds.len(), 21, "{kinds:?}");
    for made in &plan.developed {
        let about = &plan.job.pieces[made.piece];
        let steps = trade::method::steps(&plan.job, made);
        assert!(!steps.is_empty() && !made.parts.is_empty(), "{}", made.label);
        assert!(!about.kind.letters().is_empty(), "{}", made.label);
        for part in &made.parts {
            // No part crosses itself, and each has an area of its own.
            let outline = part.outline.outer.flatten();
            assert!(
                outline.is_simple() && part.outline.area() > 0.0,
                "{} {}",
                made.label,
                said(&part.name)
            );
        }
    }
    let item = |name: &str| plan.take_off.lines.iter().any(|l| said(&l.item).contains(name));
    assert!(item("button") && item("tack strip") && item("zip") && item("welt cord"));
}
