"""Calls of the subject program."""

from __future__ import annotations

from collections.abc import Sequence

from flankwise.asks import ProgramOperationAsk, ProgramSetupAsk, RadiusOffsetAsk
from flankwise.calls.base import Calls, Unit
from flankwise.results import ProgramReplayReply, ProgramReply, ReplayReply


class ProgramCalls(Calls):
    """Word-address text written, compared and read."""

    def program(
        self,
        *,
        unit: Unit,
        setup: ProgramSetupAsk,
        operations: Sequence[ProgramOperationAsk],
    ) -> ProgramReply:
        """Return the program of the operations, proved equal to their paths.

        Prove it out in air first; the machine's own manual comes before this text.

        >>> asked = service.good_requests("program")[
        ...     "internal metric thread with a radius offset"
        ... ]
        >>> shop.program(**asked).blocks
        22
        """
        return self._post(
            "/v1/program", ProgramReply, unit=unit, setup=setup, operations=operations
        )

    def program_compare(
        self,
        *,
        unit: Unit,
        setup: ProgramSetupAsk,
        operations: Sequence[ProgramOperationAsk],
        text: str,
    ) -> ReplayReply:
        """Return how near a program's text is to its paths; refused where it isn't equal.

        >>> asked = service.good_requests("program_compare")["as it was written"]
        >>> shop.program_compare(**asked).equal
        True
        """
        return self._post(
            "/v1/program/compare",
            ReplayReply,
            unit=unit,
            setup=setup,
            operations=operations,
            text=text,
        )

    def program_replay(
        self,
        *,
        unit: Unit,
        text: str,
        radius_offsets: Sequence[RadiusOffsetAsk] | None = None,
        most_motions: int | None = None,
    ) -> ProgramReplayReply:
        """Return the motions and the faults of a program's text.

        `unit` is that of `radius_offsets`; the text sets its own.

        >>> asked = service.good_requests("program_replay")["faults are listed by line"]
        >>> shop.program_replay(**asked).motion_count
        1
        """
        return self._post(
            "/v1/program/replay",
            ProgramReplayReply,
            unit=unit,
            text=text,
            radius_offsets=radius_offsets,
            most_motions=most_motions,
        )
