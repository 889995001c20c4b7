//! An outline from a photograph: sheets to print, a photograph sent, its corners dragged, the outline taken
//! over as that of a piece.

use super::goods::change;
use super::photo::made_anew;
use super::{frame, head, with_token};
use crate::outline;
use crate::serve::access::secret;
use crate::serve::store::Photo;
use crate::serve::{Answer, App, Trouble, Visit, now, page, values};
use axum::Json;
use axum::extract::{Extension, Multipart, Path, Query, State};
use axum::http::header;
use axum::response::IntoResponse;
use geometry::{Length, Point, Unit, read_length};
use maud::html;
use photo::sheet::Paper;
use photo::{
    Looked, Measured, Outlined, Photograph, Pixel, Refusal, Tape, dense, few_corners, lay_level,
};
use serde::Deserialize;
use serde_json::{Value, json};
use std::sync::{Arc, Mutex};
use trade::message::Message;
use trade::working::Style;

/// So many photographs are kept unpacked at a time, the newest ones.
const KEPT: usize = 3;
/// Corners for dragging lie this far off the line without them, in mm.
const CORNER: f64 = 4.0;
/// Cosine of the least turn that is a corner: 25 degrees.
const CORNER_COS: f64 = 0.906;
/// More corners than this are nobody's.
const MOST_CORNERS: usize = 400;
/// What an outline of another shape has, which a traced one has not.
const OTHER_KEYS: [&str; 22] = [
    "width",
    "height",
    "radius",
    "radii",
    "diagonals",
    "bottom",
    "top",
    "offset",
    "diameter",
    "inner",
    "body",
    "depth",
    "ear",
    "ear_side",
    "sides",
    "across",
    "base",
    "straight",
    "corner",
    "notch",
    "side",
    "cut_out",
];

/// A photograph being worked on.
pub struct Tracing {
    mark: String,
    photographs: Vec<Photograph>,
    looked: Looked,
    small: Vec<u8>,
    found: Option<Outlined>,
}

/// Those being worked on, the newest last.
#[derive(Default)]
pub struct Tracings(Mutex<Vec<(String, Arc<Mutex<Tracing>>)>>);

impl Tracings {
    fn keep(&self, name: String, one: Tracing) -> Arc<Mutex<Tracing>> {
        let one = Arc::new(Mutex::new(one));
        let mut all = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        all.push((name, one.clone()));
        let over = all.len().saturating_sub(KEPT);
        all.drain(..over);
        one
    }

    fn get(&self, name: &str) -> Result<Arc<Mutex<Tracing>>, Trouble> {
        let all = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let found = all.iter().find(|(n, _)| n == name).map(|(_, one)| one.clone());
        found.ok_or_else(|| {
            Trouble::Input("this photograph is no longer at hand: choose it again".into())
        })
    }
}

#[derive(Deserialize)]
pub struct Wanted {
    #[serde(default)]
    paper: String,
}

/// The sheets to print.
pub async fn sheets(Query(wanted): Query<Wanted>) -> Answer {
    let paper = if wanted.paper == "letter" { Paper::Letter } else { Paper::A4 };
    let set = move || documents::paged(documents::photo_sheets::pages(paper, 4));
    let pdf = tokio::task::spawn_blocking(set)
        .await
        .map_err(|e| Trouble::Inside(e.to_string()))?
        .map_err(|e| Trouble::Inside(e.to_string()))?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], pdf).into_response())
}

/// The screen of one piece.
pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, mark)): Path<(i64, String)>,
) -> Answer {
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let at = values::position(&newest.text, "piece", &mark).ok_or(Trouble::Missing)?;
    let all = values::json(&newest.text);
    let name = all["piece"][at]["name"].as_str().unwrap_or_default().to_string();
    let unit = unit_of(&all);
    let sign = match unit {
        Unit::Inch => "inches",
        Unit::Centimetre => "centimetres",
        _ => "millimetres",
    };
    let field = |name: &str, words: &str, hint: &str| {
        html! { label.f { span { (words) } input name=(name) autocomplete="off" placeholder=(hint) required[name == "thickness"]; } }
    };
    let of = |mm: f64| Length::from_mm(mm).show(Unit::Millimetre);
    let body = html! {
        (head(&format!("Outline from a photograph: {name}"), Some((&format!("/job/{id}/pieces/{mark}"), "the piece")), &html! {}))
        main #main.outline data-outline=(with_token(&visit, &format!("/job/{id}/outline/{mark}"))) data-piece=(format!("/job/{id}/pieces/{mark}")) data-token=(visit.token) {
            form #ask.stack {
                section.sheet.pad.stack {
                    h2 { "1. Lay sheets round it" }
                    p { "Print the four sheets at 100 %, lay them round the part, 30 to 80 mm (1 1/4 to 3 in) clear of it, and tape their corners down. If part and floor look alike, lay a plain cloth under it." }
                    p.row.wrap { a.b href="/photo-sheets.pdf" target="_blank" { "Sheets on A4" } a.b href="/photo-sheets.pdf?paper=letter" target="_blank" { "Sheets on Letter" } }
                }
                section.sheet.pad.stack {
                    h2 { "2. Measure" }
                    p.quiet { "From cross to cross, and the part’s thickness; in " (sign) ", or with its unit." }
                    div.fields {
                        (field("tape-1-2", "Sheet 1 to sheet 2", ""))
                        (field("tape-3-4", "Sheet 3 to sheet 4", ""))
                        (field("thickness", "Thickness: upper edge above the floor", "0 for cloth or paper"))
                        (field("across", "Check line across, as printed", &of(180.0)))
                        (field("up", "Check line up, as printed", &of(252.0)))
                    }
                }
                section.sheet.pad.stack {
                    h2 { "3. Photograph" }
                    p { "From straight above the middle, phone level, main camera at 1×: the whole part and all sheets in the picture. Stand firmly. A photograph taken earlier does as well." }
                    label.f { span { "Photograph" } input #photo type="file" name="photo" accept="image/jpeg,image/png,image/webp" required; }
                    div.row { button.b.strong type="submit" { "Find the outline" } }
                }
            }
            p #said role="status" aria-live="polite" {}
            section #found.stack hidden {}
        }
    };
    Ok(page(frame(&visit, "Outline from a photograph — Clothwright", "outline-page", &body)))
}

fn unit_of(job: &Value) -> Unit {
    match job["job"]["unit"].as_str() {
        Some("mm") => Unit::Millimetre,
        Some("cm") => Unit::Centimetre,
        _ => Unit::Inch,
    }
}

fn said(what: &Message, unit: Unit) -> (String, String) {
    let voice = words::english().voice(Style::usual(unit));
    (voice.say(what), voice.say(&Message { part: Some("do"), ..what.clone() }))
}

fn refused(what: &Message, unit: Unit, more: Value) -> axum::response::Response {
    let (why, remedy) = said(what, unit);
    let mut answer = json!({ "why": why, "do": remedy });
    if let (Some(all), Some(more)) = (answer.as_object_mut(), more.as_object()) {
        all.extend(more.clone());
    }
    Json(answer).into_response()
}

/// What a form said.
#[derive(Default)]
struct Said {
    measured: Measured,
    photographs: Vec<axum::body::Bytes>,
    has_thickness: bool,
}

/// What a form said; inside, a measure that cannot be read, with what to do.
async fn read_form(
    form: &mut Multipart,
    unit: Unit,
) -> Result<Result<Said, (String, String)>, Trouble> {
    let wrong = |e: axum::extract::multipart::MultipartError| Trouble::Input(e.body_text());
    let mut said = Said::default();
    while let Some(part) = form.next_field().await.map_err(wrong)? {
        let name = part.name().unwrap_or_default().to_string();
        if name == "photo" {
            said.photographs.push(part.bytes().await.map_err(wrong)?);
            continue;
        }
        let text = part.text().await.map_err(wrong)?;
        if text.trim().is_empty() {
            continue;
        }
        said.has_thickness |= name == "thickness";
        if text.trim() == "0" {
            continue;
        }
        let mm = match read_length(&text, unit) {
            Ok(length) => length.mm(),
            Err(e) => return Ok(Err((format!("{text}: {e}"), e.remedy().to_string()))),
        };
        match name.as_str() {
            "tape-1-2" => said.measured.tapes.push(Tape { from: 0, to: 1, mm }),
            "tape-3-4" => said.measured.tapes.push(Tape { from: 2, to: 3, mm }),
            "thickness" => said.measured.thickness = mm,
            "across" => said.measured.lines.across = Some(mm),
            "up" => said.measured.lines.up = Some(mm),
            _ => {}
        }
    }
    if !said.has_thickness {
        let why = "how thick the part is was not said".to_string();
        return Ok(Err((
            why,
            "measure how high its upper edge lies over the floor; 0 for cloth or paper".into(),
        )));
    }
    Ok(Ok(said))
}

/// A photograph comes in: where everything stands, and a first outline.
pub async fn look(
    State(app): State<Arc<App>>,
    Path((id, mark)): Path<(i64, String)>,
    mut form: Multipart,
) -> Answer {
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    values::position(&newest.text, "piece", &mark).ok_or(Trouble::Missing)?;
    let unit = unit_of(&values::json(&newest.text));
    let said = match read_form(&mut form, unit).await? {
        Ok(said) => said,
        Err((why, remedy)) => return Ok(Json(json!({ "why": why, "do": remedy })).into_response()),
    };
    let Some(bytes) = said.photographs.first().cloned() else {
        return Err(Trouble::Input("no photograph was sent".into()));
    };
    let _turn = super::photo::turn().await?;
    let work = move || -> Result<axum::response::Response, Trouble> {
        let photographs = match outline::read(&bytes) {
            Ok(photograph) => vec![photograph],
            Err(what) => return Ok(refused(&what, unit, json!({}))),
        };
        let small = made_anew(&bytes).map_err(|e| Trouble::Input(e.to_string()))?;
        let looked = match photo::look(&photographs, &said.measured, &|_| true) {
            Ok(looked) => looked,
            Err(refusal) => return Ok(refused(&outline::told(&refusal), unit, json!({}))),
        };
        let name = secret().map_err(|e| Trouble::Inside(e.to_string()))?;
        let drawn = looked.propose(&photographs, None, &|_| true);
        let one = Tracing { mark, photographs, looked, small, found: None };
        let kept = app.tracings.keep(name.clone(), one);
        let mut tracing = kept.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        Ok(match drawn {
            Ok(drawn) => answer(&mut tracing, &name, &drawn, unit),
            Err(refusal) => {
                let more = picture(&tracing, &name);
                refused(&outline::told(&refusal), unit, more)
            }
        })
    };
    tokio::task::spawn_blocking(work).await.map_err(|e| Trouble::Inside(e.to_string()))?
}

fn picture(tracing: &Tracing, name: &str) -> Value {
    let (w, h) = tracing.looked.views[0].size;
    json!({ "name": name, "width": w, "height": h })
}

/// The outline near drawn ones, as the screen shows it.
fn answer(
    tracing: &mut Tracing,
    name: &str,
    drawn: &[Vec<Point>],
    unit: Unit,
) -> axum::response::Response {
    let found = tracing.looked.outline(&tracing.photographs, drawn, &|_| true);
    let mut more = picture(tracing, name);
    let looked = &tracing.looked;
    let pixels = |points: &[Point]| -> Value {
        points
            .iter()
            .map(|p| looked.pixel(0, *p))
            .map(|p| json!([(p.x * 10.0).round() / 10.0, (p.y * 10.0).round() / 10.0]))
            .collect()
    };
    match found {
        Err(refusal) => {
            more["corners"] = drawn.iter().map(|l| pixels(&few_corners(l, CORNER))).collect();
            tracing.found = None;
            refused(&outline::told(&refusal), unit, more)
        }
        Ok(found) => {
            let shown = |l: &photo::Loop| dense(&l.fitted, 4.0);
            more["lines"] = found.loops.iter().map(|l| pixels(&shown(l))).collect();
            more["corners"] = found
                .loops
                .iter()
                .map(|l| pixels(&few_corners(&dense(&l.fitted, 1.5), CORNER)))
                .collect();
            let middle = found.loops[0].edge.first().copied().unwrap_or_default();
            let (a, b) =
                (looked.pixel(0, middle), looked.pixel(0, Point::new(middle.x + 10.0, middle.y)));
            more["band"] = json!(found.within * a.distance(b) / 10.0);
            // Of a sixteenth nobody would see what a tenth of a millimetre says.
            more["within"] = json!(
                Length::from_mm(found.within).round_up(Length::from_mm(0.1)).show(Unit::Millimetre)
            );
            more["sizes"] = sizes(looked, &found, unit);
            tracing.found = Some(found);
            Json(more).into_response()
        }
    }
}

/// A length as a tape shows it.
fn on_tape(mm: f64, unit: Unit) -> String {
    let mark =
        if unit == Unit::Inch { Length::from_inches(1.0 / 16.0) } else { Length::from_mm(0.5) };
    Length::from_mm(mm).round_even(mark).show(unit)
}

/// Straight sides that end in corners a tape can be laid to, with their middles; not those that run into a
/// bend.
fn between_corners(fitted: &[photo::Fitted]) -> Vec<(f64, Point)> {
    let n = fitted.len();
    let seg = |i: usize| geometry::Seg {
        start: fitted[i % n].at,
        end: fitted[(i + 1) % n].at,
        bulge: fitted[i % n].bulge,
        run: geometry::Run::Side(i % n),
    };
    let is_corner = |i: usize| {
        let (before, after) = (seg(i + n - 1).directions().1, seg(i).directions().0);
        before.dot(after) < CORNER_COS
    };
    (0..n)
        .filter(|i| fitted[*i].bulge == 0.0 && is_corner(*i) && is_corner(i + 1))
        .map(|i| (seg(i).length(), seg(i).start.middle(seg(i).end)))
        .collect()
}

/// What can be held against a tape: the box, the longest straight sides with a letter each and where it stands
/// in the picture, round openings.
fn sizes(looked: &Looked, found: &Outlined, unit: Unit) -> Value {
    let Some(traced) = lay_level(looked, found) else { return json!([]) };
    let show = |mm: f64| on_tape(mm, unit);
    let mut all = vec![
        json!({ "what": "Left to right over all", "size": show(traced.size.0) }),
        json!({ "what": "Bottom to top over all", "size": show(traced.size.1) }),
    ];
    let mut straight = between_corners(&found.loops[0].fitted);
    straight.sort_by(|a, b| b.0.total_cmp(&a.0));
    all.extend(straight.iter().take(4).zip(["a", "b", "c", "d"]).map(|((mm, at), letter)| {
        let at = looked.pixel(0, *at);
        json!({ "what": format!("Straight side {letter}"), "size": show(*mm), "letter": letter, "at": [at.x, at.y] })
    }));
    let openings = traced.openings.iter().filter_map(|o| o.diameter);
    all.extend(openings.map(|mm| json!({ "what": "Round opening, across", "size": show(mm) })));
    Value::Array(all)
}

/// The photograph, small.
pub async fn picture_file(State(app): State<Arc<App>>, Path(name): Path<String>) -> Answer {
    let tracing = app.tracings.get(&name)?;
    let small = tracing.lock().unwrap_or_else(std::sync::PoisonError::into_inner).small.clone();
    Ok(([(header::CONTENT_TYPE, "image/jpeg")], small).into_response())
}

#[derive(Deserialize)]
pub struct Drawn {
    loops: Vec<Vec<[f64; 2]>>,
}

/// Corners were dragged or tapped: the outline near them.
pub async fn draw(
    State(app): State<Arc<App>>,
    Path((id, _, name)): Path<(i64, String, String)>,
    Json(drawn): Json<Drawn>,
) -> Answer {
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let unit = unit_of(&values::json(&newest.text));
    let count: usize = drawn.loops.iter().map(Vec::len).sum();
    if count > MOST_CORNERS || drawn.loops.iter().any(|l| l.len() < 3) || drawn.loops.is_empty() {
        return Err(Trouble::Input(
            "an outline needs at least three corners, and few enough to drag".into(),
        ));
    }
    let tracing = app.tracings.get(&name)?;
    let work = move || {
        let mut tracing = tracing.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let of = |l: &Vec<[f64; 2]>| -> Option<Vec<Point>> {
            l.iter().map(|[x, y]| tracing.looked.place(0, Pixel::new(*x, *y))).collect()
        };
        let Some(loops) = drawn.loops.iter().map(of).collect::<Option<Vec<_>>>() else {
            return refused(&outline::told(&Refusal::OutOfPicture), unit, json!({}));
        };
        answer(&mut tracing, &name, &loops, unit)
    };
    tokio::task::spawn_blocking(work).await.map_err(|e| Trouble::Inside(e.to_string()))
}

/// The outline becomes that of the piece; the photograph is kept with it.
pub async fn take(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, mark, name)): Path<(i64, String, String)>,
) -> Answer {
    let kept = app.tracings.get(&name)?;
    let (keys, small) = {
        let tracing = kept.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        if tracing.mark != mark {
            return Err(Trouble::Missing);
        }
        let found = tracing
            .found
            .as_ref()
            .ok_or_else(|| Trouble::Input("there is no outline yet".into()))?;
        let traced = lay_level(&tracing.looked, found).ok_or_else(|| {
            Trouble::Input("the lines and arcs make no outline: drag its corners".into())
        })?;
        (outline::values(&traced, found.within, ""), tracing.small.clone())
    };
    change(&app, id, "outline from a photograph", &visit.from.to_string(), |text| {
        let at = values::position(text, "piece", &mark).ok_or(Trouble::Missing)?;
        let is_panel = values::json(text)["piece"][at]["kind"] == "panel";
        let put = |text: String, key: &str, to: &Value| {
            values::put(&text, &format!("piece.{at}.{key}"), to).map_err(|e| Trouble::Input(e.0))
        };
        let mut text = text.to_string();
        for key in OTHER_KEYS {
            text = put(text, key, &Value::Null)?;
        }
        for (key, value) in keys.iter().filter(|(key, _)| is_panel || *key != "cut_out") {
            text = put(text, key, value)?;
        }
        Ok(text)
    })?;
    let photo = Photo { id: 0, words: "Outline".into(), at: now(), piece: mark.clone() };
    app.store.add_photo(id, &photo, &name, &small)?;
    Ok(Json(json!({ "to": format!("/job/{id}/pieces/{mark}") })).into_response())
}
