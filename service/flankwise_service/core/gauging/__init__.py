"""Gauging: over wires and balls, limits over them, gauges, and the correction from a measurement.

groove.py       the thread's groove, all that doesn't depend on its measured size
section.py      the handbook's formulas, lead taken as zero
helicoid.py     the exact rest of a wire or ball on both flanks
over_wires.py   readings both ways
wire_fit.py     which wires can tell the pitch diameter at all
taper_gauge.py  how far a taper gauge may screw on
limits_over.py  limits of the reading, and the best of the wires at hand
measure.py      a measurement, its uncertainty and the verdict
correction.py   what to change at the control; response.py: by how the thread answered
inspection.py   one reading, all the way
gauges.py       go and no-go
"""
