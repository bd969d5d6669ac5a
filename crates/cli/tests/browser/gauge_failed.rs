//! A gauge that its calibration finds outside its limits, on the phone: what falls with it fits on the page.

use crate::harness::{PHONE, Program};
use crate::technician::Technician;

#[tokio::test]
async fn what_falls_with_a_gauge_that_failed_fits_on_the_phone() {
    let program = Program::demo();
    let mut t = Technician::at(&program, PHONE).await;
    t.open("/gauges/lc-50").await;
    t.pick_name().await;
    let today = jiff::Timestamp::now().to_zoned_datetime(jiff::tz::TimeZone::system());
    let today = today.date().to_string();
    let mut typed = vec![("date", today.as_str()), ("limit", "0.2"), ("by", "K")];
    typed.push(("certificate", "K-4471"));
    let rows = [
        ["nominal", "found", "left", "expanded"],
        ["nominal-2", "found-2", "left-2", "expanded-2"],
        ["nominal-3", "found-3", "left-3", "expanded-3"],
    ];
    let values = [
        ["0.00", "0.00", "0.00", "0.10"],
        ["25.00", "2.00", "0.10", "0.10"],
        ["50.00", "4.00", "0.10", "0.10"],
    ];
    for (names, values) in rows.into_iter().zip(values) {
        typed.extend(names.into_iter().zip(values));
    }
    // Each page on the way is looked at: whether it fits, too.
    t.send("calibrate", &typed).await;
    assert_eq!(t.errors().await, "");
    let page = t.text("main").await.to_lowercase();
    assert!(page.contains("verdict would not stand"), "{page}");
    t.browser.assert_fits().await;
    let width = t.browser.js("document.documentElement.scrollWidth").await;
    assert_eq!(width, PHONE.width);
    t.browser.shot("gauge-failed").await;
}
