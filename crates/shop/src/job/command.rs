//! What can be done to a job, and the one door through which it is decided.

use calc::Message;
use jiff::civil::Date;

use super::agree::AnswerIn;
use super::bench_test::BenchTestIn;
use super::certificate::CertificateIn;
use super::certificate_second::AuthoriseIn;
use super::hand_back::ReturnIn;
use super::joint_read::JointIn;
use super::judge_warranty::JudgeIn;
use super::quoting::QuoteIn;
use super::rebuild::StepIn;
use super::refusal::{Refusals, refuse_all};
use super::set_up::TrialJointIn;
use super::use_pulls::PullsIn;
use super::{Desk, Job, Measured, Stage, TypedValue};
use crate::counter::AnewIn;
use crate::entry::{Body, FileAttached, Said, WaitFor};
use crate::grip::StackIn;
use crate::trial::own::Past;

/// A wish of the technician.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Put right what was written down at the counter.
    AmendReceipt {
        /// Pull counter.
        counter: Option<u64>,
        /// The counter began anew, and why.
        anew: AnewIn,
        /// Day of sale.
        sold: Option<Date>,
        /// Day of first use.
        first_used: Option<Date>,
        /// Complaint.
        complaint: String,
        /// Promised for.
        due: Option<Date>,
        /// Why.
        reason: String,
    },
    /// Note symptoms seen or ruled out.
    NoteSymptoms {
        /// Seen.
        present: Vec<String>,
        /// Looked for and not there.
        absent: Vec<String>,
    },
    /// Read a bench test.
    ReadBenchTest(BenchTestIn),
    /// Read a joint that was set with the tool as it came.
    ReadFoundJoint {
        /// Fastener id.
        fastener: String,
        /// The joint.
        joint: JointIn,
    },
    /// Take recorded pulls as evidence.
    UsePulls(Box<PullsIn>),
    /// Leave out the as-found tests.
    NotSafe {
        /// Why.
        reason: String,
    },
    /// Clear the tool for energised looks.
    ClearEnergy {
        /// What was looked at or done, so that it is safe.
        reason: String,
        /// The signs that it is cleared of, by id.
        signs: Vec<String>,
    },
    /// Say that the tool is closed again after a look into it.
    CloseAgain {
        /// Remark.
        note: String,
    },
    /// Answer a check.
    AnswerCheck {
        /// Check id.
        check: String,
        /// Answer.
        answer: Said,
        /// What was seen.
        note: String,
        /// Make-safe ticks, asked for where hands come near.
        made_safe: Vec<String>,
        /// Other checks of the same visit, and their answers.
        beside: Vec<(String, Said)>,
    },
    /// Confirm the cause.
    ConfirmCause {
        /// Cause ids; empty for no fault in the tool.
        causes: Vec<String>,
        /// Remark; needed where there is no cause.
        note: String,
    },
    /// Say that nothing is complained of: the tool came for a set-up alone.
    SetUpOnly {
        /// Remark.
        note: String,
    },
    /// Judge the warranty.
    JudgeWarranty(JudgeIn),
    /// Make a quote, or its next revision.
    Estimate(QuoteIn),
    /// Write down the customer's answer.
    Answer(AnswerIn),
    /// Plan how far the tool is stripped.
    PlanRoute {
        /// The parts to be reached.
        parts: Vec<String>,
        /// Why.
        note: String,
    },
    /// Do a step, and the plain ones before it.
    DoStep(StepIn),
    /// Start or stop the clock of a step.
    TimeStep {
        /// Step id.
        step: String,
        /// Start it.
        on: bool,
    },
    /// Renew a part.
    ReplacePart {
        /// Part id.
        part: String,
        /// Number of the part that went in.
        number: String,
        /// Why.
        reason: String,
        /// Counter.
        counter: Option<u64>,
        /// Who agreed to it, or why the shop pays, where no accepted option names it.
        unagreed: String,
    },
    /// Choose fastener and nose set.
    Fit {
        /// Fastener id.
        fastener: String,
        /// Grip code.
        code: String,
        /// Nose set id.
        nose_set: String,
        /// Collet length as measured.
        collet: Option<Measured>,
        /// Make-safe ticks.
        made_safe: Vec<String>,
        /// The stack to be joined, where it was entered.
        stack: StackIn,
    },
    /// Read the stick-out.
    ReadStickOut {
        /// Readings.
        measured: Measured,
        /// What the tool's earlier jobs say of its adjuster, for this nose set and fastener.
        past: Past,
        /// The stack under the pins, where it was entered.
        stack: StackIn,
        /// Sheets clamped tight while the pins were measured.
        clamped: bool,
    },
    /// Choose the stroke, where the fastener is set by stroke.
    ChooseStroke {
        /// Wanted stroke, mm.
        stroke: TypedValue,
        /// As with the stick-out.
        past: Past,
    },
    /// Read a trial joint.
    ReadJoint(TrialJointIn),
    /// Sign the set-up off.
    SignOffSetUp {
        /// Adjuster locked and paint-marked.
        locked: bool,
        /// Make-safe ticks, asked for where there is an adjuster to lock.
        made_safe: Vec<String>,
        /// Why it stands with fewer joints than the shop asks for.
        reason: String,
    },
    /// Sign the bench proof off.
    SignOffProof {
        /// Why it stands although a test stayed undecided.
        reason: String,
        /// The adjuster stands where the set-up left it.
        adjuster_stands: bool,
    },
    /// Skip a stage.
    Skip {
        /// Stage.
        stage: Stage,
        /// Why.
        reason: String,
    },
    /// Attach photos or files whose bytes are kept already.
    Attach(Vec<FileAttached>),
    /// Let the job wait.
    Wait {
        /// For what.
        wait_for: WaitFor,
        /// Remark.
        note: String,
    },
    /// Let the job go on.
    Resume,
    /// Strike an entry.
    Strike {
        /// Its version.
        version: u32,
        /// Why.
        reason: String,
    },
    /// Issue a certificate of the bench proof; prepare it, where the shop asks for a second person.
    IssueCertificate(CertificateIn),
    /// Authorise the certificate that was prepared.
    AuthoriseCertificate(AuthoriseIn),
    /// Hand the tool back.
    Return(ReturnIn),
}

/// The entries that `command` adds to `job`.
///
/// # Errors
/// Every reason why it cannot be done, each at its field.
pub fn decide(job: &Job, command: Command, desk: &Desk) -> Result<Vec<Body>, Refusals> {
    // An ended job takes no more entries, but its last one can be struck, with a reason, and what was
    // proved can be certified.
    let late = matches!(
        command,
        Command::Strike { .. } | Command::IssueCertificate(_) | Command::AuthoriseCertificate(_)
    );
    if job.returned.is_some() && !late {
        return refuse_all(Message::new("refuse-returned"));
    }
    job.closed_for(&command, desk)?;
    match command {
        Command::AmendReceipt {
            counter,
            anew,
            sold,
            first_used,
            complaint,
            due,
            reason,
        } => job.amend_receipt(
            (counter, &anew),
            (sold, first_used),
            &complaint,
            due,
            &reason,
            desk,
        ),
        Command::NoteSymptoms { present, absent } => job.note_symptoms(present, absent, desk),
        Command::ReadBenchTest(test) => job.read_bench_test(&test, desk),
        Command::ReadFoundJoint { fastener, joint } => {
            job.read_found_joint(&fastener, &joint, desk)
        }
        Command::UsePulls(pulls) => job.use_pulls(&pulls, desk),
        Command::NotSafe { reason } => job.not_safe(&reason),
        Command::ClearEnergy { reason, signs } => job.clear_energy(&reason, signs, desk),
        Command::CloseAgain { note } => job.close_again(&note, desk),
        Command::AnswerCheck {
            check,
            answer,
            note,
            made_safe,
            beside,
        } => job.answer_check((check, answer), beside, &note, &made_safe, desk),
        Command::ConfirmCause { causes, note } => job.confirm_cause(causes, &note, desk),
        Command::SetUpOnly { note } => job.say_set_up_only(&note, desk),
        Command::JudgeWarranty(judge) => job.judge_warranty(judge, desk),
        Command::Estimate(quote) => job.make_estimate(quote, desk),
        Command::Answer(answer) => job.write_answer(answer, desk),
        Command::PlanRoute { parts, note } => job.plan_route(parts, note, desk),
        Command::DoStep(step) => job.do_step(&step, desk),
        Command::TimeStep { step, on } => job.time_step(step, on, desk),
        Command::ReplacePart {
            part,
            number,
            reason,
            counter,
            unagreed,
        } => job.replace_part(part, (&number, counter), &reason, &unagreed, desk),
        Command::Fit {
            fastener,
            code,
            nose_set,
            collet,
            made_safe,
            stack,
        } => job.fit(
            &fastener,
            (&code, &stack),
            &nose_set,
            collet.as_ref(),
            &made_safe,
            desk,
        ),
        Command::ReadStickOut {
            measured,
            past,
            stack,
            clamped,
        } => job.read_stick_out(&measured, &past, (&stack, clamped), desk),
        Command::ChooseStroke { stroke, past } => job.choose_stroke(&stroke, &past, desk),
        Command::ReadJoint(joint) => job.read_joint(&joint, desk),
        Command::SignOffSetUp {
            locked,
            made_safe,
            reason,
        } => job.sign_off_set_up(locked, &made_safe, &reason, desk),
        Command::SignOffProof {
            reason,
            adjuster_stands,
        } => job.sign_off_proof(&reason, adjuster_stands, desk),
        Command::Skip { stage, reason } => job.skip(stage, &reason, desk),
        Command::Attach(files) => job.attach(files, desk),
        Command::Wait { wait_for, note } => job.wait(wait_for, note),
        Command::Resume => job.resume(),
        Command::Strike { version, reason } => job.strike(version, &reason),
        Command::IssueCertificate(certificate) => job.issue_certificate(certificate, desk),
        Command::AuthoriseCertificate(second) => job.authorise_certificate(second, desk),
        Command::Return(back) => job.hand_back(back, desk),
    }
}
