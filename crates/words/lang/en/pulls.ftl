# Recorded pulls: at the job, on their page, on the report, at the prompt.

refuse-pulls-no-file = The recording is not attached to this job. Send it again.
refuse-pulls-calibrated-since = A gauge of the rig was calibrated, or its calibration struck, while the recording was being read. Look at the numbers again, then send again.
refuse-pulls-again = Pulls of this recording count already here. Strike that entry first, with a reason.
refuse-no-rig = There is no rig { $rig }. Pick one of the list, or none.
refuse-pulls-fastener = There is no such fastener. Pick one of the list, or none for pulls to stall.
refuse-pull-unread = Pull { $number } cannot be read. Leave its tick out.
refuse-pulls-none = Tick at least one pull. Without one nothing is taken from the recording.
refuse-pulls-other-fastener = The tool is set up for { $name }. Pick what was pulled, or write why pulls of another fastener are taken.
refuse-pulls-spoiled = What is wrong in pull { $pulls } lets its numbers decide nothing. Untick it, or write why it is taken all the same.
refuse-pulls-rejected = Pulls of { $name } are rejected. Mend the tool and record again, or strike them with a reason.

## What is read from a pull

feature-peak = Peak
feature-break = Break load
feature-take-up = Take-up force
feature-plateau = Force of the form
feature-stiffness = Stiffness
feature-stroke = Stroke
feature-energy = Energy
feature-release = Release load
feature-cycle = Cycle
feature-return = Return
feature-hold-loss = Hold loss in 60 s
feature-slips = Slips
feature-slip-size = Mean size of the slips
feature-stick-slip = Stick-slip
feature-stick-slip-size = Mean size of stick-slip
feature-hysteresis = Energy not given back

meaning-break = Too low: the tail parted early, look at the break-neck and the anvil. Too high: look at the fastener's lot.
meaning-stiffness = Soft: look for air in the oil.
meaning-release = Hard to come off: look at the anvil's bore for galling.
meaning-hold-loss = The force is not held: look at the seals and the release valve.
meaning-slips = The jaws slipped: look at the collet's teeth, the follower and the film.
meaning-friction = More friction than before: look at the screw's grease and the guides.

pull-phase-take-up = take-up
pull-phase-pull-up = pull-up
pull-phase-form = form
pull-phase-clamp = clamp
pull-phase-eject = eject
pull-end-break = break
pull-end-stop = stop
pull-end-unknown = under load
pull-name = Pull { $number }
pull-all = All numbers of pull { $number }
pull-slip = { $pull }: slip at { $stroke } mm, { $drop } kN
pull-counts = Slips and stick-slip for each mm are counts: no uncertainty is reckoned for them.
pull-slip-at = Slip at { $stroke } mm, { $time } s: the force fell by { $drop }, { $lost } mm of stroke lost.
pull-axis-stroke = Stroke, mm
pull-axis-force = Force, kN
pull-plot-label = Force over stroke, { $count ->
    [one] one pull
   *[other] { $count } pulls
  } of { $name }. The same in figures stands in the table.

## At the job and on their page

entry-pulls-read = Recorded pulls
pulls-heading = Recorded pulls
pulls-look = Look at the pulls in { $name }
pulls-whole = Curves and all numbers
pulls-bring = Bring a recording of pulls
pulls-bring-waiting = Bring a recording of pulls ({ $count } waiting in the recordings folder)
pulls-bring-hint = The logger's file as it is, CSV or text: drag it here or pick it. It may have up to { $most } MB and is kept unchanged. Nothing counts before you ticked it.
pulls-file = Recording

waiting-label = Waiting in the recordings folder
waiting-hint = The newest first. What you tick is copied into the record and read; the file in the folder stays as it is.
waiting-file = { $name }, { $size }, written { $time }
waiting-kept = The record keeps this file already. Look whether it was of another tool.
waiting-more = { $count ->
    [one] One older file is not shown. Move away what was brought, or pick it with the box below.
   *[other] { $count } older files are not shown. Move away what was brought, or pick them with the box below.
}
waiting-trouble = The recordings folder cannot be read now: { $why }. Look whether it is there, or pick the file with the box below.
waiting-not-whole = “{ $name }” does not wait in the recordings folder: it is still written to, or it is gone. Look again in a few seconds.
waiting-unreadable = “{ $name }” in the recordings folder cannot be read: { $why }. Look whether it is a plain file that this program may read.

pulls-read = Read the pulls
pulls-rig = Rig
pulls-rig-hint = Without one the file's headings must name columns and units, and nothing is decided: nobody knows which load cell pulled.
pulls-fastener = Fastener that was pulled
pulls-fastener-hint = Leave empty for pulls to stall against the load cell.
pulls-title = Pulls in { $name }
pulls-back = Back to job { $number }
pulls-unreadable = No pull can be read. What is wrong stands below; the file is kept with the job.
pulls-would = If all that could be read is taken, this stands on the job:
pulls-faults = { $count ->
    [one] One thing is wrong with this recording. Look at it before you tick what could be read.
   *[other] { $count } things are wrong with this recording. Look at them before you tick what could be read.
  }
pulls-faults-whole = What is wrong:
pulls-more-faults = and { $count } more
pulls-more = { $count ->
    [one] One more pull stands in this recording: the first { $read } were read. Have the logger begin a new file sooner.
   *[other] { $count } more pulls stand in this recording: the first { $read } were read. Have the logger begin a new file sooner.
}
pulls-again = Read it so
pulls-use = Use these pulls
pulls-use-hint = Pulls with something wrong in them are not ticked. Tick one only if you know why it may count.
pulls-take = Take the ticked pulls
pulls-count-already = Pulls of this recording count already: see which.
pulls-tick = Pull { $number }: { $peak }, { $stroke }
pulls-figures = In figures
pulls-hash = SHA-256 { $hash }
pulls-rows = Rows
pulls-columns = Columns
pulls-column = { $what }: column { $column }, { $unit }
pulls-pull = Pull
pulls-lines = Lines
pulls-ends = Ends with
pulls-verdict = Verdict
pulls-like = Like good ones
pulls-what = Number
pulls-value = Value
pulls-limits = Limits
pulls-phase = Phase
pulls-from = From, mm
pulls-to = To, mm
pulls-travel = Travel, mm
pulls-energy = Energy, J
pulls-raw = { $value } kN unfiltered
pulls-no-slip = none
pulls-no-number = “{ $typed }” is no number of a pull. Tick the pulls of the list.
pulls-unknown = There is no { $id } here. Pick one of the list, or none.

pulls-of = { $count } of { $found } pulls of { $fastener }
pulls-to-stall = { $count } of { $found } pulls to stall against the load cell
pulls-mean = { $what } { $value } { $unit }, each ± { $expanded }; from { $least } to { $most } { $unit }
pulls-one = { $what } { $value } ± { $expanded } { $unit }
pulls-rejected = { $what } out of limits in pull { $pulls }: { $value }, allowed { $limits }.
pulls-undecided = { $what } undecided in pull { $pulls }: { $value }, allowed { $limits }.
pulls-no-band = Not held against good pulls: fewer than { $need } of this model and fastener stand in ended jobs.
pulls-no-band-to-stall = A pull to stall is held against the limits of the bench tests, not against other pulls.
pulls-band = Against the band of { $good } good pulls of this model and fastener (holds about { $share } % of good ones): { $inside } inside, { $undecided } undecided, { $outside } outside.
pulls-band-gauges = Some of the good ones were read by another calibration, so what the gauges are unsure by counts.
pulls-no-rig = Read without a rig: nobody knows which load cell pulled, so nothing is decided.
pulls-out-of-date = A gauge of the rig was out of date or had failed: the numbers stand, nothing is decided.
pulls-beyond = Pull { $pulls } went further than { $gauge } is known: beyond the points of its calibration, or its range. Such a number is not evidence, and nothing is decided by it.
pulls-in-doubt = IN DOUBT: see “Readings in doubt”.
pulls-no-curve = No curve goes through the points of the calibration of { $gauge }: nothing is taken off and nothing is decided. Strike that calibration on the gauge's page, write it down as the certificate has it, and take these pulls again.
pulls-other-logger = { $rig } looks for the columns headed { $headings }. If another logger wrote this file, pick its rig, or none.
pulls-spoiled = Pull { $pulls }: something is wrong in its recording, so its numbers decide nothing. Taken all the same: { $note }
pulls-printed = { $phase }: { $what }

plot-in = Nearer
plot-out = Further
plot-whole = Whole
plot-keys = Arrow keys move along the pull and to the next one, + and − come nearer and go back.
plot-rings = E goes to the next slip, Shift and E to the one before.
plot-caption = Lines: pulls. Green: band of good pulls, laid to the travel of the first pull; each is held against it by the share of its own travel. Rings: slips. Broken lines: ends of phases of the first.
pulls-good-so-far = Good pulls of this model and fastener in ended jobs so far: { $good }.

## At the prompt

prompt-pulls-exact = Behind ± stand noise, zero and filter. What load cell and displacement sensor add to it, only the shop’s record knows.
prompt-no-pull = No pull could be read from it.
prompt-no-rig = { $file } is no sheet of a rig.
prompt-pull = Pull { $number }, lines { $first } to { $last }
