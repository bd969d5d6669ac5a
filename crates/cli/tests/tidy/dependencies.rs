//! Which crate may depend on which, read from the manifests.

use toml::Table;

use crate::File;

/// Each crate with the crates of the project that it may use.
const MAY_USE: &[(&str, &[&str])] = &[
    ("calc", &[]),
    ("methods", &["calc"]),
    ("words", &["calc"]),
    ("shop", &["calc"]),
    ("store", &["calc", "shop"]),
    ("paper", &["calc", "words"]),
    (
        "web",
        &["calc", "methods", "words", "shop", "store", "paper"],
    ),
    (
        "cli",
        &["calc", "methods", "words", "shop", "store", "paper", "web"],
    ),
];

/// Libraries that are the business of some crates only, by how their names start.
const ONLY_IN: &[(&str, &[&str])] = &[
    ("sqlx", &["store"]),
    ("typst", &["paper"]),
    ("fluent", &["words"]),
    ("axum", &["web", "cli"]),
    ("tower", &["web"]),
    ("maud", &["web", "cli"]),
    ("tokio", &["store", "web", "cli"]),
    ("argon2", &["web"]),
    ("clap", &["cli"]),
    ("indicatif", &["cli"]),
];

/// Every dependency that points the wrong way.
pub fn faults(files: &[File]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files {
        let Some((name, "Cargo.toml")) = file.in_crate() else {
            continue;
        };
        let Some((_, may_use)) = MAY_USE.iter().find(|(n, _)| *n == name) else {
            faults.push(format!("{}: no place in MAY_USE for {name}", file.path));
            continue;
        };
        for used in used(&file.text) {
            let is_ours = MAY_USE.iter().any(|(n, _)| *n == used);
            let only = ONLY_IN.iter().find(|(start, _)| used.starts_with(start));
            if is_ours && !may_use.contains(&used.as_str()) {
                faults.push(format!("{}: {name} must not use {used}", file.path));
            }
            if only.is_some_and(|(_, crates)| !crates.contains(&name)) {
                faults.push(format!("{}: {used} has no place in {name}", file.path));
            }
        }
    }
    faults
}

/// Every dependency of a manifest: of the library, of its tests, of its build, on any platform.
fn used(manifest: &str) -> Vec<String> {
    let manifest: Table = manifest.parse().expect("a manifest is TOML");
    let mut tables = vec![&manifest];
    let platforms = manifest.get("target").and_then(|t| t.as_table());
    tables.extend(
        platforms
            .iter()
            .flat_map(|p| p.values())
            .filter_map(|v| v.as_table()),
    );
    let kinds = ["dependencies", "dev-dependencies", "build-dependencies"];
    let of_kind = |table: &Table, kind: &str| -> Vec<String> {
        let found = table.get(kind).and_then(|t| t.as_table());
        found.iter().flat_map(|t| t.iter()).map(package).collect()
    };
    tables
        .into_iter()
        .flat_map(|table| kinds.iter().flat_map(move |kind| of_kind(table, kind)))
        .collect()
}

/// The package behind a dependency, also if it goes by another name.
fn package((name, how): (&String, &toml::Value)) -> String {
    let renamed = how.get("package").and_then(|p| p.as_str());
    renamed.unwrap_or(name).to_owned()
}

#[test]
fn a_wrong_way_is_found() {
    let bad = [
        File::new(
            "crates/calc/Cargo.toml",
            "[dependencies]\nshop.workspace = true",
        ),
        File::new(
            "crates/paper/Cargo.toml",
            "[dev-dependencies]\nstore.workspace = true",
        ),
        File::new(
            "crates/shop/Cargo.toml",
            "[target.'cfg(unix)'.dependencies]\ntokio = \"1\"",
        ),
        File::new(
            "crates/web/Cargo.toml",
            "[build-dependencies]\nx = { package = \"sqlx\" }",
        ),
        File::new("crates/new/Cargo.toml", ""),
        File::new(
            "crates/store/Cargo.toml",
            "[dependencies]\nshop.workspace = true",
        ),
    ];
    let found = faults(&bad);
    assert_eq!(found.len(), 5, "{found:#?}");
    assert!(found[0].ends_with("calc must not use shop"));
    assert!(found[1].ends_with("paper must not use store"));
    assert!(found[2].ends_with("tokio has no place in shop"));
    assert!(found[3].ends_with("sqlx has no place in web"));
}

#[test]
fn the_table_has_no_circle() {
    // Each crate uses only what stands above it.
    for (i, (name, may_use)) in MAY_USE.iter().enumerate() {
        for used in *may_use {
            let above = MAY_USE[..i].iter().any(|(n, _)| n == used);
            assert!(above, "{name} uses {used}");
        }
    }
}
