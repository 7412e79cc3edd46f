"""`python -m recipelang`, and the console command."""

from __future__ import annotations

import gc
import io
import os
import sys


def main() -> int:
    """Runs the command line of this process and returns its exit code."""
    from recipelang.commands import run

    gc.set_threshold(100_000)  # nearly all that is made is kept: looking for garbage ever so often finds none
    if sys.stdout is None:  # closed by whoever started us: the exit code is all that is asked for
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w")  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        # a name with an accent must print under any locale, and into any pipe
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
