"""Run the program as ``python -m coldspell``."""

from coldspell.cli.main import run

run()
