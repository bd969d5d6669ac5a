# Refusals of the calculations.
calc-not-finite = { $input } is not a number.
calc-out-of-range = { $input } = { $value } is outside { $min } to { $max }.
calc-too-few = { $input }: { $have } given, at least { $need } needed.
calc-not-increasing = Row { $row } of the table does not exceed the row before it.
calc-uneven = { $input }: { $have } given, { $need } needed, one for each of the others.
calc-flat = { $input } does not change with x: the line has no slope to read back from.
calc-alike = { $input }: all values are the same, so they have no spread to reckon with.
calc-impossible = The answers contradict each other: no cause explains them all.

# What the values in a working are.
given-reading = reading
given-count = number of readings
given-expanded = expanded uncertainty, about 95 %
given-gauge-expanded = expanded uncertainty of the gauge, k = 2
given-half-step = half of the gauge's smallest step
given-lower = lower limit
given-upper = upper limit
given-share-of-sheet = share as the sheet states it
given-sheet-counts-as = cases that it counts as
given-own-yes = own cases in which it was so
given-own-cases = own cases
given-good-in-a-row = good ones in a row
given-confidence = confidence
note-gauge-alone = The readings do not differ enough to count. What is left is the gauge's own doubt, which has infinite degrees of freedom.

# Decision rules.
rule-guarded = Accepted if the value and its uncertainty lie inside the limits, rejected if both lie outside. In between: undecided.
rule-simple = The value alone is compared with the limits.

# Straight line and inverse prediction.
given-points = points
given-center = mean of x
given-sxx = sum of squares of x about the mean
given-slope = slope
given-ss-residual = sum of squares left
given-dof = degrees of freedom
given-off-center = distance from the mean
given-prior-intercept = y at x = 0, beforehand
given-prior-slope = slope, beforehand
given-prior-spread = spread of one point, beforehand
given-intercept-change = what the points change at x = 0
given-slope-change = what the points change of the slope
given-spread = spread of one point
given-slope-size = size of the slope
given-pooled = pooled standard deviation
given-readings-count = readings of the unknown
note-no-finite-interval = g is 1 or more: the slope is not told from none, so there is no finite interval.
given-highest = highest reading
given-lowest = lowest reading
given-mean = mean of the readings

# The trial loop.
given-offset-before = offset of this tool from the table, beforehand
given-offset-doubt = its standard uncertainty
given-spread-before = standard deviation between joints, beforehand
given-joints = trial joints
given-offset-after = offset after them
given-offset-doubt-after = its standard uncertainty after them
given-spread-after = standard deviation between joints after them
given-table-turns = turns by the sheet's table
given-foretold = what the table foretells at this setting
note-spread-known = The standard deviation between joints is taken as known.
note-spread-learned = The standard deviation between joints is learned, too: p is the mean over what it may be, so it can differ a little from the last line.
note-joint-cost = A trial joint is worth its cost while it saves more than one reject in { $joints } joints.

# Fault-finding.
given-cause-rate = jobs in 1000 with this cause
given-observations = things seen
given-faults-most = faults at once, at most
given-sets-with-cause = weight of all sets of faults that hold this cause (the likeliest set has 1)
given-sets-all = weight of all sets of faults
note-no-look-beyond-doubt = No look is beyond doubt: each chance is held between one in a million and all but one in a million.
note-one-fault = Exactly one fault is taken to be there.
given-cost-by-probability = expected cost in the order of falling probability
given-cost-by-cost = expected cost in the order of rising cost
note-perfect-looks = Exactly one fault is taken to be there, and a look at it shows it without error.
given-look-cost = cost of this check, the change of the tool's state with it
given-cost-after-yes = expected cost after a yes
given-cost-after-no = expected cost after a no
given-repair-first = expected cost of repairing the first cause now and going on
given-repair-cost = cost of this repair
given-proof-cost = cost of the proof test
given-come-back = what a repair that does not help costs beside its price
given-chance-of-cause = probability of this cause
given-cost-after-repair = expected cost if this repair does not help
note-steps-ahead = Reckoned { $steps } steps ahead. A repair is taken to be proved without error.

# Wear.
given-wear-readings = readings
given-wear-pulls = pulls since counting began
given-wear-rate-before = wear in 1000 pulls by the model's life
given-wear-rate-doubt = how far that may be off (one standard deviation)
given-wear-start = size where counting began, by all readings
given-wear-new = size when new
given-wear-rate = wear in 1000 pulls, by all readings
given-wear-rate-se = its standard uncertainty
given-wear-snn = Σ n² / u², n in thousands of pulls
given-wear-sny = Σ n · (y − y₀ − b₀ · n) / u²
given-wear-doubt-now = standard uncertainty of the size by the line, now
given-wear-limit = limit
given-wear-lower = lower limit
given-wear-upper = upper limit
given-wear-service = pulls until the next service
given-wear-doubt-then = standard uncertainty of the size by the line, then
given-wear-newest = probability of being beyond the limit, by the newest reading alone
note-wear-line = Wear is taken to go in a straight line with the pulls (common practice, no source). How much the work differs from day to day is not in the interval.
note-wear-prior = Before the first reading the model's life is believed, and that it may be off by half (common practice, no source).
note-wear-from-reading = Nobody knows when this part was new: pulls are counted from its first reading.
note-wear-newest = The newest reading lies nearer to its limit, or further beyond it, than the line: it stands first.
note-wear-misfit = A reading lies { $off } standard uncertainties off the line. Was the part changed, or measured at another place?
