"""The client: one method for each operation of the service."""

from __future__ import annotations

from collections.abc import Mapping
from types import TracebackType

from flankwise.calls.base import composed
from flankwise.calls.batch import BatchCalls
from flankwise.calls.cutting import CuttingCalls
from flankwise.calls.drawing import DrawingCalls
from flankwise.calls.form import FormCalls
from flankwise.calls.gauging import GaugingCalls
from flankwise.calls.gauging_corrections import GaugingCorrectionCalls
from flankwise.calls.health import HealthCalls
from flankwise.calls.path import PathCalls
from flankwise.calls.plan import PlanCalls
from flankwise.calls.program import ProgramCalls
from flankwise.calls.stock import StockCalls
from flankwise.calls.threads import ThreadsCalls
from flankwise.calls.threads_uses import ThreadsUsesCalls
from flankwise.transport import Timeout, Transport


class Client(
    HealthCalls,
    ThreadsCalls,
    ThreadsUsesCalls,
    FormCalls,
    GaugingCalls,
    GaugingCorrectionCalls,
    StockCalls,
    CuttingCalls,
    PathCalls,
    ProgramCalls,
    DrawingCalls,
    PlanCalls,
    BatchCalls,
    # One line per subject, in the order of the contract.
):
    """Asks a flankwise service. Threads may share one client.

    `base_url` is the address of the service (else FLANKWISE_URL), `token` a bearer token (else
    FLANKWISE_TOKEN). `timeout` is in seconds, or a pair (to connect, to read). A call that meets
    no answer, or 429, 502, 503 or 504, is sent again up to `retries` times after a random, growing
    wait, or after what the service asks for (Retry-After). `verify` (a CA bundle, or False), `cert`
    and `proxies` mean what they mean to requests; left out, the environment decides, as there.

    >>> with Client("http://127.0.0.1:8080") as shop:  # doctest: +SKIP
    ...     shop.threads_limits(designation="M20x1.5-6H", unit="mm")
    """

    EXTRAS = frozenset({"progress"})
    """Parameters of methods that the service never sees, such as callbacks."""

    def __init__(
        self,
        base_url: str | None = None,
        *,
        token: str | None = None,
        timeout: Timeout = (5.0, 60.0),
        retries: int = 4,
        verify: bool | str | None = None,
        cert: str | tuple[str, str] | None = None,
        proxies: Mapping[str, str] | None = None,
    ) -> None:
        self._transport = Transport(
            base_url,
            token=token,
            timeout=timeout,
            retries=retries,
            verify=verify,
            cert=cert,
            proxies=proxies,
        )

    @property
    def base_url(self) -> str:
        """The address of the service."""
        return self._transport.base_url

    @composed
    def close(self) -> None:
        """Close the pooled connections."""
        self._transport.close()

    def __enter__(self) -> Client:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
