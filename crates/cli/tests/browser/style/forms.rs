//! Every kind of field, blank and refused.

use calc::Message;
use maud::{Markup, html};
use web::forms::errors::reading_key;
use web::forms::{FieldErrors, Typed};
use web::shell::{Choice, Field, Form, Nav, Page, page_with_errors};

fn fields(form: &Form) -> Markup {
    let came = ["Battery", "Charger", "Nose set N8", "Case"].map(|it| Choice::new(it, it));
    let models =
        ["Tulvane TB-32", "Orrinbeck AH-21", "Skarnholt HP-90"].map(|it| Choice::new(it, it));
    let said = [
        Choice::new("yes", "Yes"),
        Choice::new("no", "No").hint("Say why in the note"),
        Choice::new("not-sure", "Not sure"),
    ];
    form.wrap("/send", Some(3), html! {
        (form.text(&Field::new("serial", "Serial").hint("On the plate under the handle").short()))
        (form.select(&Field::new("model", "Model"), &models))
        (form.count(&Field::new("counter", "Pull counter").short()))
        (form.number(&Field::new("torque", "Torque").unit("N·m").short().value("28.0")))
        (form.area(&Field::new("complaint", "What the customer says")))
        (form.ticks(&Field::new("came", "What came with it"), &came))
        (form.answers(&Field::new("said", "Does the trigger release at once?"), &said))
        (form.readings(&Field::new("stick_out", "Stick-out").hint("Three pins, from the sheet face").unit("mm"), 3))
        div.line {
            (form.text(&Field::new("what", "What")))
            (form.number(&Field::new("count", "Count").short()))
            (form.number(&Field::new("each", "Each").short()))
        }
        div.buttons {
            button name="pressed" value="keep" { "Keep" }
            button.quiet name="pressed" value="keep and next" { "Keep, then the next" }
        }
    })
}

pub fn blank(p: Page) -> String {
    let p = p.at(Nav::Bench);
    let body =
        html! { div.plain { h1 { "Receive a tool" } (fields(&Form::blank(&p, "receive"))) } };
    page_with_errors(&p, "Receive a tool", "receive", &FieldErrors::new(), body).into_string()
}

pub fn refused(p: Page) -> String {
    let p = p.at(Nav::Bench);
    let typed = Typed::new()
        .with("serial", "7K-0412")
        .with("counter", "61.480")
        .with("torque", "21 lbf·ft")
        .with("stick_out", "26.20")
        .with("stick_out", "26,2 3")
        .with("stick_out", "26.22")
        .with("came", "Battery");
    let mut errors = FieldErrors::new();
    errors.add_for(
        "counter",
        "Pull counter",
        Message::new("count-not").with("typed", "61.480"),
    );
    let other = Message::new("number-other-unit")
        .with("typed", "lbf·ft")
        .with("unit", "N·m");
    errors.add_for("torque", "Torque", other);
    let number = Message::new("number-not")
        .with("typed", "26,2 3")
        .with("unit", "mm");
    errors.add_for(reading_key("stick_out", 1), "Stick-out", number);
    errors.add_for("said", "Trigger", Message::new("count-missing"));
    let form = Form::new(&p, "receive", &typed, &errors);
    let body = html! { div.plain { h1 { "Receive a tool" } (fields(&form)) } };
    page_with_errors(&p, "Receive a tool", "receive", &errors, body).into_string()
}
