//! A job's own screens that are drawn by the page's scripts, and what all screens of a job share.

use super::{job_screen, list::STAGES};
use crate::serve::store::Titled;
use crate::serve::text::Parsed;
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use maud::html;
use serde::Deserialize;
use std::sync::Arc;

/// A job opens at its pieces.
pub async fn open(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    Ok(Redirect::to(&format!("/job/{id}/pieces")).into_response())
}

/// The frame that the scripts fill; the same for every job, so that it can be kept on a device. A job
/// begun away from the workroom has no number yet.
pub async fn screens(Extension(visit): Extension<Visit>) -> Answer {
    Ok(page(job_screen(&visit, None, "", "app", &html! {})))
}

#[derive(Deserialize)]
pub struct Stage {
    stage: String,
}

pub async fn stage(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(Stage { stage }): Form<Stage>,
) -> Answer {
    if !STAGES.iter().any(|s| s.0 == stage) {
        return Err(Trouble::Input(format!("`{stage}` is no step of a job")));
    }
    reached(&app, id, &stage, &visit.from.to_string())?;
    if stage == "quoted" {
        super::money::agree(&app, id, &visit.from.to_string(), "as quoted").await?;
    }
    Ok(Redirect::to(&format!("/job/{id}/send")).into_response())
}

/// A job has come to a step. As it was quoted it can be found again: History names that version, with the
/// price that was on the screen.
pub fn reached(app: &App, id: i64, stage: &str, who: &str) -> Result<(), Trouble> {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    app.store.set_stage(id, stage, &now())?;
    if stage == "quoted" && entry.stage != stage {
        let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
        let price =
            if entry.price.is_empty() { String::new() } else { format!(", {}", entry.price) };
        let note = format!("as quoted{price}");
        app.store.save(id, newest.number, &titled(&newest.text), (who, &note, &now()))?;
    }
    Ok(())
}

/// Words of the file as the fields here call them; what is left of its syntax is taken out.
pub fn plain(text: &str) -> String {
    let known = [
        ("set seam_allowed = true", "say “May be joined” at the piece, under More"),
        ("seam_allowed = true", "“May be joined”"),
        ("railroad it (direction = \"railroaded\")", "let it run railroaded (Materials, Runs)"),
        ("direction = \"railroaded\"", "“Runs: railroaded”"),
        ("direction = \"up the roll\"", "“Runs: up the roll”"),
        (
            "say pattern = \"centred\", put pieces in step with match = \"a name\", or say pattern = \"free\"",
            "centre it, match pieces by a group, or say “Anywhere”",
        ),
        (" across = [{ from, to, length }]", " a diagonal"),
        (", or included = true", ""),
        ("write digits only, without quotes", "write digits only"),
    ];
    let text = known.iter().fold(text.to_string(), |text, (from, to)| text.replace(from, to));
    let text = text.replace(" = \"", ": ").replace(" = true", ": yes").replace(" = false", ": no");
    text.chars().filter(|c| !matches!(c, '`' | '"' | '[' | ']' | '{' | '}')).collect()
}

/// A job's text with what lists show of it.
pub fn titled(text: &str) -> Titled<'_> {
    let all = Parsed::of(text);
    let name = all.get("job.name");
    let name = if name.trim().is_empty() { "unnamed job".into() } else { name };
    let words: Vec<String> = ["number", "due", "place"]
        .iter()
        .map(|key| format!("job.{key}"))
        .chain(["address", "contact", "name"].iter().map(|key| format!("customer.{key}")))
        .map(|path| all.get(&path))
        .collect();
    Titled {
        text,
        words: format!("{name} {}", words.join(" ")),
        name,
        customer: all.get("customer.name").trim().to_string(),
        due: all.get("job.due"),
    }
}
