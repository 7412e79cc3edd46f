"""Makes the parser's tables while a wheel is built, so that the first run on a new machine has them.

Making them takes Lark longer than all the rest of a first check. An editable install gets none, for there the grammar
may change at any time: its tables are kept in the user's cache folder.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from setuptools.command.build_py import build_py

MAKE = "import sys, pathlib; from recipelang.syntax.tables import keep_tables; keep_tables(pathlib.Path(sys.argv[1]))"


class BuildTables(build_py):
    """Setuptools' copying of the package, and then the tables beside the grammar's copy."""

    def run(self) -> None:
        super().run()
        if not self.editable_mode:
            folder = Path(self.build_lib)
            environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(folder.resolve()), *sys.path])}
            grammar = str(folder.resolve() / "recipelang" / "grammar")
            subprocess.run([sys.executable, "-c", MAKE, grammar], env=environment, check=True, cwd=folder)
