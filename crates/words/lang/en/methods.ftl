# What each method does.
method-air-hydraulic-intensifier = Oil pressure, pull, stroke (also with oil lost) and free air of an air-hydraulic tool.
method-air-line-darcy = Pressure lost in a straight air line (Darcy–Weisbach, Colebrook).
method-air-line-harris-rule = Pressure lost in an air line by Harris's handbook formula.
method-air-line-metric-rule = Pressure lost in an air line by a metric handbook rule.
method-ball-screw-drive = Torque for a load on a ball screw, or the load from a torque; power and energy.
method-battery-energy = Energy in a battery pack, and whether it is over 100 Wh.
method-battery-pulls = Whole pulls out of one charge.
method-bayes-network-posterior = Probabilities in a small network of yes/no questions, given what was seen.
method-bolt-preload = Preload from a tightening torque, or the torque for a preload.
method-conformity-acceptance-limits = Readings that conform with a wanted probability.
method-conformity-global-risk = Share of bad pieces accepted and of good ones rejected by a check.
method-conformity-guard-band = Verdict on a reading: accept, undecided or reject.
method-conformity-probability = Probability that a measured value lies inside its limits.
method-demonstration-sample-size = Trials that show a share of good ones, with some failures allowed.
method-expected-information = What a yes/no check is expected to tell about rival faults, in bits.
method-grip-code-range = Thicknesses that a grip code in sixteenths of an inch is made for.
method-labour-time = Minutes of a piece of work, from the sheet and from the shop's own clocks.
method-repair-or-replace = What the year to come costs with a repair, and what a year of a new tool costs.
method-stack-thickness = Thickness of a stack from its layers, and the grip that suits it.
method-stick-out-explanations = What explains a stick-out, with the probability of each cause.
method-stroke-from-stick-out = Stroke and turns from the stick-out and the lengths of the nose.
method-grip-code-select = Grip codes in sixteenths of an inch for a thickness.
method-hydraulic-cylinder = Force, volume and work of a hydraulic cylinder.
method-inspect-or-repair-sequence = Cheapest sequence of looks at suspects, the last one repaired without a look.
method-inspection-order = Cheapest order of looks at suspects of which one is at fault.
method-inverse-prediction = The x behind readings, by a calibration line, with its interval.
method-next-check = Which check to make next, or whether to repair, by expected cost.
method-noisy-or-posterior = Probability of each fault, where several may be there at once.
method-power-screw-torque = Torque that raises and lowers a load on a screw with friction.
method-relative-range = How far repeated readings lie apart, in percent of their mean.
method-repeated-readings-mean = Mean of readings with one gauge, and its uncertainty.
method-screw-stop-setting = Which way a stop on a screw turns, what that does, and the setting on a step.
method-several-fault-posterior = Probability of each fault with up to three at once, why, and whether the signs contradict each other.
method-single-fault-posterior = Probability of each fault, where exactly one is there.
method-straight-line-calibration = Straight line through points, and how sure it is.
method-straight-line-posterior = A line known beforehand, corrected by points.
method-trial-loop = After trial joints: the probability of a good joint, and what to set next.
method-student-coverage-factor = Coverage factor from Student's t.
method-table-straight-line = Value between the rows of a table; outside the table it refuses.
method-torque-adapter = Wrench setting behind an adapter.
method-torque-tool-deviation = How far a torque tool is off, and whether that is allowed.
method-troubleshooting-policy = Cheapest plan of tests and repairs for a few faults, exactly.
method-uncertainty-budget = Components of uncertainty to one combined and expanded uncertainty.
method-unit-conversion = A value in another unit.
method-wear-life = Pulls that a worn part has left, from the model's life and its own readings.
method-zero-failure-sample-size = Good ones in a row that prove a share.
method-zero-failure-share = Share of good ones that a run without failure proves.

# Refusals of the methods.
method-missing = { $field } is missing.
method-unknown = There is no { $field } here.
method-unknown-nearest = There is no { $field } here. Is { $nearest } meant?
method-kind = { $field } = { $value } is not { $needed }.
method-input-kind = The input is not { $needed }.
method-kind-number = a finite number
method-kind-count = a whole number from 0
method-kind-text = a text
method-kind-truth = true or false
method-kind-list = a list
method-kind-table = a table of names and values
method-not-allowed = { $field } = { $value } is not allowed: { $allowed }.
method-count = { $field }: { $have } given, { $need } needed.
method-not-increasing = { $field }: row { $row } does not exceed the row before it.

# What the values in a working are.
given-air = air, gauge pressure
given-air-piston = air piston
given-air-stroke = stroke of the air piston
given-at = where the table is read
given-angle = angle between adapter and wrench, 0 in line
given-arm = wrench, drive to middle of the grip
given-bore = bore
given-capacity = capacity
given-collar-diameter = mean diameter of collar or head
given-collar-friction = friction under collar or head
given-components = number of components
given-diameter = nominal diameter
given-efficiency = efficiency
given-factor = coverage factor
given-flank = half of the flank angle
given-free-air = free air
given-friction = friction in the thread
given-grip-doubt = where the hand sits on the grip, expanded uncertainty
given-lead = travel per turn
given-length = length
given-load = load along the axis
given-mean-diameter = mean diameter of the thread
given-nut-factor = nut factor
given-offset = adapter, drive to fastener
given-one-unit = one of the first unit in the second
given-pressure = gauge pressure
given-pull-energy = energy of one pull
given-ram = ram
given-rod = rod
given-roughness = roughness of the wall
given-share = share of good ones
given-speed = turns per minute
given-stack = thickness
given-standard = standard uncertainty
given-stroke-length = stroke
given-torque = torque at the fastener
given-usable = usable share of the charge
given-value = value
given-voltage = nominal voltage
given-wrench-doubt = expanded uncertainty of the wrench
given-wrench-shows = what the wrench showed
note-grip-boundary = The thickness lies on the boundary: both this code and the one below suit it.
note-nut-factor = A rule of thumb: the nut factor scatters by a quarter and more. It stands for no maker's torque.

# Methods at the prompt.
calc-method = method
calc-what = what it does
calc-source = Source
calc-goes-in = Goes in
calc-comes-out = Comes out
calc-required = required
calc-no-method = There is no method { $name }. `setwright calc list` shows all.
calc-no-method-nearest = There is no method { $name }. Is { $nearest } meant?
calc-not-json = The input is not JSON: { $problem }.

# Validation run.
validation-title = Validation of the methods
validation-about = Each method of the program, reckoned anew and held against a value from outside. What a source prints is kept to its printed digits.
validation-program = Program
validation-issued = Issued
validation-method = method
validation-case = case
validation-kind = source
validation-value = value
validation-expected = expected
validation-computed = computed
validation-tolerance = tolerance
validation-verdict = verdict
validation-pass = pass
validation-fail = FAIL
validation-not-available = not available
validation-published = published
validation-library = library
validation-memory = memory
validation-common-practice = common practice
validation-arithmetic = arithmetic
validation-missing = Not available: the method is not in this program yet
validation-how = how it was checked
validation-sources = Sources
validation-signs = ± largest difference; × largest difference as a share of the expected value; = equal. Of a list, the item furthest off is shown. A number before a value is the run of its case. Memory: recalled, not looked up. Arithmetic: the formula stated, reckoned by other means; no publication has the value.
validation-summary = { $all } cases: { $passed } passed, { $failed } failed, { $missing } not available ({ $methods ->
    [one] one method
   *[other] { $methods } methods
} not in this program yet).
validation-failed = { $n ->
    [one] One case failed.
   *[other] { $n } cases failed.
}
