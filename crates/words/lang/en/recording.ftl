# What is wrong with a recording from the bench rig.
recording-role-force = force
recording-role-stroke = stroke
recording-role-time = time
recording-not-text = Line { $line }: this is no text. Export the recording as CSV from the logger.
recording-not-text-but = Line { $line }: this is no text but { $kind }. Export the recording as CSV from the logger.
recording-no-numbers = Line { $line }: no rows of numbers were found. Check that this is the logger's file.
recording-no-column = Line { $line }: no column is headed as { $role }. Say in the rig's profile which one it is.
recording-several-columns = Line { $line }: columns { $columns } may all be { $role }. Say in the rig's profile which one it is.
recording-no-unit = Line { $line }: the unit of { $role } is not given. Say it in the rig's profile; for volts, the scale too.
recording-mixed-units = Line { $line }: { $role } is in { $after }, before it was in { $before }. Check which is right.
recording-not-a-number = Line { $line }: { $role } is no number: “{ $text }”. The row is left out.
recording-short-row = Line { $line }: the row has not all columns. It is left out.
recording-truncated = Line { $line }: the file ends in the middle of a pull or of a row. Export it again.
recording-starts-loaded = Line { $line }: the recording begins under load, so the zero is not known. Start the logger before the pull.
recording-time-backwards = Line { $line }: time goes back by { $by } s.
recording-dropped = Line { $line }: { $count } samples are missing before it.
recording-saturated = Line { $line }: the force stands at { $force } kN for { $count } samples. The cell or its amplifier is at its end: the peak is not known.
recording-force-inverted = Line { $line }: the force has the wrong sign. It was turned. Check the cell's wiring or the scale in the rig's profile.
recording-stroke-inverted = Line { $line }: the stroke falls while the tool pulls. It was turned. Check the scale in the rig's profile.
recording-merged = Line { $line }: a second pull begins without rest after the first. They were cut here.
recording-no-pull = Line { $line }: there is no pull up to here. Check the columns, the units and the force from which a pull is seen.
recording-too-many-rows = Line { $line }: more than { $count } rows. What comes after them is left out.
recording-more = Line { $line }: { $count } more faults are not shown.

# How the numbers of a pull come about.
given-pull-zero = what the cell shows at rest
given-pull-noise = standard deviation of the force's noise
given-pull-drift = drift of the zero over the recording, taken off
given-accepted-pulls = accepted pulls that the band is made of
given-band-share = share of good pulls inside, about
note-pull-butterworth = H: Butterworth low-pass of order { $order }, { $cutoff } Hz, forwards and back. A filter takes some of a sharp peak: the raw one stands beside it.
note-pull-savitzky-golay = H: Savitzky–Golay, { $window } samples, degree { $degree }. A filter takes some of a sharp peak: the raw one stands beside it.
note-pull-no-filter = H: no filter.
note-band = Like the good ones if d + w ≤ k, unlike them if d − w > k, else undecided. m and s are mean and spread of the accepted pulls where d stands.
