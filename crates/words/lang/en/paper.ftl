# What a gauge bar says to those who cannot see it.
gauge-bar-label = { $what }: { $value } { $unit }, { $verdict }

paper-failed = The document could not be made. Nothing is lost; the log says why.

# On every document.
paper-page = Page { $page } of { $pages }
paper-record-entry = Record entry { $sequence }
paper-job = Job
paper-serial = serial
paper-code = code
paper-structure = This document does not say that any structure is safe: that is for the engineer of record, the drawing and the local code.

# Make-safe lines of the set-up card.
paper-before-fingers = Before a key or a finger enters the nose:
paper-make-safe-battery = pack out, trigger pressed once.
paper-make-safe-air = air off and bled, trigger pressed once.
paper-make-safe-pump = pump off, both lines at zero, couplers parted.

# Set-up card.
paper-card-title = Set-up card
paper-signed-off = signed off by
paper-adjuster = Adjuster
paper-turn = turn
paper-turns = turns
paper-full-stroke = Full stroke
paper-force = By force
paper-force-why = Adjuster fully open: the pressure that is held ends the pull.
paper-pressure = Pressure
paper-full-stroke-why = Adjuster fully open: this fastener parts its own tail.
paper-last-move = The last move
paper-key = Turned with
paper-inside = Probability of a good joint, by the trial joints
paper-interval = About 95 %, turns
paper-nose-set = Nose set
paper-collet = Collet
paper-look-alike = Look-alike
paper-stick-out = Stick-out
paper-measured = Measured
paper-good-joint = A good joint
paper-recheck = Check again:
paper-recheck-joints = after { $joints ->
    [one] every joint
   *[other] { $joints } joints
}, at the start of each shift, and after any change of nose, carton or stack.
paper-cards-title = Set-up cards
paper-card-scan = Scan to set it again, and to tell the shop.
paper-joint-scale = Drawn { $scale }, limits in mm. Edges with limits are to scale, the rest is a sketch.
paper-joint-fat = Collar larger than { $limit } mm: anvil worn or wrong, or too weak a pull.
paper-joint-stop = Beyond a limit: mark the joint, stop, find out why. No second pull unless the drawing's owner says so.
paper-maker-first = The maker's instructions come first.

# Service report.
paper-report-title = Service report
paper-number = No.
paper-pulls = pulls
paper-customer = Customer
paper-received = Received
paper-tested = Tested
paper-issued = Issued
paper-unrepaired = Returned unrepaired
paper-complaint = Complaint, in the customer's words
paper-condition = On arrival
paper-found = Found
paper-check = Check
paper-answer = Answer
paper-remark = Seen
paper-tests = Bench tests, as found and as left
paper-not-run = Not run as found:
paper-test = Test and limits
paper-as-found = As found
paper-as-left = As left
paper-where-alone = Where “value alone decides” stands:
paper-value-alone = value alone decides
paper-gauge-out-of-date = Gauge out of date: not evidence
paper-decision-rule = Decision rule.
paper-uncertainty = The figure after ± is the expanded uncertainty, for about 95 % coverage.
paper-wear = Wear, fit and closing, as measured
paper-wear-limits = Part and limits
paper-used-stale = Used after that: its readings are not evidence
paper-torques = Torques
paper-joint = Joint and limits
paper-thread = Thread
paper-as-tightened = As tightened
paper-parts = Parts renewed
paper-part = Part
paper-part-number = Number
paper-reason = Reason
paper-counter = At pulls
paper-warranty = Warranty
paper-cover-covered = Covered
paper-cover-not-covered = Not covered
paper-cover-cannot-tell = Cannot tell
paper-term = Term
paper-evidence = Evidence
paper-price = Price
paper-item = Item
paper-count = Count
paper-each = Each
paper-sum = Sum
paper-net = Before tax
paper-tax = Tax
paper-total = Total
paper-customer-yes = Customer's answer: yes.
paper-customer-no = Customer's answer: no.
paper-setting = Set up for
paper-fastener = Fastener
paper-grip-code = Grip code
paper-joints = Trial joints
paper-found-joints = Joints as found
paper-joint-number = No.
paper-turns-head = Turns
paper-full = full
paper-seen = Seen
paper-verdict = Verdict
paper-instruments = Instruments
paper-tag = Tag
paper-instrument = Instrument
paper-expanded = ± (k = 2)
paper-due = Calibrated until
paper-deviations = Left out, or passed with a reason
paper-corrections = Corrections
paper-what = What
paper-by = By
paper-workings = Workings
paper-source = Source
paper-method = method
paper-handed-over = Handed over
paper-this-item = These results concern this tool alone, as it stood on the day of test.
paper-authorised-by = Authorised by
paper-record = Record
paper-end = End of report { $number }
paper-signature = Signature
paper-renewed = Renewed, double ring: { $parts }.

# Care sheet.
paper-care-title = Care sheet
paper-care-shift = At the start of each shift
paper-care-counter = By counter and calendar
paper-care-task = Task
paper-care-every = Every
paper-care-next = Next
paper-care-done = Done: pulls, day, name
paper-every-pulls = { $pulls } pulls
paper-every-days = { $days ->
    [one] day
   *[other] { $days } days
}
paper-every-either = { $pulls } or { $days }, whichever comes first
paper-next-pulls = at { $pulls }
paper-next-either = { $pulls } or { $day }
paper-next-now = now
paper-care-inside = What is inside
paper-care-lubricants = Lubricants
paper-care-cautions = Cautions
paper-care-call = Anything else, or a joint beyond its limits: stop and call.
paper-care-issued = Issued { $day } for job { $job }
paper-care-as-of = Counter at issue

# Label.
paper-label-says = Label: { $what }
paper-label-job = Job { $job }
paper-label-due = Due { $due }
