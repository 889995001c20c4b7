//! Files built into the program.

use crate::serve::{Answer, Trouble};
use axum::extract::Path;
use axum::http::header;
use axum::response::IntoResponse;

/// One of a fixed few: no path from a request reaches the file system.
pub async fn file(Path(name): Path<String>) -> Answer {
    let (kind, text) = match name.as_str() {
        "htmx.js" => ("text/javascript", include_str!("../../../assets/htmx.min.js")),
        "page.js" => ("text/javascript", include_str!("../../../assets/page.js")),
        "by-hand.js" => ("text/javascript", include_str!("../../../assets/by-hand.js")),
        "page.css" => ("text/css", include_str!("../../../assets/page.css")),
        "icon.svg" => ("image/svg+xml", include_str!("../../../assets/icon.svg")),
        _ => return Err(Trouble::Missing),
    };
    let kind = format!("{kind}; charset=utf-8");
    let headers = [(header::CONTENT_TYPE, kind.as_str()), (header::CACHE_CONTROL, "max-age=300")];
    Ok((headers, text).into_response())
}
