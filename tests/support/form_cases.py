"""Cases of our own for the form, in millimetres: every kind of thread the closed form claims."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.form.model import Cut, single
from flankwise_service.core.threads.model import Side
from support.mesh_section import Stand


@dataclass(frozen=True)
class Case:
    name: str
    side: Side
    pitch: float
    starts: int
    cutter_radius: float
    centre_radius: float
    flank_upper: float
    flank_lower: float
    tip_width: float
    depth: float
    tip_radius: float = 0.0
    taper: float = 0.0

    @property
    def cut(self) -> Cut:
        tooth = Tooth(
            self.flank_upper, self.flank_lower, self.tip_width, self.depth, self.tip_radius
        )
        return single(
            tooth,
            self.cutter_radius,
            self.side,
            self.pitch,
            self.centre_radius,
            self.starts,
            self.taper,
        )

    @property
    def stand(self) -> Stand:
        return Stand(
            self.cutter_radius,
            self.centre_radius,
            self.pitch * self.starts,
            self.flank_upper,
            self.flank_lower,
            self.tip_width,
            self.depth,
            self.tip_radius,
            self.taper,
        )

    @property
    def radii(self) -> tuple[float, float, float]:
        """Near the root, about the pitch line, near the crest."""
        root, inward = self.cut.root_radius, -self.cut.outward
        depth = 0.92 * self.depth
        return tuple(root + inward * depth * share for share in (0.06, 0.45, 0.95))  # type: ignore[return-value]


CASES = (
    Case("internal 60, cutter 0.9 of the hole", "internal", 1.25, 1, 3.0, 1.0, 30, 30, 0.15625, 0.75),
    Case("internal 60, small cutter", "internal", 1.25, 1, 1.6, 2.42, 30, 30, 0.12, 0.75),
    Case("internal 60, fine pitch, large bore", "internal", 1.5, 1, 8.0, 2.05, 30, 30, 0.15, 0.95),
    Case("external 60, small cutter", "external", 1.25, 1, 3.0, 6.3235, 30, 30, 0.15625, 0.75),
    Case("external 60, large cutter", "external", 1.25, 1, 10.0, 13.3235, 30, 30, 0.15625, 0.75),
    Case("internal 60, two starts", "internal", 1.25, 2, 3.0, 1.1, 30, 30, 0.12, 0.75),
    Case("internal 60, four starts, corner cuts", "internal", 1.25, 4, 3.0, 1.1, 30, 30, 0.1, 0.75),
    Case("external 29, one start", "external", 5.08, 1, 12.0, 21.92, 14.5, 14.5, 1.75, 2.9),
    Case("external 29, three starts", "external", 5.08, 3, 12.0, 21.92, 14.5, 14.5, 1.7, 2.9),
    Case("internal 29, large cutter", "internal", 3.175, 1, 9.0, 3.9, 14.5, 14.5, 1.05, 1.9),
    Case("internal 29, two starts, small cutter", "internal", 3.175, 2, 5.0, 7.9, 14.5, 14.5, 1.0, 1.9),
    Case("internal 60, taper 1:16", "internal", 1.411, 1, 4.0, 2.7, 30, 30, 0.06, 1.1, 0.0, 1 / 16),
    Case("external 60, taper 1:16", "external", 1.411, 1, 6.0, 11.9, 30, 30, 0.06, 1.1, 0.0, -1 / 16),
    Case("external 55, taper 1:16, round tip", "external", 1.814, 1, 6.0, 15.4, 27.5, 27.5, 0.301, 1.1, 0.245, -1 / 16),
    Case("internal 60, round tip", "internal", 1.25, 1, 2.6, 1.42, 30, 30, 0.2, 0.75, 0.1),
    Case("external buttress 45/7", "external", 3.0, 1, 8.0, 18.5, 45, 7, 0.8, 1.8, 0.1),
)  # fmt: skip
