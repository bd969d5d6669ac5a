//! The page that asks for the shop passphrase.

use maud::{Markup, html};

use super::page::hidden;
use super::{Field, Form, Page, page_with_errors};
use crate::forms::{FieldErrors, Typed};
use crate::setup;

/// The form; `next` is where to go once inside.
pub(crate) fn login_page(p: &Page, next: &str, errors: &FieldErrors) -> Markup {
    let typed = Typed::new();
    let form = Form::new(p, "login", &typed, errors);
    let passphrase = Field::new("passphrase", p.t("login-passphrase")).password();
    let body = html! {
        h1 { (p.t("login-title")) }
        (form.wrap("/login", None, html! {
            (hidden("next", next))
            (form.text(&passphrase))
            div.buttons { button { (p.t("login-go")) } }
        }))
        p { a href=(setup::PATH) { (p.t("crew-link")) } ". " (p.t("crew-link-login")) }
    };
    let title = p.t("login-title");
    page_with_errors(
        p,
        &title,
        "login",
        errors,
        html! { div.plain.narrow { (body) } },
    )
}
