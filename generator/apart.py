"""Work that a second process does while this one goes on: the machine's other core is idle otherwise."""

from __future__ import annotations

import gc
import multiprocessing
import os
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from functools import cache as once
from multiprocessing.connection import Connection


def apart(make: Callable[[], bytes]) -> Callable[[], bytes]:
    """Start ``make`` in a process of its own and return what waits for its result.

    Where that is not possible or not safe (a system without fork, one core, threads that a forked process would lack),
    and when the process dies or fails, ``make`` runs here when its result is asked for: nothing but time is lost, and an
    error is raised where it can be seen.
    """
    if not sys.platform.startswith("linux") or len(os.sched_getaffinity(0)) < 2 or threading.active_count() > 1:
        return make
    forking = multiprocessing.get_context("fork")  # the library and the results need no copying
    gc.freeze()  # what stands stays: neither process looks through it again, and its memory stays shared
    reader, writer = forking.Pipe(duplex=False)
    process = forking.Process(target=_send, args=(make, reader, writer), daemon=True)
    process.start()
    writer.close()

    def wait() -> bytes:
        try:
            return reader.recv_bytes()
        except EOFError:
            return make()
        finally:
            reader.close()
            process.join()

    return once(wait)


def _send(make: Callable[[], bytes], reader: Connection, writer: Connection) -> None:
    reader.close()  # so that this process ends, too, when the other one is killed
    try:
        made = make()
    except Exception:
        return  # the other process meets the same error and says it
    with suppress(BrokenPipeError):  # the other process has ended: nobody waits
        writer.send_bytes(made)
