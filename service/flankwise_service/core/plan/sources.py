"""Where a plan's figures come from."""

from __future__ import annotations

from flankwise_service.core.cutting.materials import Material, force_figures
from flankwise_service.core.gauging.taper_gauge import taper_gauge
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.threads.model import Source


def sources(at: Sizes, found: Material) -> tuple[Source, ...]:
    """Return the sources of thread, taper gauge and material, each once.

    >>> from flankwise_service.core.cutting.material_table import MATERIALS
    >>> from flankwise_service.core.cutting.materials import material
    >>> from flankwise_service.core.plan.job import ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> at = sizes(ThreadAsked("R 1/2", 13.0), "mm")
    >>> "ISO 7-2" in [one.document for one in sources(at, material("303", MATERIALS))]
    True
    """
    kc11, mc = force_figures(found)
    windows = (window.surface_speed_m_per_min.source for window in found.windows)
    gauge = (taper_gauge(at.limits)[1],) if at.taper else ()
    figures = (kc11.source, mc.source, found.density_g_per_cm3.source)
    every = (*at.limits.source, *gauge, *figures, *windows)
    return tuple(dict.fromkeys(every))
