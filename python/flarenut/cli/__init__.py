"""The command line, `flarenut`. What it takes and prints stands in docs/guide/command_line.md."""

from collections.abc import Sequence

from .guard import guarded


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code: 0 solved, 1 not solved, 2 bad input, 130 stopped by Ctrl-C.

    Parameters
    ----------
    argv : list of texts, or None for the words of the command line
    """
    return guarded(_run, argv)


def _run(argv: Sequence[str] | None) -> int:
    from .arguments import parse

    options = parse(argv)
    found: int = options.run(options)
    return found
