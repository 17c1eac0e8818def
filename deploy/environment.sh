# Sourced by deploy/demo, tests/run and the benches: finds a Python that is new enough and makes a
# virtual environment from the pins, once per set of pins. Leaves its path in $environment.
#
#   make_environment NAME PINS     NAME: folder below .cache/; PINS: a file of deploy/pins/

say() { printf '%s\n' "$*" >&2; }

find_python() {
    for candidate in ${FLANKWISE_PYTHON:-} python3.11 python3.12 python3.13 python3.14 python3 python; do
        if "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            command -v "$candidate"
            return 0
        fi
    done
    found=$(python3 --version 2>/dev/null || echo "no python3 at all")
    say "flankwise needs Python 3.11 or newer; this machine has: $found"
    say "Install a newer one, or name it: FLANKWISE_PYTHON=/path/to/python3.12"
    return 1
}

make_environment() {
    environment=.cache/$1
    pins=deploy/pins/$2
    python=$(find_python) || exit 3
    stamp=$(cat "$pins" pyproject.toml | cksum; "$python" -V; pwd)
    if [ -f "$environment/made-from" ] && [ "$(cat "$environment/made-from")" = "$stamp" ]; then
        return 0
    fi
    say "making the environment $environment with $("$python" -V) (once, a minute or so) ..."
    rm -rf "$environment" || { say "$environment can't be removed: is another run making it?"; exit 4; }
    mkdir -p .cache
    if ! "$python" -m venv "$environment"; then
        say "Python's venv module is missing: on Debian, install python3-venv"
        exit 3
    fi
    # The pins are the whole closure. Left to look for dependencies, an older pip refuses them on
    # the day when a newer release of one of them appears.
    "$environment/bin/pip" install --quiet --disable-pip-version-check --no-deps --require-hashes \
        -r "$pins" ||
        { say "the packages could not be fetched: is the package index in reach?"; exit 4; }
    "$environment/bin/pip" install --quiet --disable-pip-version-check \
        --no-deps --no-build-isolation --editable . || exit 4
    "$environment/bin/pip" check --quiet --disable-pip-version-check >&2 || exit 4
    printf '%s\n' "$stamp" >"$environment/made-from"
}
