# What the prompt says. The help of its commands stands with them, in the arguments.
prompt-not-there = There is no such job or form, or the paper cannot be issued yet.
prompt-no-such-field = This form has no such field now. Its fields: { $fields }.
prompt-form-not-now = Job { $job } does not show the form { $form } now. Forms that it knows: { $known }.
prompt-no-job = There is no job { $job }.
prompt-conflict = Another bench wrote to this job meanwhile. Look at it, then send again.
prompt-doubt-unseen = { $told } With the field doubts={ $key } you say that you saw it.
prompt-path = { $path }: { $why }
prompt-not-a-form = { $file }: { $why }. Write an object of names and values.
prompt-not-texts = { $file }: write names with texts or lists of texts.
prompt-not-a-field = “{ $field }” is not a field. Write name=value.
prompt-stored = job { $job }
prompt-stored-before = job { $job } (stored before)
prompt-no-paper = “{ $name }” is not a paper. Papers: { $known }.
prompt-no-card = Job { $job } has no set-up card: no set-up of it is signed off.
prompt-no-gauge-failure = Gauge { $id } was never found outside its limits, or there is none with this id. List them: setwright gauges
prompt-no-cards-of = No tool with “{ $text }” in serial, model or owner has a set-up card in force.
prompt-job-of = Job { $job }: { $model } { $serial }, { $customer }
prompt-waits = { $stage } (waits for { $for })
prompt-no-folder = No data folder is known. Name a store file with --store FILE.
prompt-no-sheet = There is no sheet { $kind } { $id } with that revision.
prompt-no-sheet-in-force = No sheet { $kind } { $id } is in force. Kinds: { $kinds }.
prompt-withdrawn = { $kind } { $id } is withdrawn
prompt-no-sheet-files = No sheet files (*.toml) there.
prompt-sheets-good = { $count ->
    [one] One sheet
   *[other] { $count } sheets
}, no mistake
prompt-sheets-loaded = { $count ->
    [one] One sheet
   *[other] { $count } sheets
} read, { $changed ->
    [one] one new revision
   *[other] { $changed } new revisions
}
prompt-sheet-mistakes = { $count ->
    [one] One mistake
   *[other] { $count } mistakes
}. Nothing was loaded.
prompt-sheets-changed = The sheets changed meanwhile. Run it again.
prompt-sheet-stored = { $kind } { $id } in the store
prompt-nothing-found = Nothing found for “{ $text }”.
prompt-nobody = Nobody is called “{ $name }” in this record.
prompt-erased = “{ $name }” is erased
prompt-demo = This is the demo shop: everything in it is invented.
prompt-record = The record is { $path }
prompt-recordings = Recordings that wait are looked for in { $path }
prompt-no-recordings = The recordings folder { $path } cannot be read: { $why }. Name a folder that is there and that this program may read.
prompt-address = setwright is at { $address } (stop it with Ctrl-C)
prompt-port = Port { $port } cannot be opened ({ $why }). Is setwright running already? Pick another with --port.
prompt-differences = { $count ->
    [one] One difference
   *[other] { $count } differences
}. The entries themselves are the truth: `setwright rebuild` makes the rest anew.
prompt-verified = { $entries } entries, { $rows } rows, { $files } files, chain whole up to entry { $seq }: { $hash }
prompt-rebuilt = { $jobs ->
    [one] One job
   *[other] { $jobs } jobs
} and { $tools ->
    [one] one tool
   *[other] { $tools } tools
} made anew

## Long work, on a terminal

progress-verify = Checking the record
progress-rebuild = Making the lists anew
progress-cards-read = Reading the set-ups
progress-cards-set = Setting the cards

## Columns

column-job = job
column-model = model
column-serial = serial
column-customer = customer
column-stage = stage
column-due = due
column-entry = entry
column-at = at
column-by = by
column-kind = kind
column-owner = owner
column-pulls = pulls
column-last-job = last job
column-id = id
column-name = name
column-revision = revision
column-uncertainty = uncertainty
column-state = state
column-what = what
column-bytes = bytes
column-hash = hash
column-caption = caption

# setup simulate
simulate-what = on average
simulate-joints = trial joints, mean
simulate-p95 = trial joints, 95th percentile
simulate-rejects = rejects in 1000 joints after sign-off
simulate-floor = the same with the tool perfectly known
simulate-reached = set-ups that reach the target, %
simulate-seconds = seconds
simulate-page-title = What the trial loop is worth
simulate-page-about =
    Simulated tools are set up by the rule of the job page. Where a table does not say otherwise: tools differ from the table by
    0.7 mm (standard deviation), joints by 0.10 mm, a reading is good to 0.03 mm, a joint must lie within ± 0.40 mm. The rule
    knows these numbers, but learns the spread between joints, too. It signs off at a probability of 99.8 %, or when no further joint
    saves more than one reject in 2000 joints, and only after a joint that lies inside the limits by twice the reading's doubt.
simulate-page-made = Made by `setwright setup simulate --page --set-ups { $n } --seed { $seed }`.
simulate-page-standard = The rule as it is
simulate-page-target = Another target
simulate-page-cost = Another worth of a joint
simulate-page-window = Wider and narrower windows
simulate-page-tools = Tools that differ more or less than the rule expects
simulate-page-spread = Joints that differ more or less than the rule expects
simulate-page-eye = Joints that are only looked at
simulate-page-rule = rule
simulate-page-step = step
simulate-page-target-column = signed off at
simulate-page-cost-column = joints between two set-ups
simulate-page-window-column = limits
simulate-page-tools-column = tools differ by
simulate-page-spread-column = joints differ by
simulate-page-end =
    The last column but one is what the steps of the adjuster alone leave. Where it is high, a finer step helps and no number of joints
    does. A wrong expectation of how tools differ costs next to nothing: the first joint tells. Joints that are only looked at
    take about twice as many, and leave about twice as many rejects, as joints under a caliper: "inside" does not say where inside, so
    the rule looks for the edges.
follow-drive = drive
follow-way = how
follow-at-once = right cause first before any check
follow-few = after four checks at most
follow-right = right cause first at the end
follow-checks = checks
follow-looks = single looks
follow-minutes = minutes of checks
follow-share = { $share } % ({ $low } to { $high } %)
follow-reported = only what the crew reports
follow-prepared = the crew asked for every sign; tests and a joint as found
follow-recorded = the same, and pulls recorded as found
follow-in-one-go = the same, and what the hands hold already looked at in one go, which counts as one check
follow-no-sheet = Among the sheets is none of the kind { $kind }. Name files or folders with a fault model, a tool model and a shop card.
follow-page-title = What the fault-finder is worth
follow-page-made = Made by `setwright faults simulate --page --jobs { $jobs } --seed { $seed }` from the demo's sheets, whose numbers are an expert estimate. What is meant by the words: [how a fault is found](fault-finding.md).
follow-page-plans = Against the exact plan
follow-page-plans-about = Random models small enough for an exact plan; expected cost over the best plan's, mean and largest.
follow-page-size = causes and checks
follow-page-models = { $size } and { $size }, { $cases } models
follow-page-ahead = look-ahead
follow-page-one-step = one step
follow-page-repairs = repairs alone
follow-page-bits = bits per cost
follow-page-sets = Against all sets of causes
follow-page-sets-about = 12 causes, 10 questions, 200 models; mean and largest error of a cause's probability.
follow-page-expected = sum of the priors
follow-page-one = one fault
follow-page-two = up to two
follow-page-three = up to three
follow-page-jobs = Jobs with a known cause
follow-page-jobs-about = Drawn from the demo's model itself and driven through the calls of the page. Shares with their 95 % interval (Wilson's). This shows that the advice is true to its own model, not that the model is true to the world.
follow-page-learn = A shop that learns
follow-page-learn-about = 24 shops for each drive, in which each cause is up to five times as frequent, or as rare, as the sheet says. Each begins with the sheet and learns from the jobs that it closes. After each lot it is measured by other jobs, the same every time, which teach nothing. A job ends when the plan says to mend the right cause; after a wrong mending the looking goes on, until no look is left. The 95 % interval is from the spread between the shops (Student’s t).
follow-page-closed = jobs closed before
follow-page-mended = right cause mended
follow-page-checks-right = checks to the right cause
follow-page-fewer = fewer than with the sheet alone
follow-page-fewer-of = { $mean } ({ $low } to { $high })
follow-page-wrong = wrong mendings a job
