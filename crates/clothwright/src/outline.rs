//! Outlines from photographs, as the shells need them: pictures read, refusals in words, outlines as lines of
//! a job file.

use geometry::{Corner, Length};
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use photo::{Photograph, Picture, Refusal, Traced};
use serde_json::{Map, Value, json};
use std::io::Cursor;
use trade::message::{Between, Message, message};

/// Larger pictures are refused before they are unpacked, pixels each way.
const MOST: u32 = 12_000;
/// Larger ones are made smaller: more does not make an outline truer.
const LONGEST: u32 = 4_100;

/// A photograph as a camera wrote it, turned upright.
///
/// # Errors
/// What is wrong, and a remedy.
pub fn read(bytes: &[u8]) -> Result<Photograph, Message> {
    let wrong = |why: String| message("photo-unreadable").text("why", &why);
    let mut picture = unpacked(bytes).map_err(|e| wrong(e.to_string()))?;
    if picture.width().max(picture.height()) > LONGEST {
        picture = picture.resize(LONGEST, LONGEST, image::imageops::FilterType::Triangle);
    }
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let picture = Picture::new(width, height, picture.into_rgb8().into_raw())
        .ok_or_else(|| wrong("it is empty".into()))?;
    Ok(Photograph { picture, focal_35: focal(bytes) })
}

/// A picture within limits of size and memory, turned upright: a phone notes how it was held instead of turning
/// the picture.
///
/// # Errors
/// What is no picture, or too large.
pub fn unpacked(bytes: &[u8]) -> image::ImageResult<DynamicImage> {
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format()?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST);
    limits.max_image_height = Some(MOST);
    limits.max_alloc = Some(600 * 1024 * 1024);
    reader.limits(limits);
    let mut decoder = reader.into_decoder()?;
    let held = decoder.orientation()?;
    let mut picture = DynamicImage::from_decoder(decoder)?;
    picture.apply_orientation(held);
    Ok(picture)
}

/// Focal length as on a film 36 by 24 mm, if the picture tells.
///
/// Source: Exif 2.3 (CIPA DC-008), FocalLengthIn35mmFilm; nought means not known.
fn focal(bytes: &[u8]) -> Option<f64> {
    let read = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)).ok()?;
    let field = read.get_field(exif::Tag::FocalLengthIn35mmFilm, exif::In::PRIMARY)?;
    field.value.get_uint(0).filter(|mm| *mm > 0).map(f64::from)
}

/// Why there is no outline; its part `do` is the remedy.
pub fn told(refusal: &Refusal) -> Message {
    let percent = |share: f64| (100.0 * share).round() as i64;
    let tenth = |v: f64| format!("{v:.1}");
    match refusal {
        Refusal::Stopped => message("photo-stopped"),
        Refusal::FewSheets(seen) => {
            let which: Vec<String> = seen.iter().map(|n| (n + 1).to_string()).collect();
            message("photo-few-sheets").count("seen", seen.len()).text("which", which.join(", "))
        }
        Refusal::Apart => message("photo-apart"),
        Refusal::DoesNotFit(pixels) => message("photo-does-not-fit").text("pixels", tenth(*pixels)),
        Refusal::Focal(share) => {
            message("photo-focal").text("percent", percent(share.abs()).to_string())
        }
        Refusal::Tilt(degrees) => message("photo-tilt").text("degrees", format!("{degrees:.0}")),
        Refusal::NoSheet(sheet) => message("photo-no-sheet").count("sheet", sheet + 1),
        Refusal::Tapes(held) => {
            let mm = Length::from_mm;
            let one = |h: &photo::Held| {
                message("photo-tape")
                    .count("from", h.tape.from + 1)
                    .count("to", h.tape.to + 1)
                    .chalk("taped", mm(h.tape.mm))
                    .chalk("found", mm(h.found))
                    .chalk("spread", mm(2.0 * h.spread))
            };
            message("photo-tapes").list("each", held.iter().map(one).collect(), Between::Semicolon)
        }
        Refusal::NoPart => message("photo-no-part"),
        Refusal::OutOfPicture => message("photo-out-of-picture"),
        Refusal::SheetNear(near) => {
            message("photo-sheet-near").chalk("near", Length::from_mm(*near))
        }
        Refusal::Contrast(share) => {
            message("photo-contrast").text("percent", percent(*share).to_string())
        }
        Refusal::Rough => message("photo-rough"),
        Refusal::NoEdge(share) => {
            message("photo-no-edge").text("percent", percent(*share).to_string())
        }
    }
}

fn mm(v: f64) -> String {
    // No minus before a nought.
    let tenths = (v * 10.0).round() / 10.0;
    format!("{} mm", if tenths == 0.0 { 0.0 } else { tenths })
}

fn corner_values(corners: &[Corner]) -> Value {
    let one = |c: &Corner| {
        let mut values = json!({ "x": mm(c.at.x), "y": mm(c.at.y) });
        if c.rise.abs() >= 0.05 {
            values["rise"] = json!(mm(c.rise));
        }
        values
    };
    corners.iter().map(one).collect()
}

/// The keys of a piece that the outline gives, as values of a job file.
pub fn values(traced: &Traced, within: f64, photograph: &str) -> Map<String, Value> {
    let mut out = Map::new();
    out.insert("shape".into(), json!("traced"));
    if within > 0.0 {
        out.insert("within".into(), json!(mm((within * 10.0).ceil() / 10.0)));
    }
    if !photograph.is_empty() {
        out.insert("photograph".into(), json!(photograph));
    }
    out.insert("corner".into(), corner_values(&traced.corners));
    let opening = |o: &photo::Opening| {
        let mut values = json!({ "what": "the opening", "x": mm(o.middle.x), "y": mm(o.middle.y) });
        match o.diameter {
            Some(across) => values["diameter"] = json!(mm(across)),
            None => values["corner"] = corner_values(&o.corners),
        }
        values
    };
    if !traced.openings.is_empty() {
        out.insert("cut_out".into(), traced.openings.iter().map(opening).collect());
    }
    out
}

/// The same as lines of text.
pub fn lines(values: &Map<String, Value>) -> String {
    let mut out = String::new();
    for key in ["shape", "within", "photograph", "corner", "cut_out"] {
        let Some(value) = values.get(key) else { continue };
        match value.as_array() {
            None => out.push_str(&format!("{key} = {value}\n")),
            Some(all) => {
                out.push_str(&format!("{key} = [\n"));
                for one in all {
                    out.push_str(&format!("  {},\n", inline(one)));
                }
                out.push_str("]\n");
            }
        }
    }
    out
}

fn inline(value: &Value) -> String {
    match value {
        Value::Object(pairs) => {
            let pairs: Vec<String> =
                pairs.iter().map(|(k, v)| format!("{k} = {}", inline(v))).collect();
            format!("{{ {} }}", pairs.join(", "))
        }
        Value::Array(all) => format!("[{}]", all.iter().map(inline).collect::<Vec<_>>().join(", ")),
        other => other.to_string(),
    }
}
