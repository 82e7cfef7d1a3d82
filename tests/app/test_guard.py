"""Who may talk to the server, and what its answers allow."""

import base64
import http.client
import os
import socket
from contextlib import closing
from pathlib import Path

import pytest

from pose_fit.app.server import allowed_hosts, host_of

from .served_app import served_app

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module", params=["pose-fit app", "streamlit run app.py"])
def port(request):
    script = ROOT / "app.py" if "app.py" in request.param else None
    with served_app({"POSE_FIT_HOSTS": "fit.shop.example"}, script=script) as app:
        yield app.port


def get(port: int, path: str, **headers: str) -> http.client.HTTPResponse:
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=10)) as connection:
        connection.request("GET", path, headers=headers)
        response = connection.getresponse()
        response.body = response.read()
    return response


def handshake(port: int, host: str, origin: str) -> str:
    """The status line with which a WebSocket handshake is answered."""
    key = base64.b64encode(os.urandom(16)).decode()
    lines = (
        "GET /_stcore/stream HTTP/1.1",
        f"Host: {host}",
        "Upgrade: websocket",
        "Connection: Upgrade",
        f"Sec-WebSocket-Key: {key}",
        "Sec-WebSocket-Version: 13",
        f"Origin: {origin}",
    )
    with socket.create_connection(("127.0.0.1", port), timeout=10) as connection:
        connection.sendall("\r\n".join((*lines, "", "")).encode())
        return connection.recv(200).decode("latin-1").split("\r\n")[0]


@pytest.mark.parametrize(
    ("header", "name"),
    [
        ("127.0.0.1:8501", "127.0.0.1"),
        ("LOCALHOST", "localhost"),
        ("[::1]:8501", "[::1]"),
        ("[::1]", "[::1]"),
        ("fit.shop.example:443", "fit.shop.example"),
        ("", ""),
    ],
)
def test_the_name_in_a_host_header(header, name):
    assert host_of(header) == name


def test_hosts_are_this_machine_s_and_those_that_were_named():
    assert "localhost" in allowed_hosts("")
    assert "shop.example" in allowed_hosts(" Shop.example , other.example")
    assert "evil.example" not in allowed_hosts("shop.example")
    assert "" not in allowed_hosts(",")


def test_a_foreign_host_is_turned_away_even_with_an_origin_that_agrees(port):
    assert " 101 " in handshake(port, f"127.0.0.1:{port}", f"http://127.0.0.1:{port}")
    assert " 101 " in handshake(port, "fit.shop.example", "https://fit.shop.example")
    assert " 403 " in handshake(port, "evil.example", "http://evil.example")
    assert " 403 " in handshake(port, f"127.0.0.1:{port}", "http://evil.example")
    assert get(port, "/", Host="evil.example").status == 421
    assert get(port, "/_stcore/health", Host="evil.example:8501").status == 421


def test_answers_say_what_the_page_may_load_and_that_nobody_else_frames_it(port):
    response = get(port, "/")
    policy = response.getheader("Content-Security-Policy")
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'self'" in policy
    assert "object-src 'none'" in policy
    assert response.getheader("X-Frame-Options") == "SAMEORIGIN"
    assert response.getheader("X-Content-Type-Options") == "nosniff"
    assert response.getheader("Referrer-Policy") == "no-referrer"


def test_a_browser_gets_its_secret_once_and_no_script_reads_it(port):
    cookies = get(port, "/").headers.get_all("Set-Cookie")
    (mine,) = [cookie for cookie in cookies if cookie.startswith("pose_fit_browser=")]
    assert "HttpOnly" in mine
    assert "SameSite=Strict" in mine
    pair = mine.split(";")[0]
    assert len(pair.split("=")[1]) >= 22
    again = get(port, "/", Cookie=pair).headers.get_all("Set-Cookie") or []
    assert not [cookie for cookie in again if cookie.startswith("pose_fit_browser=")]
    # Another visitor gets another.
    other = get(port, "/").headers.get_all("Set-Cookie")
    assert mine not in other


@pytest.mark.parametrize("path", ["/favicon.png", "/favicon.ico"])
def test_the_icon_is_there(port, path):
    response = get(port, path, **{"Accept-Encoding": "gzip"})
    assert response.status == 200
    assert response.getheader("Content-Type").startswith("image/")
    assert response.body
