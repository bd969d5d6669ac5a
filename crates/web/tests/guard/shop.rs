//! A small server behind the guard, and a browser of sorts.

use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, HeaderMap, ORIGIN, SET_COOKIE};
use axum::http::{Method, Request, StatusCode};
use axum::response::{Html, Response};
use axum::routing::{get, post};
use maud::html;
use tower::ServiceExt;
use web::forms::Typed;
use web::security::{Guard, Visitor, protect};
use web::shell::{Form, Nav, Page, internal, not_written, page};

pub const HOST_NAME: &str = "127.0.0.1:8470";
pub const SECRET: [u8; 32] = [7; 32];

/// What came back.
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub body: String,
}

/// A browser: keeps its cookies.
pub struct Browser {
    router: Router,
    pub cookies: Vec<(String, String)>,
    pub host: String,
}

/// The guard of a shop with two people.
pub fn guard() -> Guard {
    let people = ["Ansa Reed".to_owned(), "Óscar Vey".to_owned()];
    Guard::local(SECRET, 8470).people(&people).bench("Bench 2")
}

/// A server with one page, one form that stores, and handlers that fail in every way.
pub fn router(guard: Guard) -> Router {
    let routes = Router::new()
        .route("/", get(show))
        .route("/job", post(store))
        .route("/whoami", get(whoami))
        .route(
            "/panic",
            get(|| async { panic!("secret detail") as StatusCode }),
        )
        .route(
            "/broken",
            get(|| async { internal("a secret\nforged line") }),
        )
        .route("/full", post(full));
    protect(routes, Arc::new(guard))
}

async fn show(p: Page) -> Html<String> {
    let p = p.at(Nav::Bench);
    let form = Form::blank(&p, "job").wrap("/job", Some(3), html! { button { "Go" } });
    Html(page(&p, "Bench", form).into_string())
}

async fn store(typed: Typed) -> String {
    format!("in the record: {}", typed.get("note"))
}

async fn whoami(visitor: Visitor) -> String {
    format!("{:?} {}", visitor.who, visitor.session)
}

async fn full(p: Page, typed: Typed) -> Response {
    not_written(&p, "/full", &typed)
}

impl Browser {
    pub fn new(guard: Guard) -> Self {
        Self {
            router: router(guard),
            cookies: Vec::new(),
            host: HOST_NAME.to_owned(),
        }
    }

    pub async fn get(&mut self, path: &str) -> Answer {
        self.send(self.request(Method::GET, path), Body::empty())
            .await
    }

    /// Posts a form as browsers do: same origin, with the token of the form on the first page.
    pub async fn post(&mut self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let shown = self.get("/").await;
        let shown = if shown.status == StatusCode::SEE_OTHER {
            self.get("/login").await
        } else {
            shown
        };
        let token = token_in(&shown.body);
        let mut all = vec![("csrf", token.as_str())];
        all.extend(fields);
        self.post_as_is(path, &all).await
    }

    /// Posts exactly these fields, from the same origin.
    pub async fn post_as_is(&mut self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let origin = format!("http://{}", self.host);
        self.post_from(
            path,
            fields,
            &[("sec-fetch-site", "same-origin"), ("origin", &origin)],
        )
        .await
    }

    /// Posts with these headers about where it comes from.
    pub async fn post_from(
        &mut self,
        path: &str,
        fields: &[(&str, &str)],
        from: &[(&str, &str)],
    ) -> Answer {
        let mut request = self
            .request(Method::POST, path)
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        for (name, value) in from {
            request = request.header(*name, *value);
        }
        self.send(request, Body::from(encoded(fields))).await
    }

    pub fn request(&self, method: Method, path: &str) -> axum::http::request::Builder {
        let mut request = Request::builder()
            .method(method)
            .uri(path)
            .header(HOST, &self.host);
        for (name, value) in &self.cookies {
            request = request.header(COOKIE, format!("{name}={value}"));
        }
        request
    }

    pub async fn send(&mut self, request: axum::http::request::Builder, body: Body) -> Answer {
        let request = request.body(body).expect("a request");
        let answer = self
            .router
            .clone()
            .oneshot(request)
            .await
            .expect("cannot fail");
        for cookie in answer.headers().get_all(SET_COOKIE) {
            let line = cookie.to_str().expect("plain");
            let pair = line.split(';').next().expect("first part");
            let (name, value) = pair.split_once('=').expect("a pair");
            self.cookies.retain(|(known, _)| known != name);
            self.cookies.push((name.to_owned(), value.to_owned()));
        }
        let (parts, body) = answer.into_parts();
        let body = to_bytes(body, usize::MAX).await.expect("whole body");
        Answer {
            status: parts.status,
            headers: parts.headers,
            body: String::from_utf8_lossy(&body).into_owned(),
        }
    }
}

impl Answer {
    pub fn header(&self, name: &str) -> &str {
        self.headers
            .get(name)
            .and_then(|value| value.to_str().ok())
            .unwrap_or_default()
    }
}

/// The origin header of a page of the shop.
pub fn own_origin() -> (&'static str, String) {
    (ORIGIN.as_str(), format!("http://{HOST_NAME}"))
}

pub fn encoded(fields: &[(&str, &str)]) -> String {
    let mut body = form_urlencoded::Serializer::new(String::new());
    body.extend_pairs(fields);
    body.finish()
}

/// The token in the first form of a page.
pub fn token_in(html: &str) -> String {
    let start = "name=\"csrf\" value=\"";
    let at = html.find(start).expect("a form with a token") + start.len();
    html[at..].split('"').next().expect("closed").to_owned()
}
