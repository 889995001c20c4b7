//! Outlines from photographs, and the sheets they need.

use super::{Failure, STOPPED, other, say, write_new};
use crate::outline;
use geometry::{Length, Unit, read_length};
use photo::sheet::{Paper, SHEETS};
use photo::{CheckLines, Measured, Photograph, Pixel, Stage, Tape};
use std::path::{Path, PathBuf};
use std::sync::atomic::Ordering;
use trade::message::Message;
use trade::working::Style;

/// What is asked.
#[derive(clap::Args)]
pub(super) struct Asked {
    /// The photograph; several if they share a sheet at least.
    #[arg(required = true)]
    pictures: Vec<PathBuf>,
    /// A distance between the crosses of two sheets, as taped: `1-2=1482` (mm, or with its unit).
    #[arg(long = "tape", value_parser = tape)]
    tapes: Vec<Tape>,
    /// The check line across as printed: it should be 180 mm.
    #[arg(long, value_parser = length)]
    check_across: Option<f64>,
    /// The check line up as printed: it should be 252 mm.
    #[arg(long, value_parser = length)]
    check_up: Option<f64>,
    /// How high the part's upper edge lies over the floor; 0 for cloth or paper. Always to be said: a board of
    /// 12 mm taken for flat comes out as much too large.
    #[arg(long, value_parser = length)]
    thickness: f64,
    /// A pixel on the part, from the left and from the top, `2010,1480`; the middle of the sheets without it.
    #[arg(long, value_parser = pixel)]
    inside: Option<(f64, f64)>,
    /// Lines of a job file for a panel or a shaped cushion.
    #[arg(long)]
    out: PathBuf,
}

fn length(text: &str) -> Result<f64, String> {
    read_length(text, Unit::Millimetre).map(Length::mm).map_err(|e| format!("{e}; {}", e.remedy()))
}

fn tape(text: &str) -> Result<Tape, String> {
    let wrong =
        || format!("write sheet, sheet and distance, as in 1-2=1482; sheets are 1 to {SHEETS}");
    let (sheets, distance) = text.split_once('=').ok_or_else(wrong)?;
    let (from, to) = sheets.split_once('-').ok_or_else(wrong)?;
    let number =
        |t: &str| t.trim().parse().ok().filter(|n| (1..=SHEETS).contains(n)).map(|n| n - 1);
    let (from, to) = (number(from).ok_or_else(wrong)?, number(to).ok_or_else(wrong)?);
    if from == to {
        return Err(wrong());
    }
    Ok(Tape { from, to, mm: length(distance)? })
}

fn pixel(text: &str) -> Result<(f64, f64), String> {
    let (x, y) = text.split_once(',').ok_or("write two numbers, as in 2010,1480")?;
    let number = |t: &str| t.trim().parse::<f64>().map_err(|e| e.to_string());
    Ok((number(x)?, number(y)?))
}

/// `A4` or `Letter`.
pub(super) fn paper(text: &str) -> Result<Paper, String> {
    match text.to_lowercase().as_str() {
        "a4" => Ok(Paper::A4),
        "letter" => Ok(Paper::Letter),
        _ => Err("A4 or Letter".into()),
    }
}

pub(super) fn sheets(out: &Path, paper: Paper, count: usize) -> Result<(), Failure> {
    let pages = documents::photo_sheets::pages(paper, count);
    let pdf = documents::paged(pages)
        .map_err(|e| Failure::Other(format!("a page design cannot be set:\n{e}")))?;
    write_new(out, &pdf)?;
    say(&format!(
        "{}: how to, and {count} sheets; print at 100 % and measure the check lines",
        out.display()
    ));
    Ok(())
}

fn refused(what: &Message) -> Failure {
    let voice = words::english().voice(Style::usual(Unit::Millimetre));
    let remedy = Message { part: Some("do"), ..what.clone() };
    eprintln!("error: {}\n  = do: {}", voice.say(what), voice.say(&remedy));
    Failure::Input
}

/// Largest drawing read.
const MOST_BYTES: u64 = 20 * 1024 * 1024;

pub(super) fn drawing(path: &Path, out: &Path, unit: Unit) -> Result<(), Failure> {
    let size = std::fs::metadata(path).map_err(|e| other(path, &e))?.len();
    if size > MOST_BYTES {
        return Err(Failure::Other(format!("{}: larger than 20 MB", path.display())));
    }
    let bytes = std::fs::read(path).map_err(|e| other(path, &e))?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let traced = crate::drawing_in::read(&name, &bytes, unit).map_err(|what| refused(&what))?;
    let values = outline::values(&traced, 0.0, "");
    let text = format!(
        "# Lines of a piece of the kind panel or shaped cushion, as drawn in {name}.\n{}",
        outline::lines(&values)
    );
    write_new(out, text.as_bytes())?;
    say(&format!(
        "{}: {:.1} x {:.1} mm, {} lines and arcs, {} openings",
        out.display(),
        traced.size.0,
        traced.size.1,
        traced.corners.len(),
        traced.openings.len()
    ));
    Ok(())
}

pub(super) fn trace(asked: &Asked) -> Result<(), Failure> {
    let mut photographs: Vec<Photograph> = Vec::new();
    if asked.tapes.is_empty() {
        eprintln!(
            "warning: no distance was taped, so the outline is as true as the print's scale\n  = do: give two, from cross to cross, as in --tape 1-2=1482 --tape 3-4=1490"
        );
    }
    for path in &asked.pictures {
        let bytes = std::fs::read(path).map_err(|e| other(path, &e))?;
        photographs.push(outline::read(&bytes).map_err(|what| refused(&what))?);
    }
    let measured = Measured {
        tapes: asked.tapes.clone(),
        lines: CheckLines { across: asked.check_across, up: asked.check_up },
        thickness: asked.thickness,
    };
    let watch = |stage: Stage| {
        let words = match stage {
            Stage::Sheets(n) => format!("looking for sheets in photograph {}", n + 1),
            Stage::Places => "working out where everything lies".into(),
            Stage::Part => "looking for the part".into(),
            Stage::Edge(_) => "following the edge".into(),
        };
        eprintln!("{words} ...");
        !STOPPED.load(Ordering::Relaxed)
    };
    let fail = |r: photo::Refusal| refused(&outline::told(&r));
    let looked = photo::look(&photographs, &measured, &watch).map_err(fail)?;
    let inside = asked.inside.and_then(|(x, y)| looked.place(0, Pixel::new(x, y)));
    let drawn = looked.propose(&photographs, inside, &watch).map_err(fail)?;
    let found = looked.outline(&photographs, &drawn, &watch).map_err(fail)?;
    let traced = photo::lay_level(&looked, &found).ok_or_else(|| fail(photo::Refusal::Rough))?;
    let name = asked.pictures[0].file_name().unwrap_or_default().to_string_lossy().into_owned();
    let values = outline::values(&traced, found.within, &name);
    let text = format!(
        "# Lines of a piece of the kind panel or shaped cushion. 95 in 100 parts of the outline are true within\n# {:.1} mm, with 95 in 100 chances. Check one size by tape before cloth is cut.\n{}",
        found.within,
        outline::lines(&values)
    );
    write_new(&asked.out, text.as_bytes())?;
    say(&format!(
        "{}: {:.0} x {:.0} mm, {} lines and arcs{}; true within {:.1} mm; check one size by tape before cloth is cut",
        asked.out.display(),
        traced.size.0,
        traced.size.1,
        traced.corners.len(),
        match traced.openings.len() {
            0 => String::new(),
            1 => ", one opening".into(),
            n => format!(", {n} openings"),
        },
        found.within
    ));
    Ok(())
}
