"""Ctrl-C in a command that keeps what it has: the first ends the solving, and none loses what was solved without a warning."""

from __future__ import annotations

import os
import signal
import threading
from time import monotonic
from types import FrameType

_TOLD_FOR = 2.0  # seconds in which no further one counts: keys repeat
_WARNING = b"flarenut: what was solved is being kept: wait for it, or press Ctrl-C once more to leave without it\n"


class Keeping:
    """Between its two ends Ctrl-C stops once, by `KeyboardInterrupt`. From then on, or once `all_solved`, it only warns; then it leaves.

    Of threads, only the main one hears of Ctrl-C; where somebody else listens to it already, they go on.
    """

    def __init__(self) -> None:
        self._solved = self._stopped = False
        self._told = -1.0  # when it warned
        self._before: object = None

    def all_solved(self, done: bool = True) -> None:
        """There is nothing left to stop: what follows brings the answer to the screen or into its files."""
        self._solved = done

    def __enter__(self) -> Keeping:
        if threading.current_thread() is threading.main_thread() and signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            self._before = signal.signal(signal.SIGINT, self._pressed)
        return self

    def __exit__(self, *fault: object) -> None:
        if self._before is not None:
            signal.signal(signal.SIGINT, signal.default_int_handler)

    def _pressed(self, _number: int, _frame: FrameType | None) -> None:
        now = monotonic()
        if not self._solved and not self._stopped:
            self._stopped = True
            raise KeyboardInterrupt
        if self._told < 0.0:
            self._told = now
            os.write(2, _WARNING)  # whatever was interrupted may be writing itself, which `print` does not bear
        elif now - self._told > _TOLD_FOR:
            raise KeyboardInterrupt
