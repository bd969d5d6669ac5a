# Samples and studies: what the values in a working are.
given-groups = groups
given-ss-between = sum of squares between the groups
given-ss-within = sum of squares within the groups
given-dof-between = degrees of freedom between
given-dof-within = degrees of freedom within
given-deviation = standard deviation of the readings
given-furthest = reading that lies furthest off
given-critical = what G may come to without an outlier
given-anderson-darling = Anderson–Darling, not adjusted
given-repeatability-variance = variance of the repeatability
given-operator-variance = variance between people
given-interaction-variance = variance of people and parts together
given-part-variance = variance between parts
given-mean-range = mean range of one person on one part
given-operator-difference = highest less lowest mean of a person
given-part-range = highest less lowest mean of a part
given-readings-each = readings of each person
given-factor-trials = factor for the trials
given-factor-people = factor for the people
given-factor-parts = factor for the parts
given-share-of-pieces = share of all pieces
given-events = how many had it
given-trials = trials
given-normal-quantile = quantile of the normal distribution

# Samples and studies: what holds only here.
note-variance-below-zero = The variance between the groups came out below 0. It counts as 0: the groups do not differ more than the readings within them.
note-interaction-pooled = The interaction of people and parts is taken into the repeatability.
note-interaction-kept = The interaction of people and parts is a part of the reproducibility.
note-gauge-study-bounds = Common practice: under 10 % of all the gauge is good, over 30 % it is not good enough. At least 5 kinds of part should be told apart.
note-outlier = A reading lies too far off to be chance alone. Look for the cause first; without one the reading stays in.
note-no-outlier = No reading lies further off than chance explains.
note-not-normal = The readings are not likely to come from a normal distribution: limits that rest on it are in doubt. Look for two kinds of joint, a drift or a slip of the pen.
note-normal-not-excluded = Nothing speaks against a normal distribution. That does not prove one.
note-normality-few = With { $count } readings only gross departures show.
note-tolerance-one-exact = Exact for one limit, by the noncentral t distribution.
note-tolerance-two-exact = Exact for two limits, by integration.
note-tolerance-howe = Howe's approximation for two limits, off by less than 1 % in most cases.
note-tolerance-natrella = Natrella's approximation for one limit.
note-proportion-exact = The exact interval holds its confidence at least. p_least and p_most each hold by themselves: at least p_least, or at most p_most.
note-capability-normal = The readings are taken to be normal, from a process that keeps its place.
note-capability-few = Under { $count } readings the interval of C_pk is rough.

# Sampling of lots.
given-sample-size = pieces in the sample
given-accept-number = bad ones with which the lot is accepted
given-bad-share = share of bad ones
given-good-share = share of bad ones that is still good
given-producer-risk = risk of rejecting there
given-consumer-risk = risk of accepting a bad lot
given-lot-size = pieces in the lot
given-aql = acceptance quality limit
note-outgoing-sorted = p_out is what goes out on average if each rejected lot is sorted and its bad ones are replaced.
note-sampling-standard = Table from memory: normal inspection only, without the rules for changing to tightened or reduced. The standard itself rules.
note-sampling-arrow = At this letter the table has an arrow: the plan of another letter holds, with its own sample.

# Vibration and noise.
given-vibration = vibration total value
given-hours = time in the day
given-task-level = level of the task
given-event-level = sound exposure level of one report
given-event-count = reports in the day
note-vibration-values = Action value 2.5 m/s², limit value 5 m/s² (Directive 2002/44/EC). Above the action value the employer must act; above the limit value work stops until it is lower. Local law may set others.
note-vibration-declared = Declared values come from a test bench. At work they are often higher: measured values, or the maker's advice on how much to add, are better.
note-vibration-day = For a day with this tool alone. Other tools add to it.
note-noise-values = Action values 80 and 85 dB, limit value 87 dB under the hearing protection that is worn (Directive 2003/10/EC). Local law may set others.
note-noise-peak = Single reports are also judged by their peak level, which is not part of this.

# Gauges.
given-indicated = mean of the readings as indicated
given-deviation-there = indicated less true there, by the calibration
given-doubt-readings = standard uncertainty of the mean
given-doubt-curve = standard uncertainty of the curve
given-doubt-certificate = standard uncertainty of the certificate
given-doubt-resolution = standard uncertainty of the resolution
given-doubt-drift = standard uncertainty of the drift

part-pull-gauge-force = load cell
part-pull-gauge-share = load cell, share of the reading
part-pull-gauge-stroke = displacement sensor
part-pull-zero = zero of the force
part-pull-drift = drift of the zero
part-pull-home = home of the stroke
part-pull-end = place of the end
part-pull-noise = noise of the force
part-pull-filter = what the filter takes
part-pull-between = between two samples
part-pull-climb = bend of the climb to the end
part-pull-fit = line through the curve
part-pull-spread = spread about the lines
part-pull-bend = bend of the pull-up
part-pull-ends-of-form = ends of the form
part-pull-clock = step of the clock
part-pull-line = line through the loss
part-pull-below = part below a fifth of the force
part-pull-tooth = edge of a tooth between samples
part-pull-read-off = reading off the slips
given-reference-force = force by the reference
given-torque-set = torque set, or nominal
given-torque-furthest = reading that is furthest off
given-deviation-allowed = largest deviation allowed
note-outside-calibration = The reading lies outside the points of the calibration: what the gauge does there was not looked at.
note-worst-force = The force with the most in doubt: deviation and uncertainty together.

# Run chart.
given-centre = centre
given-mean-moving-range = mean of the steps from one value to the next
given-known-spread = standard deviation, known from before
note-no-signal = No signal: nothing says that the process has moved.
note-signal = The process may have moved. Look for what changed before the joints go on.

# Lives.
given-parts-seen = parts seen
given-parts-failed = of these, failed
given-weibull-scale = life that 63.2 % do not reach
given-weibull-shape = shape: below 1 early failures, 1 by chance, above 1 wear
given-log-mean = mean of the logarithm of life
given-log-spread = standard deviation of the logarithm of life
given-mean-life = mean life
note-life-independent = Parts are taken to be of one kind and to fail independently of each other.
note-life-few = Fewer than ten failures: trust the likelihood-ratio interval, and not far beyond the times that were seen.
given-failure-time = last time of failure
given-survival-before = share that survived until then
given-at-risk = parts at risk just before
given-failed-then = parts that failed then
given-total-time = time of all parts together
given-failure-count = failures
given-planned-cost = cost of a planned change
given-failure-cost = cost of a change after a failure
given-change-age = age at which it is changed
given-reaching-share = share of parts that reach it
given-mean-cycle = mean time between changes
note-mtbf-time = Looking ended at a time, not with a failure. Failures are taken to come by chance, at one rate.
note-mtbf-failure = Looking ended with the last failure. Failures are taken to come by chance, at one rate.
note-never-early = Changing it early never pays: its rate of failure does not rise enough, or a failure costs no more than a planned change.

# Stock and benches.
given-demand-size = pieces asked for at a time
given-demand-interval = periods from one demand to the next
given-smoothing = weight of the newest demand
given-demand-rate = pieces used per time
given-lead-time = time from order to arrival
given-stock = pieces kept
given-order-cost = cost of one order
given-holding-cost = cost of keeping a piece for one time
given-waiting-cost = cost of one piece that waits for one time
given-making-rate = pieces made per time
given-left-cost = cost of a piece that is left
given-short-cost = cost of a piece that is short
given-demand-mean = mean demand
given-demand-spread = standard deviation of the demand
given-offered-load = jobs that would be at work at once
given-servers = benches
given-arrival-rate = jobs that come per time
given-service-rate = jobs that one bench does per time
note-base-stock = Each piece used is ordered at once; what is short waits.
note-queue = Jobs come by chance, and the work on one varies much. Where all jobs take the same time, the wait is about half.
given-reorder-point = stock, on hand and on order, at which to order
given-order-quantity = pieces at once
given-order-level = level up to which to order
note-reorder-exact = No other point and quantity cost less.
note-reorder-approximate = Point and quantity by an approximation; the cost is exact for them.
