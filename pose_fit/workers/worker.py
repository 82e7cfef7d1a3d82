"""The program of a worker process: does what comes in, sends back what came of it.

Runs as ``python -m pose_fit.workers.worker``. Jobs come through standard input and answers leave
through standard output, so nothing touches a disk. The end of the input means that the process
that asked is gone, however it ended; then a worker ends too, also in the middle of a job.
"""

import os
import pickle
import queue
import signal
import sys
import threading
import traceback
from typing import IO, Any, Final

__all__ = ["Answer"]

#: Whether the work was done, and what it gave or what was raised.
Answer = tuple[bool, Any]

#: Pages are built by the other process, which goes first where both want the processor.
_NICENESS: Final = 2


def _main() -> None:
    # A Ctrl-C in the terminal is for the process that asked.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(_NICENESS)
    answers = os.fdopen(os.dup(1), "wb")
    # What libraries print goes to the log instead.
    os.dup2(2, 1)
    jobs: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_receive, args=(sys.stdin.buffer, jobs), daemon=True).start()
    while True:
        answer = _answer(jobs.get())
        try:
            answers.write(answer)
            answers.flush()
        except OSError:
            # Nobody is left to read it: who asked was ended, and nothing went wrong here.
            os._exit(0)


def _receive(source: IO[bytes], jobs: "queue.SimpleQueue[bytes]") -> None:
    try:
        while True:
            jobs.put(pickle.load(source))
    finally:
        os._exit(0)


def _answer(job: bytes) -> bytes:
    try:
        work, arguments = pickle.loads(job)
        return _pickled((True, work(*arguments)))
    except MemoryError:
        # What is left of this process is not to be trusted; a new one tries again.
        os._exit(1)
    except Exception as fault:
        fault.add_note(traceback.format_exc())
        try:
            answer = _pickled((False, fault))
            # Some errors are pickled without complaint and cannot be made again from that.
            pickle.loads(answer)
        except Exception:
            return _pickled((False, RuntimeError("".join(traceback.format_exception(fault)))))
        return answer


def _pickled(answer: Answer) -> bytes:
    return pickle.dumps(answer, pickle.HIGHEST_PROTOCOL)


if __name__ == "__main__":
    _main()
