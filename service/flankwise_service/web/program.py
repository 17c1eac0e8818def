"""Program: the path as word-address text by ISO 6983 and RS-274, and a reader of such text."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service import __version__
from flankwise_service.core.errors import Refusal
from flankwise_service.core.program.doubts import doubts
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.offset_path import with_radius_offsets
from flankwise_service.core.program.program import Program, write_program
from flankwise_service.core.program.replay import replay_equals_path
from flankwise_service.core.program.setup import Operation, Setup, Tool
from flankwise_service.core.threads import parse
from flankwise_service.core.units import convert
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas import program as schemas
from flankwise_service.web.tools import segment_from

blueprint = Blueprint("program", __name__)
PLAIN = "text/plain"


def _setup(asked: dict[str, Any]) -> Setup:
    """Return core's setup; the designation is read, so that the header holds a real one only."""
    words = dict(asked["setup"])
    designation = words.pop("designation")
    try:
        thread = parse(designation) if designation else None
    except Refusal as refusal:
        raise refusal.under("/setup") from refusal
    words["remarks"] = tuple(words["remarks"])
    return Setup(unit=asked["unit"], thread=thread, version=__version__, **words)


def _operations(asked: dict[str, Any]) -> list[Operation]:
    return [
        Operation(
            Tool(**one["tool"]), [segment_from(piece) for piece in one["segments"]], one["title"]
        )
        for one in asked["operations"]
    ]


def _text(program: Program) -> str:
    return program.text


@operation(
    blueprint, "POST", "/program", id="program", heavy=True, tag="program", asks=schemas.ProgramAsk,
    replies=schemas.ProgramReply, summary="Program of a path", renders={PLAIN: _text},
    pointers={"/setup/unit": "/unit"},
)  # fmt: skip
def program(asked: dict[str, Any]) -> object:
    """Write paths as word-address text, and prove it before it leaves.

    The text is read back by an interpreter of our own and compared with the path, motion by
    motion: place within one count of the last printed digit, arc, feed, and modal state. What
    isn't equal is refused, never returned. Several operations make one program with tool changes.

    Prove it out in air first. The machine's own manual comes before this text.
    """
    return write_program(_setup(asked), _operations(asked))


@operation(
    blueprint, "POST", "/program/compare", id="program_compare", heavy=True, tag="program",
    asks=schemas.ProgramCompareAsk, replies=schemas.ReplayReply,
    summary="Is a program still the path it was made for?", pointers={"/setup/unit": "/unit"},
)  # fmt: skip
def program_compare(asked: dict[str, Any]) -> object:
    """Compare a program's text with the path it should hold, after an edit at the control, say.

    Refused with the line and what differs when the two aren't equal.
    """
    return replay_equals_path(asked["text"], _setup(asked), _operations(asked))


@operation(
    blueprint, "POST", "/program/replay", id="program_replay", heavy=True, tag="program",
    asks=schemas.ProgramReplayAsk, replies=schemas.ProgramReplayReply,
    summary="Read a program: its motions and its faults",
)  # fmt: skip
def program_replay(asked: dict[str, Any]) -> object:
    """Read word-address text strictly, and tell every motion with the modal state it runs under.

    Strict where a control may guess: unknown words, two words of one modal group, motions before
    unit, plane or G90, cuts with the spindle stopped are faults, each with its line. Motions are
    listed up to the first fault. A cut with no tool called, with no length offset, or under one
    whose number isn't the tool's is a caution: some controls and shops mean it so. With radius
    offsets the motions are those the tool makes when the control applies them.
    """
    reading = read_program(asked["text"])
    unit = reading.unit or asked["unit"]
    stored = {
        one["number"]: convert(one["value"], asked["unit"], unit) for one in asked["radius_offsets"]
    }
    motions = with_radius_offsets(reading, stored) if stored else reading.motions
    return {
        "unit": reading.unit,
        "motions": motions[: asked["most_motions"]],
        "motion_count": len(motions),
        "states": reading.states,
        "faults": reading.faults,
        "cautions": doubts(asked["text"], motions, reading.states),
        "blocks": reading.blocks,
        "ended": reading.ended,
        "dwell_seconds": reading.dwell_seconds,
        "comments": reading.comments,
    }
