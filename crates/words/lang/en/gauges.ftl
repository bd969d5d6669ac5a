# Gauges: the page of each, calibrations, checks, studies, and what a gauge that failed took along.

gauge-failed = failed: do not use
column-certificate = certificate
gauge-due = Due { $due }
gauge-resolution = Resolution
gauge-calibrated = Calibrated
gauge-ways = Turns
gauge-by-sheet = No calibration is on the record. The sheet’s values stand.
gauge-sheet = Its sheet
gauge-history = History
gauge-history-none = Nothing was written down yet.
gauge-write-down = Write down
gauge-line-calibration = { $n }. Calibration, { $day }
gauge-line-check = { $n }. Check, { $day }
gauge-line-study = { $n }. Study of people and parts, { $day }
gauge-line-struck = counts no more
gauge-struck-why = Struck: { $reason }
gauge-strike-summary = This is wrong
field-gauge-strike = Why does it count no more?
button-gauge-strike = Strike it
gauge-found = As found
gauge-left = As left
gauge-not-read = not read
gauge-nominal = Nominal
gauge-limit = Deviation: indicated less true. Allowed: ± { $limit } { $unit }.
gauge-certificate-file = Certificate file
way-clockwise = clockwise
way-counter-clockwise = counter-clockwise

calibration-summary = Enter a calibration
calibration-hint = From the certificate, in the gauge’s unit. Deviation is indicated less true: a caliper that shows 50.02 on a 50.00 block has +0.02. Leave “as left” empty where nothing was adjusted. Readings from now on are corrected by what is entered here.
field-calibration-date = Day of the calibration
field-calibration-limit = Largest deviation allowed
hint-calibration-limit = By the gauge’s standard, or what the shop asks of it.
field-nominal = { $row }. Nominal
field-found = As found
field-left = As left
field-expanded = U
field-k = k
field-in-row = Row { $row }, { $label }
field-shape = Between the points
hint-shape = A line or parabola is fitted through all points; take it where the maker or the laboratory says so.
shape-points = straight from point to point
shape-line = a line through all
shape-parabola = a parabola through all
field-given = “As found” and “as left” give
hint-given = Certificates have either. Look at the heading of the column.
given-as-deviation = deviations: shown less true, such as +0.02
given-as-indication = what the gauge showed, such as 50.02
field-drift = May move until the next, ±
hint-drift = From its history. Empty: as far as it moved from as left at the calibration before to as found now; where that is not known, as at the calibration before.
drift-observed = as found against the calibration before
field-calibration-ways = Direction
hint-calibration-ways = Each direction that these points hold for.
field-calibration-by = Calibrated by
field-certificate = Certificate number
field-certificate-file = Certificate, PDF or photo
field-months = Months until the next
button-calibrate = Keep the calibration
refuse-calibration-certificate = Enter the number on the certificate.
refuse-calibration-by = Enter who calibrated it: the laboratory, or the person.
refuse-calibration-future = This day has not come yet. Enter the day on which it was done.
refuse-calibration-months = { $value } months: enter 1 to { $max }.
refuse-calibration-limit = Largest deviation allowed, { $value } { $unit }: enter more than 0 and at most { $max } { $unit }.
refuse-calibration-drift = May move by { $value } { $unit }: enter 0 to { $max } { $unit }, or leave it empty.
refuse-calibration-ways = Tick the direction that the certificate is for.
refuse-calibration-shape = Pick how the deviation runs between the points.
refuse-calibration-files = Attach one file: the certificate.
refuse-calibration-few = { $have ->
    [one] One point is
   *[other] { $have } points are
} not enough for this curve: enter at least { $need }.
refuse-row-nominal = Row { $row }, nominal: { $value } lies outside { $min } to { $max } { $unit }, the range of the gauge.
refuse-row-twice = Row { $row }, nominal: { $value } { $unit } stands in an earlier row. Each point once.
refuse-row-deviation = Row { $row }, { $column ->
    [left] as left
   *[found] as found
  }, deviation: { $value } lies outside { $min } to { $max } { $unit }, a quarter of the nominal or of the range. If that is what the gauge showed, pick that above. If it is so far off, enter what it showed.
refuse-row-indication = Row { $row }, { $column ->
    [left] as left
   *[found] as found
  }, shown: { $value } lies outside { $min } to { $max } { $unit }, half the nominal to a quarter of the range about it. If that is a deviation, pick that above.
refuse-row-not-rising = Row { $row }: at { $nominal } { $unit } the gauge would indicate { $value }, no more than the { $min } at the lower point in row { $before }, so no curve goes through both. Enter more than { $min }: look up both rows in the certificate. If it says so, the gauge cannot correct readings: lay it aside and have it put right.
refuse-row-empty = Row { $row }: enter the deviation as found, as left, or clear the row.
refuse-row-expanded = Row { $row }, U: { $value } { $unit }. Enter more than { $min } and at most { $max } { $unit }.
refuse-row-k = Row { $row }, k: { $value }. Certificates have { $min } to { $max }, mostly 2.
refuse-gauge-strike-none = There is no such line. Open the page again.
refuse-gauge-strike-again = It was struck already.
refuse-gauge-strike-reason = Enter why it counts no more.

budget-show = Uncertainty budget
budget-of = Uncertainty budget: { $what }
budget-part = Component
budget-standard = combined standard uncertainty
budget-freedom = effective degrees of freedom (Welch–Satterthwaite)
budget-factor = coverage factor, 95.45 %
budget-factor-chosen = coverage factor, chosen
budget-factor-few = With so few degrees of freedom 95.45 % takes { $k }.
budget-expanded = expanded uncertainty
budget-source = JCGM 100:2008, 4.3, 5.1.2 and G.4.1. Components taken as independent.

gauge-choice-failed = { $name } (FAILED its calibration or check)
gauge-note-failed = { $name }, failed its calibration or check: kept, not evidence
gauge-note-beyond = { $name }, due { $due }; { $read } { $unit } lies outside the points of its calibration: not corrected, not evidence
gauge-note-no-curve = { $name }, due { $due }; no curve goes through the points of its calibration: not corrected, not evidence
gauge-note-difference-beyond = { $name }, due { $due }; the force pulled lies outside the points of its calibration: not evidence
gauge-note-corrected = { $name }, due { $due }; read { $read }, corrected by { $correction } { $unit }

backwards-since = Found outside its limits on { $found }, last known good on { $good }. { $jobs ->
    [0] No job used it in between.
    [one] 1 job used it in between.
   *[other] { $jobs } jobs used it in between.
}
backwards-ever = Found outside its limits on { $found }, never known good before. { $jobs ->
    [0] No job used it.
    [one] 1 job used it.
   *[other] { $jobs } jobs used it.
}
backwards-struck = Calibration { $n } was struck after it corrected readings. { $jobs ->
    [one] 1 job has some.
   *[other] { $jobs } jobs have some.
}
backwards-why = What was found
backwards-none = Nothing to look at again.
backwards-do = Look at each reading again. Where its verdict would not stand, tell the owner of the tool.
backwards-reckoned = Reckoned where the record has the numbers: what the gauge indicated, less the deviation that was found, against the same limits with both uncertainties. Reckoned is not measured: it takes the place of no look.
backwards-not-rising = What it showed as found does not rise from point to point: one indication may stand for several true values. So no verdict is reckoned again, and none is told to stand: test again with a good gauge.
backwards-stands = verdict would stand
backwards-falls = VERDICT WOULD NOT STAND
backwards-unknown = not known: look again
backwards-pulls = { $count ->
    [one] 1 pull
   *[other] { $count } pulls
} of { $name }
backwards-what = { $what }, { $phase }
backwards-paper = For whoever decides: every job and reading (PDF)
failure-range = { $kind }, { $least } – { $most } { $unit }
failure-never = never known good before
failure-again = { $day }, when it was put right
failure-still = not known good again yet
failure-here = here
failure-gone = left the shop
job-gauge-in-doubt = { $gauge } was found outside its limits on { $found }. It took { $count ->
    [one] 1 reading
   *[other] { $count } readings
} of this job since it was last known good.
job-calibration-struck = { $gauge }: calibration { $n } was struck after it corrected { $count ->
    [one] 1 reading
   *[other] { $count } readings
} of this job.
job-gauge-in-doubt-link = What was found

check-torque-summary = Check the torque wrench
check-force-summary = Check against a reference force
check-torque-hint = ISO 6789-1 (from memory, not confirmed): at 20, 60 and 100 % of the largest torque, five readings each, in the direction of use. Set the wrench, read the reference. Allowed: 4 %, 6 % for wrenches up to 10 N·m.
check-torque-caution = Load the wrench slowly and at its grip; stand so that a slip cannot throw you.
check-force-caution = Stay out of the line of force while it is loaded; never above the range of gauge or frame.
check-force-hint = Forces rising from nearly 0, three readings each, the gauge loaded as in use. Terms of ISO 7500-1 (from memory, not confirmed).
field-check-date = Day of the check
field-way = Direction
field-reference = Held against
hint-reference = Name and certificate of the reference.
field-reference-expanded = Uncertainty of the reference, k = 2
field-check-limit = Largest deviation allowed
field-check-point = Point { $row }
field-check-readings = Point { $row }, readings
button-check = Keep the check
hint-tester-expanded = From the tester’s certificate. Empty: the limits are not drawn in by it.
field-check-point-at = Point { $row }: { $share } % of the largest
check-tester = The limits are drawn in by the tester’s ± { $doubt } %: a deviation nearer to them than that is undecided.
check-tester-unknown = Judged without the uncertainty of the tester: nobody entered it.
check-tester-coarse = The tester’s uncertainty is more than a quarter of what is allowed. ISO 6789-1 (from memory, not confirmed) wants a better one.
check-point-other = { $at } { $unit } is none of the points asked for, 20, 60 and 100 % of the largest torque.
check-torque-what = { $way }, held against { $reference }
check-force-what = Held against { $reference }, ± { $doubt } %
check-set = Set
check-readings = Read
check-deviation = Furthest off
check-allowed = Allowed
check-class = Keeps class { $class } of ISO 7500-1 (from memory, not confirmed).
refuse-check-reference = Enter what it was held against.
refuse-check-way = Pick the direction that was checked.
refuse-check-few-points = { $have } points are not enough: enter readings at { $need }.
refuse-check-few-readings = Point { $row }: { $have } readings are not enough, { $need } are needed.
refuse-check-reading = Point { $row }: { $value } { $unit } lies outside { $min } to { $max }, half and twice what was set. Check the reading.
refuse-check-unreckoned = Point { $row } cannot be reckoned. Check its numbers.
refuse-check-limit = Largest deviation allowed, { $value } %: enter 0.01 to 20.
refuse-check-reference-doubt = Uncertainty of the reference, { $value } %: enter 0 to 10.

study-summary = Study of people and parts
study-hint = Two or three people measure the same two to ten parts two or three times each, blind and in mixed order. The parts span what the gauge is used for.
field-study-date = Day of the study
field-study-what = What was measured
field-study-table = Readings
hint-study-table = One line for each person and trial: name, then the reading of every part in order. Tabs, semicolons or spaces between them, so a table can be pasted. The same name again is the next trial.
study-grid-heading = Type it box by box
study-table-heading = Or paste a table
field-study-parts = Parts
field-study-people = People
field-study-trials = Trials
button-study-grid = Show the boxes
field-study-person = Person { $n }
study-grid-row = Person { $person }, trial { $trial }: parts 1 to { $parts } in this order
study-grid-cell = Part { $part }, { $person }, trial { $trial }
refuse-study-size = { $value } is not { $min } to { $max }. Paste a table for a larger study.
refuse-study-nameless = enter who measured.
refuse-study-twice = { $name } stands above already. Each person once.
refuse-study-range = { $value } lies outside { $min } to { $max } { $unit }, the range of the gauge.
button-study = Keep the study
study-of = { $parts } parts × { $people } × { $trials } trials
study-good = The gauge makes { $share } % of all spread: good. People and gauge hardly blur what is measured.
study-between = The gauge makes { $share } % of all spread: good enough for some uses. Ask what a wrong verdict would cost.
study-bad = The gauge makes { $share } % of all spread: not good enough. Verdicts with it say more of gauge and hands than of the part.
study-kinds = It tells { $kinds } kinds of part apart.
study-few-kinds = It tells only { $kinds } kinds of part apart; 5 are wanted.
study-spread = Spread, one standard deviation
study-anova = Analysis of variance
study-range = Averages and ranges
study-repeatability = Same person, same part
study-reproducibility = Between people
study-gauge = Gauge, both together
study-parts = Between parts
study-total = All
study-share = Share of the gauge
study-no-factor = Averages and ranges have factors for two or three people and trials and two to ten parts only.
study-source = AIAG, Measurement Systems Analysis, 4th edition (2010), from memory. Below 10 % good, above 30 % not good enough: common practice.
refuse-study-what = Enter what was measured.
refuse-study-name = Line { $line } has no name. Begin each line with who measured.
refuse-study-cell = Line { $line }, part { $part }: { $message }
refuse-study-line = Line { $line } has { $have } readings, the first has { $need }. Each line holds every part once.
refuse-study-trials = { $name } has { $have } trials, the first person has { $need }. All measure equally often.
refuse-study-few = At least two people, two trials and two parts are needed.
refuse-study-uneven = All people measure every part equally often. Fill in what is missing.
refuse-study-alike = All readings are the same: nothing to study. Take parts that differ, or a finer gauge.
refuse-study-many = More than { $most } readings: study fewer parts.

entry-gauge-calibrated = Gauge calibrated
entry-gauge-checked = Gauge checked
entry-gauge-studied = Gauge studied
entry-gauge-struck = Line of a gauge struck

# The paper of a failure.
paper-failure-title = Readings in doubt
paper-failure-found = Found outside its limits by
paper-failure-against = Held against
paper-failure-good = Last known good
paper-failure-again = In doubt until
paper-failure-count = { $jobs ->
    [one] 1 job
   *[other] { $jobs } jobs
}, { $entries ->
    [one] 1 entry
   *[other] { $entries } entries
} with readings in doubt
paper-failure-out = Nothing is measured with this gauge before it is known good again.
paper-failure-off = What it was off
paper-failure-nominal = Nominal
paper-failure-deviation = Deviation found
paper-failure-allowed = Allowed
paper-failure-do = What to do
paper-failure-do-tag = Tag the gauge out of use and keep it apart until a calibration finds it good.
paper-failure-do-reading = The last column says whether the verdict would still stand, where the record has the numbers to reckon it. Where it is empty, reckon or measure, and write yes or no.
paper-failure-do-owner = Where it would not stand, or nobody can say: tell the owner, and test the tool again with a gauge that is known good. A certificate that rests on it is corrected by a new one that names the old.
paper-failure-do-joints = Joints that were set with such a tool are in doubt. Whether they are looked at again is for their owner and the engineer of record.
paper-failure-who = Whoever answers for the shop’s measurements decides, by name, reading by reading. The maker’s instructions for the gauge come first.
paper-failure-source = ISO/IEC 17025:2017, 6.4.9 and 7.10 (from memory, not confirmed)
paper-failure-jobs = Jobs and readings
paper-failure-none = No job used it in between.
paper-failure-certificate = Certificate in force rests on them:
paper-failure-when = When
paper-failure-read = Read
paper-failure-stands = Still stands?
paper-failure-would-stand = reckoned: yes
paper-failure-would-fall = reckoned: NO
paper-failure-reckoned = Reckoned: what the gauge indicated, less the deviation that was found, against the same limits with both uncertainties. Reckoned is not measured: how the gauge stood on the day itself nobody knows.
paper-failure-decided = Decided by: name, day
