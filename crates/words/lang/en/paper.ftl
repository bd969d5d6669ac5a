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
paper-waived = Signed off with a reason
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
paper-gauge-beyond = Beyond the calibration of the gauge: not evidence
paper-in-doubt = IN DOUBT: see “Readings in doubt”
paper-report-doubt-reason = Handed back all the same by { $name }: { $reason }
paper-report-doubts-since = Not told when the tool went back:
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
paper-cover-in-part = Covered in part
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
paper-working-as = Formulas and source as under
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
paper-next-due = now: due at { $pulls }
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

# The notice of joints in doubt.
paper-suspect-title = Notice: joints in doubt
paper-suspect-lead = This tool was found setting bad joints, or outside its limits. Joints that it set before may be bad, too.
paper-suspect-engineer = Show this notice to the engineer of record. Whether joints stay, are looked at one by one, or go is for the engineer of record, the drawing and the local code.
paper-suspect-found = What was found, with the tool as it came
paper-suspect-when = When
paper-suspect-since = Since when, and how many
paper-suspect-last-good = Last good check
paper-suspect-pulls = Joints since
paper-suspect-set-for = What the tool was set up for since then
paper-suspect-whence = Set up in
paper-suspect-set-for-unknown = The record does not say. The owner knows what it was used for.
paper-suspect-inspect = What to look at on the joints
paper-suspect-clear = Keep people and load away from what these joints hold until the engineer of record has said how to go about it.
paper-suspect-clear-source = common practice, no source
paper-suspect-eye = By eye, too: what was found on the joints above may be found on others.
paper-suspect-not-all = This notice does not say which joints are bad, nor that the others are good.
paper-suspect-received = Received: name and day

# Quote.
paper-quote-title = Quote
paper-revision = Revision
paper-valid-until = Holds until
paper-quote-changed = Changed against the revision before
paper-yes = Yes
paper-no = No
paper-line-covered = under warranty
paper-to-pay = To pay for the repair
paper-compared = Repair or replace
paper-quote-replaced = It holds no more and is kept for the record only: do not sign it.
paper-quote-valid = This quote holds until { $day }.
paper-quote-terms = Each line is rounded to the cent, half a cent up; tax is the tax of the day of issue. A yes holds for this revision only. What is found inside may change the price: then you are asked again before the work goes on.
paper-quote-answer = Answer on record
paper-quote-sign = Tick yes or no at each option, sign, and return it to the shop, or tell the shop by telephone.
paper-signature-customer = Customer: name, day, signature

# Warranty claim and return note.
paper-claim-title = Warranty claim
paper-sold = Sold
paper-first-used = First used
paper-decided-by = Decides
paper-missing-internal = Missing: the claim may be refused without
paper-voided = Found, and voids the maker's warranty:
paper-to-send = To send with it
paper-claim-verdict = This is what the shop's record says. Whoever grants the warranty decides.
paper-judged-by = Judged by
paper-note-title = Return note
paper-ended = Ended
paper-missing = Asked for, and not sent
paper-went = Went along
paper-recorded-pulls = Recorded pulls
paper-recording-lost = The recording is lost; the figures stand in the record.
paper-pull = Pull
paper-peak = Peak
paper-stroke = Stroke
