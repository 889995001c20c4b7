//! What is printed and claimed holds: workings are worked out again from their text, printed marks are
//! held against printed sizes, and claims against random jobs in which nobody chose the question.

use crate::checker;
use crate::said;
use geometry::Length;
use lay::Limits;
use proptest::prelude::*;
use serde_json::Value;
use trade::part::Stuff;
use trade::plan::{Plan, plan};

/// The built-in examples and every job of the tests' folders.
pub fn jobs() -> Vec<(String, String)> {
    let mut all = vec![
        ("demo".to_string(), clothwright::DEMO.to_string()),
        ("kinds".to_string(), clothwright::KINDS.to_string()),
    ];
    for folder in ["jobs", "jobs/practice"] {
        let folder = format!("{}/tests/{folder}", env!("CARGO_MANIFEST_DIR"));
        let mut paths: Vec<_> =
            std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
        paths.sort();
        for path in paths.into_iter().filter(|p| p.extension().is_some_and(|e| e == "toml")) {
            all.push((path.display().to_string(), std::fs::read_to_string(path).unwrap()));
        }
    }
    all
}

#[track_caller]
fn read(text: &str) -> trade::job::Job {
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("job", text, &read.faults));
    read.job
}

fn json(plan: &Plan) -> Value {
    serde_json::from_str(&clothwright::plan_json::write(plan, &[])).unwrap()
}

/// Arithmetic as it is written: mixed numbers, + - × /, brackets, π, √, ², sin, cos, and the arc over a
/// chord. Shares nothing with the program.
struct Sum<'a> {
    rest: &'a str,
}

impl Sum<'_> {
    fn of(text: &str) -> f64 {
        let mut sum = Sum { rest: text };
        let value = sum.sum();
        assert!(sum.rest.trim().is_empty(), "left over: `{}` of `{text}`", sum.rest);
        value
    }

    fn take(&mut self, sign: &str) -> bool {
        match self.rest.trim_start().strip_prefix(sign) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn sum(&mut self) -> f64 {
        let mut value = self.product();
        loop {
            if self.take("+") {
                value += self.product();
            } else if self.take("-") {
                value -= self.product();
            } else {
                return value;
            }
        }
    }

    fn product(&mut self) -> f64 {
        let mut value = self.power();
        loop {
            if self.take("×") {
                value *= self.power();
            } else if self.take("/") {
                value /= self.power();
            } else {
                return value;
            }
        }
    }

    fn power(&mut self) -> f64 {
        let value = self.one();
        if self.take("²") { value * value } else { value }
    }

    fn bracket(&mut self) -> f64 {
        assert!(self.take("("), "no bracket in `{}`", self.rest);
        let value = self.sum();
        assert!(self.take(")"), "no end in `{}`", self.rest);
        value
    }

    fn one(&mut self) -> f64 {
        if self.take("√") {
            return self.bracket().sqrt();
        }
        if self.take("π") {
            return std::f64::consts::PI;
        }
        for (word, of) in [("sin", f64::sin as fn(f64) -> f64), ("cos", f64::cos)] {
            if self.take(word) {
                assert!(self.take("("));
                let degrees = self.number();
                assert!(self.take("°") && self.take(")"));
                return of(degrees.to_radians());
            }
        }
        if self.take("arc(chord") {
            let chord = self.sum();
            assert!(self.take(", rise"));
            let rise = self.sum();
            assert!(self.take(")"));
            let radius = chord * chord / (8.0 * rise) + rise / 2.0;
            return if rise == 0.0 { chord } else { 2.0 * radius * (chord / 2.0 / radius).asin() };
        }
        if self.rest.trim_start().starts_with('(') {
            return self.bracket();
        }
        self.number()
    }

    /// `53`, `53.725`, `3/4`, `53 3/4`.
    fn number(&mut self) -> f64 {
        let whole = self.digits();
        let text = self.rest;
        // A fraction is written without spaces: 3/4 is one number, 3 / 4 a division.
        if let Some(below) = text.strip_prefix('/') {
            self.rest = below;
            return whole / self.digits();
        }
        let next = text.strip_prefix(' ').unwrap_or(text);
        let top: String = next.chars().take_while(char::is_ascii_digit).collect();
        if text.starts_with(' ') && !top.is_empty() && next[top.len()..].starts_with('/') {
            self.rest = &next[top.len() + 1..];
            return whole + top.parse::<f64>().unwrap() / self.digits();
        }
        whole
    }

    fn digits(&mut self) -> f64 {
        let text = self.rest.trim_start();
        let end = text
            .char_indices()
            .find(|(i, c)| !(c.is_ascii_digit() || *c == '.' || (*i == 0 && *c == '-')))
            .map_or(text.len(), |(i, _)| i);
        let (number, rest) = text.split_at(end);
        self.rest = rest;
        number.parse().unwrap_or_else(|_| panic!("no number in `{text}`"))
    }
}

/// Holds every working of a plan.json against arithmetic and against the sizes of its parts.
pub fn hold_workings(name: &str, plan: &Plan) {
    let unit = plan.job.style.unit;
    let inches = unit.is_binary();
    // What three decimals of an inch, or two of a millimetre, leave open in a sum of some terms.
    let slack = if inches { 0.012 } else { 0.12 };
    let mark = plan.job.style.mark.in_unit(unit);
    for part in json(plan)["parts"].as_array().unwrap() {
        let mut results = Vec::new();
        for working in part["workings"].as_array().unwrap() {
            let working = working.as_str().unwrap();
            // `what: sum = exact, up to the next 1/16: rounded`; what is no sum is told as it is.
            let (left, right) = match working.find(" = ") {
                Some(at) => {
                    (&working[working[..at].rfind(": ").unwrap() + 2..at], &working[at + 3..])
                }
                None => {
                    let right = working.split_once(": ").unwrap().1;
                    (right.split(", ").next().unwrap(), right)
                }
            };
            let mut given = right.split(", ");
            let exact = Sum::of(given.next().unwrap());
            let worked = Sum::of(left);
            let close = slack * (1.0 + worked.abs() / 400.0);
            assert!((worked - exact).abs() < close, "{name}: {working}: {worked}");
            let mut last = exact;
            for rounding in given {
                let (how, rounded) = rounding.rsplit_once(": ").unwrap();
                let step = Sum::of(how.rsplit_once(' ').unwrap().1);
                let rounded = Sum::of(rounded);
                let off = rounded - last;
                let within = match how.split(' ').next().unwrap() {
                    "up" => off > -slack && off < step + slack,
                    "down" => off < slack && off > -step - slack,
                    _ => off.abs() < step / 2.0 + slack,
                };
                assert!(within, "{name}: {working}");
                last = rounded;
            }
            results.push(last);
        }
        if part["kind"] != "cloth" {
            continue;
        }
        let points: Vec<(f64, f64)> = part["outline_mm"]
            .as_array()
            .unwrap()
            .iter()
            .map(|p| (p[0].as_f64().unwrap(), p[1].as_f64().unwrap()))
            .collect();
        let size = |of: fn(&(f64, f64)) -> f64| {
            let all = || points.iter().map(of);
            let mm = all().fold(f64::MIN, f64::max) - all().fold(f64::MAX, f64::min);
            if inches { mm / 25.4 } else { mm }
        };
        for side in [size(|p| p.0), size(|p| p.1)] {
            // Flattened arcs keep their box.
            let told = results.iter().any(|result| (result - side).abs() < slack / 4.0);
            assert!(
                told,
                "{name}: {} {}: {side} is not among {results:?}",
                part["id"], part["name"]
            );
        }
        // Plain rectangles are as large as whole marks.
        if points.len() == 4
            && points.iter().all(|p| {
                (p.0 - points[0].0).abs() < 1e-6
                    || (p.1 - points[0].1).abs() < 1e-6
                    || (p.0 - points[2].0).abs() < 1e-6
            })
        {
            for side in [size(|p| p.0), size(|p| p.1)] {
                let off = (side / mark).fract();
                assert!(off.min(1.0 - off) < 1e-3, "{name}: {} is {side}", part["id"]);
            }
        }
    }
}

/// Holds every row of the order of cuts: far mark less near mark is the printed size.
pub fn hold_rows(name: &str, plan: &Plan) {
    let style = &plan.job.style;
    for lay in &plan.lays.cloths {
        for strip in &lay.answer.lay.strips {
            let rows = documents::cut_rows(plan, lay, strip);
            assert_eq!(rows.len(), strip.placements.len());
            for (row, placed) in rows.iter().zip(&strip.placements) {
                let part = &lay.parts[row.item].part;
                let (w, h) = part.printed_size(style);
                let on_roll = (row.from_end.1 - row.from_end.0, row.from_side.1 - row.from_side.0);
                let turned = row.turn % 180.0 != 0.0;
                let want = if turned { (w, h) } else { (h, w) };
                assert_eq!(on_roll, want, "{name}: {} turned {}", part.id, row.turn);
                // The marks stand where the part lies, to the mark.
                let bounds = lay.instance.items[row.item]
                    .shape
                    .turned(placed.turn)
                    .bounds()
                    .moved(placed.at);
                let off = (row.from_end.0 - Length::from_nm(bounds.low.y)).abs();
                assert!(off <= style.mark, "{name}: {}", part.id);
            }
        }
    }
}

#[test]
fn workings_sizes_and_marks_agree_on_every_job_at_hand() {
    for (name, text) in jobs() {
        let plan = plan(&read(&text), &Limits::quick(1)).unwrap();
        hold_workings(&name, &plan);
        hold_rows(&name, &plan);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn workings_sizes_and_marks_agree_on_random_jobs(text in crate::random_jobs::job()) {
        if let Ok(plan) = plan(&read(&text), &Limits::quick(1)) {
            hold_workings("random", &plan);
            hold_rows("random", &plan);
        }
    }
}

/// A job on the customer's own cloth: panels of random sizes and counts.
fn own_cloth(pieces: &[(u32, u32, u32)], length: u32) -> String {
    let mut text = format!(
        "[job]\nname = \"Own\"\nunit = \"in\"\n[rates]\nhour = 50\n\
         [[cloth]]\nname = \"C\"\nwidth = \"54\"\nselvedge = \"1/2\"\none_way = true\ncustomers_own = true\n\
         on_hand = [{{ id = \"own\", length = \"{length}\" }}]\n"
    );
    for (i, (w, h, n)) in pieces.iter().enumerate() {
        text += &format!(
            "[[piece]]\nname = \"P{i}\"\nkind = \"measured\"\ncloth = \"C\"\nwidth = \"{w}\"\nheight = \"{h} 1/4\"\ncount = {n}\n"
        );
    }
    text
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn more_work_never_gives_fewer_parts_of_own_cloth(
        pieces in proptest::collection::vec((6_u32..40, 6_u32..40, 1_u32..4), 2..7),
        length in 30_u32..120,
    ) {
        let job = read(&own_cloth(&pieces, length));
        let mut before: Option<(usize, Length)> = None;
        for work in [0, 1_000_000, 5_000_000, 30_000_000] {
            let plan = plan(&job, &Limits::work(1, work)).unwrap();
            prop_assert_eq!(checker::faults(&json(&plan)), Vec::<String>::new());
            let lay = &plan.lays.cloths[0];
            let own = lay.own.as_ref().unwrap();
            // What is told is what lies there.
            let on_it: usize = lay.answer.lay.strips.iter()
                .filter(|s| matches!(s.stock, lay::Stock::OnHand(_)))
                .map(|s| s.placements.len())
                .sum();
            prop_assert_eq!(own.laid, on_it);
            prop_assert_eq!(own.is_enough(), own.laid == own.asked);
            prop_assert_eq!(own.is_enough(), own.short == Length::ZERO);
            // So much more is needed at least, and so much is enough.
            prop_assert!(own.short_at_least <= own.short);
            // Nothing is named as missing that lies whole on the cloth.
            for (name, given, count) in &own.pieces {
                let piece = lay.parts.iter().position(|p| plan.developed[p.developed].label == *name).unwrap();
                let there = lay.answer.lay.strips.iter()
                    .filter(|s| matches!(s.stock, lay::Stock::OnHand(_)))
                    .flat_map(|s| &s.placements)
                    .filter(|p| p.item == piece)
                    .count();
                prop_assert!(*given <= there && there <= *count, "{name}: {given} of {count}, {there} lie there");
            }
            // Whole pieces count: loose parts of many are of no use.
            let whole = own.whole().0;
            if let Some((laid, missing)) = before {
                prop_assert!(whole >= laid, "{whole} after {laid} with {work}");
                prop_assert!(whole > laid || own.missing <= missing);
            }
            before = Some((whole, own.missing));
        }
    }

    #[test]
    fn what_is_bought_for_any_start_is_enough_for_each(
        sizes in proptest::collection::vec((8_u32..24, 8_u32..24, 1_u32..4, any::<bool>()), 1..4),
        repeat in (9_u32..30, 0_u32..2),
        starts in proptest::collection::vec(0.0_f64..1.0, 3),
    ) {
        let (length, half) = repeat;
        let width = if half == 1 { ", width = \"9\", drop = \"half\"" } else { "" };
        let job = |first: &str| {
            let mut text = format!(
                "[job]\nname = \"Start\"\nunit = \"in\"\n[rates]\nhour = 50\n\
                 [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 20\nstep = \"1/4 yd\"\none_way = true\n\
                 repeat = {{ length = \"{length}\"{width}{first} }}\n"
            );
            for (i, (w, h, n, centred)) in sizes.iter().enumerate() {
                let rule = if *centred || i == 0 { "centred" } else { "free" };
                text += &format!("[[piece]]\nname = \"P{i}\"\nkind = \"measured\"\ncloth = \"C\"\nwidth = \"{w}\"\nheight = \"{h}\"\ncount = {n}\npattern = \"{rule}\"\n");
            }
            read(&text)
        };
        let any = plan(&job(""), &Limits::work(1, 30_000_000)).unwrap();
        prop_assert_eq!(checker::faults(&json(&any)), Vec::<String>::new());
        let lay = &any.lays.cloths[0];
        let worst = lay.starts.as_ref().unwrap();
        prop_assert!(worst.best <= worst.worst && worst.worst == lay.purchase);
        prop_assert!(lay.least_purchase <= lay.purchase);
        let what = any.warnings().into_iter().find(|w| w.code == "pattern-start").unwrap().what.clone();
        prop_assert!(said(&what).contains("is enough for every start"), "{}", said(&what));
        // At any one start no more is needed: what is known to be needed there is never above it, and these
        // small jobs are soon laid in as much.
        for start in starts {
            let first = format!(", first_along = \"{:.4}\"", start * f64::from(length));
            let known = plan(&job(&first), &Limits::work(1, 30_000_000)).unwrap();
            let there = &known.lays.cloths[0];
            prop_assert!(there.least_purchase <= lay.purchase);
            prop_assert!(there.starts.is_none());
            prop_assert!(there.purchase <= lay.purchase, "{} at {first}, {}", there.purchase, lay.purchase);
        }
        // Less than the least of all starts is never ordered.
        let last = &any.lays.cloths[0];
        prop_assert!(last.purchase >= last.instance.buying.purchase(last.answer.bound.length));
    }

    #[test]
    fn a_claim_holds_for_every_division_of_strips(
        runs in proptest::collection::vec(20_u32..200, 1..4),
        grain in 0_usize..3,
        panel in (10_u32..50, 10_u32..50),
    ) {
        let grain = ["cross", "straight", "bias"][grain];
        let runs: Vec<String> = runs.iter().map(|r| format!("\"{r}\"")).collect();
        let text = format!(
            "[job]\nname = \"Welt\"\nunit = \"in\"\n[rates]\nhour = 50\n\
             [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 30\nstep = \"0.01 yd\"\n\
             [[piece]]\nname = \"P\"\nkind = \"measured\"\ncloth = \"C\"\nwidth = \"{}\"\nheight = \"{}\"\n\
             [[piece]]\nname = \"W\"\nkind = \"welt\"\ncloth = \"C\"\nruns = [{}]\nwelt_grain = \"{grain}\"\n",
            panel.0, panel.1, runs.join(", ")
        );
        let plan = plan(&read(&text), &Limits::work(1, 8_000_000)).unwrap();
        prop_assert_eq!(checker::faults(&json(&plan)), Vec::<String>::new());
        let lay = &plan.lays.cloths[0];
        let welt = plan.developed.iter().find(|d| d.label == "W").unwrap();
        // Whatever the strips, so much cloth is covered: the panel, and the run times the strips' width.
        let strips = welt.parts[0].strips.as_ref().unwrap();
        let area = f64::from(panel.0 * panel.1) * 645.16 + strips.run.result.mm() * strips.width.result.mm();
        let least = area / (54.0 * 25.4);
        if lay.answer.proven {
            let by_area = lay.instance.buying.purchase(Length::from_mm(least));
            let longest = lay.instance.buying.purchase(Length::from_inches(f64::from(panel.1)));
            prop_assert_eq!(lay.purchase, by_area.max(longest));
        }
    }
}

#[test]
fn a_right_hand_piece_is_drawn_laid_and_cut_as_it_stands() {
    let job = |hands: &str| {
        read(&format!(
            "[job]\nname = \"Berths\"\nunit = \"mm\"\n[rates]\nhour = 40\n\
             [[cloth]]\nname = \"C\"\nwidth = \"1400\"\nprice = 20\n\
             [[foam]]\nname = \"F\"\nthickness = \"80\"\nfirmness = \"firm\"\nsheet = [{{ length = \"2000\", width = \"1200\", price = 60 }}]\n{hands}"
        ))
    };
    let berth = |name: &str, more: &str| {
        format!(
            "[[piece]]\nname = \"{name}\"\nkind = \"shaped cushion\"\ncloth = \"C\"\nfoam = \"F\"\nshape = \"trapezoid\"\nbottom = \"900\"\ntop = \"500\"\nheight = \"600\"\noffset = \"0\"\n{more}\n"
        )
    };
    let top = |plan: &Plan, label: &str| {
        let made = plan.developed.iter().find(|d| d.label == label).unwrap();
        made.parts.iter().find(|p| said(&p.name) == "top panel").unwrap().clone()
    };
    // The long slanted side tells left from right: on which side of the box's middle the mass lies.
    let leans_left = |part: &trade::part::Part| {
        let flat = part.outline.outer.flatten();
        let points: Vec<f64> = flat.points().iter().map(|s| s.point().x).collect();
        let (low, high) =
            points.iter().fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(*x), b.max(*x)));
        points.iter().sum::<f64>() / (points.len() as f64) < (low + high) / 2.0
    };
    // Measured as it stands, whichever hand it is called.
    let single = plan(&job(&berth("Right", "hand = \"right\"")), &Limits::quick(1)).unwrap();
    let plain = plan(&job(&berth("Plain", "")), &Limits::quick(1)).unwrap();
    assert_eq!(top(&single, "Right").outline, top(&plain, "Plain").outline);
    assert_eq!(top(&single, "Right").hand, Some("right"));
    // It has its picture and its template.
    assert!(!documents::screen::bench(&single, 0).is_empty());
    let drawn = documents::screen::bench(&single, 0);
    assert!(drawn.iter().any(|(title, _)| title.contains("top panel")), "{drawn:?}");
    let templates = documents::full_size::wanted(&single, &[]);
    assert!(templates.iter().any(|w| said(&w.part.name) == "top panel"));
    // Mirrored from the left one it is its mirror image, in the lay as on its sheet.
    let both = format!(
        "{}[[piece]]\nname = \"Right\"\nmirror_of = \"Left\"\n",
        berth("Left", "hand = \"left\"")
    );
    let both = plan(&job(&both), &Limits::quick(1)).unwrap();
    let (left, right) = (top(&both, "Left"), top(&both, "Right"));
    assert_eq!(right.hand, Some("right"));
    assert_ne!(leans_left(&left), leans_left(&right));
    assert!((left.outline.area() - right.outline.area()).abs() < 1.0);
    assert_eq!(checker::faults(&json(&both)), Vec::<String>::new());
    // A pair measured as the left gives the same two shapes.
    let pair = plan(&job(&berth("Pair", "hand = \"pair\"\ncount = 2")), &Limits::quick(1)).unwrap();
    let tops: Vec<_> =
        pair.developed[0].parts.iter().filter(|p| said(&p.name) == "top panel").collect();
    assert_eq!(tops.len(), 2);
    assert!(leans_left(tops[0]) == leans_left(&left) && leans_left(tops[1]) == leans_left(&right));
}

#[test]
fn motifs_hang_on_the_middle_of_what_is_seen() {
    // A chair on a stripe of 84: whatever its edges take, the middle of each cut as it is seen falls on a
    // stripe in step with the others. Arithmetic on plan.json: the anchor less the middle of the seen box.
    let text = "[job]\nname = \"Chair\"\nunit = \"mm\"\n[rates]\nhour = 40\n\
         [[cloth]]\nname = \"S\"\nwidth = \"1400\"\nprice = 40\none_way = true\nrepeat = { width = \"84\" }\n\
         [[piece]]\nname = \"Chair\"\nkind = \"cut pieces\"\ncloth = \"S\"\nmatch = \"chair\"\n\
         cut = [{ name = \"inside back\", width = \"600\", height = \"700\", edges = { left = \"seam\", right = \"pull\" } }, { name = \"arm\", width = \"300\", height = \"520\", count = 2, pair = true, edges = { left = \"stapled\", right = \"bare\" } }]\n";
    let plan = plan(&read(text), &Limits::quick(1)).unwrap();
    let a = &plan.job.pieces[0].allowances;
    let parts = json(&plan)["parts"].clone();
    let anchor = |name: &str| {
        let part = parts.as_array().unwrap().iter().find(|p| p["name"] == name).unwrap();
        part["anchor_mm"][0].as_f64().unwrap()
    };
    // From the left edge of the cut: what the left edge takes, and half of what is seen.
    assert!((anchor("inside back") - (a.seam.mm() + 300.0)).abs() < 1e-6);
    assert!((anchor("arm") - (a.turn_under.mm() + 150.0)).abs() < 1e-6);
}

#[test]
fn boxing_goes_on_where_its_top_ends() {
    // A top 500 deep centred on its motif, boxing 100 high below its front edge: unrolled, the boxing's
    // motif point lies 250 above its top seam, so that a motif of the top's own column runs down it.
    let text = "[job]\nname = \"Box\"\nunit = \"mm\"\n[rates]\nhour = 40\n\
         [[cloth]]\nname = \"S\"\nwidth = \"1400\"\nprice = 40\none_way = true\nrepeat = { length = \"130\", width = \"70\", first = [\"0\", \"0\"] }\n\
         [[foam]]\nname = \"F\"\nthickness = \"100\"\nfirmness = \"firm\"\nsheet = [{ length = \"2000\", width = \"1200\", price = 60 }]\n\
         [[piece]]\nname = \"P\"\nkind = \"boxed cushion\"\ncloth = \"S\"\nfoam = \"F\"\nwidth = \"400\"\ndepth = \"500\"\npattern = \"centred\"\nboxing_in_step = true\n";
    let plan = plan(&read(text), &Limits::quick(1)).unwrap();
    let parts = json(&plan)["parts"].clone();
    let part =
        |name: &str| parts.as_array().unwrap().iter().find(|p| p["name"] == name).unwrap().clone();
    let boxing = part("boxing");
    let size = |p: &Value, axis: usize| {
        let all = p["outline_mm"].as_array().unwrap().iter().map(|q| q[axis].as_f64().unwrap());
        all.fold(f64::MIN, f64::max)
    };
    assert_eq!(boxing["rule"], "centred");
    let seam = plan.job.pieces[0].allowances.seam.mm();
    let anchor = |axis: usize| boxing["anchor_mm"][axis].as_f64().unwrap();
    assert!((anchor(0) - size(&boxing, 0) / 2.0).abs() < 1e-3);
    assert!((anchor(1) - (size(&boxing, 1) - seam + 250.0)).abs() < 1e-3, "{}", anchor(1));
    assert_eq!(checker::faults(&json(&plan)), Vec::<String>::new());
}

#[test]
fn a_one_way_print_on_its_side_is_told_with_its_reason() {
    // 60 wide on 53 usable: up the roll it does not fit, and railroaded its print lies on its side.
    let text = |direction: &str| {
        format!(
            "[job]\nname = \"Bench\"\nunit = \"in\"\n[rates]\nhour = 40\n\
             [[cloth]]\nname = \"Leaf\"\nwidth = \"54\"\nselvedge = \"1/2\"\nprice = 40\none_way = true\ndirection = \"{direction}\"\n\
             [[piece]]\nname = \"P\"\nkind = \"measured\"\ncloth = \"Leaf\"\nwidth = \"60\"\nheight = \"20\"\n"
        )
    };
    let either = plan(&read(&text("either")), &Limits::quick(1)).unwrap();
    let told =
        either.warnings().into_iter().find(|w| w.code == "one-way-sideways").unwrap().clone();
    assert!(
        said(&told.what).contains("lies on its side") && said(&told.what).contains("60"),
        "{}",
        said(&told.what)
    );
    let quote = trade::lays::told::assumed(&either.job, &either.lays.cloths[0]);
    assert!(quote.iter().any(|line| said(line).contains("on its side")), "{quote:?}");
    // Asked for, it is nothing to be told.
    let asked = plan(&read(&text("railroaded")), &Limits::quick(1)).unwrap();
    assert!(asked.warnings().iter().all(|w| w.code != "one-way-sideways"));
}

#[test]
fn money_without_a_rate_makes_no_total() {
    let text = |rates: &str, more: &str| {
        format!(
            "[job]\nname = \"M\"\nunit = \"mm\"\n{rates}\
             [[cloth]]\nname = \"C\"\nwidth = \"1400\"\nprice = 20\n\
             [[charge]]\nwhat = \"Delivery\"\namount = 45\n\
             [[piece]]\nname = \"P\"\nkind = \"panel\"\ncloth = \"C\"\nwidth = \"500\"\nheight = \"400\"\ncount = 2\n{more}"
        )
    };
    let none = plan(&read(&text("", "")), &Limits::quick(1)).unwrap();
    assert_eq!(none.price.whole(), None);
    assert!(none.warnings().iter().any(|w| w.code == "no-hourly-rate"));
    assert!(json(&none)["price"]["total"].is_null());
    // A price agreed for each piece needs no rate: 2 x 85, the charge of 45, and the cloth.
    let agreed = plan(&read(&text("", "price_each = 85\n")), &Limits::quick(1)).unwrap();
    let cloth: rust_decimal::Decimal =
        agreed.price.lines.iter().filter(|l| said(&l.what) == "C").map(|l| l.amount).sum();
    assert_eq!(agreed.price.net, cloth + rust_decimal::Decimal::from(2 * 85 + 45));
    assert!(agreed.price.whole().is_some());
    // An hour that costs nothing on purpose is a rate.
    let free = plan(&read(&text("[rates]\nhour = 0\n", "")), &Limits::quick(1)).unwrap();
    assert!(free.price.whole().is_some());
}

#[test]
fn foam_by_volume_is_counted_in_board_feet() {
    // A board foot is 144 cubic inches: two foams 24 x 24 x 4 are 2 x 16 board feet, at 2.50: 80 (source:
    // the unit's definition, NIST Handbook 44, from memory).
    let text = "[job]\nname = \"V\"\nunit = \"in\"\n[rates]\nhour = 40\n\
         [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 20\n\
         [[foam]]\nname = \"F\"\nthickness = \"4\"\nfirmness = \"35\"\nby_volume = { price = 2.50 }\n\
         [[piece]]\nname = \"P\"\nkind = \"panel\"\ncloth = \"C\"\nfoam = \"F\"\nwidth = \"24\"\nheight = \"24\"\ncount = 2\n";
    let plan = plan(&read(text), &Limits::quick(1)).unwrap();
    let line = plan.take_off.lines.iter().find(|l| said(&l.item) == "F").unwrap();
    assert_eq!((line.quantity.to_string(), said(&line.unit).as_str()), ("32".into(), "board ft"));
    assert_eq!(line.cost, rust_decimal::Decimal::from(80));
    assert!(plan.lays.sheets.iter().all(|l| l.stuff != Stuff::Foam));
}
