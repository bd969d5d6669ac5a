//! Symptoms: those that were seen, and those that were looked for and are not there.

use maud::{Markup, html};
use shop::sheet::Symptom;

use crate::job::view::View;
use crate::shell::{Choice, Field};

/// Symptoms of the drive of which nobody has said yet whether they are there.
fn open_symptoms<'a>(v: &'a View) -> impl Iterator<Item = &'a Symptom> {
    let of_drive = v.faults.symptoms.iter();
    of_drive.filter(|s| s.drives.contains(&v.model.drive) && !v.job.symptoms.contains_key(&s.id))
}

/// Those of them that are not `there`.
pub fn not_said(v: &View, there: &[String]) -> Vec<String> {
    // A sign that forbids energy is looked for by name, each by itself.
    let rest = open_symptoms(v).filter(|s| !there.contains(&s.id) && !s.forbids_energy);
    rest.map(|s| s.id.clone()).collect()
}

pub fn symptoms(v: &View) -> Markup {
    let form = v.form("symptoms");
    // What was said can be put right: the last word counts.
    let that_are_not = |said: bool| -> Vec<Choice> {
        let of_drive = v.faults.symptoms.iter();
        of_drive
            .filter(|s| s.drives.contains(&v.model.drive))
            .filter(|s| v.job.symptoms.get(&s.id) != Some(&said))
            .map(|s| Choice::new(&s.id, &s.text))
            .collect()
    };
    let (there, absent) = (that_are_not(true), that_are_not(false));
    let rest = [Choice::new("rest", v.t("symptoms-rest"))];
    html! {
        details open[v.is_refused("symptoms")] {
            summary { (v.t("symptoms-summary")) }
            (v.wrap(&form, "symptoms", html! {
                (form.ticks(&Field::new("symptoms", v.t("field-symptoms-there")), &there))
                (form.ticks(&Field::new("rest", v.t("field-symptoms-rest")).hint(v.t("hint-symptoms-rest")), &rest))
                (form.ticks(&Field::new("absent", v.t("field-symptoms-absent")).hint(v.t("hint-absent")), &absent))
            }, "button-symptoms"))
        }
    }
}
