//! The calculators: each page from its contract, values kept, mistakes at their fields.

use crate::client::Client;
use crate::program::Program;

/// The large answer, without tags.
fn big(body: &str) -> String {
    let inner = body.split("<p class=\"big\">").nth(1).unwrap_or_default();
    let inner = inner.split("</p>").next().unwrap_or_default();
    inner.replace("<small>", "").replace("</small>", "")
}

#[test]
fn every_calculator_on_the_list_opens_and_refuses_an_empty_form_at_its_fields() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let sheets = client.get("/sheets").body;
    assert!(sheets.contains("href=\"/calculators\""));
    let list = client.get("/calculators").body;
    let links: Vec<&str> = list
        .split("href=\"")
        .filter_map(|rest| rest.split('"').next())
        .filter(|path| path.starts_with("/calculators/"))
        .collect();
    assert!(links.len() > 20, "{links:?}");
    for link in links {
        let page = client.get(link);
        assert_eq!(page.status, 200, "{link}");
        assert!(
            !page.body.contains("class=\"big\""),
            "{link}: no answer yet"
        );
        assert!(page.errors().is_empty(), "{link}: nothing wrong yet");
        // The first field, sent empty.
        let form = page.body.split("<form id=\"calculator\"").nth(1);
        let name = form.and_then(|form| form.split("name=\"").nth(1)?.split('"').next());
        let page = client.get(&format!("{link}?{}=", name.expect("a field")));
        assert_eq!(page.status, 422, "{link}");
        assert!(!page.errors().is_empty(), "{link}");
        assert!(page.body.contains("<title>Error: "), "{link}");
    }
}

#[test]
fn a_wrench_behind_an_adapter() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    // FAA AC 43.13-1B, chapter 7, from memory: 30 at 10 with 1.5 is 26.09.
    let typed = "torque_Nm=30+Nm&wrench_mm=10,0&adapter_mm=1.5&angle_deg=0";
    let page = client.get(&format!("/calculators/torque-adapter?{typed}"));
    assert_eq!(page.status, 200);
    assert_eq!(big(&page.body), "26.087 N·m");
    let kept = page.value("calculator", "wrench_mm");
    assert_eq!(kept.as_deref(), Some("10,0"), "typed stays");
    assert!(page.body.contains("class=\"working\""));
}

#[test]
fn pull_from_pressure_and_the_other_way_round() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    // By hand: 39.3 N/mm² on 1000 mm² is 39.3 kN, nine tenths of it 35.37 kN.
    let mut of = |pair: &str| {
        let rest = "area_mm2=1000&ratio=1&friction=0.1&friction_expanded=0.02";
        client.get(&format!("/calculators/pull-pressure?{pair}&{rest}"))
    };
    assert_eq!(big(&of("pressure_bar=393&pull_kN=").body), "35.37 kN");
    assert_eq!(big(&of("pressure_bar=&pull_kN=35,37").body), "393 bar");
    let page = of("pressure_bar=393&pull_kN=35");
    assert_eq!(page.status, 422);
    let errors = page.errors().join(" ");
    assert!(
        errors.contains("only one of these: Pressure, Pull"),
        "{errors}"
    );
}

#[test]
fn a_mistake_stands_at_its_field_with_what_is_allowed_and_the_rest_is_kept() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    for (pressure, bore, rod, says) in [
        ("393", "40", "45", "Rod: Not possible. Allowed: 0 to 40 mm"),
        (
            "393",
            "40",
            "-1",
            "Rod: Not possible. Allowed: 0 mm or more",
        ),
        (
            "0",
            "40",
            "16",
            "Gauge pressure: Not possible. Allowed: above 0 bar",
        ),
        (
            "39+MPa",
            "40",
            "16",
            "The value is in MPa. This field takes bar",
        ),
        ("393", "", "16", "Bore: Enter a number in mm"),
        ("393", "forty", "16", "“forty” is not a number in mm"),
    ] {
        let typed = format!("pressure_bar={pressure}&bore_mm={bore}&rod_mm={rod}&stroke_mm=25");
        let page = client.get(&format!("/calculators/hydraulic-cylinder?{typed}"));
        assert_eq!(page.status, 422, "{typed}");
        let errors = page.errors().join(" | ");
        assert!(errors.contains(says), "{typed}: {errors}");
        assert!(!page.body.contains("class=\"big\""), "{typed}: no answer");
        let kept = page.value("calculator", "stroke_mm");
        assert_eq!(kept.as_deref(), Some("25"), "typed stays");
    }
}

#[test]
fn what_is_no_calculator_is_not_found_and_what_is_typed_is_text() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    for name in ["no-such", "straight-line-calibration"] {
        let page = client.get(&format!("/calculators/{name}"));
        assert_eq!(page.status, 404, "{name}");
    }
    let page = client.get("/calculators/unit-conversion?value=%3Cscript%3Ex&from=mm&to=in");
    assert_eq!(page.status, 422);
    assert!(!page.body.contains("<script>x"));
}
