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
