# What the rules of the shop say: refusals, reasons, advice.

# Values in a working.
given-open-now = how open the question is now (entropy of the causes)
given-chance-of-yes = chance of a yes
given-open-after-yes = how open it is after a yes
given-open-after-no = how open it is after a no
given-stick-out = mean stick-out
given-stroke = wanted stroke
given-row = row { $row } around it
given-table-doubt = expanded uncertainty of the table
given-step = step that hands can set
note-fault-basis = Up to three faults at once; "something not in the list" is always a candidate. Rates: { $basis }; their odds are scaled by { $at_once }, because most complaints have one cause.
note-setting-table = Straight line between the sheet's rows. Outside the table there is no setting.
note-setting-moved = The nearest step lies beyond the stroke limits or the travel: the next one is taken.

# Gauges.
gauge-pick = Pick the gauge that took the readings.
gauge-unknown = There is no gauge "{ $gauge }" in force. Pick one from the list.
gauge-wrong-kind = { $gauge } cannot take this reading ({ $unit }). Pick one from the list.
gauge-short-of-pull = { $gauge } reads { $min } to { $max } { $unit }. In “{ $test }” it would stand under the full pull, up to { $needed } { $unit }. Do not load it: take a gauge whose range goes up to that.
gauge-out-of-range = { $gauge } reads { $min } to { $max } { $unit }; { $value } is outside. Check the reading or take another gauge.

# Receiving.
receive-serial-missing = Enter the serial from the plate.
receive-serial-unknown = No tool with serial { $serial } has been here. Mend the serial, or tick that it is new to this shop.
receive-other-model = This serial is on record as model { $model }. Pick that model, or tick that the tool is new to this shop.
receive-already-here = This tool is on the bench already: job { $job }. Open that job.
receive-complaint-missing = Write the complaint in the customer's words.
receive-customer-missing = Enter the customer.
receive-model-missing = Pick the model from the plate.
receive-no-fault-model = No fault model is loaded. Load one with "setwright sheets load".
receive-no-shop = No shop card is loaded. Load one with "setwright sheets load".
receive-not-safe = Make the tool safe and tick each line before you take it in.
receive-pack-not-battery = This model has no battery pack. Pick "no pack".
receive-pack-came = { $item }: { $count } counted. Pick the state of the pack, or mend the count.
receive-pack-counted = { $count } counted, and "no pack" picked below. Mend one of them.
receive-pack-none-came = A state is picked, but no { $item } counted. Mend one of them.
receive-pack-not-counted = Count the packs: a state of the pack is picked below.
receive-counter-fell = The counter reads { $counter }; at the last visit it read { $was }. A counter does not count down: if it is mistyped, put it right.
receive-counter-anew = If the counter was changed or set back, tick that here and write why below.
receive-counter-reason = Write what was done to the counter, and who says so.
receive-counter-not-ticked = A reason is written. Tick that the counter began anew, or clear the reason.
receive-sold-later = The day of sale lies in the future. Check the date on the bill.
receive-first-used-later = The day of first use lies after today, { $today }. Check the date on the paper.
receive-first-used-early = The day of first use lies before the day of sale, { $sold }. Check both dates.
receive-due-past = The promised day lies in the past. Enter today or later.

# Anything.
refuse-returned = This job has ended. Strike the return first if it was a mistake.
refuse-declined = The customer said no. Hand the tool back as it came, or strike the answer first.
refuse-not-yet = Finish the stage before this one first.
refuse-no-sheet = The sheet that this job is worked to cannot be found. Run "setwright verify".
refuse-reason = Write the reason.
refuse-who = Pick your name.

# Fault.
refuse-symptom = The fault model has no symptom "{ $symptom }".
refuse-symptom-both = "{ $symptom }" cannot be there and not there. Pick one.
refuse-no-symptom = Tick at least one symptom as there or not there.
refuse-no-test = The model sheet has no bench test "{ $test }".
refuse-as-found-late = The strip or the set-up has begun, so nothing can be tested as found any more.
refuse-no-energy = This tool is not safe to run, or a symptom forbids it. No energy until it is mended and has passed its first power-up.
refuse-lies-open = The tool lies open after “{ $check }”. Put every part back, tighten it, and say at the fault that it is closed again.
refuse-not-lying-open = The tool does not lie open after a look into it.
refuse-check-beside = { $check } is not looked at in one go with this check. Answer it by itself.
refuse-no-check = The fault model has no check "{ $check }".
refuse-no-cause = The fault model has no cause "{ $cause }". Pick one from the list.
refuse-beyond-new = { $value } { $unit } is no wear: new it is { $new } { $unit }. Measure again, at the place that the sheet names.
refuse-not-clamped = Clamp the sheets tight and measure again, then tick it: a gap between them reads as less stick-out.
refuse-one-pin = Measure at least two pins, better three: one says nothing of how far they differ.
refuse-unlisted-note = Say what the cause was.
refuse-no-fault-note = Say what it was, if not a fault in the tool.
refuse-cause-known = The cause is confirmed already. Strike that entry first.
refuse-set-up-only-opened = The tool has been opened: a cause is known, or is still to be found.
refuse-set-up-only-not-safe = The tool was found not safe to run. That is a fault: find its cause.
refuse-set-up-only-symptom = Something is complained of: { $symptom }. Find its cause; if it was noted by mistake, note it as looked for and not there.
refuse-set-up-only-found = A test or joint as found failed, or a check was answered yes. Find the cause.
refuse-as-found-first = Test the tool as found first, or write why it is not safe to run. Cleaning and stripping destroy the evidence.
refuse-no-reading = Enter the readings.
refuse-too-few-readings = { $have } { $have ->
    [one] reading
   *[other] readings
} entered; this test asks for { $need }.
refuse-no-look = Pick passed or not passed.

# Agreed.
refuse-term = Name the warranty term that decides.
refuse-voided-unknown = Pick from the conditions of the model sheet.
refuse-void-evidence = Write down what was seen that voids the warranty.
refuse-at-hand = Pick from the evidence that the model sheet asks for.
refuse-without = Covered asks for evidence that is not at hand: { $items }. Tick what is, write why it is covered without, or pick cannot tell.
refuse-cover-voided = What voids the warranty was found: it is not covered, or cannot be told.
refuse-cover-lines = The lines say otherwise. Change the lines, or pick no verdict for everything.
refuse-evidence = Name the evidence that the verdict rests on.
refuse-evidence-entry = This entry is no evidence of this job, or was struck. Pick one of the list.
refuse-no-lines = Enter at least one line.
refuse-line-what = Say what this line is for.
refuse-line-count = Enter how many, above 0.
refuse-line-each = Enter a price of 0 or more.
refuse-part-unagreed = No option that the customer accepted names { $part }. Write who agreed to it and when, or why the shop pays for it.
refuse-part-number = No sheet has a part { $number }. Read the number again, or leave it empty for the one of the sheet.
refuse-line-number = No sheet has a part { $number }. Check the number, or leave it empty and name the part.
refuse-line-tax = Enter a tax from 0 to 100 %, or leave it empty for the shop's.
refuse-option-name = Name this option.
refuse-option-kind = The repair comes first, and each kind of option once.
refuse-option-empty = Enter at least one line for this option, or do not offer it.
refuse-option-unknown = This line belongs to no option. Options are 1, 2 and 3.
refuse-valid-past = Enter today or a later day.
refuse-discount-percent = Enter a discount above 0, at most 100 %, or no reason.
refuse-discount-reason = Say why there is a discount.
refuse-warranty-first = Judge the warranty first: the customer must know who pays.
refuse-estimate-first = Make the estimate first: the customer says yes to a price.
refuse-yes-or-no = Pick yes or no.
refuse-answer-name = Enter the name of the person who answered.
refuse-no-while-open = The tool is open. Agree on a price for closing it, rebuild it and power it up; then write the no down.
refuse-answer-date = Enter the day of the answer.
refuse-answer-heard = Enter who took the call.
refuse-answer-day = Enter a day from { $from }, when the tool was taken in, to { $until }, which is today.
refuse-answer-later = That time is still to come. Today enter one from 00:00 to { $until }, or put the day right.
refuse-answer-time = Enter the time of the call, like 14:20.
refuse-answer-revision = That was the answer to revision { $answered }. The quote is at revision { $now }: ask again.
refuse-add-on-alone = This goes along with the repair only. Pick no here, or yes to the repair.
refuse-both = This takes the place of the repair. Pick one of the two.
refuse-quote-ran-out = The quote held until { $until }. Make a new revision first.
quote-tax-changed = Tax on the shop card was { $kept } % at this quote and is { $now } % now. This quote keeps its own; a new revision takes the new one.

# What a revision of a quote changed.
change-none = Nothing.
change-line-added = Added: { $what }
change-line-gone = Left out: { $what }
change-line-name = { $was } is now { $what }
change-line-count = { $what }: { $is } instead of { $was }
change-line-each = { $what }: { $is } each instead of { $was }
change-line-tax = { $what }: another tax
change-option-new = New option: { $name }, { $sum }
change-option-gone = No longer offered: { $name }
change-option-name = Option renamed: { $name }
change-discount = Discount { $is } % instead of { $was } %
change-discount-reason = Another reason for the discount
change-tax = Tax { $is } % instead of { $was } %
change-currency = { $is } instead of { $was }
change-valid = Holds until { $day }
change-note = Another remark

# Warranty.
term-complete = the claim needs the tool whole, with its internal parts
term-pulls = up to { $limit } pulls
term-months = { $months } months from sale
term-months-first-use = { $months } months from first use
term-cause = a defect in the tool, not wear or misuse
term-defect = a defect in material or making
term-wear = parts that wear are not covered
term-own-repair = our own repair: { $months } months
term-own-repair-pulls = our own repair: { $months } months and { $pulls } pulls
term-labour = labour goes with the parts
evidence-own-repair = renewed in job { $job }, returned { $day }
evidence-own-repair-pulls = renewed in job { $job }, returned { $day }, { $since } pulls ago
evidence-own-no-counter = renewed in job { $job }, returned { $day }; the counter does not tell the pulls since
evidence-own-counter-anew = renewed in job { $job }, returned { $day }; the counter began anew since (job { $anew }) and does not tell the pulls
evidence-labour-covered = every part is covered
evidence-labour-not-covered = no part is covered
evidence-labour-mixed = not every part is covered, or one cannot be told: ask who decides
evidence-missing = missing at receipt: { $items }
evidence-counter = counter at receipt: { $counter }
evidence-no-counter = the pull counter was not read
evidence-counter-anew = the counter began anew (job { $job }); it does not show all pulls
evidence-counter-was = counter before it began anew (job { $job }): { $was }
evidence-no-sale = no paper shows the day of sale
evidence-no-first-use = no paper shows the day of first use
evidence-sold = sold { $sold }, covered until { $until }
evidence-first-used = first used { $used }, covered until { $until }
evidence-no-cause = the cause is not known yet
evidence-no-part = no part of the tool is at fault
evidence-cause-unlisted = the fault model does not list this cause
evidence-part-unlisted = the model sheet lists no part for this cause
evidence-in-time = within time and pulls, complete, and the part is not one that wears
evidence-wear = the cause is in { $parts }

# Rebuilt.
refuse-no-route = Choose first how far the tool is stripped.
refuse-route-leaves-off = { $part } is off the tool. Choose a route that fits it again.
refuse-rebuild-done = The rebuild is done. Plan the strip anew to open the tool once more.
refuse-no-part = Pick a part of this model.
refuse-not-on-route = { $part } stays on the tool on this route. Plan a route that takes it off.
refuse-no-step = This route has no step "{ $step }".
refuse-hold-before = Another step comes first: { $step }. Take its reading or look, or write why it is passed without.
refuse-hold-reading = Take the reading, or write why the hold is passed without it.
refuse-hold-rejected = The last reading was outside its limits. Set it right and read it again.
refuse-torque-rejected = The last tightening was outside its limits. Undo the joint, put it right and tighten it again; or a named person lets it stand, with a reason.
refuse-redone = The last tightening was outside its limits. Write what was done before this one: joint undone, threads and faces looked at, screw or lock renewed.
refuse-override-reading = A new reading, or the name of who lets the last one stand: not both. Clear one of them.
refuse-override-nothing = There is no rejected torque or fit here to let stand. Leave the name out.
refuse-override-fit-reason = Write why this fit may stand, and what was looked at.
refuse-fit-rejected = The last reading was outside its limits. Put the fit right and read it again; or a named person lets it stand, with a reason.
refuse-override-reason = Write why this torque may stand, and what was looked at.
refuse-arm = This joint needs an adapter, and the sheet of this wrench does not give its length. Type the length, middle of the drive to middle of the grip, in mm.
refuse-arm-range = { $value } mm cannot be the length of a wrench. Type { $min } to { $max } mm, middle of the drive to middle of the grip.
refuse-adapter-read = Wrench of { $arm } mm with the adapter: set { $set } N·m on its own scale, tighten, then type what it showed.
refuse-clock-runs = The clock of this step runs already.
refuse-clock-stands = The clock of this step does not run.
refuse-worn = { $part } measured beyond its limit. Renew it, or write why it goes back in.
refuse-renew = { $part } is renewed whenever it was disturbed. Write the new one down under "Renew a part", or write why the old one goes back in.
refuse-wrench-not-left = This joint is left-hand: { $gauge } is not calibrated counter-clockwise. Take one that is.
refuse-wrench-not-right = This joint is right-hand: { $gauge } is not calibrated clockwise. Take one that is.
refuse-cannot-skip = This stage cannot be left out.
refuse-skip-fitted = A fastener was fitted. Finish the set-up with its sign-off.
refuse-skip-opened = The tool has been opened. Finish the rebuild with its first power-up.

# Nose match.
match-thread = front-end thread
match-groove = groove form
match-pitch = pitch
match-grip = collet length on the pull section
match-size = fastener size
match-throat = anvil throat against the collar
match-force = force
match-setting = setting in the model sheet
match-two = { $nose } on { $other }
match-two-mm = { $nose } mm on { $other } mm
match-plain = plain jaws on a plain shank
match-missing = a size is missing from the sheet
match-range = { $min } to { $max } mm takes { $other } mm
match-within = { $nose } mm inside { $min } to { $max } mm
match-force-detail = needs { $needs } kN of { $bears } kN
match-setting-known = the sheet says how to set it
match-setting-none = the sheet does not say how to set it
groove-round = round
groove-vee60 = V 60°
groove-buttress = buttress
groove-plain = plain
groove-thread = thread

# Set up.
refuse-fit-first = Choose fastener and nose set first.
refuse-pick-fastener = Pick the fastener.
refuse-pick-nose = Pick the nose set.
refuse-code-pick = Pick the grip code of { $fastener }: { $codes }.
refuse-code = { $fastener } has no grip code "{ $code }". Its codes: { $codes }.
refuse-nose = { $nose } does not fit { $fastener } on this tool. The reasons stand in the list below.
refuse-look-alike = This is { $wrong }, not { $right }: { $is } mm long instead of { $should } mm. { $effect }
refuse-collet-length = { $right } is { $should } mm long; this one measures { $is } mm. Find out which collet it is before you pull.
refuse-no-stick-out = Enter the stick-out of at least two pins, better three.
refuse-stick-out-says-nothing = Stick-out says nothing with this fastener.
refuse-gauge-stale = { $gauge } is out of calibration, so a setting cannot rest on it. Take one that is in date.
refuse-not-by-stroke = This fastener is not set by stroke.
refuse-stroke-range = { $value } mm is outside what the fastener allows: { $min } to { $max } mm.
refuse-between-steps = No step that hands can set lies within the limits and the travel. Check the adjuster's step on the model sheet, or choose another stroke.
refuse-out-of-table = Outside the model sheet's table, which runs from { $min } to { $max } mm.
setting-undecided = The stick-out lies so near an end of the band that its uncertainty reaches over it. Measure more pins, or take a better gauge.
refuse-setting-first = Get a setting from an in-band stick-out first.
refuse-turns = Enter the turns that the adjuster stood at.
refuse-turns-range = { $value } turns is outside the adjuster's travel: 0 to { $max } turns.
refuse-set-up-stands = The set-up is signed off. Strike the sign-off first, or choose fastener and nose set anew.
refuse-seen = Pick what the joint looks like.
refuse-last-joint = The last trial joint is not good. Set another one that is.
refuse-joints-in-a-row = { $have } good in a row at this setting; the shop asks for { $need }. Set more, or write why fewer will do.
refuse-not-open = Open the adjuster fully, so that the pressure ends the pull, then tick it.
refuse-pressure = Enter the pressure that the gauge shows at stall, trigger held.
refuse-pressure-range = { $value } bar is outside { $min } to { $max } bar, where this fastener's force surely lies. Set the regulator, and read the gauge at stall.
refuse-no-joint = { $typed } mm is far beyond the limit of { $upper } mm: no joint measures that. Read it again, and check the digits.
refuse-stop-unexplained = The last joint stopped the set-up. Write down what was found and done about it.
refuse-not-locked = Lock and paint-mark the adjuster, then tick it.

# Trial joints.
joint-collet-slips = Pull grooves torn: the collet slips. Look at its teeth and whether it is the right one. Leave the adjuster alone: less stroke would hide it, not mend it.
joint-off-axis = Off axis: hold the tool square, check the nose nut and the anvil's throat. Leave the adjuster alone.
joint-gap = Sheets apart: clamp and deburr, check the grip code. Leave the adjuster alone.
joint-anvil-galled = Collar scored: look into the anvil's bore. Leave the adjuster alone.
joint-broke-low = Pin parted low: check the grip code and the carton, then the stroke against the table. Leave the adjuster alone until then.
joint-stub-proud = Stub proud: worn teeth or the wrong grip code. Leave the adjuster alone.
joint-contradicts = The findings contradict each other: one wants more stroke, one less. Measure again before you turn anything.
joint-full-stroke = This fastener is set at full stroke, so the adjuster is not the cause. Check nose set, grip code and the tool's stroke.
joint-more-pressure = Too little formed. The pressure ends this pull: read the gauge at stall, trigger held, and raise it inside its limits. Then look at grip code, draw mandrel and gap.
joint-less-pressure = Too much formed. The pressure ends this pull: read the gauge at stall, trigger held, and lower it inside its limits. Then look at the grip code.
joint-not-the-stroke = { $criterion } is not a matter of stroke: check grip code and gap, then the anvil with its no-go plug.
joint-no-criterion = The fastener sheet has no criterion "{ $criterion }".
joint-adjuster-at-end = The adjuster is at its end. The nose stack, the fastener or the table is wrong.
joint-far-from-table = More than { $turns } turns from the table. Stop: the nose stack, the fastener or the table is wrong.

# Proved and returned.
refuse-proof-stands = The bench proof is signed off. Strike the sign-off first.
refuse-test-missing = "{ $test }" has not been made yet.
refuse-test-rejected = "{ $test }" is outside its limits. Mend it and test again.
refuse-undecided-reason = Undecided as left: { $tests }. Test again, or write why the tool may go back all the same.
refuse-to-whom = Enter who took the tool.
refuse-scrap-agreed = Enter who agreed to it for the owner.
refuse-witness = Enter who saw it scrapped.
refuse-witness-other = The witness is somebody else than the one who writes it down.
refuse-pack-gone = Pick what became of the pack.
refuse-pack-to-owner = A damaged pack goes to a collector or stays apart, fire-safe: not to the owner.
refuse-send-open = The tool is open. Rebuild it and power it up first.
refuse-send-warranty = Judge the warranty first: the claim says what is sent.
refuse-parcel = Enter the number of the parcel.
refuse-sent = Tick what lies in the parcel.
refuse-missing-seen = Missing: { $items }. Find it, or tick that you have read it.
refuse-pack-kept = Take the damaged pack out of the parcel, then tick it.
refuse-return-not-safe = A symptom that forbids energy was seen. Strike the proof, mend the tool and prove it anew, or rule the symptom out.
refuse-not-checked = Check the answers above, then tick that you did.
refuse-not-waiting = This job is not waiting.
refuse-struck-already = This entry is struck already.
refuse-return-stays = Came with the tool and is not ticked: { $items }. Tick it, or write where it is.
refuse-strike = Later work stands on this entry. Strike that first.

# Hands.
refuse-hands-at-risk = Before a key or a finger enters the nose, make the tool safe and tick each line.
refuse-unread = The last joint was not read for: { $criteria }. Read one joint for every limit of the fastener sheet.
refuse-far-from-table = The adjuster stands more than { $turns } turns from the table. Find out why, and write it down.

# Labour.
given-part-minutes = minutes of the parts on the way, from the model sheet
given-bench-minutes = minutes for receiving, proof and paper
given-sheet-as-jobs = jobs that the sheet's minutes count as (common practice, no source)
given-own-times = times taken here, by the clocks of jobs that have ended
note-labour = Rounded up to the hundredth of an hour.
note-labour-task = { $task }: { $sheet } min by the sheet, { $mean } min on average in { $count ->
    [one] one job
   *[other] { $count } jobs
} here; taken as { $taken } min.
note-labour-left-out = { $task }: { $count ->
    [one] one time is
   *[other] { $count } times are
} left out, more than { $most } times the sheet's minutes: the clock was left running.
refuse-pressure-moved = The tests were made at the tool's own pressure. Set it back to that of the set-up, read the gauge at stall, then tick it.

# Repair or replace.
compare-no-history = Repair or replace cannot be told: it takes two counter readings, or the day of sale and one, at least { $days } days apart.
compare-counter-anew = Repair or replace cannot be told: the pull counter began anew in job { $job }, so nobody knows how many pulls the wear parts have made.
given-repair-paid = what the customer pays for the repair, before tax
given-wear-year = renewals of other wear parts within the year
given-done-again = share of repairs that are done again (common practice, no source)
given-price-new = price of a new tool: as the quote offers it, else from the model sheet
given-life-years = life of a new tool, years, from the model sheet
given-come-backs-stated = repairs done again (common practice, no source: fewer than { $jobs } closed jobs tell)
given-come-backs = repairs that are done again
given-come-backs-own = repairs after which the tool came back, by the shop’s own closed jobs
given-of-repairs = of so many repairs
given-horizon-years = years over which both are reckoned: the life of a new tool, from the model sheet
given-renewals-alike = renewals that both pay alike
given-pulls-a-year = pulls a year, by the counter
given-renewals-repaired = renewals of wear parts in the repaired tool in these years
given-renewals-new = renewals of the same parts in a new tool, which begin new
note-compare-years = Amounts in { $currency }, before tax, without interest. Beside its wear parts the repaired tool is taken to last as long as a new one; H is how long it must last for both to cost the same.
note-compare-parts = A part that was gauged goes by its readings, else by the counter; one that was never renewed here is as old as the tool.
note-compare-year = Amounts in { $currency }, before tax. The whole repair is put on the one year to come.
note-compare-wear = { $pulls } pulls a year by the counter; a part that was never renewed here is as old as the tool.
refuse-adjuster-moved = Look at the adjuster: its setting, its lock, the paint mark. If all stand, tick it; if it was moved, set the tool up again.
refuse-adjuster-stands = { $test } opens the adjuster, which stands at { $turns } turns with joints set by it. The lock stays. If the test must be made, make the set-up again: strike its sign-off, fit anew, and make the test before the first joint.
refuse-look-alike-part = { $number } only looks like the right part. { $effect } Take the right one.
joint-steps-too-coarse = Only { $percent } % of joints would be good: the adjuster's steps are too coarse for these limits. A step half as large would make it { $finer } %. Set it between the steps, or write down why it stands.
joint-spread-too-wide = Only { $percent } % of joints would be good: they differ by { $spread } mm (standard deviation), too much for these limits. Look at nose, collet, plates and pins.
refuse-joint-first = The stick-out was read after the last joint. Set one at the new setting first.
refuse-probability = The probability of a good joint is { $have } %, { $need } % is asked for. About { $further } more joints decide it. Or say why the setting stands.
joint-stroke-limit = That stroke lies outside what the fastener allows. Check the fastener, the sheet and the nose before you turn anything.
