"""Calls of the subject threads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from flankwise.calls.base import Calls, Unit, composed
from flankwise.results import LimitsReply, ListedThreadReply, ThreadPageReply, ThreadReply

Side = Literal["external", "internal"]


class ThreadsCalls(Calls):
    """Limits of size, designations read, and the list of all there are."""

    def threads_limits(
        self,
        designation: str,
        *,
        unit: Unit,
        side: Side | None = None,
        edition: str | None = None,
        crest_least: float | None = None,
        crest_greatest: float | None = None,
    ) -> LimitsReply:
        """Return the limits of size of a thread, every length in `unit`.

        `side` is needed where the designation doesn't say it; `edition` names an older edition
        whose tables to reproduce; `crest_least` and `crest_greatest` are the limits on the drawing
        of a Unified thread with modified crests (MOD). A designation that names no standard thread
        is `Refused`.

        >>> shop.threads_limits("M20x1.5-6H", unit="mm").pitch_diameter.max
        19.216
        """
        return self._get(
            "/v1/threads/limits",
            LimitsReply,
            designation=designation,
            unit=unit,
            side=side,
            edition=edition,
            crest_least=crest_least,
            crest_greatest=crest_greatest,
        )

    def threads_read(self, designation: str, *, unit: Unit) -> ThreadReply:
        """Return what a designation says: size, pitch, lead, hand, class, lengths in `unit`.

        >>> shop.threads_read("M16xPh3P1.5-6H", unit="mm").pitch
        1.5
        """
        return self._get("/v1/threads/read", ThreadReply, designation=designation, unit=unit)

    def threads_list(
        self,
        search: str = "",
        *,
        family: str | None = None,
        offset: int = 0,
        limit: int = 100,
    ) -> ThreadPageReply:
        """Return one page of the designations that hold every word of `search`.

        >>> shop.threads_list("M8x1.1").total
        0
        """
        return self._get(
            "/v1/threads",
            ThreadPageReply,
            search=search,
            family=family,
            offset=offset,
            limit=limit,
        )

    @composed
    def threads_each(
        self, search: str = "", *, family: str | None = None, page: int = 1000
    ) -> Iterator[ListedThreadReply]:
        """Yield every designation that holds each word of `search`, page after page."""
        offset = 0
        while True:
            found = self.threads_list(search, family=family, offset=offset, limit=page)
            yield from found.threads
            offset += page
            if offset >= found.total:
                return
