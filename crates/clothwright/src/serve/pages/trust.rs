//! How a phone or another computer learns to trust this workroom: the one screen that is served in clear
//! text on the network.

use super::{frame, head};
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, State};
use axum::http::header;
use axum::response::IntoResponse;
use maud::html;
use std::sync::Arc;

/// Steps on each sort of device. Common practice, no source.
const WAYS: [(&str, &[&str]); 5] = [
    (
        "Android",
        &[
            "Tap “Get the certificate”.",
            "Settings – Security – More – Install from storage – CA certificate; choose the file.",
            "Come back here and tap “Open the workroom”.",
        ],
    ),
    (
        "iPhone and iPad",
        &[
            "Tap “Get the certificate”, then Allow.",
            "Settings – Profile downloaded – Install.",
            "Settings – General – About – Certificate Trust Settings: switch on “Clothwright workroom”.",
            "Come back here and tap “Open the workroom”.",
        ],
    ),
    (
        "Windows",
        &[
            "Get the certificate and open the file.",
            "Install certificate – Current user – Place in: Trusted Root Certification Authorities.",
            "Start the browser anew and open the workroom.",
        ],
    ),
    (
        "Mac",
        &[
            "Get the certificate and open the file: it goes into Keychain Access.",
            "Open “Clothwright workroom” there – Trust – Always trust.",
        ],
    ),
    (
        "Linux, or Firefox anywhere",
        &[
            "Get the certificate.",
            "Browser settings – Certificates – Authorities – Import; tick “to identify websites”.",
        ],
    ),
];

pub async fn show(State(app): State<Arc<App>>, Extension(visit): Extension<Visit>) -> Answer {
    let authority = app.authority.as_ref().ok_or(Trouble::Missing)?;
    let host = &visit.host;
    let body = html! {
        (head("Trust this workroom", None, &html! {}))
        main #main.narrow {
            p { "What goes between this device and the workroom is encrypted by the workroom's own certificate. Trust it once on each device; no other company is asked." }
            p.row.wrap {
                a.b.strong href="/trust/workroom.crt" { "Get the certificate" }
                a.b href=(format!("https://{host}/")) { "Open the workroom" }
            }
            p.small { "It is the right one if the device shows this print (SHA-256), which stands on the workroom's own screen under Settings too:" br; code { (authority.print) } }
            @for (device, steps) in WAYS {
                section.sheet.pad.stack { h2 { (device) } ol { @for (i, step) in steps.iter().enumerate() { li { (i + 1) ". " (step) } } } }
            }
            p.quiet.small { "Anyone who has the workroom's store has its certificate's key: keep the store's folder and its backups to yourself. To end the trust, remove “Clothwright workroom” from the device's certificates." }
        }
    };
    Ok(page(frame(&visit, "Trust this workroom — Clothwright", "trust", &body)))
}

pub async fn certificate(State(app): State<Arc<App>>) -> Answer {
    let authority = app.authority.as_ref().ok_or(Trouble::Missing)?;
    let headers = [
        (header::CONTENT_TYPE, "application/x-x509-ca-cert"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"clothwright-workroom.crt\""),
    ];
    Ok((headers, authority.certificate().to_vec()).into_response())
}
