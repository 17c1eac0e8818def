"""What changed between two contracts, and which of it breaks a caller.

A caller relies on what it may send and on what it will be given. So a request may only be allowed
more than before, and a reply may only promise more:

    request   nothing taken away, nothing newly required, no limit narrowed, no word taken away,
              and what is left out means what it meant
    reply     nothing taken away, nothing promised less, no null and no word that wasn't there

Words (summaries, descriptions, examples) break nobody and aren't looked at.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

WORDS = {"summary", "description", "examples", "title"}
METHODS = ("get", "post", "put", "patch", "delete")
OPEN_ENUMS = {"Problem.code", "Fault.code"}
"""Callers are told to expect further words here."""
LOWER = ("minimum", "exclusiveMinimum", "minLength", "minItems")
UPPER = ("maximum", "exclusiveMaximum", "maxLength", "maxItems")
Json = dict[str, Any]


def relied_on(contract: Json) -> Json:
    """Return the contract without its words: what a released one is kept as."""
    kept: Json = _bare(contract)
    return {**kept, "info": {"title": "flankwise", "version": contract["info"]["version"]}}


def breaking(old: Json, new: Json) -> list[str]:
    """Return what would break a caller of `old` when it meets `new`, each with its place."""
    return list(dict.fromkeys(_Comparison(old, new).operations()))


def wanted_raise(old: Json, new: Json) -> str:
    """Return which number of the version must be raised: "major", "minor" or "" for none."""
    if breaking(old, new):
        return "major"
    before, after = relied_on(old), relied_on(new)
    return "" if {**before, "info": 0} == {**after, "info": 0} else "minor"


def is_raised(old: str, new: str, wanted: str) -> bool:
    """Return whether version `new` says at least what is wanted.

    >>> is_raised("1.4.2", "1.5.0", "minor"), is_raised("1.4.2", "1.5.0", "major")
    (True, False)
    """
    before, after = _numbers(old), _numbers(new)
    if wanted == "major":
        return after[0] > before[0]
    return after[:2] > before[:2] if wanted == "minor" else after >= before


def _numbers(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.split("."))


def _bare(value: Any, *, named: bool = False) -> Any:
    """Leave words out, but not a field or a schema that happens to be named as one of them."""
    if isinstance(value, dict):
        return {
            key: _bare(inner, named=key in ("properties", "schemas", "headers", "x-limits-by-unit"))
            for key, inner in value.items()
            if named or key not in WORDS
        }
    return [_bare(inner) for inner in value] if isinstance(value, list) else value


class _Comparison:
    def __init__(self, old: Json, new: Json) -> None:
        self.old, self.new = old, new
        self._seen: set[tuple[str, bool]] = set()

    def operations(self) -> Iterator[str]:
        for path, methods in self.old["paths"].items():
            for method in METHODS:
                if method not in methods:
                    continue
                where = f"{method.upper()} {path}"
                after = self.new["paths"].get(path, {}).get(method)
                if after is None:
                    yield f"{where}: taken away"
                else:
                    yield from self._operation(where, methods[method], after)

    def _operation(self, where: str, old: Json, new: Json) -> Iterator[str]:
        if old["operationId"] != new["operationId"]:
            yield f"{where}: operation id {old['operationId']} is now {new['operationId']}"
        if {} in old.get("security", [{}]) and {} not in new.get("security", [{}]):
            yield f"{where}: a token is needed now"
        yield from self._parameters(where, old, new)
        yield from self._body(where, old.get("requestBody"), new.get("requestBody"))
        for status, reply in old["responses"].items():
            if status not in new["responses"]:
                if status < "400":
                    yield f"{where}: no reply {status} any more"
                continue
            after = self._followed(new["responses"][status], self.new)
            yield from self._reply(f"{where} {status}", self._followed(reply, self.old), after)

    def _parameters(self, where: str, old: Json, new: Json) -> Iterator[str]:
        before = {one["name"]: one for one in old.get("parameters", ())}
        after = {one["name"]: one for one in new.get("parameters", ())}
        for name, one in before.items():
            if name not in after:
                yield f"{where} ?{name}: taken away"
                continue
            if after[name]["required"] and not one["required"]:
                yield f"{where} ?{name}: required now"
            yield from self._schema(
                f"{where} ?{name}", one["schema"], after[name]["schema"], asked=True
            )
        for name in after.keys() - before.keys():
            if after[name]["required"]:
                yield f"{where} ?{name}: new and required"

    def _body(self, where: str, old: Json | None, new: Json | None) -> Iterator[str]:
        if old is None:
            if new is not None and new.get("required"):
                yield f"{where}: a body is needed now"
            return
        content = new["content"] if new else {}
        for kind, media in old["content"].items():
            if kind not in content:
                yield f"{where}: a body of {kind} isn't taken any more"
                continue
            before, after = media["schema"], content[kind]["schema"]
            if "x-each-line" in before and "x-each-line" in after:
                before, after = before["x-each-line"], after["x-each-line"]
            yield from self._schema(f"{where} body", before, after, asked=True)

    def _reply(self, where: str, old: Json, new: Json) -> Iterator[str]:
        for header in old.get("headers", {}):
            if header not in new.get("headers", {}):
                yield f"{where}: header {header} taken away"
        for kind, media in old.get("content", {}).items():
            after = new.get("content", {}).get(kind)
            if after is None:
                yield f"{where}: {kind} can't be asked for any more"
            else:
                yield from self._schema(where, media["schema"], after["schema"], asked=False)

    def _schema(self, where: str, old: Json, new: Json, *, asked: bool) -> Iterator[str]:
        old, new = _pointing(old), _pointing(new)
        if "$ref" in old and "$ref" in new:
            name = old["$ref"].rpartition("/")[2]
            yield from self._kinds(where, old, new, asked=asked)
            # A reply that repeats a request says no more than the request did.
            if (name, asked) in self._seen or (name.endswith("Ask") and not asked):
                return
            self._seen.add((name, asked))
            where = name
        old, new = self._followed(old, self.old), self._followed(new, self.new)
        yield from self._kinds(where, old, new, asked=asked)
        old, new = _not_null(old), _not_null(new)
        yield from self._words(where, old, new, asked=asked)
        yield from self._limits(where, old, new, asked=asked)
        yield from self._properties(where, old, new, asked=asked)
        for key in ("items", "additionalProperties"):
            if isinstance(old.get(key), dict) and isinstance(new.get(key), dict):
                yield from self._schema(f"{where}[]", old[key], new[key], asked=asked)

    def _kinds(self, where: str, old: Json, new: Json, *, asked: bool) -> Iterator[str]:
        before, after = _types(old), _types(new)
        lost = (before - after) if asked else (after - before)
        if not after:  # anything goes
            lost = set() if asked else before
        elif not before:
            lost = after if asked else set()
        if asked and "number" in after:
            lost -= {"integer"}
        if not asked and "number" in before:
            lost -= {"integer"}
        for kind in sorted(lost):
            yield (
                f"{where}: {kind} isn't taken any more" if asked else f"{where}: may be {kind} now"
            )

    def _words(self, where: str, old: Json, new: Json, *, asked: bool) -> Iterator[str]:
        before, after = old.get("enum"), new.get("enum")
        if asked and after is not None:
            lost = [word for word in before or ["(any)"] if word not in after]
            yield from (f"{where}: the word {word} isn't taken any more" for word in lost)
        elif not asked and before is not None and where not in OPEN_ENUMS:
            added = [word for word in after or ["(any)"] if word not in before]
            yield from (f"{where}: may be the word {word} now" for word in added)

    def _limits(self, where: str, old: Json, new: Json, *, asked: bool) -> Iterator[str]:
        if not asked:
            return
        for names, narrower in ((LOWER, 1), (UPPER, -1)):
            for name in names:
                if name in new and (name not in old or narrower * (new[name] - old[name]) > 0):
                    yield f"{where}: {name} {old.get(name, 'none')} is now {new[name]}"
        for unit, (least, greatest) in new.get("x-limits-by-unit", {}).items():
            before = old.get("x-limits-by-unit", {}).get(unit)
            if before and (least > before[0] or greatest < before[1]):
                yield f"{where}: limits in {unit} {before} are now {[least, greatest]}"
        if "default" in old and new.get("default") != old["default"]:
            yield f"{where}: left out it meant {old['default']}, now {new.get('default')}"
        if "pattern" in new and new["pattern"] != old.get("pattern"):
            yield f"{where}: another pattern"

    def _properties(self, where: str, old: Json, new: Json, *, asked: bool) -> Iterator[str]:
        before, after = old.get("properties", {}), new.get("properties", {})
        needed, needed_now = set(old.get("required", ())), set(new.get("required", ()))
        for name, schema in before.items():
            if name not in after:
                yield f"{where}.{name}: taken away"
                continue
            if asked and name in needed_now - needed:
                yield f"{where}.{name}: required now"
            if not asked and name in needed - needed_now:
                yield f"{where}.{name}: may be left out now"
            yield from self._schema(f"{where}.{name}", schema, after[name], asked=asked)
        if asked:
            for name in sorted((after.keys() - before.keys()) & needed_now):
                yield f"{where}.{name}: new and required"

    @staticmethod
    def _followed(value: Json, contract: Json) -> Json:
        while "$ref" in value:
            found = contract
            for step in value["$ref"].removeprefix("#/").split("/"):
                found = found[step]
            value = found
        return value


def _pointing(schema: Json) -> Json:
    """Return "this or null" as a reference that is marked so: an object, or none."""
    for one in schema.get("anyOf", ()):
        if "$ref" in one:
            return {"$ref": one["$ref"], "type": ["object", "null"]}
    return {"$ref": schema["$ref"], "type": "object"} if "$ref" in schema else schema


def _not_null(schema: Json) -> Json:
    if "enum" not in schema:
        return schema
    return {**schema, "enum": [word for word in schema["enum"] if word is not None]}


def _types(schema: Json) -> set[str]:
    kinds = schema.get("type", [])
    return {kinds} if isinstance(kinds, str) else set(kinds)
