"""Processes that examine seeds, watched: one that dies is a crash, one that stands still too long a hang, and the next seed goes on."""

import argparse
import multiprocessing
import signal
import sys
import threading
import time
from pathlib import Path

HANG = 60.0  # [s] for one circuit; an ordinary one takes a fiftieth of a second


def _work(examine, first, last, step, pipe):
    for seed in range(first, last, step):
        pipe.send(("begins", seed))
        pipe.send(("ends", examine(seed)))
    pipe.send(("done", None))


class Worker:
    def __init__(self, examine, first, last, step):
        self.examine, self.last, self.step, self.seed = examine, last, step, first
        self.begin()

    def begin(self):
        self.pipe, theirs = multiprocessing.Pipe(duplex=False)
        self.process = multiprocessing.Process(target=_work, args=(self.examine, self.seed, self.last, self.step, theirs), daemon=True)
        self.process.start()
        theirs.close()
        self.since, self.done = time.monotonic(), False

    def poll(self):
        """What came in: outcomes, or ("crash" or "hang", seed)."""
        found = []
        try:
            while self.pipe.poll(0):
                word, value = self.pipe.recv()
                self.since = time.monotonic()
                if word == "begins":
                    self.seed = value
                elif word == "ends":
                    found.append(value)
                else:
                    self.done = True
        except EOFError:
            if not self.done:
                found.append(("crash", self.seed))
                self._go_on()
            return found
        if not self.done and time.monotonic() - self.since > HANG:
            self.process.kill()
            found.append(("hang", self.seed))
            self._go_on()
        return found

    def _go_on(self):
        self.process.join()
        self.seed += self.step
        if self.seed < self.last:
            self.begin()
        else:
            self.done = True


def run(examine, first, count, processes, each):
    """Examines seeds first .. first + count - 1; `each` gets every outcome, or ("crash" or "hang", seed). Ctrl-C and a polite kill stop it cleanly."""
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, signal.default_int_handler)
    workers = [Worker(examine, first + number, first + count, processes) for number in range(processes)]
    try:
        while not all(worker.done for worker in workers):
            came = [one for worker in workers for one in worker.poll()]
            for one in came:
                each(one)
            if not came:
                time.sleep(0.02)
        return True
    except KeyboardInterrupt:
        return False
    finally:
        for worker in workers:
            worker.process.kill()


def stopped_note(done, count):
    """For the record of a run that was stopped: how far it came."""
    return f"stopped before its end: {done} of {count} were examined"


def words_of_command(title, forms):
    """What the command line asks of a campaign: `form`, `seed`, `count`, `processes`, `record`, and `command`, how to ask for the same again."""
    parser = argparse.ArgumentParser(description=title)
    parser.add_argument("--form", choices=forms, default="short")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--count", type=int, help="in place of that of the form")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--record", action="store_true")
    chosen = parser.parse_args()
    counted = f" --count {chosen.count}" if chosen.count else ""
    chosen.command = f"python tests/campaigns/{Path(sys.argv[0]).name} --form {chosen.form} --seed {chosen.seed}{counted}"
    chosen.count = chosen.count or forms[chosen.form]
    return chosen
