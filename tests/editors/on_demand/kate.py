"""Kate on a screen of its own, set up as editors/kate/README.md says: a picture of a recipe with its finding.

    python -m tests.editors.on_demand.kate OUT.png

Needs Kate, Xvfb, dbus-run-session and ImageMagick: apt-get install kate xvfb dbus imagemagick.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.architecture.project import ROOT
from tests.editors.library import write_library
from tests.editors.sessions import SEARCHED

DISPLAY = ":87"
SECONDS_TO_SETTLE = 12


def main(picture: Path) -> None:
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        folder = Path(name)
        cup = write_library(folder / "library")
        home = folder / "home"
        set_up(home)
        environment = {
            **os.environ, "PATH": SEARCHED, "HOME": str(home), "DISPLAY": DISPLAY, "XDG_RUNTIME_DIR": str(home),
            "XDG_CONFIG_HOME": str(home / ".config"), "XDG_DATA_HOME": str(home / ".local/share"),
            "QT_QPA_PLATFORM": "xcb", "LC_ALL": "C.UTF-8",
        }  # fmt: skip
        screen = subprocess.Popen(["Xvfb", DISPLAY, "-screen", "0", "1280x800x24"], stderr=subprocess.DEVNULL)
        try:
            kate = subprocess.Popen(
                ["dbus-run-session", "--", "kate", "--new", "--startanon", str(cup)],
                env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
            )  # fmt: skip
            time.sleep(SECONDS_TO_SETTLE)
            subprocess.run(["import", "-display", DISPLAY, "-window", "root", str(picture)], check=True)
            os.killpg(kate.pid, 15)
            kate.wait(10)
        finally:
            screen.terminate()
            screen.wait(10)


def set_up(home: Path) -> None:
    """Colors, the server's settings, and the leave to start it that Kate asks an author for once."""
    colors = home / ".local/share/org.kde.syntax-highlighting/syntax"
    settings = home / ".config/kate/lspclient"
    for folder in (colors, settings):
        folder.mkdir(parents=True)
    home.chmod(0o700)
    shutil.copy(ROOT / "editors/kate/recipelang.xml", colors)
    shutil.copy(ROOT / "editors/kate/lsp-client.json", settings / "settings.json")
    server = shutil.which("recipelang", path=SEARCHED)
    (home / ".config/katerc").write_text(
        f"[General]\nShow welcome view for new window=false\n\n[Kate Plugins]\nlspclientplugin=true\n\n"
        f"[lspclient]\nAllowedServerCommandLines={server} server\n",
        encoding="utf-8",
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
