"""A build that cannot be broken: whatever stops or disturbs it, one whole site stands, and the next build is right.

All builds are real ones (``python -m generator build``) of a small made-up checkout, whose path holds spaces and letters
beyond ASCII. What a full disk does is made by the system's own limit on the size of files (setrlimit, POSIX.1-2017) where
a whole build meets it, and by a made-up ENOSPC at single steps.
"""

from __future__ import annotations

import errno
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from generator.build import ROOT
from generator.sink.folder import NotWritten, write_folder
from tests.made_up import digests

GOOD = ROOT / "tests" / "cases" / "good"
MOMENTS = [random.Random(2026).uniform(0.02, 1.0) for _ in range(5)]  # noqa: S311 (which ones does not matter, only that they stay)


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    """A checkout with made-up data, built once: its cache is warm and ``site`` stands."""
    folder = tmp_path_factory.mktemp("robust") / "a place with spaces, \u00e4\u00f6\u96fb" / "checkout"
    for name in ("generator", "docs"):
        shutil.copytree(ROOT / name, folder / name)
    shutil.copytree(GOOD, folder / "chemistry")
    shutil.copytree(ROOT / "chemistry" / "schema", folder / "chemistry" / "schema")
    pages = (ROOT / "mkdocs.yml").read_text("utf-8").splitlines(keepends=True)
    (folder / "mkdocs.yml").write_text("".join(line for line in pages if "stand-in/" not in line), "utf-8")  # made-up data have none
    start = time.monotonic()
    done = run(folder)
    assert done.returncode == 0, done.stderr
    (folder.parent / "seconds").write_text(str(time.monotonic() - start))
    return folder


@pytest.fixture
def checkout(made) -> Path:
    """The checkout as it was after its first build; a test changes what it likes."""
    for name in ("chemistry", "site", ".cache"):
        kept = made.parent / f"kept{name}"
        if not kept.exists():
            shutil.copytree(made / name, kept)
        remove(made / name)
        shutil.copytree(kept, made / name)
    for path in leftovers(made):
        shutil.rmtree(path)
    return made


def remove(path: Path) -> None:
    shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)


def started(checkout: Path, *words: str, **options) -> subprocess.Popen[str]:
    env = {key: value for key, value in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    env |= {"PYTHONPATH": str(checkout), **options.pop("env", {})}
    command = [sys.executable, "-m", "generator", "build", *words]
    return subprocess.Popen(command, cwd=checkout, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8", start_new_session=True, **options)


def run(checkout: Path, *words: str, **options) -> subprocess.CompletedProcess[str]:
    process = started(checkout, *words, **options)
    out, said = process.communicate(timeout=120)
    assert "Traceback" not in said
    return subprocess.CompletedProcess(process.args, process.returncode, out, said)


def leftovers(checkout: Path) -> list[Path]:
    return [path for path in checkout.iterdir() if path.name.startswith(".site-")]


def change(checkout: Path) -> None:
    """Change the data, so that the next site is another one."""
    record = checkout / "chemistry" / "records" / "lampion.yml"
    text = record.read_text("utf-8")
    assert "\nidentity: " in text
    record.write_text(text.replace("\nidentity: ", "\nidentity: Changed. ", 1), "utf-8")


def broken(checkout: Path) -> None:
    """Make the data unsound, so that the next build is refused."""
    (checkout / "chemistry" / "records" / "lampion.yml").write_text("id: lampion\n", "utf-8")


# Places that cannot be written, and a full disk


def test_a_place_below_a_file_is_refused(checkout):
    (checkout.parent / "file").write_text("not a folder")
    done = run(checkout, "--out", str(checkout.parent / "file" / "site"))
    assert done.returncode == 1 and "cannot write" in done.stderr and "untouched" in done.stderr


def test_a_disk_that_takes_no_more_leaves_the_old_site(checkout):
    """The limit is below the size of some pages, so it is the engine that meets it."""
    change(checkout)
    before = digests(checkout / "site")
    limited = lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))  # noqa: E731
    done = run(checkout, preexec_fn=limited)
    assert done.returncode == 1 and "untouched" in done.stderr
    assert "File too large" in done.stderr
    assert digests(checkout / "site") == before and leftovers(checkout) == []


_NO_ROOM_FOR_THE_COPY = """
import errno, pathlib
real = pathlib.Path.write_bytes
def write_bytes(path, content):
    if path.suffix == ".zip":
        raise OSError(errno.ENOSPC, "No space left on device", str(path))
    return real(path, content)
pathlib.Path.write_bytes = write_bytes
"""


def test_a_disk_that_is_full_after_the_pages_leaves_the_old_site(checkout, tmp_path):
    change(checkout)
    before = digests(checkout / "site")
    (tmp_path / "sitecustomize.py").write_text(_NO_ROOM_FOR_THE_COPY)
    done = run(checkout, env={"PYTHONPATH": f"{tmp_path}{os.pathsep}{checkout}"})
    assert done.returncode == 1 and "No space left" in done.stderr and "untouched" in done.stderr
    assert digests(checkout / "site") == before and leftovers(checkout) == []


FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize(("target", "name", "after"), [
    ("generator.sink.staging.tempfile", "mkdtemp", 0),
    ("generator.sink.folder.shutil", "copytree", 0),
    ("pathlib.Path", "write_bytes", 0),
    ("pathlib.Path", "write_bytes", 2),
    ("generator.sink.staging.os", "replace", 0),
    ("generator.sink.staging.os", "replace", 1),
])
def test_a_full_disk_at_any_step_leaves_the_old_folder(tmp_path, monkeypatch, target, name, after):
    docs, out = tmp_path / "docs", tmp_path / "out"
    docs.mkdir()
    write_folder({"index.md": b"old", "a.md": b"old"}, docs, out)
    module, _, attribute = target.rpartition(".")
    owner = getattr(__import__(module, fromlist=[attribute]), attribute)
    real, calls = getattr(owner, name), []

    def fails(*args, **options):
        calls.append(args)
        if len(calls) == after + 1:
            raise FULL
        return real(*args, **options)

    with monkeypatch.context() as patched:
        patched.setattr(owner, name, fails)
        with pytest.raises(NotWritten, match="No space left"):
            write_folder({"index.md": b"new", "b.md": b"new", "c.md": b"new"}, docs, out)
    assert len(calls) > after, "the step was reached"
    assert {p.name: p.read_bytes() for p in out.iterdir()} == {"index.md": b"old", "a.md": b"old"}
    assert sorted(p.name for p in tmp_path.iterdir()) == ["docs", "out"]
    write_folder({"index.md": b"new"}, docs, out)
    assert [p.name for p in out.iterdir()] == ["index.md"]


# Killed


def engines_ended(checkout, patience_s=5.0):
    """Whether no site engine works in the checkout any more, or within a few seconds of now."""
    until = time.monotonic() + patience_s
    while working := [path for path in Path("/proc").glob("[0-9]*/cmdline") if str(checkout).encode() in read_or_nothing(path)]:
        if time.monotonic() > until:
            return False
        time.sleep(0.05)
    return not working


def read_or_nothing(path):
    try:
        return path.read_bytes()
    except OSError:  # it ended meanwhile
        return b""


def test_killed_at_any_moment_the_old_site_stands_and_the_next_build_is_right(checkout):
    old = digests(checkout / "site")
    whole = 0.8 * float((checkout.parent / "seconds").read_text())  # the changed record's pages are made again, the curves are not
    change(checkout)
    killed = 0
    for number, moment in enumerate(MOMENTS):
        process = started(checkout)
        with process:
            time.sleep(moment * whole)
            # In turn the whole group, as a terminal's end does, and the one process, which takes its engine with it.
            (os.killpg if number % 2 else os.kill)(process.pid, signal.SIGKILL)
        assert engines_ended(checkout)
        if process.returncode == -signal.SIGKILL:  # else it had ended by itself
            killed += 1
            assert digests(checkout / "site") == old, f"killed at {moment:.2f} of a build"
    assert killed >= 3, "the moments lie within a build"
    assert run(checkout).returncode == 0
    new = digests(checkout / "site")
    assert new != old and new.keys() == old.keys()
    assert leftovers(checkout) == []


def test_killed_between_the_two_steps_of_the_swap_the_old_site_comes_back(checkout):
    """The one moment without a site: the old folder is renamed and the new one is not in its place yet."""
    old = digests(checkout / "site")
    (checkout / "site").rename(checkout / ".site-k1lled00.old")
    (checkout / ".site-k1lled00.part").mkdir()
    broken(checkout)  # and even when the next build fails
    assert run(checkout).returncode == 1
    assert digests(checkout / "site") == old and leftovers(checkout) == []


# Others at work


def test_two_builds_at_once_end_with_one_whole_site(checkout):
    old = digests(checkout / "site")
    both = [started(checkout) for _ in range(2)]
    said = [process.communicate(timeout=120) for process in both]
    assert [process.returncode for process in both] == [0, 0], said
    assert digests(checkout / "site") == old and leftovers(checkout) == []


def test_a_damaged_cache_changes_nothing(checkout):
    old = digests(checkout / "site")
    entries = sorted(path for path in (checkout / ".cache").iterdir() if path.is_file())
    assert len(entries) >= 4
    for number, entry in enumerate(entries):
        content = entry.read_bytes()
        if number % 4 == 3:
            entry.unlink()
            entry.mkdir()
        else:
            entry.write_bytes((content[: len(content) // 2], content[:-1] + bytes([content[-1] ^ 1]), b"")[number % 4])
    done = run(checkout)
    assert done.returncode == 0, done.stderr
    assert digests(checkout / "site") == old


_CLOCK = """
import datetime, time
shift = 400 * 86400.0 + 43210.5
real_time, real = time.time, datetime.datetime
time.time = lambda: real_time() + shift
class Later(real):
    @classmethod
    def now(cls, tz=None): return cls.fromtimestamp(time.time(), tz)
    @classmethod
    def today(cls): return cls.now()
    @classmethod
    def utcnow(cls): return cls.utcfromtimestamp(time.time())
datetime.datetime = Later
class Day(datetime.date):
    @classmethod
    def today(cls): return cls.fromtimestamp(time.time())
datetime.date = Day
"""


def test_clock_locale_time_zone_and_place_change_nothing_and_the_checkout_may_be_read_only(checkout, tmp_path):
    """The same bytes, made anew without a cache; SOURCE_DATE_EPOCH is not set. Nothing is written into the checkout."""
    old = digests(checkout / "site")
    (tmp_path / "sitecustomize.py").write_text(_CLOCK)
    path = f"{tmp_path}{os.pathsep}{checkout}"
    shown = subprocess.run([sys.executable, "-c", "import datetime; print(datetime.datetime.now().year)"], env={**os.environ, "PYTHONPATH": path}, capture_output=True, text=True)
    assert int(shown.stdout) > time.gmtime().tm_year, "the clock is faked"
    shutil.rmtree(checkout / ".cache")
    (checkout / ".cache").write_text("no folder can be made here")

    def listing() -> dict[str, tuple[int, int]]:
        paths = (path for path in checkout.rglob("*") if "__pycache__" not in path.parts)  # Python's own, left out where it cannot be written
        return {path.as_posix(): (path.stat().st_mtime_ns, path.stat().st_size) for path in paths if path.is_file() or path.parent != checkout / "generator"}

    before = listing()
    env = {"TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8", "LANG": "C", "PYTHONHASHSEED": "77", "PYTHONPATH": path}
    done = run(checkout, "--out", str(tmp_path / "elsewhere" / "site"), env=env)
    assert done.returncode == 0, done.stderr
    assert listing() == before
    assert digests(tmp_path / "elsewhere" / "site") == old
