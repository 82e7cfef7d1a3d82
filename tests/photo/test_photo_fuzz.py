from collections import Counter

import pytest

from calibration.fuzz.damaged_files import cases, outcome_of, sound_files
from pose_fit.photo.clip import is_clip, read_clip
from pose_fit.photo.photo import read_photo

FILES = sound_files()


@pytest.mark.parametrize("kind", FILES)
def test_the_sound_files_open(tmp_path, kind):
    path = tmp_path / "sound"
    path.write_bytes(FILES[kind])
    photo = read_clip(path)[0] if is_clip(path) else read_photo(path)
    assert {photo.width_px, photo.height_px} == {320, 240}


@pytest.mark.parametrize("kind", FILES)
def test_damaged_files_open_or_are_refused(tmp_path, kind):
    verdicts: Counter[str] = Counter()
    for case in cases(50, seed=11, files={kind: FILES[kind]}):
        outcome = outcome_of(case, tmp_path)
        assert outcome.verdict != "fault", outcome.traceback
        verdicts[outcome.verdict] += 1
    print(f"{kind}: {verdicts.total()} damaged files, {dict(verdicts)}")
    assert verdicts["refused"]
