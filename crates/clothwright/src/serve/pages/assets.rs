//! Files built into the program.

use crate::serve::{Answer, Trouble};
use axum::extract::Path;
use axum::http::header;
use axum::response::IntoResponse;

const SCRIPT: &str = "text/javascript; charset=utf-8";

/// The page's own scripts.
const APP: [(&str, &str); 15] = [
    ("app.js", include_str!("../../../assets/app/app.js")),
    ("details.js", include_str!("../../../assets/app/details.js")),
    ("draw.js", include_str!("../../../assets/app/draw.js")),
    ("fields.js", include_str!("../../../assets/app/fields.js")),
    ("figure.js", include_str!("../../../assets/app/figure.js")),
    ("flat.js", include_str!("../../../assets/app/flat.js")),
    ("keep.js", include_str!("../../../assets/app/keep.js")),
    ("kinds.js", include_str!("../../../assets/app/kinds.js")),
    ("materials.js", include_str!("../../../assets/app/materials.js")),
    ("measure.js", include_str!("../../../assets/app/measure.js")),
    ("model.js", include_str!("../../../assets/app/model.js")),
    ("photos.js", include_str!("../../../assets/app/photos.js")),
    ("pieces.js", include_str!("../../../assets/app/pieces.js")),
    ("shape.js", include_str!("../../../assets/app/shape.js")),
    ("shell.js", include_str!("../../../assets/app/shell.js")),
];

/// One of a fixed few: no path from a request reaches the file system.
pub async fn file(Path(name): Path<String>) -> Answer {
    let (kind, text): (&str, &'static [u8]) = match name.as_str() {
        "htmx.js" => (SCRIPT, include_bytes!("../../../assets/htmx.min.js")),
        "page.js" => (SCRIPT, include_bytes!("../../../assets/page.js")),
        "plan.js" => (SCRIPT, include_bytes!("../../../assets/plan.js")),
        "outline.js" => (SCRIPT, include_bytes!("../../../assets/outline.js")),
        "by-hand.js" => (SCRIPT, include_bytes!("../../../assets/by-hand.js")),
        "page.css" => ("text/css; charset=utf-8", include_bytes!("../../../assets/page.css")),
        "icon.svg" => ("image/svg+xml", include_bytes!("../../../assets/icon.svg")),
        "archivo.woff2" => ("font/woff2", include_bytes!("../../../assets/archivo.woff2")),
        "page.webmanifest" => {
            ("application/manifest+json", include_bytes!("../../../assets/page.webmanifest"))
        }
        _ => match APP.iter().find(|known| known.0 == name) {
            Some((_, text)) => (SCRIPT, text.as_bytes()),
            None => return Err(Trouble::Missing),
        },
    };
    // Asked for anew each time, so that screens and scripts are always of one program.
    let headers = [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-cache")];
    Ok((headers, text).into_response())
}

/// The script that keeps the page on a device; its text changes with the program, so that what is kept
/// is made anew.
pub async fn worker() -> Answer {
    let text = include_str!("../../../assets/worker.js");
    let text = text.replace("VERSION", &format!("{:x}", version()));
    let headers = [(header::CONTENT_TYPE, SCRIPT), (header::CACHE_CONTROL, "no-cache")];
    Ok((headers, text).into_response())
}

/// A number that differs for other files.
fn version() -> u32 {
    let css = include_str!("../../../assets/page.css");
    let texts = APP.iter().map(|one| one.1).chain([css]);
    texts.fold(2_166_136_261, |hash, text| {
        text.bytes().fold(hash, |hash: u32, b| (hash ^ u32::from(b)).wrapping_mul(16_777_619))
    })
}

#[cfg(test)]
mod tests {
    use super::APP;

    #[test]
    fn every_script_is_kept_on_the_device() {
        let worker = include_str!("../../../assets/worker.js");
        for (name, _) in APP {
            assert!(worker.contains(&format!("\"/assets/{name}\"")), "{name}");
        }
    }
}
