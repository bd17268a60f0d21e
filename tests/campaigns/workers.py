"""Processes that examine seeds, watched: one that dies is a crash, one that stands still too long a hang, and the next seed goes on."""

import multiprocessing
import time

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
    """Examines seeds first .. first + count - 1; `each` gets every outcome, or ("crash" or "hang", seed). Ctrl-C stops it cleanly."""
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
