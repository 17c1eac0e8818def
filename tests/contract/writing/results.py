"""The SDK's typed results and requests, made from the schemas of replies and requests."""

from __future__ import annotations

import inspect
import keyword
import textwrap
from collections.abc import Iterator
from typing import Any

from marshmallow import fields as base

from flankwise_service.web import fields
from flankwise_service.web.operation import Operation

RESERVED = {"raw", "of", "to_dict", "to_csv", "save_program"}
SPECIAL = {
    "PlanReply": "PlanResult",
    "ProgramReply": "ProgramResult",
    "HelixReply": "PathResult",
    "BlankPathReply": "PathResult",
    "SheetDrawingReply": "DrawnResult",
}
"""Results that can do more than others, with the base that holds what (flankwise/special.py)."""
RESULTS_HEAD = '''\
"""What the service replies, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from flankwise.asks import JobAsk
from flankwise.result import Result
from flankwise.special import DrawnResult, PathResult, PlanResult, ProgramResult

__all__ = [
{names}]
'''
ASKS_HEAD = '''\
"""The objects that requests hold, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from typing import Any, Literal, TypedDict

__all__ = [
{names}]
'''


def results_text(operations: dict[str, Operation]) -> str:
    """Return the text of sdk/flankwise/results.py."""
    schemas = _replies(operations)
    head = RESULTS_HEAD.format(names=_names(schemas))
    return "\n\n".join([head, *(_result(name, schemas[name]) for name in schemas)])


def _replies(operations: dict[str, Operation]) -> dict[str, type[fields.Schema]]:
    schemas: dict[str, type[fields.Schema]] = {}
    for declared in operations.values():
        if declared.replies is not None:
            _collect(declared.replies, schemas, answered=True)
    return schemas


def asks_text(operations: dict[str, Operation]) -> str:
    """Return the text of sdk/flankwise/asks.py: the objects nested in requests."""
    schemas: dict[str, type[fields.Schema]] = {}
    for declared in operations.values():
        for field in declared.asks().fields.values():
            for inner in _schemas_in(field):
                _collect(inner, schemas)
    for repeated in _asks_in(_replies(operations)):
        _collect(repeated, schemas)
    head = ASKS_HEAD.format(names=_names(schemas))
    return "\n\n".join([head, *(_ask(name, schemas[name]) for name in schemas)])


def _names(schemas: dict[str, Any]) -> str:
    return "".join(f'    "{name}",\n' for name in sorted(schemas))


def _collect(
    schema: type[fields.Schema], found: dict[str, type[fields.Schema]], *, answered: bool = False
) -> None:
    """Note `schema` after everything it holds, so that each class is defined before its use."""
    if schema.__name__ in found:
        return
    for field in schema().fields.values():
        for inner in _schemas_in(field):
            if inner is not schema and not (answered and _asked(inner)):
                _collect(inner, found, answered=answered)
    found[schema.__name__] = schema


def _asked(schema: type[fields.Schema]) -> bool:
    """A reply that repeats a request holds it as such: a dict that can be sent again."""
    return schema.__name__.endswith("Ask")


def _asks_in(replies: dict[str, type[fields.Schema]]) -> Iterator[type[fields.Schema]]:
    for schema in replies.values():
        for field in schema().fields.values():
            yield from filter(_asked, _schemas_in(field))


def _schemas_in(field: base.Field[Any]) -> Iterator[type[fields.Schema]]:
    if isinstance(field, fields.Nested):
        yield type(field.schema)
    elif isinstance(field, (fields.ListOf, fields.MapOf)):
        yield from _schemas_in(field.inner)


def _doc(schema: type[fields.Schema], indent: str = "    ") -> str:
    text = inspect.cleandoc(schema.__doc__ or "")
    if not text or schema.__doc__ == fields.Schema.__doc__:
        text = f"{schema.__name__} of the contract."
    text = text.replace("\\", "\\\\").replace('"""', "'''")
    return textwrap.indent(f'"""{text}\n"""' if "\n" in text else f'"""{text}"""', indent)


def _attribute(name: str) -> str:
    if name in RESERVED:
        raise ValueError(f"a field can't be named {name}: results use that name themselves")
    return name + "_" if keyword.iskeyword(name) else name


def _result(name: str, schema: type[fields.Schema]) -> str:
    made = schema().fields
    base_name = SPECIAL.get(name, "Result")
    lines = [
        "@dataclass(frozen=True, slots=True, repr=False, eq=False)",
        f"class {name}({base_name}):",
    ]
    lines += [_doc(schema), ""]
    for key, field in made.items():
        lines.append(f"    {_attribute(key)}: {_type(field, result=True)}")
        lines.append(textwrap.indent(_wrapped_doc(field), "    "))
    lines += ["", "    @classmethod", f"    def of(cls, raw: Mapping[str, Any]) -> {name}:"]
    lines += ['        """Return the result that `raw` holds."""', "        return cls("]
    lines += ["            raw=raw,"]
    lines += [f"            {_attribute(key)}={_build(field, key)}," for key, field in made.items()]
    lines += ["        )", ""]
    return "\n".join(lines)


def _wrapped_doc(field: base.Field[Any]) -> str:
    said = str(field.metadata.get("description", "")).replace("\\", "\\\\").replace('"', "'")
    lines = textwrap.wrap(said, 90)
    if len(lines) < 2:
        return f'"""{said}"""'
    return '"""' + "\n".join(lines) + '\n"""'


def _type(field: base.Field[Any], *, result: bool) -> str:
    bare = _bare_type(field, result=result)
    optional = field.allow_none or (result and not field.required)
    return f"{bare} | None" if optional and bare != "Any" else bare


def _bare_type(field: base.Field[Any], *, result: bool) -> str:
    if isinstance(field, fields.Nested):
        return type(field.schema).__name__
    if isinstance(field, fields.ListOf):
        inner = _type(field.inner, result=result)
        return f"tuple[{inner}, ...]" if result else f"list[{inner}]"
    if isinstance(field, fields.MapOf):
        inner = _type(field.inner, result=result)
        return f"Mapping[str, {inner}]" if result else f"dict[str, {inner}]"
    if isinstance(field, fields.OneOf):
        return "Literal[" + ", ".join(f'"{word}"' for word in field.choices) + "]"
    if isinstance(field, fields.Count):
        return "int"
    if isinstance(field, fields.Number):
        return "float"
    if isinstance(field, fields.Flag):
        return "bool"
    if isinstance(field, fields.Text):
        return "str"
    return "Any"


def _build(field: base.Field[Any], key: str) -> str:
    if not _built(field):
        return f'raw["{key}"]' if field.required else f'raw.get("{key}")'
    whole = _build_value(field, f'raw["{key}"]')
    if field.required and not field.allow_none:
        return whole
    asked = f'raw["{key}"]' if field.required else f'raw.get("{key}")'
    return f"None if {asked} is None else {whole}"


def _built(field: base.Field[Any]) -> bool:
    """Whether the value changes its type on the way from JSON to a result."""
    if isinstance(field, fields.Nested) and _asked(type(field.schema)):
        return False
    if isinstance(field, fields.MapOf):
        return _built(field.inner)
    return isinstance(field, (fields.Nested, fields.ListOf))


def _build_value(field: base.Field[Any], value: str, depth: int = 0) -> str:
    if isinstance(field, fields.Nested):
        return f"{type(field.schema).__name__}.of({value})"
    item = f"item{depth or ''}"
    if isinstance(field, fields.ListOf):
        if not _built(field.inner):
            return f"tuple({value})"
        return f"tuple({_build_item(field.inner, item, depth)} for {item} in {value})"
    if isinstance(field, fields.MapOf) and _built(field.inner):
        inner = _build_item(field.inner, item, depth)
        return f"{{name: {inner} for name, {item} in {value}.items()}}"
    return value


def _build_item(field: base.Field[Any], item: str, depth: int) -> str:
    made = _build_value(field, item, depth + 1)
    return f"None if {item} is None else {made}" if field.allow_none else made


def _ask(name: str, schema: type[fields.Schema]) -> str:
    made = schema().fields
    needed = {key: field for key, field in made.items() if field.required}
    rest = {key: field for key, field in made.items() if not field.required}
    if any(keyword.iskeyword(key) for key in made):
        raise ValueError(f"{name} has a field named as a word of Python")
    if not rest or not needed:
        total = "" if needed else ", total=False"
        return _typed_dict(name, f"TypedDict{total}", _doc(schema), made)
    base_name = f"_{name}Needed"
    doc = f'    """What {name} can\'t be without."""'
    return (
        _typed_dict(base_name, "TypedDict", doc, needed)
        + "\n\n"
        + _typed_dict(name, f"{base_name}, total=False", _doc(schema), rest)
    )


def _typed_dict(name: str, bases: str, doc: str, made: dict[str, base.Field[Any]]) -> str:
    lines = [f"class {name}({bases}):", doc, ""]
    for key, field in made.items():
        lines.append(f"    {key}: {_type(field, result=False)}")
        lines.append(textwrap.indent(_wrapped_doc(field), "    "))
    return "\n".join([*lines, ""])
