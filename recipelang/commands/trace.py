"""`recipelang trace NAME FIGURE`: where one figure of a recipe or menu comes from, step by step to its sources."""

from __future__ import annotations

import argparse
import sys

from recipelang.commands import CommandError
from recipelang.commands.opening import named, open_for
from recipelang.evaluate.names import is_recipe
from recipelang.text.visible import printable


def run(options: argparse.Namespace) -> int:
    from recipelang.output.tracing import UnknownFigure, trace_lines

    workspace = open_for(options.workspace, options.school_year)
    ref = named(workspace, options.name)
    facts, figure = workspace.facts, " ".join(options.figure)
    try:
        if is_recipe(facts, ref):
            lines = trace_lines(facts, ref, figure)
        else:
            from recipelang.output.menu_tracing import menu_trace_lines

            lines = menu_trace_lines(facts, ref, figure)
    except UnknownFigure as error:
        raise CommandError(str(error)) from None
    sys.stdout.write(printable("\n".join(lines) + "\n"))
    return 0
