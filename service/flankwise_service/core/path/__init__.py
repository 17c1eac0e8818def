"""The path of the cutter, as a stream of straight and helical segments.

    thread_path(Helix)   the helix itself, with its lead-ins, lead-outs and links
    boss_path, bore_path the blank turned by profile milling, the hole bored by helical boring
    as_lines             any path as chords, for a control without helical arcs
    Tally                length, turns, height and bounding box, gathered while a path streams by
    closest_approach     least clearance of cutter, neck, shank and holder from the stock

Paths are generators: a million segments need no more memory than ten.
Every coordinate is that of the cutter axis at the mid-plane of the lowest tooth.
"""
