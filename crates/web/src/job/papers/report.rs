//! The service report.

use calc::Message;
use calc::decision::Rule;
use calc::working::Working;
use paper::model::{
    Answer, Change, Check, Dates, Found, PartRenewed, Price, PriceLine, ServiceReport, Unrepaired,
    Warranty, WorkingView,
};
use rust_decimal::Decimal;
use shop::entry::{InDoubt, Phase};
use shop::estimate::line_total;
use shop::job::Stamped;
use shop::quote::{accepted, bill, tax_percent};
use shop::trial::{Trial, own};

use super::{claim, tests_made};
use crate::attachments;
use crate::job::judged::Judged;
use crate::job::view::View;
use crate::job::{Loaded, agreed, log, names, rebuilt, set_up, wear};
use crate::pulls;
use crate::show;

/// The report of a job that has ended; `None` before that.
pub fn report(v: &View, loaded: &Loaded) -> Option<ServiceReport> {
    let back = v.job.returned.as_ref()?;
    let r = &v.job.received.body;
    let set_up = v.job.set_up();
    let sheets = set_up.and_then(|s| v.job.set_up_sheets(s, &v.desk));
    let fitted = set_up.zip(sheets.as_ref());
    let tested = v
        .job
        .tests
        .iter()
        .rev()
        .find(|t| t.body.phase == Phase::AsLeft);
    let not_safe = v.job.not_safe.as_ref();
    let since = v.job.doubted_since_returned(&v.desk);
    let all = [&back.body.in_doubt[..], &since[..]].concat();
    let doubted = tests_made::doubted(&all);
    let said = |doubts: &[InDoubt]| {
        let said = v.job.doubts_said(doubts, &v.desk);
        said.iter().map(|doubt| v.say(doubt)).collect()
    };
    Some(ServiceReport {
        shop: super::shop(v),
        number: back.body.report.clone(),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        condition: condition(v),
        dates: Dates {
            received: super::printed(v, v.job.received.at),
            tested: tested.map(|t| super::printed(v, t.at)).unwrap_or_default(),
            issued: super::printed(v, back.at),
        },
        complaint: r.complaint.clone(),
        found: found(v),
        unrepaired: claim::unrepaired(v).map(|(how, reason)| Unrepaired { how, reason }),
        doubts: said(&back.body.in_doubt),
        doubts_since: said(&since),
        doubted_by: v.person(&back.body.authorised),
        doubt_reason: back.body.doubt_reason.clone(),
        warranty: v.job.warranty.as_ref().map(|w| Warranty {
            cover: claim::cover(w.body.cover),
            term: w.body.term.clone(),
            evidence: agreed::evidence_text(v, &w.body.evidence, w.body.entry),
        }),
        price: price(v),
        parts: parts(v),
        axis: (!v.job.replaced.is_empty()).then(|| rebuilt::axis_drawing(v, None)),
        torques: tests_made::torques(v),
        fastener: fitted.map(|(u, s)| super::fastener(u, s)),
        nose: fitted.map(|(_, s)| super::nose(v, s)),
        stick_out: fitted.and_then(|(u, s)| super::stick_out(v, u, s)),
        setting: fitted.and_then(|(u, s)| super::setting(v, u, s)),
        joints: fitted
            .map(|(u, s)| tests_made::joints(v, u, s))
            .unwrap_or_default(),
        tests: tests_made::tests(v, &doubted),
        wear: tests_made::wear(v),
        found_joints: tests_made::found_joints(v),
        pulls: pulls::printed(v, &doubted),
        not_run_as_found: not_safe.map(|n| n.body.reason.clone()).unwrap_or_default(),
        instruments: tests_made::instruments(v),
        deviations: deviations(v),
        corrections: corrections(v),
        workings: workings(v),
        photos: attachments::photos(v),
        files: attachments::files(v),
        handed_over: back.body.with.clone(),
        authorised_by: v.person(&back.body.authorised),
        record: super::head(loaded),
        issued: super::issued(v, back.at),
    })
}

fn condition(v: &View) -> Vec<String> {
    let came = v.job.received.body.came.iter().map(|c| {
        let id = if c.count < c.of {
            "report-came-short"
        } else {
            "report-came"
        };
        v.say(
            &Message::new(id)
                .with("item", c.item.as_str())
                .with("count", c.count)
                .with("of", c.of),
        )
    });
    let pack = v
        .model
        .pack
        .map(|_| v.t(names::pack(v.job.received.body.pack)));
    came.chain(pack).collect()
}

fn found(v: &View) -> Option<Found> {
    let cause = &v.job.cause.as_ref()?.body;
    let causes = if cause.set_up_only {
        vec![v.t("cause-set-up-only")]
    } else if cause.causes.is_empty() {
        vec![v.t("cause-none")]
    } else {
        cause.causes.iter().map(|id| v.cause_name(id)).collect()
    };
    let checks = v.job.checks.iter().map(|c| Check {
        question: v
            .faults
            .check(&c.body.check)
            .map_or(c.body.check.clone(), |k| v.question(k)),
        answer: v.t(names::said(c.body.answer)),
        note: c.body.note.clone(),
    });
    Some(Found {
        causes,
        note: cause.note.clone(),
        checks: checks.collect(),
    })
}

/// What was accepted, its price, and who pays.
fn price(v: &View) -> Option<Price> {
    let quote = &v.job.estimate.as_ref()?.body;
    let answer = v.job.answer.as_ref();
    let taken = accepted(quote, answer.map(|a| &a.body));
    let bill = bill(quote, v.job.warranty.as_ref().map(|w| &w.body), &taken);
    let answer = answer.map(|a| Answer {
        yes: a.body.yes,
        name: v.person(&a.body.name),
        on: show::day(a.body.on),
        note: a.body.note.clone(),
    });
    let lines: Vec<_> = quote
        .lines
        .iter()
        .filter(|line| taken.contains(&line.option))
        .collect();
    let printed = lines.iter().map(|line| PriceLine {
        what: line.what.clone(),
        number: line.number.clone(),
        count: line.count.normalize().to_string(),
        each: format!("{:.2}", line.each),
        sum: format!("{:.2}", line_total(line)),
    });
    let off = |what: String, amount: Decimal| PriceLine {
        what,
        number: String::new(),
        count: String::new(),
        each: String::new(),
        sum: format!("{:.2}", -amount),
    };
    let discount = quote.discount.as_ref().map(|discount| {
        let said = Message::new("quote-discount")
            .with("percent", discount.percent.normalize().to_string())
            .with("reason", discount.reason.as_str());
        off(v.say(&said), bill.totals.discount)
    });
    let covered = (!bill.covered.is_zero()).then(|| off(v.t("estimate-covered"), bill.covered));
    let mut rates: Vec<Decimal> = lines.iter().map(|l| tax_percent(quote, l)).collect();
    rates.sort_unstable();
    rates.dedup();
    let rates = rates.iter().filter(|rate| !rate.is_zero());
    let rates: Vec<String> = rates
        .map(|rate| format!("{} %", rate.normalize()))
        .collect();
    let amount = |d: Decimal| format!("{d:.2} {}", quote.currency);
    Some(Price {
        lines: printed.chain(discount).chain(covered).collect(),
        net: amount(bill.totals.net),
        tax_rate: rates.join(", "),
        tax: amount(bill.totals.tax),
        total: amount(bill.to_pay),
        note: quote.note.clone(),
        answer,
    })
}

fn parts(v: &View) -> Vec<PartRenewed> {
    let name = |id: &str| {
        let part = v.model.part(id);
        part.map_or(id.to_owned(), |p| p.name.clone())
    };
    v.job
        .replaced
        .iter()
        .map(|r| PartRenewed {
            name: name(&r.body.part),
            number: r.body.number.clone(),
            reason: rebuilt::why(v, &r.body),
            counter: r
                .body
                .counter
                .map(|n| v.p.words.count(n))
                .unwrap_or_default(),
        })
        .collect()
}

/// Stages left out, holds passed with a reason, sign-offs with a reason.
fn deviations(v: &View) -> Vec<Change> {
    let skipped = v.job.skipped.iter();
    let skipped = skipped.map(|(stage, s)| change(v, v.t(names::stage(*stage)), s, &s.body.reason));
    let steps = v.job.steps.iter();
    let steps = steps.map(|s| change(v, rebuilt::step_name(v, &s.body.step), s, &s.body.reason));
    let set_up = v.job.set_up().and_then(|u| u.signed_off.as_ref());
    let set_up = set_up.map(|s| change(v, v.t("stage-set-up"), s, &s.body.reason));
    let proof = v.job.proof.as_ref();
    let proof = proof.map(|s| change(v, v.t("stage-proved"), s, &s.body.reason));
    let all = skipped.chain(steps).chain(set_up).chain(proof);
    all.filter(|change| !change.reason.is_empty()).collect()
}

fn corrections(v: &View) -> Vec<Change> {
    let struck = v.job.struck.iter();
    struck
        .map(|(entry, by)| change(v, log::line(v, entry), by, &by.body.reason))
        .collect()
}

fn change<T>(v: &View, what: String, written: &Stamped<T>, reason: &str) -> Change {
    Change {
        what,
        reason: reason.to_owned(),
        by: v.stamp(written.at, &written.by),
    }
}

/// The workings of the setting, of the bench tests, and of one reading with each gauge: what is not
/// repeated differs in its value alone.
fn workings(v: &View) -> Vec<WorkingView> {
    // The decision rule stands beside the readings, once.
    let rules = [Rule::Guarded, Rule::Simple].map(|rule| v.p.words.term(rule));
    let of = |title: String, working: &Working| {
        let mut view = WorkingView::of(v.p.words, title, working);
        view.notes.retain(|note| !rules.contains(note));
        view
    };
    let mut workings = Vec::new();
    if let Some(set_up) = v.job.set_up()
        && let Some(sheets) = v.job.set_up_sheets(set_up, &v.desk)
        && let Some(read) = set_up.stick_out()
    {
        if let Some(mean) = set_up::mean_working(v, read) {
            workings.push(of(v.t("stick-out-heading"), &mean));
        }
        if let Some(answer) =
            set_up::measured(v, read).and_then(|m| shop::job::answer(&sheets, &m).ok())
        {
            workings.push(of(v.t("setting-adjuster"), &answer.working));
            let own = read.own.as_ref();
            let own = own.and_then(|own| own::working(&sheets, own, &answer));
            workings.extend(own.map(|own| of(v.t("report-own-adjuster"), &own)));
        }
        let trial = Trial::of(&sheets, set_up, &v.desk);
        workings.extend(trial.map(|trial| of(v.t("joints-heading"), &trial.working)));
    }
    for test in &v.model.bench_tests {
        for phase in [Phase::AsFound, Phase::AsLeft] {
            let read = v.job.test(phase, &test.id).map(|read| &read.body);
            if let Some(judged) = read.and_then(|read| Judged::of_test(v, test, read)) {
                let title = format!("{}: {}", test.name, v.t(names::phase(phase)));
                workings.push(of(title, &judged.working(v)));
            }
        }
    }
    for worn in wear::worth_a_working(v) {
        let title = Message::new("wear-working")
            .with("part", worn.part.name.as_str())
            .with("what", worn.wear.what.as_str());
        workings.extend(worn.working().map(|life| of(v.say(&title), &life)));
    }
    for (gauge, judged) in tests_made::single_readings(v) {
        let title = Message::new("report-one-reading").with("gauge", gauge);
        let doubt = judged.doubt_working(v);
        workings.extend(doubt.map(|doubt| of(v.say(&title), &doubt)));
    }
    workings
}
