//! The door: only where the page is shared on a network.

use super::{frame, head, with_token};
use crate::serve::{Answer, App, Visit, access, now, page};
use axum::extract::{Extension, Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;

fn door(visit: &Visit, wrong: Option<&str>) -> Markup {
    let body = html! {
        (head("Clothwright", None, &html! {}))
        main #main.narrow {
            form method="post" action=(with_token(visit, "/enter")) {
                label { "Pass phrase of this workroom"
                    input type="password" name="phrase" autocomplete="current-password" autofocus required;
                }
                @if let Some(wrong) = wrong { p.fault role="alert" { (wrong) } }
                button.b.strong { "Come in" }
            }
        }
    };
    frame(visit, "Come in — Clothwright", "door", &body)
}

pub async fn show(Extension(visit): Extension<Visit>) -> Answer {
    Ok(page(door(&visit, None)))
}

#[derive(Deserialize)]
pub struct Phrase {
    phrase: String,
}

pub async fn enter(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Form(Phrase { phrase }): Form<Phrase>,
) -> Answer {
    let Some(kept) = app.pass_phrase.clone() else { return Ok(Redirect::to("/").into_response()) };
    if !app.guesses.allowed(visit.from) {
        let told = door(&visit, Some("too many wrong guesses from here; wait five minutes"));
        return Ok((StatusCode::TOO_MANY_REQUESTS, page(told)).into_response());
    }
    // Counted before it is checked, so that guesses side by side count too.
    app.guesses.wrong(visit.from);
    let right = tokio::task::spawn_blocking(move || access::matches(&phrase, &kept)).await;
    if !right.unwrap_or(false) {
        let told = door(&visit, Some("that is not the phrase"));
        return Ok((StatusCode::FORBIDDEN, page(told)).into_response());
    }
    app.guesses.right(visit.from);
    // A fresh cookie for a fresh session.
    let cookie = access::secret().map_err(|e| crate::serve::Trouble::Inside(e.to_string()))?;
    app.store.add_session(&access::session_mark(&cookie), &now(), &visit.from.to_string())?;
    let mut answer = Redirect::to("/").into_response();
    access::set_cookie(&mut answer, &cookie, !visit.from.is_loopback());
    Ok(answer)
}

pub async fn leave(State(app): State<Arc<App>>, Extension(visit): Extension<Visit>) -> Answer {
    app.store.end_session(&access::session_mark(&visit.cookie))?;
    Ok(Redirect::to("/").into_response())
}
