//! The label: its code read back with a decoder, its words whole.

use paper::model::Label;
use paper::{Code, PaperError, label, label_svg};
use words::Words;

use crate::{pdf, sample};

fn sticker() -> Label {
    Label {
        code: Code::Job(1047),
        job: "1047".to_owned(),
        model: "Tulvane TB-32".to_owned(),
        serial: "7K-0412".to_owned(),
        customer: "Fennholt".to_owned(),
        due: "26 Nov 2026".to_owned(),
        issued: sample::report().issued,
    }
}

/// What a scanner finds on the printed label.
fn scanned(name: &str, sticker: &Label) -> String {
    let bytes = label(sticker, Words::english()).expect("the label sets");
    let dots = pdf::Raster::of(name, &bytes, 1, (0.0, 0.0, 62.0, 29.0));
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(dots.width(), dots.height(), |x, y| {
            dots.grey(x, y)
        });
    let codes = image.detect_grids();
    assert_eq!(codes.len(), 1, "one code is found");
    codes[0].decode().expect("the code is whole").1
}

#[test]
fn the_code_is_read_back() {
    for (name, code, text) in [
        ("label-job", Code::Job(1047), "SETWRIGHT:JOB/1047"),
        (
            "label-tool",
            Code::Tool("7K-0412".to_owned()),
            "SETWRIGHT:TOOL/7K-0412",
        ),
        (
            "label-odd",
            Code::Tool("a b/ü#7".to_owned()),
            "SETWRIGHT:TOOL/%61%20%62%2F%C3%BC%237",
        ),
        (
            "label-last",
            Code::Job(u32::MAX),
            "SETWRIGHT:JOB/4294967295",
        ),
    ] {
        let seen = scanned(
            name,
            &Label {
                code: code.clone(),
                ..sticker()
            },
        );
        assert_eq!(seen, text);
        assert_eq!(Code::read(&seen), Some(code));
    }
}

#[test]
fn a_long_serial_still_has_its_code() {
    let serial = "7K0412-".repeat(20);
    let code = Code::Tool(serial.clone());
    let seen = scanned(
        "label-long",
        &Label {
            code: code.clone(),
            serial,
            ..sticker()
        },
    );
    assert_eq!(Code::read(&seen), Some(code));
}

#[test]
fn what_no_code_can_hold_is_refused() {
    let code = Code::Tool("7".repeat(8000));
    let refused = label_svg(&Label { code, ..sticker() }, Words::english());
    assert_eq!(refused, Err(PaperError::Code));
}

#[test]
fn it_says_whose_tool_it_is() {
    let svg = label_svg(&sticker(), Words::english()).expect("the label draws");
    for part in [
        "Job 1047",
        "Tulvane TB-32",
        "7K-0412",
        "Fennholt",
        "Due 26 Nov 2026",
    ] {
        assert!(svg.contains(&format!(">{part}</text>")), "{part}\n{svg}");
    }
    assert!(svg.contains(
        r#"aria-label="Label: Job 1047, Tulvane TB-32, 7K-0412, Fennholt, Due 26 Nov 2026""#
    ));
    let bytes = label(&sticker(), Words::english()).expect("the label sets");
    pdf::read("label", &bytes).says(&["Job 1047", "7K-0412", "Due 26 Nov 2026"]);
}

#[test]
fn long_names_shrink_and_stay_on_the_label() {
    let mut long = sticker();
    long.model = "Tulvane TB-32 long-nose extended-reach cold-weather edition".to_owned();
    long.serial = "7K-0412-7K-0412-7K-0412-7K-0412".to_owned();
    long.customer = "Fennholt Glasshouse Frames and Conservatory Components".to_owned();
    let svg = label_svg(&long, Words::english()).expect("the label draws");
    let words: Vec<&str> = svg
        .split("</text>")
        .filter_map(|t| t.rsplit_once('>'))
        .map(|t| t.1)
        .collect();
    let whole = words.concat().replace(' ', "");
    for part in [&long.model, &long.serial, &long.customer] {
        assert!(whole.contains(&part.replace(' ', "")), "{part}\n{words:?}");
    }
    long.customer = "Fennholt ".repeat(60);
    long.serial = "7K-0412-".repeat(40);
    let svg = label_svg(&long, Words::english()).expect("the label draws");
    for y in svg
        .split(" y=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
    {
        let y: f64 = y.parse().expect("a number");
        assert!(y < 28.0, "{y}\n{svg}");
    }
    assert!(svg.contains('…'), "what does not fit is marked");
}

#[test]
fn empty_fields_leave_no_line() {
    let bare = Label {
        job: String::new(),
        customer: String::new(),
        due: String::new(),
        ..sticker()
    };
    let svg = label_svg(&bare, Words::english()).expect("the label draws");
    assert_eq!(svg.matches("<text").count(), 2);
    assert!(
        svg.contains(r#"aria-label="Label: Tulvane TB-32, 7K-0412""#),
        "{svg}"
    );
}

#[test]
fn same_input_same_bytes() {
    let set = || label(&sticker(), Words::english()).expect("the label sets");
    assert!(set() == set());
}
