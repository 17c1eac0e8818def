"""Settings of the WSGI server, each with its reason. Every one can be set by the environment."""

import os
import shutil
import signal
import sys
import tempfile

# The kernel keeps TERM from the first process of a container until that handles it, so that a stop
# during the start would last until SIGKILL. Gunicorn puts its own handler here once it has started,
# which must stay when HUP reads this file again: its workers would outlive it.
if signal.getsignal(signal.SIGTERM) is signal.SIG_DFL:
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))

# Loopback unless told: the buffering proxy stands in front and is what the shop's network sees.
# Several addresses are separated by commas; `unix:PATH` is one too.
bind = os.environ.get("FLANKWISE_BIND", "127.0.0.1:8000").split(",")

# Every request is computed in Python, so more processes than cores only queue up.
workers = int(os.environ.get("FLANKWISE_WORKERS", str(min(os.cpu_count() or 1, 8))))

# gunicorn's gthread, which answers heads that can't be read as all else is answered. Idle kept-open
# connections cost no thread; one that is new, or slow, holds one until its request is there. With 4
# threads a worker, 16 callers who connect at once wait twice as long in the worst hundredth as with
# 16, with 2 ten times. Threads do not add speed.
worker_class = "flankwise_service.worker.Worker"
threads = int(os.environ.get("FLANKWISE_THREADS", "16"))
keepalive = 75  # longer than the proxy's 60 s, so that the proxy is the one that closes

# A plan takes milliseconds; a worker silent for half a minute is stuck and is replaced.
timeout = 30
graceful_timeout = 20  # shorter than the 30 s that container runtimes wait before SIGKILL

# The app is loaded before the fork: pages are shared, and a broken import stops the start at once.
preload_app = True

# Arrays here are small: further threads of numpy's would only take processor time from the start.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# A worker leaves after many requests, at its own moment, so no leak can grow for months.
max_requests = int(os.environ.get("FLANKWISE_MAX_REQUESTS", "200000"))
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
forwarded_allow_ips = os.environ.get("FLANKWISE_PROXY", "127.0.0.1")

# The app writes one JSON line a request itself; gunicorn adds only its own errors.
accesslog = None
errorlog = "-"
loglevel = "warning"

# Workers count into files of one folder, so that whichever is asked for /metrics adds up all.
# It is this run's own and goes with it; in memory, since counting must not wait for a disk.
_own = "PROMETHEUS_MULTIPROC_DIR" not in os.environ
if _own:
    os.environ["PROMETHEUS_MULTIPROC_DIR"] = tempfile.mkdtemp(
        "-flankwise-counts", dir=worker_tmp_dir
    )


def child_exit(server, worker):
    """Take what a worker that is gone had under way out of the counts."""
    # Imported late: it looks at the variable set above when it is loaded.
    from prometheus_client import multiprocess  # noqa: PLC0415

    multiprocess.mark_process_dead(worker.pid)


def on_exit(server):
    """Leave nothing behind."""
    if _own:
        shutil.rmtree(os.environ["PROMETHEUS_MULTIPROC_DIR"], ignore_errors=True)
