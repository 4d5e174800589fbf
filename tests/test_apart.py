"""What a second process makes is what this one would have made, whatever becomes of that process."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading

import pytest

from generator.apart import apart
from generator.build import ROOT




def run(code: str) -> str:
    """Run Python text in a process without threads and return what it printed."""
    return subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True, text=True).stdout


def test_a_large_result_comes_whole_from_another_process():
    code = "import os; from generator.apart import apart\nwait = apart(lambda: str(os.getpid()).encode() + b' ' * 3_000_000)\ngot = wait()\nprint(len(got) > 3_000_000, int(got) != os.getpid() or len(os.sched_getaffinity(0)) < 2)"
    assert run(code) == "True True\n"


@pytest.mark.parametrize("end", ["os._exit(3)", "os.kill(os.getpid(), 9)", "raise RuntimeError"])
def test_a_process_that_dies_costs_only_time(end):
    code = f"""import os
from generator.apart import apart
here = os.getpid()
def make():
    if os.getpid() != here:
        {end}
    return b"made here"
print(apart(make)())"""
    assert run(code) == "b'made here'\n"


def test_an_error_is_raised_where_it_is_asked_for():
    code = """from generator.apart import apart
def make():
    raise KeyError("lost")
wait = apart(make)
try:
    wait()
except KeyError as error:
    print(error)"""
    assert run(code) == "'lost'\n"


def test_the_second_process_ends_when_the_first_is_killed():
    code = """import os, time
from generator.apart import apart
def make():
    print(os.getpid(), flush=True)
    time.sleep(0.2)
    return b"x" * 3_000_000
wait = apart(make)
time.sleep(60) if len(os.sched_getaffinity(0)) > 1 else wait()"""
    with subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as first:
        first.stdout.readline()
        first.send_signal(signal.SIGKILL)
        assert first.stdout.read() == ""  # says nothing more, and returns only when no process holds the other end


def test_with_threads_nothing_is_forked():
    ready, stop = threading.Event(), threading.Event()
    other = threading.Thread(target=lambda: (ready.set(), stop.wait()))
    other.start()
    ready.wait()
    try:
        assert int(apart(lambda: str(os.getpid()).encode())()) == os.getpid()
    finally:
        stop.set()
        other.join()
