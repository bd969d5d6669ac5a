//! Picking a name at the bench while something is typed.

use crate::client::{Client, form, receive};
use crate::program::{Program, run};

#[test]
fn a_form_without_a_name_asks_for_it_and_loses_nothing() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let mut nameless = Client::nameless(&program.address);
    let page = nameless.get(&job);
    let refused = nameless.send(&page, "not-safe", &[("reason", "cracked shell")]);
    assert_eq!(refused.status, 422);
    assert_eq!(
        refused.value("not-safe", "reason").as_deref(),
        Some("cracked shell")
    );
    let asked = form(&refused.body, "not-safe").expect("the form");
    assert!(asked.contains("name=\"who\"") && asked.contains("value=\"Ansa\""));
    // The names at the top of the page would lead away from the form.
    assert!(!refused.body.contains("action=\"/who\""));

    let unknown = [("reason", "cracked shell"), ("who", "Nobody here")];
    assert_eq!(nameless.send(&refused, "not-safe", &unknown).status, 422);
    let picked = [("reason", "cracked shell"), ("who", "Ansa")];
    let stored = nameless.send(&refused, "not-safe", &picked);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = nameless.get(&job);
    assert!(page.body.contains("cracked shell"));
    assert!(page.body.contains("<b>Ansa</b>"), "the name stays picked");
}

#[test]
fn a_receipt_without_a_name_asks_for_it() {
    let program = Program::start();
    let mut nameless = Client::nameless(&program.address);
    let page = nameless.get("/receive?model=tulvane-tb-32");
    let refused = nameless.send(&page, "receive", &[("serial", "7K-1")]);
    assert_eq!(refused.status, 422);
    assert_eq!(refused.value("receive", "serial").as_deref(), Some("7K-1"));
    let asked = form(&refused.body, "receive").expect("the form");
    assert!(asked.contains("value=\"Mirel\""));
}

#[test]
fn a_name_picked_on_a_page_leads_back_to_it() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let page = client.get(&job);
    assert!(
        page.body
            .contains(&format!("name=\"back\" value=\"{job}\""))
    );
}

#[test]
fn a_shop_without_names_says_where_they_come_from() {
    let folder = tempfile::tempdir().expect("a folder");
    let store = folder.path().join("empty.setwright");
    assert!(run(&["sheets", "list"], &store).status.code().is_some());
    let program = Program::serve(&store, "");
    let page = Client::nameless(&program.address).get("/");
    assert!(page.body.contains("the shop card lists them"));
    assert!(page.body.contains("setwright sheets load"));
}
