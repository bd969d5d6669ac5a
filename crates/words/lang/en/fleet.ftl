# What closed jobs taught, and what a manager says of it.

learned-title = What we learned
learned-no-model = No fault model is on the shelf. Load one under Sheets.
learned-jobs = Closed jobs that teach
learned-came-back = { $count ->
    [0] No tool came back with the same complaint
    [one] After 1 of them the tool came back with the same complaint
   *[other] After { $count } of them the tool came back with the same complaint
}
learned-weight = A rate of the sheet counts as { $jobs } jobs, a chance as { $answers } answers; own counts are added. A job teaches when its cause was confirmed and the tool proved. A tool that comes back within { $days } days or { $pulls } pulls speaks against the cause.
learned-rates = How often each cause is there
learned-chances = What causes show and checks answer
learned-no-chances = Nothing differs from the sheet yet.
learned-more = { $count } more
learned-of-cause = What it shows, and how checks answer
learned-what = What
learned-sheet = Sheet
learned-own = Own jobs
learned-now = In use
learned-back = Came back
learned-of = { $yes } of { $all }
learned-pinned = pinned
learned-on = { $cause }, on { $model }
learned-shows = { $cause } → { $symptom }
learned-yes = “{ $check }” says yes to: { $cause }
learned-alarm = “{ $check }” says yes though none of its causes is there
learned-state-sheet = As the sheet says; no own job yet
learned-state-learned = Sheet { $sheet }, own { $yes } of { $all }
learned-state-pinned = Pinned; sheet { $sheet }, own { $yes } of { $all }
learned-held = Held at { $value }.
learned-since = Counted from { $when } on.
learned-released = Released: it follows the closed jobs.
learned-pin-every-drive = It holds on every drive.
learned-pin-summary = Pin it at a value
learned-release-summary = Let it follow the jobs again
learned-reset-summary = Begin its counts anew, without a pin
learned-anew-summary = Begin all counts anew
learned-anew-hint = Jobs closed until now count no more, and every pin of this fault model is lifted. The jobs stay on record.
field-learned-value = Value
field-learned-reason = Why
button-learned-pin = Pin
button-learned-release = Release
button-learned-reset = Begin anew
button-learned-anew = Begin all anew
learned-busy = Others write here right now. Send it again.
refuse-share = { $value } %: type 0.1 to 99. No evidence could speak against never or always.
refuse-not-pinned = This number is not pinned, so there is nothing to release.
refuse-no-number = The fault model has no such number.
entry-number-pinned = Learned number pinned
entry-number-released = Learned number released
entry-counts-reset = Counts of learned numbers begun anew
note-fault-learned = { $jobs ->
    [0] No closed job of this shop counts yet
    [one] The numbers hold 1 closed job of this shop
   *[other] The numbers hold { $jobs } closed jobs of this shop
}; { $pins ->
    [0] none is pinned
    [one] 1 is pinned by a manager
   *[other] { $pins } are pinned by a manager
}: Fleet, What we learned.
