"""Nothing is asked of any network: with the network cut off, everything still works.

The sharp test runs in a network namespace of its own, in which only loopback exists; where none
may be made it is skipped with the reason. The other one watches every connection of a process.
"""

import functools
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from pose_fit.app.settings import SETTINGS

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "sample_images" / "sheet_1.jpg"
FACTS = json.loads(SAMPLE.with_suffix(".json").read_text("utf-8"))
STOCK = ROOT / "pose_fit" / "data" / "demo_bicycles.csv"

#: Brings up loopback (SIOCGIFFLAGS, SIOCSIFFLAGS of netdevice(7)), then becomes the command.
WITH_LOOPBACK = """
import fcntl, os, socket, struct, sys
with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as control:
    asked = struct.pack("16sH14s", b"lo", 0, b"")
    _, flags, _ = struct.unpack("16sH14s", fcntl.ioctl(control, 0x8913, asked))
    fcntl.ioctl(control, 0x8914, struct.pack("16sH14s", b"lo", flags | 1, b""))
os.execv(sys.argv[1], sys.argv[1:])
"""

#: Serves the app, opens its page as a browser does, and says what came.
APP_ANSWERS = """
import json, os, socket, subprocess, sys, time, urllib.request
from pose_fit.app.serve import command

def cut_off():
    try:
        socket.create_connection(("192.0.2.1", 80), timeout=2).close()
    except OSError as fault:
        return fault.strerror
    return None

with socket.socket() as probe:
    probe.bind(("127.0.0.1", 0))
    port = probe.getsockname()[1]
server = subprocess.Popen(command(port=port), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
try:
    for _ in range(300):
        try:
            page = urllib.request.urlopen(f"http://127.0.0.1:{port}/").read().decode()
            break
        except OSError:
            time.sleep(0.2)
    from tests.app.socket_visitor import SocketVisitor
    with SocketVisitor(port) as visitor:
        visitor.press("Use a tape instead")
        visitor.enter("Reading 1", "23.5 in")
        print(json.dumps({"page": page, "cut_off": cut_off(), "said": visitor.text}))
finally:
    server.terminate()
    server.wait(30)
"""


@functools.cache
def why_no_namespace() -> str:
    """Empty where a network namespace may be made."""
    if shutil.which("unshare") is None:
        return "there is no unshare"
    run = subprocess.run(["unshare", "-rn", "true"], capture_output=True, text=True)
    return f"no network namespace may be made here: {run.stderr.strip()}" if run.returncode else ""


def cut_off(*words: object) -> subprocess.CompletedProcess[str]:
    """Run Python with these words where only loopback exists."""
    if why := why_no_namespace():
        pytest.skip(why)
    python = [sys.executable, "-c", WITH_LOOPBACK, sys.executable, *(str(word) for word in words)]
    return subprocess.run(
        ["unshare", "-rn", *python],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=os.environ | {"STREAMLIT_SERVER_HEADLESS": "true"},
    )


def test_the_cut_network_is_cut():
    lookup = "import socket; socket.create_connection(('192.0.2.1', 80), timeout=5)"
    run = cut_off("-c", lookup)
    assert run.returncode == 1
    assert "Network is unreachable" in run.stderr


def test_a_photo_is_measured_and_bicycles_are_judged_without_any_network():
    words = ("measure", SAMPLE, *FACTS["arguments"], "--bikes", STOCK, "--json")
    run = cut_off("-c", "from pose_fit.cli.main import main; main()", *words)
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout)
    low_mm, high_mm = told["interval95_mm"]
    assert low_mm < FACTS["inseam_mm"] < high_mm
    assert told["fits"]


def test_the_app_works_on_loopback_without_any_network():
    run = cut_off("-c", APP_ANSWERS)
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout.splitlines()[-1])
    assert told["cut_off"] == "Network is unreachable"
    # No script, style or font from elsewhere: the page has none to ask for.
    assert "<script" in told["page"]
    assert not re.findall(r"""(?:src|href)=["']?(?:https?:)?//""", told["page"])
    assert "23.5 in" in told["said"]
    assert "Try this one first" in told["said"]


#: Every address that a socket of the process is to connect, send or look up is noted.
WATCHED = """
import json, sys
asked = []

def watch(event, arguments):
    if event in ("socket.connect", "socket.sendto", "socket.sendmsg"):
        asked.append(str(arguments[1]))
    elif event in ("socket.getaddrinfo", "socket.gethostbyname", "urllib.Request"):
        asked.append(str(arguments[0]))

sys.addaudithook(watch)
"""


@pytest.mark.parametrize(
    "words",
    [
        ("measure", SAMPLE, *FACTS["arguments"], "--bikes", STOCK),
        ("advise", "--inseam", "25in", "--bikes", STOCK),
        ("sheet", "--out", os.devnull),
    ],
    ids=lambda words: words[0],
)
def test_no_command_asks_for_any_address(words):
    code = WATCHED + (
        "from pose_fit.cli.main import main\n"
        "try:\n    main()\n"
        "finally:\n    print('asked', json.dumps(asked), file=sys.stderr)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, *(str(word) for word in words)],
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    assert run.returncode == 0, run.stderr
    assert run.stderr.splitlines()[-1] == "asked []"


def test_the_watch_sees_a_connection():
    code = WATCHED + (
        "import socket\n"
        "try:\n    socket.create_connection(('127.0.0.1', 9), timeout=1)\n"
        "except OSError:\n    print(json.dumps(asked))\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert "('127.0.0.1', 9)" in json.loads(run.stdout)


def test_every_page_of_the_app_asks_for_loopback_only():
    """The pages run in a process whose addresses are noted."""
    code = WATCHED + (
        "from streamlit.testing.v1 import AppTest\n"
        "from pose_fit.app.serve import ENTRY\n"
        "app = AppTest.from_file(str(ENTRY), default_timeout=60).run()\n"
        "app.button(key='parent.tape_instead').click().run()\n"
        "app.text_input(key='field.parent.tape.1').set_value('23.5').run()\n"
        "assert not app.exception, app.exception\n"
        "print(json.dumps(asked))\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT)
    assert run.returncode == 0, run.stderr
    asked = json.loads(run.stdout.splitlines()[-1])
    assert [place for place in asked if "127.0.0.1" not in place] == []


def test_usage_statistics_are_off():
    """What Streamlit itself makes of the command that serves the app."""
    assert SETTINGS["browser.gatherUsageStats"] is False
    code = (
        "from pose_fit.app.serve import command\n"
        "from streamlit import config\n"
        "words = [word[2:].split('=', 1) for word in command(port=1) if word.startswith('--')]\n"
        "config.get_config_options(options_from_flags={n.replace('.', '_'): v for n, v in words})\n"
        "print(config.get_option('browser.gatherUsageStats'))\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT)
    assert run.returncode == 0, run.stderr
    assert run.stdout.split()[-1].lower() == "false"
