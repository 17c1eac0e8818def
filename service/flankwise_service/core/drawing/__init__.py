"""Drawing: the section, the path, the bar and the setup as SVG text, to scale.

    section_drawing(limits, cut, pitch_diameter_cut)   section with tolerance bands and the cut
    path_drawing(scene, segments)                      the path from above and from the side
    hexagon_drawing(scene, thread_diameter)            the hexagon bar, plan and elevation
    setup_drawing(scene, heights)                      zero point, heights, tool

No script, nothing loaded from elsewhere; every text is escaped. Light and dark follow the reader's
setting. Each drawing carries a title and a description for those who can't see it.
"""
