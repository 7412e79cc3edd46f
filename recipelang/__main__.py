"""`python -m recipelang`, and the console command."""

from __future__ import annotations

import sys


def main() -> int:
    from recipelang.commands import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
