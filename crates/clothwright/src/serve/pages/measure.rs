//! One measure at a time, for a phone in one hand and a tape in the other.

use super::{frame, head, piece, with_token};
use crate::serve::fields::{Field, Input, of_kind, words};
use crate::serve::text;
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use maud::html;
use serde::Deserialize;
use std::sync::Arc;

/// Measures that are typed: choices are made on the sheet.
fn measures(text: &str, index: usize) -> Vec<Field> {
    let at = |key: &str| text::get(text, &format!("piece.{index}.{key}"));
    let is_in_run = !at("run.length").is_empty();
    of_kind(&at("kind"), at)
        .into_iter()
        .filter(|field| {
            let is_typed = !matches!(field.input, Input::Choice { .. } | Input::Flag(_));
            is_typed && !(is_in_run && field.is_from_run)
        })
        .collect()
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, index, step)): Path<(i64, usize, usize)>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let text = &newest.text;
    let at = |key: &str| text::get(text, &format!("piece.{index}.{key}"));
    let all = measures(text, index);
    let Some(field) = all.get(step) else {
        return Ok(Redirect::to(&format!("/job/{id}#piece-{index}")).into_response());
    };
    let (key, told) = (field.key, field.how);
    let metric = ["mm", "cm"].contains(&text::get(text, "job.unit").as_str());
    let keys: &[&str] = if metric {
        &["7", "8", "9", "4", "5", "6", "1", "2", "3", "0", ".", "⌫"]
    } else {
        &["7", "8", "9", "4", "5", "6", "1", "2", "3", "0", "⌫", " "]
    };
    let fractions: &[&str] = if metric {
        &[]
    } else {
        &[
            "1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8", "1/16", "3/16", "5/16", "7/16",
            "9/16", "11/16", "13/16", "15/16",
        ]
    };
    let back = format!("/job/{id}#piece-{index}");
    let body = html! {
        (head(&at("name"), Some((&back, "the sheet")), &html! { span.count { (step + 1) " of " (all.len()) } }))
        main #main.measure {
            (piece::figure(&sheet, index, false))
            form method="post" action=(with_token(&visit, &format!("/job/{id}/measure/{index}/{step}"))) {
                input type="hidden" name="base" value=(newest.number);
                label.big for="value" { @if let Some(letter) = field.letter { b { (letter) } " " } (words(key)) @if !told.is_empty() { span.hint { (told) } } }
                input #value name="value" value=(at(key)) inputmode="none" autocomplete="off" data-keypad;
                @if !at(key).is_empty() { (piece::faults(&sheet, "piece", index, false)) }
                div.pads { div.keypad aria-label="keypad" {
                    @for key in keys { button type="button" data-key=(key) { @if *key == " " { "␣" } @else { (key) } } }
                }
                @if field.input == Input::List { div.keypad { button type="button" data-key=", " { "next: ," } } }
                div.keypad.fractions { @for f in fractions { button type="button" data-key=(format!(" {f}")) { (f) } } } }
                div.row {
                    @if step > 0 { a.button href=(format!("/job/{id}/measure/{index}/{}", step - 1)) { "Back" } }
                    button.main.grow { @if step + 1 == all.len() { "Done" } @else { "Next" } }
                }
            }
        }
    };
    Ok(page(frame(&visit, "Measure — Clothwright", "measure", &body)))
}

#[derive(Deserialize)]
pub struct Value {
    base: i64,
    value: String,
}

pub async fn set(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, index, step)): Path<(i64, usize, usize)>,
    Form(form): Form<Value>,
) -> Answer {
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let all = measures(&newest.text, index);
    let field = all.get(step).ok_or(Trouble::Missing)?;
    let path = format!("piece.{index}.{}", field.key);
    let value = form.value.split_whitespace().collect::<Vec<_>>().join(" ");
    super::change::keep_value(
        &app,
        id,
        form.base,
        &visit.from.to_string(),
        (&path, field.input.sort(), &value),
    )?;
    Ok(Redirect::to(&format!("/job/{id}/measure/{index}/{}", step + 1)).into_response())
}
