//! The page: one program, one store, no outside network. A thin shell over the same functions as the
//! command line.

mod access;
mod authority;
mod buying;
mod changes;
mod copies;
mod desk;
mod door;
mod engine;
mod fields;
mod ledger;
mod opened;
mod pages;
mod shelf;
mod store;
mod text;
mod values;
mod visits;

use access::{Guesses, Visit};
use authority::Authority;
pub use desk::{Ask, ask};

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::{get, post};
use axum::serve::ListenerExt;
use door::{Door, Peer};
use engine::{Engine, Sheet};
use maud::Markup;
use std::net::{IpAddr, SocketAddr};
use std::path::Path;
use std::sync::Arc;
use store::{Revision, Store};

/// How the page is served.
pub struct Serve<'a> {
    /// Where to listen.
    pub address: SocketAddr,
    /// Folder of the store.
    pub data: &'a Path,
    /// Pass phrase, if it is shared on the network.
    pub pass_phrase: Option<String>,
}

/// What every request sees.
pub struct App {
    store: Store,
    engine: Engine,
    hosts: Vec<String>,
    pass_phrase: Option<String>,
    guesses: Guesses,
    /// Where others on the network find it, the likeliest first.
    addresses: Vec<String>,
    /// Photographs that outlines are being taken from.
    tracings: pages::outline::Tracings,
    /// Encrypts what goes over the network; none on this computer alone.
    authority: Option<Arc<Authority>>,
}

/// A request that cannot be served as asked.
#[derive(Debug)]
enum Trouble {
    /// There is no such thing.
    Missing,
    /// What was sent cannot be used; in words.
    Input(String),
    /// The store or the system.
    Inside(String),
}

impl From<rusqlite::Error> for Trouble {
    fn from(error: rusqlite::Error) -> Self {
        Self::Inside(error.to_string())
    }
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let (code, words) = match self {
            Self::Missing => (StatusCode::NOT_FOUND, "there is nothing here".to_string()),
            Self::Input(what) => (StatusCode::UNPROCESSABLE_ENTITY, what),
            Self::Inside(what) => {
                (StatusCode::INTERNAL_SERVER_ERROR, format!("not saved, nothing is lost: {what}"))
            }
        };
        (code, [(header::CONTENT_TYPE, "text/plain; charset=utf-8")], words).into_response()
    }
}

type Answer = Result<Response, Trouble>;

fn page(markup: Markup) -> Response {
    Html(markup.into_string()).into_response()
}

/// Now, as it is kept and shown.
fn now() -> String {
    jiff::ZonedDateTime::now().strftime("%Y-%m-%d %H:%M:%S").to_string()
}

impl App {
    /// A job's newest text and its sheet.
    async fn sheet(self: &Arc<Self>, job: i64) -> Result<(Revision, Arc<Sheet>), Trouble> {
        let newest = self.store.newest(job)?.ok_or(Trouble::Missing)?;
        let (app, number, text) = (self.clone(), newest.number, newest.text.clone());
        // Planning takes some tens of milliseconds: off the threads that serve.
        let sheet = tokio::task::spawn_blocking(move || app.engine.sheet(job, number, &text))
            .await
            .map_err(|e| Trouble::Inside(e.to_string()))?;
        Ok((newest, sheet))
    }
}

/// The address that reaches other networks, if there is one. No packet is sent.
fn outward_address() -> Option<IpAddr> {
    let socket = std::net::UdpSocket::bind("0.0.0.0:0").ok()?;
    // A documentation address (RFC 5737): only the route is looked up.
    socket.connect("192.0.2.1:9").ok()?;
    Some(socket.local_addr().ok()?.ip()).filter(|ip| !ip.is_loopback() && !ip.is_unspecified())
}

/// Where the page is found, the likeliest first: every address of the machine, and its name.
fn addresses(bound: SocketAddr, is_shared: bool) -> Vec<String> {
    let mut all: Vec<IpAddr> = Vec::new();
    if bound.ip().is_unspecified() {
        all.extend(outward_address());
        let others = if_addrs::get_if_addrs().unwrap_or_default();
        all.extend(others.iter().map(if_addrs::Interface::ip).filter(|ip| {
            // An address of the link alone needs its interface named, which no browser takes.
            let is_of_link = matches!(ip, IpAddr::V6(v6) if v6.is_unicast_link_local());
            !ip.is_loopback() && !is_of_link
        }));
    }
    if all.is_empty() {
        let own = bound.ip().is_unspecified();
        all.push(if own { IpAddr::from([127, 0, 0, 1]) } else { bound.ip() });
    }
    let mut seen = Vec::new();
    all.retain(|ip| {
        !seen.contains(ip) && {
            seen.push(*ip);
            true
        }
    });
    let way = if is_shared && !all[0].is_loopback() { "https" } else { "http" };
    let name = authority::local_name().filter(|_| is_shared);
    let named = name.map(|name| format!("{way}://{name}:{}", bound.port()));
    let numbered =
        all.into_iter().map(|ip| format!("{way}://{}", SocketAddr::new(ip, bound.port())));
    numbered.chain(named).collect()
}

/// Serves until Ctrl-C. `ready` is told the address once it listens.
///
/// # Errors
/// In words: a port that is taken, a store that cannot be opened.
pub fn run(serve: &Serve, ready: impl FnOnce(&str)) -> Result<(), String> {
    let store = Store::open(serve.data)?;
    let pass_phrase = serve.pass_phrase.as_deref().map(access::hashed).transpose()?;
    if let (Some(phrase), Some(kept)) = (&serve.pass_phrase, &pass_phrase) {
        let oldest = jiff::ZonedDateTime::now() - jiff::SignedDuration::from_secs(access::LASTS);
        let oldest = oldest.strftime("%Y-%m-%d %H:%M:%S").to_string();
        store
            .tidy_sessions(&oldest, |last| access::matches(phrase, last), kept)
            .map_err(|e| e.to_string())?;
    }
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(|e| e.to_string())?;
    runtime.block_on(async {
        let listener = tokio::net::TcpListener::bind(serve.address)
            .await
            .map_err(|e| format!("{}: {e}; choose another with --addr", serve.address))?;
        let bound = listener.local_addr().map_err(|e| e.to_string())?;
        let mut hosts = vec!["localhost".to_string(), "127.0.0.1".into(), "::1".into()];
        hosts.extend(authority::local_name());
        let authority = match pass_phrase {
            Some(_) => Some(Arc::new(Authority::of(&store)?)),
            None => None,
        };
        let addresses = addresses(bound, authority.is_some());
        let first = addresses.first().cloned().unwrap_or_default();
        let app = Arc::new(App {
            store,
            engine: Engine::default(),
            hosts,
            pass_phrase,
            guesses: Guesses::default(),
            addresses,
            tracings: pages::outline::Tracings::default(),
            authority: authority.clone(),
        });
        keep_copies(serve.data);
        ready(&first);
        let service = router(app).into_make_service_with_connect_info::<Peer>();
        let door = Door::open(listener, authority).map_err(|e| e.to_string())?;
        axum::serve(door.tap_io(|_| {}), service)
            .with_graceful_shutdown(async {
                asked_to_end().await;
                // Streams of progress would hold the end up.
                tokio::spawn(async {
                    tokio::time::sleep(std::time::Duration::from_millis(300)).await;
                    std::process::exit(0);
                });
            })
            .await
            .map_err(|e| e.to_string())
    })
}

/// A copy of the store at the start and whenever a new day has begun.
fn keep_copies(data: &Path) {
    let data = data.to_path_buf();
    tokio::spawn(async move {
        let mut hours = tokio::time::interval(std::time::Duration::from_secs(3600));
        loop {
            hours.tick().await;
            let (data, day) = (data.clone(), now().get(..10).unwrap_or_default().to_string());
            let made = tokio::task::spawn_blocking(move || copies::daily(&data, &day)).await;
            if let Ok(Err(why)) = made {
                eprintln!("warning: the day's copy of the store was not made: {why}");
            }
        }
    });
}

/// Ctrl-C, or the system's wish that the program end.
async fn asked_to_end() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut term) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = tokio::signal::ctrl_c() => {}
                _ = term.recv() => {}
            }
            return;
        }
    }
    let _ = tokio::signal::ctrl_c().await;
}

/// Copies a store while it may be in use.
///
/// # Errors
/// In words.
pub fn backup(data: &Path, to: &Path) -> Result<(), String> {
    if to.exists() {
        return Err(format!("{} exists already; nothing was overwritten", to.display()));
    }
    if !data.join(opened::FILE).exists() {
        return Err(format!("{} holds no store", data.display()));
    }
    let store = Store::open_beside(data)?;
    store.backup(to).map_err(|e| format!("{}: {e}", to.display()))
}

/// Puts a copy of the store in its place; what lay there is moved aside.
///
/// # Errors
/// In words, with nothing changed.
pub fn restore(from: &Path, data: &Path) -> Result<Option<std::path::PathBuf>, String> {
    opened::restore(from, data)
}

const MEGABYTE: usize = 1024 * 1024;

fn router(app: Arc<App>) -> Router {
    let photos = Router::new()
        .route("/job/{id}/photo", post(pages::photo::add))
        .route("/job/{id}/outline/{mark}", get(pages::outline::show).post(pages::outline::look))
        .layer(DefaultBodyLimit::max(16 * MEGABYTE));
    Router::new()
        .merge(shop_routes())
        .merge(job_routes())
        .fallback(|| async { Trouble::Missing })
        .layer(DefaultBodyLimit::max(5 * MEGABYTE))
        .merge(photos)
        .layer(axum::middleware::from_fn_with_state(app.clone(), access::guard))
        .with_state(app)
}

fn shop_routes() -> Router<Arc<App>> {
    Router::new()
        .route("/", get(pages::list::show))
        .route("/away", get(pages::job::screens))
        .route("/customers", get(pages::list::customers))
        .route("/customers/known", get(pages::list::known_customers))
        .route("/jobs", post(pages::list::add))
        .route("/jobs/begin", post(pages::data::begin))
        .route("/jobs/read", post(pages::list::read))
        .route("/jobs/import", post(pages::list::import))
        .route("/jobs/example", post(pages::list::example))
        .route("/start", get(pages::data::start))
        .route("/token", get(pages::data::token))
        .route("/kinds", get(pages::kinds::show))
        .route("/photo-sheets.pdf", get(pages::outline::sheets))
        .route("/tracing/{name}", get(pages::outline::picture_file))
        .route("/photo/{id}", get(pages::photo::show))
        .route("/photo/{id}/remove", post(pages::photo::remove))
        .route("/stock", get(pages::stock::show).post(pages::stock::add))
        .route("/stock/{id}", get(pages::stock::one))
        .route("/stock/{id}/move", post(pages::stock::correct))
        .route("/stock/{id}/label", get(pages::stock::label))
        .route("/orders", get(pages::orders::show).post(pages::orders::send))
        .route("/orders/{number}", get(pages::orders::text))
        .route("/orders/{number}/{line}", post(pages::orders::came))
        .route("/books", get(pages::books::show))
        .route("/books/accept", post(pages::books::accept))
        .route("/books/week", post(pages::books::save_week))
        .route("/books/invoices.csv", get(pages::books::table))
        .route("/invoice/{file}", get(pages::invoices::file))
        .route("/shop", get(pages::shop::show).post(pages::shop::save))
        .route("/shop/text", post(pages::shop::save_text))
        .route("/shop/end/{mark}", post(pages::shop::end))
        .route("/trust", get(pages::trust::show))
        .route("/trust/workroom.crt", get(pages::trust::certificate))
        .route("/enter", get(pages::enter::show).post(pages::enter::enter))
        .route("/leave", post(pages::enter::leave))
        .route("/worker.js", get(pages::assets::worker))
        .route("/assets/{file}", get(pages::assets::file))
}

fn job_routes() -> Router<Arc<App>> {
    let mut routes = Router::new()
        .route("/job/{id}", get(pages::job::open))
        .route("/job/{id}/sheet", get(pages::data::sheet))
        .route("/job/{id}/changes", post(pages::data::change))
        .route("/job/{id}/lines", get(pages::data::lines))
        .route("/job/{id}/stage", post(pages::job::stage))
        .route("/job/{id}/duplicate", post(pages::list::duplicate))
        .route("/job/{id}/archive", post(pages::list::archive))
        .route("/job/{id}/delete", post(pages::list::delete))
        .route("/job/{id}/plan", get(pages::plan::show))
        .route("/job/{id}/plan/part", get(pages::plan::part))
        .route("/job/{id}/send", get(pages::send::show))
        .route("/job/{id}/live", get(pages::plan::live))
        .route("/job/{id}/lay/{cloth}/{strip}", get(pages::plan::lay))
        .route("/job/{id}/by-hand/{cloth}", get(pages::by_hand::show))
        .route("/job/{id}/pin", post(pages::by_hand::put))
        .route("/job/{id}/let-go", post(pages::by_hand::let_go))
        .route("/job/{id}/flaw", post(pages::by_hand::flaw))
        .route("/job/{id}/compare", get(pages::plan::compare))
        .route("/job/{id}/compare/rows", get(pages::plan::compared_rows))
        .route("/job/{id}/misses/found", get(pages::misses::found))
        .route("/job/{id}/misses", get(pages::misses::show).post(pages::misses::take))
        .route("/job/{id}/option", post(pages::change::option))
        .route("/job/{id}/option/remove", post(pages::change::option_out))
        .route("/job/{id}/versions", get(pages::versions::show))
        .route("/job/{id}/versions/{a}/{b}", get(pages::versions::compare))
        .route("/job/{id}/back/{number}", post(pages::versions::back))
        .route("/job/{id}/undo", post(pages::versions::undo))
        .route("/job/{id}/money", get(pages::money::show))
        .route("/job/{id}/money/agree", post(pages::money::agree_now))
        .route("/job/{id}/money/note", post(pages::money::note))
        .route("/job/{id}/money/note/{note}", get(pages::money::note_file))
        .route("/job/{id}/money/answer/{note}", post(pages::money::answer))
        .route("/job/{id}/money/invoice", post(pages::money::invoice))
        .route("/job/{id}/money/credit/{number}", post(pages::money::credit))
        .route("/job/{id}/money/pay", post(pages::money::pay))
        .route("/job/{id}/hours", get(pages::hours::show).post(pages::hours::add))
        .route("/job/{id}/hours/done", post(pages::hours::done))
        .route("/job/{id}/goods", get(pages::goods::show))
        .route("/job/{id}/goods/{cloth}/take/{item}", post(pages::goods::take))
        .route("/job/{id}/goods/{cloth}/free/{item}", post(pages::goods::free))
        .route("/job/{id}/goods/{cloth}/cut/{item}", post(pages::goods::cut))
        .route("/job/{id}/goods/{cloth}/keep", post(pages::goods::keep))
        .route("/job/{id}/goods/{cloth}/came", post(pages::goods::came))
        .route("/job/{id}/outline/{mark}/{name}", post(pages::outline::draw))
        .route("/job/{id}/outline/{mark}/{name}/take", post(pages::outline::take))
        .route("/job/{id}/bench", get(pages::bench::list))
        .route("/job/{id}/bench/{piece}/{step}", get(pages::bench::step).post(pages::bench::tick))
        .route("/job/{id}/papers/{file}", get(pages::papers::file));
    // Drawn by the page's own scripts; what follows in the address is theirs.
    for step in ["details", "materials", "pieces", "add", "measure", "shape"] {
        for rest in ["", "/{mark}", "/{mark}/{more}"] {
            routes = routes.route(&format!("/job/{{id}}/{step}{rest}"), get(pages::job::screens));
        }
    }
    routes
}
