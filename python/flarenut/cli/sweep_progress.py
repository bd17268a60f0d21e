"""How far a long sweep is, on a terminal's standard error; quiet anywhere else."""

from __future__ import annotations

import sys
from time import monotonic
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from rich.progress import Progress as Bar
    from rich.progress import TaskID

_QUIET_FOR, _EVERY = 1.0, 0.1  # seconds


class Progress:
    """Called with (solves done, solves in all); shows a bar once the work has taken a second. `close` takes it away.

    Parameters
    ----------
    words : what is being done
    stream : to show it on; standard error unless given
    """

    def __init__(self, words: str, stream: TextIO | None = None) -> None:
        self.words, self.stream = words, stream or sys.stderr
        self.on = self.stream.isatty()
        self.begin = self.told = monotonic()
        self.bar: Bar | None = None
        self.task: TaskID | None = None
        self.width = 0

    def __call__(self, done: int, count: int) -> None:
        now = monotonic()
        if not self.on or now - self.begin < _QUIET_FOR or now - self.told < _EVERY:
            return
        self.told = now
        if self.bar is None and not self.width:
            self.bar = _rich_bar(self.stream)
            self.task = self.bar.add_task(self.words, total=count) if self.bar else None
        if self.bar and self.task is not None:
            self.bar.update(self.task, completed=done)
        else:
            self._plain(done, count, now)

    def _plain(self, done: int, count: int, now: float) -> None:
        left = (now - self.begin) * (count - done) / max(done, 1)
        text = f"{self.words}: {100 * done // count} %, {done:,} of {count:,}, about {left:.0f} s left"
        self.stream.write("\r" + text.ljust(self.width))
        self.stream.flush()
        self.width = len(text)

    def close(self) -> None:
        """Takes the bar off the screen."""
        if self.bar:
            self.bar.stop()
        elif self.width:
            self.stream.write("\r" + " " * self.width + "\r")
            self.stream.flush()


def _rich_bar(stream: TextIO) -> Bar | None:
    try:
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn
    except ImportError:
        return None
    bar = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), console=Console(file=stream),
                   transient=True)
    bar.start()
    return bar
