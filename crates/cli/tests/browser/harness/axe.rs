//! axe-core in the page.

use serde_json::Value;
use thirtyfour::prelude::*;

use super::workspace;

/// Runs every rule of WCAG 2.0 to 2.2, A and AA; target-size is off by default.
const RUN: &str = r#"
    const done = arguments[arguments.length - 1];
    axe.run(document, {
        runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
        rules: { "target-size": { enabled: true } },
        resultTypes: ["violations"],
    }).then(
        (result) => done({ passes: result.passes.length, violations: result.violations.map((v) => ({
            id: v.id, help: v.help,
            nodes: v.nodes.map((n) => n.target.join(" ") + "  " + (n.any[0] || n.all[0] || n.none[0] || {}).message),
        })) }),
        (error) => done({ error: String(error) }),
    );
"#;

/// What axe finds wrong with the page, a line for each rule and element.
pub async fn violations(driver: &WebDriver) -> Vec<String> {
    let file = workspace().join("node_modules/axe-core/axe.min.js");
    let axe = std::fs::read_to_string(file).expect("axe-core is not installed: run ./test");
    driver.execute(axe, Vec::new()).await.expect("axe loads");
    let answer = driver
        .execute_async(RUN, Vec::new())
        .await
        .expect("axe runs");
    let result = answer.json();
    assert_eq!(result["error"], Value::Null, "axe failed");
    assert!(
        result["passes"].as_u64() > Some(10),
        "axe saw a page: {result}"
    );
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    list(&result["violations"])
        .iter()
        .flat_map(|rule| {
            let name = format!("{}: {}", rule["id"], rule["help"]);
            list(&rule["nodes"])
                .into_iter()
                .map(move |node| format!("{name}: {node}"))
        })
        .collect()
}
