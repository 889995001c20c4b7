//! The shop: what new jobs start from, how to share the page, who is in.

use super::{frame, head, with_token};
use crate::serve::{Answer, App, Trouble, Visit, access, page};
use axum::extract::{Extension, Form, Path, Query, State};
use axum::response::{IntoResponse, Redirect};
use maud::{PreEscaped, html};
use qrcode::QrCode;
use qrcode::render::svg;
use serde::Deserialize;
use std::sync::Arc;

/// What a new job starts from until the shop says otherwise.
pub const USUAL: &str = include_str!("../../../assets/shop.toml");

#[derive(Deserialize, Default)]
pub struct Kept {
    #[serde(default)]
    kept: String,
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Query(kept): Query<Kept>,
) -> Answer {
    let text = app.store.setting("shop")?.unwrap_or_else(|| USUAL.into());
    let sessions = app.store.sessions()?;
    let code = QrCode::new(&app.address)
        .ok()
        .map(|code| code.render::<svg::Color>().min_dimensions(180, 180).quiet_zone(true).build());
    let body = html! {
        (head("The shop", Some(("/", "jobs")), &html! {}))
        main #main.narrow {
            @if kept.kept == "1" { p role="status" { b { "Kept. " } "New jobs start from it; jobs already begun stay as they are." } }
            section { h2 { "What new jobs start from" }
                p.hint { "Unit, rates, allowances, tax, the cloths and foams you keep: as in a job file." }
                form method="post" action=(with_token(&visit, "/shop")) {
                    label { "Its text" textarea name="text" rows="24" spellcheck="false" { (text) } }
                    button.main { "Keep it" }
                }
            }
            section { h2 { "On other screens" }
                @if app.pass_phrase.is_some() {
                    p { "Others in the workroom come in at " b { (app.address) } " with the pass phrase." }
                    @if let Some(code) = code { div.qr { (PreEscaped(code)) } }
                    ul { @for (mark, since, from) in &sessions { li {
                        (from) " since " (since)
                        @if *mark == access::session_mark(&visit.cookie) { " (this screen)" }
                        form.inline method="post" action=(with_token(&visit, &format!("/shop/end/{mark}"))) { button.quiet { "end it" } }
                    } } }
                } @else {
                    p { "The page is open on this machine only. Start it with " code { "clothwright serve --share" } " to use it on phones and tablets of the workroom; it asks for a pass phrase." }
                }
            }
        }
    };
    Ok(page(frame(&visit, "The shop — Clothwright", "shop", &body)))
}

#[derive(Deserialize)]
pub struct Text {
    text: String,
}

pub async fn save(State(app): State<Arc<App>>, Form(Text { text }): Form<Text>) -> Answer {
    let text = text.replace("\r\n", "\n");
    if let Err(error) = text.parse::<toml_edit::DocumentMut>() {
        return Err(Trouble::Input(format!("not kept: {}", error.message())));
    }
    app.store.set_setting("shop", &text)?;
    Ok(Redirect::to("/shop?kept=1").into_response())
}

pub async fn end(State(app): State<Arc<App>>, Path(mark): Path<String>) -> Answer {
    app.store.end_session(&mark)?;
    Ok(Redirect::to("/shop").into_response())
}
