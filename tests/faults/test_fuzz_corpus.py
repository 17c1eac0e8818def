"""Every input the fuzzer's corpus holds, and bytes made from them, still meet their targets.

The long form, guided by coverage, is `sh tests/faults/fuzz/run`.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from faults.fuzz.targets import TARGETS

CORPUS = Path(__file__).with_name("fuzz") / "corpus"
HELD = {name: [file.read_bytes() for file in sorted((CORPUS / name).iterdir())] for name in TARGETS}
PIECES = (b"", b"\n", b"\r", b"\0", b"(", b")", b"%", b";", b"9" * 40, b"e999", b"-", b"\xff", b"NaN",
          b"\xe2\x80\xae", b"[", b"}", b'"', b" ", b"G0 Z-9", b"null", b"true", b"1e-320")  # fmt: skip


@pytest.mark.parametrize("name", TARGETS)
def test_what_the_corpus_holds(name: str) -> None:
    assert len(HELD[name]) > 10
    for data in HELD[name]:
        TARGETS[name](data)


@st.composite
def changed(draw: st.DrawFn, name: str) -> bytes:
    """An input of the corpus with a few pieces cut out, put in, or taken from another."""
    data = draw(st.sampled_from(HELD[name]))
    for _ in range(draw(st.integers(1, 3))):
        begin = draw(st.integers(0, len(data)))
        end = draw(st.integers(begin, min(len(data), begin + 8)))
        piece = draw(st.sampled_from(PIECES) | st.binary(max_size=6))
        data = data[:begin] + piece + data[end:]
    return data


@pytest.mark.parametrize("name", TARGETS)
def test_inputs_made_from_the_corpus(name: str) -> None:
    @settings(max_examples=150, deadline=None, derandomize=True, database=None,
              phases=[Phase.generate], suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(changed(name))
    def meet(data: bytes) -> None:
        TARGETS[name](data)

    meet()
