"""Writes all that follows from the schemas and routes. One command: python tests/contract/write.py

    openapi/examples/*.json                      each request played again, its reply recorded
    openapi/openapi.yaml                         the contract
    service/flankwise_service/web/openapi.json   the same, as the service serves it
    sdk/flankwise/results.py, asks.py            the SDK's types
    sdk/flankwise/testing/recorded.ndjson        the examples, for the SDK's fake service

With --check it writes nothing and ends with 1 when a file is not as it should be. With --release
it also freezes what callers rely on as openapi/released/VERSION.yaml, which later contracts are
held against.
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "service"), str(ROOT / "sdk"), str(ROOT / "tests")]

from contract.writing.files import files, released  # noqa: E402


def main(arguments: list[str]) -> int:
    """Write the files, or only look whether they would change."""
    stale = []
    wanted = files() | (released() if "--release" in arguments else {})
    for path, text in wanted.items():
        if path.exists() and path.read_text("utf-8") == text:
            continue
        stale.append(path.relative_to(ROOT))
        if "--check" not in arguments:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
    said = "stale" if "--check" in arguments else "written"
    for name in stale:
        print(f"{said}: {name}")
    return 1 if stale and "--check" in arguments else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
