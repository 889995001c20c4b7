//! The screens, one file each.

pub mod assets;
pub mod bench;
pub mod by_hand;
pub mod change;
pub mod enter;
pub mod job;
pub mod list;
pub mod measure;
pub mod misses;
pub mod papers;
pub mod photo;
pub mod piece;
pub mod plan;
pub mod shop;
pub mod versions;

use super::Visit;
use maud::{DOCTYPE, Markup, html};

/// The frame of every screen.
pub fn frame(visit: &Visit, title: &str, class: &str, body: &Markup) -> Markup {
    let headers = format!("{{\"X-Token\": \"{}\"}}", visit.token);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="htmx-config" content=r#"{"includeIndicatorStyles":false,"allowEval":false,"historyCacheSize":0,"responseHandling":[{"code":"[23]..","swap":true},{"code":"409","swap":true},{"code":"[45]..","swap":false,"error":true}]}"#;
                title { (title) }
                link rel="stylesheet" href="/assets/page.css";
                link rel="icon" href="/assets/icon.svg" type="image/svg+xml";
                script src="/assets/htmx.js" defer {}
                script src="/assets/page.js" defer {}
                @if class == "by-hand" { script src="/assets/by-hand.js" defer {} }
            }
            body class=(class) hx-headers=(headers) {
                a.skip href="#main" { "to the work" }
                (body)
                p #notice role="status" aria-live="polite" {}
            }
        }
    }
}

/// The head of a screen: where one is, and the way back.
pub fn head(title: &str, back: Option<(&str, &str)>, more: &Markup) -> Markup {
    html! {
        header.head {
            @if let Some((to, words)) = back { a.back href=(to) { "‹ " (words) } }
            h1 { (title) }
            (more)
        }
    }
}

/// Something that could not be done, in words.
pub fn told(visit: &Visit, words: &str) -> Markup {
    let body = html! {
        (head("Not done", Some(("/", "jobs")), &html! {}))
        main #main.narrow {
            p.fault role="alert" { (words) }
            p.hint { "Nothing was changed. Go back in the browser to what you had typed, or to the list of jobs." }
        }
    };
    frame(visit, "Not done — Clothwright", "told", &body)
}

/// A form's address with the token every change must show.
pub fn with_token(visit: &Visit, to: &str) -> String {
    format!("{to}?token={}", visit.token)
}
