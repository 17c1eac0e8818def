"""Gauging: over wires and balls, limits over them, gauges, and the correction from a measurement.

groove.py the thread's groove; section.py the handbook's formulas; helicoid.py the exact rest of a
wire or ball; over_wires.py readings both ways; measure.py a measurement and its uncertainty,
against the limits; correction.py what to do at the control; gauges.py go and no-go.
"""
