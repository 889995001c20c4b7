//! Parts at full size, measured by readers that know nothing of the program: the operators of the PDF,
//! an XML reader, a DXF reader.

use crate::said;
use documents::full_size::{Paper, plotter, wanted};
use geometry::Length;
use lay::Limits;
use lopdf::content::Content;
use lopdf::{Document, Object, ObjectId};
use trade::part::Meaning;
use trade::plan::{Plan, plan};

fn kinds() -> Plan {
    let read = clothwright::job_file::read(clothwright::KINDS);
    plan(&read.job, &Limits::quick(1)).unwrap()
}

/// A matrix of the imaging model: x' = a x + c y + e, y' = b x + d y + f (ISO 32000-1, 8.3).
type Matrix = [f64; 6];

fn times(m: Matrix, n: Matrix) -> Matrix {
    [
        m[0] * n[0] + m[1] * n[2],
        m[0] * n[1] + m[1] * n[3],
        m[2] * n[0] + m[3] * n[2],
        m[2] * n[1] + m[3] * n[3],
        m[4] * n[0] + m[5] * n[2] + n[4],
        m[4] * n[1] + m[5] * n[3] + n[5],
    ]
}

fn number(o: &Object) -> f64 {
    o.as_float().map(f64::from).unwrap_or(0.0)
}

/// Boxes of all painted paths of a page, mm: left, bottom, width, height.
fn boxes(document: &Document, page: ObjectId) -> Vec<[f64; 4]> {
    let content = document.get_page_content(page);
    let (inline, ids) = document.get_page_resources(page).unwrap();
    let mut resources: Vec<lopdf::Dictionary> = inline.into_iter().cloned().collect();
    resources.extend(ids.iter().filter_map(|id| document.get_dictionary(*id).ok().cloned()));
    let mut found = Vec::new();
    walk(document, &content, &resources, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], &mut found);
    found
}

fn walk(
    document: &Document,
    content: &[u8],
    resources: &[lopdf::Dictionary],
    start: Matrix,
    found: &mut Vec<[f64; 4]>,
) {
    let content = Content::decode(content).unwrap();
    let mut stack = vec![start];
    let mut points: Vec<[f64; 2]> = Vec::new();
    for op in &content.operations {
        let n: Vec<f64> = op.operands.iter().map(number).collect();
        let now = *stack.last().unwrap();
        let at =
            |x: f64, y: f64| [now[0] * x + now[2] * y + now[4], now[1] * x + now[3] * y + now[5]];
        match op.operator.as_str() {
            "q" => stack.push(now),
            "Q" => {
                stack.pop();
            }
            "cm" => *stack.last_mut().unwrap() = times([n[0], n[1], n[2], n[3], n[4], n[5]], now),
            "m" | "l" => points.push(at(n[0], n[1])),
            "c" => points.extend([at(n[0], n[1]), at(n[2], n[3]), at(n[4], n[5])]),
            "re" => points.extend([at(n[0], n[1]), at(n[0] + n[2], n[1] + n[3])]),
            "S" | "s" | "f" | "F" | "f*" | "B" | "b" | "B*" | "b*" => {
                let mm = 25.4 / 72.0;
                let low =
                    points.iter().fold([f64::MAX; 2], |l, p| [l[0].min(p[0]), l[1].min(p[1])]);
                let high =
                    points.iter().fold([f64::MIN; 2], |h, p| [h[0].max(p[0]), h[1].max(p[1])]);
                found.push([
                    low[0] * mm,
                    low[1] * mm,
                    (high[0] - low[0]) * mm,
                    (high[1] - low[1]) * mm,
                ]);
                points.clear();
            }
            "n" => points.clear(),
            "Do" => {
                let name = op.operands[0].as_name().unwrap();
                let form = resources.iter().find_map(|r| {
                    let all =
                        document.dereference(r.get(b"XObject").ok()?).ok()?.1.as_dict().ok()?;
                    document.dereference(all.get(name).ok()?).ok()?.1.as_stream().ok()
                });
                let Some(form) = form else { continue };
                let matrix =
                    form.dict.get(b"Matrix").ok().and_then(|m| m.as_array().ok()).map(|m| {
                        let m: Vec<f64> = m.iter().map(number).collect();
                        [m[0], m[1], m[2], m[3], m[4], m[5]]
                    });
                let inner = times(matrix.unwrap_or([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]), now);
                let own =
                    form.dict.get(b"Resources").ok().and_then(|r| document.dereference(r).ok());
                let own: Vec<_> =
                    own.and_then(|r| r.1.as_dict().ok().cloned()).into_iter().collect();
                let bytes = form.decompressed_content().unwrap_or_else(|_| form.content.clone());
                walk(document, &bytes, &own, inner, found);
            }
            _ => {}
        }
    }
}

/// Whether a painted box is so wide and high, to a twentieth of a millimetre.
fn has(boxes: &[[f64; 4]], width: f64, height: f64) -> bool {
    boxes.iter().any(|b| (b[2] - width).abs() < 0.05 && (b[3] - height).abs() < 0.05)
}

#[test]
fn templates_print_at_true_scale_and_fit_together() {
    let plan = kinds();
    // A disc of 7 in (the smaller end of the tapered roll) lies on few sheets; its box is known.
    let made = plan.developed.iter().find(|d| d.label == "Tapered roll").unwrap();
    let disc = made.parts.iter().find(|p| said(&p.name) == "end, smaller").unwrap();
    let all = wanted(&plan, std::slice::from_ref(&disc.id));
    for (paper, width, height) in [(Paper::A4, 210.0, 297.0), (Paper::LETTER, 215.9, 279.4)] {
        let pdf = documents::template_sheets(&plan, &all, paper).unwrap();
        let document = Document::load_mem(&pdf).unwrap();
        let pages: Vec<ObjectId> = document.page_iter().collect();
        for page in &pages {
            let media = document.get_dictionary(*page).unwrap().get(b"MediaBox").unwrap();
            let media: Vec<f64> = media.as_array().unwrap().iter().map(number).collect();
            assert!(
                (media[2] - width * 72.0 / 25.4).abs() < 0.1
                    && (media[3] - height * 72.0 / 25.4).abs() < 0.1
            );
        }
        let first = boxes(&document, pages[0]);
        assert!(has(&first, 101.6, 101.6), "the square of 4 in");
        // The disc itself, whole on one of its sheets' drawings even where the sheet cuts it off.
        assert!(has(&boxes(&document, pages[1]), 177.8, 177.8), "the disc of 7 in");
        // Crosses are 12 mm; those of neighbours lie where the overlap says: one step apart.
        let crosses = |page: usize| -> Vec<f64> {
            let mut x: Vec<f64> = boxes(&document, pages[page])
                .iter()
                .filter(|b| (b[2] - 12.0).abs() < 0.05 && b[3] < 0.05)
                .map(|b| b[0] + 6.0)
                .filter(|x| *x > 0.0 && *x < width)
                .collect();
            x.sort_by(f64::total_cmp);
            x.dedup_by(|a, b| (*a - *b).abs() < 0.05);
            x
        };
        let found = crosses(1);
        assert_eq!(found.len(), 2, "{found:?}");
        assert!((found[1] - found[0] - (width - 20.0 - 15.0)).abs() < 0.05, "{found:?}");
    }
}

#[test]
fn a_plotter_gets_every_part_on_one_sheet() {
    let plan = kinds();
    let all = wanted(&plan, &[]);
    let sheet = plotter(&plan, &all, Length::from_inches(60.0)).unwrap();
    assert!((sheet.width - 1524.0).abs() < 1e-6);
    let svg = documents::svg::write(&sheet);
    let read = roxmltree::Document::parse(&svg).unwrap();
    assert_eq!(read.root_element().attribute("width"), Some("1524mm"));
    for part in &all {
        let label = format!("{} {}", part.part.id, said(&part.part.name));
        let said = read.descendants().filter(|n| n.text() == Some(label.as_str())).count();
        assert!(said >= 1, "{label}");
    }
    // A part wider than the roll is named.
    assert!(plotter(&plan, &all, Length::from_inches(20.0)).is_err());
}

#[test]
fn every_part_goes_to_a_cutter_with_its_arcs() {
    let plan = kinds();
    let files = documents::part_files(&plan);
    let text = |path: &str| {
        let file = files.iter().find(|f| f.path == path).unwrap_or_else(|| panic!("no {path}"));
        String::from_utf8(file.bytes.clone()).unwrap()
    };
    for made in &plan.developed {
        for part in &made.parts {
            let (w, h) = part.size();
            // DXF: millimetres in the header, the outline on the layer `cut`, arcs as bulges.
            let dxf = text(&format!("parts/{}.dxf", part.id));
            let drawing = dxf::Drawing::load(&mut dxf.as_bytes()).unwrap();
            assert_eq!(drawing.header.default_drawing_units, dxf::enums::Units::Millimeters);
            let cut: Vec<_> = drawing
                .entities()
                .filter(|e| e.common.layer == "cut")
                .filter_map(|e| match &e.specific {
                    dxf::entities::EntityType::Polyline(p) if p.is_closed() => Some(p),
                    _ => None,
                })
                .collect();
            assert_eq!(cut.len(), 1 + part.outline.holes.len(), "{}", part.id);
            let vertices: Vec<_> = cut[0].vertices().collect();
            let arcs = vertices.iter().filter(|v| v.bulge != 0.0).count();
            let ours = part.outline.outer.segs().filter(|s| s.bulge != 0.0).count();
            assert_eq!(
                (vertices.len(), arcs),
                (part.outline.outer.nodes.len(), ours),
                "{}",
                part.id
            );
            // Area by the shoelace of the vertices and the segments of circles beyond the chords.
            let n = vertices.len();
            let area: f64 = (0..n)
                .map(|i| {
                    let (a, b) = (vertices[i], vertices[(i + 1) % n]);
                    let (p, q) = (&a.location, &b.location);
                    let chord = (q.x - p.x).hypot(q.y - p.y);
                    let angle = 4.0 * a.bulge.atan();
                    let beyond = if a.bulge == 0.0 {
                        0.0
                    } else {
                        let r = chord / (2.0 * (angle / 2.0).sin()).abs();
                        r * r * (angle - angle.sin()) / 2.0
                    };
                    (p.x * q.y - q.x * p.y) / 2.0 + beyond
                })
                .sum();
            let want = part.outline.outer.area();
            assert!((area - want).abs() < 1e-4 * want.max(1.0), "{}: {area} for {want}", part.id);
            // SVG: millimetres, three layers, as large as the part and 5 mm round it.
            let svg = text(&format!("parts/{}.svg", part.id));
            let read = roxmltree::Document::parse(&svg).unwrap();
            let layers: Vec<_> =
                read.root_element().children().filter_map(|c| c.attribute("id")).collect();
            assert_eq!(layers, ["cut", "mark", "text"]);
            for (key, want) in [("width", w), ("height", h)] {
                let said = read.root_element().attribute(key).unwrap();
                let mm: f64 = said.strip_suffix("mm").unwrap().parse().unwrap();
                assert!((mm - 10.0 - want.mm()).abs() < 1e-3, "{} {key} {said}", part.id);
            }
            let cut = read.descendants().find(|c| c.attribute("id") == Some("cut")).unwrap();
            let course = cut.children().find_map(|c| c.attribute("d")).unwrap();
            assert_eq!(course.matches('A').count(), ours, "{}", part.id);
        }
    }
}

#[test]
fn lays_for_a_cutter_have_every_part_on_the_layer_cut() {
    let plan = kinds();
    let files = documents::lay_files(&plan);
    for lay in &plan.lays.cloths {
        let name = plan.job.cloths[lay.cloth].name.to_lowercase().replace(' ', "-");
        for (i, strip) in lay.answer.lay.strips.iter().enumerate() {
            let path = format!("lays/{name}-{}-cutter.svg", i + 1);
            let file = files.iter().find(|f| f.path == path).unwrap_or_else(|| panic!("no {path}"));
            let text = std::str::from_utf8(&file.bytes).unwrap();
            let read = roxmltree::Document::parse(text).unwrap();
            let layer = |name: &str| {
                read.root_element().children().find(|c| c.attribute("id") == Some(name)).unwrap()
            };
            let outlines: usize = strip
                .placements
                .iter()
                .map(|p| {
                    let part = &lay.parts[p.item].part;
                    let slits = part.marks.iter().filter(|m| m.meaning == Meaning::Slit).count();
                    1 + part.outline.holes.len() + slits
                })
                .sum();
            let shapes = layer("cut").children().filter(|c| c.has_tag_name("path")).count();
            assert_eq!(shapes, outlines, "{path}");
            let tags = layer("text").children().filter(|c| c.has_tag_name("text")).count();
            assert_eq!(tags, strip.placements.len(), "{path}");
        }
    }
}

#[test]
fn a_job_prints_in_the_other_unit_from_the_same_numbers() {
    let read = clothwright::job_file::read(clothwright::KINDS);
    let mut metric = read.job.clone();
    metric.style = trade::working::Style::usual(geometry::Unit::Millimetre);
    let (a, b) =
        (plan(&read.job, &Limits::quick(1)).unwrap(), plan(&metric, &Limits::quick(1)).unwrap());
    // The same parts but for the mark they are chalked at.
    for (x, y) in a.developed.iter().zip(&b.developed) {
        assert_eq!(x.finished, y.finished);
        for (p, q) in x.parts.iter().zip(&y.parts) {
            assert_eq!(p.id, q.id);
            // How welt is divided hangs on what is chalked.
            if p.strips.is_some() {
                continue;
            }
            let ((w, h), (v, g)) = (p.size(), q.size());
            let mark = read.job.style.mark.max(metric.style.mark);
            assert!((w - v).abs() <= mark && (h - g).abs() <= mark, "{} {}", p.id, said(&p.name));
        }
    }
    let (inch, mm) = (
        trade::method::steps(&a.job, &a.developed[0]),
        trade::method::steps(&b.job, &b.developed[0]),
    );
    let inch = words::of(&a.job).say(&inch[1].text);
    assert!(inch.contains("24 in") || inch.contains("× 24"), "{inch}");
    let mm = words::of(&b.job).say(&mm[1].text);
    assert!(mm.contains("609") || mm.contains("610"), "{mm}");
}
