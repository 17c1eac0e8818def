"""Fuzzes one target, guided by the code it covers, for a bounded time.

python tests/faults/fuzz/fuzz.py designation --seconds 60

New inputs are gathered in .cache/fuzz-corpus; those that fail stand there as crash-... files. Put
a small one that shows something new into tests/faults/fuzz/corpus, where every run tries it.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import atheris

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "service"), str(ROOT / "sdk"), str(ROOT / "tests")]

with atheris.instrument_imports(include=["flankwise_service", "faults"]):
    from faults.fuzz.targets import TARGETS


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("target", choices=TARGETS)
    parser.add_argument("--seconds", type=int, default=60)
    parser.add_argument("--longest", type=int, default=4096, help="longest input, in bytes")
    asked = parser.parse_args()
    gathered = ROOT / ".cache" / "fuzz-corpus" / asked.target
    gathered.mkdir(parents=True, exist_ok=True)
    own = Path(__file__).with_name("corpus") / asked.target
    options = [sys.argv[0], f"-max_total_time={asked.seconds}", f"-max_len={asked.longest}",
               "-timeout=10", "-rss_limit_mb=2048", "-print_final_stats=1", "-verbosity=0",
               f"-artifact_prefix={gathered}/", str(gathered), str(own)]  # fmt: skip
    atheris.Setup(options, TARGETS[asked.target])
    atheris.Fuzz()


if __name__ == "__main__":
    main()
