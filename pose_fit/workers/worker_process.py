"""A worker process, seen by the process that asks it."""

import os
import pickle
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path
from typing import Final

from pose_fit.workers.worker import Answer

__all__ = ["LESS_MEMORY", "WorkerLostError", "WorkerProcess"]

#: Environment in which glibc gives the memory of a picture back as soon as it is let go
#: (mallopt(3)); otherwise it keeps a third more.
LESS_MEMORY: Final = {"MALLOC_MMAP_THRESHOLD_": "1000000"}

#: The folder that holds the package, so that a worker finds the same one.
_ROOT: Final = Path(__file__).parents[2]
#: Libraries that start threads of their own, and where they look how many.
_THREADS: Final = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "OPENCV_FOR_THREADS_NUM")


class WorkerLostError(Exception):
    """The process ended, or took too long and was ended, before it gave an answer."""


class WorkerProcess:
    """One job at a time in a process of its own.

    Not :mod:`multiprocessing`: what that spawns runs the main module again, which under Streamlit is
    whatever page was shown last; and what it forks shares locks of MediaPipe's and OpenCV's threads.
    """

    def __init__(self, *, threads: int) -> None:
        # An empty entry would be the current folder.
        path = os.pathsep.join(filter(None, (str(_ROOT), os.environ.get("PYTHONPATH"))))
        self._process = subprocess.Popen(
            [sys.executable, "-m", "pose_fit.workers.worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={
                **os.environ,
                **LESS_MEMORY,
                **dict.fromkeys(_THREADS, str(threads)),
                "PYTHONPATH": path,
            },
        )

        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._pipes = self._process.stdin, self._process.stdout

    @property
    def pid(self) -> int:
        """The number of the process."""
        return self._process.pid

    @property
    def is_alive(self) -> bool:
        """Whether the process has not ended."""
        return self._process.poll() is None

    def do(self, job: bytes, *, limit_s: float) -> Answer:
        """The answer to a pickled pair of function and arguments.

        Raises
        ------
        WorkerLostError
            The process ended meanwhile, also because ``limit_s`` was over.
        """
        jobs, answers = self._pipes
        watch = threading.Timer(limit_s, self._process.kill)
        watch.start()
        try:
            pickle.dump(job, jobs, pickle.HIGHEST_PROTOCOL)
            jobs.flush()
            answer: Answer = pickle.load(answers)
        except (OSError, EOFError, pickle.UnpicklingError) as fault:
            self.end()
            raise WorkerLostError(f"worker {self.pid} ended before it answered") from fault
        finally:
            watch.cancel()
        return answer

    def kill(self) -> None:
        """End the process; a job it was doing is lost."""
        self._process.kill()

    def end(self) -> None:
        """The same, and let go of its pipes; nobody may be waiting for an answer."""
        self._process.kill()
        self._process.wait()
        for pipe in self._pipes:
            # What was not written yet is lost with the process.
            with suppress(OSError):
                pipe.close()
