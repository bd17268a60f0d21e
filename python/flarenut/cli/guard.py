"""What every command has in common: how it ends when something stops it. No traceback reaches a builder."""

import os
import sys
from typing import TextIO
from collections.abc import Callable, Sequence

SOLVED, UNSOLVED, BAD_INPUT, MUST_NOT_RUN, FAULT, STOPPED, PIPE_CLOSED = 0, 1, 2, 3, 70, 130, 141  # 128 + signal number for the last two


class Refusal(Exception):
    """Bad input or an unsolved circuit, put into words; `code` is the exit code."""

    def __init__(self, words: str, code: int = BAD_INPUT) -> None:
        super().__init__(words)
        self.code = code


def guarded(run: Callable[[Sequence[str] | None], int], argv: Sequence[str] | None) -> int:
    """``run(argv)`` as an exit code, whatever happens."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without a degree sign shows a question mark
    try:
        code = run(argv)
        sys.stdout.flush()
        return code
    except Refusal as refusal:
        return _say(str(refusal), refusal.code)
    except KeyboardInterrupt:
        return _say("stopped", STOPPED)
    except BrokenPipeError:
        _drop_output(sys.stdout, sys.stderr)
        return PIPE_CLOSED
    except SystemExit as leaving:  # argparse: help asked for, or words it could not use
        return leaving.code if isinstance(leaving.code, int) else SOLVED
    except OSError as error:
        return _say(f"cannot write: {error.strerror or error}", BAD_INPUT)
    except Exception as fault:  # our own bug
        if os.environ.get("FLARENUT_TRACEBACK"):
            raise
        return _say(f"a fault of the program, not of your file: {type(fault).__name__}: {fault}\n"
                    "  cure: please report it; with FLARENUT_TRACEBACK=1 set, the same command says where it happened", FAULT)


def _say(words: str, code: int) -> int:
    try:
        sys.stdout.flush()
    except OSError:  # a full disk: what is left of the output is lost, but the message must not be
        _drop_output(sys.stdout)
    try:
        print(f"flarenut: {words}" if code != BAD_INPUT or ": " not in words else words, file=sys.stderr, flush=True)
    except OSError:
        _drop_output(sys.stdout, sys.stderr)
    return code


def _drop_output(*streams: TextIO) -> None:
    """Point standard streams at nothing, so that the interpreter's own flush at exit stays quiet too."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    for stream in streams:
        try:
            os.dup2(nothing, stream.fileno())
        except (OSError, ValueError, AttributeError):
            pass
    os.close(nothing)
