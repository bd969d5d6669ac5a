//! What the hands hold already is answered in one form with the check that is proposed.

use crate::client::{Answer, Client, receive};
use crate::program::Program;

const SAFE: [(&str, &str); 2] = [("made_safe", "pack-out"), ("made_safe", "trigger-pressed")];

/// The form of the first check on the page, which is the proposed one, and whether others are asked for beside it.
fn first_check(page: &Answer) -> (String, bool) {
    let mut forms = page.body.split("<form id=\"");
    let form = forms.find(|form| form.starts_with("check-"));
    let form = form.expect("a check is proposed");
    let id = form.split('"').next().unwrap_or_default();
    (id.to_owned(), form.contains("name=\"beside-"))
}

/// The page of the job and the form of its proposed check, once others are asked for beside it: what is proposed until
/// then is answered by itself, with a no.
fn in_one_go(client: &mut Client, job: &str) -> (Answer, String) {
    for _ in 0..12 {
        let page = client.get(job);
        let (form, with_others) = first_check(&page);
        if with_others {
            return (page, form);
        }
        let no = [&SAFE[..], &[("answer", "no")]].concat();
        assert_eq!(client.send(&page, &form, &no).status, 303, "{form}");
    }
    panic!("no check with others beside it");
}

/// The boxes beside it.
fn beside(page: &Answer, form: &str) -> Vec<String> {
    let body = page.body.split(&format!("<form id=\"{form}\"")).nth(1);
    let body = body.and_then(|body| body.split("</form>").next());
    let names = body.unwrap_or_default().split("name=\"beside-").skip(1);
    let mut names: Vec<String> = names
        .filter_map(|name| Some(format!("beside-{}", name.split('"').next()?)))
        .collect();
    names.dedup();
    names
}

#[test]
fn the_check_and_those_beside_it_are_stored_together_or_not_at_all() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-12");
    assert!(
        client
            .get(&job)
            .body
            .contains("Have ready: Collet CR8, four fingers (CR8)<")
    );
    let (page, form) = in_one_go(&mut client, &job);
    let others = beside(&page, &form);
    assert!(others.len() > 1, "{others:?}");

    // Nothing picked: nothing is stored, and the page says which box.
    let refused = client.send(&page, &form, &SAFE);
    assert_eq!(refused.errors(), ["Pick yes, no or not sure."]);
    // Without the ticks what was picked stays.
    let picked = [("answer", "no"), (others[0].as_str(), "no")];
    let refused = client.send(&page, &form, &picked);
    assert_eq!(refused.status, 422);
    let kept = format!("name=\"{}\" value=\"no\" checked", others[0]);
    assert!(refused.body.contains(&kept), "{kept}");
    let answered = |page: &Answer| page.body.matches("<form id=\"strike-").count();
    let before = answered(&client.get(&job));

    let two = [&SAFE[..], &picked, &[(others[1].as_str(), "")]].concat();
    assert_eq!(client.send(&page, &form, &two).status, 303);
    let page = client.get(&job);
    assert_eq!(answered(&page), before + 2, "one was left open");

    // One beside it alone: the check that was asked for stays open.
    let (page, form) = in_one_go(&mut client, &job);
    let before = answered(&page);
    let others = beside(&page, &form);
    let one = [&SAFE[..], &[(others[0].as_str(), "no")]].concat();
    assert_eq!(client.send(&page, &form, &one).status, 303);
    let page = client.get(&job);
    assert_eq!(answered(&page), before + 1);
    assert!(page.body.contains(&format!("<form id=\"{form}\"")));
}
