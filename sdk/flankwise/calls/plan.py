"""Calls of the subject plan: the whole job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from flankwise.asks import (
    CutterForThreadAsk,
    JobAsk,
    JobBossAsk,
    JobCostsAsk,
    JobCuttingAsk,
    JobEndMillAsk,
    JobGaugingAsk,
    JobHoleAsk,
    JobMachineAsk,
    JobProgramAsk,
    JobStockAsk,
    JobThreadAsk,
)
from flankwise.calls.base import Calls, Unit, composed
from flankwise.documents import Drawing, Sheet
from flankwise.results import PlanCuttersReply, PlanReply

View = Literal["section", "path", "setup", "bar"]


class PlanCalls(Calls):
    """Plans of whole jobs. A job document is the keyword arguments of `plan` as JSON."""

    def plan(
        self,
        *,
        unit: Unit,
        thread: JobThreadAsk,
        stock: JobStockAsk,
        boss: JobBossAsk | None = None,
        hole: JobHoleAsk | None = None,
        cutter: CutterForThreadAsk | None = None,
        end_mill: JobEndMillAsk | None = None,
        machine: JobMachineAsk | None = None,
        cutting: JobCuttingAsk | None = None,
        program: JobProgramAsk | None = None,
        gauging: JobGaugingAsk | None = None,
        costs: JobCostsAsk | None = None,
        name: str | None = None,
        quantity: int | None = None,
        accept: Sequence[str] | None = None,
        made_by: str | None = None,
    ) -> PlanReply:
        """Return the whole job worked out; its `program` is None when a check refuses it.

        Raises `Refused` when no plan can be made at all, with every fault and what to change.

        >>> asked = service.good_requests("plan")["cutter, end mill and bar left to the plan"]
        >>> shop.plan(**asked).verdict
        'ready with cautions'
        """
        return self._post(
            "/v1/plan",
            PlanReply,
            unit=unit,
            thread=thread,
            stock=stock,
            boss=boss,
            hole=hole,
            cutter=cutter,
            end_mill=end_mill,
            machine=machine,
            cutting=cutting,
            program=program,
            gauging=gauging,
            costs=costs,
            name=name,
            quantity=quantity,
            accept=accept,
            made_by=made_by,
        )

    @composed
    def plan_document(self, job: Mapping[str, Any] | JobAsk) -> PlanReply:
        """Return the job of a whole document worked out, whatever the document holds.

        The `job` of an earlier plan is such a document: sent again it gives that plan.

        What a document holds too much is refused by the service, with the name likely meant.
        """
        return self._post("/v1/plan", PlanReply, **job)

    def plan_drawing(
        self,
        *,
        unit: Unit,
        view: View,
        thread: JobThreadAsk,
        stock: JobStockAsk,
        boss: JobBossAsk | None = None,
        hole: JobHoleAsk | None = None,
        cutter: CutterForThreadAsk | None = None,
        end_mill: JobEndMillAsk | None = None,
        machine: JobMachineAsk | None = None,
        cutting: JobCuttingAsk | None = None,
        program: JobProgramAsk | None = None,
        gauging: JobGaugingAsk | None = None,
        costs: JobCostsAsk | None = None,
        name: str | None = None,
        quantity: int | None = None,
        accept: Sequence[str] | None = None,
        made_by: str | None = None,
    ) -> Drawing:
        """Return one drawing of a plan as SVG text.

        >>> asked = service.good_requests("plan_drawing")["the path"]
        >>> shop.plan_drawing(**asked)[:4]
        '<svg'
        """
        drawn = self._post_text(
            "/v1/plan/drawing",
            "image/svg+xml",
            unit=unit,
            view=view,
            thread=thread,
            stock=stock,
            boss=boss,
            hole=hole,
            cutter=cutter,
            end_mill=end_mill,
            machine=machine,
            cutting=cutting,
            program=program,
            gauging=gauging,
            costs=costs,
            name=name,
            quantity=quantity,
            accept=accept,
            made_by=made_by,
        )
        return Drawing(drawn)

    def plan_sheet(
        self,
        *,
        unit: Unit,
        thread: JobThreadAsk,
        stock: JobStockAsk,
        boss: JobBossAsk | None = None,
        hole: JobHoleAsk | None = None,
        cutter: CutterForThreadAsk | None = None,
        end_mill: JobEndMillAsk | None = None,
        machine: JobMachineAsk | None = None,
        cutting: JobCuttingAsk | None = None,
        program: JobProgramAsk | None = None,
        gauging: JobGaugingAsk | None = None,
        costs: JobCostsAsk | None = None,
        name: str | None = None,
        quantity: int | None = None,
        accept: Sequence[str] | None = None,
        made_by: str | None = None,
    ) -> Sheet:
        """Return the printable sheet of the plan as one HTML page.

        >>> asked = service.good_requests("plan_sheet")["sheet as a page"]
        >>> shop.plan_sheet(**asked)[:15]
        '<!doctype html>'
        """
        page = self._post_text(
            "/v1/plan/sheet",
            "text/html",
            unit=unit,
            thread=thread,
            stock=stock,
            boss=boss,
            hole=hole,
            cutter=cutter,
            end_mill=end_mill,
            machine=machine,
            cutting=cutting,
            program=program,
            gauging=gauging,
            costs=costs,
            name=name,
            quantity=quantity,
            accept=accept,
            made_by=made_by,
        )
        return Sheet(page)

    def plan_cutters(
        self,
        *,
        unit: Unit,
        cutters: Sequence[CutterForThreadAsk],
        thread: JobThreadAsk,
        stock: JobStockAsk,
        boss: JobBossAsk | None = None,
        hole: JobHoleAsk | None = None,
        cutter: CutterForThreadAsk | None = None,
        end_mill: JobEndMillAsk | None = None,
        machine: JobMachineAsk | None = None,
        cutting: JobCuttingAsk | None = None,
        program: JobProgramAsk | None = None,
        gauging: JobGaugingAsk | None = None,
        costs: JobCostsAsk | None = None,
        name: str | None = None,
        quantity: int | None = None,
        accept: Sequence[str] | None = None,
        made_by: str | None = None,
    ) -> PlanCuttersReply:
        """Return the cutters ranked by the whole plan each would give.

        >>> asked = service.good_requests("plan_cutters")["three at hand"]
        >>> shop.plan_cutters(**asked).cutters[0].name
        'small'
        """
        return self._post(
            "/v1/plan/cutters",
            PlanCuttersReply,
            unit=unit,
            cutters=cutters,
            thread=thread,
            stock=stock,
            boss=boss,
            hole=hole,
            cutter=cutter,
            end_mill=end_mill,
            machine=machine,
            cutting=cutting,
            program=program,
            gauging=gauging,
            costs=costs,
            name=name,
            quantity=quantity,
            accept=accept,
            made_by=made_by,
        )
