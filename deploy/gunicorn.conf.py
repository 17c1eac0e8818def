"""Settings of the WSGI server, each with its reason. Every one can be set by the environment."""

import atexit
import os
import shutil
import signal
import sys
import tempfile
from pathlib import Path

from flankwise_service.config import BadSettings, Settings

# The kernel keeps TERM from the first process of a container until that handles it, so that a stop
# during the start would last until SIGKILL. Gunicorn puts its own handler here once it has started,
# which must stay when HUP reads this file again: its workers would outlive it.
if signal.getsignal(signal.SIGTERM) is signal.SIG_DFL:
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))

# Before anything is made or opened: a wrong setting stops the start with one line that names it.
try:
    _settings = Settings.from_environment()
except BadSettings as _error:
    sys.exit(f"flankwise doesn't start: {_error}")

# Loopback unless told: the buffering proxy stands in front and is what the shop's network sees.
# Several addresses are separated by commas; `unix:PATH` is one too.
bind = _settings.bind.split(",")

# Every request is computed in Python, so more processes than cores only queue up.
workers = _settings.workers

# gunicorn's gthread, which answers heads that can't be read as all else is answered. Idle kept-open
# connections cost no thread; one that is new, or slow, holds one until its request is there. With 4
# threads a worker, 16 callers who connect at once wait twice as long in the worst hundredth as with
# 16, with 2 ten times. Threads do not add speed.
worker_class = "flankwise_service.worker.Worker"
threads = _settings.threads
keepalive = 75  # longer than the proxy's 60 s, so that the proxy is the one that closes

# A plan takes milliseconds; a worker silent for half a minute is stuck and is replaced.
timeout = 30
graceful_timeout = 20  # shorter than the 30 s that container runtimes wait before SIGKILL

# The app is loaded before the fork: pages are shared, and a broken import stops the start at once.
preload_app = True

# Arrays here are small: further threads of numpy's would only take processor time from the start.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# A worker leaves after many requests, at its own moment, so no leak can grow for months.
max_requests = _settings.max_requests
max_requests_jitter = 20000

# Header limits: the longest honest request line is a designation; the rest is refused with 414/431.
limit_request_line = 4094
limit_request_fields = 50
limit_request_field_size = 4094

# The worker's heartbeat file must not sit on a disk that can fill up or stall.
worker_tmp_dir = "/dev/shm" if os.path.isdir("/dev/shm") else None

# Nobody commands it but by signals: one socket for all services of a user would be in the way.
control_socket_disable = True

# Only the proxy on this machine may say who the caller was.
forwarded_allow_ips = _settings.proxy

# The app writes one JSON line a request itself; gunicorn adds only its own errors.
accesslog = None
errorlog = "-"
loglevel = "warning"

# Workers count into files of one folder, so that whichever is asked for /metrics adds up all.
# It is this run's own and goes with it; in memory, since counting must not wait for a disk. Its
# name tells whose it is: HUP reads this file again, and USR2 hands a new master this variable.
_named = Path(os.environ.get("PROMETHEUS_MULTIPROC_DIR", ""))
if _named.name == "" or (
    _named.name.startswith("flankwise-counts-")
    and not _named.name.startswith(f"flankwise-counts-{os.getpid()}-")
):
    os.environ.pop("PROMETHEUS_MULTIPROC_DIR", None)
    try:
        os.environ["PROMETHEUS_MULTIPROC_DIR"] = tempfile.mkdtemp(
            prefix=f"flankwise-counts-{os.getpid()}-", dir=worker_tmp_dir
        )
    except OSError as _error:
        print(f"each worker counts for itself: {_error}", file=sys.stderr)


def when_ready(server):
    """Say it where other machines can ask and no token is asked for."""
    from flankwise_service.doors import warning  # noqa: PLC0415

    state = getattr(server.app.wsgi(), "extensions", {}).get("flankwise")
    if state is not None:
        said = warning((one.sock.getsockname() for one in server.LISTENERS), state.access)
        if said:
            server.log.warning(said)


def post_worker_init(worker):
    """Have the worker's own counts begin, in a folder made anew where it was cleared away."""
    state = getattr(worker.wsgi, "extensions", {}).get("flankwise")
    if state is not None:
        state.meter.begin_worker()


def child_exit(server, worker):
    """Take what a worker that is gone had under way out of the counts."""
    # Imported late: it looks at the variable set above when it is loaded.
    from prometheus_client import multiprocess  # noqa: PLC0415

    if "PROMETHEUS_MULTIPROC_DIR" in os.environ:
        multiprocess.mark_process_dead(worker.pid)


def _leave_nothing(folder, master):
    if os.getpid() == master and folder.name.startswith(f"flankwise-counts-{master}-"):
        shutil.rmtree(folder, ignore_errors=True)


def on_exit(server):
    """Leave nothing behind."""
    _leave_nothing(Path(os.environ.get("PROMETHEUS_MULTIPROC_DIR", "")), os.getpid())


# Where the start fails later, gunicorn calls no hook.
atexit.register(_leave_nothing, Path(os.environ.get("PROMETHEUS_MULTIPROC_DIR", "")), os.getpid())
