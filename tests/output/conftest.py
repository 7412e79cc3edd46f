"""The small library on disk and the command line of the command tests serve here too."""

from tests.commands.conftest import command, library

__all__ = ["command", "library"]
