"""A bad upload is named as the family named it, never by a place on this machine."""

import re

import pytest

from calibration.fuzz.damaged_files import cases, sound_files
from pose_fit.app.worker_jobs import open_upload
from pose_fit.errors import PhotoFileError

FILES = sound_files()
NAME = "Mädchen am Tor.jpg"


@pytest.mark.parametrize("content", [b"", b"no picture", FILES["jpeg"][:900], FILES["png"][:-60]])
def test_a_bad_upload_is_told_by_its_name(content):
    with pytest.raises(PhotoFileError) as caught:
        open_upload(NAME, content, 3)
    assert str(caught.value).startswith(f"{NAME}: ")
    assert not re.search("/proc|/tmp|memfd", str(caught.value))


def test_damaged_uploads_open_or_are_told_by_name():
    told = []
    for case in cases(140, seed=23, files=FILES):
        try:
            assert open_upload(NAME, case.content, 3)[0].photo.name.startswith(NAME)
        except PhotoFileError as fault:
            told.append(str(fault))
    assert 20 < len(told) < 140
    assert [line for line in told if not line.startswith(f"{NAME}: ")] == []
    assert [line for line in told if re.search("/proc|/tmp|memfd", line)] == []
