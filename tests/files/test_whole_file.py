"""A file is there whole or not at all, whatever stops the writing."""

import os
import shutil
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from pose_fit.errors import OutputError
from pose_fit.files.whole_file import check_ending, write_whole

from .commands import ROOT, SAMPLE, SAMPLE_WORDS, child, pose_fit, without_root_rights

OLD = b"what stood here before"
#: Writes as many bytes as the second word says to the path of the first.
WRITE = """
import sys
from pathlib import Path
from pose_fit.files.whole_file import write_whole
write_whole(Path(sys.argv[1]), b"n" * int(sys.argv[2]))
"""
#: The file system takes a hundred thousand bytes, then says EFBIG, as a full disk says ENOSPC.
SMALL_FILES = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))\n"
#: The same, but the kernel kills the process in the middle of the writing.
KILLED_HALF_WAY = (
    SMALL_FILES + "import signal; signal.signal(signal.SIGXFSZ, signal.SIG_DFL)\n"
    "resource.setrlimit(resource.RLIMIT_CORE, (0, 0))\n"
)
KILLED_BEFORE_ITS_PLACE = (
    "import os, signal; os.fsync = lambda _: os.kill(os.getpid(), signal.SIGKILL)\n"
)


def parts(folder: Path) -> list[str]:
    return [name for name in os.listdir(folder) if name.endswith(".part")]


def test_a_file_is_written_and_nothing_else_is_left(tmp_path):
    write_whole(tmp_path / "new.pdf", b"new")
    write_whole(str(tmp_path / "new.pdf"), b"newer")
    assert (tmp_path / "new.pdf").read_bytes() == b"newer"
    assert os.listdir(tmp_path) == ["new.pdf"]


def test_a_new_file_has_the_rights_that_are_usual_and_an_old_one_keeps_its_own(tmp_path):
    plain, new, old = tmp_path / "plain", tmp_path / "new", tmp_path / "old"
    plain.write_bytes(b"")
    old.write_bytes(OLD)
    old.chmod(0o604)
    write_whole(new, b"new")
    write_whole(old, b"new")
    assert stat.S_IMODE(new.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)
    assert stat.S_IMODE(old.stat().st_mode) == 0o604


def test_behind_a_link_the_file_is_written_and_the_link_stays(tmp_path):
    (tmp_path / "far").mkdir()
    target, link = tmp_path / "far" / "file", tmp_path / "link"
    target.write_bytes(OLD)
    link.symlink_to(target)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"


def test_a_pipe_is_written_straight(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with subprocess.Popen(["cat", tmp_path / "pipe"], stdout=subprocess.PIPE) as reader:
        write_whole(tmp_path / "pipe", b"through")
        assert reader.stdout is not None
        assert reader.stdout.read() == b"through"


def test_a_pipe_that_nobody_reads_is_told_and_not_waited_for(tmp_path, monkeypatch):
    monkeypatch.setattr("pose_fit.files.whole_file._READER_PATIENCE_S", 0.1)
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(OutputError, match="pipe: cannot be written"):
        write_whole(tmp_path / "pipe", b"lost")


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("", "Is a directory"),
        ("no/such/folder.pdf", "No such file or directory"),
        ("x" * 300, "File name too long"),
        ("nul\0.pdf", "null"),
    ],
)
def test_places_that_cannot_be_written_are_named(tmp_path, name, why):
    with pytest.raises(OutputError, match=why) as caught:
        write_whole(tmp_path / name, b"new")
    assert str(caught.value).startswith(str(tmp_path))
    assert os.listdir(tmp_path) == []


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full")
def test_the_device_that_is_always_full_is_told(tmp_path):
    with pytest.raises(OutputError, match=r"/dev/full: .*No space left"):
        write_whole("/dev/full", b"new")
    (tmp_path / "link.pdf").symlink_to("/dev/full")
    with pytest.raises(OutputError, match="No space left"):
        write_whole(tmp_path / "link.pdf", b"new")


def test_where_the_room_ends_the_old_file_stays(tmp_path):
    place = tmp_path / "sheet.pdf"
    place.write_bytes(OLD)
    run = child(SMALL_FILES + WRITE, place, 5_000_000)
    assert "OutputError" in run.stderr
    assert "File too large" in run.stderr
    assert place.read_bytes() == OLD
    assert parts(tmp_path) == []


@pytest.mark.parametrize("before", [OLD, None], ids=["over an old file", "new"])
@pytest.mark.parametrize(
    ("how", "signals"),
    [(KILLED_HALF_WAY, signal.SIGXFSZ), (KILLED_BEFORE_ITS_PLACE, signal.SIGKILL)],
    ids=["half way", "before it takes its place"],
)
def test_killed_while_writing_leaves_no_half_file_under_the_name(tmp_path, before, how, signals):
    place = tmp_path / "sheet.pdf"
    if before is not None:
        place.write_bytes(before)
    run = child(how + WRITE, place, 5_000_000)
    assert run.returncode == -signals
    assert (place.read_bytes() if place.exists() else None) == before
    # The writing had begun: what came so far lies beside it under a name nobody asks for.
    (part,) = parts(tmp_path)
    assert (tmp_path / part).stat().st_size >= 100_000


def test_the_command_killed_half_way_leaves_the_old_sheet(tmp_path):
    place = tmp_path / "sheet.pdf"
    place.write_bytes(OLD)
    run = pose_fit("sheet", "--out", place, first=KILLED_BEFORE_ITS_PLACE)
    assert run.returncode == -signal.SIGKILL
    assert place.read_bytes() == OLD


def can_mount() -> bool:
    words = ["unshare", "-rm", "mount", "-t", "tmpfs", "none", "/mnt"]
    return (
        shutil.which("unshare") is not None
        and not subprocess.run(words, capture_output=True).returncode
    )


@pytest.mark.skipif(not can_mount(), reason="no file system of one's own may be mounted here")
def test_a_disk_that_is_really_full(tmp_path):
    """A file system of one block, which an old file fills."""
    script = (
        'mount -t tmpfs -o size=4k none "$1" && cd "$1" && echo old > sheet.pdf'
        ' && "$2" -c "from pose_fit.cli.main import main; main()" sheet --out sheet.pdf;'
        ' echo "status $?"; ls -A; cat sheet.pdf'
    )
    run = subprocess.run(
        ["unshare", "-rm", "sh", "-c", script, "sh", tmp_path, sys.executable],
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
    )
    assert run.stderr == "pose-fit: sheet.pdf: cannot be written (No space left on device)\n"
    assert run.stdout.splitlines() == ["status 2", "sheet.pdf", "old"]


def test_protected_places_are_told_and_left_alone(tmp_path):
    folder, file = tmp_path / "folder", tmp_path / "old.pdf"
    folder.mkdir()
    file.write_bytes(OLD)
    folder.chmod(0o555)
    file.chmod(0o444)
    before = without_root_rights()
    if before and shutil.which(before[0]) is None:
        pytest.skip("root may write everywhere, and there is no setpriv to take that away")
    calls = (
        (folder / "sheet.pdf", ("sheet", "--out")),
        (file, ("sheet", "--out")),
        (folder / "marks.png", ("measure", SAMPLE, *SAMPLE_WORDS, "--overlay")),
        (folder / "table.csv", ("batch", SAMPLE.parent, "--reference", "sheet", "--out")),
    )
    for place, words in calls:
        run = pose_fit(*words, place, before=before)
        assert run.returncode == 2
        assert run.stderr.endswith(f"pose-fit: {place}: cannot be written (Permission denied)\n")
        assert "Traceback" not in run.stderr
    assert os.listdir(folder) == []
    assert file.read_bytes() == OLD
    assert sorted(os.listdir(tmp_path)) == ["folder", "old.pdf"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full")
@pytest.mark.parametrize(
    "words",
    [
        ("advise", "--inseam", "25in", "--bikes", "pose_fit/data/demo_bicycles.csv"),
        ("advise", "--inseam", "25in", "--bikes", "pose_fit/data/demo_bicycles.csv", "--json"),
        ("--help",),
    ],
)
def test_output_that_cannot_be_written_is_told(words):
    with open("/dev/full", "w") as full:
        run = subprocess.run(
            [sys.executable, "-c", "from pose_fit.cli.main import main; main()", *words],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )
    assert run.returncode == 2
    assert run.stderr == "pose-fit: No space left on device\n"


@pytest.mark.parametrize("name", ["plot.txt", "x" * 300])
def test_a_name_with_another_ending_is_told(tmp_path, name):
    """Also where it is too long for the system to look whether a file is there."""
    with pytest.raises(OutputError, match=r"ends in \.svg"):
        check_ending(tmp_path / name, ".svg")
