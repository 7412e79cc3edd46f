"""A library on disk and command lines run in it, as the tests of the commands have them."""

from tests.commands.conftest import Command, command, library

__all__ = ["Command", "command", "library"]
