//! Serves the style pages as the program serves its own.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::{get, post};
use maud::{Markup, html};
use tokio::net::TcpListener;
use web::forms::Typed;
use web::security::{Guard, hash_passphrase, protect};
use web::shell::{Nav, Page, internal, not_written, page};

use super::{bench, drawn, forms, job, parts};

/// The server's address, and how often a form reached it.
pub struct Server {
    pub address: String,
    pub posts: Arc<AtomicUsize>,
}

impl Server {
    pub async fn start() -> Self {
        Self::listen(|guard| guard).await
    }

    /// With the shop passphrase before it.
    pub async fn with_passphrase() -> Self {
        let hash = hash_passphrase("collars before pins").expect("long enough");
        Self::listen(move |guard| guard.lan(&hash, &[])).await
    }

    async fn listen(rules: impl FnOnce(Guard) -> Guard) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("a free port");
        let port = listener.local_addr().expect("bound").port();
        let people = ["Ansa Reed", "Óscar Vey", "Wilma Tarn"].map(str::to_owned);
        let guard = Guard::local([3; 32], port).people(&people).bench("Bench 2");
        let posts = Arc::new(AtomicUsize::new(0));
        let router = protect(routes(posts.clone()), Arc::new(rules(guard)));
        tokio::spawn(async move { axum::serve(listener, router).await });
        Self {
            address: format!("http://127.0.0.1:{port}"),
            posts,
        }
    }
}

fn routes(posts: Arc<AtomicUsize>) -> Router {
    Router::new()
        .route("/", get(|p: Page| shown(p, "Job 1047", job::body())))
        .route("/parts", get(|p: Page| shown(p, "Parts", parts::body())))
        .route("/drawn", get(|p: Page| shown(p, "Drawings", drawn::body())))
        .route("/bench", get(|p: Page| shown(p, "Bench", bench::body())))
        .route("/forms", get(|p: Page| async { Html(forms::blank(p)) }))
        .route("/refused", get(|p: Page| async { Html(forms::refused(p)) }))
        .route("/broken", get(|| async { internal("on purpose") }))
        .route("/unwritten", get(unwritten))
        .route("/send", post(sent))
        .with_state(posts)
}

async fn shown(p: Page, title: &'static str, body: Markup) -> Html<String> {
    Html(page(&p.at(Nav::Bench), title, body).into_string())
}

async fn unwritten(p: Page) -> Response {
    let typed = Typed::new()
        .with("submission", "6f9619ff-8b86-4d01-b42d-00cf4fc964ff")
        .with("stick_out", "26.20")
        .with("stick_out", "26.22")
        .with(
            "note",
            "Collar cut on the first joint.\nThe second one was clean.",
        );
    not_written(&p, "/send", &typed)
}

/// Slow, so that a second press can come while the first is on its way.
async fn sent(State(posts): State<Arc<AtomicUsize>>, p: Page, typed: Typed) -> Response {
    posts.fetch_add(1, Ordering::SeqCst);
    tokio::time::sleep(std::time::Duration::from_millis(300)).await;
    let body = html! {
        div.plain {
            h1 { "Sent" }
            ul { @for raw in typed.all("stick_out") { li.raw { (raw) } } }
            p.pressed { (typed.get("pressed")) }
        }
    };
    (StatusCode::OK, Html(page(&p, "Sent", body).into_string())).into_response()
}
