"""`recipelang trace NAME FIGURE`: where one figure comes from, step by step to its sources."""

from __future__ import annotations

import argparse
import sys

from recipelang.commands import CommandError
from recipelang.commands.opening import open_for, recipe_named


def run(options: argparse.Namespace) -> int:
    from recipelang.output.tracing import UnknownFigure, trace_lines

    workspace = open_for(options.workspace, options.school_year)
    ref = recipe_named(workspace, options.name)
    try:
        lines = trace_lines(workspace.library, ref, " ".join(options.figure))
    except UnknownFigure as error:
        raise CommandError(str(error)) from None
    sys.stdout.write("\n".join(lines) + "\n")
    return 0
