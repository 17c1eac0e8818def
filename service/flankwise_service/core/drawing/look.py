"""How drawings look: named colours for light and for dark, and the styles that use them.

Every colour that carries meaning comes with a second sign, a dash or a label, so that a drawing
can be read without colours, and printed.
"""

from __future__ import annotations

LIGHT = {
    "paper": "#fcfbf7", "ink": "#22303c", "faint": "#7b8794", "body": "#d9dfe3",
    "grain": "#b4bec6", "band": "#f0c46a", "cut": "#0b5fa5", "lead": "#a04a00",
    "rapid": "#6b7280", "bar": "#e9edf0", "zero": "#b3261e",
}  # fmt: skip
DARK = {
    "paper": "#161b20", "ink": "#e4e9ee", "faint": "#94a1ad", "body": "#3a454f",
    "grain": "#56636f", "band": "#8f6a1c", "cut": "#7cc0ff", "lead": "#ffb37a",
    "rapid": "#a3adb8", "bar": "#2a333b", "zero": "#ff8a80",
}  # fmt: skip


def _named(colours: dict[str, str]) -> str:
    """Return the colours as declarations."""
    return "".join(f"--fw-{name}:{value};" for name, value in colours.items())


STYLE = (
    f"svg.fw{{{_named(LIGHT)}max-width:100%;height:auto;color-scheme:light dark}}"
    f"@media (prefers-color-scheme:dark){{svg.fw{{{_named(DARK)}}}}}"
    f"@media print{{svg.fw{{{_named(LIGHT)}}}}}"
    ".fw text{font-family:sans-serif;font-size:15px;fill:var(--fw-ink);"
    "font-variant-numeric:tabular-nums}"
    ".fw .halo{paint-order:stroke;stroke:var(--fw-paper);stroke-width:5px;stroke-linejoin:round}"
    ".fw .head{font-size:17px;font-weight:600}"
    ".fw .small{font-size:12.5px;fill:var(--fw-faint)}"
    ".fw .paper{fill:var(--fw-paper)}"
    ".fw .body{fill:var(--fw-body)}"
    ".fw .bar{fill:var(--fw-bar);stroke:var(--fw-ink);stroke-width:1.4}"
    ".fw .part{fill:var(--fw-body);stroke:var(--fw-ink);stroke-width:1.4}"
    ".fw .hole{fill:var(--fw-paper);stroke:var(--fw-ink);stroke-width:1.4}"
    ".fw .band{fill:var(--fw-band);fill-opacity:.85}"
    ".fw .line,.fw .edge,.fw .basic,.fw .cut,.fw .lead,.fw .rapid,.fw .dim,.fw .axis,.fw .hidden,"
    ".fw .grain,.fw .tool,.fw .boss{fill:none;stroke-linejoin:round;stroke-linecap:round}"
    ".fw .line{stroke:var(--fw-ink);stroke-width:1.4}"
    ".fw .edge{stroke:var(--fw-ink);stroke-width:1}"
    ".fw .basic{stroke:var(--fw-faint);stroke-width:1.2;stroke-dasharray:10 3 2 3}"
    ".fw .cut{stroke:var(--fw-cut);stroke-width:2}"
    ".fw .lead{stroke:var(--fw-lead);stroke-width:1.6;stroke-dasharray:7 3}"
    ".fw .boss{stroke:var(--fw-lead);stroke-width:1.2}"
    ".fw .rapid{stroke:var(--fw-rapid);stroke-width:1.1;stroke-dasharray:2 4}"
    ".fw .tool{stroke:var(--fw-ink);stroke-width:1;stroke-dasharray:6 4}"
    ".fw .hidden{stroke:var(--fw-ink);stroke-width:1;stroke-dasharray:5 3}"
    ".fw .axis{stroke:var(--fw-faint);stroke-width:.9;stroke-dasharray:14 3 3 3}"
    ".fw .grain{stroke:var(--fw-grain);stroke-width:1}"
    ".fw .dim{stroke:var(--fw-faint);stroke-width:.9}"
    ".fw .arrow{fill:var(--fw-faint)}"
    ".fw .grain{fill:none;stroke:var(--fw-grain);stroke-width:1}"
    ".fw .zero{fill:var(--fw-zero)}"
    ".fw .jaw{fill:var(--fw-grain);fill-opacity:.5;stroke:var(--fw-ink);stroke-width:1}"
    ".fw .zero-ring{fill:var(--fw-paper);stroke:var(--fw-zero);stroke-width:1.6}"
    ".fw .zero-line{fill:none;stroke:var(--fw-zero);stroke-width:1.6}"
)
