"""Calls of the subject threads: which one is it, do two mate, plating, strength."""

from __future__ import annotations

from typing import Literal

from flankwise.calls.base import Calls, Unit
from flankwise.calls.threads import Side
from flankwise.results import (
    ClassPairsReply,
    IdentifyReply,
    MatingReply,
    PlatingReply,
    StrengthReply,
)


class ThreadsUsesCalls(Calls):
    """Identify a thread, put two together, cut before plating, and what a joint holds."""

    def threads_identify(
        self,
        *,
        crest_diameter: float,
        side: Side,
        unit: Unit,
        diameter_uncertainty: float,
        pitch_uncertainty: float,
        pitch: float | None = None,
        threads_per_inch: float | None = None,
        most: int = 10,
    ) -> IdentifyReply:
        """Return the threads that a measured crest and pitch could be, likeliest first.

        The crest is the major diameter outside and the minor diameter inside. Give `pitch` or
        `threads_per_inch`. Each candidate says what would tell it from the first.

        >>> shop.threads_identify(
        ...     crest_diameter=0.87,
        ...     side="external",
        ...     unit="in",
        ...     threads_per_inch=14,
        ...     diameter_uncertainty=0.001,
        ...     pitch_uncertainty=0.0005,
        ... ).candidates[0].designation
        '7/8-14 UNF'
        """
        return self._get(
            "/v1/threads/identify",
            IdentifyReply,
            crest_diameter=crest_diameter,
            side=side,
            unit=unit,
            pitch=pitch,
            threads_per_inch=threads_per_inch,
            diameter_uncertainty=diameter_uncertainty,
            pitch_uncertainty=pitch_uncertainty,
            most=most,
        )

    def threads_mating(self, *, external: str, internal: str, unit: Unit) -> MatingReply:
        """Return clearances and overlap of two threads, or why they don't mate.

        >>> shop.threads_mating(
        ...     external="5/16-20 UN-2A", internal="M8-6H", unit="mm"
        ... ).pitch_diameter.least
        0.10648
        """
        return self._get(
            "/v1/threads/mating", MatingReply, external=external, internal=internal, unit=unit
        )

    def threads_class_pairs(self, designation: str, *, unit: Unit) -> ClassPairsReply:
        """Return the clearance on pitch diameter of every pair of classes of one size.

        >>> shop.threads_class_pairs("7/8-14 UNF", unit="in").pairs[0].least
        0.0016
        """
        return self._get(
            "/v1/threads/class-pairs", ClassPairsReply, designation=designation, unit=unit
        )

    def threads_plating(
        self,
        designation: str,
        *,
        unit: Unit,
        least_thickness: float,
        greatest_thickness: float,
        side: Side | None = None,
        ceiling: Literal["basic size", "class limits"] = "basic size",
    ) -> PlatingReply:
        """Return the limits to cut to before a coat of given thickness per side.

        >>> shop.threads_plating(
        ...     "M10-6g", unit="mm", least_thickness=0.005, greatest_thickness=0.008
        ... ).pitch_diameter_factor
        4.0
        """
        return self._get(
            "/v1/threads/plating",
            PlatingReply,
            designation=designation,
            unit=unit,
            side=side,
            least_thickness=least_thickness,
            greatest_thickness=greatest_thickness,
            ceiling=ceiling,
        )

    def threads_strength(
        self,
        *,
        external: str,
        internal: str,
        unit: Unit,
        engagement: float,
        external_strength: float,
        internal_strength: float,
    ) -> StrengthReply:
        """Return stress and shear areas, what gives way first, and the least engagement.

        Strengths are ultimate tensile strengths in one unit of stress (psi with inches gives lbf,
        MPa with millimetres gives N). Static figures: where lives hang on it, ask an engineer.

        >>> round(
        ...     shop.threads_strength(
        ...         external="M10-6g",
        ...         internal="M10-6H",
        ...         unit="mm",
        ...         engagement=10,
        ...         external_strength=800,
        ...         internal_strength=310,
        ...     ).tensile_stress_area,
        ...     6,
        ... )
        57.989475
        """
        return self._get(
            "/v1/threads/strength",
            StrengthReply,
            external=external,
            internal=internal,
            unit=unit,
            engagement=engagement,
            external_strength=external_strength,
            internal_strength=internal_strength,
        )
