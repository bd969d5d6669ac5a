# Polynomial calibration and rivet strengths.
method-polynomial-calibration = Curve of a chosen degree through points, and how sure it is.
method-blind-rivet-strength = Least shear and tensile loads of an open-end blind rivet, by diameter and class.
given-degree = highest power
given-ss-regression = sum of squares explained
note-polynomial-inside = Between the points only: outside them a curve of higher degree runs away.
given-rivet-diameter = nominal diameter of the body
given-shear = least shear load of one rivet
given-tension = least tensile load of one rivet
note-rivet-strength = Recalled and not confirmed: compare it with the standard. The fastener's own sheet comes first.

# Pulls.
method-pull-work = Energy of one pull.
method-pull-pressure = Pull from a pressure, or the pressure for a pull, with friction.
given-peak = peak force
given-fullness = mean force over peak force
given-pull-area = area that the oil pulls on
given-ratio = oil pressure over the pressure measured
given-friction-share = share lost to friction
given-friction-doubt = expanded uncertainty of that share
given-pull = pull
given-drive-torque = driving torque
given-lost-oil = oil that is missing
note-stall = Pressure held at stall, trigger held. While the tool cycles, pressure tells about time, not force.

# Pages of the calculators.
calculators-title = Calculators
calculators-pull = Pull
calculators-energy = Energy and battery
calculators-air = Air lines
calculators-torque = Torque
calculators-setting = Units, grip and setting
calculators-measuring = Measuring and trials
calculator-go = Work it out
calculator-others = Show the other results
calculator-formula = Show formula and source
calculator-optional = May stay empty
calculator-choose = Choose one.
calculator-yes = yes
calculator-no = no
calculator-value = { $value }
calculator-one-of = Fill in only one of these: { $fields }.
calculator-not-allowed = Not possible. Allowed: { $allowed }.
quantity-missing = Enter a number.
quantity-not = “{ $typed }” is not a number. Enter it like 0.85.
allowed-above = above { $end }
allowed-from = { $end } or more
allowed-up-to = { $end } or less
allowed-between = { $low } to { $high }
allowed-above-up-to = above { $low }, up to { $high }
allowed-from-below = { $low } or more, below { $high }
allowed-above-below = above { $low } and below { $high }
allowed-words = { $words }

# Pressure for a fastener.
given-rated-bar = rated pressure
given-gauge-doubt = expanded uncertainty of the pressure gauge
given-gauge-doubt-step = expanded uncertainty of the pressure gauge: its step, two at the work place (common practice, no source)
given-most-force = most force of the fastener
given-least-force = least force of the fastener
pressure-source = { $source }
pressure-air = Pressure at the inlet, at stall, trigger held
pressure-oil = Pressure at the head, at stall
pressure-set = { $bar } bar
pressure-from-to = { $least } to { $most } bar
pressure-at-least = At least { $least } bar, never above { $most } bar, on a gauge that is right to ± { $gauge } bar.
pressure-between = { $least } to { $most } bar, on a gauge that is right to ± { $gauge } bar.
pressure-pull = At { $bar } bar the pull is { $low } to { $high } kN.
pressure-cycling = Pressure while the tool cycles tells about time, not force.
pressure-caution = Set it as the tool's maker says, with air off and bled or pump off and lines at zero before you reach into the nose.
pressure-none = No pressure
pressure-no-supply = The tool has neither air nor oil from outside: no pressure sets its force.
pressure-missing = The model sheet leaves out: { $keys } (under supply).
pressure-above-rating = The fastener needs { $needs } kN. The tool is rated { $rated } kN. Use a stronger tool.
pressure-not-reached = With friction it would take { $needs } bar. The tool is rated for { $rated } bar. Use a stronger tool.
pressure-between-steps = No step of the gauge lies between { $least } and { $most } bar. Use a finer gauge.
