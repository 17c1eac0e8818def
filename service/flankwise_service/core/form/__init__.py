"""The form really cut: the axial section that a turning tooth leaves when its axis runs on a helix.

Order of reading: model (what is cut), overcut (first order, by hand), envelope (exact),
section (measured like a thread on a bench), correction (the radius that lands it on size).
"""
