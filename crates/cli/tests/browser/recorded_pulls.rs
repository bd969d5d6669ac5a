//! A recording of pulls from the logger to the certificate: dropped on the proof, its faults named, what is ticked
//! drawn and judged, the rest of the proof, and a certificate that a second person signs.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::air_tool::prove_but;
use crate::harness::{DESKTOP, PHONE, Program, View, workspace};
use crate::technician::Technician;

/// An air tool of the demo shop, set up; its proof is half done.
const JOB: &str = "/jobs/1008";

/// Its tests that were made and accepted: five pulls to stall that were recorded lie too far apart, so the force is
/// read again.
const DONE: [&str; 4] = [
    "inlet-pressure",
    "stroke-dry",
    "stroke-loaded",
    "cycle-time",
];

/// Everything is accepted: no reason is asked for.
const SIGN_OFF: [(&str, &str); 1] = [("adjuster=yes", "✓")];

/// Lines of the demo's recording with three whole pulls.
const LINES: usize = 2450;

/// A line of the second one, in which the logger lost the stroke.
const LOST: usize = 1300;

/// A recording of three pulls with a row that the logger lost.
fn recording(folder: &Path) -> PathBuf {
    let twelve = workspace().join("sheets/demo/recordings/ah-1187-d6-as-left.csv");
    let twelve = fs::read_to_string(twelve).expect("the demo's recording");
    let mut lines: Vec<String> = twelve.lines().take(LINES).map(str::to_owned).collect();
    let (kept, _) = lines[LOST - 1].rsplit_once(';').expect("three columns");
    lines[LOST - 1] = format!("{kept};--");
    let file = folder.join("three-d6.csv");
    fs::write(&file, lines.join("\n")).expect("the folder takes a file");
    file
}

async fn count(t: &Technician, css: &str) -> u64 {
    let count = format!("document.querySelectorAll(\"{css}\").length");
    t.browser.js(&count).await.as_u64().expect("a count")
}

/// Brings the file: at the desk it is dragged onto the stage, on the phone it is picked.
async fn bring(t: &mut Technician, view: View, file: &Path) {
    if view.width == PHONE.width {
        let unfold = "document.querySelector('#recording-proved').closest('details').open = true";
        t.browser.js(unfold).await;
        let input = t.browser.find("#recording-proved [name='file']").await;
        let path = file.to_str().expect("a path");
        input.send_keys(path).await.expect("the file is picked");
    } else {
        t.browser.drag(file, "#proved").await;
    }
    let waits = "document.querySelector('#recording-proved [name=file]').files[0]?.name ?? ''";
    assert_eq!(t.browser.js(waits).await, "three-d6.csv");
    let read_as = [("rig", "bench-1"), ("fastener", "drumhale-d6")];
    t.send("recording-proved", &read_as).await;
    assert_eq!(t.errors().await, "");
}

/// What is wrong is named, the pull that it lies in is not ticked, every pull is drawn before the band.
async fn look_and_take(t: &mut Technician) {
    let warned = t.text(".warn").await;
    let named = format!("Line {LOST}: stroke is no number");
    assert!(warned.contains(&named), "{warned}");
    for (number, ticked) in [("1", true), ("2", false), ("3", true)] {
        let tick = format!("#pulls [name='pull'][value='{number}']");
        let tick = t.browser.find(&tick).await;
        let is = tick.is_selected().await.expect("a tick");
        assert_eq!(is, ticked, "pull {number}");
    }
    assert_eq!(count(t, "figure.plot .pp-curve").await, 3);
    assert_eq!(count(t, "figure.plot .pp-band").await, 1);
    t.browser.shot("recorded-pulls-1-looked-at").await;
    // Other walks look at the job's page on the way.
    t.looks = false;
    t.send("pulls", &[("note", "after the RN6 set-up")]).await;
    assert_eq!(t.errors().await, "");
    let counted = "document.querySelector('#pulls-as-left').textContent";
    let counted = t.browser.js(counted).await.to_string();
    for part in [
        "2 of 3 pulls of Drumhale D6",
        "2 inside, 0 undecided, 0 outside",
        "after the RN6 set-up",
    ] {
        assert!(counted.contains(part), "{part} in {counted}");
    }
    // Loading waits until it is looked at.
    let picture = t.browser.find("#pulls-as-left img.pull-plot").await;
    picture.scroll_into_view().await.expect("scrolls");
    let drawn = "[...document.querySelectorAll('#pulls-as-left img.pull-plot')].some(i => i.naturalWidth > 0)";
    for _ in 0..100 {
        if t.browser.js(drawn).await == Value::Bool(true) {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
    }
    panic!("the drawing does not load");
}

/// Nobody authorises their own; the second person makes it a certificate.
async fn certify(t: &mut Technician) {
    // Folded away until it is asked for.
    let answers = "document.querySelector('#certificate-answers').textContent";
    let answers = t.browser.js(answers).await.to_string();
    let of_pulls = "2 of 3 pulls of Drumhale D6, accept";
    assert!(answers.contains(of_pulls), "{answers}");
    let typed = [
        ("temperature", "20.5"),
        ("conditions", "Line at 6.1 bar."),
        ("checked=yes", "✓"),
    ];
    t.send("certificate", &typed).await;
    assert_eq!(t.errors().await, "");
    let waits = t.text("#certificate-waits").await;
    assert!(waits.contains("waits for a second person"), "{waits}");
    t.browser.shot("recorded-pulls-3-waits").await;
    t.looks = true;
    let checked = [("checked=yes", "✓")];
    t.send("certificate-authorise", &checked).await;
    t.looks = false;
    let told = t.text("main").await;
    assert!(told.contains("Nobody authorises their own"), "{told}");
    // Another person goes on at the same bench.
    t.open(JOB).await;
    t.pick("Oswin").await;
    t.send("certificate-authorise", &checked).await;
    assert_eq!(t.errors().await, "");
    t.open(&format!("{JOB}/certificates/1008-P1")).await;
    assert!(t.text("main").await.contains("In force"));
    t.browser.assert_accessible().await;
    t.browser.shot("recorded-pulls-2-certificate").await;
    let paper = format!("{JOB}/certificates/1008-P1.pdf");
    assert!(t.pdf(&paper).await > 20_000);
}

async fn from_logger_to_certificate(view: View) {
    let program = Program::demo();
    let folder = tempfile::tempdir().expect("a folder");
    let file = recording(folder.path());
    let mut t = Technician::at(&program, view).await;
    t.open(JOB).await;
    t.pick_name().await;
    bring(&mut t, view, &file).await;
    look_and_take(&mut t).await;
    prove_but(&mut t, &DONE, &SIGN_OFF).await;
    certify(&mut t).await;
}

/// An air tool of the demo shop whose jaws slipped in the pulls recorded as found.
const SLIPPING: &str = "/jobs/1020";

/// Where in the window the first ring, or a point of the first pull's curve, lies.
async fn in_the_window(t: &Technician, inside: &str) -> (f64, f64) {
    let place = format!(
        "(() => {{ const svg = document.querySelector('figure.plot svg'); \
         svg.scrollIntoView({{ block: 'center' }}); const [x, y] = (svg => {{ {inside} }})(svg); \
         const at = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM()); return [at.x, at.y]; }})()"
    );
    let at = t.browser.js(&place).await;
    let number = |i: usize| at[i].as_f64().expect("a place");
    (number(0), number(1))
}

const FIRST_RING: &str = "const ring = svg.querySelector('.pp-event'); \
    return ['cx', 'cy'].map(name => Number(ring.getAttribute(name)));";
/// The beginning of a curve, away from every ring.
const FIRST_POINT: &str = "const d = svg.querySelector('.pp-curve').getAttribute('d'); \
    return d.slice(1).split('L')[0].split(' ').map(Number);";

async fn titles(t: &Technician) -> Vec<String> {
    let titles =
        "[...document.querySelectorAll('figure.plot .pp-event title')].map(t => t.textContent)";
    let titles = t.browser.js(titles).await;
    let titles = titles.as_array().expect("a list").iter();
    titles
        .map(|title| title.as_str().expect("text").to_owned())
        .collect()
}

async fn open_the_slipping_pulls(t: &mut Technician) {
    t.open(SLIPPING).await;
    let link = "[...document.querySelectorAll('a')].map(a => a.getAttribute('href')).find(h => /pulls\\/\\d+$/.test(h))";
    let link = t.browser.js(link).await;
    t.open(link.as_str().expect("the page of its recording"))
        .await;
}

#[tokio::test]
async fn the_mouse_reads_places_and_slips_off_the_drawing() {
    let program = Program::demo();
    let mut t = Technician::at(&program, DESKTOP).await;
    open_the_slipping_pulls(&mut t).await;
    let titles = titles(&t).await;
    assert!(titles.len() >= 2, "{titles:?}");
    let (x, y) = in_the_window(&t, FIRST_POINT).await;
    t.browser.point_at(x, y).await;
    let said = t.text(".plot-said").await;
    assert!(
        said.starts_with("Pull ") && said.contains("Stroke, mm"),
        "{said}"
    );
    assert!(!said.contains("slip"), "{said}");
    let (x, y) = in_the_window(&t, FIRST_RING).await;
    t.browser.point_at(x, y).await;
    let said = t.text(".plot-said").await;
    assert!(
        said.contains(&titles[0]) && said.contains("Force, kN"),
        "{said}"
    );
}

#[tokio::test]
async fn the_keys_walk_the_drawing_to_every_slip_and_come_nearer() {
    let program = Program::demo();
    let mut t = Technician::at(&program, DESKTOP).await;
    open_the_slipping_pulls(&mut t).await;
    let titles = titles(&t).await;
    let hint =
        "[...document.querySelectorAll('figure.plot .hint')].map(p => p.textContent).join(' ')";
    assert!(t.browser.js(hint).await.to_string().contains("next slip"));
    t.browser
        .js("document.querySelector('figure.plot svg').focus()")
        .await;
    // Each is said by its name; after the last comes the first.
    for title in titles.iter().chain(titles.first()) {
        t.browser.press('e').await;
        assert_eq!(&t.text(".plot-said").await, title);
    }
    t.browser.press('E').await;
    assert_eq!(Some(&t.text(".plot-said").await), titles.last());
    let dot = "document.querySelector('figure.plot .pp-dot').getAttribute('visibility')";
    assert_eq!(t.browser.js(dot).await, "visible");
    t.browser.assert_accessible().await;

    // Along the pull, to the next one, nearer and back.
    t.browser.press_named("ArrowRight").await;
    let along = t.text(".plot-said").await;
    t.browser.press_named("PageUp").await;
    let back = t.text(".plot-said").await;
    t.browser.press_named("ArrowDown").await;
    let across = t.text(".plot-said").await;
    assert!(
        along != back && back != across,
        "{along} / {back} / {across}"
    );
    let pull = |said: &str| said.split(':').next().map(str::to_owned);
    assert!(pull(&along) == pull(&back) && pull(&back) != pull(&across));
    let width =
        "Number(document.querySelector('figure.plot svg').getAttribute('viewBox').split(' ')[2])";
    let whole = t.browser.js(width).await.as_f64().expect("a width");
    t.browser.press('+').await;
    let near = t.browser.js(width).await.as_f64().expect("a width");
    assert!((whole / near - 1.5).abs() < 1e-6, "{whole} {near}");
    assert!(t.text("figure.plot .hint").await.contains("Stroke, mm"));
    t.browser.press('0').await;
    assert_eq!(t.browser.js(width).await.as_f64(), Some(whole));
}

#[tokio::test]
async fn pulls_dropped_at_the_desk_end_on_a_certificate() {
    from_logger_to_certificate(DESKTOP).await;
}

#[tokio::test]
async fn pulls_picked_on_the_phone_end_on_a_certificate() {
    from_logger_to_certificate(PHONE).await;
}
