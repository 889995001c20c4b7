//! Two worked scenarios, computed by hand beforehand: to the millimetre and the cent.

use crate::checker;
use crate::said;
use geometry::Length;
use lay::Limits;
use trade::plan::{Plan, plan};

/// A job of the tests' folder, planned with a little work, and checked.
pub fn planned(name: &str, change: impl Fn(String) -> String) -> Plan {
    let path = format!("{}/tests/jobs/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = change(std::fs::read_to_string(path).unwrap());
    let read = clothwright::job_file::read(&text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show(name, &text, &read.faults));
    let plan = plan(&read.job, &Limits::work(1, 40_000_000)).unwrap();
    let json = serde_json::from_str(&clothwright::plan_json::write(&plan, &[])).unwrap();
    assert_eq!(checker::faults(&json), Vec::<String>::new());
    plan
}

fn cut(plan: &Plan, piece: &str) -> (Length, Length) {
    let made = plan.developed.iter().find(|d| d.label == piece).unwrap();
    made.parts[0].size()
}

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

fn sheets(plan: &Plan) -> Vec<usize> {
    plan.lays.sheets.iter().map(|s| s.cutting.sheets.len()).collect()
}

#[test]
fn the_corner_bench() {
    let plan = planned("cafe_bench", |t| t);
    // Cuts: 450 + 2 (100 + 18 + 50) = 786; 8 arcs of chord 149, rise 25, and 7 tucks of 6.
    assert_eq!(cut(&plan, "Seat A"), (mm(1528.0), mm(786.0)));
    assert_eq!(cut(&plan, "Seat B"), (mm(1528.0), mm(786.0)));
    assert_eq!(cut(&plan, "Back A"), (mm(1568.0), mm(604.0)));
    assert_eq!(cut(&plan, "Plinth B"), (mm(1290.0), mm(198.0)));
    // No seat fits beside a seat or back, backs lie two abreast: 5 x 1528 + 3 x 1568.
    let vinyl = &plan.lays.cloths[0];
    assert_eq!(vinyl.answer.lay.new_length(), mm(12_344.0));
    assert!(vinyl.answer.proven);
    assert_eq!(vinyl.purchase, mm(12_500.0));
    // Foam 100: four a sheet; foam 40: five; boards along the grain: four, six, many.
    assert_eq!(sheets(&plan), [2, 1, 2, 1, 1]);
    let price = &plan.price;
    let line = |what: &str| {
        let found = price.lines.iter().find(|l| said(&l.what).contains(what)).unwrap();
        found.amount.to_string()
    };
    assert_eq!(line("Vinyl").parse::<f64>().unwrap(), 322.00);
    assert_eq!(line("stripping and covering").parse::<f64>().unwrap(), 1419.00);
    assert_eq!(line("outside usual hours").parse::<f64>().unwrap(), 396.00);
    assert_eq!(line("travel").parse::<f64>().unwrap(), 55.20);
    assert_eq!(line("sundries").parse::<f64>().unwrap(), 34.78);
    let money = |d: rust_decimal::Decimal| trade::money::show(d);
    assert_eq!(money(price.net), "2774.48");
    assert_eq!(money(price.tax), "554.90");
    assert_eq!(money(price.total), "3329.38");
    assert_eq!(money(price.deposit), "1664.69");
    assert_eq!(money(price.material_cost), "630.00");
}

#[test]
fn ten_millimetres_less_turn_under_let_backs_and_seats_share_the_cloth() {
    // 766 + 584 = 1350 exactly: two lanes of 5 x 1548, plinths across, give 8730 by hand; the search
    // does a little better. 9 m to buy. Net falls by 93.77: 3.5 m of cloth with its 4 % sundries.
    let plan = planned("cafe_bench", |t| t.replace("turn_under = \"50\"", "turn_under = \"40\""));
    let vinyl = &plan.lays.cloths[0];
    assert!(vinyl.answer.lay.new_length() <= mm(8_730.0));
    assert_eq!(vinyl.purchase, mm(9_000.0));
    assert_eq!(trade::money::show(plan.price.net), "2680.71");
}

#[test]
fn another_width_changes_everything_that_depends_on_it() {
    // 1270 wide: seats and backs still fit railroaded, plinths no longer lie beside in pairs.
    let wide = planned("cafe_bench", |t| t);
    let narrow = planned("cafe_bench", |t| t.replace("width = \"1370\"", "width = \"1270\""));
    assert_eq!(cut(&narrow, "Seat A"), cut(&wide, "Seat A"));
    let length = |p: &Plan| p.lays.cloths[0].answer.lay.new_length();
    assert!(length(&narrow) >= length(&wide));
    assert!(narrow.price.total >= wide.price.total);
}

#[test]
fn the_office_wall() {
    let plan = planned("office_wall", |t| t);
    assert_eq!(cut(&plan, "Wall panel"), (mm(818.0), mm(916.0)));
    let weave = &plan.lays.cloths[0];
    assert_eq!(weave.answer.lay.new_length(), mm(8_244.0));
    assert!(weave.answer.proven);
    assert_eq!(weave.purchase, mm(8_500.0));
    assert_eq!(sheets(&plan), [6]);
    let money = |d: rust_decimal::Decimal| trade::money::show(d);
    assert_eq!(money(plan.price.net), "1445.42");
    assert_eq!(money(plan.price.tax), "303.54");
    assert_eq!(money(plan.price.total), "1748.96");
    // About 1.7 kg a panel, at 110 kg/m3 and 300 g/m2.
    let weight = plan.take_off.weights[0].piece.unwrap();
    assert!((weight - 1.7).abs() < 0.05, "{weight}");
    let warning = plan.warnings().into_iter().find(|w| w.code == "fitting-straddles-gap").unwrap();
    assert!(said(&warning.what).contains("switch straddles"), "{}", said(&warning.what));
    assert!(said(&warning.remedy).ends_with("3, 9"), "{}", said(&warning.remedy));
    // Three columns clear every fitting, take nine panels 1516 x 916 and the same cloth.
    let three = planned("office_wall", |t| t.replace("columns = 6", "columns = 3"));
    assert_eq!(cut(&three, "Wall panel"), (mm(1516.0), mm(916.0)));
    assert_eq!(three.lays.cloths[0].answer.lay.new_length(), mm(8_244.0));
    assert!(three.warnings().iter().all(|w| w.code != "fitting-straddles-gap"));
}

#[test]
fn the_same_job_in_inches_is_the_same_job() {
    // 25.4 mm to the inch: every length of the bench written in inches with its unit left out.
    let metric = planned("office_wall", |t| t);
    let inches = planned("office_wall", |t| {
        let unit = t.replace("unit = \"mm\"", "unit = \"in\"\nmark = \"1 mm\"");
        // Bare numbers in quotes are lengths.
        let mut out = String::new();
        for line in unit.lines() {
            let mut line = line.to_string();
            if !line.starts_with("unit") && !line.starts_with("mark") {
                let words: Vec<String> = line.split('"').map(str::to_string).collect();
                for word in words.iter().skip(1).step_by(2) {
                    if word.parse::<f64>().is_ok() {
                        line = line.replace(&format!("\"{word}\""), &format!("\"{word} mm\""));
                    }
                }
            }
            out.push_str(&line);
            out.push('\n');
        }
        out.replace("[allowances]", "[allowances]\nboard_step = \"1 mm\"\ncut_step = \"1 mm\"")
    });
    assert_eq!(cut(&metric, "Wall panel"), cut(&inches, "Wall panel"));
    assert_eq!(
        metric.lays.cloths[0].answer.lay.new_length(),
        inches.lays.cloths[0].answer.lay.new_length()
    );
    assert_eq!(metric.price.total, inches.price.total);
}

#[test]
fn a_run_of_75_inches_and_its_returns_is_bought_as_three_yards() {
    // Common practice, no source: 75 in with 15 in each side needs 105 in, bought as 3 yd.
    let text = r#"
[job]
name = "Run"
unit = "in"
[[cloth]]
name = "Plain"
width = "54"
price = 20
per = "yd"
step = "1 yd"
[[piece]]
name = "Bench back"
kind = "measured"
cloth = "Plain"
width = "20"
height = "105"
"#;
    let read = clothwright::job_file::read(text);
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let lay = &plan.lays.cloths[0];
    assert_eq!(lay.answer.lay.new_length(), Length::from_inches(75.0 + 2.0 * 15.0));
    assert_eq!(lay.purchase, geometry::Unit::Yard.one() * 3);
    assert!(lay.answer.proven);
}

#[test]
fn california_taxes_goods_and_fabrication_but_not_applying_and_repair() {
    // Regulation 1550 (a)-(b): cloth and foam 400, cutting and sewing 200, stripping and applying
    // 300, frame repair 100, at 8 %: taxable 600, tax 48.00, total 1048.00. All four at 6.25 % as
    // Massachusetts counts fabrication: 62.50.
    let text = |tax: &str| {
        format!(
            r#"
[job]
name = "Chair"
unit = "in"
[rates]
hour = 100
[tax]
{tax}
[[cloth]]
name = "Plain"
width = "54"
price = 400
per = "yd"
step = "1 yd"
[[piece]]
name = "Seat"
kind = "measured"
cloth = "Plain"
width = "20"
height = "20"
hours_each = 0
[[labour]]
what = "cut and sew"
hours = 2
class = "fabrication"
[[labour]]
what = "strip and apply"
hours = 3
class = "application"
[[labour]]
what = "frame repair"
hours = 1
class = "repair"
"#
        )
    };
    let total = |tax: &str| {
        let read = clothwright::job_file::read(&text(tax));
        assert!(read.faults.is_empty(), "{:?}", read.faults);
        let price = plan(&read.job, &Limits::quick(1)).unwrap().price;
        (trade::money::show(price.tax), trade::money::show(price.total))
    };
    assert_eq!(total("rate = 0\ngoods = 8\nfabrication = 8"), ("48.00".into(), "1048.00".into()));
    assert_eq!(total("rate = 6.25"), ("62.50".into(), "1062.50".into()));
}

#[test]
fn sewn_covers_are_those_of_the_sewing_texts() {
    // Box cushion 24 x 24 x 4, seams 1/2: faces 25 x 25 (home-furnishing texts). Zip strips of the
    // sewing reference: back + 8 in long before seams, half the cut boxing + 3/4 in wide = 3 1/4.
    // With the zip on one side only: boxing 3 x 24 + 1 = 73. Bolster D 8, L 36: body 26.133 x 37,
    // discs 9 (cylinder). Knife edge cut 20 finishes 19.
    let text = r#"
[job]
name = "Cushions"
unit = "in"
[allowances]
seam = "1/2"
zip_turn = "3/4"
zip_return = "4"
boxing_lap = "0"
cut_step = "1/64"
[[cloth]]
name = "Plain"
width = "130"
price = 20
[[foam]]
name = "Four"
thickness = "4"
sheet = [{ length = "80", width = "60", price = 10 }]
[[piece]]
name = "Box"
kind = "boxed cushion"
cloth = "Plain"
foam = "Four"
width = "24"
depth = "24"
welt = "both"
[[piece]]
name = "Flat zip"
kind = "boxed cushion"
cloth = "Plain"
foam = "Four"
width = "24"
depth = "24"
allowances = { zip_return = "0" }
[[piece]]
name = "Knife"
kind = "knife-edge cushion"
cloth = "Plain"
width = "19"
height = "19"
[[piece]]
name = "Roll"
kind = "bolster"
cloth = "Plain"
length = "36"
diameter = "8"
"#;
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("text", text, &read.faults));
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let inch = Length::from_inches;
    let size = |piece: &str, part: &str| {
        let made = plan.developed.iter().find(|d| d.label == piece).unwrap();
        made.parts.iter().find(|p| said(&p.name) == part).unwrap().size()
    };
    assert_eq!(size("Box", "top panel"), (inch(25.0), inch(25.0)));
    assert_eq!(size("Box", "bottom panel"), (inch(25.0), inch(25.0)));
    assert_eq!(size("Box", "zip strip half"), (inch(33.0), inch(3.25)));
    assert_eq!(size("Flat zip", "boxing"), (inch(73.0), inch(5.0)));
    assert_eq!(size("Knife", "front panel"), (inch(20.0), inch(20.0)));
    let body = size("Roll", "body");
    assert_eq!(body.0, inch(37.0));
    // Cut up to the next sixteenth.
    assert_eq!(body.1, inch(26.1875));
    assert_eq!(size("Roll", "end"), (inch(9.0), inch(9.0)));
    // Welt of a boxed cushion: both seams, 192, and a lap each.
    let made = plan.developed.iter().find(|d| d.label == "Box").unwrap();
    assert_eq!(made.quantities.welt, inch(192.0) + Length::from_inches(6.0) * 2);
}

#[test]
fn a_round_seat_gathers_two_pi_times_its_growth() {
    // D 16, foam 2, board 1/2, turn-under 1 1/2: disc 16 + 2 x 4 = 24; round the cut 75.398 against
    // 50.265 at the board, 25.133 to gather. Geometry.
    let text = r#"
[job]
name = "Stool"
unit = "in"
[[cloth]]
name = "Plain"
width = "54"
price = 20
[[foam]]
name = "Two"
thickness = "2"
sheet = [{ length = "80", width = "60", price = 10 }]
[[board]]
name = "Half"
thickness = "1/2"
sheet = [{ length = "96", width = "48", price = 10 }]
[[piece]]
name = "Stool"
kind = "panel"
shape = "disc"
diameter = "16"
cloth = "Plain"
foam = "Two"
board = "Half"
allowances = { turn_under = "1 1/2" }
"#;
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("text", text, &read.faults));
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let cover = &plan.developed[0].parts[0];
    assert_eq!(cover.size(), (Length::from_inches(24.0), Length::from_inches(24.0)));
    let (cut, board) = (cover.outline.outer.perimeter() / 25.4, 16.0 * std::f64::consts::PI);
    assert!((cut - 75.398).abs() < 5e-4 && (cut - board - 25.133).abs() < 5e-4, "{cut}");
}

#[test]
fn a_mirrored_pair_is_two_shapes_that_no_turn_makes_alike() {
    let read = clothwright::job_file::read(clothwright::DEMO);
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let wing = plan.developed.iter().find(|d| d.label == "Bench wing").unwrap();
    let hand = |hand: &str| {
        let part = wing.parts.iter().find(|p| p.hand == Some(hand)).unwrap();
        (part.count, part.outline.outer.flatten())
    };
    let ((lefts, left), (rights, right)) = (hand("left"), hand("right"));
    assert_eq!((lefts, rights), (1, 1));
    let settled = |p: &geometry::Polygon| {
        let low = p.bounds().low;
        let mut spots: Vec<_> = p.points().iter().map(|s| (s.x - low.x, s.y - low.y)).collect();
        spots.sort_unstable();
        spots
    };
    for turn in [0.0, 90.0, 180.0, 270.0] {
        assert_ne!(settled(&left.turned(turn)), settled(&right));
    }
    let width = left.bounds().width().nm();
    let mut mirrored: Vec<_> = settled(&left).into_iter().map(|(x, y)| (width - x, y)).collect();
    mirrored.sort_unstable();
    let near = mirrored
        .iter()
        .zip(settled(&right))
        .all(|(a, b)| (a.0 - b.0).abs() < 10 && (a.1 - b.1).abs() < 10);
    assert!(near);
}

#[test]
fn a_notch_and_a_part_wider_than_the_cloth() {
    // A post notch in a corner of a seat, and an 84 in back up the roll on 54 goods: two halves of
    // 42 1/2 with one seam (derived here).
    let text = r#"
[job]
name = "Settle"
unit = "in"
[[cloth]]
name = "Plain"
width = "54"
price = 20
[[board]]
name = "Half"
thickness = "1/2"
sheet = [{ length = "96", width = "48", price = 10 }]
[[piece]]
name = "Seat"
kind = "panel"
cloth = "Plain"
board = "Half"
width = "20"
height = "18"
notch = [{ side = "top", from = "0", width = "2", depth = "3" }]
[[piece]]
name = "Back"
kind = "measured"
cloth = "Plain"
width = "84"
height = "30"
seam_allowed = true
"#;
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("text", text, &read.faults));
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let seat = &plan.developed[0];
    let board = seat.parts.iter().find(|p| said(&p.name) == "board").unwrap();
    let square_inches = board.outline.area() / 25.4 / 25.4;
    assert!((square_inches - (20.0 * 18.0 - 6.0)).abs() < 1e-9, "{square_inches}");
    assert!(plan.warnings().iter().any(|w| w.code == "inside-corner"));
    let halves: Vec<_> = plan.lays.cloths[0]
        .parts
        .iter()
        .filter(|p| said(&p.part.name).starts_with("cut as measured"))
        .collect();
    assert_eq!(halves.len(), 2);
    // The seam is sewn once over the 30 in, and there is one cut more: both are paid for.
    let back = &plan.developed[1];
    assert_eq!((back.quantities.seam, back.widths.len()), (Length::from_inches(30.0), 2));
    let steps = trade::method::steps(&plan.job, back);
    let joins =
        steps.iter().any(|s| said(&s.text).contains("2A1") && said(&s.text).contains("Join"));
    assert!(joins, "{steps:?}");
    let minutes = &read.job.rates.minutes;
    let took = |step: &str| {
        let of = plan.labour.iter().find(|t| t.developed == Some(1) && said(&t.step) == step);
        of.map(|t| t.minutes).unwrap_or_default()
    };
    assert_eq!(
        took("lay out and cut cloth"),
        minutes.of(trade::operations::Operation::CutPart) * rust_decimal::Decimal::TWO
    );
    assert!(took("sew") > rust_decimal::Decimal::ZERO);
    for half in halves {
        assert_eq!(
            half.part.size(),
            (
                Length::from_inches(42.5).round_up(Length::from_nm(100_000)),
                Length::from_inches(30.0)
            )
        );
    }
}

#[test]
fn near_misses_are_planned_again_and_priced() {
    // The bench with ten millimetres less turn-under: 9 m instead of 12.5, 93.77 less (by hand). Half
    // as much does not do: 771 + 589 > 1350.
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/jobs/cafe_bench.toml"))
            .unwrap()
            + "\n[near_misses]\nturn_under = \"10\"\ntrim = \"50\"\n";
    let read = clothwright::job_file::read(&text);
    assert!(read.faults.is_empty());
    let limits = Limits::work(1, 40_000_000);
    let base = plan(&read.job, &limits).unwrap();
    let hints = trade::hints::hints(&base, &limits);
    assert_eq!(hints.len(), 1, "{hints:?}");
    assert_eq!(hints[0].cloths, [("Vinyl".to_string(), mm(12_500.0), mm(9_000.0))]);
    assert_eq!(trade::money::show(hints[0].saves), "93.77");
    let what = words::of(&base.job).say(&hints[0].what);
    assert!(what.starts_with("10 mm less turn-under"), "{what}");
}

#[test]
fn boxing_longer_than_the_cloth_is_joined_at_the_front_corners() {
    // 44 x 20 x 4, seams 1/2, zip return 3, lap 1: boxing 128 - 50 + 2 + 1 = 81 on 54 of cloth. Front
    // 44 + 1 = 45; sides (80 - 44) / 2 + 1 = 19 each; together 83 = 81 and two joins of 1. Arithmetic.
    let text = r#"
[job]
name = "Cushion"
unit = "in"
[allowances]
seam = "1/2"
zip_return = "3"
boxing_lap = "1"
[[cloth]]
name = "Plain"
width = "54"
price = 20
[[foam]]
name = "Four"
thickness = "4"
sheet = [{ length = "80", width = "60", price = 10 }]
[[piece]]
name = "Box"
kind = "boxed cushion"
cloth = "Plain"
foam = "Four"
width = "44"
depth = "20"
"#;
    let read = clothwright::job_file::read(text);
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let part = |name: &str| plan.developed[0].parts.iter().find(|p| said(&p.name) == name).unwrap();
    let inch = Length::from_inches;
    assert_eq!(part("boxing, front").size(), (inch(45.0), inch(5.0)));
    assert_eq!((part("boxing, side").size().0, part("boxing, side").count), (inch(19.0), 2));
}
