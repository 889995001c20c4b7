//! Papers besides the pack: full-size templates and survey sheets.

use super::say::say;
use super::{Failure, other, read_job, sound, tell, write_new};
use crate::{KINDS, job_file, pack};
use documents::File;
use documents::full_size::{self, Paper};
use geometry::{Length, Unit, read_length};
use lay::Limits;
use std::collections::BTreeMap;
use std::path::Path;
use trade::hints::Hint;
use trade::plan::Plan;

/// `A4` or `Letter`.
pub(super) fn paper(text: &str) -> Result<Paper, String> {
    match text {
        "A4" => Ok(Paper::A4),
        "Letter" => Ok(Paper::LETTER),
        _ => Err("say A4 or Letter".into()),
    }
}

/// `in`, `mm` or `cm`.
pub(super) fn unit(text: &str) -> Result<Unit, String> {
    match text {
        "in" => Ok(Unit::Inch),
        "mm" => Ok(Unit::Millimetre),
        "cm" => Ok(Unit::Centimetre),
        _ => Err("say in, mm or cm".into()),
    }
}

/// A paper by its name.
pub(super) fn named(text: &str) -> Result<documents::Paper, String> {
    let names: Vec<&str> = documents::Paper::ALL.iter().map(|paper| paper.name()).collect();
    documents::Paper::named(text.trim()).ok_or_else(|| format!("say one of {}", names.join(", ")))
}

/// The papers of a plan as files: those wanted, or the usual ones. What the workshop prints is there under
/// the pack's old name too.
pub(super) fn set(
    plan: &Plan,
    hints: &[Hint],
    only: Option<&[documents::Paper]>,
    designs: &BTreeMap<String, String>,
) -> Result<Vec<File>, Failure> {
    let usual = || documents::Paper::ALL.into_iter().filter(|paper| paper.is_usual()).collect();
    let wanted: Vec<documents::Paper> = only.map_or_else(usual, <[_]>::to_vec);
    let mut files = documents::Papers::of(plan, hints)
        .files(&wanted, designs)
        .map_err(|e| Failure::Other(format!("a page design cannot be set:\n{e}")))?;
    let pack = files.iter().find(|f| f.path == "workshop.pdf").map(|f| f.bytes.clone());
    files.extend(pack.map(|bytes| File { path: "job-pack.pdf".into(), bytes }));
    Ok(files)
}

fn wrong(what: &str, remedy: &str) -> Failure {
    eprintln!("error: {what}\n  = do: {remedy}");
    Failure::Input
}

pub(super) fn templates(
    path: &Path,
    out: &Path,
    parts: Option<&str>,
    paper: Option<Paper>,
    roll: Option<&str>,
) -> Result<(), Failure> {
    let text = read_job(path)?;
    let name = path.display().to_string();
    let read = job_file::read(&text);
    sound(&name, &text, &read)?;
    let unit = read.job.style.unit;
    let roll = match roll.map(|text| (text, read_length(text, unit))) {
        None => None,
        Some((_, Ok(width)))
            if width > Length::from_mm(150.0) && width < Length::from_mm(10_000.0) =>
        {
            Some(width)
        }
        Some((text, _)) => {
            return Err(wrong(
                &format!("--roll: `{text}` is no width of a plotter's sheet"),
                "give it as on the tape, such as 36 in or 914 mm; at least 150 mm",
            ));
        }
    };
    pack::writable(out).map_err(|e| other(out, &e))?;
    // Only shapes are wanted: the first lay will do.
    let plan = trade::plan::plan(&read.job, &Limits::quick(1))
        .map_err(|faults| tell(&name, &text, &job_file::place(&text, faults, &read)))?;
    let ids: Vec<String> = parts
        .map(|list| list.split(',').map(|id| id.trim().to_uppercase()).collect())
        .unwrap_or_default();
    let known = |id: &String| plan.developed.iter().flat_map(|d| &d.parts).any(|p| p.id == *id);
    if let Some(id) = ids.iter().find(|id| !known(id)) {
        return Err(wrong(
            &format!("--parts: the job has no part `{id}`"),
            "tags stand in the cutting list and on the bench sheets: 3A, 3B",
        ));
    }
    let wanted = full_size::wanted(&plan, &ids);
    if wanted.is_empty() {
        say("all parts are plain rectangles; name the ones to print with --parts 1A,1B");
        return Ok(());
    }
    let failed = |e| Failure::Other(format!("a page design cannot be set:\n{e}"));
    let files = if let Some(width) = roll {
        let sheet = full_size::plotter(&plan, &wanted, width).map_err(|part| {
            wrong(
                &format!("part {part} is wider than the plotter's sheet"),
                "choose a wider roll, or print it on sheets",
            )
        })?;
        let svg = documents::svg::write(&sheet).into_bytes();
        let pdf = documents::paged(vec![sheet]).map_err(failed)?;
        vec![("plotter.svg", svg), ("plotter.pdf", pdf)]
    } else {
        let usual = if read.job.letter_paper { Paper::LETTER } else { Paper::A4 };
        let paper = paper.unwrap_or(usual);
        let sheets: usize = wanted.iter().map(|w| full_size::sheets(&plan, w, paper).len()).sum();
        let parts = wanted.len();
        say(&format!("{parts} templates on {sheets} sheets; --parts 1A,2B prints those only"));
        let pdf = documents::template_sheets(&plan, &wanted, paper).map_err(failed)?;
        vec![("templates.pdf", pdf)]
    };
    for (file, bytes) in files {
        let path = out.join(file);
        std::fs::write(&path, bytes).map_err(|e| other(&path, &e))?;
        say(&format!(
            "{}: {} parts at full size; measure the square first",
            path.display(),
            wanted.len()
        ));
    }
    Ok(())
}

pub(super) fn survey(out: &Path) -> Result<(), Failure> {
    let read = job_file::read(KINDS);
    let File { bytes, .. } = documents::survey(&read.job)
        .map_err(|e| Failure::Other(format!("a page design cannot be set:\n{e}")))?;
    write_new(out, &bytes)?;
    say(&format!("{}: one sheet for each kind of piece", out.display()));
    Ok(())
}
