//! Papers: the same that the command line writes.

use crate::serve::{Answer, App, Trouble};
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::IntoResponse;
use documents::full_size::{self, Paper};
use std::collections::BTreeMap;
use std::sync::Arc;

pub async fn file(State(app): State<Arc<App>>, Path((id, name)): Path<(i64, String)>) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    if name == "job.toml" {
        let headers = [
            (header::CONTENT_TYPE, "application/toml; charset=utf-8"),
            (header::CONTENT_DISPOSITION, "attachment; filename=\"job.toml\""),
        ];
        return Ok((headers, newest.text).into_response());
    }
    let paper = name.strip_suffix(".pdf").and_then(documents::Paper::named);
    let others = ["job-pack.pdf", "templates.pdf", "comparison.pdf"];
    if paper.is_none() && !others.contains(&name.as_str()) {
        return Err(Trouble::Missing);
    }
    if !sheet.faults.is_empty() {
        return Err(Trouble::Input(format!(
            "no papers yet: {} on the job's sheet is to be put right first, or a piece would be missing from them",
            if sheet.faults.len() == 1 {
                "one thing".to_string()
            } else {
                format!("{} things", sheet.faults.len())
            }
        )));
    }
    let plan = sheet.searched().await.ok_or_else(|| {
        Trouble::Input("there are no papers until what is to put right is put right".into())
    })?;
    let pdf = tokio::task::spawn_blocking(move || {
        let none = BTreeMap::new();
        if let Some(paper) = paper {
            return documents::Papers::of(&plan, &[]).set(paper, &none)?.pdf();
        }
        match name.as_str() {
            "job-pack.pdf" => documents::job_pack(&plan, &[], &none),
            "templates.pdf" => {
                let wanted = full_size::wanted(&plan, &[]);
                let paper = if plan.job.letter_paper { Paper::LETTER } else { Paper::A4 };
                documents::template_sheets(&plan, &wanted, paper)
            }
            _ => {
                let tables =
                    super::plan::compared(&plan.job, Some(plan.clone())).unwrap_or_default();
                documents::comparison(&plan.job, &tables, &none)
            }
        }
    })
    .await
    .map_err(|e| Trouble::Inside(e.to_string()))?
    .map_err(|e| Trouble::Inside(e.to_string()))?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], pdf).into_response())
}
