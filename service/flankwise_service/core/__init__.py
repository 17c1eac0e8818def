"""The trade, computed: pure functions that know nothing of HTTP.

The rule of this folder: no Flask, no marshmallow, no files, no clock, no global that changes.
Lengths go in and come out in one unit; `units.py` is the only place where inch meets millimetre.
What can't be computed with confidence raises a `Refusal` (`errors.py`), never a fallback number.
"""
