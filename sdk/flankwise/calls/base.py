"""What the calls of every subject are made of."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Literal, Protocol, TypeVar

from flankwise import __version__
from flankwise.errors import Incompatible
from flankwise.transport import Transport

Unit = Literal["in", "mm"]
Progress = Callable[[int], None]
"""Called with the number done so far."""


class Buildable(Protocol):
    """A result type: it builds itself from a reply."""

    @classmethod
    def of(cls, raw: Any) -> Any:
        """Return the result that `raw` holds."""


ReplyT = TypeVar("ReplyT", bound=Buildable)


class Calls:
    """Base of the mixins: sends what was asked, builds the result from the reply."""

    _transport: Transport

    def _get(self, path: str, kind: type[ReplyT], /, **query: Any) -> ReplyT:
        return build(kind, self._transport.get_json(path, query))

    def _post(self, path: str, kind: type[ReplyT], /, **body: Any) -> ReplyT:
        return build(kind, self._transport.post_json(path, _given(body)))

    def _get_text(self, path: str, media_type: str, /, **query: Any) -> str:
        reply = self._transport.get(path, query, media_type)
        return reply.content.decode()

    def _post_text(self, path: str, media_type: str, /, **body: Any) -> str:
        reply = self._transport.post(path, _given(body), media_type)
        return reply.content.decode()

    def _stream(self, path: str, media_type: str, /, **body: Any) -> Iterator[bytes]:
        reply = self._transport.post(path, _given(body), media_type, stream=True)
        return self._transport.lines(reply)


CallT = TypeVar("CallT", bound=Callable[..., Any])


def composed(method: CallT) -> CallT:
    """Mark a method that is no operation of the service itself, but made of others."""
    method.is_composed = True  # type: ignore[attr-defined]
    return method


def build(kind: type[ReplyT], raw: Any) -> ReplyT:
    """Return the `kind` that `raw` holds; say so when the reply isn't what the contract tells."""
    try:
        result: ReplyT = kind.of(raw)
    except (KeyError, TypeError) as error:
        raise Incompatible(
            f"the reply isn't the {kind.__name__} that this client, {__version__}, knows "
            f"({error!r}); the service may be older"
        ) from error
    return result


def _given(body: dict[str, Any]) -> dict[str, Any]:
    return {name: _plain(value) for name, value in body.items() if value is not None}


def _plain(value: Any) -> Any:
    """Results may be given where a request wants their object: they go back as they came."""
    raw = getattr(value, "raw", None)
    if raw is not None:
        return dict(raw)
    if isinstance(value, (list, tuple)):
        return [_plain(item) for item in value]
    if isinstance(value, Mapping):
        return {name: _plain(item) for name, item in value.items()}
    return value
