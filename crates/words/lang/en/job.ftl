# Texts of the job page, the lists and the counter.

## Anywhere

name-erased = (name erased)
pulls = { $pulls } pulls
turns = turns
due = Due
due-today = today
due-left = { $days ->
    [one] one day left
   *[other] { $days } days left
}
due-late = { $days ->
    [one] one day late
   *[other] { $days } days late
}
limits-both = { $lower } to { $upper } { $unit }
limits-lower = at least { $lower } { $unit }
limits-upper = at most { $upper } { $unit }
limits-none = no limits
readings-count = { $count ->
    [one] one reading
   *[other] { $count } readings
}.
working-show = Show the working
working-method = Method:
turn-change = { $turns } turns { $rotation } ({ $effect })
drive-battery = battery puller
drive-air-hydraulic = air-hydraulic puller
drive-hydraulic = hydraulic puller

date-missing = Enter a day, like 2026-11-24.
date-two-ways = “{ $typed }” can be read two ways. Enter it like 2026-11-24.
time-not = “{ $typed }” is not a time of day. Enter it like 14:20.
date-not = “{ $typed }” is not a day. Enter it like 2026-11-24.
money-missing = Enter an amount, like 48.00.
money-not = “{ $typed }” is not an amount. Enter it like 48.00.

## Sources of the program's own cautions

source-energy = 29 CFR 1910.147 counts stored energy. The maker's instructions come first.
source-maker = The maker's instructions come first.
source-common = Common practice, no source. The maker's instructions come first.
source-clean = 29 CFR 1910.242(b): below 30 psi (2.1 bar), chip guard, eye protection.

## Stages

spine-label = Stages of the job
stage-received = Received
stage-fault = Fault
stage-agreed = Agreed
stage-rebuilt = Rebuilt
stage-set-up = Set up
stage-proved = Proved
stage-returned = Returned
standing-done = done
standing-skipped = not needed
standing-now = now
standing-ahead = later
standing-ended = ended
stage-ahead = Comes after the stages above.
skipped = Not needed:
skipped-declined = The customer said no: the tool goes back as it came.
skip-summary = This stage is not needed
field-skip-reason = Why not
button-skip = Leave it out
wait-summary = Let the job wait
field-wait = What for
wait-parts = Waits for parts
wait-yes = Waits for a yes
wait-tool = Waits for a tool or gauge
button-wait = Wait
button-resume = Go on
refuse-wait = Pick what the job waits for.

## Head

job-title = Job { $n }
job-tool = { $model }, serial { $serial }
job-tool-history = this tool's jobs
conflict-heading = The job has changed since this page was opened
conflict-text = Nothing of yours was stored. What you typed is still in its form below. See whether it still holds, then send it again.
conflict-gone = Nothing of yours was stored. The form that you sent is not on this page any more. What you typed is here.
form-gone = Nothing was stored. The form that you sent is not on this page any more. What you typed is here.
refuse-not-now = This form does not fit the job as it is now. Look at the job below.
refuse-no-version = This form does not say which state of the job it stands on. Look at the job below, then send it again.
refuse-version-ahead = This form stands on a newer state of the job than the record holds. Look at the job below, then send it again.

## Received

receive-title = Receive a tool
receive-no-models = No tool model is loaded. Load sheets with "setwright sheets load".
receive-other = another model
receive-safe-first = Make it safe before hands go near.
button-next = Next
button-receive = Take it in
field-serial = Serial
hint-serial = From the plate on the tool.
field-model = Model
field-new-tool = New here?
new-tool-yes = This tool has not been in this shop before
field-customer = Customer
hint-customer = Company or person, as it goes on the report.
field-complaint = Complaint, in the customer's words
hint-complaint = Write what was said, not what you think it is.
field-symptoms = Symptoms
none-picked = none picked
field-counter = Pull counter
hint-counter = Digits only. Leave it empty if it cannot be read.
counter-none = not read
counter-since = { $pulls } more than when it was last here
counter-anew-summary = The counter was changed or set back
field-counter-anew = Counter
counter-anew-yes = It began anew since the last visit
field-counter-reason = What was done to it, and who says so
counter-anew-said = It began anew: { $reason }. It showed { $was } before.
counter-anew-said-uncounted = It began anew: { $reason }
field-came = What came with it
hint-came = Count each. Empty counts as 0 where nothing else is said.
kit-internal-missing = Count it. Enter 0 if it did not come.
kit-range = Enter a number from 0 to { $most }.
pack-missing = Pick the state of the pack.
receive-model-gone = Pick the model: the one of this form was withdrawn or is not loaded.
hint-kit = { $count ->
    [one] One belongs
   *[other] { $count } belong
} to a complete tool.
hint-kit-internal = { $count ->
    [one] One belongs
   *[other] { $count } belong
} to a complete tool. The warranty asks for it: enter 0 if it did not come.
came-complete = complete
came-missing = Missing:
field-made-safe = Made safe
field-before-nose = Before a key or a finger enters the nose
safe-pack-out = Pack out
safe-trigger-pressed = Trigger pressed once
safe-air-off = Air off and hose parted
safe-air-bled = Bled: trigger pressed until nothing moves
safe-pump-off = Pump off
safe-lines-zero = Both lines at zero
safe-couplers-parted = Couplers parted
field-pack = Battery pack
hint-pack = Look before you touch: swollen, wet, hot, dented or cracked is damaged.
pack-none = No pack came
pack-sound = Sound pack came
pack-damaged = Damaged pack came
lithium-energy = Nominal energy of the pack: { $wh } Wh.
lithium-small = At most 100 Wh: small-pack relief may apply to a parcel. Check the current rules before you ship.
lithium-large = Over 100 Wh: no small-pack relief. Check the current rules before you ship.
lithium-source = 49 CFR 173.185(c)(1)(i). Current transport rules and the maker's instructions come first.
lithium-damaged = A damaged pack: outdoors box at once. No charging, no air freight, no courier label by habit.
lithium-damaged-source = 49 CFR 173.185(f); PHMSA letter 24-0050. Current transport rules come first.
field-sold = Day of sale
sold-unknown = not known
field-first-used = First used
hint-first-used = The warranty runs from this day. Like 2026-11-24; leave it empty if no paper shows it.
field-due = Promised for
hint-date = Like 2026-11-24.
amend-summary = Put this right
field-amend-reason = Why it is put right
button-amend = Put it right

## Fault

fault-as-found = As found
fault-as-found-hint = Before anything is cleaned: cleaning and stripping destroy the evidence.
fault-no-energy = A symptom forbids putting energy on this tool. Only checks without energy, until it is mended.
fault-not-safe = Not tested as found:
not-safe-summary = Not safe to run
wear-new = New { $new } { $unit }
step-others = The worst of several; also { $readings }
found-joint = Joint as found: { $fastener }
found-joint-enter = Test: a joint, { $fastener }
found-joint-hint = With the nose set and the setting that the tool came with.
button-found-joint = Store the joint as found
field-not-safe = Why it is not safe to run
button-not-safe = Leave the as-found tests out
fault-causes = What it may be
cause-unlisted = Something not in the list
cause-why = What speaks for and against it (what each adds to its log-odds):
cause-action = What mends it:
why-worn = { $part } beyond its limit: { $share } probable, by the tool's counter and readings
why-there = { $what }
why-on-joint = seen on the joint: { $what }
why-not-there = not there: { $what }
why-yes = yes: { $what }
why-no = no: { $what }
why-for = for it, { $weight }: { $what }
why-against = against it, { $weight }: { $what }
check-next = Look at this next
check-worth = { $minutes } min, worth { $bits } bits. { $state }
check-saves = { $minutes } min. Saves { $saves } { $currency } on the mean against mending “{ $cause }” at once. { $state }
mend-next = Mend this next
mend-why = No check saves more than it costs. Expected until the tool works: { $cost } { $currency }.
causes-together = Likeliest together: { $causes }
evidence-odd = The evidence contradicts itself. This goes with the rest least: { $what }. Look at it again before you trust the ranking.
evidence-impossible = The evidence contradicts itself: no cause explains all of it. This stands against the rest: { $what }. Look at it again.
check-hands-first = Hands go in first: no energy on the tool until the part is in and hands are clear.
check-no-energy = Hands come near: no energy on the tool until the check is done.
check-energised = Energy on: eye protection, nobody behind or in line, fingers off the nose.
check-energised-oil = Energy on: eye protection, nobody behind or in line, fingers off the nose. Never feel for a leak with a hand: oil under pressure goes through the skin.
check-close-first = The tool lies open. Close it first, and say so above.
check-none = No check would tell more.
causes-more = { $count } more
check-out-of-time = The time to look further ahead was up: this is the best of what was reckoned until then.
check-have-ready = Have ready: { $parts }
check-beside = While you are at it
check-left-open = Left open
check-others = Other checks
check-answered = Checked
check-by-test = Read as found.
check-limit = { $name }: { $limits }
field-answer = Is it so: { $yes }?
check-question = { $check }: { $yes }?
said-yes = Yes
said-no = No
said-not-sure = Not sure
field-seen-note = What you saw
button-answer = Answer
fault-cleared = Cleared for dry cycles:
fault-lies-open = The tool lies open after “{ $check }”. Nothing runs it until every part is back and tightened.
button-closed-again = It is closed again
clear-energy-summary = Clear it for dry cycles
clear-energy-caution = Only somebody who may do so by the maker's instructions and the local code clears a tool. It allows checks with dry cycles, nothing under load, no test as found, no proof and no return: those wait for the first power-up after the mending.
field-clear-energy = What was looked at or done, so that it is safe
button-clear-energy = Clear it in my name
refuse-clear-reason = Write what was looked at or done, so that it is safe: three words at least.
refuse-sign-not-cleared = “{ $sign }” stands against it, too: look at it and tick it, or leave the tool without energy.
field-clear-signs = Looked at, each by itself
refuse-adjuster-note = “{ $test }” opens the adjuster, and no set-up says where it stands. Read its turns first, set it back there and lock it; write both into the note.
adjuster-note = No set-up says where the adjuster stands. Read its turns before this test opens it; afterwards set it back there, lock it, and write both into the note.
refuse-check-opened = The tool lies open, and this check needs it closed and with energy on. Close it first: the rebuild ends with the first power-up.
returned-not-renewed = On the quote and not renewed: { $parts }. Renew them, or revise the quote.
refuse-sign-open = “{ $sign }” forbade energy. Mend it or look at it, then tick it here before the tool runs.
field-signs-mended = Mended, or looked at and found whole
refuse-no-load = This tool is cleared for dry cycles only: nothing under load before it is mended and passed its first power-up.
fault-no-load = Cleared for dry cycles only: no check or test under load before it is mended.
refuse-nothing-to-clear = Nothing forbids energy on this tool now, so there is nothing to clear.
entry-closed-again = Closed again after a look into it
entry-energy-cleared = Cleared for dry cycles
field-symptoms-rest = The rest
symptoms-rest = The crew was asked for each: none of the others is there
hint-symptoms-rest = What is known not to be there speaks against causes, too.
refuse-answer = Pick yes, no or not sure.
state-record-only = Record only.
state-no-energy = No energy.
state-stripped = Stripped, no energy.
state-energised = Energy on, dry cycle.
state-loaded = Energy on, under load.
symptoms-summary = More symptoms
field-symptoms-there = Seen at the bench
field-symptoms-absent = Looked for and not there
hint-absent = Only what you really looked for: it counts as evidence.
button-symptoms = Note the symptoms
cause-heading = The cause
field-cause = Confirmed cause
hint-cause = Leave it empty if the tool has no fault, and say below what it was.
field-cause-second = Second cause, if there is one
field-cause-note = Remark
button-cause = Confirm
cause-confirmed = Confirmed cause
cause-none = No fault in the tool
cause-set-up-only = Set-up only: nothing is complained of
set-up-only-summary = Set-up only: nothing is complained of
set-up-only-hint = The tool came to be set for a fastener, not to be mended. No fault is looked for; price, set-up and bench proof are as always. If something fails there, note it here as a symptom.
button-set-up-only = Nothing is complained of
set-up-only-then = If something shows after all, note it as a symptom: then its cause is looked for.
rebuilt-set-up-only = Not stripped: set-up only. Plan a strip here if one is needed after all.
test-enter = Test: { $test }
test-again = Test again: { $test }
field-readings = Readings
field-reading = Reading
field-gauge = Gauge
gauge-under-pull = It stands under the full pull, up to { $needed } { $unit }: only gauges whose range goes that far are listed. The maker’s instructions for gauge and rig come first.
gauge-under-pull-none = It would stand under the full pull, up to { $needed } { $unit }, and no gauge of the shop reaches that. Do not load a smaller one: get one that does.
check-under-pull = The gauge stands under the full pull. Take one whose range goes up to { $needed } { $unit }.
gauge-choice = { $name } (due { $due })
gauge-choice-stale = { $name } (OUT OF DATE since { $due })
gauge-note = { $name }, due { $due }
gauge-note-stale = { $name }, out of date since { $due }: kept, not evidence
field-passed = Passed?
passed-yes = Passed
passed-no = Not passed
field-note = Remark
button-test = Store the test

## Agreed

warranty-heading = Warranty
warranty-proposal = Change it if you know better. Each verdict names its term and its evidence.
warranty-alone-covered = By the maker's terms alone: covered, as nothing on record ends it. Whether something voids it, you say.
warranty-alone-not-covered = By the maker's terms alone: not covered ({ $term }; { $evidence }).
warranty-alone-open = By the maker's terms alone nobody can tell ({ $term }; { $evidence }).
warranty-alone-mixed = By the terms alone the lines differ: each says which term decides, and why.
warranty-at-hand-summary = Evidence that the terms require
field-at-hand = At hand
field-without-reason = Covered without all of it: why
warranty-without = Judged covered without { $items }: { $reason }
warranty-terms = The terms
field-cover = Who pays?
cover-covered = Covered
cover-not-covered = Not covered
cover-cannot-tell = Cannot tell
cover-in-part = Covered in part
refuse-cover = Pick covered, not covered or cannot tell.
field-term = Term that decides
field-evidence = Evidence
field-evidence-entry = Shown by
evidence-photo = Photo of { $moment }: { $what }
evidence-entry = { $what }, { $moment }
evidence-struck = struck since
evidence-put-right = put right since
button-warranty = Judge the warranty
estimate-heading = Quote
estimate-after-warranty = Comes after the warranty.
estimate-proposal = From the cause, the model sheet's parts and minutes. Change what you know better.
estimate-labour = Labour, hours
estimate-net = Net
estimate-total = To pay
estimate-value = Value of the repair
estimate-covered = Paid under warranty
report-own-adjuster = Adjuster, from this tool's own past
report-one-reading = One reading with { $gauge }
report-spread = { $phase }: readings { $is } % apart.
report-earlier = Earlier results, superseded: { $outcomes }.
report-earlier-test = { $phase }, superseded: { $outcomes }.
report-adapter = Wrench showed { $shown }; { $arm } mm long, adapter { $offset } mm at { $angle }°
field-what = What
field-number = Number
field-count = Count
field-each = Each
field-sum = Sum
button-estimate = Store the quote
answer-heading = The customer's answer
answer-yes = Yes, do it
answer-no = No, return it as it is
field-yes = Answer
field-answer-name = Who answered
field-answer-on = Day
button-answered = Store the answer
quote-revision = Revision { $revision }
quote-valid = holds until { $day }
quote-changed = Changed against revision { $before }:
quote-ran-out = This quote ran out. Make a new revision before a yes is written down.
quote-option-work = Repair
quote-option-add-on = Renew the wear parts too
quote-option-instead = New tool
quote-kind-add-on = Along with the repair, never without it.
quote-kind-instead = In place of the repair. The tool goes back as it came.
quote-line-covered = under warranty
quote-discount = Discount { $percent } %: { $reason }
quote-tax = Tax
quote-sum = Sum
quote-bill-repair = To pay for the repair
quote-bill-accepted = To pay for what was accepted
quote-covered = The warranty pays { $sum } of the repair.
quote-revise = Change the quote
quote-revise-hint = This makes a new revision. The customer is asked anew: an answer holds for its own revision only.
button-revision = Store the new revision
paper-link-quote = Quote (PDF)
paper-link-revision = Revision { $revision } (PDF)
quote-earlier = Earlier revisions
quote-replaced = Replaced by revision { $by } on { $day }.
quote-in-force = Revision { $revision } holds now.
field-tax = Tax
field-tax-percent = Tax, %
field-discount = Discount on every line
field-discount-reason = Why
field-valid-until = Holds until
field-option-name = Name of the option
offer-add-on = Offer more work along with it
offer-instead = Offer something in its place
offer-yes = Offer it
field-answer-way = How it was said
way-counter = At the counter
way-telephone = By telephone
way-writing = In writing
field-answer-heard = To whom it was said
field-answer-at = Time of day
hint-time = Like 14:20. Needed by telephone.
answer-option = { $name }: { $due }
answer-due = { $due } due; the warranty pays { $covered }
answer-to = to { $name }
warranty-part = Part
warranty-labour = Labour
warranty-voided-summary = Something voids the maker's warranty
field-voided = Found on this tool
field-void-evidence = What was seen
warranty-whole-summary = One verdict for everything instead
warranty-whole-hint = Picked here, it takes the place of the lines above. Name its term and its evidence too.
claim-heading = To send with a claim
claim-missing = Missing inside: { $item } ({ $count } of { $of }). A claim without it may be refused.
claim-decided-by = Decides on the claim: { $who }
paper-link-claim = Warranty claim (PDF)
compare-heading = Repair or replace
compare-repair = Repairing costs { $repair } in the year to come, a new tool { $new } a year: repairing is no dearer.
compare-new = Repairing costs { $repair } in the year to come, a new tool { $new } a year: the new tool is cheaper.
compare-renewal = { $part }: { $left ->
    [one] 1 pull
   *[other] { $left } pulls
} of its life left; { $times ->
    [one] once
   *[other] { $times } times
} in the year, { $cost }
compare-life-repair = Over { $years } years, the life of a new tool, the repaired tool costs { $repair } a year, a new one { $new } a year: repairing is no dearer.
compare-life-new = Over { $years } years, the life of a new tool, the repaired tool costs { $repair } a year, a new one { $new } a year: the new tool is cheaper.
compare-beside-repair = What both tools cost alike left aside, over { $years } years, the life of a new tool, the repaired tool costs { $repair } a year, a new one { $new } a year: repairing is no dearer.
compare-beside-new = What both tools cost alike left aside, over { $years } years, the life of a new tool, the repaired tool costs { $repair } a year, a new one { $new } a year: the new tool is cheaper.
compare-price-offered = The repair counts with { $paid } and a share for come-backs; the new tool with { $price }, as this quote offers it.
compare-price-listed = The repair counts with { $paid } and a share for come-backs; the new tool with its list price of { $price }: this quote offers none.
compare-alike = Left aside, because both tools need it: { $cost } a year for renewing wear parts ({ $parts }).
compare-even = Both cost the same if the repaired tool lasts { $years } years more.
compare-part-counted = { $part }: { $left ->
    [one] 1 pull
   *[other] { $left } pulls
} left by the counter; renewals in these years: { $times } for { $cost } in the repaired tool, { $timesnew } for { $costnew } in a new one
compare-part-gauged = { $part }: { $left ->
    [one] 1 pull
   *[other] { $left } pulls
} left by its readings; renewals in these years: { $times } for { $cost } in the repaired tool, { $timesnew } for { $costnew } in a new one
compare-life-assumed = Before tax, without interest. By the counter { $pulls } pulls a year; what was never renewed here is as old as the tool; what the repair renews begins new.
compare-assumed = Before tax. By the counter { $pulls } pulls a year; the whole repair is put on this one year; what was never renewed here is as old as the tool.
send-summary = Send it to the maker
send-hint = Ends the job here. Look through the list before the parcel is closed.
field-sent = In the parcel
field-missing-seen = Missing parts
missing-seen-yes = I have read what is missing
field-pack-kept = Damaged pack
pack-kept-yes = It is not in this parcel
field-parcel = Parcel number
field-sent-to = Who takes the parcel
checked-parcel = I have checked the parcel against the list
button-send = Close the parcel and end the job
scrap-summary = Scrap it
scrap-caution = Take the energy away before the tool is broken up: pack out, or air and oil at zero. Springs stay loaded: follow the maker's instructions, and let nobody put it back to use.
scrap-lithium = Tape the terminals of the pack. Not into rubbish, crusher or fire: hand it to a collector of lithium cells, and follow local rules.
scrap-lithium-source = 40 CFR 273; Regulation (EU) 2023/1542; from memory
field-scrap-agreed = Who agreed for the owner
field-witness = Witness
field-pack-gone = What became of the lithium pack
pack-gone-collected = Handed to a collector of lithium cells
pack-gone-kept-apart = Kept apart, fire-safe, until it is collected
pack-gone-to-owner = Given back to the owner
checked-scrap = It is marked and made useless
button-scrap = Scrap it and end the job
ended-scrapped = Agreed to by { $name }; seen by { $witness }
ended-sent = Parcel { $parcel }, taken by { $name }
end-no-fault-found = No fault found
end-unrepaired = Returned unrepaired
end-new-tool = New tool taken, old one returned
end-scrapped = Scrapped
end-sent-to-maker = Sent to the maker
paper-link-note = Return note (PDF)
note-to = Handed to
note-agreed = Agreed for the owner
note-witness = Witness
note-pack = Lithium pack
note-parcel = Parcel
note-not-mended = The fault above was found and is not mended. Do not use the tool before it is.
means-no-fault = The tool did what its sheet asks for in the tests that the report names.
means-unrepaired = The customer did not want the repair. The tool goes back with the fault that it came with.
means-scrapped = The tool is not to be used again.
means-sent = The maker has the tool. What becomes of it is for the maker to say.

## Rebuilt

route-part = { $n }. { $part }
field-down-to = Reach this part
hint-down-to = Only what the sheet names comes off before it.
button-route = Lay out the steps
route-deeper = Reach other parts
route-also-summary = Further parts on the same route
field-also = Reach these too
route-needs = What this route takes
route-minutes = { $minutes } min hands-on
route-needs-off = Comes off, in this order
route-needs-tools = Tools
route-needs-hands = Left-hand threads
route-needs-goes-in = Goes on or in
route-consumable = { $name }, { $amount } ({ $at })
route-needs-renewed = Renewed because disturbed
route-needs-cautions = Cautions on the way
route-progress = { $done } of { $of } steps
step-make-safe = Make safe
make-safe-battery = Pack out, trigger pressed once. Keep the pack away from the bench.
make-safe-air = Air off at the source and bled, hose parted, trigger pressed until nothing moves.
make-safe-hydraulic = Pump off, both lines at zero, couplers parted.
step-undo = Undo { $joint } ({ $hand })
step-tighten = Tighten { $joint } ({ $hand })
step-turn-free = turn { $rotation } to free
step-turn-tight = turn { $rotation } to tighten
step-locking = lock: { $locking }
step-off = Take off { $part }
step-gauge = Measure { $part }: { $what }
step-new-size = New: { $size } { $unit }.
step-check = Check { $part }: { $what }
step-close = { $what }
step-from-tail = From the tail end.
step-from-side = From the side.
step-overridden = Outside its limits, let stand by { $name }:
step-redone = Before this tightening: { $what }
step-earlier = Before that:
step-minutes = { $minutes } min by the clock
step-clock-running = Clock runs since { $since }.
step-clock-stands = Clock stands at { $minutes } min.
step-clock-summary = Clock of this step
button-clock-on = Start the clock
button-clock-off = Stop the clock
step-adapter = Adapter { $offset } mm at { $angle }° (0° is in line). The wrench's own scale is not the joint's torque.
step-adapter-set = { $gauge }, { $arm } mm long: set { $set } N·m
step-adapter-other = Another wrench: type its length below and leave the reading empty; the answer says what to set.
field-arm = Length of the wrench
hint-arm = Middle of its drive to middle of its grip. Empty: as its sheet has it.
hint-adapter-reading = As the wrench shows it; the joint's torque is reckoned from it.
field-redone = Tightened again: what was done before
hint-redone = Joint undone, threads and faces looked at, screw or lock renewed.
field-override = Or who lets it stand as it is
hint-override = By name, with the reason below, and no new reading. It stays on the report as rejected.
field-override-reason = Why it may stand
field-file-step = At which step
step-clean = Wash, wipe, look at every part under a lamp
step-clean-caution = Blow-cleaning only below 30 psi, with chip guard and eye protection, never on people.
step-fit = Fit { $part }
step-fit-new = Fit the new { $part }
step-lubricant = { $name }, { $amount }
step-renew = Renewed whenever it was disturbed.
power-shield = Behind a shield, nose pointed away, nobody in line: connect the energy
power-dry-cycles = Dry cycles: runs free, no knock, no grind
power-release = Trigger let go in mid-stroke: it stops and stays safe
power-look-battery = Look again: no heat, no smell, nothing loose
power-look-oil = Look again: no leak, no hiss, nothing loose
step-power-caution = First energy after a rebuild. Eye protection, shield, hands clear.
axis-label = { $model } drawn apart along its axis, nose first
axis-parts = Parts by number
step-ahead = Do this and the plain steps before it
step-reason = Passed with a reason:
field-hold-reason = Or why it is passed without a good reading
field-worn-reason = Why the old one goes back in
button-step = Store
button-done = Done
replaced-heading = Parts renewed
replace-summary = Renew a part
field-part = Part
hint-number = Leave it empty for the sheet's number.
field-why = Why
field-unagreed = Who agreed to it, or why the shop pays
hint-unagreed = Asked for what no accepted option of the quote names: { $parts }. It stands on the report.
replaced-unagreed = { $reason }. Not in the accepted quote: { $who }
hint-part-counter = Leave it empty for the counter at receipt.
button-part = Store the part

## Set up

field-fastener = Fastener
field-code = Grip code
field-nose = Nose set
field-collet = Length of the collet
hint-collet = Measure it: look-alikes differ in length. May be left empty.
field-grip = Stack
button-fit = Fit
fit-again = Another fastener or nose set
set-up-for = For { $fastener }
code-of = code { $code }
match-fits = fits
match-fits-not = does not fit
match-unknown = undecided
match-count = { $met } of { $of } criteria
match-criterion = Criterion
match-numbers = Numbers
match-verdict = Met?
match-verdict-column = Verdict
match-yes = yes
match-no = no
match-open = not known
look-alike = Looks the same: { $number }.
look-alike-tell = Tell it by { $differs }: { $this } mm is right, { $that } mm is wrong.
look-alike-card = { $number }: { $differs } { $that } mm instead of { $this } mm. { $effect }
collet-measured = Collet measured: { $mm } mm
stick-out-drawing = Stick-out is measured from the sheet face to the end of the pin, sheets clamped tight
field-stick-out = Stick-out, three pins
hint-stick-out = Sheets clamped tight, head seated, no washer or collar left on. Enter goes to the next.
button-stick-out = Get the setting
stick-out-heading = Stick-out
setting-adjuster = Adjuster
setting-interval = Exact { $exact } turns ({ $low } to { $high }, about 95 %), rounded to what hands can set
setting-own = From { $set_ups } earlier { $set_ups ->
    [one] set-up
   *[other] set-ups
 } of this tool ({ $joints } joints). The sheet's table alone says { $table }.
setting-own-left-out = { $set_ups ->
    [one] One earlier set-up of this tool is left out
   *[other] { $set_ups } earlier set-ups of this tool are left out
 }: a part that moves the setting was renewed since, or the sheet states another adjuster now.
setting-own-not-in-table = { $set_ups ->
    [one] One earlier set-up of this tool is left out
   *[other] { $set_ups } earlier set-ups of this tool are left out
 }, or a part of it: its stick-out or stroke is not in the sheet's table any more.
setting-own-odd = { $set_ups ->
    [one] One earlier set-up of this tool is left out
   *[other] { $set_ups } earlier set-ups of this tool are left out
 }, or a part of it: it lies further from the table than a tool can. Something was misread or mistyped.
setting-own-not-set = This tool's own past asks for { $exact } turns ({ $low } to { $high }, about 95 %), where the adjuster may not stand. The turns above are the table's.
setting-own-far = This tool's past lies further from the table than tools of this model differ. Look at the nose stack, the fastener and the table before you turn that far.
setting-approach = Turn with { $key }. Go past it and come back, so that the last move { $effect }.
setting-caution-battery = Pack out and trigger pressed before a key or a finger enters the nose.
setting-caution-air = Air off and bled before a key or a finger enters the nose.
setting-caution-pump = Pump off, lines at zero and couplers parted before a key or a finger enters the nose.
setting-full = Full stroke
setting-force = By force
setting-force-why = Adjuster fully open: the pressure that is held ends the pull. Set that pressure, and let nothing raise it.
setting-full-why = This fastener parts its own tail: the stroke must only be long enough.
setting-none = Do not set
band-long = The stick-out is too long for this code.
band-short = The stick-out is too short for this code.
band-stack = It speaks for a stack of about { $mm } mm.
band-suits = Code { $code } is made for that. Is the wrong pin in the hole?
band-pins-differ = These pins differ too much to be one joint. One is not seated, or is another pin. Measure again.
band-suits-none = No code of this family is made for that.
band-find-out = Find out before you touch the adjuster.
field-stroke = Wanted stroke
button-stroke = Get the setting
joints-heading = Trial joints
joint-column = Joint
joints-workings = Gauges and workings
measure-again = Measure again
joint-number = Joint { $n }
joint-at = at { $turns } turns
joint-next = What next
joint-keep = Good. Keep the setting.
joint-another = Another trial joint
joint-proven = { $n } good in a row: with 95 % confidence at least { $percent } % of joints are good.
joint-again = Undecided: measure again, or set another joint at this setting.
joint-set = { $turns } turns
joint-conformity = Probability that it lies inside its limits: { $percent }
joint-percent = { $percent } %
joint-inside = of joints at { $turns } turns would lie within the limits: { $criterion }
joint-sign = Good. Sign the setting off.
setting-earlier = What the stick-out gave
joint-one-more = Set another joint at this setting.
joint-so-far = So far { $percent } % of joints at the last setting would be good; { $target } % is asked for. About { $further } more { $further ->
    [one] joint decides
   *[other] joints decide
 } it.
joint-steps-limit = The adjuster's steps are the limit: more joints hardly help. A step half as large would reach { $percent }.
joint-not-worth-it = No further joint would better that by more than it costs.
joint-after-bad = A joint at this setting was bad, and not by its stroke alone: { $need } good ones in a row are asked for after it, { $have } so far.
joint-coarse = The adjuster's steps are coarse for these limits: half a step would make it { $percent } % now.
joint-odd = Joint { $joints }: further off than joints, gauge and table explain. Read it again, and look at plates, pin and nose before you turn anything.
joint-edge = A look does not say where within the limits. This setting shows where they end.
joint-stop = Stop. Leave the adjuster alone.
joint-may-be = What this joint may come from
joint-look-next = Look at this next: { $check } ({ $minutes } min)
came-without = Not all came with the tool: { $items }. What catches tails or keeps hands away is there before it runs.
test-spread = The readings lie { $is } % apart; at most { $most } % is allowed.
joint-caution = Eye protection, collector fitted, nobody behind or in line. Fingers off the fastener. Scrap plates of the customer's thickness and coating.
field-turns = Adjuster stood at
hint-turns = Turns from zero, like 6 1/2 or 6.5.
field-seen = What the joint looks like
hint-seen = Torn lock grooves and torn pull grooves call for opposite corrections. Look which.
seen-good = Good
seen-under = Under: too little formed, shoulder left
seen-cut = Collar base cut or crushed
seen-lock-grooves = Lock grooves torn: too much stroke
seen-pull-grooves = Pull grooves torn or polished: the collet slips
seen-off-axis = Off axis
seen-gap = Sheets apart
seen-marked = Collar scored
seen-broke-low = Pin parted low
seen-stub-proud = Stub proud
look-nut-under = Under: too little formed, it turns or sits loose
look-nut-over = Over: too much formed, thread tight or sheet buckled
look-rivet-under = Under: blind head small, split or off the sheet
look-rivet-slips = Mandrel polished: the jaws slip
look-rivet-early = Mandrel parted early
hint-seen-plain = Look at both sides, where you can.
button-joint = Store the joint
sign-off-heading = Sign the set-up off
sign-off-count = { $have } good in a row at this setting; the shop asks for { $need }.
field-locked = Adjuster
locked-yes = Locked and paint-marked
field-fewer = Why fewer will do
button-set-up-done = Sign off
signed-off = Signed off
signed-off-at = at { $turns } turns.
signed-off-inside = Probability of a good joint: { $percent }.
paper-link-card = Set-up card (PDF)
paper-link-care = Care sheet for the crew (PDF)
paper-link-label = Label for the tray (PDF)

## Proved

as-found = As found
as-left = As left
proof-caution = Tests pull at full force. Eye protection, nobody behind or in line, rig guard closed.
field-undecided = Undecided as left: { $tests }. Why may the tool go back all the same?
card-holds-less = For a stick-out of { $mm } mm. Each millimetre more: { $turns } turns less.
card-holds-more = For a stick-out of { $mm } mm. Each millimetre more: { $turns } turns more.
field-pressure = Pressure at stall
hint-pressure = Trigger held, read on the gauge.
field-open = Adjuster
open-yes = Fully open: the pressure ends the pull
field-pressure-stands = Pressure
pressure-stands = Back at { $bar }, read at stall, trigger held
field-adjuster-stands = Adjuster
tests-before-set-up = Before the set-up: tests that open the adjuster
tests-before-set-up-hint = Made now, they count for the proof, and the adjuster stays locked once it is set.
adjuster-stands = Still at { $turns } turns, locked, paint mark whole
proof-stands = The proof stands.
button-proof = Sign the proof off

## Returned

check-heading = Check the answers
check-change = look
check-customer = Customer
check-serial = Serial
check-parts = Parts renewed
check-setting = Setting
check-tests = Bench tests
check-tests-count = { $done } made, { $undecided } undecided
check-tests-doubted = { $doubted } in doubt
readings-in-doubt = Readings in doubt. Test again with a good gauge before the tool goes to work.
result-in-doubt = In doubt: what throws it stands below.
returned-doubted = Readings were in doubt when it went back:
returned-doubted-why = Handed back all the same:
returned-doubted-since = Readings in doubt that were not told when it went back. Tell whoever has the tool, and test it again.
field-return-doubt = Why does the tool go back although readings are in doubt?
field-return-doubt-hint = Three words or more. It stands on the service report, with your name.
refuse-return-doubt = { $what } Test again with a good gauge, or write in three words or more why the tool goes back all the same.
check-struck = Entries struck
field-with = Goes back with it
field-to = Who takes it
field-checked = Checked
checked-yes = I have checked the answers above
button-return = Hand back and issue the papers
returned-to = Handed to { $name }
paper-link-report = Service report (PDF)
report-came = { $item }: { $count }
report-came-short = { $item }: { $count } of { $of }
report-declined = The customer declined the repair.

## Record

strike-summary = Strike
field-strike-reason = Why it no longer counts
button-strike = Strike this entry
struck-summary = { $count ->
    [one] One entry struck
   *[other] { $count } entries struck
}
history-summary = Record: { $count ->
    [one] one entry
   *[other] { $count } entries
}
entry-tool-registered = Tool registered
entry-sheet-revised = Sheet loaded
entry-sheet-withdrawn = Sheet withdrawn
entry-received = Received
entry-receipt-amended = Receipt put right
entry-symptoms-noted = Symptoms noted
entry-bench-test-read = Bench test
entry-found-joint-read = Joint as found
entry-not-safe-to-run = Not safe to run
entry-check-answered = Check answered
entry-cause-confirmed = Cause confirmed
entry-warranty-judged = Warranty judged
entry-estimate-made = Estimate made
entry-customer-answered = Customer answered
entry-route-planned = Route planned
entry-torque-stands = Wrong torque let stand
entry-fit-stands = Wrong fit let stand
entry-clock-on = Clock started
entry-clock-off = Clock stopped
entry-step-done = Step done
entry-part-replaced = Part renewed
entry-fitted = Fastener and nose set
entry-stick-out-read = Stick-out
entry-trial-joint-read = Trial joint
entry-set-up-signed-off = Set-up signed off
entry-proof-signed-off = Proof signed off
entry-stage-skipped = Stage left out
entry-waiting = Waits
entry-resumed = Goes on
entry-struck = Struck
entry-returned = Returned

## Lists

bench-title = On the bench
bench-receive = Receive a tool
bench-all = Ended jobs too
bench-open-only = Open jobs only
bench-empty = Nothing on the bench.
find-title = Find
find-nothing = Nothing found for “{ $text }”.
find-receive = Receive a tool with this serial
list-pages = Pages of this list
list-previous = The 200 before
list-next = The next 200
tools-title = Tools
tools-empty = No tool has been here yet.
tools-no-cards = No set-up card is in force.
tools-cards = Set-up cards in force, one file
tools-last = Last job
tool-jobs = Jobs
sheets-title = Sheets
sheets-hint = Load or change sheets with "setwright sheets load FILE". A job keeps the revision that it was worked to.
sheet-revision = revision { $n }
sheet-withdrawn = Withdrawn: new jobs cannot pick it.
kind-tool-model = Tool models
kind-fastener = Fasteners
kind-nose-set = Nose sets
kind-gauge = Gauges
kind-fault-model = Fault model
kind-shop = Shop
kind-rig = Rig
gauges-title = Gauges
gauges-empty = No gauge is loaded. Load gauge sheets with "setwright sheets load".
gauges-name = Gauge
gauges-kind = Kind
gauges-range = Range
gauges-doubt = Uncertainty
gauges-due = Due
gauges-state = State
gauge-in-date = in date
gauge-stale = out of date
gauge-caliper = caliper
gauge-micrometer = micrometer
gauge-depth = depth gauge
gauge-plug = plug gauge
gauge-feeler = feeler
gauge-load-cell = load cell
gauge-pressure = pressure gauge
gauge-torque = torque wrench
gauge-timer = timer
gauge-spring = spring tester
gauge-ammeter = ammeter
gauge-flow = flow meter
gauge-scale = scale
gauge-displacement = displacement sensor

## Forms sent twice

form-repeated = This form was stored before; nothing was stored now.
